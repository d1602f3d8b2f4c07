/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_check.c - the tools of the tests themselves: their random numbers and their readers.
 */
#include "check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* SplitMix64 from seed 1234567. Source: the first outputs as commonly published with the
 * algorithm; written down from memory. */
static void random_bits_are_the_published_ones(void **state)
{
    (void)state;
    static const uint64_t published[] = {
        UINT64_C(6457827717110365317), UINT64_C(3203168211198807973), UINT64_C(9817491932198370423),
        UINT64_C(4593380528125082431), UINT64_C(16408922859458223821)};
    check_random random = check_random_seed(1234567);
    for (size_t i = 0; i < sizeof published / sizeof published[0]; i++)
        assert_true(check_random_bits(&random) == published[i]);
}

/* The limits are five standard deviations of each figure at n = 100000; the seed is fixed. */
static void uniform_numbers_have_their_moments(void **state)
{
    (void)state;
    enum { N = 100000 };
    check_random random = check_random_seed(1);
    double sum = 0, squares = 0;
    for (int i = 0; i < N; i++) {
        double x = check_random_uniform(&random, -1.0, 3.0);
        check_between(x, -1.0, 3.0, "a uniform number");
        sum += x;
        squares += (x - 1.0) * (x - 1.0);
    }
    check_close(sum / N, 1.0, 5 * (4 / sqrt(12.0)) / sqrt(N), "mean");
    check_close(squares / N, 16.0 / 12.0, 5 * 16.0 / sqrt(180.0 * N), "variance");
}

static void normal_numbers_have_their_moments(void **state)
{
    (void)state;
    enum { N = 100000 };
    check_random random = check_random_seed(2);
    double sum = 0, squares = 0, fourths = 0;
    for (int i = 0; i < N; i++) {
        double z = (check_random_normal(&random, 10.0, 2.0) - 10.0) / 2.0;
        sum += z;
        squares += z * z;
        fourths += z * z * z * z;
    }
    check_close(sum / N, 0.0, 5 / sqrt(N), "mean");
    check_close(squares / N, 1.0, 5 * sqrt(2.0 / N), "variance");
    check_close(fourths / N, 3.0, 5 * sqrt(96.0 / N), "fourth moment");
}

static void a_member_of_json_is_found_by_its_path(void **state)
{
    (void)state;
    cJSON *root = cJSON_Parse("{\"a\":{\"b\":[1,{\"c\":2.5},[3,4]]}}");
    assert_non_null(root);
    check_same(check_json_number(root, "a.b[1].c"), 2.5, "a.b[1].c");
    check_same(check_json_number(root, "a.b[2][1]"), 4, "a.b[2][1]");
    size_t count;
    double *numbers = check_json_numbers(root, "a.b[2]", &count);
    assert_int_equal(count, 2);
    check_same(numbers[0], 3, "first of a.b[2]");
    free(numbers);
    cJSON_Delete(root);
}

static void a_fixture_is_read_whole(void **state)
{
    (void)state;
    size_t length;
    char *text = check_fixture_read("reference/nist_univariate_numacc1.json", &length);
    assert_int_equal(length, strlen(text));
    check_contains(text, "NumAcc1");
    assert_int_equal(text[0], '{');
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_bits_are_the_published_ones),
        cmocka_unit_test(uniform_numbers_have_their_moments),
        cmocka_unit_test(normal_numbers_have_their_moments),
        cmocka_unit_test(a_member_of_json_is_found_by_its_path),
        cmocka_unit_test(a_fixture_is_read_whole),
    };
    return cmocka_run_group_tests_name("check", tests, NULL, NULL);
}
