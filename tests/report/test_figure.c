/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_figure.c - numbers as the reports print them.
 */
#include "check.h"

#include "report/figure.h"

#include <math.h>
#include <stdlib.h>

static const double missing = (double)NAN;

static void a_place_has_3_decimals_of_a_millimetre_or_4_of_an_inch(void **state)
{
    (void)state;
    assert_string_equal(tu_figure_place(TU_UNIT_MM, 109.525).text, "109.525");
    assert_string_equal(tu_figure_place(TU_UNIT_MM, -0.0001).text, "0.000");
    assert_string_equal(tu_figure_place(TU_UNIT_INCH, 25.4).text, "1.0000");
    assert_string_equal(tu_figure_fine(TU_UNIT_MM, -49.65).text, "-49.6500");
    assert_string_equal(tu_figure_fine(TU_UNIT_INCH, -12.7).text, "-0.50000");
}

/* Values: GUM 7.2.2 asks for at most two significant digits, 7.2.6 allows to round up. */
static void an_uncertainty_has_two_digits_rounded_up(void **state)
{
    (void)state;
    static const struct {
        double expanded_mm;
        const char *text;
    } cases[] = {
        {0.0261, "0.027"},  {0.0260001, "0.027"}, {0.026, "0.026"},     {0.03, "0.030"},
        {0.1, "0.10"},      {0.111, "0.12"},      {0.0099, "0.0099"},   {0.0995, "0.10"},
        {0.00991, "0.010"}, {1.234, "1.3"},       {9.99, "10"},         {12.1, "13"},
        {123.4, "124"},     {0.00012, "0.0002"},  {0.000001, "0.0001"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(tu_figure_expanded(TU_UNIT_MM, cases[i].expanded_mm).text,
                            cases[i].text);
}

static void an_uncertainty_in_inches_is_rounded_in_inches(void **state)
{
    (void)state;
    /* 0.026 mm = 0.0010236 in, rounded up to two digits 0.0011 */
    assert_string_equal(tu_figure_expanded(TU_UNIT_INCH, 0.026).text, "0.0011");
}

static void no_uncertainty_is_no_text(void **state)
{
    (void)state;
    assert_string_equal(tu_figure_expanded(TU_UNIT_MM, 0).text, "");
    assert_string_equal(tu_figure_expanded(TU_UNIT_MM, missing).text, "");
    assert_string_equal(tu_figure_expanded(TU_UNIT_MM, INFINITY).text, "");
}

/* Never below what it stands for, never more than a tenth above: two digits. */
static void rounding_up_never_claims_too_much_nor_adds_more_than_a_tenth(void **state)
{
    (void)state;
    check_random random = check_random_seed(7);
    for (int i = 0; i < 20000; i++) {
        double value = pow(10, check_random_uniform(&random, -3, 2));
        double shown = strtod(tu_figure_expanded(TU_UNIT_MM, value).text, NULL);
        check_between(shown, value * (1 - 1e-11), value * 1.1000001, "shown uncertainty, mm");
    }
}

static void degrees_come_from_radians(void **state)
{
    (void)state;
    assert_string_equal(tu_figure_degrees(M_PI / 6, 3).text, "30.000");
}

static void steps_are_round_and_few_enough(void **state)
{
    (void)state;
    assert_true(tu_figure_round_step(0.62, 10) == 0.1);
    assert_true(fabs(tu_figure_round_step(0.2, 10) - 0.02) < 1e-15);
    assert_true(fabs(tu_figure_round_step(3, 10) - 0.5) < 1e-15);
    assert_true(isnan(tu_figure_round_step(0, 10)));
    assert_true(isnan(tu_figure_round_step(NAN, 10)));
    for (double range = 1e-4; range < 1e4; range *= 1.013) {
        double step = tu_figure_round_step(range, 10);
        assert_true(range / step <= 10 + 1e-6 && range / step > 3.9);
    }
}

static void a_decimal_comma_locale_changes_nothing(void **state)
{
    (void)state;
    check_comma_locale();
    assert_string_equal(tu_figure_place(TU_UNIT_MM, 109.525).text, "109.525");
    assert_string_equal(tu_figure_expanded(TU_UNIT_MM, 0.0261).text, "0.027");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_place_has_3_decimals_of_a_millimetre_or_4_of_an_inch),
        cmocka_unit_test(an_uncertainty_has_two_digits_rounded_up),
        cmocka_unit_test(an_uncertainty_in_inches_is_rounded_in_inches),
        cmocka_unit_test(no_uncertainty_is_no_text),
        cmocka_unit_test(rounding_up_never_claims_too_much_nor_adds_more_than_a_tenth),
        cmocka_unit_test(degrees_come_from_radians),
        cmocka_unit_test(steps_are_round_and_few_enough),
        cmocka_unit_test_teardown(a_decimal_comma_locale_changes_nothing, check_plain_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
