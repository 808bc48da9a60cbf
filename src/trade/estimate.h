/* What readings tell of quantities that cannot be read one by one. Each quantity has a mean and they have
 * covariances; a reading is a weighted sum of them and an error of its own. Means and covariances are those of
 * least squares, weighed by the inverse of the variances, one reading after the other: for one quantity this is
 * the weighted mean (JCGM 100:2008, Evaluation of measurement data - Guide to the expression of uncertainty in
 * measurement, 5.2.2 for correlated quantities; the recursive form is R. E. Kalman, "A New Approach to Linear
 * Filtering and Prediction Problems", J. Basic Eng. 82 (1960); both from memory). */
#ifndef TURNLAY_TRADE_ESTIMATE_H
#define TURNLAY_TRADE_ESTIMATE_H

#include <stdbool.h>
#include <stdint.h>

/* The memory is the caller's. */
typedef struct Estimate {
    uint32_t count, room;
    double *means;       /* `room` of them */
    double *covariances; /* `room` rows of `room`; symmetric */
    double *gains;       /* `room`: for the work */
} Estimate;

/* So much of one quantity in a sum. */
typedef struct Weight {
    uint32_t quantity;
    double weight;
} Weight;

/* One more quantity, that hangs together with none so far; gives its number. There is room for it. */
uint32_t estimate_add(Estimate *estimate, double variance);
/* The quantity is another one from now on, with mean 0, that hangs together with none so far. */
void estimate_renew(Estimate *estimate, uint32_t quantity, double variance);
/* Mean and variance of a sum; each quantity at most once in it. */
double estimate_mean(const Estimate *estimate, const Weight *weights, uint32_t count);
double estimate_variance(const Estimate *estimate, const Weight *weights, uint32_t count);
/* The sum was read as `found`, with an error of that variance, > 0. */
void estimate_read(Estimate *estimate, const Weight *weights, uint32_t count, double found, double variance);

#endif
