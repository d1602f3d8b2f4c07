/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rehearse.c - whole programs on the virtual machine: a corner touched and set, what the sinks
 * are told, time, and the same again in other words.
 */
#include "check.h"

#include "sample_scene.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double tolerance = 1e-7; /* mm */

static sample_run run;

/* A corner with the sample plate: face at -72.47, walls at 193.65 and 143.60. */
static const char corner_program[] = "(Front left corner, sample plate)\n"
                                     "M5 M9\n"
                                     "G17 G21 G94 G54 G91\n"
                                     "(touch corner z 1, search)\n"
                                     "G38.2 Z-15 F150\n"
                                     "G0 Z2\n"
                                     "(touch corner z 1, counts)\n"
                                     "G38.2 Z-3 F30\n"
                                     "G0 Z5\n"
                                     "(MSG, turn a cutting edge to the left wall, then continue)\n"
                                     "M0\n"
                                     "G0 X-45\n"
                                     "G0 Z-9\n"
                                     "(touch corner x 1, counts)\n"
                                     "G38.2 X25 F60\n"
                                     "G0 X-2\n"
                                     "G0 Z9\n"
                                     "G0 X45\n"
                                     "M0\n"
                                     "G0 Y-45\n"
                                     "G1 Z-9 F600\n"
                                     "(touch corner y 1, counts)\n"
                                     "G38.2 Y25 F60\n"
                                     "G0 Y-2\n"
                                     "G0 Z9\n"
                                     "M2\n";

static void check_hit(size_t index, tu_axis axis, int direction, double value, bool ok)
{
    const tu_hit *hit = &run.hit[index];
    const double place[] = {hit->position.x, hit->position.y, hit->position.z};
    assert_int_equal(hit->sequence, index + 1);
    assert_int_equal(hit->axis, axis);
    assert_int_equal(hit->direction, direction);
    check_close(place[axis], value, tolerance, "place, mm");
    assert_true(hit->ok == ok);
    assert_string_equal(hit->series, "corner");
    assert_string_equal(hit->utc, "");
}

static void a_corner_program_touches_face_and_walls(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, corner_program);
    assert_int_equal(run.hits, 4);
    assert_int_equal(run.result.hits, 4);
    check_hit(0, TU_AXIS_Z, -1, -72.47, false);
    check_hit(1, TU_AXIS_Z, -1, -72.47, true);
    check_hit(2, TU_AXIS_X, +1, 200 - 6.35 - 3.175, true);
    check_hit(3, TU_AXIS_Y, +1, 150 - 6.40 - 3.175, true);
    check_close(run.hit[2].position.y, 170, tolerance, "across, mm");
    check_close(run.hit[2].position.z, -72.47 + 5 - 9, tolerance, "height, mm");
}

static void pauses_are_told_with_the_message_before_them(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, corner_program);
    assert_int_equal(run.pauses, 2);
    assert_int_equal(run.result.pauses, 2);
    assert_int_equal(run.pause_line[0], 11);
    assert_string_equal(run.pause[0], "turn a cutting edge to the left wall, then continue");
    assert_string_equal(run.pause[1], ""); /* a message is for one pause */
}

static void moves_join_and_say_what_they_are(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, corner_program);
    assert_int_equal(run.moves, 15);
    tu_machine_point last = run.scene.start;
    for (size_t i = 0; i < run.moves; i++) {
        const tu_rehearsal_move *move = &run.move[i];
        assert_memory_equal(&move->from, &last, sizeof last);
        last = move->to;
        assert_true(move->contact == (move->kind == 2));
    }
    assert_memory_equal(&run.result.end, &last, sizeof last);
    assert_int_equal(run.move[0].line, 5);
    assert_int_equal(run.move[0].kind, 2);
    assert_int_equal(run.move[1].kind, 0);
    check_close(run.move[1].feed_mm_per_min, 3000, 0, "traverse rate, mm/min");
    assert_int_equal(run.move[11].kind, 1);
    check_close(run.move[11].feed_mm_per_min, 600, 0, "feed, mm/min");
}

static void seconds_are_lengths_by_feeds_and_dwells(void **state)
{
    (void)state; /* 10 mm at 600, 20 mm at 1200, 0.5 s; 3000 is the most */
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, "G91 F600\nG1 Z5\nZ5\nF1200 X20\nG4 P0.5\nF90000 X100\nM2\n");
    check_close(run.result.seconds, 1.0 + 1.0 + 0.5 + 2.0, 1e-12, "seconds");
    sample_rehearse_clean(&run, "G91 F60\nG0 Z10\nG38.2 Z-25\nM2\n");
    check_close(run.result.seconds, 0.2 + 22.47, 1e-9, "seconds");
    assert_int_equal(run.hit[0].device_us, 22670000);
}

static void inches_and_absolute_distances_touch_the_same_places(void **state)
{
    (void)state;
    static const char *const program[] = {
        "G91 F100\nG0 X-45\nZ-16.25\nG38.2 X25\nG0 X-2\nM2\n",
        "G20 G91\nF3.937\nG0 X[-45/25.4]\nZ[-16.25/25.4]\nG38.2 X[25/25.4]\nG0 X[-2/25.4]\nM2\n",
        "G90 F100\nG0 X175\nZ-76.25\nG38.2 X200\nG91\nG0 X-2\nM2\n",
        "G10 L2 P4 X1000 Y7 Z-80\nG57 F100\nG0 X-825\nZ3.75\nG38.2 X-800\nG0 X[#5061-2]\nM2\n",
    };
    sample_scene_start(&run.scene);
    for (size_t i = 0; i < sizeof program / sizeof program[0]; i++) {
        sample_rehearse_clean(&run, program[i]);
        assert_int_equal(run.hits, 1);
        check_close(run.hit[0].position.x, 190.475, tolerance, "x, mm");
        check_close(run.hit[0].position.z, -76.25, 1e-9, "z, mm");
        check_close(run.result.end.x, 188.475, tolerance, "end, mm");
    }
}

/* Touches and then sets G55 from parameters: the offset of plate and cutter is known. */
static const char setting_program[] = "G17 G21 G94 G55 G91 F50\n"
                                      "G38.2 Z-15\n"
                                      "#1=#5063\n"
                                      "G0 Z5\n"
                                      "X-45\n"
                                      "Z-9\n"
                                      "G38.2 X25\n"
                                      "#2=#5061\n"
                                      "G0 X-2\n"
                                      "Z9\n"
                                      "X45\n"
                                      "Y-45\n"
                                      "Z-9\n"
                                      "G38.2 Y25\n"
                                      "#3=#5062\n"
                                      "G0 Y-2\n"
                                      "G10 L2 P2 X[#5241+#2+9.525] Y[#5242+#3+9.575] "
                                      "Z[#5243+#1-9.53]\n"
                                      "M2\n";

static void a_program_that_sets_its_offset_sets_the_truth(void **state)
{
    (void)state;
    tu_machine_point zero;
    sample_scene_start(&run.scene);
    run.scene.slot_mm[1][0] = 33.25; /* an old offset that is in force meanwhile */
    run.scene.slot_mm[1][2] = -71;
    check_status(tu_scene_truth(&run.scene, run.scene.plate_corner, &zero, NULL), TU_OK, NULL);
    sample_rehearse_clean(&run, setting_program);
    check_close(run.result.slot_mm[1][0], zero.x, tolerance, "x, mm");
    check_close(run.result.slot_mm[1][1], zero.y, tolerance, "y, mm");
    check_close(run.result.slot_mm[1][2], zero.z, tolerance, "z, mm");
    for (int slot = 0; slot < 9; slot++)
        for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
            assert_true(run.result.slot_set[slot][axis] == (slot == 1));
    check_close(run.result.slot_mm[0][0], 0, 0, "G54 as it was, mm");
}

static void a_program_may_end_with_a_percent_sign(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, "%\nG91 G0 Z5\n%\nthis is no block\n");
    check_close(run.result.end.z, -55, 0, "z, mm");
}

static void what_stands_behind_m2_is_not_run(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, "G91 G0 Z5\nM2\nG0 Z-50\n");
    check_close(run.result.end.z, -55, 0, "z, mm");
}

static tu_status stop(void *context, const tu_hit *hit)
{
    (void)hit;
    ++*(int *)context;
    return TU_SYSTEM_IO;
}

static void a_sink_that_fails_ends_the_rehearsal(void **state)
{
    (void)state;
    int told = 0;
    const tu_rehearsal_sink sink = {.context = &told, .hit = stop};
    tu_rehearsal result;
    sample_scene_start(&run.scene);
    check_status(
        tu_rehearse(&run.scene, corner_program, strlen(corner_program), &sink, &result, NULL),
        TU_SYSTEM_IO, NULL);
    assert_int_equal(told, 1);
    assert_int_equal(result.hits, 1);
    check_status(
        tu_rehearse(&run.scene, corner_program, strlen(corner_program), NULL, &result, NULL), TU_OK,
        NULL); /* nobody needs to listen */
    assert_int_equal(result.hits, 4);
}

static void the_same_seed_gives_the_same_to_the_last_bit_and_another_does_not(void **state)
{
    (void)state;
    static sample_run first;
    sample_scene_start(&first.scene);
    first.scene.noise_mm = 0.003;
    sample_scene_flutes(&first.scene, 2, 0.3);
    first.scene.turned_within_rad = 0.1;
    first.scene.cutter.run_out = tu_quantity_exact(0.02);
    run.scene = first.scene;
    sample_rehearse_clean(&first, corner_program);
    sample_rehearse_clean(&run, corner_program);
    for (size_t i = 0; i < 4; i++)
        assert_memory_equal(&run.hit[i].position, &first.hit[i].position, sizeof(tu_machine_point));
    run.scene.seed++;
    sample_rehearse_clean(&run, corner_program);
    for (size_t i = 0; i < 4; i++)
        assert_memory_not_equal(&run.hit[i].position, &first.hit[i].position,
                                sizeof(tu_machine_point));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_corner_program_touches_face_and_walls),
        cmocka_unit_test(pauses_are_told_with_the_message_before_them),
        cmocka_unit_test(moves_join_and_say_what_they_are),
        cmocka_unit_test(seconds_are_lengths_by_feeds_and_dwells),
        cmocka_unit_test(inches_and_absolute_distances_touch_the_same_places),
        cmocka_unit_test(a_program_that_sets_its_offset_sets_the_truth),
        cmocka_unit_test(a_program_may_end_with_a_percent_sign),
        cmocka_unit_test(what_stands_behind_m2_is_not_run),
        cmocka_unit_test(a_sink_that_fails_ends_the_rehearsal),
        cmocka_unit_test(the_same_seed_gives_the_same_to_the_last_bit_and_another_does_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
