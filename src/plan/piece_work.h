/* Inside the plan room: the pieces of one wrap in the making, and what may be chosen about them. */
#ifndef TURNLAY_PLAN_PIECE_WORK_H
#define TURNLAY_PLAN_PIECE_WORK_H

#include "plan/layout.h"
#include "plan/wraps.h"

#define NO_PIECE UINT32_MAX
#define NO_RUN UINT32_MAX

/* Which piece a thread is on, as long as it has not been ended: `era` changes when all are ended; alone, or beside
 * whatever others, as which of them. And the run that wound it last. */
struct Live {
    uint32_t era, piece;
    uint32_t strand_era, strand_piece, strand_at;
    uint32_t layer_era, run;
};

/* What may be chosen about a run. */
typedef enum {
    CHOICE_GOES_ON,    /* its thread was carried here from the previous run */
    CHOICE_TAKES_OVER, /* a fade's: its thread begins from a spool, that of the run before is cut from its own */
    CHOICE_OWN_SPOOL,  /* an inlay's: it comes from a spool, and that of the run before ends */
    CHOICE_BOBBIN,     /* its thread, if it begins here, is wound onto a bobbin */
    CHOICE_KIND_COUNT
} ChoiceKind;

/* One run of a layer. No spacer is carried from one run to another. */
typedef struct RunUse {
    uint64_t first_turn;     /* of the layer */
    uint32_t bands;          /* of the layer, before it */
    uint32_t previous, next; /* of the wrap, with the same thread, or some of the same; NO_RUN if there is none */
    uint32_t *list;          /* room for as many pieces as the run has strands */
    PieceGroup pieces;       /* those that end this run; none before it is wound */
    bool chosen[CHOICE_KIND_COUNT];
} RunUse;

typedef struct PieceWork {
    const Layout *layout;
    PlannedRod *rod;
    uint32_t place, layer; /* indices */
    const PlannedLayer *planned;
    RunUse *uses; /* of the layer's runs */
    Live *live;   /* by the thread's index, plain and as a spacer */
    uint32_t era;
    uint32_t *lists; /* room for the lists of the runs that follow, and of one of a single strand */
    uint32_t alone;
    const Strands *together; /* several strands running, or NULL */
    PieceGroup together_pieces;
    uint64_t turn; /* of the layer, so far */
    Wrap wrap;
    uint32_t wrap_piece;     /* its first piece */
    Arena *trial, *choosing; /* for one way to piece the wrap, and for one wrap */
    uint32_t spool;          /* the piece of the wrap that was last wound from a spool, NO_PIECE */
    bool spliced;            /* pieces end where the job says that they broke */
} PieceWork;

/* piece_together.c: what winds the thread. */
Live *live_strand(PieceWork *work, const Strand *strand);
/* These pieces wind these strands, and may go on. */
void note_strands(PieceWork *work, const Strands *strands, PieceGroup pieces);
/* Of the run's strands those that are noted and on their spools go on, in the same order, and the others begin
 * now; none if none goes on. */
PieceGroup pieces_side_by_side(PieceWork *work, uint32_t run);
/* pieces.c: a new piece for the i-th of these strands, at this run. */
uint32_t lay_in_strand(PieceWork *work, const Strands *strands, uint32_t i, uint32_t run);
/* pieces.c: a run in which a width was measured is in parts. Of those from this one on, their turns, and mm of
 * thread of the strand that takes most; and the turns of those before it, counted no further than that. */
typedef struct PartsToCome {
    uint64_t turns;
    double length;
} PartsToCome;
PartsToCome parts_to_come(const PlannedLayer *planned, uint32_t run);
uint64_t turns_of_parts_before(const PlannedLayer *planned, uint32_t run, uint64_t most);
/* pieces.c: lays the wrap's pieces and windings behind those that are there, as it is chosen. */
void lay_wrap_pieces(PieceWork *work);
/* pieces.c: whether a piece of the wrap broke and is spliced. */
bool wrap_is_spliced(const PieceWork *work);
/* Turns of the layer [from, to) where something is wrong with a way. */
typedef struct Wrong {
    uint64_t from, to;
} Wrong;
typedef LIST_OF(Wrong) WrongTurns;

/* Tags and ends that are not held, and bobbins that are not there; what is wrong, these tags included; and what
 * the way takes. */
typedef struct Cost {
    uint32_t unheld, faults, bobbins;
    WorkSums sums;
} Cost;

/* piece_cost.c: of what lies from these on, which is the wrap's. */
WorkSums wrap_sums(const PieceWork *work, uint32_t first_piece, uint32_t first_winding);
Cost wrap_cost(PieceWork *work, uint32_t first_piece, uint32_t first_winding, WrongTurns *wrong);
/* Lawful, and cheaper than the other. */
bool costs_less(Preference prefer, Cost a, Cost b);
/* piece_choice.c: chooses, and lays them. */
void choose_wrap_pieces(PieceWork *work);

#endif
