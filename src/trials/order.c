/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * order.c - sorting without memory of its own, and counting what is out of order.
 *
 * The C library's qsort may allocate; a merge sort with a buffer of the caller does not, and its
 * merges count the inversions on the way (W. R. Knight, J. Am. Stat. Assoc. 61 (1966) 436-439).
 */
#include "trials/order.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

enum { RUN = 16 }; /* up to here insertion is faster */

static double sort_run(double *values, size_t count)
{
    size_t moved = 0;
    for (size_t i = 1; i < count; i++) {
        double value = values[i];
        size_t k = i;
        for (; k > 0 && values[k - 1] > value; k--)
            values[k] = values[k - 1];
        values[k] = value;
        moved += i - k;
    }
    return (double)moved;
}

/*
 * Merges from[0..half) and from[half..2 half) into to, from both ends at once: neither end can run
 * out of values before they meet, so nothing need be asked but which of two is next. That cannot be
 * foretold, so nothing branches on it, either: a wrong guess of the processor costs more than the
 * rest. A value of the right half is out of order with all of the left that go behind it.
 */
static double merge_halves(const double *from, size_t half, double *to)
{
    uint64_t inverted = 0; /* at most half^2 */
    size_t left = 0, right = half, left_end = half, right_end = 2 * half;
    for (size_t k = 0; k < half; k++) {
        double a = from[left], b = from[right];
        size_t is_right = b < a;
        to[k] = b < a ? b : a;
        inverted += (half - left) & -is_right;
        right += is_right;
        left += 1 - is_right;

        a = from[left_end - 1];
        b = from[right_end - 1];
        size_t is_left = b < a;
        to[2 * half - 1 - k] = b < a ? a : b;
        inverted += (half - left_end) & (is_left - 1);
        left_end -= is_left;
        right_end -= 1 - is_left;
    }
    return (double)inverted;
}

/* Merges from[0..middle) and from[middle..count) into to. */
static double merge(const double *from, size_t middle, size_t count, double *to)
{
    double inverted = 0.0;
    size_t left = 0, right = middle, out = 0;
    if (middle == count || from[middle - 1] <= from[middle]) {
        memcpy(to, from, count * sizeof *to);
        return 0.0;
    }
    if (count == 2 * middle)
        return merge_halves(from, middle, to);
    while (left < middle && right < count) {
        if (from[right] < from[left]) {
            to[out++] = from[right++];
            inverted += (double)(middle - left);
        } else {
            to[out++] = from[left++];
        }
    }
    memcpy(to + out, from + left, (middle - left) * sizeof *to);
    memcpy(to + out + (middle - left), from + right, (count - right) * sizeof *to);
    return inverted;
}

double tu_order_sort(double *values, size_t count, double *buffer)
{
    double inverted = 0.0;
    for (size_t start = 0; start < count; start += RUN)
        inverted += sort_run(values + start, count - start < RUN ? count - start : RUN);
    double *from = values, *to = buffer;
    for (size_t width = RUN; width < count; width *= 2) {
        for (size_t start = 0; start < count; start += 2 * width) {
            size_t length = count - start < 2 * width ? count - start : 2 * width;
            size_t middle = length < width ? length : width;
            inverted += merge(from + start, middle, length, to + start);
        }
        double *swap = from;
        from = to;
        to = swap;
    }
    if (from != values)
        memcpy(values, from, count * sizeof *values);
    return inverted;
}

double tu_order_equal_pairs(const double *sorted, size_t count)
{
    double pairs = 0.0;
    size_t first = 0;
    for (size_t i = 1; i < count; i++) {
        if (sorted[i] > sorted[first])
            first = i;
        pairs += (double)(i - first);
    }
    return pairs;
}

double tu_order_tie_term(const double *sorted, size_t count)
{
    double sum = 0.0;
    size_t first = 0;
    for (size_t i = 1; i <= count; i++) {
        if (i == count || sorted[i] > sorted[first]) {
            double t = (double)(i - first);
            sum += t * (t - 1.0) * (2.0 * t + 5.0);
            first = i;
        }
    }
    return sum;
}

tu_order_counts tu_order_count(const double *values, size_t count, double *work)
{
    if (count > 0)
        memcpy(work, values, count * sizeof *work);
    double inverted = tu_order_sort(work, count, work + count);
    return (tu_order_counts){inverted, tu_order_equal_pairs(work, count),
                             tu_order_tie_term(work, count)};
}

/* Puts the value of rank k in its place, with none greater before it and none smaller after. */
static void select_rank(double *values, size_t count, size_t k)
{
    size_t low = 0, high = count; /* [low, high) still holds rank k */
    uint64_t random = 1; /* of the pivots: Knuth's MMIX generator; no bad luck with order */
    while (high - low > 1) {
        random = random * 6364136223846793005u + 1442695040888963407u;
        double pivot = values[low + (size_t)(random >> 33) % (high - low)];
        size_t less = low, more = high, i = low;
        while (i < more) {
            double value = values[i];
            if (value < pivot) {
                values[i++] = values[less];
                values[less++] = value;
            } else if (value > pivot) {
                values[i] = values[--more];
                values[more] = value;
            } else {
                i++;
            }
        }
        if (k < less)
            high = less;
        else if (k >= more)
            low = more;
        else
            return;
    }
}

double tu_order_find_median(double *values, size_t count)
{
    if (count == 0)
        return NAN;
    size_t middle = count / 2;
    select_rank(values, count, middle);
    if (count % 2 == 1)
        return values[middle];
    double lower = values[0];
    for (size_t i = 1; i < middle; i++)
        lower = fmax(lower, values[i]);
    return lower + (values[middle] - lower) / 2.0;
}

double tu_order_median(const double *sorted, size_t count)
{
    if (count == 0)
        return NAN;
    double upper = sorted[count / 2];
    if (count % 2 == 1)
        return upper;
    double lower = sorted[count / 2 - 1];
    return lower + (upper - lower) / 2.0;
}
