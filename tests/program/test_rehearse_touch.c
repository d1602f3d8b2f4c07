/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rehearse_touch.c - probe moves: latch delay, noise, steps, what comments announce, what the
 * operator turns, and how a cutter gets away from what it touched.
 */
#include "check.h"

#include "sample_scene.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static sample_run run;

static void a_late_latch_reads_feed_times_delay_further_on(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.latch_delay_s = 0.004;
    sample_rehearse_clean(&run, "G91 F300\nG38.2 Z-15\nG0 Z2\nF30 G38.2 Z-3\nG0 Z2\nM2\n");
    check_close(run.hit[0].position.z, -72.47 - 0.004 * 300 / 60, 1e-7, "at 300 mm/min, mm");
    check_close(run.hit[1].position.z, -72.47 - 0.004 * 30 / 60, 1e-7, "at 30 mm/min, mm");
    /* the traverse rate limits the feed: 3000 mm/min */
    sample_rehearse_clean(&run, "G91 F9000\nG38.2 Z-15\nG0 Z2\nM2\n");
    check_close(run.hit[0].position.z, -72.47 - 0.004 * 3000 / 60, 1e-7, "at most, mm");
}

static void a_touch_stops_at_a_whole_step_along_the_axis_that_moved(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.machine.step_mm = 0.0125;
    run.scene.start.x = 220.003; /* between two steps: left alone */
    sample_rehearse_clean(&run, "G91 F30\nG38.2 Z-15\nM2\n");
    /* -72.47 / 0.0125 = -5797.6: the nearest step is -72.475 */
    check_close(run.hit[0].position.z, -72.475, 1e-9, "z, mm");
    check_close(run.hit[0].position.x, 220.003, 0, "x, mm");
    run.scene.machine.step_mm = 0.015; /* -4831.33 steps: up this time */
    sample_rehearse_clean(&run, "G91 F30\nG38.2 Z-15\nM2\n");
    check_close(run.hit[0].position.z, -72.465, 1e-9, "z, mm");
}

static void noise_has_the_stated_spread_about_the_contact(void **state)
{
    (void)state; /* 2000 touches in one program */
    static char program[64 * 1024];
    size_t used = (size_t)snprintf(program, sizeof program, "G91 F30\nG38.2 Z-15\n");
    for (int i = 1; i < 2000; i++)
        used += (size_t)snprintf(program + used, sizeof program - used, "G0 Z1\nG38.2 Z-2\n");
    snprintf(program + used, sizeof program - used, "M2\n");
    sample_scene_start(&run.scene);
    run.scene.noise_mm = 0.004;
    sample_rehearse_clean(&run, program);
    assert_int_equal(run.hits, 2000);
    double mean = 0, square = 0, lag = 0;
    for (size_t i = 0; i < 2000; i++)
        mean += (run.hit[i].position.z + 72.47) / 2000;
    for (size_t i = 0; i < 2000; i++) {
        double off = run.hit[i].position.z + 72.47 - mean;
        square += off * off / 1999;
        if (i > 0)
            lag += off * (run.hit[i - 1].position.z + 72.47 - mean) / 1999;
    }
    /* four standard errors: sd/sqrt(n), sd/sqrt(2 n), 1/sqrt(n) */
    check_close(mean, 0, 4 * 0.004 / sqrt(2000), "mean, mm");
    check_close(sqrt(square), 0.004, 4 * 0.004 / sqrt(4000), "standard deviation, mm");
    check_close(lag / square, 0, 4 / sqrt(2000), "lag-1 correlation");
}

static void comments_announce_series_and_searches(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, "G91 F30\n"
                                "( Touch Left-Edge z 1, SEARCH )\n"
                                "G38.2 Z-15\n"
                                "G0 Z1\n"
                                "G38.2 Z-2\n"
                                "G0 Z1\n"
                                "G38.2 Z-2 (touch trials, counts)\n"
                                "(touch later, search)\n"
                                "G0 Z1\n"
                                "(some remark, search)\n"
                                "G38.2 Z-2\n"
                                "(touched, search)\n"
                                "G0 Z1\n"
                                "G38.2 Z-2\n"
                                "G0 Z1\n"
                                "M2\n");
    static const struct {
        const char *series;
        bool ok;
    } expected[] = {
        {"Left-Edge", false}, {"", true}, {"trials", true}, {"later", false}, {"", true}};
    assert_int_equal(run.hits, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_string_equal(run.hit[i].series, expected[i].series);
        assert_true(run.hit[i].ok == expected[i].ok);
    }
}

static void a_slanting_touch_is_of_the_axis_that_moved_most(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, "G91 F30\nG38.2 X3 Z-15\nG0 Z2\nM2\n");
    assert_int_equal(run.hit[0].axis, TU_AXIS_Z);
    assert_int_equal(run.hit[0].direction, -1);
    check_close(run.hit[0].position.z, -72.47, 1e-7, "z, mm");
    check_close(run.hit[0].position.x, 220 + 12.47 / 5, 1e-7, "x, mm");
}

/* --- The operator --- */

static double left_wall_touch(const char *before)
{
    char program[300];
    snprintf(program, sizeof program, "G91 F30\n%sG0 X-45\nZ-16\nG38.2 X25\nG0 X-2\nM2\n", before);
    sample_rehearse_clean(&run, program);
    return run.hit[run.hits - 1].position.x;
}

static void the_operator_turns_an_edge_to_the_next_sideways_touch(void **state)
{
    (void)state; /* two straight flutes, at first along Y; wall at 193.65 */
    sample_scene_start(&run.scene);
    sample_scene_flutes(&run.scene, 2, M_PI / 2);
    run.scene.turned_within_rad = 0;
    check_close(left_wall_touch(""), 193.65 - 3.175 / 2, 1e-7, "no pause: the core, mm");
    check_close(left_wall_touch("M0\n"), 193.65 - 3.175, 1e-7, "turned, mm");
    /* a touch downwards in between asks for no edge; a pause in between does */
    check_close(left_wall_touch("M0\nG38.2 Z-15\nG0 Z12.47\n"), 193.65 - 3.175, 1e-7, "z, mm");
    run.scene.turned_within_rad = NAN;
    check_close(left_wall_touch("M0\n"), 193.65 - 3.175 / 2, 1e-7, "nobody turns it, mm");
}

static void a_pause_is_for_the_touches_up_to_the_next_pause(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_scene_flutes(&run.scene, 2, M_PI / 2);
    run.scene.turned_within_rad = 0;
    sample_rehearse_clean(&run,
                          "G91 F30\nM0\nM0\nG0 X-45\nZ-16\nG38.2 X25\nG0 X-2\nM0\nZ16\n"
                          "X45\nM0\nG38.2 Z-15\nG0 Z12.47\nY-45\nZ-16\nG38.2 Y25\nG0 Y-2\nM2\n");
    check_close(run.hit[0].position.x, 193.65 - 3.175, 1e-7, "x, mm");
    check_close(run.hit[2].position.y, 143.60 - 3.175, 1e-7, "y, mm");
}

static void the_edge_is_turned_to_within_the_stated_angle(void **state)
{
    (void)state; /* reach r cos(d), d even in -0.2..0.2: mean cos = sin(0.2)/0.2 */
    enum { RUNS = 400 };
    sample_scene_start(&run.scene);
    sample_scene_flutes(&run.scene, 2, 0);
    run.scene.turned_within_rad = 0.2;
    double mean = 0, least = INFINITY;
    for (int i = 0; i < RUNS; i++) {
        run.scene.seed = 77 + (uint64_t)i;
        double reach = 193.65 - left_wall_touch("M0\n");
        check_between(reach, 3.175 * cos(0.2) - 1e-7, 3.175 + 1e-7, "reach, mm");
        mean += reach / RUNS;
        least = fmin(least, reach);
    }
    /* the loss has a standard deviation of 0.0189 mm */
    check_close(mean, 3.175 * sin(0.2) / 0.2, 4 * 0.0189 / sqrt(RUNS), "mean reach, mm");
    check_close(least, 3.175 * cos(0.2), 0.003, "worst reach, mm");
}

static void in_absolute_distances_the_next_touch_is_found_too(void **state)
{
    (void)state; /* one flute: turned the wrong way, the core would touch */
    sample_scene_start(&run.scene);
    sample_scene_flutes(&run.scene, 1, M_PI / 2);
    run.scene.turned_within_rad = 0;
    sample_rehearse_clean(&run, "G90 F30\nM0\nG0 X175\nZ-76\n#1=200\nG38.2 X#1\nG0 X170\nM2\n");
    check_close(run.hit[0].position.x, 193.65 - 3.175, 1e-7, "x, mm");
}

/* --- Away from a contact --- */

static void a_late_latch_is_no_collision_when_the_cutter_backs_off(void **state)
{
    (void)state; /* 0.25 mm too far */
    sample_scene_start(&run.scene);
    run.scene.latch_delay_s = 0.05;
    run.scene.noise_mm = 0.002;
    sample_rehearse_clean(&run, "G91 F300\nG38.2 Z-15\nG0 Z5\nX-45\nZ-9\nG38.2 X25\nG0 X-2\nM2\n");
    check_close(run.hit[1].position.x, 190.475 + 0.25, 0.01, "x, mm");
}

static void back_in_contact_after_a_touch_is_a_collision(void **state)
{
    (void)state; /* an overrun of 0.25 mm, once left, is not tolerated again */
    sample_scene_start(&run.scene);
    run.scene.latch_delay_s = 0.05;
    sample_rehearse_fault(&run, "G91 F300\nG38.2 Z-15\nG0 Z1\nG0 Z-0.9\nM2\n", TU_FAULT_COLLISION,
                          4);
    check_close(run.result.at.z, -72.47, 1e-7, "z, mm");
    check_contains(run.result.text, "ran into the plate");
}

static void a_touch_flush_with_the_stock_is_one_of_the_plate(void **state)
{
    (void)state; /* wall and edge in one plane, the tip below the seat */
    sample_scene_start(&run.scene);
    run.scene.plate.wall[0].offset = tu_quantity_exact(0);
    run.scene.latch_delay_s = 0.01;
    sample_rehearse_clean(&run, "G91 F60\nG0 X-45\nZ-25\nG38.2 X30\nG0 X-2\nM2\n");
    check_close(run.hit[0].position.x, 200 - 3.175 + 0.01, 1e-7, "x, mm");
}

static void the_steepest_start_after_a_touch_is_still_judged(void **state)
{
    (void)state; /* dragged sideways over the face, pressed on, or clean away */
    sample_scene_start(&run.scene);
    run.scene.latch_delay_s = 0.01;
    sample_rehearse_fault(&run, "G91 F60\nG38.2 Z-15\nG0 X5\nM2\n", TU_FAULT_COLLISION, 3);
    check_contains(run.result.text, "dragged along the plate");
    sample_rehearse_fault(&run, "G91 F60\nG38.2 Z-15\nG0 Z-1\nM2\n", TU_FAULT_COLLISION, 3);
    sample_rehearse_clean(&run, "G91 F60\nG38.2 Z-15\nG0 X5 Z5\nM2\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_late_latch_reads_feed_times_delay_further_on),
        cmocka_unit_test(a_touch_stops_at_a_whole_step_along_the_axis_that_moved),
        cmocka_unit_test(noise_has_the_stated_spread_about_the_contact),
        cmocka_unit_test(comments_announce_series_and_searches),
        cmocka_unit_test(a_slanting_touch_is_of_the_axis_that_moved_most),
        cmocka_unit_test(the_operator_turns_an_edge_to_the_next_sideways_touch),
        cmocka_unit_test(a_pause_is_for_the_touches_up_to_the_next_pause),
        cmocka_unit_test(the_edge_is_turned_to_within_the_stated_angle),
        cmocka_unit_test(in_absolute_distances_the_next_touch_is_found_too),
        cmocka_unit_test(a_late_latch_is_no_collision_when_the_cutter_backs_off),
        cmocka_unit_test(back_in_contact_after_a_touch_is_a_collision),
        cmocka_unit_test(a_touch_flush_with_the_stock_is_one_of_the_plate),
        cmocka_unit_test(the_steepest_start_after_a_touch_is_still_judged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
