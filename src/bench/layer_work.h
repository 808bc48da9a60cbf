/* Inside the bench room: one layer at work, turn by turn. */
#ifndef TURNLAY_BENCH_LAYER_WORK_H
#define TURNLAY_BENCH_LAYER_WORK_H

#include "bench/making.h"

/* What a finger holds until turns do, or tape: a tag, an end, a loop. */
typedef struct UnderFinger {
    uint32_t piece;
    HeldThing thing;
    uint64_t held_at; /* turns of the layer after which turns hold it */
    uint64_t off_at;  /* after which tape on it has to be off; NO_EVENT: when it is drawn out */
    bool behind;      /* no turn comes nearer to it */
} UnderFinger;

/* Of a piece in work what goes on to its spool or its long end. */
typedef struct LineAtWork {
    uint32_t piece;
    bool taped;
} LineAtWork;

typedef struct LayerWork {
    Making *making;
    const PlannedRod *rod;
    const PlannedLayer *layer;
    uint32_t place_index, layer_index;
    ActionEvents events;
    uint64_t turn;       /* made so far */
    uint64_t band_count; /* of them in the present item */
    uint32_t run_turns;  /* of them in the present run */
    double position;
    LIST_OF(UnderFinger) fingers; /* held so by now, or by turns meanwhile */
    LIST_OF(UnderFinger) taped;   /* of these what is untaped when it is trimmed */
    LIST_OF(LineAtWork) lines;
    PieceGroup running;              /* the pieces that make turns, or made the last */
    uint64_t packed_at, measured_at; /* turns; NO_EVENT: not yet */
    uint64_t bound_at;               /* after which turns hold all that was laid so far */
    uint32_t was_cut;                /* the piece that was cut from its spool last; NO_PIECE */
    bool pulled;                     /* something, since it was packed */
} LayerWork;

/* layer_actions.c: all of a layer's actions, end to end. */
void write_layer(LayerWork *work);
/* An action about these pieces, or none, where the work is. */
Action *put_action(LayerWork *work, ActionKind kind, PieceGroup pieces);

/* Turns of the layer that are made when the present wrap is; of two the one that ends. */
uint64_t wrap_end(const LayerWork *work);

/* taping.c: what is done so that two hands suffice. */
bool is_cut_piece(const LayerWork *work, uint32_t piece);
/* Before an action that takes so many hands and handles these things of these pieces. */
void free_hands(LayerWork *work, uint32_t hands, PieceGroup pieces, unsigned things);
/* Whatever a finger or a hand holds but for spools and the bobbin that runs: tape it. */
void put_down(LayerWork *work);
/* A piece comes, its tag under the next turns; its tape. */
void piece_comes(LayerWork *work, const ActionEvent *event);
/* An end or a loop was laid. */
void thing_is_laid(LayerWork *work, const ActionEvent *event, HeldThing thing);
/* Before a tag or an end is trimmed: its tape is off. */
void comes_untaped(LayerWork *work, uint32_t piece, HeldThing thing);
/* Before pieces are cut, and before they are wound: their lines are off the tape. */
void lines_come_off(LayerWork *work, PieceGroup pieces);
/* A piece's line is gone. */
void line_is_gone(LayerWork *work, uint32_t piece);
/* Before pieces stand: what they need for that. */
void lines_stand(LayerWork *work, PieceGroup pieces);
/* Before so many hands wind the running pieces. */
void ready_to_wind(LayerWork *work, uint32_t hands);

#endif
