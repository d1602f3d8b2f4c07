/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trueup/trial_models.h"

tu_status tu_trials_fit_warm_up(const tu_trial_series *series, double tolerance_mm, double *work,
                                tu_warm_up *fit, tu_error *error)
{
    (void)tolerance_mm;
    (void)work;
    *fit = (tu_warm_up){0};
    return tu_fail(error, TU_NUMERIC, series->name, "the warm-up cannot be fitted yet");
}
