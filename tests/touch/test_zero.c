/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_zero.c - the zero as a whole: worked examples with a pencil, the Z table, what is asked.
 *
 * Signs are tested against a simulated contact in test_zero_contact.c.
 */
#include "check.h"
#include "sample_setup.h"

#include <math.h>

static void the_left_edge_of_the_worked_example_lies_at_109_525(void **state)
{
    (void)state;
    sample_setup setup; /* origin: docs/geometry.md, worked with a pencil */
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.000, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[TU_AXIS_X].zero_mm, 109.525, 1e-9, "X zero, mm");
}

static void the_right_edge_of_the_worked_example_lies_at_410_475(void **state)
{
    (void)state;
    sample_setup setup; /* wall a serves X at back-right: half a turn */
    sample_start(&setup, "back-right-top");
    sample_touch(&setup, TU_AXIS_X, 420.000, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[TU_AXIS_X].zero_mm, 410.475, 1e-9, "X zero, mm");
}

static void an_inward_wall_over_the_stock_takes_the_radius_the_other_way(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.plate.wall[0].facing = TU_FACES_INWARD;
    setup.plate.wall[0].offset = tu_quantity_mm(-4.0, 0.02);
    sample_touch(&setup, TU_AXIS_X, 117.175, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    /* The face stands 4 mm to the right of the left edge and looks right; the cutter's axis is
     * another 3.175 mm to the right of the face: 117.175 - 3.175 - 4. */
    check_close(setup.result.axis[TU_AXIS_X].zero_mm, 110.000, 1e-9, "X zero, mm");
}

static void a_bore_gives_its_corner_from_the_midpoint(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_ring(&setup);
    /* Bore's centre at 130, 20 mm inside the stock: the edge is at 110; 25 - 6.35 = 18.65. */
    sample_chord(&setup, TU_AXIS_X, 130.0 - 9.325, 130.0 + 9.325, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[TU_AXIS_X].zero_mm, 110.0, 1e-9, "X zero, mm");
    check_close(setup.result.axis[TU_AXIS_X].implied_diameter_mm, 6.35, 1e-9, "cutter, mm");
}

static void z_follows_the_table_of_seat_and_corner(void **state)
{
    (void)state;
    static const struct {
        const char *target;
        tu_seat seat;
        double zero_mm;
    } rows[] = {{"front-left-top", TU_SEAT_STOCK, -40.12 - 9.53},
                {"front-left-bottom", TU_SEAT_STOCK, -40.12 - 9.53 - 18.0},
                {"front-left-bottom", TU_SEAT_BED, -40.12 - 9.53},
                {"front-left-top", TU_SEAT_BED, -40.12 - 9.53 + 18.0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        sample_setup setup;
        sample_start(&setup, rows[i].target);
        setup.request.seat = rows[i].seat;
        setup.request.stock.size[TU_AXIS_Z] = tu_quantity_mm(18.0, 0.1);
        sample_touch(&setup, TU_AXIS_Z, -40.12, NAN);
        check_status(sample_solve(&setup), TU_OK, &setup.error);
        check_close(setup.result.axis[TU_AXIS_Z].zero_mm, rows[i].zero_mm, 1e-9, "Z zero, mm");
    }
}

static void the_budget_of_z_adds_up_as_the_gum_says(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_Z, -40.12, NAN);
    sample_touch(&setup, TU_AXIS_Z, -40.10, NAN);
    sample_touch(&setup, TU_AXIS_Z, -40.11, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    const tu_uncertainty *u = &setup.result.axis[TU_AXIS_Z].uncertainty;
    double touches = 0.01 / sqrt(3.0);
    double step = 0.0125 / sqrt(12.0);
    double plate = 0.02 / sqrt(3.0);
    double variance = touches * touches + step * step + plate * plate;
    check_close(u->standard_mm, sqrt(variance), 1e-12, "combined, mm");
    double dof = 2.0 * variance * variance / pow(touches, 4.0);
    check_close(u->dof, dof, 1e-6, "effective degrees of freedom");
    assert_int_equal(u->count, 3);
}

static void an_axis_that_was_not_touched_is_not_asked(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_Y, 80.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_false(setup.result.axis[TU_AXIS_X].asked);
    assert_true(setup.result.axis[TU_AXIS_Y].asked);
    assert_false(setup.result.axis[TU_AXIS_Z].asked);
}

static void z_alone_needs_no_cutter(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "top");
    setup.request.cutter = NULL;
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[TU_AXIS_Z].zero_mm, -49.53, 1e-9, "Z zero, mm");
}

static void a_stock_thickness_that_nobody_measured_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-bottom");
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    assert_string_equal(setup.error.where, "{stock_thickness}");
    check_contains(setup.error.message, "{stock_thickness} 18.0mm+-0.1mm");
}

static void a_stock_thickness_that_is_not_needed_is_said(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.request.stock_thickness = tu_quantity_mm(18.0, 0.1);
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "{stock_thickness} is not used"));
    check_close(setup.result.axis[TU_AXIS_Z].zero_mm, -49.53, 1e-9, "Z zero, mm");
}

static void missing_tolerances_are_said_once_together(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.plate.thickness.tolerance_mm = NAN;
    setup.plate.wall[0].offset.tolerance_mm = NAN;
    setup.cutter.diameter.tolerance_mm = NAN;
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    sample_touch(&setup, TU_AXIS_Y, 80.0, NAN);
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup,
                              "no tolerance is stated for the offset of wall a, the "
                              "cutter's diameter, the plate's thickness: counted as exact"));
}

static void a_tolerance_stated_as_zero_is_not_missing(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.plate.thickness.tolerance_mm = 0.0;
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_false(sample_warned(&setup, "no tolerance"));
}

static void touches_read_under_an_active_offset_come_out_in_machine_coordinates(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.request.active_mm[0] = 60.0;
    setup.request.active_mm[1] = 50.0;
    setup.request.active_mm[2] = -90.0;
    sample_touch(&setup, TU_AXIS_X, 40.0, NAN);
    sample_touch(&setup, TU_AXIS_Z, 49.88, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[TU_AXIS_X].zero_mm, 109.525, 1e-9, "X zero, mm");
    check_close(setup.result.axis[TU_AXIS_Z].zero_mm, -40.12 - 9.53, 1e-9, "Z zero, mm");
}

static void a_stock_that_reaches_out_of_the_travel_is_doubted(void **state)
{
    (void)state;
    sample_setup setup; /* the right edge at 100 with 300 mm of stock to its left */
    sample_start(&setup, "back-right-top");
    setup.request.stock.size[TU_AXIS_X] = tu_quantity_mm(300.0, 1.0);
    sample_touch(&setup, TU_AXIS_X, 109.525, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "the stock lies from X -200 mm to 100 mm"));
}

static void a_z_touch_from_below_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_Z, -40.0, NAN);
    setup.touch[TU_AXIS_Z][0].direction = +1;
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "from above, moving Z-");
}

static void a_z_zero_out_of_reach_is_doubted(void **state)
{
    (void)state; /* a sign slip: zero wanted at the top, the plate on the bed near the upper end */
    sample_setup setup;
    sample_start(&setup, "top");
    setup.request.seat = TU_SEAT_BED;
    setup.request.stock_thickness = tu_quantity_mm(80.0, 1.0);
    sample_touch(&setup, TU_AXIS_Z, -10.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "the work lies at Z 60.47 mm, out of reach"));
}

static void a_machine_without_travel_is_said_to_be_unchecked(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "top");
    setup.request.machine.travel_low_mm[2] = setup.request.machine.travel_high_mm[2] = NAN;
    sample_touch(&setup, TU_AXIS_Z, 40.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "states no travel"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_left_edge_of_the_worked_example_lies_at_109_525),
        cmocka_unit_test(the_right_edge_of_the_worked_example_lies_at_410_475),
        cmocka_unit_test(an_inward_wall_over_the_stock_takes_the_radius_the_other_way),
        cmocka_unit_test(a_bore_gives_its_corner_from_the_midpoint),
        cmocka_unit_test(z_follows_the_table_of_seat_and_corner),
        cmocka_unit_test(the_budget_of_z_adds_up_as_the_gum_says),
        cmocka_unit_test(an_axis_that_was_not_touched_is_not_asked),
        cmocka_unit_test(z_alone_needs_no_cutter),
        cmocka_unit_test(a_stock_thickness_that_nobody_measured_is_refused),
        cmocka_unit_test(a_stock_thickness_that_is_not_needed_is_said),
        cmocka_unit_test(missing_tolerances_are_said_once_together),
        cmocka_unit_test(a_tolerance_stated_as_zero_is_not_missing),
        cmocka_unit_test(touches_read_under_an_active_offset_come_out_in_machine_coordinates),
        cmocka_unit_test(a_stock_that_reaches_out_of_the_travel_is_doubted),
        cmocka_unit_test(a_z_touch_from_below_is_refused),
        cmocka_unit_test(a_z_zero_out_of_reach_is_doubted),
        cmocka_unit_test(a_machine_without_travel_is_said_to_be_unchecked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
