/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trial_check.h - is a series of touches one that can be judged?
 */
#ifndef TRUEUP_TRIALS_TRIAL_CHECK_H
#define TRUEUP_TRIALS_TRIAL_CHECK_H

#include "trueup/trials.h"

/* TU_DATA_RANGE for a value or a time that is not finite, a step that is not above 0, a direction
 * other than -1, 0, +1; TU_DATA_CONFLICT for times that run backwards. Names the touch, from 1. */
tu_status tu_trial_check(const tu_trial_series *series, tu_error *error);

/* One touch, number from 1. name may be NULL; before_s NaN: no time before. */
tu_status tu_trial_check_value(const char *name, size_t number, double value_mm, tu_error *error);
tu_status tu_trial_check_time(const char *name, size_t number, double time_s, double before_s,
                              tu_error *error);

#endif
