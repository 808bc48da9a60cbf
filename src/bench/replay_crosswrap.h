/* The replay of crosswraps: their own rules (replay_crosswrap.c) and where a leg has to stand
 * (replay_leg_places.c), reckoned from the rules of the reference alone. */
#ifndef TURNLAY_BENCH_REPLAY_CROSSWRAP_H
#define TURNLAY_BENCH_REPLAY_CROSSWRAP_H

#include "bench/hands.h"

/* Where the lines of the layer's crosswrap stand. False where the plan does not put a line of crossings on the
 * place's angle as `facing` says. */
bool set_out_lines(SetOut *lines, const PlannedPlace *place, const PlannedLayer *layer, const Bench *bench);
/* Where the leg's strand stands, what it passes, how it goes on; `goes_on`: another leg of its piece follows. */
bool leg_meets_marks(Hands *hands, const Action *action, uint32_t piece, bool goes_on);
/* It touches the strand that it is laid against, and is the outermost on that side. */
bool leg_lies_beside(Hands *hands, const Action *action, uint32_t piece);
/* mm of thread in the leg and, where its piece goes on, in the way round behind it. */
double wound_in_leg(const CrosswrapNow *now, const Action *action, bool goes_on);
/* The piece has been wound as long as it was planned. */
bool wound_agrees(Hands *hands, uint32_t piece);

/* Rules about pieces, for the table in replay.c. */
bool tie_on(Hands *hands, const Action *action, uint32_t piece);
bool lay_leg(Hands *hands, const Action *action, uint32_t piece);
bool tie_off(Hands *hands, const Action *action, uint32_t piece);
bool unwind(Hands *hands, const Action *action, uint32_t piece);

/* Whether this action is about a crosswrap's layer as a whole, and its rule. */
bool is_crosswrap_action(const Hands *hands, const Action *action);
bool follow_crosswrap_action(Hands *hands, const Action *action);

/* Before a piece of turns begins in that layer: all passes lie there, no crosswrap is left undone elsewhere. */
bool turns_may_begin(Hands *hands, uint32_t place, uint32_t layer);
/* Nothing is left of the crosswrap worked last. */
bool crosswrap_done(Hands *hands);

#endif
