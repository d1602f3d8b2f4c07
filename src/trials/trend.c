/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trend.c - Mann and Kendall's test: does a series move one way?
 *
 * H. B. Mann, Econometrica 13 (1945) 245-259; M. G. Kendall, Rank Correlation Methods (1975): the
 * variance with ties, the continuity correction, the distribution of small series.
 */
#include "trials/trend.h"

#include "trials/distribution.h"

#include <math.h>
#include <string.h>

enum { EXACT_BELOW = 50, PAIRS_MAX = EXACT_BELOW * (EXACT_BELOW - 1) / 2 };

/* The chance of at most `inverted` inversions among all orders of count different values. */
static double chance_of_at_most(size_t count, size_t inverted)
{
    double chance[PAIRS_MAX + 1] = {1.0}, next[PAIRS_MAX + 1];
    size_t pairs = 0;
    for (size_t k = 2; k <= count; k++) {
        /* The kth value goes before 0 to k - 1 of the others, each as likely. */
        double window = 0.0;
        size_t last = pairs + k - 1;
        for (size_t i = 0; i <= last; i++) {
            window += i <= pairs ? chance[i] : 0.0;
            window -= i >= k ? chance[i - k] : 0.0;
            next[i] = window / (double)k;
        }
        pairs = last;
        memcpy(chance, next, (pairs + 1) * sizeof *chance);
    }
    double sum = 0.0;
    for (size_t i = 0; i <= inverted && i <= pairs; i++)
        sum += chance[i];
    return sum;
}

/* Two-sided: the fewer of inversions and their opposites, either way round. */
static double exact_p(size_t count, double inverted)
{
    double pairs = (double)(count * (count - 1) / 2);
    return fmin(1.0, 2.0 * chance_of_at_most(count, (size_t)fmin(inverted, pairs - inverted)));
}

double tu_trend_of(size_t count, const tu_order_counts *order, double *p)
{
    *p = NAN;
    if (count < 2)
        return NAN;
    double n = (double)count;
    double s = n * (n - 1.0) / 2.0 - order->equal - 2.0 * order->inverted;
    if (order->equal == 0.0 && count < EXACT_BELOW) {
        *p = exact_p(count, order->inverted);
        return s;
    }
    double variance = (n * (n - 1.0) * (2.0 * n + 5.0) - order->tie_term) / 18.0;
    if (variance > 0.0)
        *p = s == 0.0 ? 1.0 : tu_two_sided_z((fabs(s) - 1.0) / sqrt(variance));
    return s;
}

double tu_trials_mann_kendall(const double *values, size_t count, double *work, double *p)
{
    tu_order_counts order = tu_order_count(values, count, work);
    return tu_trend_of(count, &order, p);
}
