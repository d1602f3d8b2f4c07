/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Outliers: Grubbs' test against the NIST/SEMATECH e-Handbook 1.3.5.17.1 (fixtures/reference),
 * hidden and repeated ones, and steps that look like some.
 */
#include "trial_sample.h"

#include <math.h>
#include <stdlib.h>

static void the_uranium_of_the_handbook_has_its_outlier(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/handbook_grubbs_uranium.json");
    size_t count;
    double *x = check_json_numbers(root, "data.x", &count);
    tu_trial_figures f = trial_sample_judge(x, count);
    assert_int_equal(f.outlier_count, 1);
    assert_int_equal(f.outlier[0].index, 7);
    assert_int_equal(f.outlier[0].n, 8);
    check_close(f.outlier[0].value_mm, 245.57, 0.0, "value");
    check_relative(f.outlier[0].statistic, check_json_number(root, "computed.G_max"), 1e-10, "G");
    /* a member with a point in its name; 2.12665 as the tolerance_note says */
    double critical = cJSON_GetNumberValue(cJSON_GetObjectItemCaseSensitive(
        check_json_at(root, "computed"), "critical_two_sided_0.05"));
    check_relative(f.outlier[0].critical, critical, 1e-10, "critical value");
    check_close(f.outlier[0].statistic, check_json_number(root, "certified.G_max"), 0.0001,
                "G as printed, cut off");
    check_relative(f.sd, check_json_number(root, "computed.sd"), 1e-12, "sd of all");
    tu_trial_figures rest = trial_sample_judge(x, 7);
    check_relative(f.sd_without, rest.sd, 1e-12, "sd of the rest");
    free(x);
    cJSON_Delete(root);
}

static void two_bad_touches_do_not_hide_each_other(void **state)
{
    (void)state;
    check_random random = check_random_seed(11);
    double values[30];
    trial_sample_normal(&random, 5.0, 0.003, values, 30);
    values[4] = 5.045;
    values[17] = 5.046;
    tu_trial_figures f = trial_sample_judge(values, 30);
    assert_int_equal(f.outlier_count, 2);
    assert_int_equal(f.outlier[0].index, 17);
    assert_int_equal(f.outlier[1].index, 4);
    assert_true(f.sd_without < 0.0045 && f.sd > 0.01);
}

static void outliers_of_one_value_are_told_apart(void **state)
{
    (void)state;
    check_random random = check_random_seed(12);
    double values[40];
    trial_sample_normal(&random, 5.0, 0.003, values, 40);
    values[3] = values[20] = values[33] = 5.2;
    tu_trial_figures f = trial_sample_judge(values, 40);
    assert_int_equal(f.outlier_count, 3);
    assert_int_equal(f.outlier[0].index, 3);
    assert_int_equal(f.outlier[1].index, 20);
    assert_int_equal(f.outlier[2].index, 33);
}

static void an_outlier_below_is_found_as_one_above_is(void **state)
{
    (void)state;
    const double values[] = {0.01, 0.02, 0.015, -0.4, 0.012, 0.018, 0.02, 0.011};
    tu_trial_figures f = trial_sample_judge(values, 8);
    assert_int_equal(f.outlier_count, 1);
    assert_int_equal(f.outlier[0].index, 3);
}

/* Nine at one step and one at the next is what rounding makes of a place between; that is no
 * outlier, two steps away is. */
static void one_step_off_is_no_outlier(void **state)
{
    (void)state;
    double values[10] = {0};
    values[6] = 0.0125;
    tu_trial_series series = trial_sample_of(values, 10);
    assert_int_equal(trial_sample_judge_series(&series).outlier_count, 0);
    series.step_mm = 0.0125;
    assert_int_equal(trial_sample_judge_series(&series).outlier_count, 0);
    values[6] = 0.025;
    assert_int_equal(trial_sample_judge_series(&series).outlier_count, 1);
    values[2] = 0.0125; /* the step is seen again, and the other touch is two from the rest */
    series.step_mm = NAN;
    assert_int_equal(trial_sample_judge_series(&series).outlier_count, 1);
}

/* Ten times as far as a machine steps: a chip under the plate, whatever else is equal. */
static void a_touch_far_from_equal_ones_is_an_outlier(void **state)
{
    (void)state;
    double values[30] = {0};
    values[17] = 0.1;
    assert_int_equal(trial_sample_judge(values, 30).outlier_count, 1);
}

/* Touches 0.0001 mm apart have no step of 0.0125 mm that could excuse one. */
static void a_stated_step_that_the_touches_contradict_excuses_nothing(void **state)
{
    (void)state;
    double values[20];
    for (int i = 0; i < 20; i++)
        values[i] = i % 5 * 1e-4;
    values[3] = 0.015;
    tu_trial_series series = trial_sample_of(values, 20);
    series.step_mm = 0.0125;
    tu_trial_figures f = trial_sample_judge_series(&series);
    assert_int_equal(f.outlier_count, 1);
    check_nan(f.resolution_mm, "step that the figures go by");
    assert_false(f.quantised);
}

static void without_outliers_s_is_s_to_the_last_bit(void **state)
{
    (void)state;
    check_random random = check_random_seed(5);
    double values[40];
    for (int run = 0; run < 50; run++) {
        trial_sample_normal(&random, -31.4, 0.004, values, 40);
        tu_trial_figures f = trial_sample_judge(values, 40);
        assert_true(f.outlier_count > 0 || f.sd_without == f.sd);
    }
}

static void no_more_outliers_are_kept_than_there_is_room_for(void **state)
{
    (void)state;
    enum { COUNT = 2000, BAD = 50 };
    static double values[COUNT];
    check_random random = check_random_seed(13);
    trial_sample_normal(&random, 0.0, 0.003, values, COUNT);
    for (size_t i = 0; i < BAD; i++)
        values[i * 31] = 1.0;
    assert_int_equal(trial_sample_judge(values, COUNT).outlier_count, TU_TRIAL_OUTLIERS_MAX);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_uranium_of_the_handbook_has_its_outlier),
        cmocka_unit_test(two_bad_touches_do_not_hide_each_other),
        cmocka_unit_test(outliers_of_one_value_are_told_apart),
        cmocka_unit_test(an_outlier_below_is_found_as_one_above_is),
        cmocka_unit_test(one_step_off_is_no_outlier),
        cmocka_unit_test(a_touch_far_from_equal_ones_is_an_outlier),
        cmocka_unit_test(a_stated_step_that_the_touches_contradict_excuses_nothing),
        cmocka_unit_test(without_outliers_s_is_s_to_the_last_bit),
        cmocka_unit_test(no_more_outliers_are_kept_than_there_is_room_for),
    };
    return cmocka_run_group_tests_name("outliers", tests, NULL, NULL);
}
