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

tu_status tu_trial_check_time(const char *name, size_t number, double time_s, double before_s,
                              tu_error *error)
{
    if (!isfinite(time_s))
        return tu_fail(error, TU_DATA_RANGE, name != NULL ? name : "",
                       "touch %zu: its time is not a finite number; state the times of all touches "
                       "or of none",
                       number);
    if (time_s < before_s)
        return tu_fail(error, TU_DATA_CONFLICT, name != NULL ? name : "",
                       "touch %zu: its time, %.6g s, lies before that of touch %zu, %.6g s; put "
                       "the touches in the order in which they were made",
                       number, time_s, number - 1, before_s);
    return TU_OK;
}

tu_status tu_trial_check_value(const char *name, size_t number, double value_mm, tu_error *error)
{
    if (!isfinite(value_mm))
        return tu_fail(error, TU_DATA_RANGE, name != NULL ? name : "",
                       "touch %zu: its position is not a finite number; correct it or leave the "
                       "touch out",
                       number);
    return TU_OK;
}

static tu_status check_touch(const tu_trial_series *series, size_t i, tu_error *error)
{
    tu_status status = tu_trial_check_value(series->name, i + 1, series->value_mm[i], error);
    if (status)
        return status;
    if (series->direction != NULL && (series->direction[i] < -1 || series->direction[i] > 1))
        return tu_fail(error, TU_DATA_RANGE, name_of(series),
                       "touch %zu: its direction must be -1, 0 or +1, found %d", i + 1,
                       series->direction[i]);
    const double *time_s = series->time_s;
    return time_s == NULL ? TU_OK
                          : tu_trial_check_time(series->name, i + 1, time_s[i],
                                                i > 0 ? time_s[i - 1] : NAN, error);
}

tu_status tu_trial_check(const tu_trial_series *series, tu_error *error)
{
    if (!isnan(series->step_mm) && !(series->step_mm > 0.0 && isfinite(series->step_mm)))
        return tu_fail(error, TU_DATA_RANGE, name_of(series),
                       "the step of the position must be above zero, found %g mm", series->step_mm);
    for (size_t i = 0; i < series->count; i++) {
        tu_status status = check_touch(series, i, error);
        if (status)
            return status;
    }
    return TU_OK;
}
