/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_moments.c - mean and standard deviation, against the NIST Statistical Reference Datasets.
 */
#include "check.h"

#include "trueup/moments.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* The data of a reference file: all values, or a first one and a pair that repeats. */
static double *data_of(const cJSON *root, size_t *count)
{
    const cJSON *data = check_json_at(root, "data");
    if (cJSON_GetObjectItemCaseSensitive(data, "y") != NULL)
        return check_json_numbers(data, "y", count);
    size_t times = (size_t)check_json_number(data, "times");
    *count = 1 + 2 * times;
    double *values = calloc(*count, sizeof *values);
    assert_non_null(values);
    values[0] = check_json_number(data, "first");
    for (size_t i = 0; i < 2 * times; i++)
        values[1 + i] = check_json_number(data, i % 2 == 0 ? "pair[0]" : "pair[1]");
    return values;
}

/* Against the certified values, at the relative tolerances that the file's tolerance_note gives. */
static void check_reference(const char *name, double mean_relative, double sd_relative)
{
    char path[100];
    snprintf(path, sizeof path, "reference/nist_univariate_%s.json", name);
    cJSON *root = check_fixture_json(path);
    size_t count;
    double *values = data_of(root, &count);
    tu_moments moments = tu_moments_of(values, count);
    assert_int_equal(moments.count, (size_t)check_json_number(root, "certified.n"));
    check_relative(moments.mean, check_json_number(root, "certified.mean"), mean_relative, name);
    check_relative(tu_moments_sd(&moments), check_json_number(root, "certified.sd"), sd_relative,
                   name);
    free(values);
    cJSON_Delete(root);
}

static void michelso_and_mavro_keep_eleven_digits(void **state)
{
    (void)state;
    check_reference("michelso", 1e-14, 1e-11);
    check_reference("mavro", 1e-12, 1e-12);
}

/* NumAcc1 is exact in double: a few units in the last place. */
static void numacc1_comes_out_exactly(void **state)
{
    (void)state;
    check_reference("numacc1", 1e-15, 1e-15);
}

static void numacc2_keeps_twelve_digits(void **state)
{
    (void)state;
    check_reference("numacc2", 1e-12, 1e-12);
}

/* The decimal data are not exact in double: that alone moves sd by 3.5e-10 (NumAcc3) and 5.6e-9
 * (NumAcc4) of itself, so the note asks for 1e-8 and 1e-7. */
static void numacc3_and_numacc4_keep_the_digits_that_double_inputs_allow(void **state)
{
    (void)state;
    check_reference("numacc3", 1e-14, 1e-8);
    check_reference("numacc4", 1e-14, 1e-7);
}

/* What is lost beyond the rounding of the inputs. Origin of the expected value: the same doubles
 * in exact rational arithmetic (Python's fractions). */
static void numacc4_loses_nothing_beyond_the_rounding_of_its_inputs(void **state)
{
    (void)state;
    tu_moments moments = tu_moments_start();
    tu_moments_add(&moments, 10000000.2);
    for (int i = 0; i < 500; i++) {
        tu_moments_add(&moments, 10000000.1);
        tu_moments_add(&moments, 10000000.3);
    }
    check_relative(tu_moments_sd(&moments), 0x1.999999cp-4, 1e-11, "sd of NumAcc4");
}

static void the_moments_of_nothing_are_not_stated(void **state)
{
    (void)state;
    tu_moments moments = tu_moments_of(NULL, 0);
    assert_int_equal(moments.count, 0);
    check_nan(moments.mean, "mean");
    check_nan(moments.minimum, "minimum");
    check_nan(moments.maximum, "maximum");
    check_nan(tu_moments_sd(&moments), "sd");
}

static void one_value_has_a_mean_but_no_deviation(void **state)
{
    (void)state;
    double value = -7.25;
    tu_moments moments = tu_moments_of(&value, 1);
    assert_int_equal(moments.count, 1);
    check_same(moments.mean, -7.25, "mean");
    check_same(moments.minimum, -7.25, "minimum");
    check_same(moments.maximum, -7.25, "maximum");
    check_nan(tu_moments_sd(&moments), "sd");
}

static void equal_values_deviate_by_nothing(void **state)
{
    (void)state;
    const double values[] = {0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1};
    tu_moments moments = tu_moments_of(values, 7);
    check_same(moments.mean, 0.1, "mean");
    check_same(tu_moments_sd(&moments), 0.0, "sd");
}

/* By hand: mean 5, sum of squares 32, sd sqrt(32/7). */
static void the_smallest_and_largest_are_kept_in_any_order(void **state)
{
    (void)state;
    const double values[] = {4, 9, 5, 2, 4, 7, 5, 4};
    tu_moments moments = tu_moments_of(values, 8);
    check_close(moments.mean, 5.0, 1e-15, "mean");
    check_close(moments.sum_squares, 32.0, 1e-13, "sum of squares");
    check_close(tu_moments_sd(&moments), sqrt(32.0 / 7.0), 1e-14, "sd");
    check_same(moments.minimum, 2, "minimum");
    check_same(moments.maximum, 9, "maximum");
}

/* A shift by a power of two leaves dyadic data exact, so nothing but the mean may change. */
static void a_shift_moves_the_mean_alone(void **state)
{
    (void)state;
    check_random random = check_random_seed(3);
    double near[200], far[200];
    for (int i = 0; i < 200; i++) {
        near[i] = (double)check_random_below(&random, 1024) / 1024.0;
        far[i] = near[i] + 65536.0;
    }
    tu_moments a = tu_moments_of(near, 200), b = tu_moments_of(far, 200);
    check_close(b.mean - 65536.0, a.mean, 1e-10, "mean");
    check_relative(tu_moments_sd(&b), tu_moments_sd(&a), 1e-9, "sd");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(michelso_and_mavro_keep_eleven_digits),
        cmocka_unit_test(numacc1_comes_out_exactly),
        cmocka_unit_test(numacc2_keeps_twelve_digits),
        cmocka_unit_test(numacc3_and_numacc4_keep_the_digits_that_double_inputs_allow),
        cmocka_unit_test(numacc4_loses_nothing_beyond_the_rounding_of_its_inputs),
        cmocka_unit_test(the_moments_of_nothing_are_not_stated),
        cmocka_unit_test(one_value_has_a_mean_but_no_deviation),
        cmocka_unit_test(equal_values_deviate_by_nothing),
        cmocka_unit_test(the_smallest_and_largest_are_kept_in_any_order),
        cmocka_unit_test(a_shift_moves_the_mean_alone),
    };
    return cmocka_run_group_tests_name("moments", tests, NULL, NULL);
}
