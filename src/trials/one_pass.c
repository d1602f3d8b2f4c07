/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * one_pass.c - the figures of a series of which no touch is kept.
 *
 * Lag-1 is the sum of (x[i] - m)(x[i-1] - m) over that of (x[i] - m)^2, with the mean m of all
 * (NIST/SEMATECH e-Handbook 1.3.5.12). Both sums follow the mean as it moves. When it moves by d
 * on the way from n to n + 1 values, the products change by
 *
 *     -d (sum over i > 1 of (x[i] - m) + sum over i < n of (x[i] - m)) + (n - 1) d^2
 *
 * and because all deviations from m add up to 0, the first sum is m - x[1] and the second m - x[n].
 * This is Welford's step (Technometrics 4 (1962) 419-420) for neighbours; no large sums are
 * subtracted from each other. tests compare it with the plain two passes.
 */
#include "trials/figures.h"
#include "trials/trial_check.h"

#include <math.h>

tu_trial_pass tu_trials_pass_start(void)
{
    return (tu_trial_pass){.moments = tu_moments_start(), .time_s = NAN};
}

/* last: the value before this one. The count is that with this one. */
static void take_order(tu_trial_pass *pass, double value_mm)
{
    double n = (double)pass->moments.count;
    double value = value_mm - pass->first, last = pass->last - pass->first;
    double before = value - pass->order_mean;
    double move = before / n;
    /* n here counts the new value, and the first one lies at 0 */
    pass->order_products += move * ((0.0 - pass->order_mean) + (last - pass->order_mean));
    pass->order_products += (n - 2.0) * move * move;
    pass->order_mean += move;
    double off = value - pass->order_mean;
    pass->order_squares += before * off;
    pass->order_products += off * (last - pass->order_mean);
}

tu_status tu_trials_pass_add(tu_trial_pass *pass, const char *name, double value_mm, double time_s,
                             tu_error *error)
{
    size_t number = pass->moments.count + 1;
    tu_status status = tu_trial_check_value(name, number, value_mm, error);
    if (!status && !isnan(time_s))
        status = tu_trial_check_time(name, number, time_s, pass->time_s, error);
    if (status)
        return status;
    tu_moments_add(&pass->moments, value_mm);
    if (number == 1) {
        pass->first = value_mm;
    } else {
        take_order(pass, value_mm);
        pass->moving_range += fabs(value_mm - pass->last);
    }
    pass->last = value_mm;
    pass->time_s = time_s;
    return TU_OK;
}

tu_trial_figures tu_trials_pass_figures(const tu_trial_pass *pass, double step_mm)
{
    tu_trial_figures f = tu_figures_none();
    tu_figures_take_moments(&f, &pass->moments);
    tu_figures_take_ranges(&f, pass->moving_range);
    f.lag1 = pass->order_squares > 0.0 ? pass->order_products / pass->order_squares : NAN;
    f.step_mm = f.resolution_mm = step_mm;
    f.quantised = f.n > 1 && (f.range == 0.0 || f.sd <= step_mm);
    return f;
}
