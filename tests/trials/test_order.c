/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sorting and counting, against the counting of all pairs.
 */
#include "trial_sample.h"

#include "trials/order.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { COUNT_MAX = 200 };

static size_t draw(check_random *random, double *values)
{
    size_t count = check_random_below(random, COUNT_MAX + 1);
    size_t different = 1 + check_random_below(random, 300);
    for (size_t i = 0; i < count; i++)
        values[i] = (double)check_random_below(random, different);
    return count;
}

static void a_sort_counts_the_pairs_out_of_order(void **state)
{
    (void)state;
    check_random random = check_random_seed(71);
    for (int k = 0; k < 500; k++) {
        double values[COUNT_MAX], sorted[COUNT_MAX], buffer[COUNT_MAX];
        double inverted = 0.0, equal = 0.0;
        size_t count = draw(&random, values);
        for (size_t i = 0; i < count; i++) {
            sorted[i] = values[i];
            for (size_t j = i + 1; j < count; j++) {
                inverted += values[i] > values[j];
                equal += values[i] == values[j];
            }
        }
        check_same(tu_order_sort(sorted, count, buffer), inverted, "pairs out of order");
        check_same(tu_order_equal_pairs(sorted, count), equal, "equal pairs");
        for (size_t i = 1; i < count; i++)
            assert_true(sorted[i - 1] <= sorted[i]);
        double median = tu_trials_median(values, count, buffer);
        if (count > 0) {
            check_same(median, (sorted[(count - 1) / 2] + sorted[count / 2]) / 2.0, "median");
            check_same(tu_order_median(sorted, count), median, "median of sorted ones");
        } else {
            check_nan(median, "median of none");
        }
    }
}

enum { LONG = 1500, KINDS = 7 };

/* Series on which a sort may stumble: in steps, not in steps, in order, in reverse, all equal, both
 * zeros among them, too small to be normal numbers. */
static double draw_kind(check_random *random, int kind, size_t i)
{
    double drawn = (double)check_random_below(random, 1000000);
    switch (kind) {
    case 0:
        return -40.0 + 0.0125 * (double)((size_t)drawn % 9);
    case 1:
        return (drawn - 500000.0) / 7.0;
    case 2:
        return (double)i;
    case 3:
        return -(double)i;
    case 4:
        return 3.5;
    case 5:
        return (size_t)drawn % 3 == 0 ? -0.0 : (size_t)drawn % 3 == 1 ? 0.0 : drawn - 500000.0;
    default:
        return (drawn - 500000.0) * 4.9e-324;
    }
}

static int compare(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Against the C library's sort and the counting of all pairs; equal ones keep their order, which
 * the signs of zeros show. */
static void a_long_sort_is_that_of_the_library(void **state)
{
    (void)state;
    static double values[LONG], sorted[LONG], plain[LONG], buffer[LONG];
    check_random random = check_random_seed(72);
    for (int kind = 0; kind < KINDS; kind++) {
        double inverted = 0.0;
        size_t negative = 0, met = 0;
        for (size_t i = 0; i < LONG; i++)
            values[i] = sorted[i] = plain[i] = draw_kind(&random, kind, i);
        for (size_t i = 0; i < LONG; i++) {
            for (size_t j = i + 1; j < LONG; j++)
                inverted += values[i] > values[j];
            negative += values[i] < 0.0;
        }
        qsort(plain, LONG, sizeof *plain, compare);
        check_same(tu_order_sort(sorted, LONG, buffer), inverted, "pairs out of order");
        for (size_t i = 0; i < LONG; i++) {
            check_same(sorted[i], plain[i], "place");
            if (values[i] == 0.0)
                assert_int_equal(!signbit(values[i]), !signbit(sorted[negative + met++]));
        }
    }
}

/* By hand: groups of 3 and 2: 3 2 11 + 2 1 9 = 84. */
static void ties_have_their_term(void **state)
{
    (void)state;
    const double sorted[] = {1, 1, 1, 2, 4, 4, 5};
    check_same(tu_order_tie_term(sorted, 7), 84.0, "term");
    check_same(tu_order_tie_term(sorted, 0), 0.0, "term of none");
}

static void the_median_leaves_the_values_as_they_were(void **state)
{
    (void)state;
    const double values[] = {5, 1, 4, 2, 3};
    double kept[5], work[5];
    memcpy(kept, values, sizeof kept);
    check_same(tu_trials_median(kept, 5, work), 3.0, "median");
    assert_memory_equal(kept, values, sizeof kept);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sort_counts_the_pairs_out_of_order),
        cmocka_unit_test(a_long_sort_is_that_of_the_library),
        cmocka_unit_test(ties_have_their_term),
        cmocka_unit_test(the_median_leaves_the_values_as_they_were),
    };
    return cmocka_run_group_tests_name("order", tests, NULL, NULL);
}
