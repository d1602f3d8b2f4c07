/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_touch_list.c - touches as they are typed.
 */
#include "check.h"

#include "task/touch_list.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static tu_status parse(tu_touch_list *list, const char *text, tu_unit unit, tu_error *error)
{
    *error = (tu_error){0};
    return tu_touch_list_parse(list, text, unit, TU_AXIS_X, error);
}

static void check_refused(const char *text, tu_status status, const char *part)
{
    tu_touch_list list = {0};
    tu_error error;
    check_status(parse(&list, text, TU_UNIT_MM, &error), status, &error);
    check_contains(error.message, part);
    for (int kind = 0; kind < TU_TOUCH_KINDS; kind++)
        assert_int_equal(list.count[kind], 0);
    tu_touch_list_destroy(&list);
}

static void a_bare_number_is_a_single_touch(void **state)
{
    (void)state;
    tu_touch_list list = {0};
    tu_error error;
    check_status(parse(&list, "-40.12", TU_UNIT_MM, &error), TU_OK, &error);
    tu_axis_touches view = tu_touch_list_view(&list);
    assert_int_equal(view.single_count, 1);
    check_close(view.single[0].position_mm, -40.12, 0, "position, mm: as typed");
    check_nan(view.single[0].across_mm, "across");
    assert_int_equal(view.single[0].direction, 0);
    tu_touch_list_destroy(&list);
}

static void across_follows_an_at_sign(void **state)
{
    (void)state;
    tu_touch_list list = {0};
    tu_error error;
    check_status(parse(&list, "100.5@62.25", TU_UNIT_MM, &error), TU_OK, &error);
    check_close(list.touch[0][0].position_mm, 100.5, 0, "position, mm: as typed");
    check_close(list.touch[0][0].across_mm, 62.25, 0, "across, mm: as typed");
    tu_touch_list_destroy(&list);
}

static void a_pair_gives_both_sides_of_a_bore(void **state)
{
    (void)state;
    tu_touch_list list = {0};
    tu_error error;
    check_status(parse(&list, "-92.1:-73.45@-8", TU_UNIT_MM, &error), TU_OK, &error);
    tu_axis_touches view = tu_touch_list_view(&list);
    assert_int_equal(view.single_count, 0);
    assert_int_equal(view.low_count, 1);
    assert_int_equal(view.high_count, 1);
    check_close(view.low[0].position_mm, -92.1, 0, "low, mm: as typed");
    check_close(view.high[0].position_mm, -73.45, 0, "high, mm: as typed");
    check_close(view.low[0].across_mm, -8, 0, "across of low, mm: as typed");
    check_close(view.high[0].across_mm, -8, 0, "across of high, mm: as typed");
    assert_int_equal(view.low[0].direction, -1);
    assert_int_equal(view.high[0].direction, +1);
    tu_touch_list_destroy(&list);
}

static void numbers_are_in_the_stated_unit_unless_they_name_their_own(void **state)
{
    (void)state;
    tu_touch_list list = {0};
    tu_error error;
    check_status(parse(&list, "4@25.4mm", TU_UNIT_INCH, &error), TU_OK, &error);
    check_close(list.touch[0][0].position_mm, 101.6, 1e-12, "4 in, mm: 4 x 25.4 by definition");
    check_close(list.touch[0][0].across_mm, 25.4, 1e-12, "across, mm: as typed");
    check_status(parse(&list, "1-1/2in", TU_UNIT_MM, &error), TU_OK, &error);
    check_close(list.touch[0][1].position_mm, 38.1, 1e-12, "1-1/2 in, mm: 1.5 x 25.4");
    tu_touch_list_destroy(&list);
}

static void the_order_of_touches_is_kept_as_the_list_grows(void **state)
{
    (void)state;
    tu_touch_list list = {0};
    tu_error error;
    for (int i = 0; i < 100; i++) {
        char text[16];
        snprintf(text, sizeof text, "%d", i);
        check_status(parse(&list, text, TU_UNIT_MM, &error), TU_OK, &error);
    }
    assert_int_equal(list.count[0], 100);
    for (int i = 0; i < 100; i++)
        check_close(list.touch[0][i].position_mm, i, 0, "position, mm: as typed");
    tu_touch_list_destroy(&list);
}

static void one_touch_too_many_is_refused(void **state)
{
    (void)state;
    tu_touch_list list = {0};
    tu_error error;
    for (int i = 0; i < TU_TOUCHES_MAX; i++)
        check_status(parse(&list, "1", TU_UNIT_MM, &error), TU_OK, &error);
    check_status(parse(&list, "1", TU_UNIT_MM, &error), TU_DATA_RANGE, &error);
    check_contains(error.message, "more than 1000 touches");
    tu_touch_list_destroy(&list);
}

static void a_tolerance_on_a_touch_is_refused(void **state)
{
    (void)state;
    check_refused("100+-0.1", TU_DATA_RANGE, "takes no tolerance");
    check_refused("100@60+-0.1", TU_DATA_RANGE, "takes no tolerance");
    check_refused("1+-0.1:2", TU_DATA_RANGE, "takes no tolerance");
    check_refused("100+-0", TU_DATA_RANGE, "takes no tolerance");
}

static void swapped_sides_are_refused(void **state)
{
    (void)state;
    check_refused("20:10", TU_DATA_RANGE, "LOW must be below HIGH");
    check_refused("10:10", TU_DATA_RANGE, "LOW must be below HIGH");
}

static void missing_parts_are_refused(void **state)
{
    (void)state;
    static const char *const texts[] = {"",   ":",  "@",     "1:",    ":2",
                                        "1@", "@2", "1:2:3", "1@2@3", "1@2:3"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        check_refused(texts[i], TU_DATA_SYNTAX, "LOW:HIGH@ACROSS");
}

static void what_is_no_finite_number_is_refused(void **state)
{
    (void)state;
    static const char *const texts[] = {"nan", "inf", "-inf", "0x10", "1e", "one"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        check_refused(texts[i], TU_DATA_SYNTAX, "");
    check_refused("1e999", TU_DATA_RANGE, "");
    check_refused("100,5", TU_DATA_SYNTAX, "point");
}

static void walls_and_a_bore_on_one_axis_are_refused(void **state)
{
    (void)state;
    tu_touch_list list = {0};
    tu_error error;
    check_status(parse(&list, "1", TU_UNIT_MM, &error), TU_OK, &error);
    check_status(parse(&list, "1:2", TU_UNIT_MM, &error), TU_DATA_CONFLICT, &error);
    tu_touch_list_destroy(&list);
    check_status(parse(&list, "1:2", TU_UNIT_MM, &error), TU_OK, &error);
    check_status(parse(&list, "1", TU_UNIT_MM, &error), TU_DATA_CONFLICT, &error);
    check_contains(error.message, "keep one kind");
    tu_touch_list_destroy(&list);
}

static void commas_part_touches_that_have_as_many_decimals(void **state)
{
    (void)state;
    tu_touch_list list = {0};
    tu_error error;
    check_status(parse(&list, "1.00,-2.05,3.10mm,0.40in", TU_UNIT_MM, &error), TU_OK, &error);
    assert_int_equal(list.count[TU_TOUCH_SINGLE], 4);
    check_close(list.touch[TU_TOUCH_SINGLE][1].position_mm, -2.05, 0, "second, mm: as typed");
    check_close(list.touch[TU_TOUCH_SINGLE][3].position_mm, 10.16, 1e-12, "last, mm: 0.4 x 25.4");
    tu_touch_list_destroy(&list);
    check_status(parse(&list, "1.00@62.5,1.02@60.0,1.01", TU_UNIT_MM, &error), TU_OK, &error);
    check_close(list.touch[TU_TOUCH_SINGLE][1].across_mm, 60, 0, "second across, mm: as typed");
    tu_touch_list_destroy(&list);
    check_status(parse(&list, "-9.25:3.50,-9.26:3.51", TU_UNIT_MM, &error), TU_OK, &error);
    assert_int_equal(list.count[TU_TOUCH_LOW], 2);
    check_close(list.touch[TU_TOUCH_HIGH][1].position_mm, 3.51, 0, "second high, mm: as typed");
    tu_touch_list_destroy(&list);
}

static void a_decimal_comma_is_no_list(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "1,5",
        "100,5,200",
        "1.5,2",
        "1.50,2.5",
        "1,000.5",
        "1.000,5",
        "1.00,",
        ",1.00",
        "1.00,,2.00",
        "1,5@2",
        "1.00@62,5",
        "1.00@62.5,2.00@6",
        "-9,5:3,5",
        "-9.50:3,50",
        "1.0,2.0:3.00",
        "1/2in,3/4in",
        "1.00@6.5,2.00@6.25",
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        check_refused(texts[i], TU_DATA_SYNTAX, "a decimal comma is not read");
    check_refused("1.00,2.00:3.00", TU_DATA_CONFLICT, "keep one kind");
}

static void the_letter_of_the_axis_may_stand_before_a_number(void **state)
{
    (void)state;
    tu_touch_list list = {0};
    tu_error error;
    check_status(parse(&list, "X134.9@Y-5", TU_UNIT_MM, &error), TU_OK, &error);
    check_close(list.touch[TU_TOUCH_SINGLE][0].position_mm, 134.9, 0, "X, mm: as typed");
    check_close(list.touch[TU_TOUCH_SINGLE][0].across_mm, -5, 0, "Y, mm: as typed");
    check_status(parse(&list, "x134.90,x134.91", TU_UNIT_MM, &error), TU_OK, &error);
    assert_int_equal(list.count[TU_TOUCH_SINGLE], 3);
    tu_touch_list_destroy(&list);
    check_refused("Y134.9", TU_DATA_SYNTAX, "\"Y134.9\" is along Y; X belongs here");
    check_refused("134.9@X5", TU_DATA_SYNTAX, "is along X; Y belongs here");
    check_refused("XX5", TU_DATA_SYNTAX, "the number alone");
    check_refused("X", TU_DATA_SYNTAX, "no number");
    double places[3];
    check_status(tu_places_parse("X1,Y-2.5,Z3", TU_UNIT_MM, places, "X,Y,Z", &error), TU_OK,
                 &error);
    check_close(places[2], 3, 0, "Z, mm: as typed");
    check_status(tu_places_parse("Y1,X2,Z3", TU_UNIT_MM, places, "X,Y,Z", &error), TU_DATA_SYNTAX,
                 &error);
}

static void places_come_in_the_number_asked_for(void **state)
{
    (void)state;
    double places[3];
    tu_error error = {0};
    const char text[] = "1,-2.5,3in";
    check_status(tu_places_parse(text, TU_UNIT_MM, places, "X,Y,Z", &error), TU_OK, &error);
    check_close(places[0], 1, 0, "X, mm: as typed");
    check_close(places[1], -2.5, 0, "Y, mm: as typed");
    check_close(places[2], 76.2, 1e-12, "Z, mm: 3 x 25.4");
}

static void places_too_few_or_too_many_show_the_form(void **state)
{
    (void)state;
    static const char *const texts[] = {"", "1,2", "1,2,3,4", "1,5,2,5,3,0"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        double places[3];
        tu_error error = {0};
        check_status(tu_places_parse(texts[i], TU_UNIT_MM, places, "X,Y,Z", &error), TU_DATA_SYNTAX,
                     &error);
        check_contains(error.message, "X,Y,Z with decimal points");
        check_nan(places[0], "X after a failure");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bare_number_is_a_single_touch),
        cmocka_unit_test(across_follows_an_at_sign),
        cmocka_unit_test(a_pair_gives_both_sides_of_a_bore),
        cmocka_unit_test(numbers_are_in_the_stated_unit_unless_they_name_their_own),
        cmocka_unit_test(the_order_of_touches_is_kept_as_the_list_grows),
        cmocka_unit_test(one_touch_too_many_is_refused),
        cmocka_unit_test(a_tolerance_on_a_touch_is_refused),
        cmocka_unit_test(swapped_sides_are_refused),
        cmocka_unit_test(missing_parts_are_refused),
        cmocka_unit_test(what_is_no_finite_number_is_refused),
        cmocka_unit_test(walls_and_a_bore_on_one_axis_are_refused),
        cmocka_unit_test(commas_part_touches_that_have_as_many_decimals),
        cmocka_unit_test(a_decimal_comma_is_no_list),
        cmocka_unit_test(the_letter_of_the_axis_may_stand_before_a_number),
        cmocka_unit_test(places_come_in_the_number_asked_for),
        cmocka_unit_test(places_too_few_or_too_many_show_the_form),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
