#include "trade/trade.h"

#include <math.h>

double yarn_diameter(double tex, double density, double fullness)
{
    /* g/km is 1e-6 g/mm and g/cm3 is 1e-3 g/mm3, so the section in mm2 is a thousandth of the quotient. */
    double section = tex / (1000 * density * fullness);
    return sqrt(4 * section / TRADE_PI);
}
