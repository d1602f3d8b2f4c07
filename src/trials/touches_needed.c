/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touches_needed.c - how many touches make a mean good enough.
 */
#include "trueup/trial_models.h"

#include "trueup/budget.h"

#include <math.h>

enum { TOUCHES_MAX = 10000 };

double tu_trials_rounding_error(double sd_mm, double step_mm)
{
    if (isnan(step_mm))
        return 0.0;
    return sd_mm > step_mm / 2.0 ? step_mm / 50.0 : step_mm / 2.0;
}

static double expanded(double sd_mm, double dof, size_t n)
{
    double all = (dof > 0.0 ? dof : 0.0) + (double)n - 1.0;
    return all > 0.0 ? tu_student_factor(0.95, all) * sd_mm / sqrt((double)n) : INFINITY;
}

size_t tu_trials_touches_needed(double sd_mm, double dof, double wanted_mm)
{
    if (!(sd_mm >= 0.0) || !(wanted_mm > 0.0) || !(expanded(sd_mm, dof, TOUCHES_MAX) <= wanted_mm))
        return 0;
    size_t low = 0, high = TOUCHES_MAX; /* low is too few, high is enough */
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (expanded(sd_mm, dof, middle) <= wanted_mm)
            high = middle;
        else
            low = middle;
    }
    return high;
}
