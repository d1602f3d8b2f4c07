/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_corner.c - the order of the touches at a corner, and where it ends.
 */
#include "plan_case.h"

#include "sample_scene.h"

static sample_run run;

static void rehearse(void)
{
    sample_scene_start(&run.scene);
    run.scene.start.x = 200.0 + p.summary.start_mm[0];
    run.scene.start.y = 150.0 + p.summary.start_mm[1];
    run.scene.start.z = -82.0 + 9.53 + 5.0;
    run.scene.cutter = p.cutter;
    run.scene.plate = p.plate;
    sample_rehearse_clean(&run, p.program);
}

static void the_face_comes_first_then_x_then_y(void **unused)
{
    (void)unused;
    p.style.repeats = 1;
    sample_plan_good(&p, SAMPLE_CORNER);
    rehearse();
    assert_int_equal(run.hits, 6);
    for (size_t i = 0; i < 6; i++) {
        static const tu_axis order[] = {TU_AXIS_Z, TU_AXIS_X, TU_AXIS_Y};
        assert_int_equal(run.hit[i].axis, order[i / 2]);
        assert_int_equal(run.hit[i].ok, i % 2 == 1); /* fast, then the one that counts */
    }
}

static void it_ends_over_the_start_clear_of_everything(void **unused)
{
    (void)unused;
    /* Walls of 8 and the clearance of 3 are more than the start's greatest height. */
    sample_plan_rising(&p, 8.0, 3.0);
    sample_plan_good(&p, SAMPLE_CORNER);
    rehearse();
    const tu_machine_point end = run.move[run.moves - 1].to;
    check_close(end.x, run.scene.start.x, 0.15, "x, mm");
    check_close(end.y, run.scene.start.y, 0.15, "y, mm");
    check_close(end.z, -82.0 + 9.53 + 11.0, 0.1, "z, mm");
}

static void of_a_face_the_height_is_touched_but_does_not_count(void **unused)
{
    (void)unused;
    sample_plan_target(&p, "left");
    sample_plan_good(&p, SAMPLE_CORNER);
    rehearse();
    for (size_t i = 0; i < run.hits; i++)
        assert_true(run.hit[i].axis == TU_AXIS_X || !run.hit[i].ok);
    assert_int_equal(p.summary.touches, 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(the_face_comes_first_then_x_then_y),
        TEST(it_ends_over_the_start_clear_of_everything),
        TEST(of_a_face_the_height_is_touched_but_does_not_count),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
