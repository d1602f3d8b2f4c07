/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_machine.c - what blocks do to the machine's state, by the clauses of
 *   T. R. Kramer, F. M. Proctor, E. Messina, "The NIST RS274/NGC Interpreter, version 3",
 *   NISTIR 6556, 2000,
 * quoted from memory beside each test.
 */
#include "check.h"

#include "program/machine.h"
#include "sample_scene.h"

#include <math.h>
#include <string.h>

static const double tolerance = 1e-9; /* mm */

static tu_machine_state state;
static tu_machine_step step;
static tu_machine_refusal refusal;
static double dwelt;

static void start_at(double x, double y, double z)
{
    static tu_scene scene;
    sample_scene_start(&scene);
    scene.start = (tu_machine_point){x, y, z};
    state = tu_machine_state_start(&scene);
    dwelt = 0;
}

/* Executes a program up to its end or its first refusal; every move gets to its target. */
static void execute(const char *program)
{
    tu_rs274_reader reader = tu_rs274_start(program, strlen(program));
    refusal.fault = TU_FAULT_NONE;
    while (refusal.fault == TU_FAULT_NONE) {
        tu_rs274_block block;
        bool have;
        tu_error error;
        check_status(tu_rs274_next(&reader, state.parameter, &block, &have, &error), TU_OK, &error);
        if (!have)
            return;
        tu_machine_execute(&state, &block, &step, &refusal);
        dwelt += step.dwell_s;
        if (refusal.fault == TU_FAULT_NONE)
            state.position = step.target;
    }
}

static void check_at(double x, double y, double z)
{
    assert_int_equal(refusal.fault, TU_FAULT_NONE);
    check_close(state.position.x, x, tolerance, "x, mm");
    check_close(state.position.y, y, tolerance, "y, mm");
    check_close(state.position.z, z, tolerance, "z, mm");
}

static void check_refused(const char *program, tu_fault fault, const char *part)
{
    execute(program);
    assert_int_equal(refusal.fault, fault);
    check_contains(refusal.text, part);
}

static void it_starts_in_millimetres_absolute_in_g54_without_motion_or_feed(void **unused)
{
    (void)unused;
    start_at(10, 20, -30);
    assert_int_equal(state.units, 21);
    assert_int_equal(state.distance, 90);
    assert_int_equal(state.slot, 1);
    check_close(state.feed_mm_per_min, 0, 0, "feed");
    check_close(state.parameter[5220], 1, 0, "#5220");
    check_refused("X5\n", TU_FAULT_BLOCK, "without a motion");
    check_refused("G1 X5\n", TU_FAULT_NO_FEED, "F");
}

static void a_motion_stays_in_force_until_another_of_its_group(void **unused)
{
    (void)unused; /* 3.4, table 4: G0 G1 G38.2 G80 are all of group 1 */
    start_at(0, 0, -10);
    execute("G0 X5\nY6\n");
    check_at(5, 6, -10);
    assert_int_equal(step.motion, TU_MOTION_RAPID);
    execute("F100 G1 X7\nZ-12\n");
    check_at(7, 6, -12);
    assert_int_equal(step.motion, TU_MOTION_LINEAR);
    execute("G38.2 X9\nX8\n");
    assert_int_equal(step.motion, TU_MOTION_PROBE);
    check_at(8, 6, -12);
    check_refused("G80\nX9\n", TU_FAULT_BLOCK, "without a motion");
}

static void distances_count_from_the_origin_or_from_where_the_tip_is(void **unused)
{
    (void)unused; /* 3.5.17 */
    start_at(10, 20, -30);
    execute("G91 G0 X1 Y-2\nX1 Z4\n");
    check_at(12, 18, -26);
    execute("G90 X3\n");
    check_at(3, 18, -26);
}

static void inches_count_for_lengths_and_feeds(void **unused)
{
    (void)unused; /* 3.5.7 */
    start_at(0, 0, -10);
    execute("G20 G0 X1 Y0.5\n");
    check_at(25.4, 12.7, -10);
    execute("F10 G1 X2\n");
    check_close(state.feed_mm_per_min, 254, tolerance, "feed, mm/min");
    execute("G21\nX3\n");
    check_at(3, 12.7, -10);
    check_close(state.feed_mm_per_min, 254, tolerance, "the same feed, mm/min");
}

static void a_feed_in_a_block_that_changes_the_unit_is_refused(void **unused)
{
    (void)unused; /* 3.8, table 8: F comes before the unit */
    start_at(0, 0, -10);
    check_refused("G20 F10\n", TU_FAULT_BLOCK, "unit");
    start_at(0, 0, -10);
    execute("G21 F10\n"); /* nothing changes */
    check_close(state.feed_mm_per_min, 10, 0, "feed, mm/min");
}

static void words_of_one_block_are_executed_in_the_standards_order(void **unused)
{
    (void)unused; /* 3.8, table 8: feed, unit, coordinate system, distance mode, then motion */
    start_at(0, 0, -10);
    execute("G10 L2 P2 X100\n");
    execute("X1 G0 G90 G55 G20\n");
    check_at(125.4, 0, -10);
    execute("X1 G91\n");
    check_at(150.8, 0, -10);
}

static void work_is_machine_minus_the_offset_of_the_slot_in_force(void **unused)
{
    (void)unused; /* 3.5.13 */
    start_at(0, 0, -10);
    execute("G10 L2 P1 X100 Y50 Z-80\nG0 X1 Y2 Z3\n");
    check_at(101, 52, -77);
    check_close(tu_machine_work_mm(&state, TU_AXIS_Y), 2, tolerance, "work y, mm");
    execute("G10 L2 P9 X7\nG59.3 X1\n");
    check_at(8, 52, -77);
    check_close(state.parameter[5220], 9, 0, "#5220");
}

static void g10_sets_an_origin_in_machine_coordinates_and_only_the_axes_it_states(void **unused)
{
    (void)unused; /* 3.5.5, its own example: G10 L2 P1 x3.5 y17.2 */
    start_at(0, 0, -10);
    state.offset_mm[0][2] = -44;
    execute("g10 l2 p1 x 3.5 y 17.2\n");
    check_close(state.parameter[5221], 3.5, tolerance, "#5221");
    check_close(state.parameter[5222], 17.2, tolerance, "#5222");
    check_close(state.parameter[5223], -44, tolerance, "#5223");
    assert_true(state.offset_set[0][0] && state.offset_set[0][1] && !state.offset_set[0][2]);
    assert_false(state.offset_set[1][0]);
    check_at(0, 0, -10); /* nothing moves */
}

static void g10_counts_at_once_only_where_its_slot_is_in_force(void **unused)
{
    (void)unused; /* 3.5.5: active or inactive at the time */
    start_at(0, 0, -10);
    execute("G0 X1\nG10 L2 P2 X50\nX1\n");
    check_at(1, 0, -10);
    execute("G10 L2 P1 X30\nX1\n");
    check_at(31, 0, -10);
    execute("G55 X1\n");
    check_at(51, 0, -10);
}

static void g10_is_absolute_in_either_distance_mode_and_in_the_unit_in_force(void **unused)
{
    (void)unused;
    start_at(0, 0, -10);
    execute("G91 G20 G10 L2 P3 X1\nG10 L2 P3 X2\n");
    check_close(state.offset_mm[2][0], 50.8, tolerance, "offset, mm");
    check_close(state.parameter[5261], 2, tolerance, "#5261, in");
    execute("G21\n");
    check_close(state.parameter[5261], 50.8, tolerance, "#5261, mm");
    /* the motion in force is suspended in a block with G10 (3.4) */
    execute("G0 X1\nG10 L2 P3 X9\n");
    check_at(1, 0, -10);
}

static void a_trip_is_stored_in_the_frame_and_unit_of_its_moment(void **unused)
{
    (void)unused; /* 3.5.9 */
    start_at(125.4, 60, -30);
    execute("G10 L2 P2 X100 Y10 Z-80\nG55 G20\n");
    tu_machine_store_trip(&state);
    check_close(state.parameter[5061], 1, tolerance, "#5061, in");
    check_close(state.parameter[5062], 50 / 25.4, tolerance, "#5062, in");
    check_close(state.parameter[5063], 50 / 25.4, tolerance, "#5063, in");
    execute("G21 G54\n");
    check_close(state.parameter[5061], 1, tolerance, "#5061 stays");
}

static void a_program_sets_its_offset_from_a_trip_and_the_offset_before(void **unused)
{
    (void)unused; /* new origin = old origin + reading in the old frame: 20 + 5.5 */
    start_at(25.5, 0, -30);
    execute("G10 L2 P1 X20\n");
    tu_machine_store_trip(&state);
    execute("#1=#5061\nG10 L2 P1 X[#[5221+20*0]+#1]\n");
    check_close(state.offset_mm[0][0], 25.5, tolerance, "offset, mm");
    check_close(tu_machine_work_mm(&state, TU_AXIS_X), 0, tolerance, "work x, mm");
}

static void settings_take_effect_after_their_block(void **unused)
{
    (void)unused; /* 3.3.3 */
    start_at(0, 0, -10);
    execute("#3=6\n#3=15 G0 X#3\n");
    check_at(6, 0, -10);
    execute("X#3\n");
    check_at(15, 0, -10);
}

static void parameters_of_the_machine_cannot_be_set(void **unused)
{
    (void)unused;
    start_at(0, 0, -10);
    check_refused("#5221=1\n", TU_FAULT_BLOCK, "G10 L2");
    check_refused("#5061=1\n", TU_FAULT_BLOCK, "#5061");
    check_refused("#5220=2\n", TU_FAULT_BLOCK, "#5220");
    execute("#5067=1 #30=2\n");
    assert_int_equal(refusal.fault, TU_FAULT_NONE);
}

static void a_probe_shorter_than_a_hundredth_of_an_inch_is_refused(void **unused)
{
    (void)unused; /* 3.5.9: 0.254 millimetre or 0.01 inch */
    start_at(0, 0, -10);
    check_refused("F10 G91 G38.2 X0.2539\n", TU_FAULT_PROBE_SHORT, "0.2539");
    execute("G38.2 X0.254\n");
    check_at(0.254, 0, -10);
    start_at(100, 0, -10);
    execute("G20\nF1 G91 G38.2 X-0.01\n");
    check_at(100 - 0.254, 0, -10);
    check_refused("X0.005 Y0.008\n", TU_FAULT_PROBE_SHORT, "3.5.9"); /* 0.0094 in along itself */
}

static void a_feed_of_zero_is_none(void **unused)
{
    (void)unused; /* 3.5.2, 3.5.9: an error with a feed of zero */
    start_at(0, 0, -10);
    check_refused("F10\nG1 X1 F0\n", TU_FAULT_NO_FEED, "G1");
    check_refused("G38.2 X4\n", TU_FAULT_NO_FEED, "G38.2");
    execute("G0 X4\n");
    check_at(4, 0, -10);
}

static void a_dwell_takes_its_seconds_and_moves_nothing(void **unused)
{
    (void)unused; /* 3.5.4 */
    start_at(0, 0, -10);
    execute("G0 X1\nG4 P2.5\nG4 P0.5\n");
    check_close(dwelt, 3.0, 1e-12, "seconds");
    check_at(1, 0, -10);
}

static void a_block_behind_a_slash_is_refused(void **unused)
{
    (void)unused; /* 3.3: it depends on a switch */
    start_at(0, 0, -10);
    check_refused("/G0 X1\n", TU_FAULT_BLOCK, "slash");
}

static void numbers_beyond_any_machine_are_refused(void **unused)
{
    (void)unused;
    start_at(0, 0, -10);
    check_refused("F99999999999\n", TU_FAULT_BLOCK, "feed");
    start_at(0, 0, -10);
    check_refused("G10 L2 P1 X99999999999\n", TU_FAULT_BLOCK, "offset");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_starts_in_millimetres_absolute_in_g54_without_motion_or_feed),
        cmocka_unit_test(a_motion_stays_in_force_until_another_of_its_group),
        cmocka_unit_test(distances_count_from_the_origin_or_from_where_the_tip_is),
        cmocka_unit_test(inches_count_for_lengths_and_feeds),
        cmocka_unit_test(a_feed_in_a_block_that_changes_the_unit_is_refused),
        cmocka_unit_test(words_of_one_block_are_executed_in_the_standards_order),
        cmocka_unit_test(work_is_machine_minus_the_offset_of_the_slot_in_force),
        cmocka_unit_test(g10_sets_an_origin_in_machine_coordinates_and_only_the_axes_it_states),
        cmocka_unit_test(g10_counts_at_once_only_where_its_slot_is_in_force),
        cmocka_unit_test(g10_is_absolute_in_either_distance_mode_and_in_the_unit_in_force),
        cmocka_unit_test(a_trip_is_stored_in_the_frame_and_unit_of_its_moment),
        cmocka_unit_test(a_program_sets_its_offset_from_a_trip_and_the_offset_before),
        cmocka_unit_test(settings_take_effect_after_their_block),
        cmocka_unit_test(parameters_of_the_machine_cannot_be_set),
        cmocka_unit_test(a_probe_shorter_than_a_hundredth_of_an_inch_is_refused),
        cmocka_unit_test(a_feed_of_zero_is_none),
        cmocka_unit_test(a_dwell_takes_its_seconds_and_moves_nothing),
        cmocka_unit_test(a_block_behind_a_slash_is_refused),
        cmocka_unit_test(numbers_beyond_any_machine_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
