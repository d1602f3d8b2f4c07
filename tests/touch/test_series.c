/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_series.c - touches collected: travel and slips of unit, directions, numbers that are none.
 */
#include "check.h"
#include "sample_setup.h"

#include <math.h>

static void a_touch_outside_the_travel_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 2540.0, NAN);
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    assert_string_equal(setup.error.where, "{touches.x}");
    check_contains(setup.error.message,
                   "X 2540.000 mm lies outside the machine's travel, 0 mm to 1200 mm");
    check_contains(setup.error.message, "{active} X,Y,Z");
}

static void millimetres_typed_for_inches_are_named_as_the_cause(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.request.read_unit = TU_UNIT_INCH;
    sample_touch(&setup, TU_AXIS_X, 104.775 * TU_MM_PER_INCH, NAN);
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    check_contains(setup.error.message, "looks like millimetres typed for inches");
}

static void inches_typed_for_millimetres_are_named_as_the_cause(void **state)
{
    (void)state; /* a machine whose travel does not start at zero shows the slip by itself */
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.request.machine.travel_low_mm[0] = 50.0;
    sample_touch(&setup, TU_AXIS_X, 4.125, NAN);
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    check_contains(setup.error.message, "looks like inches typed for millimetres");
}

static void a_touch_outside_the_travel_under_an_active_offset_questions_the_offset(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.request.active_mm[0] = 1150.0;
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    check_contains(setup.error.message, "X 1250.000 mm");
    check_contains(setup.error.message, "is {active} the offset");
}

static void the_ends_of_the_travel_belong_to_it(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "back-right-top");
    sample_touch(&setup, TU_AXIS_X, 1200.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
}

static void the_other_coordinate_is_held_against_the_travel_too(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, 900.0);
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    check_contains(setup.error.message, "Y 900.000 mm");
}

static void numbers_that_are_not_finite_are_refused(void **state)
{
    (void)state;
    const double bad[] = {NAN, INFINITY, -INFINITY};
    for (size_t i = 0; i < 3; i++) {
        sample_setup setup;
        sample_start(&setup, "front-left-top");
        sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
        sample_touch(&setup, TU_AXIS_X, bad[i], NAN);
        check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
        check_contains(setup.error.message, "number 2 is not a finite number");
    }
}

static void approaches_from_both_sides_are_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "top");
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    setup.touch[TU_AXIS_Z][0].direction = -1;
    setup.touch[TU_AXIS_Z][1].direction = +1;
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
}

static void a_mean_of_across_needs_every_touch_to_state_it(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, 60.0);
    sample_touch(&setup, TU_AXIS_X, 100.0, 64.0);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[0].across_mm, 62.0, 1e-12, "mean across, mm");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_nan(setup.result.axis[0].across_mm, "mean across, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_touch_outside_the_travel_is_refused),
        cmocka_unit_test(millimetres_typed_for_inches_are_named_as_the_cause),
        cmocka_unit_test(inches_typed_for_millimetres_are_named_as_the_cause),
        cmocka_unit_test(a_touch_outside_the_travel_under_an_active_offset_questions_the_offset),
        cmocka_unit_test(the_ends_of_the_travel_belong_to_it),
        cmocka_unit_test(the_other_coordinate_is_held_against_the_travel_too),
        cmocka_unit_test(numbers_that_are_not_finite_are_refused),
        cmocka_unit_test(approaches_from_both_sides_are_refused),
        cmocka_unit_test(a_mean_of_across_needs_every_touch_to_state_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
