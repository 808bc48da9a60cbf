/* Gauss and Legendre's rule with eight points, for the trade's own integrals. */
#ifndef TURNLAY_TRADE_GAUSS_H
#define TURNLAY_TRADE_GAUSS_H

/* Mean of value(at, given) for `at` between `from` and `to`; exact for polynomials up to degree 15. */
double gauss_mean(double (*value)(double at, const void *given), const void *given, double from, double to);

#endif
