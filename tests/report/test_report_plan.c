/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_plan.c - what to know of a touch program, as text and as JSON.
 */
#include "check.h"

#include "trueup/report.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static tu_plan_summary summary;
static char *text;
static size_t length;

static int start(void **unused)
{
    (void)unused;
    summary = (tu_plan_summary){.title = "trueup: touches for left",
                                .start = "the tip over the face, 10.0 mm from a place that takes "
                                         "more words than a line of eighty columns holds.",
                                .start_mm = {9.5, -7.25},
                                .space_mm = {{-22.9, 6.0}, {0.0, 0.0}, {-16.0, 6.1}},
                                .touches = 3,
                                .pauses = 1,
                                .seconds = 16.2,
                                .worst_press_mm = {8.4, 8.0},
                                .path_mm = NAN,
                                .naive_mm = NAN};
    return 0;
}

static int end(void **unused)
{
    (void)unused;
    free(text);
    text = NULL;
    return check_plain_locale(NULL);
}

static void write_text(tu_unit unit)
{
    free(text);
    FILE *out = open_memstream(&text, &length);
    check_status(tu_report_plan_text(out, &summary, unit, NULL), TU_OK, NULL);
    fclose(out);
}

static cJSON *write_json(const char *program)
{
    free(text);
    FILE *out = open_memstream(&text, &length);
    check_status(tu_report_plan_json(out, &summary, program, NULL), TU_OK, NULL);
    fclose(out);
    cJSON *root = cJSON_Parse(text);
    assert_non_null(root);
    return root;
}

static void the_text_says_start_space_press_and_time(void **unused)
{
    (void)unused;
    write_text(TU_UNIT_MM);
    check_contains(text, "trueup: touches for left\nstart         the tip over the face, 10.0 mm");
    check_contains(text, "\nspace         X -22.9 mm to +6.0 mm, Y 0.0 mm to +0.0 mm, Z -16.0 mm");
    check_contains(text, "\ndead circuit  presses at most 8.4 mm sideways, 8.0 mm down\n");
    check_contains(text, "\ntouches       3 that count, 1 pause, about 17 s without pauses\n");
    check_lacks(text, "grid");
}

static void long_words_are_wrapped(void **unused)
{
    (void)unused;
    write_text(TU_UNIT_MM);
    const char *line = strchr(text, '\n') + 1;
    assert_true(strcspn(line, "\n") <= 80 && strcspn(line, "\n") > 70);
    check_contains(line, "\n              ");
}

static void inches_have_a_decimal_more_than_tenths_of_a_millimetre(void **unused)
{
    (void)unused;
    write_text(TU_UNIT_INCH);
    check_contains(text, "X -0.902 in to +0.236 in"); /* 22.9 / 25.4 = 0.90157 */
    check_contains(text, "at most 0.331 in sideways, 0.315 in down");
}

static void a_grid_says_its_points_and_ways(void **unused)
{
    (void)unused;
    summary.path_mm = 394.53;
    summary.naive_mm = 531.26;
    summary.points = 8;
    summary.skipped = 1;
    summary.worst_press_mm[0] = NAN;
    write_text(TU_UNIT_MM);
    check_contains(text, "\ngrid          8 points touched, 1 left out\n");
    check_contains(text, "\npath          394.5 mm as planned; 531.3 mm row by row");
    check_contains(text, "presses at most 8.0 mm down\n");
    cJSON *root = write_json(NULL);
    check_close(check_json_number(root, "grid.points"), 8, 0, "points");
    check_close(check_json_number(root, "grid.skipped"), 1, 0, "skipped");
    check_close(check_json_number(root, "grid.path"), 394.53, 1e-12, "mm");
    check_close(check_json_number(root, "grid.naive"), 531.26, 1e-12, "mm");
    cJSON_Delete(root);
}

static void json_is_in_millimetres_and_leaves_out_what_is_not_known(void **unused)
{
    (void)unused;
    tu_warn(&summary.warnings, "measure that");
    check_comma_locale();
    cJSON *root = write_json(NULL);
    check_close(check_json_number(root, "start.x"), 9.5, 0, "mm");
    check_close(check_json_number(root, "start.y"), -7.25, 0, "mm");
    check_close(check_json_number(root, "space.x.below"), -22.9, 1e-12, "mm");
    check_close(check_json_number(root, "space.z.above"), 6.1, 1e-12, "mm");
    check_close(check_json_number(root, "worst_press.sideways"), 8.4, 1e-12, "mm");
    check_close(check_json_number(root, "seconds"), 16.2, 1e-12, "s");
    assert_string_equal(check_json_at(root, "warnings[0]")->valuestring, "measure that");
    assert_null(cJSON_GetObjectItem(root, "program"));
    assert_null(cJSON_GetObjectItem(root, "grid"));
    cJSON_Delete(root);
    summary.start_mm[0] = summary.start_mm[1] = summary.worst_press_mm[0] = NAN;
    root = write_json(NULL);
    assert_null(cJSON_GetObjectItem(cJSON_GetObjectItem(root, "start"), "x"));
    assert_null(cJSON_GetObjectItem(cJSON_GetObjectItem(root, "worst_press"), "sideways"));
    cJSON_Delete(root);
}

static void the_program_goes_in_line_by_line(void **unused)
{
    (void)unused;
    cJSON *root = write_json("(title)\nM5 M9\nM2\n");
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(root, "program")), 3);
    assert_string_equal(check_json_at(root, "program[1]")->valuestring, "M5 M9");
    cJSON_Delete(root);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(the_text_says_start_space_press_and_time),
        TEST(long_words_are_wrapped),
        TEST(inches_have_a_decimal_more_than_tenths_of_a_millimetre),
        TEST(a_grid_says_its_points_and_ways),
        TEST(json_is_in_millimetres_and_leaves_out_what_is_not_known),
        TEST(the_program_goes_in_line_by_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
