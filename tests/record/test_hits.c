/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_hits.c - the hit log, written and read. Bad logs are in fixtures/bad/hits.
 */
#include "check.h"

#include "trueup/hits.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define UTC "2026-11-25T08:15:30.123Z"

static const tu_hit sample = {.sequence = 7,
                              .utc = UTC,
                              .device_us = 1250000,
                              .position = {100.0125, -0.1, -40.125},
                              .axis = TU_AXIS_Z,
                              .direction = -1,
                              .series = "left \"edge\" \\ \xC3\xA9",
                              .ok = true};

/* A temporary log of these bytes; its path. */
static const char *write_log(const char *text, size_t length)
{
    static char path[40];
    snprintf(path, sizeof path, "/tmp/hits.XXXXXX");
    int fd = mkstemp(path);
    assert_true(fd >= 0);
    assert_int_equal(write(fd, text, length), length);
    close(fd);
    return path;
}

static void check_same_hit(const tu_hit *a, const tu_hit *b)
{
    assert_int_equal(a->sequence, b->sequence);
    assert_string_equal(a->utc, b->utc);
    assert_int_equal(a->device_us, b->device_us);
    check_same(a->position.x, b->position.x, "x, mm");
    check_same(a->position.y, b->position.y, "y, mm");
    check_same(a->position.z, b->position.z, "z, mm");
    assert_int_equal(a->axis, b->axis);
    assert_int_equal(a->direction, b->direction);
    assert_string_equal(a->series, b->series);
    assert_int_equal(a->ok, b->ok);
}

/* The checksum of this line by zlib.crc32 of Python 3.11. */
static void a_line_is_written_as_documented(void **state)
{
    (void)state;
    char text[600];
    tu_hit hit = sample;
    snprintf(hit.series, sizeof hit.series, "left");
    size_t length = tu_hits_format(text, sizeof text, &hit);
    assert_int_equal(length, strlen(text));
    assert_string_equal(text, "{\"seq\":7,\"utc\":\"" UTC "\",\"us\":1250000,\"x\":100.0125,"
                              "\"y\":-0.1,\"z\":-40.125,\"axis\":\"z\",\"dir\":\"-\","
                              "\"series\":\"left\",\"ok\":true,\"crc\":\"33bdd532\"}\n");
    tu_hits_format_header(text, sizeof text, UTC);
    assert_string_equal(text, "{\"trueup\":\"hits\",\"schema\":1,\"utc\":\"" UTC "\","
                              "\"crc\":\"263d3cf9\"}\n");
}

/* Random hits; a double survives exactly, being written with the digits it needs. */
static void what_is_written_is_read_back_exactly(void **state)
{
    (void)state;
    enum { HITS = 300 };
    static tu_hit hits[HITS];
    static char log[HITS * 400];
    check_random random = check_random_seed(20261125);
    size_t length = tu_hits_format_header(log, sizeof log, UTC);
    for (size_t i = 0; i < HITS; i++) {
        hits[i] = sample;
        hits[i].sequence = check_random_bits(&random) >> 11; /* up to 2^53 - 1, and that itself */
        hits[i].device_us = check_random_below(&random, 3) ? check_random_bits(&random) >> 20 : 0;
        if (i == 0)
            hits[i].sequence = hits[i].device_us = (UINT64_C(1) << 53) - 1;
        hits[i].position.x = check_random_uniform(&random, -1e4, 1e4);
        hits[i].position.y = check_random_normal(&random, 0, 1e-3);
        hits[i].position.z = (double)check_random_below(&random, 9600) * 0.0125 - 120;
        hits[i].axis = (tu_axis)check_random_below(&random, 3);
        hits[i].direction = (int)check_random_below(&random, 3) - 1;
        hits[i].ok = check_random_below(&random, 2);
        if (!check_random_below(&random, 4))
            hits[i].utc[0] = hits[i].series[0] = '\0';
        size_t added = tu_hits_format(log + length, sizeof log - length, &hits[i]);
        assert_true(added > 0);
        length += added;
    }
    const char *path = write_log(log, length);
    tu_hits_reader *reader;
    tu_hit hit;
    bool have;
    tu_error error = {0};
    check_status(tu_hits_open(path, &reader, &error), TU_OK, &error);
    for (size_t i = 0; i < HITS; i++) {
        check_status(tu_hits_next(reader, &hit, &have, &error), TU_OK, &error);
        assert_true(have);
        check_same_hit(&hit, &hits[i]);
    }
    check_status(tu_hits_next(reader, &hit, &have, &error), TU_OK, &error);
    assert_false(have);
    assert_int_equal(tu_hits_torn(reader), 0);
    tu_hits_close(reader);
    unlink(path);
}

/* Torn at every byte of the last line: all before it is read, and the rest is counted. */
static void a_torn_last_line_ends_the_log(void **state)
{
    (void)state;
    char log[2000];
    size_t first = tu_hits_format_header(log, sizeof log, UTC);
    first += tu_hits_format(log + first, sizeof log - first, &sample);
    size_t whole = first + tu_hits_format(log + first, sizeof log - first, &sample);
    for (size_t length = first + 1; length < whole; length++) {
        const char *path = write_log(log, length);
        tu_hits_reader *reader;
        tu_hit hit;
        bool have;
        check_status(tu_hits_open(path, &reader, NULL), TU_OK, NULL);
        check_status(tu_hits_next(reader, &hit, &have, NULL), TU_OK, NULL);
        assert_true(have);
        check_status(tu_hits_next(reader, &hit, &have, NULL), TU_OK, NULL);
        assert_false(have);
        assert_int_equal(tu_hits_torn(reader), length - first);
        tu_hits_close(reader);
        unlink(path);
    }
}

/* CRC-32 finds every burst of up to 32 bits (a property of any CRC of that width). */
static void every_changed_byte_is_found(void **state)
{
    (void)state;
    char log[2000];
    size_t first = tu_hits_format_header(log, sizeof log, UTC);
    size_t whole = first + tu_hits_format(log + first, sizeof log - first, &sample);
    for (size_t at = first; at < whole - 1; at++) {
        log[at] ^= 1;
        const char *path = write_log(log, whole);
        log[at] ^= 1;
        tu_hits_reader *reader;
        tu_hit hit;
        bool have;
        tu_error error = {0};
        check_status(tu_hits_open(path, &reader, NULL), TU_OK, NULL);
        if (tu_hits_next(reader, &hit, &have, &error) != TU_DATA_SYNTAX)
            fail_msg("byte %zu changed, and nobody saw it", at);
        check_contains(error.where, ":2");
        tu_hits_close(reader);
        unlink(path);
    }
}

/* fixtures/hits/front_left.hits.jsonl was made with Python's zlib.crc32. */
static void records_of_other_kinds_are_passed_over(void **state)
{
    (void)state;
    char path[400];
    tu_hits_reader *reader;
    tu_hit hit;
    bool have;
    size_t count = 0, unusable = 0;
    tu_error error = {0};
    check_fixture_path("hits/front_left.hits.jsonl", path, sizeof path);
    check_status(tu_hits_open(path, &reader, &error), TU_OK, &error);
    while (!tu_hits_next(reader, &hit, &have, &error) && have) {
        assert_string_equal(hit.series, "corner");
        assert_int_equal(hit.direction, hit.axis == TU_AXIS_Z ? -1 : 1);
        unusable += !hit.ok;
        count++;
    }
    assert_int_equal(error.status, TU_OK);
    assert_int_equal(count, 16);
    assert_int_equal(unusable, 1);
    tu_hits_close(reader);
}

static void what_cannot_be_read_back_is_not_written(void **state)
{
    (void)state;
    char text[600];
    tu_hit hit = sample;
    assert_int_equal(tu_hits_format(text, 100, &hit), 0);
    assert_string_equal(text, "");
    hit.position.y = (double)NAN;
    assert_int_equal(tu_hits_format(text, sizeof text, &hit), 0);
    hit.position.y = (double)INFINITY;
    assert_int_equal(tu_hits_format(text, sizeof text, &hit), 0);
    hit = sample;
    snprintf(hit.series, sizeof hit.series, "a\nb");
    assert_int_equal(tu_hits_format(text, sizeof text, &hit), 0);
    snprintf(hit.series, sizeof hit.series, "\xFF");
    assert_int_equal(tu_hits_format(text, sizeof text, &hit), 0);
    hit = sample;
    hit.sequence = UINT64_MAX;
    assert_int_equal(tu_hits_format(text, sizeof text, &hit), 0);
    hit = sample;
    snprintf(hit.utc, sizeof hit.utc, "yesterday");
    assert_int_equal(tu_hits_format(text, sizeof text, &hit), 0);
    assert_int_equal(tu_hits_format_header(text, sizeof text, "2026-11-25"), 0);
    assert_int_equal(tu_hits_format_header(text, 10, UTC), 0);
}

static void a_comma_locale_changes_no_byte(void **state)
{
    (void)state;
    char plain[600], comma[600];
    tu_hits_format(plain, sizeof plain, &sample);
    check_comma_locale();
    tu_hits_format(comma, sizeof comma, &sample);
    assert_string_equal(comma, plain);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_is_written_as_documented),
        cmocka_unit_test(what_is_written_is_read_back_exactly),
        cmocka_unit_test(a_torn_last_line_ends_the_log),
        cmocka_unit_test(every_changed_byte_is_found),
        cmocka_unit_test(records_of_other_kinds_are_passed_over),
        cmocka_unit_test(what_cannot_be_read_back_is_not_written),
        cmocka_unit_test_teardown(a_comma_locale_changes_no_byte, check_plain_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
