/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * line_fit.c - the straight line by least squares.
 */
#include "trueup/trial_models.h"

#include <math.h>

/* The mean, from the first value on: what all values share costs no digits. */
static double mean_of(const double *values, size_t count)
{
    double sum = 0.0, rest = 0.0;
    for (size_t i = 0; i < count; i++) {
        /* A. Neumaier, ZAMM 54 (1974) 39-51: a sum with what was rounded away. */
        double value = values[i] - values[0], next = sum + value;
        rest += fabs(sum) >= fabs(value) ? (sum - next) + value : (value - next) + sum;
        sum = next;
    }
    return values[0] + (sum + rest) / (double)count;
}

static bool all_finite(const double *values, size_t count, size_t *bad)
{
    for (*bad = 0; *bad < count; (*bad)++)
        if (!isfinite(values[*bad]))
            return false;
    return true;
}

static tu_status check(const double *x, const double *y, size_t count, tu_error *error)
{
    size_t bad;
    if (!all_finite(x, count, &bad) || !all_finite(y, count, &bad))
        return tu_fail(error, TU_DATA_RANGE, NULL, "point %zu is not a finite number", bad + 1);
    if (count < 3)
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "a line with its uncertainty needs three points, found %zu", count);
    return TU_OK;
}

tu_status tu_trials_fit_line(const double *x, const double *y, size_t count, tu_line_fit *fit,
                             tu_error *error)
{
    double xx = 0.0, xy = 0.0, yy = 0.0, residuals = 0.0;
    *fit = (tu_line_fit){NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    tu_status status = check(x, y, count, error);
    if (status)
        return status;
    double mean_x = mean_of(x, count), mean_y = mean_of(y, count);
    for (size_t i = 0; i < count; i++) {
        xx += (x[i] - mean_x) * (x[i] - mean_x);
        xy += (x[i] - mean_x) * (y[i] - mean_y);
        yy += (y[i] - mean_y) * (y[i] - mean_y);
    }
    if (!(xx > 0.0))
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "a line needs two different places along it; all points share one");
    fit->slope = xy / xx;
    fit->intercept = mean_y - fit->slope * mean_x;
    for (size_t i = 0; i < count; i++) {
        double off = (y[i] - mean_y) - fit->slope * (x[i] - mean_x);
        residuals += off * off;
    }
    fit->dof = (double)count - 2.0;
    fit->residual_sd = sqrt(residuals / fit->dof);
    fit->slope_sd = fit->residual_sd / sqrt(xx);
    fit->intercept_sd = fit->residual_sd * sqrt(1.0 / (double)count + mean_x * mean_x / xx);
    fit->r_squared = yy > 0.0 ? 1.0 - residuals / yy : NAN;
    return TU_OK;
}
