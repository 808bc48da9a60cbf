#include "trade/trade.h"

#include <float.h>
#include <math.h>

double turns_in_width(double width, double pitch)
{
    /* Width and pitch come from decimals and units and are off by some halves of a last binary digit, so
     * that 1.575 mm / 0.15 mm, which is 10.5, may come out just below. Such a quotient counts as the half. */
    return round(width / pitch * (1 + 4 * DBL_EPSILON));
}

uint64_t even_crossover_turns(uint64_t turn, uint64_t total) { return (turn * turn + total) / (2 * total); }
