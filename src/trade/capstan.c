#include "trade/trade.h"

#include <math.h>

double capstan_ratio(double friction, double turns) { return exp(2 * TRADE_PI * friction * turns); }
