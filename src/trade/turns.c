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

CountedPitch counted_pitch(const Count *counts, uint32_t count, double error)
{
    double squares = 0, products = 0, misfit = 0;
    for (uint32_t i = 0; i < count; i++) {
        squares += counts[i].turns * counts[i].turns;
        products += counts[i].turns * counts[i].width;
    }
    double pitch = products / squares;
    for (uint32_t i = 0; i < count; i++)
        misfit += pow((counts[i].width - counts[i].turns * pitch) / error, 2);
    double scatter = count > 1 ? fmax(1, sqrt(misfit / (count - 1))) : 1;
    return (CountedPitch){pitch, error * scatter / sqrt(squares)};
}

double uncertainty_of_reading(double step) { return step / sqrt(12); }
double uncertainty_of_length(double step) { return step / sqrt(6); }
