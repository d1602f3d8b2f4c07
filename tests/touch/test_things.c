/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_things.c - machines, plates, cutters and stock that cannot be, from a caller's own structs.
 */
#include "check.h"
#include "sample_setup.h"

#include <math.h>
#include <string.h>

static void start(sample_setup *setup)
{
    sample_start(setup, "front-left-top");
    sample_touch(setup, TU_AXIS_X, 100.0, NAN);
    sample_touch(setup, TU_AXIS_Z, -40.0, NAN);
}

/* Each number of the set-up in turn becomes something that cannot be. */
static void numbers_that_cannot_be_are_refused_one_at_a_time(void **state)
{
    (void)state;
    sample_setup setup;
    struct {
        double *number;
        double bad;
    } cases[] = {{&setup.plate.thickness.value_mm, NAN},
                 {&setup.plate.thickness.value_mm, INFINITY},
                 {&setup.plate.thickness.value_mm, -9.5},
                 {&setup.plate.thickness.tolerance_mm, -1.0},
                 {&setup.plate.thickness.tolerance_mm, INFINITY},
                 {&setup.plate.wall[0].offset.value_mm, NAN},
                 {&setup.plate.wall[0].offset.value_mm, INFINITY},
                 {&setup.plate.wall[1].offset.value_mm, -INFINITY},
                 {&setup.plate.wall[0].touch_depth.value_mm, -1.0},
                 {&setup.cutter.diameter.value_mm, NAN},
                 {&setup.cutter.diameter.value_mm, 0.0},
                 {&setup.cutter.helix_rad, -0.1},
                 {&setup.cutter.helix_rad, 2.0},
                 {&setup.cutter.turned_within_rad, -0.1},
                 {&setup.cutter.turned_within_rad, 0.0},
                 {&setup.cutter.run_out.value_mm, -0.1},
                 {&setup.request.machine.step_mm, -1.0},
                 {&setup.request.machine.step_mm, INFINITY},
                 {&setup.request.machine.travel_low_mm[1], 2000.0},
                 {&setup.request.stock.size[0].value_mm, INFINITY},
                 {&setup.request.stock.size[2].value_mm, -18.0},
                 {&setup.request.stock_thickness.value_mm, INFINITY}};
    start(&setup);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        start(&setup);
        *cases[i].number = cases[i].bad;
        tu_status status = sample_solve(&setup);
        if (status != TU_DATA_RANGE && status != TU_DATA_MISSING)
            fail_msg("case %zu passed with status %d", i, (int)status);
    }
}

static void whole_numbers_that_cannot_be_are_refused(void **state)
{
    (void)state;
    sample_setup setup;
    start(&setup);
    setup.cutter.flutes = -1;
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    start(&setup);
    setup.plate.wall[0].facing = (tu_facing)5;
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    start(&setup);
    setup.request.wall = -5;
    check_status(sample_solve(&setup), TU_USAGE, &setup.error);
    start(&setup);
    sample_touch(&setup, TU_AXIS_Y, 80.0, NAN);
    setup.request.baseline_count = TU_BASELINES_MAX + 1;
    check_status(sample_solve(&setup), TU_USAGE, &setup.error);
}

static void a_stored_repeatability_without_degrees_of_freedom_is_refused(void **state)
{
    (void)state;
    const tu_repeatability bad[] = {
        {0.01, 0.0}, {0.0, 9.0}, {-0.01, 9.0}, {INFINITY, 9.0}, {0.01, NAN}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        sample_setup setup;
        start(&setup);
        setup.request.machine.repeatability[0] = bad[i];
        check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    }
}

static void what_the_thing_does_not_have_is_not_looked_at(void **state)
{
    (void)state; /* all bytes zero in a wall, a bore and a vee's tip that are not there */
    sample_setup setup;
    start(&setup);
    memset(&setup.plate.wall[1], 0, sizeof setup.plate.wall[1]);
    memset(&setup.plate.bore, 0, sizeof setup.plate.bore);
    memset(&setup.cutter.tip, 0, sizeof setup.cutter.tip);
    memset(&setup.cutter.corner_radius, 0, sizeof setup.cutter.corner_radius);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
}

/* What a designated initialiser leaves out is 0, which says "exactly" and "here" where NaN says
 * nothing. Each of these gave a zero, or could have. */
static void a_struct_that_was_not_started_gives_no_zero(void **state)
{
    (void)state;
    sample_setup setup;
    start(&setup);
    tu_quantity none = tu_quantity_none();
    /* Its edges stand anywhere: up to 3.175 mm less reach, and no warning. */
    setup.cutter = (tu_cutter){
        .diameter = tu_quantity_mm(6.35, 0.01), .core = none, .run_out = none, .flutes = 2};
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    check_contains(setup.error.message, "tu_cutter_start");
    start(&setup); /* a plate that is not turned has its walls elsewhere */
    tu_plate plate = setup.plate;
    setup.plate = (tu_plate){.thickness = plate.thickness, .wall = {plate.wall[0], plate.wall[1]}};
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    check_contains(setup.error.message, "tu_plate_start");
    start(&setup); /* and one whose centre is forgotten has it in the corner */
    setup.plate = (tu_plate){.bore = {.present = true, .diameter = tu_quantity_exact(25.0)}};
    setup.request.touches[0].single_count = 0;
    sample_chord(&setup, TU_AXIS_X, 100.0, 118.65, NAN);
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    start(&setup);
    setup.request.machine = (tu_machine){.step_mm = 0.01};
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    start(&setup);
    setup.request.stock = (tu_stock){.size[0] = tu_quantity_exact(300.0)};
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
}

/* An X edge that leans by 2 mm in 100: X at a place 100 mm off is 2 mm off. */
static void a_touch_that_was_not_started_gives_no_zero(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 134.90, 180.0);
    sample_touch(&setup, TU_AXIS_Y, 120.0, 250.0);
    setup.request.baseline[0] = (tu_baseline){{150.0, 120.0}, {350.0, 124.0}};
    setup.request.baseline_count = 1;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    setup.touch[0][0] = (tu_touch){.position_mm = 134.90};
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    check_contains(setup.error.message, "tu_touch_start");
    setup.touch[0][0] = tu_touch_start(134.90, NAN, 0);
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    check_contains(setup.error.message, "the other coordinate");
}

/* Every number of a started struct that is not chosen says "not stated". */
static void started_structs_state_nothing(void **state)
{
    (void)state;
    tu_zero_request request = tu_zero_request_start();
    tu_cutter cutter = tu_cutter_start();
    tu_plate plate = tu_plate_start();
    request.plate = &plate;
    request.cutter = &cutter;
    check_nan(cutter.turned_within_rad, "turned within, rad");
    check_nan(cutter.helix_rad, "helix, rad");
    check_nan(cutter.included_rad, "included, rad");
    assert_false(tu_quantity_is_stated(cutter.diameter) || tu_quantity_is_stated(cutter.core) ||
                 tu_quantity_is_stated(cutter.run_out) || tu_quantity_is_stated(cutter.tip) ||
                 tu_quantity_is_stated(cutter.corner_radius));
    assert_true(plate.turned);
    for (int i = 0; i < 2; i++) {
        assert_false(plate.wall[i].present || tu_quantity_is_stated(plate.wall[i].offset) ||
                     tu_quantity_is_stated(plate.wall[i].rise) ||
                     tu_quantity_is_stated(plate.wall[i].touch_depth));
        assert_false(tu_quantity_is_stated(plate.bore.centre[i]) ||
                     tu_quantity_is_stated(plate.extent[i][0]) ||
                     tu_quantity_is_stated(plate.extent[i][1]));
    }
    check_nan(request.machine.step_mm, "step, mm");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        check_nan(request.machine.travel_low_mm[axis], "travel, mm");
        check_nan(request.machine.travel_high_mm[axis], "travel, mm");
        check_nan(request.machine.steps_per_mm[axis], "steps per mm");
        check_nan(request.machine.repeatability[axis].sd_mm, "repeatability, mm");
        assert_false(tu_quantity_is_stated(tu_stock_start().size[axis]));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_struct_that_was_not_started_gives_no_zero),
        cmocka_unit_test(a_touch_that_was_not_started_gives_no_zero),
        cmocka_unit_test(started_structs_state_nothing),
        cmocka_unit_test(numbers_that_cannot_be_are_refused_one_at_a_time),
        cmocka_unit_test(whole_numbers_that_cannot_be_are_refused),
        cmocka_unit_test(a_stored_repeatability_without_degrees_of_freedom_is_refused),
        cmocka_unit_test(what_the_thing_does_not_have_is_not_looked_at),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
