/* Wraps: turns of a layer without a gap between them. They hold one another's tags and ends. */
#ifndef TURNLAY_PLAN_WRAPS_H
#define TURNLAY_PLAN_WRAPS_H

#include "plan/plan.h"

typedef struct Wrap {
    uint32_t first_run, end_run; /* end: one after the last */
    uint64_t first_turn, end_turn;
} Wrap;

typedef struct Wraps {
    Wrap *items;
    uint32_t count;
} Wraps;

/* In working order; turns are counted from the layer's first. */
Wraps layer_wraps(Arena *arena, const PlannedLayer *layer);

#endif
