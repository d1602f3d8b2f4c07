/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_runs.c - whether the touches of one place in a log come from one recording.
 */
#include "task/touch_runs.h"

#include <math.h>

void tu_touch_runs_add(tu_touch_runs *runs, size_t run, double position_mm)
{
    if (runs->count == 0 || runs->run != run) {
        runs->highest_low = runs->count ? fmax(runs->highest_low, runs->low) : -INFINITY;
        runs->lowest_high = runs->count ? fmin(runs->lowest_high, runs->high) : INFINITY;
        runs->low = runs->high = position_mm;
        runs->run = run;
        runs->count++;
    }
    runs->low = fmin(runs->low, position_mm);
    runs->high = fmax(runs->high, position_mm);
}

double tu_touch_runs_gap(const tu_touch_runs *runs)
{
    return fmax(0, fmax(runs->highest_low, runs->low) - fmin(runs->lowest_high, runs->high));
}

tu_status tu_touch_runs_check(const tu_touch_runs *runs, const char *where, const char *series,
                              tu_error *error)
{
    double gap = tu_touch_runs_gap(runs);
    if (!(gap > TU_TOUCH_RUNS_APART_MM))
        return TU_OK;
    return tu_fail(
        error, TU_DATA_CONFLICT, where,
        "series \"%s\" holds %zu recordings that lie up to %.3f mm apart: something moved "
        "between them, and their mean is no zero; record again in a new log, or under "
        "another {series_name}",
        series, runs->count, gap);
}
