/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * significance.h - which figures of a series are more than chance, and matter: at 5 % each
 * (docs/statistics.md has the rates of false alarms). Verdict, table, picture and advice go by
 * these, and so does what may be kept.
 */
#ifndef TU_TRIALS_SIGNIFICANCE_H
#define TU_TRIALS_SIGNIFICANCE_H

#include "trueup/trials.h"

#include <stdbool.h>

/* A drift, or a shift on the way, by a standard deviation in all or more: less adds a twentieth to
 * s, and among many touches is found for all that. */
bool tu_trials_drifts(const tu_trial_figures *figures);
bool tu_trials_is_step_limited(const tu_trial_figures *figures); /* s is half a step or less */
bool tu_trials_is_odd(const tu_trial_figures *figures); /* not normal, and not by its steps */
/* Neighbours are alike. */
bool tu_trials_is_chained(const tu_trial_figures *figures);

#endif
