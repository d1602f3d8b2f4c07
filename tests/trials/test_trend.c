/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Mann-Kendall and Theil-Sen against pairs that are all formed, orders that are all tried, and
 * series far too long for either.
 */
#include "trial_sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static double sign_sum(const double *values, size_t count)
{
    double s = 0.0;
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++)
            s += (values[j] > values[i]) - (values[j] < values[i]);
    return s;
}

/* All orders of count values by Heap's algorithm: how many have |S| at least as large. */
static double count_orders(double *values, size_t count, double at_least)
{
    size_t place[8] = {0}, i = 0;
    double found = fabs(sign_sum(values, count)) >= at_least;
    while (i < count) {
        if (place[i] < i) {
            size_t j = i % 2 == 0 ? 0 : place[i];
            double swap = values[j];
            values[j] = values[i];
            values[i] = swap;
            found += fabs(sign_sum(values, count)) >= at_least;
            place[i]++;
            i = 0;
        } else {
            place[i++] = 0;
        }
    }
    return found;
}

static void short_series_have_the_p_of_all_their_orders(void **state)
{
    (void)state;
    const double start[] = {3, 1, 4, 1.5, 5, 9, 2};
    double orders = 1.0;
    for (size_t count = 2; count <= 7; count++) {
        double work[14], values[7], p;
        orders *= (double)count;
        for (size_t i = 0; i < count; i++)
            values[i] = start[i];
        double s = tu_trials_mann_kendall(values, count, work, &p);
        check_same(s, sign_sum(values, count), "S");
        check_close(p, count_orders(values, count, fabs(s)) / orders, 1e-12, "p");
    }
}

/* By hand: 1 2 2 3 has S = 5 and variance (4 3 13 - 2 1 9)/18 = 138/18; z = 4/sqrt(7.667). */
static void ties_lessen_the_variance(void **state)
{
    (void)state;
    const double values[] = {1, 2, 2, 3};
    double work[8], p;
    check_same(tu_trials_mann_kendall(values, 4, work, &p), 5.0, "S");
    check_close(p, erfc(4.0 / sqrt(138.0 / 18.0) / sqrt(2.0)), 1e-12, "p");
}

static void a_series_turned_round_has_the_opposite_trend(void **state)
{
    (void)state;
    check_random random = check_random_seed(21);
    double values[300], turned[300], work[900], p, q;
    tu_interval up, down;
    for (size_t i = 0; i < 300; i++) {
        values[i] = 0.01 * floor(check_random_uniform(&random, 0.0, 20.0)) + 1e-4 * (double)i;
        turned[299 - i] = values[i];
    }
    double s = tu_trials_mann_kendall(values, 300, work, &p);
    check_same(s, sign_sum(values, 300), "S");
    check_same(tu_trials_mann_kendall(turned, 300, work, &q), -s, "S turned round");
    check_same(p, q, "p");
    double slope = tu_trials_theil_sen(NULL, values, 300, work, &up);
    check_close(tu_trials_theil_sen(NULL, turned, 300, work, &down), -slope, 1e-18, "slope");
    check_close(up.low, -down.high, 1e-17, "interval");
}

static int ascending(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Times in four ways (counted, drawn, with equal ones, with few), values in four (drawn, two grids,
 * mostly equal), with and without drift. */
static size_t draw(check_random *random, size_t kind, double *times, double *values)
{
    size_t count = 2 + check_random_below(random, kind % 50 == 0 ? 300 : 50);
    double time = 1e5, slope = check_random_uniform(random, -3e-4, 3e-4);
    for (size_t i = 0; i < count; i++) {
        const double steps[] = {1.0, check_random_uniform(random, 0.1, 3.0),
                                (double)check_random_below(random, 3), i % 20 == 0 ? 1.0 : 0.0};
        time += steps[kind % 4];
        times[i] = time;
        double x = check_random_normal(random, 0.0, 0.005) + slope * (double)i;
        const double of[] = {x, 0.005 * rint(x / 0.005), 0.0125 * rint(x / 0.0125), x > 0.008};
        values[i] = -50.0 + of[kind / 4 % 4];
    }
    return count;
}

static size_t form_slopes(const double *times, const double *values, size_t count, double *slopes)
{
    size_t pairs = 0;
    for (size_t i = 0; i < count; i++) {
        for (size_t j = i + 1; j < count; j++)
            if (times[j] > times[i])
                slopes[pairs++] = (values[j] - values[i]) / (times[j] - times[i]);
    }
    qsort(slopes, pairs, sizeof *slopes, ascending);
    return pairs;
}

static void the_slope_is_the_median_of_all_pairs(void **state)
{
    (void)state;
    static double slopes[301 * 150];
    check_random random = check_random_seed(22);
    for (size_t kind = 0; kind < 4000; kind++) {
        double times[302], values[302], work[906];
        tu_interval interval;
        size_t count = draw(&random, kind, times, values);
        size_t pairs = form_slopes(times, values, count, slopes);
        double found = tu_trials_theil_sen(times, values, count, work, &interval);
        if (pairs == 0) {
            check_nan(found, "slope");
            continue;
        }
        double median = (slopes[(pairs - 1) / 2] + slopes[pairs / 2]) / 2.0;
        check_close(found, median, 1e-12 * fabs(median) + 1e-17, "slope, mm/s");
        if (!isnan(interval.low))
            assert_true(interval.low <= found && found <= interval.high);
    }
}

/* By hand: five touches in order have 10 slopes; reach 1.96 sqrt(5 4 15/18) = 8.0 leaves out one
 * of each side: ranks rint(1) - 1 = 0 and rint(9) = 9. With four nothing can be left out. */
static void five_touches_are_the_fewest_with_an_interval(void **state)
{
    (void)state;
    const double values[] = {0.0, 1.0, 4.0, 9.0, 16.0};
    double work[15];
    tu_interval interval;
    check_close(tu_trials_theil_sen(NULL, values, 5, work, &interval), 4.0, 1e-15, "slope");
    check_close(interval.low, 1.0, 1e-15, "lower end");
    check_close(interval.high, 7.0, 1e-15, "upper end");
    check_close(tu_trials_theil_sen(NULL, values, 4, work, &interval), 3.0, 1e-15, "slope");
    check_nan(interval.low, "lower end");
    check_nan(interval.high, "upper end");
}

/* A straight line with less noise than one step of it: the slope is known. 200 000 touches
 * have 2e10 pairs. TU_ROWS=10000000 tries as many. */
static void a_long_series_gives_its_slope(void **state)
{
    (void)state;
    const char *rows = getenv("TU_ROWS");
    size_t count = rows != NULL ? (size_t)strtoul(rows, NULL, 10) : 200000;
    double *values = calloc(5 * count, sizeof *values);
    assert_non_null(values);
    double *times = values + count;
    check_random random = check_random_seed(23);
    for (size_t i = 0; i < count; i++) {
        times[i] = 2.0 * (double)i + check_random_uniform(&random, 0.0, 1.0);
        values[i] = check_random_normal(&random, -60.0, 0.004) + 0.01 * times[i] / (double)count;
    }
    tu_interval interval;
    double p, slope = tu_trials_theil_sen(times, values, count, times + count, &interval);
    double expected = 0.01 / (double)count, n = (double)count;
    /* the standard deviation of Sen's slope is that of least squares over sqrt(0.955) (Sen 1968) */
    double sd = 0.004 * sqrt(12.0 / 0.955) / (2.0 * n * sqrt(n));
    check_close(slope, expected, 4.0 * sd, "slope, mm/s");
    check_relative(interval.high - interval.low, 2.0 * 1.96 * sd, 0.02, "width of the interval");
    tu_trials_mann_kendall(values, count, times + count, &p);
    assert_true(p < 1e-12);
    tu_trial_series series = trial_sample_of(values, count);
    tu_trial_figures f = trial_sample_judge_series(&series);
    check_relative(f.mean, -60.0 + 0.01, 1e-5, "mean, mm");
    assert_int_equal(f.n, count);
    free(values);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(short_series_have_the_p_of_all_their_orders),
        cmocka_unit_test(ties_lessen_the_variance),
        cmocka_unit_test(a_series_turned_round_has_the_opposite_trend),
        cmocka_unit_test(the_slope_is_the_median_of_all_pairs),
        cmocka_unit_test(five_touches_are_the_fewest_with_an_interval),
        cmocka_unit_test(a_long_series_gives_its_slope),
    };
    return cmocka_run_group_tests_name("trend", tests, NULL, NULL);
}
