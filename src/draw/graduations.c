#include "draw/graduations.h"

#include "base/table.h"

#include <math.h>

/* clang-format off */
#define SCALES(X) \
    X(MM, {{1, 1.0}, {5, 1.6}, {10, 2.2}}, \
      {5, 10, 20, 50, 100, 200, 500, 1000, 10000}, 10, 1) \
    X(CM, {{1, 1.0}, {5, 1.6}, {10, 2.2}}, \
      {5, 10, 20, 50, 100, 200, 500, 1000, 10000}, 10, 10) \
    X(IN, {{25.4 / 16, 0.8}, {25.4 / 8, 1.1}, {25.4 / 4, 1.5}, {25.4 / 2, 1.8}, {25.4, 2.2}}, \
      {25.4 / 4, 25.4 / 2, 25.4, 50.8, 127, 254, 508, 1270, 12700}, 25.4, 25.4) \
    X(CM_AND_MM, {{1, 1.0}, {5, 1.6}, {10, 2.2}}, \
      {5, 10, 20, 50, 100, 200, 500, 1000, 10000}, 10, 1)
/* clang-format on */

static const RulerScale scales[SYSTEM_COUNT] = {
#define X(name, ...) [SYSTEM_##name] = {__VA_ARGS__},
    SCALES(X)
#undef X
};
_Static_assert(TABLE_ROWS(SCALES) == SYSTEM_COUNT, "rulers are graduated in every system");

const RulerScale *ruler_scale(UnitSystem system) { return &scales[system]; }

double tick_length(const RulerScale *scale, int finest, double at)
{
    double length = scale->ticks[finest].length;
    for (int i = finest + 1; i < GRADUATIONS && scale->ticks[i].step > 0; i++)
        if (fabs(remainder(at, scale->ticks[i].step)) < 1e-6)
            length = scale->ticks[i].length;
    return length;
}
