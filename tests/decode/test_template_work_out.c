/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_template_work_out.c - templates out of one line and the position that was shown with it.
 */
#include "check.h"
#include "decode_bench.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static decode_bench bench;

static const char *work_out(const char *line, double x, double y, double z, tu_unit unit,
                            tu_template *out)
{
    tu_error error = {0};
    const double shown[] = {x, y, z};
    check_status(tu_template_work_out(line, shown, unit, out, &error), TU_OK, &error);
    return out->text;
}

static void numbers_that_were_shown_become_fields(void **state)
{
    (void)state;
    static const struct {
        const char *line, *template;
    } cases[] = {
        {"touch x=100.000 y=80.000 z=-40.120", "touch x={x} y={y} z={z}"},
        {"touch x=100.000 y=80.000 z=-40.120\r\n", "touch x={x} y={y} z={z}"},
        {"[-40.120,80,100]", "[{z},{y},{x}]"},
        {"17;12.250;100.000;80.000;-40.120;1", "{_};{_};{x};{y};{z};1"},
        {"N7 X100 Y80 Z-40.12 {0}", "N{_} X{x} Y{y} Z{z} {{0}}"},
        {"2026-11-25 +100.0 +80.0 -40.1 v1.2.3", "{_}-{_}-{_} {x} {y} {z} v1.2.3"},
        {"  100.0004 \t 80.0 -40.1199", "  {x} \t {y} {z}"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tu_template t;
        bool fine = strstr(cases[i].line, "0004") != NULL;
        const char *found = work_out(cases[i].line, fine ? 100.00042 : 100, 80,
                                     fine ? -40.1199 : -40.12, TU_UNIT_MM, &t);
        assert_string_equal(found, cases[i].template);
    }
}

/* 4 in, 2.5 in and -0.5 in in mm: 101.6, 63.5, -12.7 (1 in is 25.4 mm exactly). */
static void an_inch_line_is_held_against_a_position_in_mm(void **state)
{
    (void)state;
    tu_template t;
    assert_string_equal(work_out("at 4.0000 2.5000 -0.5000", 101.6, 63.5, -12.7, TU_UNIT_INCH, &t),
                        "at {x} {y} {z}");
}

static void what_does_not_settle_it_is_refused(void **state)
{
    (void)state;
    static const struct {
        const char *line;
        double x, y, z;
        tu_unit unit;
        tu_status status;
        const char *says;
    } cases[] = {
        {"x=100 y=80", 100, 80, -40.12, TU_UNIT_MM, TU_UNDETERMINED, "Z -40.120 mm is not in"},
        {"x=100 y=80 z=40.12", 100, 80, -40.12, TU_UNIT_MM, TU_UNDETERMINED, "other sign"},
        {"x=3.937 y=80 z=1", 100, 80, 1, TU_UNIT_MM, TU_UNDETERMINED, "use {unit} in"},
        {"x=100.000 y=80 z=1", 100, 80, 1, TU_UNIT_INCH, TU_UNDETERMINED, "use {unit} mm"},
        {"x=100.000 y=80 z=1", 100.001, 80, 1, TU_UNIT_MM, TU_UNDETERMINED, "all the digits"},
        {"x=100.000 y=80 z=1", 100.00055, 80, 1, TU_UNIT_MM, TU_UNDETERMINED, "not in the line"},
        {"5 6 7 $TUX*59", 5, 6, 7, TU_UNIT_MM, TU_UNDETERMINED, "of another kind"},
        {"1e-3 6 7", 0.3, 6, 7, TU_UNIT_MM, TU_UNDETERMINED, "X 0.300 mm is not in the line"},
        {"9e-5-100 80 7", 100, 80, 7, TU_UNIT_MM, TU_UNDETERMINED, "does not read its own line"},
        {"x=5.0 y=5.0 z=1", 5, 5, 1, TU_UNIT_MM, TU_UNDETERMINED,
         "X could be the \"5.0\" at character 3"},
        {"x=5 y=6 z=7 again 5", 5, 6, 7, TU_UNIT_MM, TU_UNDETERMINED, "character 19"},
        {"x=5.0 z=7.0", 5, 5, 7, TU_UNIT_MM, TU_UNDETERMINED, "could be X or Y"},
        {"$5 6 7", 5, 6, 7, TU_UNIT_MM, TU_DATA_SYNTAX, "sentence"},
        {"{\"x\":5}", 5, 6, 7, TU_UNIT_MM, TU_DATA_SYNTAX, "JSON"},
        {"5 6 7\n8", 5, 6, 7, TU_UNIT_MM, TU_DATA_SYNTAX, "more than one line"},
        {"5 6 7 \xff", 5, 6, 7, TU_UNIT_MM, TU_DATA_SYNTAX, "baud"},
        {"5 6 7", NAN, 6, 7, TU_UNIT_MM, TU_DATA_RANGE, "X is not known"},
        {"5 6 7", 5, 6, INFINITY, TU_UNIT_MM, TU_DATA_RANGE, "Z is not known"},
        {"5 6-7", 5, 6, -7, TU_UNIT_MM, TU_UNDETERMINED, "Z -7.000 mm"},
        {"5+6 7", 5, 6, 7, TU_UNIT_MM, TU_OK, ""},
        /* decimals behind a comma would be dropped from every later touch */
        {"X:100,000 Y:80,000 Z:-40,000", 100, 80, -40, TU_UNIT_MM, TU_UNDETERMINED,
         "\"100,000\" at character 3 may be one number with a decimal comma"},
        {"at 4,00;3,00;7,00 in", 101.6, 76.2, 177.8, TU_UNIT_INCH, TU_UNDETERMINED,
         "\"4,00\" at character 4"},
        {"100,80,-40,5", 100, 80, -40, TU_UNIT_MM, TU_UNDETERMINED, "comma"},
        {"100,80,-40", 100, 80, -40, TU_UNIT_MM, TU_OK, ""},
        {"100.0,80.0,-40.0,5", 100, 80, -40, TU_UNIT_MM, TU_OK, ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tu_template t;
        tu_error error = {0};
        const double shown[] = {cases[i].x, cases[i].y, cases[i].z};
        check_status(tu_template_work_out(cases[i].line, shown, cases[i].unit, &t, &error),
                     cases[i].status, &error);
        check_contains(error.message, cases[i].says);
        if (cases[i].status)
            assert_int_equal(t.field_count, 0);
    }
}

static void a_long_line_is_left_to_the_user(void **state)
{
    (void)state;
    char line[700];
    tu_template t;
    tu_error error = {0};
    const double shown[] = {5, 6, 7};
    memset(line, 'a', sizeof line);
    memcpy(line, "5 6 7 ", 6);
    line[300] = '\0';
    check_status(tu_template_work_out(line, shown, TU_UNIT_MM, &t, &error), TU_DATA_SYNTAX, &error);
    check_contains(error.message, "more than 255 bytes");
    line[300] = 'a';
    line[600] = '\0';
    check_status(tu_template_work_out(line, shown, TU_UNIT_MM, &t, &error), TU_DATA_SYNTAX, &error);
    check_contains(error.message, "at most 512 bytes");
    for (size_t i = 5; i + 1 < 300; i += 2)
        memcpy(line + i, " 9", 2);
    line[299] = '\0';
    check_status(tu_template_work_out(line, shown, TU_UNIT_MM, &t, &error), TU_DATA_SYNTAX, &error);
    check_contains(error.message, "more than 64 numbers");
}

/* Layouts in which a controller could print a touch; %1$f to %3$f are the coordinates, %4$d counts.
 */
static const char *const layouts[] = {
    "touch x=%1$.3f y=%2$.3f z=%3$.3f", "%4$d: X%1$.4f Y%2$.4f Z%3$.4f",
    "[T:%1$.3f,%2$.3f,%3$.3f:1] n%4$d", "X %1$10.3f  Y %2$10.3f  Z %3$10.3f  #%4$06d",
    "<%4$d|%3$.2f|%2$.2f|%1$.2f>",      "pos (%1$+.5f; %2$+.5f; %3$+.5f) after %4$d.25 s {good}",
};

/* Worked out from one line, a template reads the next one of the same layout right. */
static void a_template_reads_the_next_line_of_its_layout(void **state)
{
    (void)state;
    check_random random = check_random_seed(5);
    size_t worked = 0;
    for (int round = 0; round < 3000; round++) {
        const char *layout = layouts[check_random_below(&random, sizeof layouts / sizeof *layouts)];
        char line[200];
        double place[2][3];
        tu_template t;
        tu_decode_setup setup = tu_decode_setup_start();
        for (int k = 0; k < 2; k++)
            for (int axis = 0; axis < 3; axis++) /* whole hundredths: every layout prints them */
                place[k][axis] = floor(check_random_uniform(&random, -120000, 120000)) / 100;
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
        snprintf(line, sizeof line, layout, place[0][0], place[0][1], place[0][2], round + 2);
        tu_status status = tu_template_work_out(line, place[0], TU_UNIT_MM, &t, NULL);
        if (status) { /* a coordinate that is the count too, once in a while */
            assert_int_equal(status, TU_UNDETERMINED);
            continue;
        }
        snprintf(line, sizeof line - 1, layout, place[1][0], place[1][1], place[1][2], round + 3);
#pragma GCC diagnostic pop
        strcat(line, "\n");
        setup.templates = &t;
        setup.template_count = 1;
        decode_bench_run(&bench, &setup, line, strlen(line));
        assert_int_equal(bench.record[0].kind, TU_DECODED_HIT);
        for (int axis = 0; axis < 3; axis++)
            check_same(bench.record[0].position_mm[axis], place[1][axis], "coordinate, mm");
        worked++;
    }
    assert_true(worked > 2950);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_that_were_shown_become_fields),
        cmocka_unit_test(an_inch_line_is_held_against_a_position_in_mm),
        cmocka_unit_test(what_does_not_settle_it_is_refused),
        cmocka_unit_test(a_long_line_is_left_to_the_user),
        cmocka_unit_test(a_template_reads_the_next_line_of_its_layout),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
