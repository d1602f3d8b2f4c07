/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_write.c - what every program has in common: its lines, its units, in every locale;
 * writing that fails.
 */
#include "plan_case.h"

#include "trueup/rs274.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Every line is ASCII and short, every block reads, and nothing moves before M5. */
static void check_program(void)
{
    for (const char *line = p.program; *line != '\0'; line = strchr(line, '\n') + 1) {
        size_t length = strcspn(line, "\n");
        assert_true(length > 0 && length < TU_RS274_LINE_MAX);
        for (size_t i = 0; i < length; i++)
            assert_true(line[i] >= ' ' && line[i] <= '~');
    }
    static double parameters[TU_RS274_PARAMETERS];
    for (int i = 0; i < TU_RS274_PARAMETERS; i++)
        parameters[i] = 0.0;
    tu_rs274_reader reader = tu_rs274_start(p.program, p.length);
    bool off = false, have = true;
    size_t set = 0;
    for (;;) {
        tu_rs274_block block;
        tu_error error = {0};
        check_status(tu_rs274_next(&reader, parameters, &block, &have, &error), TU_OK, &error);
        if (!have)
            break;
        off = off || (block.spindle_off && block.coolant_off);
        assert_true(off || block.motion == TU_MOTION_NONE);
        assert_true(block.motion != TU_MOTION_RAPID);
        set += block.set_offset;
    }
    assert_true(reader.ended && off);
    assert_int_equal(set, p.style.set);
}

static void every_kind_reads_back(void **unused)
{
    (void)unused;
    for (int unit = 0; unit < 2; unit++) {
        for (int set = 0; set < 2; set++) {
            p.style.unit = unit == 0 ? TU_UNIT_MM : TU_UNIT_INCH;
            p.style.set = set == 1;
            for (int slot = 1; slot <= 9; slot++) {
                p.style.slot = slot;
                sample_plan_good(&p, SAMPLE_CORNER);
                check_program();
                sample_plan_good(&p, SAMPLE_SURFACE);
                check_program();
            }
        }
        p.style.set = false;
        sample_plan_good(&p, SAMPLE_GRID);
        check_program();
        sample_plan_good(&p, SAMPLE_TRIALS);
        check_program();
    }
}

static void names_cannot_break_a_comment(void **unused)
{
    (void)unused;
    strcpy(p.plate.name, "a) G0 X100 (b\xc3\xa9\n");
    strcpy(p.cutter.name, "1/4\" (long)");
    sample_plan_good(&p, SAMPLE_CORNER);
    check_program();
    check_contains(p.program, "plate a] G0 X100 [b???, cutter 1/4\" [long])\n");
}

static void inches_are_the_same_program_to_a_ten_thousandth(void **unused)
{
    (void)unused;
    p.style.unit = TU_UNIT_INCH;
    sample_plan_good(&p, SAMPLE_CORNER);
    /* 8 mm of height and 2 of press: 0.39370 in, rounded up; 1 mm back; 3.1 mm, rounded up. */
    check_contains(p.program, "G38.2 Z-0.3938 F3.937\nG1 Z0.0394 F23.622\n");
    check_contains(p.program, "G38.2 Z-0.1221 F0.984\n");
    check_contains(p.program, "G17 G20 G80 G94\n");
    /* The press is that of the rounded lengths: 0.3938 in less 2 mm. */
    check_close(p.summary.worst_press_mm[1], 0.3938 * 25.4 - 2.0, 1e-9, "mm");
}

static void numbers_have_points_in_every_locale(void **unused)
{
    (void)unused;
    p.style.set = true;
    sample_plan_good(&p, SAMPLE_CORNER);
    char *plain = strdup(p.program);
    check_comma_locale();
    sample_plan_good(&p, SAMPLE_CORNER);
    assert_string_equal(p.program, plain);
    free(plain);
    p.style.press_mm = 0.1;
    sample_plan_refused(&p, SAMPLE_CORNER, TU_DATA_RANGE, "{press}", "from 0.3 to 5 mm, found 0.1");
}

/* --- Failures --- */

static void a_full_disk_is_an_error(void **unused)
{
    (void)unused;
    FILE *full = fopen("/dev/full", "w");
    if (full == NULL)
        return;
    tu_status status = tu_plan_write_corner(full, &p.corner, &p.style, &p.summary, &p.error);
    check_status(status, TU_SYSTEM_IO, &p.error);
    fclose(full);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(every_kind_reads_back),
        TEST(names_cannot_break_a_comment),
        TEST(inches_are_the_same_program_to_a_ten_thousandth),
        TEST(numbers_have_points_in_every_locale),
        TEST(a_full_disk_is_an_error),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
