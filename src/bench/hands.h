/* What the replay keeps in mind: where each piece of a rod is, and what lies under which turns. */
#ifndef TURNLAY_BENCH_HANDS_H
#define TURNLAY_BENCH_HANDS_H

#include "bench/crosswrap_now.h"

/* Of a tag, an end or a loop: not there yet, under the turns made since, drawn back under them, done with. */
typedef enum { LIES_NOT, LIES, LIES_HELD, LIES_NO_MORE } LyingState;

typedef struct Lying {
    uint32_t since; /* turns of the rod that were made when it was laid: below LIMIT_TURNS */
    uint8_t state;  /* LyingState */
} Lying;

typedef struct PieceNow {
    Lying tag, end, loop;
    uint8_t state; /* PieceState */
} PieceNow;

typedef struct Hands {
    const PlannedRod *rod;
    const Bench *bench;
    Arena *arena;
    PieceNow *pieces;
    uint32_t *piece_wraps; /* the wrap of each piece, counted over the rod; NO_WRAP if it winds nothing */
    uint32_t *winding_wraps;
    uint32_t wrap;                    /* that is being worked */
    uint32_t winding;                 /* that the next turn belongs to */
    uint32_t wound;                   /* turns made of it */
    uint64_t turns;                   /* made of the rod */
    uint64_t layer_turns, item_turns; /* made of the layer and the item that the next turn belongs to */
    /* In each state but off: how many are still to come nobody asks. */
    uint32_t pieces_in[PIECE_STATE_COUNT], spools_in[PIECE_STATE_COUNT];
    uint32_t unfinished; /* pieces begun whose tag, end or loop is not done with; none of them of passes */
    LIST_OF(const Lying *)
    fresh;                   /* tags and ends in the order in which they were laid; those long held are gone */
    uint32_t first_fresh;    /* of these the first that is not known to be held */
    uint32_t laid, own_tags; /* as in ActionState */
    CrosswrapNow crosswrap;  /* the one worked last */
    uint32_t actions;        /* worked through */
    Replay found;
} Hands;

#define NO_WRAP UINT32_MAX

/* All pieces off, no turn made. */
void hands_start(Hands *hands, Arena *arena, const PlannedRod *rod, const Bench *bench);
void set_state(Hands *hands, uint32_t piece, PieceState state);
/* Lies from now on. lay_thread: a tag or an end, which is loose until turns hold it. */
void lay(Hands *hands, Lying *lying);
void lay_thread(Hands *hands, Lying *lying);
/* Something would come loose if the builder went away: a tag or an end with too few turns over it, or a cut piece
 * in work, which nothing but a hand holds. */
bool anything_loose(Hands *hands);
/* Turns over it. */
double cover(const Hands *hands, const Lying *lying);
/* Ended, tag and end trimmed, no loop left. */
bool is_finished(const PieceNow *now);
/* The wrap that the next turn belongs to, NO_WRAP when all are made. */
uint32_t next_wrap(const Hands *hands);
/* So many turns more of the winding that is due. */
void make_turns(Hands *hands, uint32_t turns);

/* Note a fault; always false, so that a rule can end with them. */
bool fault(Hands *hands, Verdict verdict, uint32_t piece, double needed, double got);
bool lost(Hands *hands, uint32_t piece);
/* The winding that is due has turns missing. */
bool turns_differ(Hands *hands, uint32_t piece);
/* Names the first piece, not of passes, that is not finished. */
bool thread_left(Hands *hands);
/* Names the first spool-fed piece in this state. */
bool spool_fault(Hands *hands, Verdict verdict, PieceState state, double needed, double got);

#endif
