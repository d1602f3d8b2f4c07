/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * mean_difference.h - the difference of two means whose spreads may differ.
 */
#ifndef TRUEUP_TRIALS_MEAN_DIFFERENCE_H
#define TRUEUP_TRIALS_MEAN_DIFFERENCE_H

#include "trueup/moments.h"
#include "trueup/trials.h"

/* t, dof and interval (95 %) are NaN when both spreads are 0. */
typedef struct tu_mean_difference {
    double difference, t, dof;
    tu_interval interval;
} tu_mean_difference;

/* B. L. Welch, Biometrika 34 (1947) 28-35. Each needs two values. */
tu_mean_difference tu_mean_difference_of(const tu_moments *a, const tu_moments *b);

#endif
