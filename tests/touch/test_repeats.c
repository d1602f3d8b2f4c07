/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_repeats.c - repeats that are none: refusals and warnings.
 */
#include "check.h"

#include "touch/repeats.h"

#include <math.h>
#include <string.h>

static const tu_repeatability NOTHING_STORED = {NAN, 0};

static tu_status judge(const double *values, size_t count, tu_repeatability stored,
                       tu_warnings *warnings, tu_error *error)
{
    memset(warnings, 0, sizeof *warnings);
    return tu_repeats_check(values, count, "{touches.x}", stored, 0.0125, TU_UNIT_MM, warnings,
                            error);
}

static void grubbs_critical_values_agree_with_the_reference_table(void **state)
{
    (void)state; /* R 4.2.2 and mpmath; the file names its source */
    cJSON *file = check_fixture_json("reference/critical_values.json");
    const cJSON *grubbs = cJSON_GetObjectItem(cJSON_GetObjectItem(file, "data"), "grubbs");
    const cJSON *certified = cJSON_GetObjectItem(cJSON_GetObjectItem(file, "certified"), "grubbs");
    int checked = 0;
    for (int i = 0; i < cJSON_GetArraySize(certified); i++) {
        int n = cJSON_GetArrayItem(cJSON_GetObjectItem(grubbs, "n"), i)->valueint;
        double alpha = cJSON_GetArrayItem(cJSON_GetObjectItem(grubbs, "alpha"), i)->valuedouble;
        bool two = cJSON_IsTrue(cJSON_GetArrayItem(cJSON_GetObjectItem(grubbs, "two_sided"), i));
        double expected = cJSON_GetArrayItem(certified, i)->valuedouble;
        /* A one-sided level alpha is a two-sided level of 2 alpha. */
        double actual = tu_repeats_grubbs_critical((size_t)n, two ? alpha : 2.0 * alpha);
        check_relative(actual, expected, 1e-10, "Grubbs critical value");
        checked++;
    }
    assert_int_equal(checked, 36);
    check_nan(tu_repeats_grubbs_critical(2, 0.05), "two values have no outlier");
    cJSON_Delete(file);
}

static void close_repeats_pass_without_a_word(void **state)
{
    (void)state;
    const double values[] = {100.000, 100.0125, 99.9875, 100.000};
    tu_warnings warnings;
    tu_error error;
    check_status(judge(values, 4, NOTHING_STORED, &warnings, &error), TU_OK, &error);
    assert_int_equal(warnings.count, 0);
}

static void a_range_beyond_half_a_millimetre_is_refused_and_the_odd_one_named(void **state)
{
    (void)state;
    const double values[] = {100.00, 100.01, 103.00, 100.02};
    tu_warnings warnings;
    tu_error error;
    check_status(judge(values, 4, NOTHING_STORED, &warnings, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "number 3, 103.000 mm");
    check_contains(error.message, "touch again");
}

static void inches_among_millimetres_are_named_as_the_cause(void **state)
{
    (void)state;
    const double values[] = {104.775, 104.78, 4.125};
    tu_warnings warnings;
    tu_error error;
    check_status(judge(values, 3, NOTHING_STORED, &warnings, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "looks like inches among millimetres");
}

static tu_status judge_inches(const double *values, size_t count, tu_error *error)
{
    tu_warnings warnings = {0};
    return tu_repeats_check(values, count, "{touches.x}", NOTHING_STORED, 0.0125, TU_UNIT_INCH,
                            &warnings, error);
}

static void millimetres_among_inches_are_named_as_the_cause(void **state)
{
    (void)state; /* read as inches: 4.125 in, 4.125 in, and 104.775 "in" */
    const double values[] = {104.775, 104.775, 104.775 * 25.4};
    tu_error error;
    check_status(judge_inches(values, 3, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "number 3 looks like millimetres among inches");
    check_contains(error.message, "as in 104.775mm");
}

static void of_two_touches_the_unit_tells_which_one_slipped(void **state)
{
    (void)state;
    const double values[] = {101.6, 4.0};
    const double turned[] = {4.0, 101.6};
    tu_warnings warnings;
    tu_error error;
    check_status(judge(values, 2, NOTHING_STORED, &warnings, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "number 2 looks like inches among millimetres");
    check_contains(error.message, "as in 4in");
    check_status(judge(turned, 2, NOTHING_STORED, &warnings, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "number 1 looks like inches among millimetres");
    check_status(judge_inches(values, 2, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "number 1 looks like millimetres among inches");
    check_status(judge_inches(turned, 2, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "number 2 looks like millimetres among inches");
}

static void the_odd_one_may_be_the_only_right_one(void **state)
{
    (void)state;
    const double values[] = {4.0, 101.6, 4.0};
    tu_warnings warnings;
    tu_error error;
    check_status(judge(values, 3, NOTHING_STORED, &warnings, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "all but number 2 look like inches among millimetres");
}

static void an_outlier_far_beyond_the_spread_is_warned_of(void **state)
{
    (void)state;
    const double values[] = {100.000, 100.002, 99.998, 100.001, 100.150, 99.999};
    tu_warnings warnings;
    tu_error error;
    check_status(judge(values, 6, NOTHING_STORED, &warnings, &error), TU_OK, &error);
    assert_int_equal(warnings.count, 1);
    check_contains(warnings.text[0], "number 5, 100.150 mm, lies 0.150 mm");
}

static void an_outlier_of_a_step_or_two_is_not_worth_a_word(void **state)
{
    (void)state; /* quantised: all equal but one, one step away */
    const double values[] = {100.0, 100.0, 100.0, 100.0, 100.0125};
    tu_warnings warnings;
    check_status(judge(values, 5, NOTHING_STORED, &warnings, NULL), TU_OK, NULL);
    assert_int_equal(warnings.count, 0);
}

static void a_spread_far_above_the_stored_repeatability_is_warned_of(void **state)
{
    (void)state;
    const double values[] = {100.00, 100.05, 99.95};
    tu_warnings warnings;
    tu_repeatability stored = {0.004, 29};
    check_status(judge(values, 3, stored, &warnings, NULL), TU_OK, NULL);
    assert_int_equal(warnings.count, 1);
    check_contains(warnings.text[0], "12.5 times the stored repeatability");
}

static void two_touches_can_contradict_a_stored_repeatability_too(void **state)
{
    (void)state;
    const double values[] = {100.00, 100.05};
    tu_warnings warnings;
    tu_repeatability stored = {0.004, 29};
    check_status(judge(values, 2, stored, &warnings, NULL), TU_OK, NULL);
    assert_int_equal(warnings.count, 1);
}

static void normal_repeats_raise_the_outlier_warning_at_its_stated_rate(void **state)
{
    (void)state; /* 20 000 clean series of 6: 1 %, with 5 sigma of binomial scatter */
    check_random random = check_random_seed(20261125);
    int fired = 0;
    for (int run = 0; run < 20000; run++) {
        double values[6];
        tu_warnings warnings;
        for (int i = 0; i < 6; i++)
            values[i] = check_random_normal(&random, 100.0, 0.05);
        if (!judge(values, 6, NOTHING_STORED, &warnings, NULL))
            fired += warnings.count > 0;
    }
    check_between(fired / 20000.0, 0.0065, 0.0135, "rate of outlier warnings");
}

static void two_touches_that_differ_are_not_told_which_is_bad(void **state)
{
    (void)state;
    const double apart[] = {100.0, 101.0};
    const double near[] = {100.0, 100.2};
    tu_warnings warnings;
    tu_error error;
    check_status(judge(apart, 2, NOTHING_STORED, &warnings, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "the two touches of one place differ by 1.000 mm");
    check_status(judge(near, 2, NOTHING_STORED, &warnings, &error), TU_OK, &error);
    assert_int_equal(warnings.count, 1);
    check_contains(warnings.text[0], "the two differ by 0.200 mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grubbs_critical_values_agree_with_the_reference_table),
        cmocka_unit_test(close_repeats_pass_without_a_word),
        cmocka_unit_test(a_range_beyond_half_a_millimetre_is_refused_and_the_odd_one_named),
        cmocka_unit_test(inches_among_millimetres_are_named_as_the_cause),
        cmocka_unit_test(millimetres_among_inches_are_named_as_the_cause),
        cmocka_unit_test(of_two_touches_the_unit_tells_which_one_slipped),
        cmocka_unit_test(the_odd_one_may_be_the_only_right_one),
        cmocka_unit_test(an_outlier_far_beyond_the_spread_is_warned_of),
        cmocka_unit_test(an_outlier_of_a_step_or_two_is_not_worth_a_word),
        cmocka_unit_test(a_spread_far_above_the_stored_repeatability_is_warned_of),
        cmocka_unit_test(two_touches_that_differ_are_not_told_which_is_bad),
        cmocka_unit_test(two_touches_can_contradict_a_stored_repeatability_too),
        cmocka_unit_test(normal_repeats_raise_the_outlier_warning_at_its_stated_rate),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
