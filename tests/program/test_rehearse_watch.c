/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rehearse_watch.c - what a program leaves to chance is told in a warning, once.
 */
#include "check.h"

#include "sample_scene.h"

#include <math.h>
#include <string.h>

static sample_run run;

static void rehearse(const char *program)
{
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, program);
}

static void check_warned(const char *program, const char *part)
{
    rehearse(program);
    if (run.result.warnings.count != 1)
        fail_msg("%zu warnings of: %s", run.result.warnings.count, program);
    check_contains(run.result.warnings.text[0], part);
}

static void check_quiet(const char *program)
{
    rehearse(program);
    if (run.result.warnings.count != 0)
        fail_msg("%s: %s", program, run.result.warnings.text[0]);
}

static void a_move_before_the_unit_is_told_once(void **state)
{
    (void)state;
    check_warned("G91\nG0 Z1\nG0 Z1\nM2\n", "line 2: this moves before G20 or G21 is stated");
    check_warned("G10 L2 P1 X5\nM2\n", "line 1: this sets an offset before G20 or G21");
    check_quiet("G91 G21 G0 Z1\nM2\n");
    check_quiet("M5\nM2\n");
    check_quiet("G21\nG10 L2 P1 X5\nM2\n");
}

static void a_move_before_the_distance_mode_is_told_once(void **state)
{
    (void)state;
    check_warned("G21\nG0 Z-59\nG0 Z-58\nM2\n", "line 2: this moves before G90 or G91 is stated");
    check_quiet("G21 G90 G0 Z-59\nM2\n");
}

static void a_parameter_never_set_is_told_where_it_counts(void **state)
{
    (void)state;
    check_warned("G21 G91\nG0 Z[1+#4]\nM2\n", "line 2, column 8: the value of #4 was never set");
    check_warned("G21 G91\nG10 L2 P1 Z#7\nM2\n", "column 12: the value of #7");
    check_warned("G21 G91\nG1 Z1 F[60+#7]\nM2\n", "#7");
    check_warned("G21 G91\nG4 P#7\nM2\n", "#7");
    check_quiet("G21 G91\n#4=1\nG0 Z[1+#4]\nM2\n");
    check_quiet("G21 G91\n#4=#5\nM2\n"); /* it goes nowhere */
}

static void it_is_told_by_way_of_other_parameters(void **state)
{
    (void)state;
    check_warned("G21 G91\n#1=[#4+2]\nG0 Z#1\nM2\n", "line 3, column 5: the value of #1");
    check_quiet("G21 G91\n#1=[#4+2]\n#1=3\nG0 Z#1\nM2\n");
    /* the value itself is as if 0 had been set */
    check_close(run.result.end.z, -57, 1e-9, "z, mm");
    rehearse("G21 G91\n#1=[#4+2]\nG0 Z#1\nM2\n");
    check_close(run.result.end.z, -58, 1e-9, "z, mm");
}

/* NISTIR 6556, 3.2.1 and 3.5.9: a touch sets #5061 to #5063; the offsets are the machine's. */
static void the_trip_is_set_by_a_touch_and_offsets_always(void **state)
{
    (void)state;
    check_warned("G21 G90\nG10 L2 P1 Z#5063\nM2\n", "#5063");
    check_quiet("G21 G91\nG38.2 Z-15 F60\nG10 L2 P1 Z#5063\nM2\n");
    check_quiet("G21 G90\nG10 L2 P1 Z#5223\nM2\n");
}

static void other_errors_of_range_stay_what_they_are(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G21 G91\nG0 Z[1/0]\nM2\n", TU_FAULT_BLOCK, 2);
    sample_rehearse_fault(&run, "G21 G91\nG0 Z[1/#3]\nM2\n", TU_FAULT_BLOCK, 2);
    sample_rehearse_fault(&run, "G21 G91\nG0 Z#9999\nM2\n", TU_FAULT_BLOCK, 2);
    assert_int_equal(run.result.warnings.count, 0);
}

static void a_first_touch_on_foil_beside_the_plate_is_told(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.bed_conducts = true;
    run.scene.start = (tu_machine_point){700, 600, -60};
    sample_rehearse_clean(&run, "G21 G91\nG38.2 Z-50 F60\nG0 Z5\nG38.2 Z-9\nG0 Z5\nM2\n");
    assert_int_equal(run.result.warnings.count, 1);
    check_contains(run.result.warnings.text[0], "line 2: the first touch down met the bed");
    run.scene.plate_present = false; /* then it is what is meant */
    sample_rehearse_clean(&run, "G21 G91\nG38.2 Z-50 F60\nG0 Z5\nM2\n");
    assert_int_equal(run.result.warnings.count, 0);
}

/* A wall of 8 above the face at -72.47, its bar from 12 to 18 outside the left edge at 200. */
static void a_first_touch_on_the_top_of_a_wall_is_told(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.plate.wall[0].offset = tu_quantity_exact(12);
    run.scene.plate.wall[0].facing = TU_FACES_INWARD;
    run.scene.plate.wall[0].rise = tu_quantity_exact(8);
    run.scene.start = (tu_machine_point){185, 170, -60};
    sample_rehearse_clean(&run, "G21 G91\nG38.2 Z-9 F60\nG0 Z5\nM2\n");
    assert_int_equal(run.result.warnings.count, 1);
    check_contains(run.result.warnings.text[0],
                   "line 2: the first touch down met the plate 8.000 mm above its face");
}

/* Over the edge, a ball touches beside its tip: lower. By hand: the wall's edge is at 193.65, the
 * axis at 192.65, 1 off; 3.175 - sqrt(3.175^2 - 1) = 0.1616 below. */
static void a_ball_over_the_edge_is_told(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.cutter.shape = TU_CUTTER_BALL;
    run.scene.start.x = 192.65;
    sample_rehearse_clean(&run, "G21 G91\nG38.2 Z-14 F60\nG0 Z5\nM2\n");
    assert_int_equal(run.result.warnings.count, 1);
    check_contains(run.result.warnings.text[0], "met the plate 0.162 mm below its face");
}

static void a_touch_of_the_face_is_quiet(void **state)
{
    (void)state;
    check_quiet("G21 G91\nG38.2 Z-15 F60\nG0 Z5\nM2\n");
    run.scene.latch_delay_s = 0.02; /* late, and yet on the face */
    run.scene.noise_mm = 0.02;
    sample_rehearse_clean(&run, "G21 G91\nG38.2 Z-15 F60\nG0 Z5\nM2\n");
    assert_int_equal(run.result.warnings.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_move_before_the_unit_is_told_once),
        cmocka_unit_test(a_move_before_the_distance_mode_is_told_once),
        cmocka_unit_test(a_parameter_never_set_is_told_where_it_counts),
        cmocka_unit_test(it_is_told_by_way_of_other_parameters),
        cmocka_unit_test(the_trip_is_set_by_a_touch_and_offsets_always),
        cmocka_unit_test(other_errors_of_range_stay_what_they_are),
        cmocka_unit_test(a_first_touch_on_foil_beside_the_plate_is_told),
        cmocka_unit_test(a_first_touch_on_the_top_of_a_wall_is_told),
        cmocka_unit_test(a_ball_over_the_edge_is_told),
        cmocka_unit_test(a_touch_of_the_face_is_quiet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
