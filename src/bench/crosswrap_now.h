/* What the replay keeps in mind of the crosswrap that is being worked. */
#ifndef TURNLAY_BENCH_CROSSWRAP_NOW_H
#define TURNLAY_BENCH_CROSSWRAP_NOW_H

#include "bench/bench.h"

/* A crosswrap's lines as they are marked on the blank. Ends are numbered as in PlannedCrosswrap.ends: toward the
 * butt, toward the tip; but they are those of the layer, where legs begin and turn round. */
typedef struct SetOut {
    int direction, sense; /* as in PlannedCrosswrap */
    uint32_t starts;
    uint32_t marks;     /* crossings that each leg passes */
    double field_start; /* along the axis */
    double base;        /* turns, of the first start's line at the field's start */
    double lead[LEG_COUNT];
    double end_at[2];
    double girth[2];          /* mm round the blank there, to the middle of the first strand's thread */
    double friction_dwell[2]; /* degrees that a thread goes round there at least; 0 where it is held */
    double beyond; /* mm that a thread runs out and back there, where it is held beyond the layer; else 0 */
} SetOut;

/* The crosswrap that is being worked. */
typedef struct CrosswrapNow {
    const PlannedCrosswrap *planned; /* NULL: none so far */
    uint32_t place, layer;
    SetOut lines;
    bool set_out, held, symmetry, sealed, taken;
    uint32_t pieces_from, pieces_to; /* the rod's pieces of passes in this layer */
    uint32_t next_piece;             /* to be tied on */
    uint32_t spacers;                /* pieces of spacers that are not unwound */
    uint32_t pass;                   /* the leg that is due */
    Leg leg;
    double edges[2];       /* of the strands laid, across: toward the butt, toward the tip */
    double wound;          /* mm of the piece that is tied on, in its legs and ways round */
    uint32_t first_wrap;   /* of its two end bands */
    uint64_t end_turns[2]; /* made of them */
} CrosswrapNow;

#endif
