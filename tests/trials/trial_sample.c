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
    if (cJSON_GetObjectItemCaseSensitive(data, name) != NULL) {
        return check_json_numbers(data, name, count);
    }
    size_t times = (size_t)check_json_number(data, "times");
    *count = 1 + 2 * times;
    double *values = calloc(*count, sizeof *values);
    assert_non_null(values);
    values[0] = check_json_number(data, "first");
    for (size_t i = 0; i < 2 * times; i++) {
        values[1 + i] = check_json_number(data, i % 2 == 0 ? "pair[0]" : "pair[1]");
    }
    return values;
}

void trial_sample_normal(check_random *random, double mean, double sd, double *values, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        values[i] = check_random_normal(random, mean, sd);
    }
}
