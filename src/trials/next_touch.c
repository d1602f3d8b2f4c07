/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * next_touch.c - the interval that the next touch lies in.
 */
#include "trueup/trial_models.h"

#include "trueup/budget.h"

#include <math.h>

double tu_trials_next_within(double sd_mm, size_t count, double dof, double step_mm)
{
    double unknowns = (double)count - dof;
    if (!(sd_mm >= 0.0) || !(dof > 0.0) || (sd_mm == 0.0 && isnan(step_mm)))
        return NAN;
    double within_mm = tu_student_factor(0.95, dof) * sd_mm * sqrt(1.0 + unknowns / (double)count);
    return within_mm < step_mm / 2.0 ? step_mm / 2.0 : within_mm;
}
