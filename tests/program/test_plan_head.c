/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_head.c - what stands before and after the moves of a program.
 */
#include "plan_case.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void the_head_says_what_a_person_must_know(void **unused)
{
    (void)unused;
    sample_plan_good(&p, SAMPLE_CORNER);
    static const char *const parts[] = {
        "(trueup: touches for front-left-top, plate offcut, cutter pin)\n",
        "The machine's manual",
        "The spindle cannot start",
        "The clip is on the cutter",
        "A hand is at the stop",
        "take off plate, clip and wire",
        "(START: the plate lies on the front-left corner",
        "(SPACE from the start",
        "lets the cutter press on, at most",
        "(9 touches that count; 0 pauses; about ",
        "\nM5 M9\nG17 G21 G80 G94\nG91 G54\n",
    };
    const char *at = p.program;
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        at = strstr(at, parts[i]);
        if (at == NULL)
            fail_msg("missing, or out of order: %s", parts[i]);
    }
    assert_string_equal(p.program + p.length - 4, "\nM2\n");
}

static void long_programs_are_said_in_minutes_and_hours(void **unused)
{
    (void)unused;
    p.grid.columns = p.grid.rows = 20;
    sample_plan_good(&p, SAMPLE_GRID);
    assert_true(p.summary.seconds > 3600.0);
    char text[40];
    double minutes = ceil(p.summary.seconds / 60.0);
    snprintf(text, sizeof text, "about %.0f h %.0f min, pauses", floor(minutes / 60.0),
             fmod(minutes, 60.0));
    check_contains(p.program, text);
}

static void a_machine_too_small_is_refused_before_anything_is_written(void **unused)
{
    (void)unused;
    sample_plan_good(&p, SAMPLE_CORNER);
    double needed = p.summary.space_mm[TU_AXIS_Z][1] - p.summary.space_mm[TU_AXIS_Z][0];
    p.machine.travel_high_mm[TU_AXIS_Z] = needed + 0.001;
    sample_plan_good(&p, SAMPLE_CORNER);
    p.machine.travel_high_mm[TU_AXIS_Z] = needed - 0.001;
    sample_plan_refused(&p, SAMPLE_CORNER, TU_DATA_RANGE, "machine", "mm of Z");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(the_head_says_what_a_person_must_know),
        TEST(long_programs_are_said_in_minutes_and_hours),
        TEST(a_machine_too_small_is_refused_before_anything_is_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
