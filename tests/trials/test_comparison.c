/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Before and after, and both directions: figures by hand and published critical values. At random
 * data they stand beside R and SciPy in test_figures_r.py and test_figures_scipy.py.
 */
#include "trial_sample.h"

#include <math.h>

/* By hand. a: 1 2 3 4 5, mean 3, s^2 2.5. b: 2 4 6 8, mean 5, s^2 20/3. Var/n: 0.5, 5/3. */
static void the_figures_of_nine_touches_are_those_worked_by_hand(void **state)
{
    (void)state;
    const double a[] = {1, 2, 3, 4, 5}, b[] = {2, 4, 6, 8};
    tu_trial_series after = trial_sample_of(a, 5), before = trial_sample_of(b, 4);
    tu_trial_comparison c;
    double work[9], variance = 0.5 + 5.0 / 3.0;
    check_status(tu_trials_compare(&after, &before, work, &c, NULL), TU_OK, NULL);
    check_close(c.difference, -2.0, 1e-15, "difference, mm");
    check_close(c.t, -2.0 / sqrt(variance), 1e-14, "t");
    double dof = variance * variance / (0.25 / 4.0 + 25.0 / 9.0 / 3.0);
    check_relative(c.t_dof, dof, 1e-14, "dof");
    check_relative(c.f, 0.375, 1e-14, "F");
    check_close(c.f_dof_a, 4.0, 0.0, "dof of a");
    check_close(c.f_dof_b, 3.0, 0.0, "dof of b");
    /* away from the medians: 2 1 0 1 2 (mean 1.2, squares 2.8) and 3 1 1 3 (mean 2, squares 4) */
    check_relative(c.brown_forsythe, (0.64 * 20.0 / 9.0) / (6.8 / 7.0), 1e-13, "Brown-Forsythe");
    /* F(0.975; 4, 3) = 15.101 and F(0.975; 3, 4) = 9.979 of any table */
    check_close(c.sd_ratio_interval.low, sqrt(0.375 / 15.101), 1e-4, "ratio of sd, low");
    check_close(c.sd_ratio_interval.high, sqrt(0.375 * 9.979), 1e-3, "ratio of sd, high");
    check_close((c.difference_interval.low + c.difference_interval.high) / 2.0, -2.0, 1e-14,
                "middle of the interval, mm");
}

static void the_other_way_round_the_signs_turn(void **state)
{
    (void)state;
    check_random random = check_random_seed(31);
    double a[20], b[30], work[50];
    trial_sample_normal(&random, 1.0, 0.01, a, 20);
    trial_sample_normal(&random, 1.003, 0.02, b, 30);
    tu_trial_series one = trial_sample_of(a, 20), two = trial_sample_of(b, 30);
    tu_trial_comparison there, back;
    check_status(tu_trials_compare(&one, &two, work, &there, NULL), TU_OK, NULL);
    check_status(tu_trials_compare(&two, &one, work, &back, NULL), TU_OK, NULL);
    check_same(back.difference, -there.difference, "difference, mm");
    check_close(back.t_p, there.t_p, 1e-15, "p of t");
    check_relative(back.f, 1.0 / there.f, 1e-14, "F");
    check_close(back.f_p, there.f_p, 1e-12, "p of F");
    check_relative(back.sd_ratio_interval.low, 1.0 / there.sd_ratio_interval.high, 1e-12, "ratio");
    check_close(back.brown_forsythe_p, there.brown_forsythe_p, 1e-14, "p of Brown-Forsythe");
}

static void touches_that_are_all_equal_have_a_difference_but_no_test(void **state)
{
    (void)state;
    const double a[] = {1, 1, 1}, b[] = {2, 2, 2};
    tu_trial_series one = trial_sample_of(a, 3), two = trial_sample_of(b, 3);
    tu_trial_comparison c;
    double work[6];
    check_status(tu_trials_compare(&one, &two, work, &c, NULL), TU_OK, NULL);
    check_same(c.difference, -1.0, "difference, mm");
    check_nan(c.t, "t");
    check_nan(c.t_p, "p of t");
    check_nan(c.f, "F");
    check_nan(c.brown_forsythe_p, "p of Brown-Forsythe");
    check_nan(c.sd_ratio_interval.low, "ratio");
}

static void one_touch_on_a_side_compares_nothing(void **state)
{
    (void)state;
    const double a[] = {1, 2}, b[] = {2};
    tu_trial_series one = trial_sample_of(a, 2), two = trial_sample_of(b, 1);
    tu_trial_comparison c;
    tu_error error;
    double work[3];
    check_status(tu_trials_compare(&one, &two, work, &c, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "found 1");
}

/* ISO 230-2, the definitions, by hand: + 1 2 3 (s 1), - 4 4.5 5 (s 0.5). B = 2 - 4.5. */
static void the_reversal_follows_its_definition(void **state)
{
    (void)state;
    const double values[] = {1, 4, 2, 4.5, 3, 5, 100};
    const signed char direction[] = {1, -1, 1, -1, 1, -1, 0};
    tu_trial_series series = trial_sample_of(values, 7);
    tu_trial_reversal r;
    series.direction = direction;
    check_status(tu_trials_find_reversal(&series, &r, NULL), TU_OK, NULL);
    assert_int_equal(r.n_plus, 3);
    assert_int_equal(r.n_minus, 3);
    check_close(r.b, -2.5, 1e-14, "B");
    check_close(r.r_plus, 4.0, 1e-14, "R+");
    check_close(r.r_minus, 2.0, 1e-14, "R-");
    check_close(r.r, 2.0 + 1.0 + 2.5, 1e-14, "R");
    assert_true(r.b_interval.low < -2.5 && r.b_interval.high > -2.5);
}

static void without_reversal_the_wider_direction_counts(void **state)
{
    (void)state;
    const double values[] = {1, 3, 2, 2};
    const signed char direction[] = {1, 1, -1, -1};
    tu_trial_series series = trial_sample_of(values, 4);
    tu_trial_reversal r;
    series.direction = direction;
    check_status(tu_trials_find_reversal(&series, &r, NULL), TU_OK, NULL);
    check_close(r.r, 4.0 * sqrt(2.0), 1e-14, "R = R+");
}

static void a_reversal_needs_both_directions(void **state)
{
    (void)state;
    const double values[] = {1, 3, 2};
    const signed char direction[] = {1, 1, -1};
    tu_trial_series series = trial_sample_of(values, 3);
    tu_trial_reversal r;
    tu_error error;
    check_status(tu_trials_find_reversal(&series, &r, &error), TU_DATA_MISSING, NULL);
    series.direction = direction;
    check_status(tu_trials_find_reversal(&series, &r, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "found 2 towards + and 1 towards -");
    check_nan(r.b, "B");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_figures_of_nine_touches_are_those_worked_by_hand),
        cmocka_unit_test(the_other_way_round_the_signs_turn),
        cmocka_unit_test(touches_that_are_all_equal_have_a_difference_but_no_test),
        cmocka_unit_test(one_touch_on_a_side_compares_nothing),
        cmocka_unit_test(the_reversal_follows_its_definition),
        cmocka_unit_test(without_reversal_the_wider_direction_counts),
        cmocka_unit_test(a_reversal_needs_both_directions),
    };
    return cmocka_run_group_tests_name("comparison", tests, NULL, NULL);
}
