/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * pair_slopes.h - the slopes between all pairs of touches, counted without forming them.
 *
 * A pair i before j is less steep than b just when the residuals value - b time are out of order: a
 * merge sort counts them in O(n log n) (J. Matousek, Inf. Process. Lett. 39 (1991) 183-187).
 * Pairs at one time have no slope and are left out.
 */
#ifndef TRUEUP_TRIALS_PAIR_SLOPES_H
#define TRUEUP_TRIALS_PAIR_SLOPES_H

#include <stddef.h>

/*
 *   times   ascending, or NULL: 0, 1, 2 ...
 *   sign    +1; -1 looks at the series upside down.
 *   work    3 * count doubles.
 *   pairs   with different times.
 */
typedef struct tu_pair_slopes {
    const double *times, *values;
    size_t count;
    double sign;
    double *work;
    double pairs;
} tu_pair_slopes;

tu_pair_slopes tu_pair_slopes_of(const double *times, const double *values, size_t count,
                                 double *work);

double tu_pair_slopes_time(const tu_pair_slopes *slopes, size_t i);

/* The slope of a pair; NaN at one time. */
double tu_pair_slopes_slope(const tu_pair_slopes *slopes, size_t i, size_t j);

/* How many slopes are below b. Uses 2 * count of work. */
double tu_pair_slopes_below(const tu_pair_slopes *slopes, double b);

/* Puts the slopes in [low, high), up to count of them, into work + 2 * count; returns how many. */
size_t tu_pair_slopes_collect(const tu_pair_slopes *slopes, double low, double high);

#endif
