/* How rulers are graduated, in pictures and on paper. */
#ifndef TURNLAY_DRAW_GRADUATIONS_H
#define TURNLAY_DRAW_GRADUATIONS_H

#include "base/units.h"

/* mm from tick to tick, and page mm that a tick is long at true scale. */
typedef struct Graduation {
    double step, length;
} Graduation;

enum { GRADUATIONS = 5, NUMBER_STEPS = 9 };

typedef struct RulerScale {
    Graduation ticks[GRADUATIONS]; /* finest first; step 0 where there are no more */
    double numbers[NUMBER_STEPS];  /* distances at which numbers may stand, mm, rising */
    double whole;                  /* the one of these for a ruler at true size */
    double unit;                   /* mm in a number's unit */
} RulerScale;

#define LONGEST_TICK 2.2

const RulerScale *ruler_scale(UnitSystem system);
/* Length of the tick at `at` mm from the ruler's zero, where graduation number `finest` is the finest drawn: that
 * of the coarsest that it belongs to. */
double tick_length(const RulerScale *scale, int finest, double at);

#endif
