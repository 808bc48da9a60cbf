#include "trade/estimate.h"

static double *row_of(const Estimate *estimate, uint32_t quantity)
{
    return &estimate->covariances[(uint64_t)quantity * estimate->room];
}

void estimate_renew(Estimate *estimate, uint32_t quantity, double variance)
{
    estimate->means[quantity] = 0;
    for (uint32_t i = 0; i < estimate->count; i++)
        row_of(estimate, quantity)[i] = row_of(estimate, i)[quantity] = 0;
    row_of(estimate, quantity)[quantity] = variance;
}

uint32_t estimate_add(Estimate *estimate, double variance)
{
    uint32_t quantity = estimate->count++;
    estimate_renew(estimate, quantity, variance);
    return quantity;
}

double estimate_mean(const Estimate *estimate, const Weight *weights, uint32_t count)
{
    double mean = 0;
    for (uint32_t i = 0; i < count; i++)
        mean += weights[i].weight * estimate->means[weights[i].quantity];
    return mean;
}

/* How the quantity hangs together with the sum. */
static double covariance(const Estimate *estimate, uint32_t quantity, const Weight *weights, uint32_t count)
{
    double covariance = 0;
    for (uint32_t i = 0; i < count; i++)
        covariance += weights[i].weight * row_of(estimate, quantity)[weights[i].quantity];
    return covariance;
}

double estimate_variance(const Estimate *estimate, const Weight *weights, uint32_t count)
{
    double variance = 0;
    for (uint32_t i = 0; i < count; i++)
        variance += weights[i].weight * covariance(estimate, weights[i].quantity, weights, count);
    return variance;
}

void estimate_read(Estimate *estimate, const Weight *weights, uint32_t count, double found, double variance)
{
    double whole = estimate_variance(estimate, weights, count) + variance;
    double off = found - estimate_mean(estimate, weights, count);
    double *with_sum = estimate->gains;
    for (uint32_t i = 0; i < estimate->count; i++)
        with_sum[i] = covariance(estimate, i, weights, count);
    for (uint32_t i = 0; i < estimate->count; i++) {
        estimate->means[i] += with_sum[i] / whole * off;
        for (uint32_t j = 0; j < estimate->count; j++)
            row_of(estimate, i)[j] -= with_sum[i] * with_sum[j] / whole;
    }
}
