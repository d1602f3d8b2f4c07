/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The figures that one pass gives, against published data (NIST StRD univariate,
 * fixtures/reference) and against those of the touches themselves.
 */
#include "trial_sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static tu_trial_figures pass_over(const double *values, size_t count, double step_mm)
{
    tu_trial_pass pass = tu_trials_pass_start();
    tu_error error = {0};
    for (size_t i = 0; i < count; i++)
        check_status(tu_trials_pass_add(&pass, "left", values[i], NAN, &error), TU_OK, &error);
    return tu_trials_pass_figures(&pass, step_mm);
}

static tu_trial_figures figures_in_one_pass(const double *values, size_t count)
{
    return pass_over(values, count, NAN);
}

static void mean_sd_and_lag_1_keep_the_digits_of_the_nist_sets(void **state)
{
    (void)state;
    trial_sample_hold_nist(figures_in_one_pass);
}

/* In two passes, with the longer mantissa. */
static double plain_lag1(const double *values, size_t count)
{
    long double mean = 0, products = 0, squares = 0;
    for (size_t i = 0; i < count; i++)
        mean += values[i];
    mean /= (long double)count;
    for (size_t i = 0; i < count; i++) {
        squares += (values[i] - mean) * (values[i] - mean);
        products += i > 0 ? (values[i] - mean) * (values[i - 1] - mean) : 0;
    }
    return (double)(products / squares);
}

static void check_intervals(tu_interval a, tu_interval b, const char *what)
{
    check_same(a.low, b.low, what);
    check_same(a.high, b.high, what);
}

static void check_both_ways(const double *values, size_t count)
{
    tu_trial_figures one = pass_over(values, count, 0.0025);
    tu_trial_figures all = trial_sample_judge(values, count);
    assert_int_equal(one.n, count);
    check_same(one.mean, all.mean, "mean");
    check_same(one.sd, all.sd, "s");
    check_same(one.minimum, all.minimum, "smallest");
    check_same(one.maximum, all.maximum, "largest");
    check_same(one.range, all.range, "range");
    check_intervals(one.mean_interval, all.mean_interval, "interval of the mean");
    check_intervals(one.sd_interval, all.sd_interval, "interval of s");
    check_same(one.repeatability_limit, all.repeatability_limit, "repeatability limit");
    check_same(one.unidirectional, all.unidirectional, "R");
    check_same(one.chart_centre, all.chart_centre, "centre");
    check_same(one.chart_lower, all.chart_lower, "lower limit");
    check_same(one.chart_upper, all.chart_upper, "upper limit");
    check_same(one.chart_mr_centre, all.chart_mr_centre, "mean of the moving ranges");
    check_same(one.chart_mr_upper, all.chart_mr_upper, "upper limit of the moving ranges");
    check_close(one.lag1, plain_lag1(values, count), 1e-9, "lag 1");
}

enum { LENGTH = 20000 };

/* Far from 0, in steps, drifting, alternating, with a first touch that lies far off. */
static void random_series_have_the_figures_of_their_touches(void **state)
{
    (void)state;
    static double values[LENGTH];
    check_random random = check_random_seed(81);
    for (size_t kind = 0; kind < 6; kind++) {
        size_t count = kind == 0 ? 2 + check_random_below(&random, 9) : LENGTH;
        trial_sample_normal(&random, kind == 1 ? 1800.0 : -40.0, 0.004, values, count);
        for (size_t i = 0; i < count; i++) {
            values[i] = kind == 2 ? rint(values[i] * 400.0) / 400.0 : values[i];
            values[i] += kind == 3 ? 1e-6 * (double)i : 0.0;
            values[i] += kind == 4 ? (i % 2 == 0 ? 0.01 : -0.01) : 0.0;
        }
        values[0] += kind == 5 ? 5.0 : 0.0;
        check_both_ways(values, count);
    }
}

/* By hand: mean 2, squares 1 + 0 + 1 = 2, products (1 - 2)(2 - 2) + (2 - 2)(3 - 2) = 0; then with
 * 8: mean 3.5, squares 2.5^2 + 1.5^2 + 0.5^2 + 4.5^2 = 29, products 3.75 + 0.75 - 2.25 = 2.25. */
static void lag_1_follows_touch_by_touch(void **state)
{
    (void)state;
    const double values[] = {1, 2, 3, 8};
    check_close(pass_over(values, 3, NAN).lag1, 0.0, 1e-15, "three");
    check_close(pass_over(values, 4, NAN).lag1, 2.25 / 29.0, 1e-15, "four");
}

static void few_touches_have_what_there_is(void **state)
{
    (void)state;
    const double values[] = {-40.125, -40.125};
    tu_trial_figures f = pass_over(values, 0, NAN);
    assert_int_equal(f.n, 0);
    check_nan(f.mean, "mean of none");
    f = pass_over(values, 1, NAN);
    check_same(f.mean, -40.125, "mean of one");
    check_nan(f.sd, "s of one");
    check_nan(f.lag1, "lag 1 of one");
    check_nan(f.chart_lower, "chart of one");
    assert_false(f.quantised);
    f = pass_over(values, 2, NAN);
    check_same(f.sd, 0.0, "s of two equal ones");
    check_nan(f.lag1, "lag 1 of equal ones");
    assert_true(f.quantised);
}

static void what_takes_the_touches_is_absent(void **state)
{
    (void)state;
    double values[100];
    check_random random = check_random_seed(82);
    trial_sample_normal(&random, 5.0, 0.004, values, 100);
    tu_trial_figures f = pass_over(values, 100, NAN);
    check_nan(f.median, "median");
    check_nan(f.slope, "slope");
    check_nan(f.slope_p, "p of the slope");
    check_nan(f.normality, "A*");
    check_nan(f.sd_without, "s without outliers");
    check_nan(f.step_seen_mm, "step seen");
    assert_int_equal(f.outlier_count, 0);
    assert_int_equal(f.distinct, 0);
    assert_false(f.quantised);
    assert_true(pass_over(values, 100, 0.01).quantised);
}

static void a_touch_that_is_refused_is_not_taken_in(void **state)
{
    (void)state;
    tu_trial_pass pass = tu_trials_pass_start();
    tu_error error = {0};
    check_status(tu_trials_pass_add(&pass, "left", 1.0, 5.0, &error), TU_OK, &error);
    check_status(tu_trials_pass_add(&pass, "left", NAN, 6.0, &error), TU_DATA_RANGE, &error);
    check_contains(error.message, "touch 2: its position is not a finite number");
    check_status(tu_trials_pass_add(&pass, "left", 2.0, INFINITY, &error), TU_DATA_RANGE, &error);
    check_status(tu_trials_pass_add(&pass, NULL, 2.0, 4.0, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "touch 2: its time, 4 s, lies before that of touch 1, 5 s");
    check_status(tu_trials_pass_add(&pass, "left", 3.0, 5.0, &error), TU_OK, &error);
    tu_trial_figures f = tu_trials_pass_figures(&pass, NAN);
    assert_int_equal(f.n, 2);
    check_same(f.mean, 2.0, "mean");
    check_same(f.chart_mr_centre, 2.0, "moving range");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mean_sd_and_lag_1_keep_the_digits_of_the_nist_sets),
        cmocka_unit_test(random_series_have_the_figures_of_their_touches),
        cmocka_unit_test(lag_1_follows_touch_by_touch),
        cmocka_unit_test(few_touches_have_what_there_is),
        cmocka_unit_test(what_takes_the_touches_is_absent),
        cmocka_unit_test(a_touch_that_is_refused_is_not_taken_in),
    };
    return cmocka_run_group_tests_name("one_pass", tests, NULL, NULL);
}
