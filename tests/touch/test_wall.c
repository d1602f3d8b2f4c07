/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_wall.c - an axis touched on a wall: what is refused, what is warned of, what it costs.
 */
#include "check.h"
#include "sample_setup.h"

#include <math.h>
#include <string.h>

static const tu_budget_line *find_line(const tu_uncertainty *budget, const char *source)
{
    for (size_t i = 0; i < budget->count; i++)
        if (strcmp(budget->line[i].source, source) == 0)
            return &budget->line[i];
    return NULL;
}

static void a_wall_that_the_plate_lacks_is_named(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-right-top"); /* a quarter turn: b serves X */
    setup.plate.wall[1].present = false;
    sample_touch(&setup, TU_AXIS_X, 420.0, NAN);
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    check_contains(setup.error.message, "has no wall b, which would serve X");
}

static void a_wall_without_a_cutter_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.request.cutter = NULL;
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    assert_string_equal(setup.error.where, "{cutter}");
}

static void a_ball_without_a_known_depth_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.cutter.shape = TU_CUTTER_BALL;
    setup.plate.wall[0].touch_depth = tu_quantity_none();
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    assert_string_equal(setup.error.where, "{depth}");
}

static void the_depth_on_the_command_line_overrides_the_plates(void **state)
{
    (void)state; /* a ball of 10 at 2 mm reaches 4 mm: the 3-4-5 triangle */
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.cutter.shape = TU_CUTTER_BALL;
    setup.cutter.diameter = tu_quantity_mm(10.0, 0.0);
    setup.request.depth = tu_quantity_mm(2.0, 0.1);
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[0].effective_radius_mm, 4.0, 1e-12, "radius, mm");
    check_close(setup.result.axis[0].zero_mm, 100.0 + 6.35 + 4.0, 1e-12, "X zero, mm");
    /* dr/dh = (R - h)/sqrt(h(D - h)) = 3/4 */
    const tu_budget_line *line = find_line(&setup.result.axis[0].uncertainty, "touch depth");
    assert_non_null(line);
    check_close(line->standard_mm, 0.75 * 0.1 / sqrt(3.0), 1e-12, "u of the depth, mm");
}

static void a_ball_whose_depth_has_no_tolerance_says_so(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.cutter.shape = TU_CUTTER_BALL;
    setup.cutter.diameter = tu_quantity_mm(12.0, 0.0);
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "no tolerance is stated for the touch depth"));
}

static void half_the_diameters_tolerance_enters_the_budget(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    const tu_budget_line *line = find_line(&setup.result.axis[0].uncertainty, "cutter diameter");
    assert_non_null(line);
    check_close(line->standard_mm, 0.005 / sqrt(3.0), 1e-12, "u of half the diameter, mm");
}

static void run_out_enters_with_half_its_reading_over_root_two(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.cutter.run_out = tu_quantity_mm(0.04, NAN);
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    const tu_budget_line *line = find_line(&setup.result.axis[0].uncertainty, "run-out");
    assert_non_null(line);
    check_close(line->standard_mm, 0.02 / sqrt(2.0), 1e-12, "u of the run-out, mm");
}

static void a_two_flute_cutter_that_was_not_turned_is_warned_of(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.cutter.flutes = 2;
    setup.cutter.helix_rad = M_PI / 6.0;
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    /* edge sweeps 5 tan 30 / 3.175 = 0.9092 rad; half the gap is (pi - 0.9092)/2 = 1.1162 rad;
     * 3.175 (1 - cos 1.1162) = 1.781 */
    assert_true(sample_warned(&setup, "may reach up to 1.781 mm less"));
    assert_true(setup.result.axis[0].uncertainty.expanded_mm > 0.9);
}

static void saying_that_an_edge_was_turned_silences_the_warning(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.cutter.flutes = 2;
    setup.request.turned_within_rad = 5.0 * M_PI / 180.0;
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_false(sample_warned(&setup, "turned to the wall"));
    assert_true(setup.result.axis[0].uncertainty.expanded_mm < 0.05);
}

static void a_cutter_that_states_no_flutes_counts_as_a_pin_and_says_so(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "cutter pin states no flutes"));
}

static void a_touch_that_came_from_the_wrong_side_of_the_wall_is_refused(void **state)
{
    (void)state; /* an outward wall at a left corner is touched moving X+ */
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    setup.touch[0][0].direction = -1;
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "number 1 moved X-");
    check_contains(setup.error.message, "touched moving X+");
    setup.touch[0][0].direction = +1;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
}

static void one_touch_with_nothing_stored_leaves_repeatability_out_and_says_so(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "repeatability is left out"));
    assert_null(find_line(&setup.result.axis[0].uncertainty, "touches"));
}

static void one_touch_with_a_stored_repeatability_takes_it(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.request.machine.repeatability[0] = (tu_repeatability){0.006, 19};
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "X was touched once: a chip"));
    const tu_budget_line *line = find_line(&setup.result.axis[0].uncertainty, "touches");
    assert_non_null(line);
    check_close(line->standard_mm, 0.006, 1e-12, "u of the touch, mm");
    check_close(line->dof, 19.0, 0.0, "degrees of freedom");
}

static void a_single_face_takes_the_wall_that_was_named(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "left");
    setup.request.wall = 1;
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[0].zero_mm, 100.0 + 6.40 + 3.175, 1e-12, "X zero, mm");
}

static void a_face_of_a_plate_that_is_not_turned_takes_the_wall_of_its_axis(void **state)
{
    (void)state; /* a serves X and b serves Y at every corner, and so at a face alone */
    sample_setup setup;
    sample_start(&setup, "front");
    setup.plate.turned = false;
    sample_touch(&setup, TU_AXIS_Y, 80.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[1].zero_mm, 80.0 + 6.40 + 3.175, 1e-12, "Y zero, mm");
    setup.request.wall = 0;
    check_status(sample_solve(&setup), TU_USAGE, &setup.error);
    check_contains(setup.error.message, "its wall b serves Y");
}

static void a_face_says_when_the_other_wall_would_give_another_zero(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "left");
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_true(sample_warned(&setup, "wall b would give another zero"));
    setup.request.wall = 0;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_false(sample_warned(&setup, "wall b would give another zero"));
    setup.request.wall = -1;
    setup.plate.wall[1].offset = setup.plate.wall[0].offset;
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    assert_false(sample_warned(&setup, "wall b would give another zero"));
}

static void a_tip_deeper_than_a_risen_wall_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.plate.wall[0].rise = tu_quantity_mm(8.0, NAN);
    sample_touch(&setup, TU_AXIS_X, 100.0, NAN);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    setup.request.depth = tu_quantity_mm(8.0, NAN);
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "the wall rises only 8.000 mm");
}

static void messages_speak_the_unit_that_was_typed(void **state)
{
    (void)state;
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    setup.request.read_unit = TU_UNIT_INCH;
    setup.cutter.flutes = 2;
    sample_touch(&setup, TU_AXIS_X, 101.6, NAN);
    sample_touch(&setup, TU_AXIS_X, 104.14, NAN);
    check_status(sample_solve(&setup), TU_DATA_CONFLICT, &setup.error);
    check_contains(setup.error.message, "differ by 0.1000 in");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_wall_that_the_plate_lacks_is_named),
        cmocka_unit_test(a_wall_without_a_cutter_is_refused),
        cmocka_unit_test(a_ball_without_a_known_depth_is_refused),
        cmocka_unit_test(the_depth_on_the_command_line_overrides_the_plates),
        cmocka_unit_test(a_ball_whose_depth_has_no_tolerance_says_so),
        cmocka_unit_test(half_the_diameters_tolerance_enters_the_budget),
        cmocka_unit_test(run_out_enters_with_half_its_reading_over_root_two),
        cmocka_unit_test(a_two_flute_cutter_that_was_not_turned_is_warned_of),
        cmocka_unit_test(saying_that_an_edge_was_turned_silences_the_warning),
        cmocka_unit_test(a_cutter_that_states_no_flutes_counts_as_a_pin_and_says_so),
        cmocka_unit_test(a_touch_that_came_from_the_wrong_side_of_the_wall_is_refused),
        cmocka_unit_test(one_touch_with_nothing_stored_leaves_repeatability_out_and_says_so),
        cmocka_unit_test(one_touch_with_a_stored_repeatability_takes_it),
        cmocka_unit_test(a_single_face_takes_the_wall_that_was_named),
        cmocka_unit_test(a_face_of_a_plate_that_is_not_turned_takes_the_wall_of_its_axis),
        cmocka_unit_test(a_face_says_when_the_other_wall_would_give_another_zero),
        cmocka_unit_test(a_tip_deeper_than_a_risen_wall_is_refused),
        cmocka_unit_test(messages_speak_the_unit_that_was_typed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
