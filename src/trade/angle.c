#include "trade/trade.h"

#include <math.h>

double radians(double degrees_given) { return degrees_given * (TRADE_PI / 180); }

double degrees(double radians_given) { return radians_given * (180 / TRADE_PI); }

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
