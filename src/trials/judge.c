/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * judge.c - the figures of one series of touches.
 */
#include "trials/figures.h"
#include "trials/outliers.h"
#include "trials/trend.h"
#include "trials/trial_check.h"

#include "trueup/moments.h"

#include <float.h>
#include <math.h>
#include <string.h>

double tu_trials_median(const double *values, size_t count, double *work)
{
    if (count > 0)
        memcpy(work, values, count * sizeof *work);
    return tu_order_find_median(work, count);
}

double tu_trials_lag1(const double *values, size_t count, double mean)
{
    double products = 0.0, squares = 0.0;
    for (size_t i = 0; i < count; i++) {
        double off = values[i] - mean;
        squares += off * off;
        products += i > 0 ? off * (values[i - 1] - mean) : 0.0;
    }
    return squares > 0.0 ? products / squares : NAN;
}

static void take_moments(const tu_trial_series *series, tu_trial_figures *f)
{
    tu_moments moments = tu_moments_of(series->value_mm, series->count);
    f->lag1 = tu_trials_lag1(series->value_mm, series->count, moments.mean);
    tu_figures_take_moments(f, &moments);
}

static void draw_chart(const tu_trial_series *series, tu_trial_figures *f)
{
    double sum = 0.0;
    for (size_t i = 1; i < series->count; i++)
        sum += fabs(series->value_mm[i] - series->value_mm[i - 1]);
    tu_figures_take_ranges(f, sum);
    for (size_t i = 0; i < series->count; i++) {
        double value = series->value_mm[i];
        f->chart_beyond += value < f->chart_lower || value > f->chart_upper;
    }
}

/* Positions written with three decimals lie so much nearer to each other than steps. */
static const double rounded_mm = 0.0005;

/* Numbers that differ by less than their own rounding are one value. */
static void find_resolution(const double *sorted, double step_mm, tu_trial_figures *f)
{
    double same = 8.0 * DBL_EPSILON * fmax(fabs(f->minimum), fabs(f->maximum));
    f->distinct = f->n > 0;
    f->step_mm = step_mm;
    for (size_t i = 1; i < f->n; i++) {
        double apart = sorted[i] - sorted[i - 1];
        if (apart > same) {
            f->distinct++;
            f->step_seen_mm = fmin(f->step_seen_mm, apart); /* fmin passes over NaN */
        }
    }
    /* Few values that happen to lie far apart are no steps; values that come again are. */
    bool repeated = f->distinct < f->n;
    if (isnan(step_mm))
        f->resolution_mm = repeated ? f->step_seen_mm : NAN;
    else if (!(f->step_seen_mm < 0.9 * step_mm - rounded_mm))
        f->resolution_mm = step_mm;
    f->quantised = f->n > 1 && (f->distinct == 1 || f->sd <= f->resolution_mm);
}

/* Everything that takes the touches in order of size: sorted once, and last what spoils that. */
static void find_ordered(const tu_trial_series *series, double *work, tu_trial_figures *f)
{
    size_t count = series->count;
    tu_order_counts order = tu_order_count(series->value_mm, count, work);
    f->median = tu_order_median(work, count);
    f->normality = tu_trials_anderson_darling(work, count, f->mean, f->sd, &f->normality_p);
    find_resolution(work, series->step_mm, f);
    tu_outliers_find(series, work, f);
    f->slope_per_touch = series->time_s == NULL;
    tu_trend_of(count, &order, &f->slope_p);
    f->slope =
        tu_theil_sen_of(series->time_s, series->value_mm, count, &order, work, &f->slope_interval);
}

/* How far the series went in all. */
static void find_ways(const tu_trial_series *series, tu_trial_figures *f)
{
    size_t n = series->count, half = n / 2;
    if (n < 2)
        return;
    double span = f->slope_per_touch ? (double)n - 1.0 : series->time_s[n - 1] - series->time_s[0];
    tu_moments early = tu_moments_of(series->value_mm, half);
    tu_moments late = tu_moments_of(series->value_mm + n - half, half);
    f->drift_mm = f->slope * span;
    f->shift_mm = late.mean - early.mean;
}

tu_status tu_trials_judge_series(const tu_trial_series *series, double *work,
                                 tu_trial_figures *figures, tu_error *error)
{
    *figures = tu_figures_none();
    tu_status status = tu_trial_check(series, error);
    if (status)
        return status;
    if (work == NULL)
        return tu_fail(error, TU_USAGE, NULL, "the figures of a series need room to work in");
    take_moments(series, figures);
    draw_chart(series, figures);
    find_ordered(series, work, figures);
    find_ways(series, figures);
    return TU_OK;
}
