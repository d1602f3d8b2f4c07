/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rise.h - an exponential rise through points, by least squares.
 */
#ifndef TRUEUP_TRIALS_RISE_H
#define TRUEUP_TRIALS_RISE_H

#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * y = start + rise (1 - exp(-t/tau)) for t = times[i] - time_0, y = values[i] - value_0.
 *   free_start  false: start is 0 and not fitted.
 *   work        4 * count doubles.
 */
typedef struct tu_rise_points {
    const double *times, *values;
    double time_0, value_0;
    size_t count;
    bool free_start;
    double *work;
} tu_rise_points;

/* start without value_0. squares: of the residuals. _sd: NaN when no degree of freedom is left. */
typedef struct tu_rise {
    double start, rise, tau;
    double start_sd, rise_sd, tau_sd;
    double squares, dof;
} tu_rise;

/*
 * Searches tau in [low, high], both above 0. TU_UNDETERMINED when the best is at an end of it or
 * when the points determine no rise; TU_NUMERIC when the search does not settle.
 */
tu_status tu_rise_fit(const tu_rise_points *points, double low, double high, tu_rise *rise);

#endif
