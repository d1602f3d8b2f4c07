/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The figures of a series, against published data (fixtures/reference, each file with its source):
 * NIST StRD univariate; NIST/SEMATECH e-Handbook 1.3.5.2 (ZARR13), 6.3.2.2 (flow rate); and series
 * that are too short, all equal or in steps.
 */
#include "trial_sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static void mean_sd_and_lag_1_keep_the_digits_of_the_nist_sets(void **state)
{
    (void)state;
    trial_sample_hold_nist(trial_sample_judge);
}

static void the_interval_of_the_mean_of_zarr13_is_the_printed_one(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/handbook_t_interval_zarr13.json");
    size_t count;
    double *values = trial_sample_data(root, "y", &count);
    tu_trial_figures f = trial_sample_judge(values, count);
    check_relative(f.mean, check_json_number(root, "computed.mean"), 1e-13, "mean");
    check_relative(f.sd, check_json_number(root, "computed.sd"), 1e-11, "sd");
    check_relative(f.mean_interval.low, check_json_number(root, "computed.ci95_lower"), 1e-11,
                   "lower end");
    check_relative(f.mean_interval.high, check_json_number(root, "computed.ci95_upper"), 1e-11,
                   "upper end");
    check_relative(f.mean_interval.low, check_json_number(root, "certified.ci95_lower"), 1e-6,
                   "lower end as printed");
    free(values);
    cJSON_Delete(root);
}

/* A member whose name has a point in it. */
static double computed(const cJSON *root, const char *name)
{
    return cJSON_GetNumberValue(
        cJSON_GetObjectItemCaseSensitive(check_json_at(root, "computed"), name));
}

static void the_chart_of_the_flow_rates_has_the_printed_limits(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/handbook_individuals_flowrate.json");
    size_t count;
    double *values = trial_sample_data(root, "x", &count);
    tu_trial_figures f = trial_sample_judge(values, count);
    check_relative(f.chart_centre, check_json_number(root, "certified.mean"), 1e-12, "centre");
    check_relative(f.chart_mr_centre, check_json_number(root, "computed.mr_bar"), 1e-12, "MR");
    check_relative(f.chart_upper, computed(root, "ucl_with_d2_1.128"), 1e-12, "upper limit");
    check_relative(f.chart_lower, computed(root, "lcl_with_d2_1.128"), 1e-12, "lower limit");
    check_relative(f.chart_mr_upper, computed(root, "mr_ucl_D4_3.267"), 1e-12,
                   "upper limit of the moving range");
    check_relative(f.sd, check_json_number(root, "computed.sd_n_minus_1"), 1e-12, "sd");
    check_close(f.chart_upper, check_json_number(root, "certified.ucl"), 0.00005, "as printed");
    check_close(f.chart_lower, check_json_number(root, "certified.lcl"), 0.00005, "as printed");
    assert_int_equal(f.chart_beyond, 0);
    free(values);
    cJSON_Delete(root);
}

static void a_touch_beyond_the_chart_is_counted(void **state)
{
    (void)state;
    /* By hand: mean 0.1, moving ranges 0 x 17, 2, 2: MR 4/19; 0.1 + 3 (4/19)/1.128 = 0.66 < 2. */
    double values[20] = {0};
    values[10] = 2.0;
    tu_trial_figures f = trial_sample_judge(values, 20);
    assert_int_equal(f.chart_beyond, 1);
    check_close(f.chart_upper, 0.1 + 12.0 / 19.0 / 1.128, 1e-12, "upper limit, mm");
}

/* By hand: 4 9 5 2 4 7 5 4 has mean 5, squares 32, median 4.5. chi-squared (0.975, 7) 16.0128 and
 * (0.025, 7) 1.68987 of any table; t (0.975, 7) 2.36462. */
static void the_figures_of_eight_touches_are_those_worked_by_hand(void **state)
{
    (void)state;
    const double values[] = {4, 9, 5, 2, 4, 7, 5, 4};
    tu_trial_figures f = trial_sample_judge(values, 8);
    double sd = sqrt(32.0 / 7.0);
    check_close(f.mean, 5.0, 1e-14, "mean");
    check_close(f.median, 4.5, 1e-14, "median");
    check_close(f.sd, sd, 1e-14, "sd");
    check_close(f.range, 7.0, 0.0, "range");
    check_close(f.mean_interval.high, 5.0 + 2.36462 * sd / sqrt(8.0), 1e-5, "t interval");
    check_close(f.sd_interval.low, sqrt(32.0 / 16.0128), 1e-4, "lower end of sd");
    check_close(f.sd_interval.high, sqrt(32.0 / 1.68987), 1e-4, "upper end of sd");
    /* ISO 5725-6, 4.1.4: 2.8 s, which is 1.96 sqrt(2) s; ISO 230-2: R = 4 s. From memory. */
    check_close(f.repeatability_limit, 2.8 * sd, 0.03 * sd, "repeatability limit");
    check_close(f.repeatability_limit, 2.7718585822513 * sd, 1e-10, "repeatability limit");
    check_close(f.unidirectional, 4.0 * sd, 1e-13, "R");
    /* deviations -1 4 0 -3 -1 2 0 -1: products -4 0 0 3 -2 0 0 */
    check_close(f.lag1, -3.0 / 32.0, 1e-14, "lag 1");
    assert_int_equal(f.distinct, 5);
    check_close(f.step_seen_mm, 1.0, 0.0, "smallest step seen");
}

static void check_not_computed(const tu_trial_figures *f)
{
    check_nan(f->normality, "A*");
    check_nan(f->normality_p, "p of A*");
    check_nan(f->slope_interval.low, "interval of the slope");
    assert_int_equal(f->outlier_count, 0);
}

static void nothing_touched_states_nothing(void **state)
{
    (void)state;
    tu_trial_figures f = trial_sample_judge(NULL, 0);
    assert_int_equal(f.n, 0);
    assert_int_equal(f.distinct, 0);
    assert_false(f.quantised);
    check_nan(f.mean, "mean");
    check_nan(f.median, "median");
    check_nan(f.range, "range");
    check_nan(f.sd_without, "sd");
    check_nan(f.slope, "slope");
    check_nan(f.slope_p, "p of the slope");
    check_not_computed(&f);
}

static void one_touch_has_a_place_but_no_spread(void **state)
{
    (void)state;
    const double value = -12.5;
    tu_trial_figures f = trial_sample_judge(&value, 1);
    check_same(f.mean, -12.5, "mean, mm");
    check_same(f.median, -12.5, "median, mm");
    check_same(f.range, 0.0, "range, mm");
    check_nan(f.sd, "sd");
    check_nan(f.mean_interval.low, "interval of the mean");
    check_nan(f.sd_interval.high, "interval of sd");
    check_nan(f.lag1, "lag 1");
    check_nan(f.chart_mr_centre, "moving range");
    check_nan(f.chart_upper, "limit");
    assert_false(f.quantised);
    check_not_computed(&f);
}

static void two_touches_have_a_spread_and_no_more(void **state)
{
    (void)state;
    const double values[] = {1.0, 1.5};
    tu_trial_figures f = trial_sample_judge(values, 2);
    check_close(f.sd, 0.5 / sqrt(2.0), 1e-15, "sd, mm");
    check_close(f.slope, 0.5, 1e-15, "slope, mm/touch");
    check_close(f.slope_p, 1.0, 1e-15, "p of the slope: both orders are as likely");
    check_close(f.sd_without, f.sd, 0.0, "sd without outliers, mm");
    assert_false(f.quantised);
    check_not_computed(&f);
}

static void touches_that_are_all_equal_are_no_error_and_quantised(void **state)
{
    (void)state;
    double values[30];
    for (size_t i = 0; i < 30; i++)
        values[i] = 0.1;
    tu_trial_figures f = trial_sample_judge(values, 30);
    check_same(f.mean, 0.1, "mean, mm");
    check_same(f.sd, 0.0, "sd, mm");
    check_same(f.slope, 0.0, "slope");
    check_nan(f.lag1, "lag 1");
    check_nan(f.slope_p, "p of the slope");
    check_nan(f.normality_p, "p of A*");
    check_nan(f.step_seen_mm, "step seen");
    assert_int_equal(f.distinct, 1);
    assert_int_equal(f.outlier_count, 0);
    assert_true(f.quantised);
    check_nan(f.mean_interval.low, "interval of the mean: the scatter is hidden, not none");
    check_nan(f.sd_interval.high, "interval of s");
    check_nan(f.repeatability_limit, "repeatability limit");
    check_nan(f.unidirectional, "R");
    check_nan(f.chart_upper, "limit of chance");
    assert_int_equal(f.chart_beyond, 0);
}

static void spread_below_the_step_is_called_quantised(void **state)
{
    (void)state;
    check_random random = check_random_seed(7);
    double fine[40], coarse[40];
    trial_sample_normal(&random, -20.0, 0.006, fine, 40);
    for (size_t i = 0; i < 40; i++)
        coarse[i] = 0.0125 * rint(fine[i] / 0.0125);
    tu_trial_figures f = trial_sample_judge(fine, 40), c = trial_sample_judge(coarse, 40);
    assert_false(f.quantised);
    assert_true(c.quantised);
    check_close(c.step_seen_mm, 0.0125, 1e-12, "step seen, mm");
    check_nan(c.step_mm, "no step was stated");
    tu_trial_series stated = trial_sample_of(fine, 40);
    stated.step_mm = 0.0125; /* touches between its places: it is not the step */
    assert_false(trial_sample_judge_series(&stated).quantised);
    stated.step_mm = 0.001;
    assert_false(trial_sample_judge_series(&stated).quantised);
}

static void few_touches_far_apart_are_not_taken_for_steps(void **state)
{
    (void)state;
    const double values[] = {0.001, 0.005, 0.010};
    assert_false(trial_sample_judge(values, 3).quantised);
}

/* 0.1 + 0.2 is not 0.3 in binary; the difference is no step of any machine. */
static void rounding_of_the_last_digit_is_no_step(void **state)
{
    (void)state;
    const double values[] = {0.3, 0.1 + 0.2, 0.3125, 0.3};
    tu_trial_figures f = trial_sample_judge(values, 4);
    assert_int_equal(f.distinct, 2);
    check_close(f.step_seen_mm, 0.0125, 1e-9, "step seen, mm");
}

static void slopes_are_per_touch_without_times_and_per_second_with(void **state)
{
    (void)state;
    const double values[] = {0, 1, 2, 3, 4, 5, 6, 7}, times[] = {0, 2, 4, 6, 8, 10, 12, 14};
    tu_trial_series series = trial_sample_of(values, 8);
    tu_trial_figures f = trial_sample_judge_series(&series);
    assert_true(f.slope_per_touch);
    check_close(f.slope, 1.0, 1e-15, "mm/touch");
    series.time_s = times;
    f = trial_sample_judge_series(&series);
    assert_false(f.slope_per_touch);
    check_close(f.slope, 0.5, 1e-15, "mm/s");
    check_close(f.slope_p, 2.0 / 40320.0, 1e-15, "p: 2 of 8! orders"); /* by hand */
}

static void touches_all_at_one_time_have_no_slope(void **state)
{
    (void)state;
    const double values[] = {0.1, 0.3, 0.2, 0.4, 0.2}, times[] = {5, 5, 5, 5, 5};
    tu_trial_series series = trial_sample_of(values, 5);
    series.time_s = times;
    tu_trial_figures f = trial_sample_judge_series(&series);
    check_nan(f.slope, "slope");
    check_nan(f.slope_interval.high, "interval of the slope");
    check_close(f.mean, 0.24, 1e-15, "mean, mm");
}

/* The figures of a series share one sort; each piece by itself sorts anew. */
static void the_pieces_by_themselves_say_the_same(void **state)
{
    (void)state;
    enum { COUNT = 400 };
    double values[COUNT], times[COUNT], work[3 * COUNT], p;
    check_random random = check_random_seed(73);
    for (size_t round = 0; round < 20; round++) {
        trial_sample_normal(&random, -40.0, 0.01, values, COUNT);
        for (size_t i = 0; i < COUNT; i++) {
            times[i] = (double)(round % 2 == 0 ? 3 * i : i / 3);
            values[i] = round % 4 < 2 ? rint(values[i] * 400.0) / 400.0 : values[i];
        }
        tu_trial_series series = trial_sample_of(values, COUNT);
        series.time_s = times;
        tu_trial_figures f = trial_sample_judge_series(&series);
        tu_interval interval;
        check_same(f.slope, tu_trials_theil_sen(times, values, COUNT, work, &interval), "slope");
        check_same(f.slope_interval.low, interval.low, "lower end");
        check_same(f.slope_interval.high, interval.high, "upper end");
        tu_trials_mann_kendall(values, COUNT, work, &p);
        check_same(f.slope_p, p, "p");
        check_same(f.median, tu_trials_median(values, COUNT, work), "median");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mean_sd_and_lag_1_keep_the_digits_of_the_nist_sets),
        cmocka_unit_test(the_interval_of_the_mean_of_zarr13_is_the_printed_one),
        cmocka_unit_test(the_chart_of_the_flow_rates_has_the_printed_limits),
        cmocka_unit_test(a_touch_beyond_the_chart_is_counted),
        cmocka_unit_test(the_figures_of_eight_touches_are_those_worked_by_hand),
        cmocka_unit_test(nothing_touched_states_nothing),
        cmocka_unit_test(one_touch_has_a_place_but_no_spread),
        cmocka_unit_test(two_touches_have_a_spread_and_no_more),
        cmocka_unit_test(touches_that_are_all_equal_are_no_error_and_quantised),
        cmocka_unit_test(spread_below_the_step_is_called_quantised),
        cmocka_unit_test(few_touches_far_apart_are_not_taken_for_steps),
        cmocka_unit_test(rounding_of_the_last_digit_is_no_step),
        cmocka_unit_test(slopes_are_per_touch_without_times_and_per_second_with),
        cmocka_unit_test(touches_all_at_one_time_have_no_slope),
        cmocka_unit_test(the_pieces_by_themselves_say_the_same),
    };
    return cmocka_run_group_tests_name("judge", tests, NULL, NULL);
}
