/* The smoothest way from one shade to another, by way of others. */
#ifndef TURNLAY_PLAN_SHADE_WALK_H
#define TURNLAY_PLAN_SHADE_WALK_H

#include "base/arena.h"
#include "trade/colour.h"

/* From the first of the shades to the last, by way of any of those in between in any order: the least largest step
 * (CIEDE2000), and of such ways the least sum of their squares. Steps below `alike` are none, but for the one from
 * end to end. Gives how many shades it goes over, their indices in `walk`, room for `count`, which is at least 2;
 * of equal ways one that goes over shades with low indices. Work grows with the square of the count. */
uint32_t smoothest_walk(Arena *arena, const Lab *shades, uint32_t count, double alike, uint32_t *walk);

#endif
