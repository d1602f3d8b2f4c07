/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * moments.h - mean and standard deviation in one stable pass.
 *
 * Source: B. P. Welford, Technometrics 4 (1962) 419-420.
 */
#ifndef TRUEUP_MOMENTS_H
#define TRUEUP_MOMENTS_H

#include "trueup/status.h"

#include <stddef.h>

TU_BEGIN_DECLS

typedef struct tu_moments {
    size_t count;
    double mean;
    double sum_squares; /* of the deviations from the mean */
    double minimum;
    double maximum;
} tu_moments;

/* The moments of nothing: count 0, mean, minimum and maximum NaN. */
tu_moments tu_moments_start(void);
/* Takes in one value; the caller keeps NaN out. */
void tu_moments_add(tu_moments *moments, double value);
tu_moments tu_moments_of(const double *values, size_t count);
/* The sample standard deviation (n - 1 in the denominator); NaN for fewer than two values. */
double tu_moments_sd(const tu_moments *moments);

TU_END_DECLS

#endif
