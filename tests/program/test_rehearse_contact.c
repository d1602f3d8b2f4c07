/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rehearse_contact.c - contacts that bounce and wander. Expected figures by hand from the
 * sample scene: the plate's face at -72.47, the start 12.47 above it.
 */
#include "check.h"

#include "sample_scene.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static sample_run run;

static void start(double bounce_s)
{
    sample_scene_start(&run.scene);
    run.scene.bounce_s = bounce_s;
}

/* --- Bouncing --- */

static void the_first_edge_is_latched_however_long_it_bounces(void **state)
{
    (void)state;
    for (int i = 0; i < 2; i++) {
        start(i == 0 ? 0.0 : 0.2);
        sample_rehearse_clean(&run, "G21 G91 F60\nG38.2 Z-15\nG0 Z12\nM2\n");
        check_close(run.hit[0].position.z, -72.47, 1e-7, "z, mm");
    }
}

/* Off by 0.5 mm at 600 mm/min takes 50 ms. */
static void a_touch_that_starts_while_the_contact_bounces_is_refused(void **state)
{
    (void)state;
    static const char program[] = "G21 G91\nG38.2 Z-15 F60\nG1 Z0.5 F600\nG38.2 Z-1 F60\nM2\n";
    start(0.049);
    sample_rehearse_clean(&run, program);
    start(0.051);
    sample_rehearse_fault(&run, program, TU_FAULT_ALREADY_TOUCHING, 4);
    check_contains(run.result.text, "starts 50.0 ms after the cutter left the plate, and the "
                                    "contact bounces for 51.0 ms");
    assert_string_equal(run.result.struck, "plate");
    assert_int_equal(run.hits, 1);
}

/* 0.05 mm of overrun: 50 of 150 ms are gone before the cutter is clear at 60 mm/min. */
static void the_time_runs_from_where_the_cutter_leaves(void **state)
{
    (void)state;
    static const char program[] = "G21 G91\nG38.2 Z-15 F60\nG1 Z0.15\nG38.2 Z-1\nM2\n";
    start(0.101);
    run.scene.latch_delay_s = 0.05;
    sample_rehearse_fault(&run, program, TU_FAULT_ALREADY_TOUCHING, 4);
    check_contains(run.result.text, "starts 100.0 ms after");
    start(0.099);
    run.scene.latch_delay_s = 0.05;
    sample_rehearse_clean(&run, program);
}

static void a_dwell_or_a_pause_lets_it_settle(void **state)
{
    (void)state;
    start(0.3);
    sample_rehearse_fault(&run, "G21 G91 F60\nG38.2 Z-15\nG0 Z1\nG4 P0.25\nG38.2 Z-2\nM2\n",
                          TU_FAULT_ALREADY_TOUCHING, 5);
    sample_rehearse_clean(&run, "G21 G91 F60\nG38.2 Z-15\nG0 Z1\nG4 P0.29\nG38.2 Z-2\nM2\n");
    sample_rehearse_clean(&run, "G21 G91 F60\nG38.2 Z-15\nG0 Z1\nM0\nG38.2 Z-2\nM2\n");
    /* a pause while it still touches opens nothing */
    sample_rehearse_fault(&run, "G21 G91 F60\nG38.2 Z-15\nM0\nG0 Z1\nG38.2 Z-2\nM2\n",
                          TU_FAULT_ALREADY_TOUCHING, 5);
}

/* Several moves away: it is the one that leaves that counts. 0.06 of overrun, moves of 0.05 mm at
 * 60 mm/min: clear 10 ms into the second, so 3 x 50 - 60 = 90 ms before the touch. */
static void it_opens_in_the_move_that_leaves(void **state)
{
    (void)state;
    start(0.1);
    run.scene.latch_delay_s = 0.06;
    sample_rehearse_fault(&run,
                          "G21 G91 F60\nG38.2 Z-15\nG1 Z0.05\nG1 Z0.05\nG1 Z0.05\nG38.2 Z-1\nM2\n",
                          TU_FAULT_ALREADY_TOUCHING, 6);
    check_contains(run.result.text, "starts 90.0 ms after");
}

/* --- Wandering --- */

enum { TOUCHES = 200 };

/* A series of touches, 10 mm apart in time by a dwell of 5 s. */
static const char *series(void)
{
    static char program[16 * 1024];
    size_t used = (size_t)snprintf(program, sizeof program, "G21 G91 F60\nG38.2 Z-15\n");
    for (int i = 1; i < TOUCHES; i++)
        used +=
            (size_t)snprintf(program + used, sizeof program - used, "G1 Z2\nG4 P5\nG38.2 Z-4\n");
    snprintf(program + used, sizeof program - used, "G1 Z5\nM2\n");
    return program;
}

/* device_us is rounded to whole microseconds, and 1 um/s of drift makes 1e-9 mm of that. */
static const double wander_tolerance = 1e-7; /* mm */

static void a_drift_moves_each_touch_by_rate_times_time(void **state)
{
    (void)state;
    start(0);
    run.scene.drift_mm_per_s[TU_AXIS_Z] = 0.006 / 60; /* 6 um/min */
    sample_rehearse_clean(&run, series());
    assert_int_equal(run.hits, TOUCHES);
    for (size_t i = 0; i < TOUCHES; i++) {
        double t = (double)run.hit[i].device_us / 1e6;
        check_close(run.hit[i].position.z, -72.47 + 0.006 / 60 * t, wander_tolerance, "z, mm");
        check_close(run.hit[i].position.x, 220, 0, "x, mm");
    }
    check_between(run.hit[TOUCHES - 1].position.z + 72.47, 0.1, 0.3, "in all, mm");
}

static void warming_up_rises_to_its_height_with_its_time_constant(void **state)
{
    (void)state;
    start(0);
    run.scene.warm_up_mm[TU_AXIS_Z] = 0.025;
    run.scene.warm_up_tau_s = 600;
    sample_rehearse_clean(&run, series());
    for (size_t i = 0; i < TOUCHES; i++) {
        double t = (double)run.hit[i].device_us / 1e6;
        check_close(run.hit[i].position.z, -72.47 + 0.025 * (1 - exp(-t / 600)), wander_tolerance,
                    "z, mm");
    }
    run.scene.warm_up_mm[TU_AXIS_Z] = -0.025; /* shrinks: the same the other way */
    run.scene.drift_mm_per_s[TU_AXIS_Z] = 0.001 / 60;
    sample_rehearse_clean(&run, series());
    double t = (double)run.hit[150].device_us / 1e6;
    check_close(run.hit[150].position.z, -72.47 - 0.025 * (1 - exp(-t / 600)) + 0.001 / 60 * t,
                wander_tolerance, "z, mm");
}

/* Towards X+ the wall at 193.65, less the radius. */
static void each_axis_wanders_by_itself(void **state)
{
    (void)state;
    static const char program[] = "G21 G91 F60\nG38.2 Z-15\nG0 Z5\nG0 X-45\nG0 Z-9\nG4 P600\n"
                                  "G38.2 X25\nG0 X-2\nG0 Z9\nM2\n";
    start(0);
    run.scene.drift_mm_per_s[TU_AXIS_X] = -0.01 / 60;
    sample_rehearse_clean(&run, program);
    double t = (double)run.hit[1].device_us / 1e6;
    assert_true(t > 600);
    check_close(run.hit[0].position.z, -72.47, 1e-7, "z, mm");
    check_close(run.hit[1].position.x, 200 - 6.35 - 3.175 - 0.01 / 60 * t, wander_tolerance,
                "x, mm");
}

/* Delay and drift at once, as a series of trials at two feeds would see them. */
static void delay_and_drift_add(void **state)
{
    (void)state;
    start(0);
    run.scene.latch_delay_s = 0.004;
    run.scene.drift_mm_per_s[TU_AXIS_Z] = 0.006 / 60;
    sample_rehearse_clean(&run, series());
    for (size_t i = 0; i < TOUCHES; i++) {
        double t = (double)run.hit[i].device_us / 1e6 - 0.004; /* latched after the contact */
        check_close(run.hit[i].position.z, -72.47 - 0.004 * 60 / 60 + 0.006 / 60 * t,
                    wander_tolerance, "z, mm");
    }
}

/* The cutter grows by 0.1 mm into the plate while it stands on it: it still gets away. */
static void growth_while_touching_is_no_collision(void **state)
{
    (void)state;
    start(0);
    run.scene.drift_mm_per_s[TU_AXIS_Z] = 0.01 / 60;
    sample_rehearse_clean(&run, "G21 G91 F60\nG38.2 Z-15\nG4 P600\nG1 Z5\nG38.2 Z-9\nM2\n");
    double t = (double)run.hit[1].device_us / 1e6;
    check_close(run.hit[1].position.z, -72.47 + 0.01 / 60 * t, wander_tolerance, "z, mm");
}

/* A traverse 0.05 mm above the face is free while things are cold. */
static void collisions_wander_too(void **state)
{
    (void)state;
    start(0);
    run.scene.drift_mm_per_s[TU_AXIS_Z] = 0.006 / 60;
    sample_rehearse_clean(&run, "G21 G91\nG0 Z-12.42\nG4 P400\nG0 X5\nM2\n");
    sample_rehearse_fault(&run, "G21 G91\nG0 Z-12.42\nG4 P600\nG0 X5\nM2\n", TU_FAULT_COLLISION, 4);
}

static void a_scene_without_wandering_is_what_it_was_to_the_last_bit(void **state)
{
    (void)state;
    start(0);
    sample_rehearse_clean(&run, series());
    double z = run.hit[TOUCHES - 1].position.z;
    run.scene.warm_up_tau_s = 600; /* and no rise */
    sample_rehearse_clean(&run, series());
    check_same(run.hit[TOUCHES - 1].position.z, z, "z, mm");
}

static void wandering_that_cannot_be_is_refused(void **state)
{
    (void)state;
    static const double bad[] = {NAN, INFINITY, 1.0};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        start(0);
        run.scene.drift_mm_per_s[TU_AXIS_Y] = bad[i];
        assert_int_equal(sample_rehearse(&run, "M2\n") / 10, 3);
        start(0);
        run.scene.warm_up_mm[TU_AXIS_X] = bad[i] * 2;
        run.scene.warm_up_tau_s = 60;
        assert_int_equal(sample_rehearse(&run, "M2\n") / 10, 3);
    }
    start(0);
    run.scene.warm_up_mm[TU_AXIS_X] = 0.01; /* how fast? */
    assert_int_equal(sample_rehearse(&run, "M2\n"), TU_DATA_RANGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_edge_is_latched_however_long_it_bounces),
        cmocka_unit_test(a_touch_that_starts_while_the_contact_bounces_is_refused),
        cmocka_unit_test(the_time_runs_from_where_the_cutter_leaves),
        cmocka_unit_test(a_dwell_or_a_pause_lets_it_settle),
        cmocka_unit_test(it_opens_in_the_move_that_leaves),
        cmocka_unit_test(a_drift_moves_each_touch_by_rate_times_time),
        cmocka_unit_test(warming_up_rises_to_its_height_with_its_time_constant),
        cmocka_unit_test(each_axis_wanders_by_itself),
        cmocka_unit_test(delay_and_drift_add),
        cmocka_unit_test(growth_while_touching_is_no_collision),
        cmocka_unit_test(collisions_wander_too),
        cmocka_unit_test(a_scene_without_wandering_is_what_it_was_to_the_last_bit),
        cmocka_unit_test(wandering_that_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
