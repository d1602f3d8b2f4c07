/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * order.h - sorting without memory of its own, and counting what is out of order.
 */
#ifndef TRUEUP_TRIALS_ORDER_H
#define TRUEUP_TRIALS_ORDER_H

#include <stddef.h>

/*
 * Sorts values ascending and returns how many pairs i < j had values[i] > values[j] (equal ones do
 * not count). Merge sort, O(n log n), stable; buffer holds count doubles. No NaN.
 */
double tu_order_sort(double *values, size_t count, double *buffer);

/* What sorting tells of a series: the pairs that are out of order, those that are equal, and the
 * tie term below. */
typedef struct tu_order_counts {
    double inverted, equal, tie_term;
} tu_order_counts;

/* Copies values to work[0..count), sorted; work holds 2 * count doubles. */
tu_order_counts tu_order_count(const double *values, size_t count, double *work);

/* Of sorted values: the pairs that are equal. */
double tu_order_equal_pairs(const double *sorted, size_t count);

/* Of sorted values: the sum of t (t - 1)(2 t + 5) over the groups of t equal ones, which ties take
 * from 18 times the variance of Kendall's S. */
double tu_order_tie_term(const double *sorted, size_t count);

/* The median of values in any order, which it shuffles; O(n) on average. NaN for none. */
double tu_order_find_median(double *values, size_t count);

/* Of sorted values: the middle one, or the mean of the middle two; NaN for none. */
double tu_order_median(const double *sorted, size_t count);

#endif
