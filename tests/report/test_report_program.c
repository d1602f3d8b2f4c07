/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_program.c - the block that sets the offset, word by word as NISTIR 6556 asks for it.
 */
#include "check.h"

#include "zero_sample.h"

#include <string.h>

static void the_line_sets_the_axes_that_were_asked_for(void **state)
{
    (void)state;
    char line[TU_PROGRAM_LINE_SIZE];
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    size_t length = tu_report_program_line(line, sizeof line, &result, &style);
    assert_string_equal(line, "G21 G10 L2 P1 X109.5250 Z-49.6500");
    assert_int_equal(length, strlen(line));
    result.axis[TU_AXIS_Y].asked = true;
    result.axis[TU_AXIS_Y].zero_mm = 80.00004;
    tu_report_program_line(line, sizeof line, &result, &style);
    assert_string_equal(line, "G21 G10 L2 P1 X109.5250 Y80.0000 Z-49.6500");
}

static void inches_carry_their_own_unit_word(void **state)
{
    (void)state;
    char line[TU_PROGRAM_LINE_SIZE];
    tu_zero_result result = zero_sample();
    tu_zero_style style = {.unit = TU_UNIT_INCH, .slot = 1};
    result.axis[TU_AXIS_X].zero_mm = 101.6; /* 4 in exactly */
    result.axis[TU_AXIS_Z].zero_mm = -6.35;
    tu_report_program_line(line, sizeof line, &result, &style);
    assert_string_equal(line, "G20 G10 L2 P1 X4.00000 Z-0.25000");
}

/* NISTIR 6556 3.5.13: coordinate systems 1 to 9 are G54, G55, ..., G59, G59.1, G59.2, G59.3. */
static void each_slot_has_its_number(void **state)
{
    (void)state;
    static const char *const names[] = {"G54", "G55",   "G56",   "G57",  "G58",
                                        "G59", "G59.1", "G59.2", "G59.3"};
    tu_zero_result result = zero_sample();
    for (int p = 1; p <= 9; p++) {
        char line[TU_PROGRAM_LINE_SIZE], word[8];
        tu_zero_style style = {.slot = p};
        assert_string_equal(tu_slot_name(p), names[p - 1]);
        snprintf(word, sizeof word, " P%d ", p);
        tu_report_program_line(line, sizeof line, &result, &style);
        check_contains(line, word);
        int parsed = 0;
        check_status(tu_slot_parse(tu_slot_name(p), &parsed, NULL), TU_OK, NULL);
        assert_int_equal(parsed, p);
    }
    assert_string_equal(tu_slot_name(0), "");
    assert_string_equal(tu_slot_name(10), "");
}

static void a_zero_just_below_nothing_has_no_minus(void **state)
{
    (void)state;
    char line[TU_PROGRAM_LINE_SIZE];
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    result.axis[TU_AXIS_X].zero_mm = -0.00001;
    tu_report_program_line(line, sizeof line, &result, &style);
    check_contains(line, " X0.0000 ");
}

static void no_axis_no_line(void **state)
{
    (void)state;
    char line[TU_PROGRAM_LINE_SIZE] = "x";
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        result.axis[axis].asked = false;
    assert_int_equal(tu_report_program_line(line, sizeof line, &result, &style), 0);
    assert_string_equal(line, "");
}

static void what_does_not_fit_is_not_cut(void **state)
{
    (void)state;
    char line[20];
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    assert_int_equal(tu_report_program_line(line, sizeof line, &result, &style), 0);
    assert_string_equal(line, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_line_sets_the_axes_that_were_asked_for),
        cmocka_unit_test(inches_carry_their_own_unit_word),
        cmocka_unit_test(each_slot_has_its_number),
        cmocka_unit_test(a_zero_just_below_nothing_has_no_minus),
        cmocka_unit_test(no_axis_no_line),
        cmocka_unit_test(what_does_not_fit_is_not_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
