/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * gauge_study.c - touches in groups (seatings of the plate, cutters, days): what varies within a
 * group and what between them. One-way random effects, unbalanced (ISO 5725-2, clause 7.4: s_r,
 * s_L and n0; from memory).
 */
#include "trials/distribution.h"
#include "trials/trial_check.h"

#include <math.h>

/* Sums are of differences to the first value: what all touches share would only cost digits. */
static double from_first(const tu_trial_series *series, size_t i)
{
    return series->value_mm[i] - series->value_mm[0];
}

static tu_status check(const tu_trial_series *series, size_t group_count, tu_error *error)
{
    tu_status status = tu_trial_check(series, error);
    if (status)
        return status;
    if (series->group == NULL)
        return tu_fail(error, TU_DATA_MISSING, series->name,
                       "a gauge study needs the group of each touch");
    for (size_t i = 0; i < series->count; i++) {
        if (series->group[i] >= group_count)
            return tu_fail(error, TU_DATA_RANGE, series->name,
                           "touch %zu: group %zu of %zu (they count from 0)", i + 1,
                           series->group[i], group_count);
    }
    return TU_OK;
}

/* Means are still from the first value; returns the mean of all. */
static double find_means(const tu_trial_series *series, size_t group_count, tu_trial_group *group)
{
    double all = 0.0;
    for (size_t g = 0; g < group_count; g++)
        group[g] = (tu_trial_group){0};
    for (size_t i = 0; i < series->count; i++) {
        tu_trial_group *mine = &group[series->group[i]];
        double value = from_first(series, i);
        mine->n++;
        mine->mean += (value - mine->mean) / (double)mine->n;
        all += (value - all) / (double)(i + 1);
    }
    return all;
}

/* Second pass: squares about the means, with the correction for the rounding of the means. */
static void find_squares(const tu_trial_series *series, size_t group_count, tu_trial_group *group,
                         double all, tu_trial_groups *study)
{
    double largest = 0.0;
    for (size_t i = 0; i < series->count; i++) {
        tu_trial_group *mine = &group[series->group[i]];
        double off = from_first(series, i) - mine->mean;
        mine->sd += off * off;
    }
    for (size_t g = 0; g < group_count; g++) {
        double n = (double)group[g].n, off = group[g].mean - all;
        study->groups += group[g].n > 0;
        study->n += group[g].n;
        study->ss_within += group[g].sd;
        study->ss_between += n * off * off;
        largest += n * n;
        group[g].sd = group[g].n > 1 ? sqrt(group[g].sd / (n - 1.0)) : NAN;
        group[g].mean = group[g].n > 0 ? group[g].mean + series->value_mm[0] : NAN;
    }
    double n = (double)study->n;
    study->effective_group = (n - largest / n) / ((double)study->groups - 1.0);
}

static void find_components(tu_trial_groups *study)
{
    study->dof_between = (double)study->groups - 1.0;
    study->dof_within = (double)(study->n - study->groups);
    study->ms_between = study->ss_between / study->dof_between;
    study->ms_within = study->ss_within / study->dof_within;
    study->f = study->ms_within > 0.0 ? study->ms_between / study->ms_within : NAN;
    study->p = tu_upper_f(study->f, study->dof_between, study->dof_within);
    double excess = study->ms_between - study->ms_within;
    study->repeatability = sqrt(study->ms_within);
    study->between = sqrt(fmax(0.0, excess) / study->effective_group);
    study->reproducibility = hypot(study->repeatability, study->between);
    study->repeatability_interval = tu_interval_of_sd(study->repeatability, study->dof_within);
}

tu_status tu_trials_study_groups(const tu_trial_series *series, size_t group_count,
                                 tu_trial_group *group, tu_trial_groups *study, tu_error *error)
{
    *study = (tu_trial_groups){0};
    tu_status status = check(series, group_count, error);
    if (status)
        return status;
    double all = find_means(series, group_count, group);
    find_squares(series, group_count, group, all, study);
    if (study->groups < 2)
        return tu_fail(error, TU_UNDETERMINED, series->name,
                       "a gauge study needs two groups, found %zu", study->groups);
    if (study->n == study->groups)
        return tu_fail(error, TU_UNDETERMINED, series->name,
                       "a gauge study needs a group of two touches; all %zu groups have one",
                       study->groups);
    find_components(study);
    return TU_OK;
}
