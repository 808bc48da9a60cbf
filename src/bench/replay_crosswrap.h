/* The replay of crosswraps: their own rules (replay_crosswrap.c) and where a leg has to stand (replay_leg.c),
 * reckoned from the rules of the reference alone. */
#ifndef TURNLAY_BENCH_REPLAY_CROSSWRAP_H
#define TURNLAY_BENCH_REPLAY_CROSSWRAP_H

#include "bench/bench.h"

typedef struct Hands Hands;

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
    double girth[2];                     /* mm round the blank there, to the middle of the first strand's thread */
    double friction_dwell[2][LEG_COUNT]; /* degrees that a leg goes round there at least; 0 where it is held */
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

/* Where the lines of the layer's crosswrap stand. False where the plan does not put a line of crossings on the
 * ring's side as `facing` says. */
bool set_out_lines(SetOut *lines, const PlannedPlace *place, const PlannedLayer *layer, const Bench *bench);
/* Where the leg's strand stands, what it passes, how it goes on; `goes_on`: another leg of its piece follows. */
bool leg_meets_marks(Hands *hands, const Step *step, uint32_t piece, bool goes_on);
/* It touches the strand that it is laid against, and is the outermost on that side. */
bool leg_lies_beside(Hands *hands, const Step *step, uint32_t piece);
/* mm of thread in the leg and the way round behind it. */
double wound_in_leg(const CrosswrapNow *now, const Step *step);
/* The piece has been wound as long as it was planned. */
bool wound_agrees(Hands *hands, uint32_t piece);

/* Rules about pieces, for the table in replay.c. */
bool tie_on(Hands *hands, const Step *step, uint32_t piece);
bool lay_leg(Hands *hands, const Step *step, uint32_t piece);
bool tie_off(Hands *hands, const Step *step, uint32_t piece);
bool unwind(Hands *hands, const Step *step, uint32_t piece);

/* Whether this step is about a crosswrap's layer as a whole, and its rule. */
bool is_crosswrap_step(const Hands *hands, const Step *step);
bool follow_crosswrap_step(Hands *hands, const Step *step);

/* Before a piece of turns begins in that layer: all passes lie there, no crosswrap is left undone elsewhere. */
bool turns_may_begin(Hands *hands, uint32_t place, uint32_t layer);
/* Nothing is left of the crosswrap worked last. */
bool crosswrap_done(Hands *hands);

#endif
