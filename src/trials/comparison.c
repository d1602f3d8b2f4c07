/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * comparison.c - two series, before and after a change: have mean and spread changed?
 *
 * Welch's t; the ratio of variances; M. B. Brown, A. B. Forsythe, J. Am. Stat. Assoc. 69 (1974)
 * 364-367 (Levene's test with the medians), which heavy tails do not mislead as they do F.
 */
#include "trials/distribution.h"
#include "trials/mean_difference.h"
#include "trials/trial_check.h"

#include "trueup/moments.h"

#include <math.h>

static tu_moments deviations_of(const tu_trial_series *series, double *work)
{
    double median = tu_trials_median(series->value_mm, series->count, work);
    tu_moments deviations = tu_moments_start();
    for (size_t i = 0; i < series->count; i++)
        tu_moments_add(&deviations, fabs(series->value_mm[i] - median));
    return deviations;
}

/* One-way analysis of the deviations from the medians, two groups. */
static void compare_deviations(const tu_moments *a, const tu_moments *b, tu_trial_comparison *c)
{
    double n_a = (double)a->count, n_b = (double)b->count, n = n_a + n_b;
    double apart = a->mean - b->mean;
    double between = apart * apart * n_a * n_b / n;
    double within = (a->sum_squares + b->sum_squares) / (n - 2.0);
    c->brown_forsythe = within > 0.0 ? between / within : NAN;
    c->brown_forsythe_p = tu_upper_f(c->brown_forsythe, 1.0, n - 2.0);
}

static void compare_spreads(const tu_moments *a, const tu_moments *b, tu_trial_comparison *c)
{
    double sd_a = tu_moments_sd(a), sd_b = tu_moments_sd(b);
    double ratio = sd_b > 0.0 ? sd_a / sd_b : NAN;
    c->f = ratio * ratio;
    c->f_dof_a = (double)(a->count - 1);
    c->f_dof_b = (double)(b->count - 1);
    c->f_p = tu_two_sided_f(c->f, c->f_dof_a, c->f_dof_b);
    c->sd_ratio_interval = tu_interval_of_ratio(ratio, c->f_dof_a, c->f_dof_b);
}

tu_status tu_trials_compare(const tu_trial_series *a, const tu_trial_series *b, double *work,
                            tu_trial_comparison *comparison, tu_error *error)
{
    *comparison = (tu_trial_comparison){0};
    tu_status status = tu_trial_check(a, error);
    if (!status)
        status = tu_trial_check(b, error);
    if (status)
        return status;
    if (work == NULL)
        return tu_fail(error, TU_USAGE, NULL, "a comparison needs room to work in");
    const tu_trial_series *shorter = a->count < b->count ? a : b;
    if (shorter->count < 2)
        return tu_fail(error, TU_UNDETERMINED, shorter->name,
                       "a comparison needs two touches a side, found %zu", shorter->count);
    tu_moments of_a = tu_moments_of(a->value_mm, a->count);
    tu_moments of_b = tu_moments_of(b->value_mm, b->count);
    tu_mean_difference means = tu_mean_difference_of(&of_a, &of_b);
    comparison->difference = means.difference;
    comparison->difference_interval = means.interval;
    comparison->t = means.t;
    comparison->t_dof = means.dof;
    comparison->t_p = tu_two_sided_t(means.t, means.dof);
    compare_spreads(&of_a, &of_b, comparison);
    tu_moments away_a = deviations_of(a, work), away_b = deviations_of(b, work);
    compare_deviations(&away_a, &away_b, comparison);
    return TU_OK;
}
