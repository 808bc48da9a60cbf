/* Comparing doubles, random numbers that are the same in every run, and integrals by the GNU Scientific
 * Library. */
#ifndef TURNLAY_TESTS_NEAR_H
#define TURNLAY_TESTS_NEAR_H

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdint.h>

/* Fails unless |value - wanted| <= tolerance, showing both in full; a NaN fails. */
#define assert_within(value, wanted, tolerance)                                                                   \
    do {                                                                                                          \
        double value_ = (value), wanted_ = (wanted), tolerance_ = (tolerance);                                    \
        if (!(fabs(value_ - wanted_) <= tolerance_))                                                              \
            fail_msg("%s is %.17g, not %.17g within %.3g", #value, value_, wanted_, tolerance_);                  \
    } while (0)

/* The same with a tolerance that is a share of the wanted value. */
#define assert_near(value, wanted, ratio) assert_within(value, wanted, (ratio)*fabs((double)(wanted)))

/* Evenly spread between low and high; xorshift64 (G. Marsaglia 2003). Start the state at any number but 0. */
static inline double between(uint64_t *state, double low, double high)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return low + (high - low) * ((double)(*state >> 11) * 0x1p-53);
}

/* Integral by the adaptive 61-point Gauss and Kronrod rule (gsl_integration_qag). */
static inline double integral(double (*value)(double at, void *given), void *given, double from, double to)
{
    enum { INTERVALS = 1000 };
    if (from == to)
        return 0;
    gsl_error_handler_t *before = gsl_set_error_handler_off();
    gsl_integration_workspace *workspace = gsl_integration_workspace_alloc(INTERVALS);
    gsl_function function = {value, given};
    double result, error;
    int status = gsl_integration_qag(&function, from, to, 0, 1e-12, INTERVALS, GSL_INTEG_GAUSS61, workspace,
                                     &result, &error);
    gsl_integration_workspace_free(workspace);
    gsl_set_error_handler(before);
    if (status != GSL_SUCCESS && !(status == GSL_EROUND && error <= 1e-11 * fabs(result)))
        fail_msg("the integral to compare with failed: %s", gsl_strerror(status));
    return result;
}

#endif
