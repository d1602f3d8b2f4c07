/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials.h - repeated touches of one place: how well they repeat, whether they drift, what is odd.
 *
 * Pure. Lengths in millimetres, times in seconds, in the order in which the touches were made. NaN
 * stands for a figure that was not asked for or cannot be computed. Which source each figure
 * follows stands beside it; docs/statistics.md has the formulas.
 */
#ifndef TRUEUP_TRIALS_H
#define TRUEUP_TRIALS_H

#include "trueup/moments.h"
#include "trueup/setup.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

/* An interval that holds the true value with the stated confidence; NaN, NaN: none. */
typedef struct tu_interval {
    double low, high;
} tu_interval;

/*
 * One series of touches of one place along one axis.
 *   value_mm   count values, finite.
 *   time_s     count times from any origin, or NULL: equal steps are assumed (the order).
 *   direction  count directions of approach (-1, +1, 0 not stated), or NULL.
 *   feed_mm_s  count feeds of approach, or NULL; NaN: not stated.
 *   group      count group numbers from 0, or NULL (gauge study).
 *   step_mm    the step of the position; NaN: not stated.
 */
typedef struct tu_trial_series {
    const char *name;
    tu_axis axis;
    size_t count;
    const double *value_mm;
    const double *time_s;
    const signed char *direction;
    const double *feed_mm_s;
    const size_t *group;
    double step_mm;
} tu_trial_series;

/* A touch that Grubbs' test calls an outlier; index into the series as given. statistic and
 * critical are of the pass that found it, in which n touches were left. */
typedef struct tu_trial_outlier {
    size_t index;
    double value_mm;
    double statistic;
    double critical;
    size_t n;
} tu_trial_outlier;

enum { TU_TRIAL_OUTLIERS_MAX = 32 };

/*
 * The figures of a series, all touches included unless said otherwise.
 *   lag1                autocorrelation at lag 1 (NIST/SEMATECH e-Handbook 1.3.5.12).
 *   mean_interval       95 %, by t; sd_interval 95 %, by chi-squared.
 *   repeatability_limit 1.96 sqrt(2) s (ISO 5725-6, printed there as 2.8 s).
 *   unidirectional      4 s (ISO 230-2).
 *   outlier             Grubbs, two-sided, one after the other; 5 % over the whole search (the
 *                       level of one pass is 5 %/(1 + 3.6/n) from ten touches on). The outliers are
 *                       all up to the last pass that exceeds its critical value (Rosner 1983): the
 *                       statistic of one before may be below its own. A touch less than one and a
 *                       half steps from the mean is none: rounding puts it there (the step stated,
 *                       or one of up to 0.025 mm that is seen while s is no larger).
 *   sd_without          s of the touches that are not outliers; == sd when there are none.
 *   slope, slope_p      Theil-Sen (mm/s with times, mm/touch without: slope_per_touch), two-sided p
 *                       of Mann-Kendall with ties corrected. slope_interval 95 % (Sen 1968).
 *   drift_mm            slope from the first touch to the last.
 *   shift_mm            mean of the later half of the touches less that of the earlier half.
 *   normality, normality_p  Anderson-Darling A* (mean and s estimated; D'Agostino and Stephens
 *                       1986); from 8 touches on.
 *   chart_...           individuals and moving range (d2 1.128, D4 3.267).
 *   distinct            how many different values there are.
 *   step_seen_mm        the smallest difference between two of them (NaN: all equal).
 *   resolution_mm       the step that the figures go by: the one stated, unless touches lie nearer
 *                       to each other than it allows; else, where values come again, the one seen.
 *                       NaN: not known.
 *   quantised           all touches are equal, or s is that step or less: s then says more of the
 *                       step than of the touches.
 * All touches equal: s is 0, and what would follow from it (intervals, repeatabilities, chart) is
 * not known.
 */
typedef struct tu_trial_figures {
    size_t n;
    double mean, median, sd, minimum, maximum, range, lag1;
    tu_interval mean_interval, sd_interval;
    double repeatability_limit, unidirectional;
    tu_trial_outlier outlier[TU_TRIAL_OUTLIERS_MAX];
    size_t outlier_count;
    double sd_without;
    bool slope_per_touch;
    double slope, slope_p;
    tu_interval slope_interval;
    double drift_mm, shift_mm;
    double normality, normality_p;
    double chart_centre, chart_lower, chart_upper, chart_mr_centre, chart_mr_upper;
    size_t chart_beyond; /* touches outside the limits */
    size_t distinct;
    double step_mm, step_seen_mm, resolution_mm;
    bool quantised;
} tu_trial_figures;

/*
 * work: room for 3 * count doubles, the caller's. 0, 1 or 2 touches and touches that are all equal
 * are no errors: what cannot be computed is NaN.
 * Returns TU_OK; TU_DATA_RANGE for a value or time that is not finite (names the touch);
 * TU_DATA_CONFLICT for times that run backwards; TU_USAGE for NULL work.
 */
tu_status tu_trials_judge_series(const tu_trial_series *series, double *work,
                                 tu_trial_figures *figures, tu_error *error);

/* --- in one pass, without the touches --- */

/*
 * What is known of a series after each of its touches, in a fixed size. order_ holds what lag-1
 * takes: deviations from the first value, so that the place of the touches costs no digits.
 * Starts by tu_trials_pass_start; is filled by tu_trials_pass_add only.
 */
typedef struct tu_trial_pass {
    tu_moments moments;
    double first, last, time_s;
    double order_mean, order_squares, order_products;
    double moving_range;
} tu_trial_pass;

tu_trial_pass tu_trials_pass_start(void);
/* time_s NaN: not stated. Returns TU_OK; TU_DATA_RANGE, TU_DATA_CONFLICT as tu_trials_judge_series,
 * and then the touch is not taken in. name is that of the series, for the error; may be NULL. */
tu_status tu_trials_pass_add(tu_trial_pass *pass, const char *name, double value_mm, double time_s,
                             tu_error *error);
/*
 * The figures that one pass gives: n, mean, sd, minimum, maximum, range, lag1, both intervals, both
 * repeatabilities, the chart. NaN or 0 stands for those that take the touches themselves: median,
 * outliers, slope, normality, step_seen_mm, distinct, chart_beyond. quantised is true where all
 * touches are equal, or s is the step stated or less; a step that is not stated is not seen.
 * All but lag1 are the same as tu_trials_judge_series's to the last bit. step_mm NaN: not stated.
 */
tu_trial_figures tu_trials_pass_figures(const tu_trial_pass *pass, double step_mm);

/* The pieces, for those who want one. values is left alone; work holds count doubles. */
double tu_trials_median(const double *values, size_t count, double *work);
double tu_trials_lag1(const double *values, size_t count, double mean);
/* Anderson-Darling: sorted ascending; returns A* and its p; NaN below 8 or when s is 0. */
double tu_trials_anderson_darling(const double *sorted, size_t count, double mean, double sd,
                                  double *p);
/* Mann-Kendall's S with its p (normal approximation with continuity and ties; exact for n < 50
 * without ties), O(n log n). work: 2 * count. */
double tu_trials_mann_kendall(const double *values, size_t count, double *work, double *p);
/* Theil-Sen slope over the times (ascending; NULL: 0, 1, 2 ...), O(n log n) per step of the search:
 * ten million touches take a minute or so. NaN without two different times; no interval where too
 * few touches exclude any slope at 95 % (fewer than five). work: 3 * count. */
double tu_trials_theil_sen(const double *times, const double *values, size_t count, double *work,
                           tu_interval *interval95);

/* --- both directions of approach (ISO 230-2) --- */

/* reversal B = mean(+) - mean(-); r_plus = 4 s+; r = max(2 s+ + 2 s- + |B|, R+, R-). */
typedef struct tu_trial_reversal {
    size_t n_plus, n_minus;
    double b, r_plus, r_minus, r;
    tu_interval b_interval; /* 95 %, Welch */
} tu_trial_reversal;

/* TU_UNDETERMINED when a direction has fewer than two touches. */
tu_status tu_trials_find_reversal(const tu_trial_series *series, tu_trial_reversal *reversal,
                                  tu_error *error);

/* --- before and after --- */

/* a: after (the series judged), b: before. difference = mean(a) - mean(b), ratio = sd(a)/sd(b). */
typedef struct tu_trial_comparison {
    double difference;
    tu_interval difference_interval; /* 95 %, Welch */
    double t, t_dof, t_p;            /* Welch */
    double f, f_dof_a, f_dof_b, f_p; /* variance ratio a/b, two-sided */
    tu_interval sd_ratio_interval;   /* 95 %, by F */
    double brown_forsythe, brown_forsythe_p;
} tu_trial_comparison;

/* work: count a + count b doubles. TU_UNDETERMINED below two touches a side. */
tu_status tu_trials_compare(const tu_trial_series *a, const tu_trial_series *b, double *work,
                            tu_trial_comparison *comparison, tu_error *error);

/* --- gauge study: one-way random effects (ISO 5725-2; NIST StRD for the ANOVA table) --- */

/*
 *   repeatability    s_r, between touches of one group.
 *   between          s_L, between groups; 0 when MS between is below MS within.
 *   reproducibility  sqrt(s_r^2 + s_L^2).
 *   effective_group  n0 of an unbalanced design.
 */
typedef struct tu_trial_groups {
    size_t groups, n;
    double ss_between, ss_within, ms_between, ms_within, dof_between, dof_within, f, p;
    double repeatability, between, reproducibility, effective_group;
    tu_interval repeatability_interval; /* 95 %, chi-squared */
} tu_trial_groups;

/* Means and counts of each group, the caller's: group_count of them. */
typedef struct tu_trial_group {
    size_t n;
    double mean, sd;
} tu_trial_group;

/* groups[group_count]: out. TU_UNDETERMINED for fewer than two groups, or no group of two. */
tu_status tu_trials_study_groups(const tu_trial_series *series, size_t group_count,
                                 tu_trial_group *group, tu_trial_groups *study, tu_error *error);

TU_END_DECLS

#endif
