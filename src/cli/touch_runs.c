/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_runs.c - whether the touches of one place in a log come from one recording.
 */
#include "cli/touch_runs.h"

#include <math.h>
#include <string.h>

static void widen(double range[2], double low, double high)
{
    range[0] = fmin(range[0], low);
    range[1] = fmax(range[1], high);
}

void tu_touch_runs_add(tu_touch_runs *runs, size_t run, double position_mm)
{
    if (runs->count > 0 && runs->run == run) {
        widen(runs->last, position_mm, position_mm);
        return;
    }
    if (runs->count == 1)
        memcpy(runs->earlier, runs->last, sizeof runs->earlier);
    else if (runs->count > 1)
        widen(runs->earlier, runs->last[0], runs->last[1]);
    runs->last[0] = runs->last[1] = position_mm;
    runs->run = run;
    runs->count++;
}

double tu_touch_runs_gap(const tu_touch_runs *runs)
{
    if (runs->count < 2)
        return 0;
    return fmax(0, fmax(runs->last[0] - runs->earlier[1], runs->earlier[0] - runs->last[1]));
}

tu_status tu_touch_runs_check(const tu_touch_runs *runs, const char *where, const char *series,
                              tu_error *error)
{
    double gap = tu_touch_runs_gap(runs);
    if (!(gap > TU_TOUCH_RUNS_APART_MM))
        return TU_OK;
    return tu_fail(error, TU_DATA_CONFLICT, where,
                   "series \"%s\" holds %zu recordings that lie %.3f mm apart: something moved "
                   "between them, and their mean is no zero; record again in a new log, or under "
                   "another --series",
                   series, runs->count, gap);
}
