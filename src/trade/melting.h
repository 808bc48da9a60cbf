/* How two shades melt into one another where a fade goes over by counts: one turn of the new between n of the old,
 * then two between n - 1, and so on. Pure. */
#ifndef TURNLAY_TRADE_MELTING_H
#define TURNLAY_TRADE_MELTING_H

#include "trade/colour.h"

/* Steps of the fade that most builders know by heart: in 1, out 4; 2, 3; 3, 2; 4, 1. Common practice, no source.
 */
enum { STEPS_BY_HEART = 4, MOST_MELTING_STEPS = 16 };

/* The largest CIEDE2000 difference between two turns side by side, of a fade in so many steps (1 to
 * MOST_MELTING_STEPS) between pure shades: each turn seen at its middle, its light spread as by eye_share, by a
 * blur in turns (> 0). */
double melting_jump(Light from, Light to, Vision vision, uint32_t steps, double blur);

#endif
