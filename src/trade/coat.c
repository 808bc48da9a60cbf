#include "trade/trade.h"

double coat_volume(double diameter, double thickness, double width)
{
    return TRADE_PI * (diameter + thickness) * thickness * width;
}
