/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * significance.c - which figures of a series are more than chance, and matter.
 */
#include "trials/significance.h"

#include <math.h>

static const double level = 0.05;

/* Among more touches the test sees departures, the rounding of the positions among them, that are
 * of no account. */
static const size_t normality_most = 5000;

/* Less than that widens the interval of a mean by a tenth at most: sqrt((1 + r)/(1 - r)). */
static const double lag1_least = 0.1;

bool tu_trials_drifts(const tu_trial_figures *f)
{
    double way_mm = f->slope != 0 ? f->drift_mm : 2 * f->shift_mm;
    return f->slope_p < level && fabs(way_mm) >= f->sd_without;
}

bool tu_trials_is_step_limited(const tu_trial_figures *f)
{
    return f->quantised && !(f->sd > f->resolution_mm / 2);
}

bool tu_trials_is_odd(const tu_trial_figures *f)
{
    return f->n <= normality_most && f->normality_p < level && !f->quantised;
}

/* A drift makes neighbours alike as well, and is said as a drift; steps do, too. */
bool tu_trials_is_chained(const tu_trial_figures *f)
{
    return !tu_trials_drifts(f) && !f->quantised && f->n >= 8 &&
           fabs(f->lag1) > fmax(lag1_least, 1.96 / sqrt((double)f->n));
}
