#include "trade/eye.h"

#include "trade/trade.h"

#include <math.h>

double eye_blur(double minutes, double distance) { return distance * tan(radians(minutes / 60)); }

/* From minus 1/2, far before the middle, to 1/2. */
static double spread_within(double blur, double offset)
{
    return blur > 0 ? erf(offset / (blur * sqrt(2))) / 2 : ((offset > 0) - (offset < 0)) / 2.0;
}

double eye_share(double blur, double x, double from, double to)
{
    return spread_within(blur, to - x) - spread_within(blur, from - x);
}

double contrast_threshold(double cycles_a_degree)
{
    double high = 1 / cosh(pow(cycles_a_degree / 4.1726, 0.7786)), low = 1 / cosh(cycles_a_degree / 1.3625);
    return 1 / (373.08 * (high - 0.8493 * low));
}

double stripes_visible(double one, double other, double share, double period, double distance)
{
    double mean = share * one + (1 - share) * other;
    if (!(mean > 0))
        return 0;
    /* Fourier's first coefficient of a rectangular wave. */
    double contrast = fabs(one - other) * 2 / TRADE_PI * sin(TRADE_PI * share) / mean;
    return contrast / contrast_threshold(1 / degrees(atan(period / distance)));
}
