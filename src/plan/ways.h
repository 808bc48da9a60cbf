/* What the plan would take if something else were preferred: bench { prefer: }. Turns, widths and places are the
 * same. */
#ifndef TURNLAY_PLAN_WAYS_H
#define TURNLAY_PLAN_WAYS_H

#include "plan/plan_sums.h"

/* Of all rods, by preference. `waste` is what the pages of needs print as tags and ends, each piece rounded so;
 * `handled` leaves out the passes of crosswraps, which are the same in each. */
typedef struct Ways {
    WorkSums by[PREFER_COUNT];
} Ways;
/* As it is written: "ends". */
const char *preference_word(Preference prefer);
Ways plan_ways(Arena *arena, const Plan *plan, Rounding rounding);

#endif
