/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * normality.c - Anderson and Darling's test for the normal distribution, mean and sd estimated.
 *
 * T. W. Anderson, D. A. Darling, J. Am. Stat. Assoc. 49 (1954) 765-769; the correction for the
 * number of values and the p value: R. B. D'Agostino, M. A. Stephens, Goodness-of-Fit Techniques
 * (1986), table 4.9 (case 3). The coefficients are from memory; tests compare them with simulation.
 */
#include "trueup/trials.h"

#include <gsl/gsl_sf_erf.h>
#include <math.h>

enum { COUNT_MIN = 8 };

/* log of the normal distribution function, good to the far tail where it is a denormal number. */
static double log_normal_below(double z)
{
    return gsl_sf_log_erfc(-z * M_SQRT1_2) - M_LN2;
}

static double p_of(double a)
{
    if (a < 0.2)
        return 1.0 - exp(-13.436 + 101.14 * a - 223.73 * a * a);
    if (a < 0.34)
        return 1.0 - exp(-8.318 + 42.796 * a - 59.938 * a * a);
    if (a < 0.6)
        return exp(0.9177 - 4.279 * a - 1.38 * a * a);
    /* The parabola turns upwards far out, where p has long been nothing. */
    return a < 13.0 ? exp(1.2937 - 5.709 * a + 0.0186 * a * a) : 0.0;
}

double tu_trials_anderson_darling(const double *sorted, size_t count, double mean, double sd,
                                  double *p)
{
    *p = NAN;
    if (count < COUNT_MIN || !(sd > 0.0))
        return NAN;
    double n = (double)count, sum = 0.0, below = 0.0, above = 0.0;
    for (size_t i = 0; i < count; i++) {
        size_t k = count - 1 - i;
        /* Positions move in steps: what is equal to its neighbour is not computed again. */
        if (i == 0 || sorted[i] > sorted[i - 1])
            below = log_normal_below((sorted[i] - mean) / sd);
        if (i == 0 || sorted[k] < sorted[k + 1])
            above = log_normal_below((mean - sorted[k]) / sd);
        sum += (2.0 * (double)i + 1.0) / n * (below + above);
    }
    double a = (-n - sum) * (1.0 + 0.75 / n + 2.25 / (n * n));
    *p = p_of(a);
    return a;
}
