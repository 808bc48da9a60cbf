#include "trade/gauss.h"

/* Points on either side of the middle, in half lengths, and their weights: M. Abramowitz and I. A. Stegun (eds.),
 * Handbook of Mathematical Functions, National Bureau of Standards (1964), table 25.4, p. 916, n = 8 (table and
 * page from memory; the tests hold them to GSL's integration). */
static const struct {
    double point, weight;
} rule[] = {
    {0.18343464249564980, 0.36268378337836198},
    {0.52553240991632899, 0.31370664587788729},
    {0.79666647741362674, 0.22238103445337447},
    {0.96028985649753623, 0.10122853629037626},
};

double gauss_mean(double (*value)(double at, const void *given), const void *given, double from, double to)
{
    double middle = (from + to) / 2, half = (to - from) / 2, sum = 0;
    for (unsigned i = 0; i < sizeof rule / sizeof *rule; i++) {
        double off = half * rule[i].point;
        sum += rule[i].weight * (value(middle - off, given) + value(middle + off, given));
    }
    return sum / 2;
}
