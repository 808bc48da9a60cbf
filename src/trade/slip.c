#include "trade/trade.h"

#include <math.h>

double close_turn_slippage(double slope) { return fabs(slope); }

double helix_slippage(double radius, double slope, double lead)
{
    double round_way = 2 * TRADE_PI * radius / hypot(1, slope); /* cos b = 1 / sqrt(1 + slope^2) */
    double along = hypot(round_way, lead);
    double sine = round_way / along, cosine = lead / along;
    return fabs(slope) * (1 + cosine * cosine) / sine;
}
