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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_that_cannot_be_are_refused_one_at_a_time),
        cmocka_unit_test(whole_numbers_that_cannot_be_are_refused),
        cmocka_unit_test(a_stored_repeatability_without_degrees_of_freedom_is_refused),
        cmocka_unit_test(what_the_thing_does_not_have_is_not_looked_at),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
