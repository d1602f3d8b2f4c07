/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trial_sample.c - series of touches for the tests: from arrays, from fixtures, drawn.
 */
#include "trial_sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

tu_trial_series trial_sample_of(const double *values, size_t count)
{
    return (tu_trial_series){
        .name = "sample", .axis = TU_AXIS_Z, .count = count, .value_mm = values, .step_mm = NAN};
}

tu_trial_figures trial_sample_judge_series(const tu_trial_series *series)
{
    tu_trial_figures figures;
    tu_error error;
    double *work = calloc(3 * series->count + 1, sizeof *work);
    assert_non_null(work);
    check_status(tu_trials_judge_series(series, work, &figures, &error), TU_OK, &error);
    free(work);
    return figures;
}

tu_trial_figures trial_sample_judge(const double *values, size_t count)
{
    tu_trial_series series = trial_sample_of(values, count);
    return trial_sample_judge_series(&series);
}

double *trial_sample_data(const cJSON *root, const char *name, size_t *count)
{
    const cJSON *data = check_json_at(root, "data");
    if (cJSON_GetObjectItemCaseSensitive(data, name) != NULL)
        return check_json_numbers(data, name, count);
    size_t times = (size_t)check_json_number(data, "times");
    *count = 1 + 2 * times;
    double *values = calloc(*count, sizeof *values);
    assert_non_null(values);
    values[0] = check_json_number(data, "first");
    for (size_t i = 0; i < 2 * times; i++)
        values[1 + i] = check_json_number(data, i % 2 == 0 ? "pair[0]" : "pair[1]");
    return values;
}

void trial_sample_normal(check_random *random, double mean, double sd, double *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        values[i] = check_random_normal(random, mean, sd);
}

typedef struct nist_set {
    const char *name;
    double mean, sd, lag1; /* relative tolerances */
} nist_set;

static void hold_set(const nist_set *set, tu_trial_figures (*judge)(const double *, size_t))
{
    char path[100];
    snprintf(path, sizeof path, "reference/nist_univariate_%s.json", set->name);
    cJSON *root = check_fixture_json(path);
    size_t count;
    double *values = trial_sample_data(root, "y", &count);
    tu_trial_figures f = judge(values, count);
    assert_int_equal(f.n, (size_t)check_json_number(root, "certified.n"));
    check_relative(f.mean, check_json_number(root, "certified.mean"), set->mean, set->name);
    check_relative(f.sd, check_json_number(root, "certified.sd"), set->sd, set->name);
    check_relative(f.lag1, check_json_number(root, "certified.lag1_autocorrelation"), set->lag1,
                   set->name);
    free(values);
    cJSON_Delete(root);
}

void trial_sample_hold_nist(tu_trial_figures (*judge)(const double *values, size_t count))
{
    static const nist_set sets[] = {
        {"michelso", 1e-12, 1e-12, 1e-11}, {"mavro", 1e-14, 1e-11, 1e-11},
        {"numacc1", 4e-16, 4e-16, 4e-16}, /* a few units in the last place */
        {"numacc2", 1e-12, 1e-12, 1e-12},  {"numacc3", 1e-14, 1e-8, 1e-8},
        {"numacc4", 1e-14, 1e-7, 1e-7},
    };
    for (size_t i = 0; i < sizeof sets / sizeof *sets; i++)
        hold_set(&sets[i], judge);
}
