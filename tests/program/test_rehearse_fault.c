/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rehearse_fault.c - each way a program can go wrong: the fault, its line, what was struck
 * where, and that the text says what a person would see.
 */
#include "check.h"

#include "sample_scene.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double tolerance = 1e-7; /* mm */

static sample_run run;

static void check_place(double x, double y, double z)
{
    check_close(run.result.at.x, x, tolerance, "x, mm");
    check_close(run.result.at.y, y, tolerance, "y, mm");
    check_close(run.result.at.z, z, tolerance, "z, mm");
}

static void a_traverse_into_the_plate_is_a_collision(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G91\n\nG0 X-45\nZ-16\nX30\nM2\n", TU_FAULT_COLLISION, 5);
    assert_string_equal(run.result.struck, "plate");
    check_place(190.475, 170, -76);
    check_contains(run.result.text, "line 5: the cutter ran into the plate at X190.475 Y170.000 "
                                    "Z-76.000 while traversing (G0); on the machine it would push "
                                    "the plate off its seat");
    assert_int_equal(run.moves, 3); /* the last one up to the contact */
    assert_true(run.move[2].contact);
    check_close(run.move[2].to.x, 190.475, tolerance, "x, mm");
}

static void a_feed_move_into_the_stock_or_the_bed_is_a_collision(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G91 F500\nG1 X60\nG1 Z-30\nM2\n", TU_FAULT_COLLISION, 3);
    assert_string_equal(run.result.struck, "stock");
    check_place(280, 170, -82);
    check_contains(run.result.text, "the stock");
    check_contains(run.result.text, "moving at feed (G1)");
    sample_rehearse_fault(&run, "G91 F500\nG1 X-100\nG1 Z-50\nM2\n", TU_FAULT_COLLISION, 3);
    assert_string_equal(run.result.struck, "bed");
    check_place(120, 170, -100);
    check_contains(run.result.text, "would go into the bed");
}

static void a_clamp_in_the_way_is_named(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_scene_add_block(&run.scene, "clamp front-left", (tu_machine_point){150, 160, -90},
                           (tu_machine_point){200, 180, -50});
    run.scene.start.x = 300;
    sample_rehearse_fault(&run, "G91\nG0 X-200\nM2\n", TU_FAULT_COLLISION, 2);
    assert_string_equal(run.result.struck, "clamp front-left");
    check_place(203.175, 170, -60);
    check_contains(run.result.text, "ran into clamp front-left at X203.175");
}

static void the_nearest_of_several_things_is_struck(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    for (int i = 0; i < 5; i++) {
        char name[16];
        double x = 400 - 10 * ((i * 3) % 5); /* 400 370 390 360 380 */
        snprintf(name, sizeof name, "screw %d", i);
        sample_scene_add_block(&run.scene, name, (tu_machine_point){x, 160, -90},
                               (tu_machine_point){x + 2, 180, -50});
    }
    sample_rehearse_fault(&run, "G91 G0 X250\nM2\n", TU_FAULT_COLLISION, 1);
    assert_string_equal(run.result.struck, "screw 3");
    check_place(360 - 3.175, 170, -60);
}

static void a_touch_that_meets_nothing_ends_the_program(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G91 F60\nG38.2 Z-10\nG0 Z5\nM2\n", TU_FAULT_NO_CONTACT, 2);
    assert_string_equal(run.result.struck, "");
    check_place(220, 170, -70);
    check_close(run.result.pressed_mm, 0, 0, "pressed, mm");
    check_contains(run.result.text, "the touch down ended at X220.000 Y170.000 Z-70.000 without");
    assert_int_equal(run.hits, 0);
}

static void without_the_clip_a_touch_presses_to_its_end(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.clip_on = false;
    sample_rehearse_fault(&run, "G91 F60\nG38.2 Z-15\nG0 Z5\nM2\n", TU_FAULT_NO_CONTACT, 2);
    assert_string_equal(run.result.struck, "plate");
    check_close(run.result.pressed_mm, 15 - 12.47, tolerance, "pressed, mm");
    check_place(220, 170, -72.47);
    check_close(run.result.end.z, -75, 1e-12, "where it ended, mm");
    check_contains(run.result.text, "the clip is off: it pressed on for 2.530 mm");
    assert_int_equal(run.hits, 0);
}

static void a_touch_on_what_does_not_conduct_presses(void **state)
{
    (void)state; /* the start is off the plate: over the stock */
    sample_scene_start(&run.scene);
    run.scene.start.x = 280;
    sample_rehearse_fault(&run, "G91 F60\nG38.2 Z-25\nM2\n", TU_FAULT_PRESSED, 2);
    assert_string_equal(run.result.struck, "stock");
    check_close(run.result.pressed_mm, 3, tolerance, "pressed, mm");
    check_place(280, 170, -82);
    check_contains(run.result.text, "the touch down met the stock at X280.000");
    check_contains(run.result.text, "gives no signal, and pressed on for 3.000 mm");
    /* too deep beside a wall that lies behind the edge: the stock comes first, the plate 2 later */
    sample_scene_start(&run.scene);
    run.scene.plate.wall[0].offset = tu_quantity_exact(-2);
    sample_rehearse_fault(&run, "G91 F60\nG0 X-45\nZ-25\nG38.2 X30\nM2\n", TU_FAULT_PRESSED, 4);
    check_close(run.result.pressed_mm, 2, tolerance, "pressed, mm");
    check_contains(run.result.text, "the touch towards X+ met the stock");
}

static void a_touch_that_starts_in_contact_is_refused(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G91 F60\nG38.2 Z-15\nG38.2 Z-5\nM2\n", TU_FAULT_ALREADY_TOUCHING,
                          3);
    assert_string_equal(run.result.struck, "plate");
    check_contains(run.result.text, "lift clear");
    sample_rehearse_fault(&run, "G91 F60\nG38.2 Z-15\nG38.2 Z5\nM2\n", TU_FAULT_ALREADY_TOUCHING,
                          3);       /* upwards too: the circuit is closed */
    run.scene.latch_delay_s = 0.01; /* backed off by half of the overrun */
    sample_rehearse_fault(&run, "G91 F60\nG38.2 Z-15\nG0 Z0.005\nG38.2 Z-5\nM2\n",
                          TU_FAULT_ALREADY_TOUCHING, 4);
}

static void moves_out_of_the_travel_are_refused_before_they_start(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G0 X1200.01\nM2\n", TU_FAULT_TRAVEL, 1);
    check_contains(run.result.text, "X1200.010 in machine coordinates, outside the travel 0 to "
                                    "1200");
    check_place(220, 170, -60);
    assert_int_equal(run.moves, 0);
    sample_rehearse_fault(&run, "F60 G38.2 Z-120.5\nM2\n", TU_FAULT_TRAVEL, 1);
    sample_rehearse_fault(&run, "G20 G0 Z1\nM2\n", TU_FAULT_TRAVEL, 1);
    sample_rehearse_clean(&run, "G0 X1200\nM2\n");
    /* not stated: ten metres, so that a slip of the decimal point is found */
    run.scene.machine.travel_low_mm[0] = run.scene.machine.travel_high_mm[0] = NAN;
    sample_rehearse_clean(&run, "G0 X-9999\nM2\n");
    sample_rehearse_fault(&run, "G0 X-10001\nM2\n", TU_FAULT_TRAVEL, 1);
}

static void a_touch_latched_beyond_the_travel_is_refused(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.machine.travel_low_mm[2] = -72.5;
    run.scene.latch_delay_s = 0.1; /* 0.1 mm at 60 mm/min */
    sample_rehearse_fault(&run, "F60 G38.2 Z-72.49\nM2\n", TU_FAULT_TRAVEL, 1);
    check_contains(run.result.text, "latched late");
}

static void what_the_machine_refuses_ends_it_with_the_line(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G91\nG38.2 Z-15\nM2\n", TU_FAULT_NO_FEED, 2);
    sample_rehearse_fault(&run, "G91 F50\nG38.2 Z-0.2\nM2\n", TU_FAULT_PROBE_SHORT, 2);
    sample_rehearse_fault(&run, "\n\nX5\nM2\n", TU_FAULT_BLOCK, 3);
    sample_rehearse_fault(&run, "G0 X230\nG2 X5\nM2\n", TU_FAULT_BLOCK, 2);
    check_contains(run.result.text, "line 2, column 1: ");
    check_contains(run.result.text, "arcs");
}

static void a_program_that_runs_for_months_is_refused(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G91 F0.00001\nG1 X100\nM2\n", TU_FAULT_BLOCK, 2);
    check_contains(run.result.text, "115 days");
    sample_rehearse_fault(&run, "G4 P99999999\nM2\n", TU_FAULT_BLOCK, 1);
}

static void a_program_without_an_end_is_refused(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G91\nG0 Z5\n", TU_FAULT_NO_END, 2);
    check_contains(run.result.text, "M2");
    sample_rehearse_fault(&run, "%\nG91\nG0 Z5\n", TU_FAULT_NO_END, 3);
    check_contains(run.result.text, "percent");
    sample_rehearse_fault(&run, "%\nG91 G0 Z5 X\n", TU_FAULT_BLOCK, 2);
    check_close(run.result.end.z, -60, 0, "z, mm");
}

/* There is no line 0. */
static void an_empty_program_is_called_empty(void **state)
{
    (void)state;
    static const char *const texts[] = {"", "\n \n\n"};
    sample_scene_start(&run.scene);
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        check_status(sample_rehearse(&run, texts[i]), TU_OK, &run.error);
        assert_int_equal(run.result.fault, TU_FAULT_NO_END);
        assert_int_equal(run.result.line, 0);
        assert_int_equal(strncmp(run.result.text, "the program is empty", 20), 0);
        check_close(run.result.end.z, -60, 0, "z, mm");
    }
}

static void a_block_keeps_no_odd_bytes_in_the_text(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_scene_add_block(&run.scene, "a\nb\x80", (tu_machine_point){300, 160, -90},
                           (tu_machine_point){302, 180, -50});
    sample_rehearse_fault(&run, "G91 G0 X250\nM2\n", TU_FAULT_COLLISION, 1);
    check_contains(run.result.text, "a?b?");
}

static void texts_keep_a_point_under_a_decimal_comma(void **state)
{
    (void)state;
    check_comma_locale();
    sample_scene_start(&run.scene);
    sample_rehearse_fault(&run, "G91 F60.5\nG38.2 Z-10.5\nM2\n", TU_FAULT_NO_CONTACT, 2);
    check_contains(run.result.text, "Z-70.500");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_traverse_into_the_plate_is_a_collision),
        cmocka_unit_test(a_feed_move_into_the_stock_or_the_bed_is_a_collision),
        cmocka_unit_test(a_clamp_in_the_way_is_named),
        cmocka_unit_test(the_nearest_of_several_things_is_struck),
        cmocka_unit_test(a_touch_that_meets_nothing_ends_the_program),
        cmocka_unit_test(without_the_clip_a_touch_presses_to_its_end),
        cmocka_unit_test(a_touch_on_what_does_not_conduct_presses),
        cmocka_unit_test(a_touch_that_starts_in_contact_is_refused),
        cmocka_unit_test(moves_out_of_the_travel_are_refused_before_they_start),
        cmocka_unit_test(a_touch_latched_beyond_the_travel_is_refused),
        cmocka_unit_test(what_the_machine_refuses_ends_it_with_the_line),
        cmocka_unit_test(a_program_that_runs_for_months_is_refused),
        cmocka_unit_test(a_program_without_an_end_is_refused),
        cmocka_unit_test(an_empty_program_is_called_empty),
        cmocka_unit_test(a_block_keeps_no_odd_bytes_in_the_text),
        cmocka_unit_test_teardown(texts_keep_a_point_under_a_decimal_comma, check_plain_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
