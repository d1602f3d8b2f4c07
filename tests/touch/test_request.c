/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_request.c - requests that contradict themselves.
 */
#include "check.h"
#include "sample_setup.h"

#include <math.h>

static void refused(sample_setup *setup, tu_status status, const char *where, const char *part)
{
    check_status(sample_solve(setup), status, &setup->error);
    assert_string_equal(setup->error.where, where);
    check_contains(setup->error.message, part);
}

static void nothing_touched_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    refused(&setup, TU_USAGE, "", "nothing was touched");
}

static void an_axis_that_a_face_does_not_have_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "left");
    sample_touch(&setup, TU_AXIS_Y, 80.0, NAN);
    refused(&setup, TU_USAGE, "{touches.y}", "left has no Y");
}

static void a_wall_named_at_a_corner_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    setup.request.wall = 0;
    refused(&setup, TU_USAGE, "{wall}", "is for a single face");
}

static void sides_on_a_plate_without_a_bore_are_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_chord(&setup, TU_AXIS_X, 100.0, 120.0, NAN);
    refused(&setup, TU_USAGE, "{touches.x}", "plate offcut has none");
}

static void a_single_touch_in_a_bore_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_ring(&setup);
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    refused(&setup, TU_USAGE, "{touches.x}", "touch both of its sides");
}

static void single_touches_and_sides_together_are_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_ring(&setup);
    sample_chord(&setup, TU_AXIS_X, 120.675, 139.325, NAN);
    setup.request.touches[0].single_count = 1;
    refused(&setup, TU_USAGE, "{touches.x}", "contradict each other");
}

static void z_has_no_sides(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_chord(&setup, TU_AXIS_Z, -50.0, -40.0, NAN);
    refused(&setup, TU_USAGE, "{touches.z}", "from above only");
}

static void a_baseline_without_both_axes_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, 120.0);
    setup.request.baseline[0] = (tu_baseline){{150, 80}, {250, 81}};
    setup.request.baseline_count = 1;
    refused(&setup, TU_USAGE, "{skew_from}", "both X and Y");
}

static void a_job_without_an_angle_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, 120.0);
    setup.request.job_mm[0] = 200.0;
    setup.request.job_mm[1] = 100.0;
    refused(&setup, TU_USAGE, "{job}", "needs {feared_angle}");
}

static void sizes_that_are_not_above_zero_are_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    setup.request.depth = tu_quantity_mm(-1.0, NAN);
    refused(&setup, TU_DATA_RANGE, "{depth}", "above zero");
    setup.request.depth = tu_quantity_none();
    setup.request.stock_thickness = tu_quantity_mm(0.0, NAN);
    refused(&setup, TU_DATA_RANGE, "{stock_thickness}", "above zero");
}

static void an_offset_that_is_not_finite_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    setup.request.active_mm[0] = INFINITY;
    refused(&setup, TU_DATA_RANGE, "{active}", "finite");
}

static void a_turning_angle_that_cannot_be_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    setup.request.turned_within_rad = 2.0;
    refused(&setup, TU_DATA_RANGE, "{turned_within}", "at most at 90 degrees");
}

static void a_request_without_a_plate_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "top");
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    setup.request.plate = NULL;
    refused(&setup, TU_DATA_MISSING, "{plate}", "no plate");
}

static void a_target_of_no_name_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "top");
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    setup.request.target = (tu_target){.outward = {1, 1, 0}};
    refused(&setup, TU_USAGE, "TARGET", "eight corners");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_touched_is_refused),
        cmocka_unit_test(an_axis_that_a_face_does_not_have_is_refused),
        cmocka_unit_test(a_wall_named_at_a_corner_is_refused),
        cmocka_unit_test(sides_on_a_plate_without_a_bore_are_refused),
        cmocka_unit_test(a_single_touch_in_a_bore_is_refused),
        cmocka_unit_test(single_touches_and_sides_together_are_refused),
        cmocka_unit_test(z_has_no_sides),
        cmocka_unit_test(a_baseline_without_both_axes_is_refused),
        cmocka_unit_test(a_job_without_an_angle_is_refused),
        cmocka_unit_test(sizes_that_are_not_above_zero_are_refused),
        cmocka_unit_test(an_offset_that_is_not_finite_is_refused),
        cmocka_unit_test(a_turning_angle_that_cannot_be_is_refused),
        cmocka_unit_test(a_request_without_a_plate_is_refused),
        cmocka_unit_test(a_target_of_no_name_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
