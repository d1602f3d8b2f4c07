/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * mean_difference.c - the difference of two means whose spreads may differ.
 */
#include "trials/mean_difference.h"

#include "trials/distribution.h"

#include <math.h>

static double variance_of_mean(const tu_moments *moments)
{
    return moments->sum_squares / (double)(moments->count - 1) / (double)moments->count;
}

tu_mean_difference tu_mean_difference_of(const tu_moments *a, const tu_moments *b)
{
    tu_mean_difference d = {a->mean - b->mean, NAN, NAN, {NAN, NAN}};
    double of_a = variance_of_mean(a), of_b = variance_of_mean(b);
    double variance = of_a + of_b;
    if (variance > 0.0) {
        /* Shares rather than fourth powers: no underflow. */
        double share_a = of_a / variance, share_b = of_b / variance;
        d.dof = 1.0 / (share_a * share_a / (double)(a->count - 1) +
                       share_b * share_b / (double)(b->count - 1));
        d.t = d.difference / sqrt(variance);
        d.interval = tu_interval_of_t(d.difference, sqrt(variance), d.dof);
    }
    return d;
}
