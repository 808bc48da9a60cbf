#include "draw/graduations.h"

#include <math.h>

/* clang-format off */
static const RulerScale scales[] = {
    [SYSTEM_MM] = {{{1, 1.0}, {5, 1.6}, {10, 2.2}},
                   {5, 10, 20, 50, 100, 200, 500, 1000, 10000}, 10, 1},
    [SYSTEM_CM] = {{{1, 1.0}, {5, 1.6}, {10, 2.2}},
                   {5, 10, 20, 50, 100, 200, 500, 1000, 10000}, 10, 10},
    [SYSTEM_IN] = {{{25.4 / 16, 0.8}, {25.4 / 8, 1.1}, {25.4 / 4, 1.5}, {25.4 / 2, 1.8}, {25.4, 2.2}},
                   {25.4 / 4, 25.4 / 2, 25.4, 50.8, 127, 254, 508, 1270, 12700}, 25.4, 25.4},
};
/* clang-format on */

const RulerScale *ruler_scale(UnitSystem system) { return &scales[system]; }

double tick_length(const RulerScale *scale, int finest, double at)
{
    double length = scale->ticks[finest].length;
    for (int i = finest + 1; i < GRADUATIONS && scale->ticks[i].step > 0; i++)
        if (fabs(remainder(at, scale->ticks[i].step)) < 1e-6)
            length = scale->ticks[i].length;
    return length;
}
