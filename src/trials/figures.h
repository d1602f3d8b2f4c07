/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * figures.h - the figures that follow from the moments and the moving ranges of a series.
 */
#ifndef TRUEUP_TRIALS_FIGURES_H
#define TRUEUP_TRIALS_FIGURES_H

#include "trueup/trials.h"

/* NaN and 0 throughout. */
tu_trial_figures tu_figures_none(void);
/* From n to the repeatabilities, without lag1. */
void tu_figures_take_moments(tu_trial_figures *figures, const tu_moments *moments);
/* The chart, without the touches beyond it; n and mean must be there. sum: of the moving ranges. */
void tu_figures_take_ranges(tu_trial_figures *figures, double sum);

#endif
