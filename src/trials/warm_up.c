/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * warm_up.c - a machine that warms up: how far does it still move, and how long does that take?
 */
#include "trials/distribution.h"
#include "trials/rise.h"
#include "trials/trial_check.h"

#include "trueup/moments.h"
#include "trueup/trial_models.h"

#include <math.h>

enum { TIMES_MIN = 5 };

static size_t count_times(const tu_trial_series *series)
{
    size_t times = series->count > 0;
    for (size_t i = 1; i < series->count; i++)
        times += series->time_s[i] > series->time_s[i - 1];
    return times;
}

static tu_status check(const tu_trial_series *series, const double *work, tu_error *error)
{
    tu_status status = tu_trial_check(series, error);
    if (status)
        return status;
    if (series->time_s == NULL)
        return tu_fail(error, TU_DATA_MISSING, series->name,
                       "a warm-up needs the time of each touch");
    if (work == NULL)
        return tu_fail(error, TU_USAGE, NULL, "the fit of a warm-up needs room to work in");
    if (count_times(series) < TIMES_MIN)
        return tu_fail(error, TU_UNDETERMINED, series->name,
                       "a warm-up needs touches at %d different times, found %zu", TIMES_MIN,
                       count_times(series));
    return TU_OK;
}

/* From when on less than the tolerance remains of the rise. */
static double settled_after(const tu_rise *rise, double tolerance_mm)
{
    if (!(tolerance_mm > 0.0))
        return NAN;
    return fmax(0.0, rise->tau * log(fabs(rise->rise) / tolerance_mm));
}

/* Against a constant, with two degrees of freedom for rise and tau. */
static double p_of(const tu_trial_series *series, const tu_rise *rise)
{
    tu_moments moments = tu_moments_of(series->value_mm, series->count);
    double gained = moments.sum_squares - rise->squares;
    return rise->squares > 0.0
               ? tu_upper_f(fmax(0.0, gained) / 2.0 / (rise->squares / rise->dof), 2.0, rise->dof)
               : 0.0;
}

static size_t first_later(const tu_trial_series *series)
{
    size_t i = 1;
    while (series->time_s[i] == series->time_s[0])
        i++;
    return i;
}

tu_status tu_trials_fit_warm_up(const tu_trial_series *series, double tolerance_mm, double *work,
                                tu_warm_up *fit, tu_error *error)
{
    *fit = (tu_warm_up){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    tu_status status = check(series, work, error);
    if (status)
        return status;
    const double *time = series->time_s;
    double span = time[series->count - 1] - time[0];
    double first = time[first_later(series)] - time[0];
    tu_rise_points points = {
        time, series->value_mm, time[0], series->value_mm[0], series->count, true, work};
    tu_rise rise;
    /* Shorter than that only the first touches differ from the rest, which any cause may do;
     * longer, the rise is a straight line to within a tenth of its height. */
    status = tu_rise_fit(&points, first / 3.0, 3.0 * span, &rise);
    if (status == TU_NUMERIC)
        return tu_fail(error, status, series->name, "the fit of the warm-up did not settle");
    if (status)
        return tu_fail(error, status, series->name,
                       "the series shows no warm-up: it does not bend within its %.6g s; if it "
                       "drifts, touch for longer",
                       span);
    *fit = (tu_warm_up){.start = rise.start + series->value_mm[0],
                        .rise = rise.rise,
                        .tau_s = rise.tau,
                        .residual_sd = sqrt(rise.squares / rise.dof),
                        .start_sd = rise.start_sd,
                        .rise_sd = rise.rise_sd,
                        .tau_sd = rise.tau_sd,
                        .settled_after_s = settled_after(&rise, tolerance_mm),
                        .p = p_of(series, &rise),
                        .dof = rise.dof};
    return TU_OK;
}
