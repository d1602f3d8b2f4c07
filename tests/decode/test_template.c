/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_template.c - taking templates apart, and reading lines by them.
 */
#include "check.h"
#include "decode_bench.h"

#include <stdio.h>
#include <string.h>

static decode_bench bench;

static tu_template parse(const char *text)
{
    tu_template template;
    tu_error error = {0};
    check_status(tu_template_parse(text, &template, &error), TU_OK, &error);
    return template;
}

/* What a template makes of a line: NULL for a hit, else the reason. */
static const char *read_line(const char *text, const char *line)
{
    char ended[600];
    tu_template template = parse(text);
    tu_decode_setup setup = tu_decode_setup_start();
    setup.templates = &template;
    setup.template_count = 1;
    int length = snprintf(ended, sizeof ended, "%s\n", line);
    decode_bench_run(&bench, &setup, ended, (size_t)length);
    assert_int_equal(bench.count, 1);
    return bench.record[0].kind == TU_DECODED_HIT ? NULL : bench.record[0].reason;
}

static void check_place(double x, double y, double z)
{
    check_same(bench.record[0].position_mm[TU_AXIS_X], x, "x, mm");
    check_same(bench.record[0].position_mm[TU_AXIS_Y], y, "y, mm");
    check_same(bench.record[0].position_mm[TU_AXIS_Z], z, "z, mm");
}

static void a_template_is_taken_apart_at_its_fields(void **state)
{
    (void)state;
    tu_template t = parse("at {x}, {y}, {{{z}}} ok");
    assert_int_equal(t.field_count, 3);
    assert_string_equal(t.field[2].name, "z");
    assert_int_equal(t.field[0].before_length, 3);
    assert_int_equal(t.field[2].before_length, 4); /* ", {{" */
    assert_int_equal(t.tail_length, 5);            /* "}} ok" */
}

static void what_can_not_be_a_template_is_refused_with_the_reason(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        tu_status status;
        const char *says;
    } bad[] = {
        {"", TU_DATA_MISSING, "{x}"},
        {"{x} {y}", TU_DATA_MISSING, "{z}"},
        {"{y} {z}", TU_DATA_MISSING, "{x}"},
        {"{x} {z}", TU_DATA_MISSING, "{y}"},
        {"{x} {y} {z} {X}", TU_DATA_UNKNOWN, "did you mean {x}?"},
        {"{x} {y} {z} {seris}", TU_DATA_UNKNOWN, "did you mean {series}?"},
        {"{x} {y} {z} {}", TU_DATA_UNKNOWN, "the fields are"},
        {"{x} {y} {z} {x}", TU_DATA_CONFLICT, "{x} stands twice"},
        {"{x}{y} {z}", TU_DATA_SYNTAX, "between the fields {x} and {y}"},
        {"{x} {y} {z}{_}", TU_DATA_SYNTAX, "between the fields {z} and {_}"},
        {"{x} {y} {z", TU_DATA_SYNTAX, "character 9 is not closed"},
        {"{x {y} {z}", TU_DATA_SYNTAX, "character 1 is not closed"},
        {"{x} {y} {z} }", TU_DATA_SYNTAX, "character 13 closes nothing"},
        {"${x} {y} {z}", TU_DATA_SYNTAX, "starts with $"},
        {" {{{x} {y} {z}", TU_DATA_SYNTAX, "JSON"},
        {"{x} {y} {z}\n", TU_DATA_SYNTAX, "one line"},
        {"{x} {y} {z} \xff", TU_DATA_SYNTAX, "UTF-8"},
        {"{x} {y} {z} \xc2\x9b", TU_DATA_SYNTAX, "control"},
        {"{x} {y} {z} \xc2\x80", TU_DATA_SYNTAX, "control"},
        {"{x} {y} {z} \xc2\x9f", TU_DATA_SYNTAX, "control"},
        {"{x} {y} {z} \x1f", TU_DATA_SYNTAX, "control"},
        {"{x} {y} {z} \x7f", TU_DATA_SYNTAX, "control"},
        {"{_} {_} {_} {_} {_} {_} {_} {_} {_} {_} {_} {_} {_} {_} {x} {y} {z}", TU_DATA_SYNTAX,
         "at most 16 fields"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        tu_template t;
        tu_error error = {0};
        check_status(tu_template_parse(bad[i].text, &t, &error), bad[i].status, &error);
        check_contains(error.message, bad[i].says);
        assert_int_equal(t.field_count, 0);
        assert_int_equal(tu_template_parse(bad[i].text, &t, NULL), bad[i].status);
    }
}

static void a_template_of_255_bytes_is_the_longest(void **state)
{
    (void)state;
    char text[300] = "{x} {y} {z} ";
    tu_template t;
    tu_error error = {0};
    memset(text + 12, 'a', sizeof text - 12);
    text[255] = '\0';
    check_status(tu_template_parse(text, &t, &error), TU_OK, &error);
    text[255] = 'a';
    text[256] = '\0';
    check_status(tu_template_parse(text, &t, &error), TU_DATA_SYNTAX, &error);
    check_contains(error.message, "at most 255 bytes, found 256");
}

static void columns_may_shift(void **state)
{
    (void)state;
    const char *t = "X: {x} Y: {y}  Z: {z}";
    assert_null(read_line(t, "X:100.000 Y:  2.5 Z:-40"));
    check_place(100, 2.5, -40);
    assert_null(read_line(t, "\tX:\t1 Y:2\t \tZ: -3 "));
    check_place(1, 2, -3);
    assert_non_null(read_line(t, "X:1Y:2 Z:3"));   /* the blank in front of Y is needed */
    assert_non_null(read_line(t, "X :1 Y:2 Z:3")); /* and none may come where none stands */
    assert_non_null(read_line(t, "X: - 1 Y:2 Z:3"));
}

static void columns_without_a_gap_are_not_parted(void **state)
{
    (void)state;
    assert_null(read_line("{x} {y} {z}", "1.5  2.5 -3.5"));
    check_place(1.5, 2.5, -3.5);
    assert_non_null(read_line("{x} {y} {z}", "1.52.5 -3.5 4"));
    assert_non_null(read_line("{x} {y} {z}", "1.5-2.5-3.5"));
    assert_non_null(read_line("{x} {y} {z}", "1.5 2.5 -3.5 4"));
}

static void anything_ends_at_the_next_text(void **state)
{
    (void)state;
    assert_null(read_line("{_};{x};{y};{z};{_}", ";1;2;3;"));
    check_place(1, 2, 3);
    assert_null(read_line("{_};{x};{y};{z};{_}", "a b;1;2;3;4;5"));
    check_place(1, 2, 3);
    assert_non_null(read_line("{_};{x};{y};{z};{_}", "a;b;1;2;3;"));
    assert_null(read_line("{x} {y} {z} {_} over", "1 2 3 a over b over"));
    assert_null(read_line("{_} end {x} {y} {z} {_} over", "end end 1 2 3 over over"));
    check_place(1, 2, 3);
}

static void braces_of_the_line_are_written_twice(void **state)
{
    (void)state;
    assert_null(read_line("at {{{x}}} {{{y}}} {z}", "at {1} {2} 3"));
    check_place(1, 2, 3);
    assert_non_null(read_line("at {{{x}}} {{{y}}} {z}", "at {{1}} {{2}} 3"));
}

static void every_field_is_read(void **state)
{
    (void)state;
    const char *t = "{series}|{n}|{t}|{axis}|{dir}|{x}|{y}|{z}";
    assert_null(read_line(t, "north edge|9007199254740991|0.5|y|+|1|2|3"));
    const tu_decoded *hit = &bench.record[0];
    assert_string_equal(hit->series, "north edge");
    assert_true(hit->has_sequence && hit->sequence == UINT64_C(9007199254740991));
    assert_int_equal(hit->device_us, 500000);
    assert_int_equal(hit->axis, TU_AXIS_Y);
    assert_int_equal(hit->direction, 1);
    check_contains(read_line(t, "north|9007199254740992|0.5|y|+|1|2|3"), "not a whole number");
    check_contains(read_line(t, "north|1|-0.5|y|+|1|2|3"), "number of seconds");
    check_contains(read_line(t, "north|1|0.5|w|+|1|2|3"), "none of x, y, z");
    check_contains(read_line(t, "north|1|0.5|y|0|1|2|3"), "neither + nor -");
    check_contains(read_line(t, "|1|0.5|y|+|1|2|3"), "series is empty");
    check_contains(read_line(t, "north|1|0.5|y|+|1|2|x"), "not a number");
}

static void the_first_template_that_fits_reads_the_line(void **state)
{
    (void)state;
    tu_template two[] = {parse("{x} {y} {z}"), parse("{z} {y} {x}")};
    tu_decode_setup setup = tu_decode_setup_start();
    setup.template_count = 2;
    setup.templates = two;
    decode_bench_run(&bench, &setup, "1 2 3\n", 6);
    check_place(1, 2, 3);
    setup.templates = (tu_template[]){two[1], two[0]};
    decode_bench_run(&bench, &setup, "1 2 3\n", 6);
    check_place(3, 2, 1);
}

/* 4 in are 101.6 mm, exactly (an inch is 25.4 mm, ISO 31-1). */
static void a_template_with_a_unit_reads_in_that_one_whatever_the_setup(void **state)
{
    (void)state;
    tu_template two[] = {parse("in {x} {y} {z}"), parse("mm {x} {y} {z}"), parse("{x} {y} {z}")};
    two[0].unit_stated = two[1].unit_stated = true;
    two[0].unit = TU_UNIT_INCH;
    tu_decode_setup setup = tu_decode_setup_start();
    setup.template_count = 3;
    setup.templates = two;
    decode_bench_run(&bench, &setup, "in 4 1 -2\n", 10);
    check_place(101.6, 25.4, -50.8);
    decode_bench_run(&bench, &setup, "4 1 -2\n", 7);
    check_place(4, 1, -2);
    setup.unit = TU_UNIT_INCH;
    decode_bench_run(&bench, &setup, "mm 4 1 -2\n", 10);
    check_place(4, 1, -2);
    decode_bench_run(&bench, &setup, "4 1 -2\n", 7);
    check_place(101.6, 25.4, -50.8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_template_is_taken_apart_at_its_fields),
        cmocka_unit_test(what_can_not_be_a_template_is_refused_with_the_reason),
        cmocka_unit_test(a_template_of_255_bytes_is_the_longest),
        cmocka_unit_test(columns_may_shift),
        cmocka_unit_test(columns_without_a_gap_are_not_parted),
        cmocka_unit_test(anything_ends_at_the_next_text),
        cmocka_unit_test(braces_of_the_line_are_written_twice),
        cmocka_unit_test(every_field_is_read),
        cmocka_unit_test(the_first_template_that_fits_reads_the_line),
        cmocka_unit_test(a_template_with_a_unit_reads_in_that_one_whatever_the_setup),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
