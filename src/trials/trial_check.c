/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trial_check.c - is a series of touches one that can be judged?
 */
#include "trials/trial_check.h"

#include <math.h>

static const char *name_of(const tu_trial_series *series)
{
    return series->name != NULL ? series->name : "";
}

static tu_status check_time(const tu_trial_series *series, size_t i, tu_error *error)
{
    double time = series->time_s[i];
    if (!isfinite(time)) {
        return tu_fail(error, TU_DATA_RANGE, name_of(series),
                       "touch %zu: its time is not a finite number; state the times of all touches "
                       "or of none",
                       i + 1);
    }
    if (i > 0 && time < series->time_s[i - 1]) {
        return tu_fail(error, TU_DATA_CONFLICT, name_of(series),
                       "touch %zu: its time, %.6g s, lies before that of touch %zu, %.6g s; put "
                       "the touches in the order in which they were made",
                       i + 1, time, i, series->time_s[i - 1]);
    }
    return TU_OK;
}

static tu_status check_touch(const tu_trial_series *series, size_t i, tu_error *error)
{
    if (!isfinite(series->value_mm[i])) {
        return tu_fail(error, TU_DATA_RANGE, name_of(series),
                       "touch %zu: its position is not a finite number; correct it or leave the "
                       "touch out",
                       i + 1);
    }
    if (series->direction != NULL && (series->direction[i] < -1 || series->direction[i] > 1)) {
        return tu_fail(error, TU_DATA_RANGE, name_of(series),
                       "touch %zu: its direction must be -1, 0 or +1, found %d", i + 1,
                       series->direction[i]);
    }
    return series->time_s != NULL ? check_time(series, i, error) : TU_OK;
}

tu_status tu_trial_check(const tu_trial_series *series, tu_error *error)
{
    if (!isnan(series->step_mm) && !(series->step_mm > 0.0 && isfinite(series->step_mm))) {
        return tu_fail(error, TU_DATA_RANGE, name_of(series),
                       "the step of the position must be above zero, found %g mm", series->step_mm);
    }
    for (size_t i = 0; i < series->count; i++) {
        tu_status status = check_touch(series, i, error);
        if (status != TU_OK) {
            return status;
        }
    }
    return TU_OK;
}
