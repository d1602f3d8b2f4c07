/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_surface.c - touches straight down, on the virtual machine.
 */
#include "plan_case.h"

#include "sample_scene.h"

#include <math.h>

static sample_run run;

static int start_surface(void **unused)
{
    start_plan(unused);
    sample_scene_start(&run.scene);
    p.style.set = true;
    p.style.slot = 3;
    run.scene.slot_mm[2][2] = -33.0;
    return 0;
}

static void check_set(double z_mm)
{
    sample_rehearse_clean(&run, p.program);
    assert_true(run.result.slot_set[2][2]);
    assert_false(run.result.slot_set[2][0] || run.result.slot_set[2][1]);
    check_close(run.result.slot_mm[2][2], z_mm, 1e-4, "Z of the zero, mm");
}

static void what_the_plate_lies_on_becomes_zero(void **unused)
{
    (void)unused;
    for (int unit = 0; unit < 2; unit++) {
        p.style.unit = unit == 0 ? TU_UNIT_MM : TU_UNIT_INCH;
        sample_plan_good(&p, SAMPLE_SURFACE);
        for (int high = 0; high < 2; high++) {
            run.scene.start.z = -82.0 + 9.53 + (high == 1 ? 7.99 : 2.01);
            check_set(-82.0); /* the sample stock's top */
        }
    }
    assert_int_equal(run.hits, 4);
    assert_false(run.hit[0].ok);
    assert_true(run.hit[1].ok && run.hit[3].ok);
    assert_string_equal(run.hit[3].series, "surface");
}

static void a_bare_bed_that_conducts_becomes_zero(void **unused)
{
    (void)unused;
    p.surface.plate = NULL;
    run.scene.plate_present = run.scene.stock_present = false;
    run.scene.bed_conducts = true;
    run.scene.start.z = -95.0;
    sample_plan_good(&p, SAMPLE_SURFACE);
    check_set(-100.0);
}

static void it_stays_in_its_place(void **unused)
{
    (void)unused;
    sample_plan_good(&p, SAMPLE_SURFACE);
    run.scene.start.z = -67.0;
    sample_rehearse_clean(&run, p.program);
    for (size_t i = 0; i < run.moves; i++) {
        check_close(run.move[i].to.x, run.scene.start.x, 0.0, "x, mm");
        check_close(run.move[i].to.y, run.scene.start.y, 0.0, "y, mm");
    }
    assert_int_equal(run.moves, 8); /* a fast touch, three times off and on, up */
}

static void a_dead_circuit_presses_as_stated(void **unused)
{
    (void)unused;
    sample_plan_good(&p, SAMPLE_SURFACE);
    run.scene.clip_on = false;
    run.scene.start.z = -82.0 + 9.53 + 2.0; /* the lowest start presses most */
    check_status(sample_rehearse(&run, p.program), TU_OK, &run.error);
    assert_int_equal(run.result.fault, TU_FAULT_NO_CONTACT);
    check_close(run.result.pressed_mm, p.summary.worst_press_mm[1], 1e-6, "press, mm");
}

#undef TEST
#define TEST(name) cmocka_unit_test_setup_teardown(name, start_surface, end_plan)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(what_the_plate_lies_on_becomes_zero),
        TEST(a_bare_bed_that_conducts_becomes_zero),
        TEST(it_stays_in_its_place),
        TEST(a_dead_circuit_presses_as_stated),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
