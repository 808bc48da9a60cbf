/* What colour a place's surface has. */
#ifndef TURNLAY_PLAN_LOOK_H
#define TURNLAY_PLAN_LOOK_H

#include "plan/plan.h"
#include "trade/colour.h"

/* The light of the surface at x once so many of the place's layers are wound, the lowest first: each thread by its
 * opacity over what lies below it (light_over), threads together and those of several colours in their mean. The
 * strands of a crosswrap are left out: between them what is below it shows. */
Light look_at(const Rod *rod, const PlannedPlace *place, uint32_t layers, double x);
/* Of these threads side by side on a ground, by the same rule; what a spacer leaves is the ground. */
Light strands_over(const Strands *strands, Light ground);

#endif
