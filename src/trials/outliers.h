/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * outliers.h - touches that do not belong to the rest: Grubbs' test, one touch after the other.
 */
#ifndef TRUEUP_TRIALS_OUTLIERS_H
#define TRUEUP_TRIALS_OUTLIERS_H

#include "trueup/trials.h"

/*
 * Fills figures->outlier, outlier_count and sd_without. sorted: the values of series, ascending.
 *
 * Each pass takes the touch farthest from the mean of those left and compares it with Grubbs' two-
 * sided critical value for as many; the outliers are all up to the last pass that exceeds it
 * (B. Rosner, Technometrics 25 (1983) 165-172), so that two bad touches cannot hide each other. At
 * most n/10 + 1 touches are tried. Below ten touches that is one, at 5 %; above, the passes
 * together alarm more often than each, so that their level is 5 % / (1 + 3.6/n), which is fitted to
 * 40 000 simulated series of each of 18 lengths. A clean series of any length raises an alarm once
 * in twenty times (the tests show it). With a step, stated or seen, a touch that lies less than one
 * and a half of it from the mean is none: rounding puts it there. sd, step_mm, resolution_mm and
 * quantised of figures must be there.
 */
void tu_outliers_find(const tu_trial_series *series, const double *sorted,
                      tu_trial_figures *figures);

#endif
