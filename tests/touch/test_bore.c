/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_bore.c - the chord across a bore as a free check, and what it refuses.
 */
#include "check.h"
#include "sample_setup.h"

#include <math.h>

/* Bore 25, pin 6.35: contacts 18.65 apart, 9.325 either side of the centre. */
static void start_ring(sample_setup *setup)
{
    sample_start(setup, "front-left-top");
    sample_ring(setup);
}

static void the_chord_confirms_the_cutter(void **state)
{
    (void)state;
    sample_setup setup;
    start_ring(&setup);
    sample_chord(&setup, TU_AXIS_X, 130.0 - 9.325, 130.0 + 9.325, NAN);
    sample_chord(&setup, TU_AXIS_Y, 90.0 - 9.325, 90.0 + 9.325, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[0].implied_diameter_mm, 6.35, 1e-9, "cutter, mm");
    assert_false(sample_warned(&setup, "chord"));
}

static void a_chord_that_is_too_long_means_another_cutter_and_is_refused(void **state)
{
    (void)state; /* 6.00 mm instead of 6.35 */
    sample_setup setup;
    start_ring(&setup);
    sample_chord(&setup, TU_AXIS_X, 130.0 - 9.5, 130.0 + 9.5, NAN);
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "means a cutter of 6.000 mm");
    check_contains(setup.error.message, "wrong by up to 0.175 mm");
}

static void a_chord_that_is_too_short_may_have_run_beside_the_centre(void **state)
{
    (void)state; /* 3 mm beside: half the chord is sqrt(9.325^2 - 9) = 8.8293 */
    sample_setup setup;
    start_ring(&setup);
    double half = sqrt(9.325 * 9.325 - 9.0);
    sample_chord(&setup, TU_AXIS_X, 130.0 - half, 130.0 + half, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "if it ran 3.000 mm beside the bore's centre"));
    /* else a side touched early, by 2 (9.325 - 8.8293), and the midpoint moved by half of that */
    assert_true(sample_warned(&setup, "the zero is wrong by up to 0.496 mm"));
    check_close(setup.result.axis[0].zero_mm, 110.0, 1e-9, "X zero, mm");
}

static void a_chord_known_to_run_beside_the_centre_is_taken_as_such(void **state)
{
    (void)state;
    sample_setup setup;
    start_ring(&setup);
    double half = sqrt(9.325 * 9.325 - 9.0);
    sample_chord(&setup, TU_AXIS_X, 130.0 - half, 130.0 + half, 93.0);
    sample_chord(&setup, TU_AXIS_Y, 90.0 - 9.325, 90.0 + 9.325, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[0].implied_diameter_mm, 6.35, 1e-9, "cutter, mm");
    assert_false(sample_warned(&setup, "chord"));
}

static void a_short_chord_through_the_centre_is_refused(void **state)
{
    (void)state; /* 8 mm cutter, or a side that touched early */
    sample_setup setup;
    start_ring(&setup);
    sample_chord(&setup, TU_AXIS_X, 130.0 - 8.5, 130.0 + 8.5, 90.0);
    sample_chord(&setup, TU_AXIS_Y, 90.0 - 9.325, 90.0 + 9.325, NAN);
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "means a cutter of 8.000 mm");
}

static void a_chord_in_inches_is_named_as_such(void **state)
{
    (void)state; /* 18.65 mm = 0.734 in */
    sample_setup setup;
    start_ring(&setup);
    sample_chord(&setup, TU_AXIS_X, 5.118 - 0.367, 5.118 + 0.367, NAN);
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "looks like inches typed for millimetres");
}

static void contacts_wider_than_the_bore_are_refused(void **state)
{
    (void)state;
    sample_setup setup;
    start_ring(&setup);
    sample_chord(&setup, TU_AXIS_X, 100.0, 126.0, NAN);
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "wider than the 25.000 mm bore");
}

static void contacts_in_the_wrong_order_are_refused(void **state)
{
    (void)state;
    sample_setup setup;
    start_ring(&setup);
    sample_chord(&setup, TU_AXIS_X, 139.325, 120.675, NAN);
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "give them as LOW:HIGH");
}

static void a_cutter_that_does_not_go_into_the_bore_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    start_ring(&setup);
    setup.cutter.diameter = tu_quantity_mm(25.4, 0.0);
    sample_chord(&setup, TU_AXIS_X, 129.0, 131.0, NAN);
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    assert_string_equal(setup.error.where, "{cutter}");
}

static void one_side_alone_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    start_ring(&setup);
    sample_chord(&setup, TU_AXIS_X, 120.675, 139.325, NAN);
    setup.request.touches[0].high_count = 0;
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    check_contains(setup.error.message, "LOW:HIGH");
}

static void without_a_cutter_the_zero_stands_and_the_check_is_missed(void **state)
{
    (void)state;
    sample_setup setup;
    start_ring(&setup);
    setup.request.cutter = NULL;
    sample_chord(&setup, TU_AXIS_X, 120.675, 139.325, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[0].zero_mm, 110.0, 1e-9, "X zero, mm");
    check_nan(setup.result.axis[0].implied_diameter_mm, "cutter, mm");
    assert_true(sample_warned(&setup, "no cutter is named"));
}

static void both_sides_pool_their_scatter(void **state)
{
    (void)state; /* two touches a side, each pair 0.02 apart: s = 0.02/sqrt 2, u = s/2 of four */
    sample_setup setup;
    start_ring(&setup);
    setup.request.machine.step_mm = NAN;
    sample_chord(&setup, TU_AXIS_X, 120.665, 139.315, NAN);
    sample_chord(&setup, TU_AXIS_X, 120.685, 139.335, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    const tu_budget_line *line = &setup.result.axis[0].uncertainty.line[0];
    assert_string_equal(line->source, "touches");
    check_close(line->standard_mm, 0.02 / sqrt(2.0) / 2.0, 1e-12, "u of the midpoint, mm");
    check_close(line->dof, 2.0, 0.0, "degrees of freedom");
}

static void a_side_touched_once_takes_the_others_scatter(void **state)
{
    (void)state; /* three on one side at -0.01, 0, +0.01: s = 0.01; u = s/2 sqrt(1/3 + 1/1) */
    for (int once = 0; once < 2; once++) {
        sample_setup setup;
        start_ring(&setup);
        setup.request.machine.step_mm = NAN;
        for (int i = 0; i < 3; i++)
            sample_chord(&setup, TU_AXIS_X, 120.675 + 0.01 * (once ? i - 1 : 0),
                         139.325 + 0.01 * (once ? 0 : i - 1), NAN);
        *(once ? &setup.request.touches[0].high_count : &setup.request.touches[0].low_count) = 1;
        check_status(sample_solve(&setup), TU_OK, &setup.error);
        const tu_budget_line *line = &setup.result.axis[0].uncertainty.line[0];
        assert_string_equal(line->source, "touches");
        check_close(line->standard_mm, 0.005 * sqrt(4.0 / 3.0), 1e-12, "u of the midpoint, mm");
        check_close(line->dof, 2.0, 0.0, "degrees of freedom");
    }
}

static void an_odd_number_of_flutes_does_not_cancel(void **state)
{
    (void)state;
    sample_setup setup;
    start_ring(&setup);
    setup.cutter.turned_within_rad = 0.1;
    setup.cutter.flutes = 2;
    sample_chord(&setup, TU_AXIS_X, 120.675, 139.325, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    double even = setup.result.axis[0].uncertainty.standard_mm;
    setup.cutter.flutes = 3;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    double flutes = setup.result.axis[0].flutes.standard_mm;
    double odd = setup.result.axis[0].uncertainty.standard_mm;
    check_close(odd * odd - even * even, flutes * flutes / 2.0, 1e-12, "variance, mm2");
}

static void an_odd_cutter_that_was_not_turned_is_warned_of_and_an_even_one_not(void **state)
{
    (void)state; /* without an edge at the wall a chord may be up to the loss longer */
    sample_setup setup;
    start_ring(&setup);
    setup.cutter.flutes = 2;
    sample_chord(&setup, TU_AXIS_X, 120.675, 139.325, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_false(sample_warned(&setup, "turned to the wall"));
    setup.cutter.flutes = 3;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "no edge of the 3-flute cutter pin was turned"));
}

/* The least excess of a chord that is refused, by bisection. */
static double allowance(sample_setup *setup)
{
    double passed = 0.0;
    double refused = 1.0;
    while (refused - passed > 1e-6) {
        double excess = (passed + refused) / 2.0;
        setup->request.touches[0].low_count = setup->request.touches[0].high_count = 0;
        sample_chord(setup, TU_AXIS_X, 120.675 - excess / 2.0, 139.325 + excess / 2.0, NAN);
        if (!sample_solve(setup))
            passed = excess;
        else
            refused = excess;
    }
    return passed;
}

static void the_chord_is_allowed_three_standard_uncertainties(void **state)
{
    (void)state;
    sample_setup setup;
    start_ring(&setup);
    setup.cutter.run_out = tu_quantity_none();
    check_close(allowance(&setup), 0.05, 1e-5, "the floor, mm");
    setup.plate.bore.diameter = tu_quantity_mm(25.0, 0.12);
    setup.cutter.diameter = tu_quantity_mm(6.35, 0.08);
    double step = 0.0125 / sqrt(12.0);
    double variance = (0.12 * 0.12 + 0.08 * 0.08) / 3.0 + 2.0 * step * step;
    check_close(allowance(&setup), 3.0 * sqrt(variance), 1e-5, "allowance, mm");
}

static void two_chords_short_by_the_same_mean_another_cutter(void **state)
{
    (void)state; /* a pin of 6.35 is named, a cutter of 8 mm went round: 17 mm both ways */
    sample_setup setup;
    start_ring(&setup);
    sample_chord(&setup, TU_AXIS_X, 130.0 - 8.5, 130.0 + 8.5, NAN);
    sample_chord(&setup, TU_AXIS_Y, 90.0 - 8.5, 90.0 + 8.5, NAN);
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "means a cutter of 8.000 mm");
}

static void a_bore_at_a_face_takes_the_distance_of_its_axis_when_not_turned(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front");
    sample_ring(&setup);
    setup.plate.turned = false;
    setup.plate.bore.centre[1] = tu_quantity_mm(-30, 0.03);
    sample_chord(&setup, TU_AXIS_Y, 80.675, 99.325, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[1].zero_mm, 60.0, 1e-9, "Y zero, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_chord_confirms_the_cutter),
        cmocka_unit_test(a_chord_that_is_too_long_means_another_cutter_and_is_refused),
        cmocka_unit_test(a_chord_that_is_too_short_may_have_run_beside_the_centre),
        cmocka_unit_test(a_chord_known_to_run_beside_the_centre_is_taken_as_such),
        cmocka_unit_test(a_short_chord_through_the_centre_is_refused),
        cmocka_unit_test(a_chord_in_inches_is_named_as_such),
        cmocka_unit_test(contacts_wider_than_the_bore_are_refused),
        cmocka_unit_test(contacts_in_the_wrong_order_are_refused),
        cmocka_unit_test(a_cutter_that_does_not_go_into_the_bore_is_refused),
        cmocka_unit_test(one_side_alone_is_refused),
        cmocka_unit_test(without_a_cutter_the_zero_stands_and_the_check_is_missed),
        cmocka_unit_test(both_sides_pool_their_scatter),
        cmocka_unit_test(a_side_touched_once_takes_the_others_scatter),
        cmocka_unit_test(an_odd_number_of_flutes_does_not_cancel),
        cmocka_unit_test(an_odd_cutter_that_was_not_turned_is_warned_of_and_an_even_one_not),
        cmocka_unit_test(the_chord_is_allowed_three_standard_uncertainties),
        cmocka_unit_test(two_chords_short_by_the_same_mean_another_cutter),
        cmocka_unit_test(a_bore_at_a_face_takes_the_distance_of_its_axis_when_not_turned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
