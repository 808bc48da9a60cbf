#include "trade/trade.h"

#include <math.h>

double spaced_place(double first, double last, double ratio, uint32_t count, uint32_t place)
{
    /* So near to even spacing the sums are too; the formula would divide 0 by 0. */
    const double EVEN = 1e-9;
    double gaps = count - 1, before = place;
    double part = fabs(ratio - 1) < EVEN ? before / gaps : (pow(ratio, before) - 1) / (pow(ratio, gaps) - 1);
    return first + (last - first) * part;
}
