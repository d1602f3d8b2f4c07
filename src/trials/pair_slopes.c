/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * pair_slopes.c - the slopes between all pairs of touches, counted without forming them.
 */
#include "trials/pair_slopes.h"

#include "trials/order.h"

#include <math.h>

double tu_pair_slopes_time(const tu_pair_slopes *slopes, size_t i)
{
    return slopes->times != NULL ? slopes->times[i] - slopes->times[0] : (double)i;
}

/* From the first value: what all share would only cost digits. */
static double value_of(const tu_pair_slopes *slopes, size_t i)
{
    return slopes->sign * (slopes->values[i] - slopes->values[0]);
}

static double residual(const tu_pair_slopes *slopes, size_t i, double b)
{
    return value_of(slopes, i) - b * tu_pair_slopes_time(slopes, i);
}

double tu_pair_slopes_slope(const tu_pair_slopes *slopes, size_t i, size_t j)
{
    double apart =
        slopes->times != NULL ? slopes->times[j] - slopes->times[i] : (double)j - (double)i;
    return apart != 0.0 ? slopes->sign * (slopes->values[j] - slopes->values[i]) / apart : NAN;
}

/* The end of the run of equal times that starts at first. */
static size_t run_end(const tu_pair_slopes *slopes, size_t first)
{
    size_t end = first + 1;
    if (slopes->times != NULL)
        while (end < slopes->count && slopes->times[end] == slopes->times[first])
            end++;
    return end;
}

tu_pair_slopes tu_pair_slopes_of(const double *times, const double *values, size_t count,
                                 double *work)
{
    tu_pair_slopes slopes = {times, values, count, 1.0, work, 0.0};
    double n = (double)count;
    slopes.pairs = n * (n - 1.0) / 2.0;
    for (size_t first = 0, end; first < count; first = end) {
        end = run_end(&slopes, first);
        double run = (double)(end - first);
        slopes.pairs -= run * (run - 1.0) / 2.0;
    }
    return slopes;
}

double tu_pair_slopes_below(const tu_pair_slopes *slopes, double b)
{
    double *work = slopes->work;
    for (size_t i = 0; i < slopes->count; i++)
        work[i] = residual(slopes, i, b);
    /* What is out of order at one time is no slope: put it in order without counting. */
    for (size_t first = 0, end; slopes->times != NULL && first < slopes->count; first = end) {
        end = run_end(slopes, first);
        if (end - first > 1)
            tu_order_sort(work + first, end - first, work + slopes->count);
    }
    return tu_order_sort(work, slopes->count, work + slopes->count);
}

/* Where the slopes go that a merge meets; the rest is let go once it is full. */
typedef struct slope_basket {
    double *to;
    size_t count, room;
} slope_basket;

static void put(slope_basket *basket, double slope)
{
    if (!isnan(slope) && basket->count < basket->room)
        basket->to[basket->count++] = slope;
}

/* The next index of a run, and its residual at b. */
typedef struct run_head {
    const double *at, *end;
    size_t index;
    double residual;
} run_head;

static void look(run_head *head, const tu_pair_slopes *slopes, double b)
{
    if (head->at < head->end) {
        head->index = (size_t)*head->at;
        head->residual = residual(slopes, head->index, b);
    }
}

/* Merges indexes (held in doubles, exact to 2^53) by their residuals at b. */
static void merge_indexes(const tu_pair_slopes *slopes, double b, const double *from, size_t middle,
                          size_t count, double *to, slope_basket *basket)
{
    run_head left = {.at = from, .end = from + middle};
    run_head right = {.at = from + middle, .end = from + count};
    look(&left, slopes, b);
    look(&right, slopes, b);
    while (left.at < left.end && right.at < right.end) {
        if (right.residual < left.residual) {
            for (const double *k = left.at; basket->count < basket->room && k < left.end; k++)
                put(basket, tu_pair_slopes_slope(slopes, (size_t)*k, right.index));
            *to++ = *right.at++;
            look(&right, slopes, b);
        } else {
            *to++ = *left.at++;
            look(&left, slopes, b);
        }
    }
    while (left.at < left.end)
        *to++ = *left.at++;
    while (right.at < right.end)
        *to++ = *right.at++;
}

/* Sorts the indexes in work[0..count) by their residuals at b, stable. */
static void sort_indexes(const tu_pair_slopes *slopes, double b, slope_basket *basket)
{
    double *from = slopes->work, *to = slopes->work + slopes->count;
    for (size_t width = 1; width < slopes->count; width *= 2) {
        for (size_t start = 0; start < slopes->count; start += 2 * width) {
            size_t left = slopes->count - start;
            size_t length = left < 2 * width ? left : 2 * width;
            merge_indexes(slopes, b, from + start, length < width ? length : width, length,
                          to + start, basket);
        }
        double *swap = from;
        from = to;
        to = swap;
    }
    for (size_t i = 0; from != slopes->work && i < slopes->count; i++)
        slopes->work[i] = from[i];
}

size_t tu_pair_slopes_collect(const tu_pair_slopes *slopes, double low, double high)
{
    slope_basket none = {NULL, 0, 0};
    slope_basket met = {slopes->work + 2 * slopes->count, 0, slopes->count};
    for (size_t i = 0; i < slopes->count; i++)
        slopes->work[i] = (double)i;
    /* In the order at low, just the pairs with a slope from low to high are out of order at high.
     */
    sort_indexes(slopes, low, &none);
    sort_indexes(slopes, high, &met);
    return met.count;
}
