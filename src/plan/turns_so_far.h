/* The turns of a layer from one measuring to the next, thread by thread. */
#ifndef TURNLAY_PLAN_TURNS_SO_FAR_H
#define TURNLAY_PLAN_TURNS_SO_FAR_H

#include "plan/plan.h"
#include "plan/thread_widths.h"

/* How far a layer was followed, in working order. All 0 but for the layer: at its beginning. */
typedef struct TurnsSoFar {
    const PlannedLayer *layer;
    uint64_t turn;       /* of the layer */
    uint64_t band_first; /* turns of the layer up to where the band begins that ends there, or goes on */
    const Strands *last; /* that the last turn was made of; NULL before any */
    double gaps;         /* mm, all that were passed */
    uint32_t run;
    uint64_t run_turn; /* turns of that run that were passed */
} TurnsSoFar;

/* Goes on to that turn, which is none before, and adds what is passed to the widths. */
void turns_go_on(TurnsSoFar *so_far, ThreadWidths *widths, uint64_t turn);

#endif
