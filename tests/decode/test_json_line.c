/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_json_line.c - JSON lines, against cJSON (Debian's libcjson1) as an independent reader.
 */
#include "check.h"
#include "decode_bench.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <string.h>

static decode_bench bench;

static const char *const samples[] = {
    "{\"x\":100.000,\"y\":80.000,\"z\":-40.120,\"axis\":\"z\",\"dir\":\"-\",\"seq\":41}",
    "{ \"series\" : \"bed \\\"grid\\\"\" , \"x\": 1e2, \"y\":\t0.5E1,\"z\":-0 , \"bounces\" : 12 }",
    "{\"z\":-1,\"y\":2,\"x\":3,\"unit\":\"in\",\"bounce_us\":0,\"seq\":0}",
};

static double number_of(const cJSON *root, const char *name)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(root, name);
    assert_true(cJSON_IsNumber(item));
    return item->valuedouble;
}

/* What we take, cJSON takes too (it is the more lenient one), with the same numbers. */
static void check_against_other_reader(const char *text, size_t length, const tu_decoded *hit)
{
    cJSON *root = cJSON_ParseWithLength(text, length);
    assert_non_null(root);
    const cJSON *unit = cJSON_GetObjectItemCaseSensitive(root, "unit");
    double scale = unit && strncmp(unit->valuestring, "in", 2) == 0 ? 25.4 : 1;
    static const char *const names[] = {"x", "y", "z"};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        check_relative(hit->position_mm[axis], number_of(root, names[axis]) * scale, 1e-15,
                       "coordinate, mm");
    if (hit->has_sequence)
        assert_true((double)hit->sequence == number_of(root, "seq"));
    if (*hit->series)
        assert_string_equal(hit->series,
                            cJSON_GetObjectItemCaseSensitive(root, "series")->valuestring);
    cJSON_Delete(root);
}

/* Other readers write numbers by LC_NUMERIC: this test stays in the C locale. */
static void changed_lines_mean_what_another_reader_says(void **state)
{
    (void)state;
    check_random random = check_random_seed(3);
    tu_decode_setup setup = tu_decode_setup_start();
    size_t hits = 0, unread = 0;
    static const char alphabet[] = "{}[]\":,.+-eE0123456789 \txyznuaisq\\/tfd";
    for (int round = 0; round < 60000; round++) {
        char text[200];
        const char *sample = samples[check_random_below(&random, 3)];
        size_t length = strlen(sample);
        memcpy(text, sample, length);
        for (size_t changes = check_random_below(&random, 3); changes > 0; changes--) {
            size_t at = check_random_below(&random, length);
            if (check_random_below(&random, 3) == 0) {
                memmove(text + at, text + at + 1, length - at - 1);
                length--;
            } else {
                text[at] = alphabet[check_random_below(&random, sizeof alphabet - 1)];
            }
        }
        text[length] = '\n';
        decode_bench_run(&bench, &setup, text, length + 1);
        for (size_t i = 0; i < bench.count; i++)
            if (bench.record[i].kind == TU_DECODED_HIT)
                check_against_other_reader(bench.record[i].bytes, bench.record[i].length,
                                           &bench.record[i]);
        hits += bench.count == 1 && bench.record[0].kind == TU_DECODED_HIT;
        unread += bench.count == 1 && bench.record[0].kind == TU_DECODED_UNREAD;
    }
    assert_true(hits > 5000 && unread > 5000); /* or it says nothing */
}

/* 4 in is 101.6 mm exactly (1 in is 25.4 mm by definition). */
static void a_line_may_name_its_unit(void **state)
{
    (void)state;
    tu_decode_setup setup = decode_bench_setup();
    const char inch[] = "{\"x\":4,\"y\":1,\"z\":-1,\"unit\":\"in\"}\n";
    decode_bench_run(&bench, &setup, inch, sizeof inch - 1);
    check_close(bench.record[0].position_mm[TU_AXIS_X], 101.6, 1e-12, "x, mm");
    const char bare[] = "{\"x\":4,\"y\":1,\"z\":-1}\n{\"x\":4,\"y\":1,\"z\":-1,\"unit\":\"mm\"}\n";
    setup.unit = TU_UNIT_INCH;
    decode_bench_run(&bench, &setup, bare, sizeof bare - 1);
    check_close(bench.record[0].position_mm[TU_AXIS_X], 101.6, 1e-12, "x, mm");
    check_same(bench.record[1].position_mm[TU_AXIS_X], 4, "x, mm");
}

static void the_direction_is_plus_or_minus_and_the_axis_one_letter(void **state)
{
    (void)state;
    static const struct {
        const char *members;
        int axis, direction;
        const char *reason; /* NULL: a hit */
    } cases[] = {
        {"\"axis\":\"x\",\"dir\":\"+\"", TU_AXIS_X, 1, NULL},
        {"\"axis\":\"y\",\"dir\":\"-\"", TU_AXIS_Y, -1, NULL},
        {"\"dir\":\"+-\"", 0, 0, "the direction is neither \"+\" nor \"-\""},
        {"\"dir\":\"\"", 0, 0, "the direction is neither \"+\" nor \"-\""},
        {"\"dir\":1", 0, 0, "the direction is neither \"+\" nor \"-\""},
        {"\"dir\":\",\"", 0, 0, "the direction is neither \"+\" nor \"-\""},
        {"\"axis\":\"w\"", 0, 0, "the axis is none of \"x\", \"y\", \"z\""},
        {"\"axis\":\"{\"", 0, 0, "the axis is none of \"x\", \"y\", \"z\""},
        {"\"axis\":\"xy\"", 0, 0, "the axis is none of \"x\", \"y\", \"z\""},
        {"\"axis\":2", 0, 0, "the axis is none of \"x\", \"y\", \"z\""},
    };
    tu_decode_setup setup = decode_bench_setup();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[100];
        int size = snprintf(text, sizeof text, "{\"x\":1,\"y\":1,\"z\":-1,%s}\n", cases[i].members);
        decode_bench_run(&bench, &setup, text, (size_t)size);
        if (cases[i].reason) {
            assert_string_equal(bench.record[0].reason, cases[i].reason);
            continue;
        }
        assert_int_equal(bench.record[0].kind, TU_DECODED_HIT);
        assert_int_equal(bench.record[0].axis, cases[i].axis);
        assert_int_equal(bench.record[0].direction, cases[i].direction);
    }
}

static void a_series_may_be_as_long_as_a_log_takes(void **state)
{
    (void)state;
    tu_decode_setup setup = decode_bench_setup();
    char text[200], name[80];
    for (int length = 63; length <= 64; length++) {
        memset(name, 's', sizeof name);
        name[length] = '\0';
        int size =
            snprintf(text, sizeof text, "{\"x\":1,\"y\":1,\"z\":-1,\"series\":\"%s\"}\n", name);
        decode_bench_run(&bench, &setup, text, (size_t)size);
        if (length == 63)
            assert_string_equal(bench.record[0].series, name);
        else
            assert_string_equal(bench.record[0].reason, "a JSON text that is too long");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(changed_lines_mean_what_another_reader_says),
        cmocka_unit_test(a_line_may_name_its_unit),
        cmocka_unit_test(the_direction_is_plus_or_minus_and_the_axis_one_letter),
        cmocka_unit_test(a_series_may_be_as_long_as_a_log_takes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
