#include "trade/trade.h"

#include <math.h>

double radians(double degrees_given) { return degrees_given * (TRADE_PI / 180); }

double degrees(double radians_given) { return radians_given * (180 / TRADE_PI); }

/* Degrees nearer to a whole turn are one: pages for programs have 6 decimals. Common practice, no source. */
#define SAME_ANGLE 5e-7

double clock_degrees(double turns)
{
    double round = (turns - floor(turns)) * 360;
    return round < 360 - SAME_ANGLE ? round : 0;
}

double arc_length(double diameter, double degrees_round) { return radians(degrees_round) * diameter / 2; }

double helix_angle(double radius, double lead) { return atan2(lead, 2 * TRADE_PI * radius); }

double turning_way(double radius, double angle_from_axis, double friction)
{
    return radius / friction * (1 / sin(angle_from_axis) - 1);
}

static double dwell_until_round(double angle_from_axis, double friction)
{
    return log(sin(angle_from_axis) / (1 - cos(angle_from_axis))) / friction;
}

double turning_dwell(double arriving, double leaving, double friction)
{
    return dwell_until_round(arriving, friction) + dwell_until_round(leaving, friction);
}
