#include "trade/trade.h"

#include "trade/gauss.h"

#include <math.h>

/* Below this ratio of half the difference of the radii to the mean distance, the difference of the closed
 * form's two ends loses digits, while eight points still give all of them. */
static const double NEARLY_EQUAL = 0.1;

double helix_length(double radius, double lead, double turns)
{
    return turns * hypot(2 * TRADE_PI * radius, lead);
}

static double distance(double radius, const void *across)
{
    double a = *(const double *)across;
    return sqrt(radius * radius + a * a);
}

/* Integral of sqrt(r^2 + a^2) dr from 0 to r. */
static double antiderivative(double radius, double a)
{
    return (radius * sqrt(radius * radius + a * a) + a * a * asinh(radius / a)) / 2;
}

/* Mean of sqrt(r^2 + a^2) for r between r0 and r1. */
static double mean_distance(double r0, double r1, double a)
{
    if (fabs(r1 - r0) / 2 < NEARLY_EQUAL * hypot((r0 + r1) / 2, a))
        return gauss_mean(distance, &a, r0, r1);
    return (antiderivative(r1, a) - antiderivative(r0, a)) / (r1 - r0);
}

double cone_helix_length(double r0, double r1, double axial, double lead)
{
    if (!(axial > 0))
        return fabs(r1 - r0); /* no turn is made: the limit of a shorter and shorter stretch */
    double c = lead / (2 * TRADE_PI), slope = (r1 - r0) / axial;
    return axial / c * mean_distance(r0, r1, c * hypot(1, slope));
}
