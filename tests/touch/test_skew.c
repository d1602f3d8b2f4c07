/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_skew.c - the stock's angle: which baseline counts, what it costs, what is refused.
 *
 * The corner of a turned stock is tested against a simulated contact in test_zero_contact.c.
 */
#include "check.h"
#include "sample_setup.h"

#include <math.h>

#define DEGREE (M_PI / 180.0)

static void start_turned(sample_setup *setup)
{
    sample_start(setup, "front-left-top");
    sample_touch(setup, TU_AXIS_X, 100.0, 130.0);
    sample_touch(setup, TU_AXIS_Y, 80.0, 150.0);
}

static void add_baseline(sample_setup *setup, double x1, double y1, double x2, double y2)
{
    tu_zero_request *request = &setup->request;
    request->baseline[request->baseline_count++] = (tu_baseline){{x1, y1}, {x2, y2}};
}

static void a_baseline_along_the_front_gives_the_angle_either_way_round(void **state)
{
    (void)state; /* 1 mm in 100 mm towards Y+ */
    for (int way = 0; way < 2; way++) {
        sample_setup setup;
        start_turned(&setup);
        if (way == 0)
            add_baseline(&setup, 150, 80, 250, 81);
        else
            add_baseline(&setup, 250, 81, 150, 80);
        check_status(sample_solve(&setup), TU_OK, &setup.error);
        check_close(setup.result.skew.angle_rad, atan(0.01), 1e-12, "angle, rad");
        assert_int_equal(setup.result.skew.edge_axis, 0);
    }
}

static void a_baseline_along_the_left_edge_gives_the_same_angle(void **state)
{
    (void)state; /* turned towards Y+, a left edge leans to the left on its way back */
    sample_setup setup;
    start_turned(&setup);
    add_baseline(&setup, 100, 150, 99, 250);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.skew.angle_rad, atan(0.01), 1e-12, "angle, rad");
    assert_int_equal(setup.result.skew.edge_axis, 1);
}

static void the_longer_baseline_counts_and_a_disagreement_is_said(void **state)
{
    (void)state;
    sample_setup setup;
    start_turned(&setup);
    add_baseline(&setup, 100, 150, 99, 250);
    add_baseline(&setup, 150, 80, 450, 80);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.skew.angle_rad, 0.0, 1e-12, "angle, rad");
    check_close(setup.result.skew.baseline_mm, 300.0, 1e-9, "baseline, mm");
    assert_true(sample_warned(&setup, "disagree by 10.00 mm per metre"));
}

static void the_angle_is_as_good_as_its_touches_over_its_length(void **state)
{
    (void)state;
    sample_setup setup;
    start_turned(&setup);
    setup.request.machine.step_mm = NAN;
    setup.request.machine.repeatability[TU_AXIS_Y] = (tu_repeatability){0.01, 30};
    add_baseline(&setup, 150, 80, 250, 80);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.skew.standard_rad, 0.01 * sqrt(2.0) / 100.0, 1e-12, "u, rad");
}

static void an_angle_of_zero_gives_the_square_answer(void **state)
{
    (void)state;
    sample_setup setup;
    start_turned(&setup);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    double x = setup.result.axis[0].zero_mm;
    double y = setup.result.axis[1].zero_mm;
    add_baseline(&setup, 150, 80, 250, 80);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[0].zero_mm, x, 1e-12, "X zero, mm");
    check_close(setup.result.axis[1].zero_mm, y, 1e-12, "Y zero, mm");
}

/* The budget by brute force: each input moved by its standard uncertainty in turn. */
static void the_budget_of_a_turned_corner_agrees_with_moving_each_input(void **state)
{
    (void)state;
    sample_setup base;
    start_turned(&base);
    base.request.machine.step_mm = NAN;
    base.request.machine.repeatability[0] = (tu_repeatability){0.010, 40};
    base.request.machine.repeatability[1] = (tu_repeatability){0.008, 40};
    add_baseline(&base, 150, 80, 250, 80 + 100 * tan(6.0 * DEGREE));
    check_status(sample_solve(&base), TU_OK, &base.error);
    double u_y = 0.008;
    double variance[2] = {0.0, 0.0};
    for (int input = 0; input < 7; input++) {
        /* Struct copies would keep pointers into base; build each set-up anew. */
        sample_setup moved;
        start_turned(&moved);
        moved.request.machine = base.request.machine;
        double from_y = 80.0;
        double to_y = 80 + 100 * tan(6.0 * DEGREE);
        double h = 1e-4; /* of each standard uncertainty */
        moved.touch[0][0].position_mm += input == 0 ? h * 0.010 : 0.0;
        moved.touch[1][0].position_mm += input == 1 ? h * u_y : 0.0;
        moved.plate.wall[0].offset.value_mm += input == 2 ? h * 0.02 / sqrt(3.0) : 0.0;
        moved.plate.wall[1].offset.value_mm += input == 3 ? h * 0.02 / sqrt(3.0) : 0.0;
        moved.cutter.diameter.value_mm += input == 4 ? h * 0.01 / sqrt(3.0) : 0.0;
        from_y += input == 5 ? h * u_y * cos(6.0 * DEGREE) : 0.0;
        to_y += input == 6 ? h * u_y * cos(6.0 * DEGREE) : 0.0;
        add_baseline(&moved, 150, from_y, 250, to_y);
        check_status(sample_solve(&moved), TU_OK, &moved.error);
        for (int axis = 0; axis < 2; axis++) {
            double change = (moved.result.axis[axis].zero_mm - base.result.axis[axis].zero_mm) / h;
            variance[axis] += change * change;
        }
    }
    for (int axis = 0; axis < 2; axis++) {
        /* The baseline's ends are taken as touched across the edge; its length in the machine's
         * axis differs by cos 6 deg, which the two inputs above make up for to second order. */
        check_relative(base.result.axis[axis].uncertainty.standard_mm, sqrt(variance[axis]), 0.02,
                       "combined, mm");
    }
}

static void repeats_along_a_turned_wall_are_levelled_before_they_are_compared(void **state)
{
    (void)state; /* 5 degrees, touches 10 mm apart along the wall: 0.87 mm apart as read */
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    double t = tan(5.0 * DEGREE);
    sample_touch(&setup, TU_AXIS_X, 100.0, 130.0);
    sample_touch(&setup, TU_AXIS_X, 100.0 - 10.0 * t, 140.0);
    sample_touch(&setup, TU_AXIS_Y, 80.0, 150.0);
    sample_touch(&setup, TU_AXIS_Y, 80.0 + 10.0 * t, 160.0);
    add_baseline(&setup, 150, 80, 250, 80 + 100 * t);
    check_status(sample_solve(&setup), TU_OK, &setup.error);
    check_close(setup.result.axis[0].touch_sd_mm, 0.0, 1e-9, "scatter of X, mm");
    check_close(setup.result.axis[1].touch_sd_mm, 0.0, 1e-9, "scatter of Y, mm");
}

static void a_turned_wall_needs_the_other_coordinate(void **state)
{
    (void)state;
    sample_setup setup;
    start_turned(&setup);
    setup.touch[0][0].across_mm = NAN;
    add_baseline(&setup, 150, 80, 250, 81);
    check_status(sample_solve(&setup), TU_DATA_MISSING, &setup.error);
    check_contains(setup.error.message, "{touches.x} VALUE@Y");
}

static void baselines_that_tell_nothing_are_refused(void **state)
{
    (void)state;
    const double bad[][4] = {
        {150, 80, 153, 80}, {150, 80, 250, 170}, {150, 170, 250, 80}, {150, 80, NAN, 80}};
    for (size_t i = 0; i < 4; i++) {
        sample_setup setup;
        start_turned(&setup);
        add_baseline(&setup, bad[i][0], bad[i][1], bad[i][2], bad[i][3]);
        check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
        assert_string_equal(setup.error.where, "{skew_from}");
    }
}

static void a_baseline_outside_the_travel_is_refused(void **state)
{
    (void)state;
    sample_setup setup;
    start_turned(&setup);
    add_baseline(&setup, 150, 80, 3810, 81);
    check_status(sample_solve(&setup), TU_DATA_RANGE, &setup.error);
    check_contains(setup.error.message, "X 3810.000 mm lies outside");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_baseline_along_the_front_gives_the_angle_either_way_round),
        cmocka_unit_test(a_baseline_along_the_left_edge_gives_the_same_angle),
        cmocka_unit_test(the_longer_baseline_counts_and_a_disagreement_is_said),
        cmocka_unit_test(the_angle_is_as_good_as_its_touches_over_its_length),
        cmocka_unit_test(an_angle_of_zero_gives_the_square_answer),
        cmocka_unit_test(the_budget_of_a_turned_corner_agrees_with_moving_each_input),
        cmocka_unit_test(a_turned_wall_needs_the_other_coordinate),
        cmocka_unit_test(baselines_that_tell_nothing_are_refused),
        cmocka_unit_test(a_baseline_outside_the_travel_is_refused),
        cmocka_unit_test(repeats_along_a_turned_wall_are_levelled_before_they_are_compared),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
