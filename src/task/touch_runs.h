/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_runs.h - whether the touches of one place in a log come from one recording: between two of
 * them the plate may have been moved, and their mean is then no touch of anything.
 */
#ifndef TU_TASK_TOUCH_RUNS_H
#define TU_TASK_TOUCH_RUNS_H

#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * Of one axis and one contact; starts as {0}. Two recordings lie apart by the lowest touch of the
 * one minus the highest of the other, so the two that lie farthest apart are told from the highest
 * of the lows and the lowest of the highs: a recording between them, or over both, hides nothing.
 */
typedef struct tu_touch_runs {
    size_t count;                    /* recordings that touched it */
    size_t run;                      /* the last of them */
    double low, high;                /* its touches, mm */
    double highest_low, lowest_high; /* of those before it, mm */
} tu_touch_runs;

/* Farther apart than this, two recordings did not touch one place: some steps of a hobby machine
 * (common practice, no source). */
#define TU_TOUCH_RUNS_APART_MM 0.03

/* Takes in a touch of recording number run. */
void tu_touch_runs_add(tu_touch_runs *runs, size_t run, double position_mm);
/* By how much the two recordings lie apart that do most, mm; 0: all meet. */
double tu_touch_runs_gap(const tu_touch_runs *runs);
/* TU_DATA_CONFLICT when they lie apart; where and series for the message. */
tu_status tu_touch_runs_check(const tu_touch_runs *runs, const char *where, const char *series,
                              tu_error *error);

#endif
