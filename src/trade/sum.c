#include "trade/trade.h"

#include <math.h>

void sum_add(Sum *sum, double term)
{
    double total = sum->total + term;
    if (fabs(sum->total) >= fabs(term))
        sum->rest += (sum->total - total) + term;
    else
        sum->rest += (term - total) + sum->total;
    sum->total = total;
}

double sum_value(const Sum *sum) { return sum->total + sum->rest; }
