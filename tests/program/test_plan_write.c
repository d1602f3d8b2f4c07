/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_write.c - what every program has in common: its head, its lines, its units, in every
 * locale; the block that sets the offset; writing that fails.
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
        tu_error error = {TU_OK, "", ""};
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
    sample_plan_refused(&p, SAMPLE_CORNER, TU_DATA_RANGE, "--press", "from 0.3 to 5 mm, found 0.1");
}

/* --- The offset --- */

static void the_offset_is_the_reading_less_wall_and_radius(void **unused)
{
    (void)unused;
    p.style.set = true;
    p.style.slot = 2;
    p.style.repeats = 2;
    sample_plan_good(&p, SAMPLE_CORNER);
    /* E = P - s o - s sigma r, s = -1, sigma = +1: + 6.35 + 3.175 and + 6.40 + 3.175. */
    check_contains(p.program, "\nG10 L2 P2 X[#5241+#1/2+9.52500] Y[#5242+#2/2+9.57500] "
                              "Z[#5243+#3/2-9.53000]\nM2\n");
    check_contains(p.program, "\n#1=#5061\n");
    check_contains(p.program, "\n#1=[#1+#5061]\n");
    sample_plan_rising(&p, 8.0, 4.0);
    sample_plan_target(&p, "back-right-top");
    sample_plan_good(&p, SAMPLE_CORNER);
    /* s = +1, sigma = -1: - 18 + 3.175. */
    check_contains(p.program, "X[#5241+#1/2-14.82500] Y[#5242+#2/2-14.82500]");
}

static void a_flute_loss_is_taken_into_the_offset(void **unused)
{
    (void)unused;
    p.style.set = true;
    sample_plan_flutes(&p, 2, 0.2);
    sample_plan_good(&p, SAMPLE_CORNER);
    /* r sin(a)/a = 3.175 sin(0.2)/0.2 = 3.15388: 6.35 + that. */
    check_contains(p.program, "X[#5221+#1/3+9.50388]");
    check_contains(p.program, "3.17500 less 0.02112");
}

static void the_stocks_thickness_is_added_where_it_lies_between(void **unused)
{
    (void)unused;
    p.style.set = true;
    struct {
        const char *target;
        tu_seat seat;
        const char *z;
    } cases[] = {{"top", TU_SEAT_STOCK, "Z[#5223+#3/3-9.53000]"},
                 {"bottom", TU_SEAT_STOCK, "Z[#5223+#3/3-27.53000]"},
                 {"bottom", TU_SEAT_BED, "Z[#5223+#3/3-9.53000]"},
                 {"top", TU_SEAT_BED, "Z[#5223+#3/3+8.47000]"}};
    for (size_t i = 0; i < 4; i++) {
        sample_plan_target(&p, cases[i].target);
        p.corner.seat = cases[i].seat;
        p.corner.stock_thickness = tu_quantity_exact(18.0);
        sample_plan_good(&p, SAMPLE_CORNER);
        check_contains(p.program, cases[i].z);
        const double bad[] = {NAN, 0.0, -18.0, INFINITY};
        for (int k = 0; k < 4; k++) {
            p.corner.stock_thickness.value_mm = bad[k];
            if (i % 2 == 1)
                sample_plan_refused(&p, SAMPLE_CORNER, TU_DATA_MISSING, "--stock-thickness",
                                    "measure the stock's thickness");
            else
                sample_plan_good(&p, SAMPLE_CORNER);
        }
    }
}

static void a_bare_surface_is_its_reading(void **unused)
{
    (void)unused;
    p.style.set = true;
    p.surface.plate = NULL;
    sample_plan_good(&p, SAMPLE_SURFACE);
    check_contains(p.program, "\nG10 L2 P1 Z[#5223+#3/3+0.00000]\n");
    assert_true(isnan(p.summary.start_mm[0]) && isnan(p.summary.worst_press_mm[0]));
    check_contains(p.summary.start, "over the surface");
    p.surface.plate = &p.plate;
    sample_plan_good(&p, SAMPLE_SURFACE);
    check_contains(p.program, "Z[#5223+#3/3-9.53000]\n");
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
        TEST(the_head_says_what_a_person_must_know),
        TEST(names_cannot_break_a_comment),
        TEST(inches_are_the_same_program_to_a_ten_thousandth),
        TEST(numbers_have_points_in_every_locale),
        TEST(the_offset_is_the_reading_less_wall_and_radius),
        TEST(a_flute_loss_is_taken_into_the_offset),
        TEST(the_stocks_thickness_is_added_where_it_lies_between),
        TEST(a_bare_surface_is_its_reading),
        TEST(a_full_disk_is_an_error),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
