/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_rehearsal_text.c - a rehearsal as text: the verdict first, lines that fit, no write
 * lost. Whole answers are in tests/cli/golden.
 */
#include "story_sample.h"

#include <stdio.h>

static story_sample sample;

static char *written(tu_unit unit)
{
    char *text = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&text, &length);
    assert_non_null(out);
    tu_error error = {0};
    check_status(tu_report_rehearsal_text(out, &sample.story, unit, &error), TU_OK, &error);
    fclose(out);
    return text;
}

static bool starts_with(const char *text, const char *part)
{
    return strncmp(text, part, strlen(part)) == 0;
}

static void the_verdict_comes_first(void **state)
{
    (void)state;
    story_sample_start(&sample);
    char *text = written(TU_UNIT_MM);
    assert_true(starts_with(text, "Clean: "));
    check_contains(text, "5 touches (2 of them fast ones, which only search), 1 pause, 1 min 5 s");
    free(text);
    story_sample_fault(&sample);
    text = written(TU_UNIT_MM);
    assert_true(starts_with(text, "Fault, line 12: the cutter ran into clamp"));
    check_contains(text, "What comes after it was not rehearsed.");
    free(text);
    story_sample_start(&sample);
    sample.story.within_mm = 0.03;
    text = written(TU_UNIT_MM);
    assert_true(starts_with(text, "The offset that the program set is off by more than 0.030 mm."));
    check_contains(text, "      -49.600      -49.650        0.050  off\n");
    check_contains(text, "      109.500      109.525       -0.025\n");
    free(text);
}

static void searches_are_not_listed_and_inches_are_inches(void **state)
{
    (void)state;
    story_sample_start(&sample);
    char *text = written(TU_UNIT_INCH);
    check_contains(text, "(in):");
    check_contains(text, "corner  X+     3.9370"); /* 100 / 25.4 */
    check_lacks(text, "     3  corner");
    check_contains(text, "line 8: turn an edge to the right");
    free(text);
}

static void no_line_is_wider_than_a_terminal(void **state)
{
    (void)state;
    story_sample_start(&sample);
    story_sample_fault(&sample);
    for (size_t i = strlen(sample.story.result.text); i < TU_FAULT_TEXT_SIZE - 8; i += 8)
        memcpy(sample.story.result.text + i, " seven77", 9);
    memset(sample.pauses[0].message, 'w', 60);
    for (size_t i = 0; i < 240; i += 6)
        memcpy(sample.pauses[0].message + i, "turns ", 7);
    char *text = written(TU_UNIT_MM);
    for (char *line = text, *end; (end = strchr(line, '\n')) != NULL; line = end + 1)
        assert_true(end - line <= 80);
    check_contains(text, "seven77 seven77");
    free(text);
}

static void a_full_disk_is_told(void **state)
{
    (void)state;
    story_sample_start(&sample);
    FILE *full = fopen("/dev/full", "w");
    tu_error error = {0};
    if (!full)
        skip();
    assert_int_equal(tu_report_rehearsal_text(full, &sample.story, TU_UNIT_MM, &error),
                     TU_SYSTEM_IO);
    check_contains(error.message, "cannot be written");
    fclose(full);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_verdict_comes_first),
        cmocka_unit_test(searches_are_not_listed_and_inches_are_inches),
        cmocka_unit_test(no_line_is_wider_than_a_terminal),
        cmocka_unit_test(a_full_disk_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
