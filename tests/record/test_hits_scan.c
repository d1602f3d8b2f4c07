/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_hits_scan.c - the quick way of reading a hit against the strict one: the same hit to the
 * last bit, or the same refusal.
 */
#define _GNU_SOURCE
#include "check.h"

#include "record/crc32.h"
#include "record/hits_form.h"
#include "record/hits_read.h"
#include "trueup/number.h"

#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#define HEADER                                                                                     \
    "{\"trueup\":\"hits\",\"schema\":1,\"utc\":\"2026-11-25T08:15:30Z\",\"crc\":\"4abf5a17\"}\n"

/* A reader of one line, whose body has no checksum yet. */
static tu_hits_reader *open_line(const char *body, size_t length, int *fd)
{
    char crc[TU_CRC32_TEXT_SIZE], tail[32];
    tu_hits_reader *reader;
    tu_crc32_format(crc, tu_crc32(body, length));
    int tail_length = snprintf(tail, sizeof tail, ",\"crc\":\"%s\"}\n", crc);
    *fd = memfd_create("line", MFD_CLOEXEC);
    assert_true(*fd >= 0);
    assert_int_equal(write(*fd, HEADER, sizeof HEADER - 1), sizeof HEADER - 1);
    assert_int_equal(write(*fd, body, length), length);
    assert_int_equal(write(*fd, tail, (size_t)tail_length), tail_length);
    assert_int_equal(lseek(*fd, 0, SEEK_SET), 0);
    check_status(tu_hits_start("line", *fd, &reader, NULL), TU_OK, NULL);
    check_status(tu_hits_check_header(reader, NULL), TU_OK, NULL);
    return reader;
}

static tu_status read_line(const char *body, size_t length, bool strict, tu_hit *hit, bool *have,
                           tu_error *error)
{
    int fd;
    tu_hits_reader *reader = open_line(body, length, &fd);
    reader->strict = strict;
    tu_status status = tu_hits_next(reader, hit, have, error);
    tu_hits_close(reader);
    close(fd);
    return status;
}

static bool same_bits(double a, double b)
{
    return memcmp(&a, &b, sizeof a) == 0;
}

/* True when the quick way took the line. */
static bool check_both(const char *body, size_t length)
{
    tu_hit quick = {0}, strict = {0}, alone;
    bool quick_have, strict_have;
    tu_error quick_error = {0}, strict_error = {0};
    tu_status a = read_line(body, length, false, &quick, &quick_have, &quick_error);
    tu_status b = read_line(body, length, true, &strict, &strict_have, &strict_error);
    bool same = a == b && quick_have == strict_have &&
                strcmp(quick_error.message, strict_error.message) == 0 &&
                strcmp(quick_error.where, strict_error.where) == 0;
    if (!a && quick_have)
        same = same && quick.sequence == strict.sequence && quick.device_us == strict.device_us &&
               strcmp(quick.utc, strict.utc) == 0 && strcmp(quick.series, strict.series) == 0 &&
               same_bits(quick.position.x, strict.position.x) &&
               same_bits(quick.position.y, strict.position.y) &&
               same_bits(quick.position.z, strict.position.z) && quick.axis == strict.axis &&
               quick.direction == strict.direction && quick.ok == strict.ok;
    if (!same)
        fail_msg("the two ways differ on: %.*s (%s / %s)", (int)length, body, quick_error.message,
                 strict_error.message);
    return tu_hits_scan(body, length, &alone);
}

static double any_position(check_random *random)
{
    switch (check_random_below(random, 20)) {
    case 0:
        return (double)check_random_below(random, 96000) * 0.0125 - 600; /* not always short */
    case 1:
        return check_random_uniform(random, -1e4, 1e4); /* 17 digits: the strict way's */
    case 2:
        return (double)check_random_bits(random) * 1e-9;
    case 3:
        return -0.0;
    default: /* as machines show them */
        return (double)((long)check_random_below(random, 2000000) - 1000000) / 10000;
    }
}

/* A hit as the writer writes it, without its checksum. */
static size_t any_body(check_random *random, char *text, size_t size)
{
    tu_hit hit = {.sequence = check_random_bits(random) >> (11 + check_random_below(random, 50)),
                  .position = {any_position(random), any_position(random), any_position(random)},
                  .axis = (tu_axis)check_random_below(random, 3),
                  .direction = (int)check_random_below(random, 3) - 1,
                  .ok = check_random_below(random, 2)};
    if (check_random_below(random, 2))
        hit.device_us = check_random_bits(random) >> 24;
    if (check_random_below(random, 4))
        snprintf(hit.utc, sizeof hit.utc, "2026-11-25T08:15:%02zu.%03zuZ",
                 check_random_below(random, 61), check_random_below(random, 1000));
    if (check_random_below(random, 4))
        snprintf(hit.series, sizeof hit.series, "%s",
                 check_random_below(random, 5) ? "bed" : "left \"edge\" \\ \xC3\xA9");
    size_t length = tu_hits_format(text, size, &hit);
    assert_true(length > TU_HITS_CRC_TAIL + 1);
    return length - TU_HITS_CRC_TAIL - 1;
}

static void the_quick_way_takes_what_the_writer_writes_as_the_strict_way_does(void **state)
{
    (void)state;
    char body[TU_HITS_LINE_MAX];
    check_random random = check_random_seed(4);
    int quick = 0;
    for (int i = 0; i < 4000; i++) {
        size_t length = any_body(&random, body, sizeof body);
        quick += check_both(body, length);
    }
    check_between(quick, 1000, 3900, "lines that the quick way took, of 4000");
}

/* One byte replaced, removed, added, or a piece doubled: the two ways still agree. */
static void a_changed_line_is_judged_the_same_by_both_ways(void **state)
{
    (void)state;
    static const char likely[] = "0123456789.-+eE\"\\{}:, xyztruefalse\t\r\x7F\xC3";
    char body[2 * TU_HITS_LINE_MAX];
    check_random random = check_random_seed(44);
    int quick = 0;
    for (int i = 0; i < 20000; i++) {
        size_t length = any_body(&random, body, TU_HITS_LINE_MAX);
        size_t at = check_random_below(&random, length);
        size_t room = length - at, piece = 1 + check_random_below(&random, room < 12 ? room : 12);
        char byte = likely[check_random_below(&random, sizeof likely - 1)];
        switch (check_random_below(&random, 4)) {
        case 0:
            body[at] = byte;
            break;
        case 1:
            memmove(body + at, body + at + 1, --length - at);
            break;
        case 2:
            memmove(body + at + 1, body + at, length++ - at);
            body[at] = byte;
            break;
        default:
            memmove(body + at + piece, body + at, length - at);
            length += piece;
        }
        quick += check_both(body, length);
    }
    check_between(quick, 1000, 16000, "changed lines that the quick way took, of 20000");
}

#define BEFORE "{\"seq\":1,\"x\":1,\"y\":2,\"z\":3,\"axis\":\"x\","

/* format has two %s, which the two texts take the place of. */
static void check_printed(const char *format, const char *first, const char *second)
{
    char body[400] = "";
    size_t length = 0;
    for (const char *at = format; *at; at++) {
        const char *text = first;
        if (at[0] != '%') {
            body[length++] = *at;
            continue;
        }
        at++;
        memcpy(body + length, text, strlen(text));
        length += strlen(text);
        first = second;
    }
    check_both(body, length);
}

/* Where a hasty scanner goes wrong; each line is whole but for its checksum. */
static void edges_of_numbers_are_judged_the_same_by_both_ways(void **state)
{
    (void)state;
    static const char *const x[] = {"0",
                                    "-0",
                                    "-0.0",
                                    "00",
                                    "01",
                                    "-",
                                    "",
                                    ".5",
                                    "5.",
                                    "+5",
                                    "1e3",
                                    "1E-3",
                                    "0.1",
                                    "-0.1",
                                    "123456789012345",
                                    "1234567890123456",
                                    "0.123456789012345",
                                    "0.1234567890123456",
                                    "0.000000000000001",
                                    "0.0000000000000001",
                                    "12345678.1234567",
                                    "12345678.12345678",
                                    "9007199254740993",
                                    "9007199254740991",
                                    "9007199254740992",
                                    "1e999",
                                    "NaN",
                                    "Infinity",
                                    "null",
                                    "\"1\"",
                                    "1 ",
                                    " 1",
                                    "1,",
                                    "0.0000",
                                    "100.0000",
                                    "999999999999999"};
    for (size_t i = 0; i < sizeof x / sizeof x[0]; i++) {
        check_printed("{\"seq\":1,\"x\":%s,\"y\":2,\"z\":%s,\"axis\":\"x\",\"ok\":true", x[i], "3");
        check_printed("{\"seq\":%s,\"us\":%s,\"x\":1,\"y\":2,\"z\":3,\"axis\":\"x\",\"ok\":true",
                      x[i], "7");
        check_printed("{\"seq\":%s,\"us\":%s,\"x\":1,\"y\":2,\"z\":3,\"axis\":\"x\",\"ok\":true",
                      "1", x[i]);
    }
}

static void edges_of_texts_are_judged_the_same_by_both_ways(void **state)
{
    (void)state;
    static const char *const utc[] = {"2026-11-25T08:15:30Z",
                                      "2026-11-25T08:15:30.1Z",
                                      "2026-11-25T24:15:30Z",
                                      "2026-13-25T08:15:30Z",
                                      "2026-11-25T08:15:30.Z",
                                      "2026-11-25T08:15:30.12345678901Z",
                                      "2026-11-25T08:15:30.123456789012Z",
                                      "",
                                      "2026-11-25t08:15:30z",
                                      "2026-11-25T08:15:61Z"};
    for (size_t i = 0; i < sizeof utc / sizeof utc[0]; i++)
        check_printed("{\"seq\":1,\"utc\":\"%s\",\"x\":1,\"y\":2,\"z\":3,\"axis\":\"x\","
                      "\"series\":\"%s\",\"ok\":false",
                      utc[i], utc[i]);
    for (size_t count = 60; count < 68; count++) { /* 63 bytes are the most */
        char name[80] = {0};
        memset(name, 'n', count);
        check_printed(BEFORE "\"series\":\"%s\",\"ok\":%s", name, "false");
    }
}

/* A record that begins as a hit does and then turns out to be another kind. */
static void a_record_that_is_no_hit_leaves_nothing_in_the_hit(void **state)
{
    (void)state;
    static const char body[] = "{\"seq\":7,\"utc\":\"2026-11-25T08:15:30Z\",\"us\":5,\"x\":1,"
                               "\"y\":2,\"z\":3,\"axis\":\"y\",\"dir\":\"+\","
                               "\"series\":\"one\",\"kind\":\"end\"";
    static const tu_hit nothing;
    for (int strict = 0; strict < 2; strict++) {
        int fd;
        bool have = false;
        tu_hit hit;
        memset(&hit, 0, sizeof hit);
        tu_hits_record record;
        tu_hits_reader *reader = open_line(body, sizeof body - 1, &fd);
        reader->strict = strict;
        assert_int_equal(tu_hits_next_record(reader, &hit, &record, &have, NULL), TU_OK);
        assert_true(have);
        assert_string_equal(record.kind, "end");
        assert_memory_equal(&hit, &nothing, sizeof hit);
        tu_hits_close(reader);
        close(fd);
    }
}

/* Exact decimals: the double nearest to m / 10^k, as Python's float() and the C library give. */
static void the_quick_way_takes_the_nearest_double(void **state)
{
    (void)state;
    check_random random = check_random_seed(754);
    int taken = 0;
    for (int i = 0; i < 20000; i++) {
        char text[40], body[200];
        size_t decimals = check_random_below(&random, 15);
        uint64_t mantissa = check_random_bits(&random) % 1000000000000000u;
        tu_number_format(text, sizeof text, (double)mantissa, 0);
        size_t digits = strlen(text);
        if (digits <= decimals)
            continue;
        memmove(text + digits - decimals + 1, text + digits - decimals, decimals + 1);
        text[digits - decimals] = '.';
        if (decimals == 0)
            text[digits] = '\0';
        int length =
            snprintf(body, sizeof body,
                     "{\"seq\":1,\"x\":-%s,\"y\":2,\"z\":3,\"axis\":\"x\",\"ok\":true", text);
        tu_hit hit;
        double nearest;
        check_status(tu_number_parse(text, strlen(text), &nearest, NULL), TU_OK, NULL);
        if (!tu_hits_scan(body, (size_t)length, &hit))
            continue;
        taken++;
        check_same(hit.position.x, -nearest, text);
    }
    check_between(taken, 10000, 20000, "numbers taken");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_quick_way_takes_what_the_writer_writes_as_the_strict_way_does),
        cmocka_unit_test(a_changed_line_is_judged_the_same_by_both_ways),
        cmocka_unit_test(edges_of_numbers_are_judged_the_same_by_both_ways),
        cmocka_unit_test(edges_of_texts_are_judged_the_same_by_both_ways),
        cmocka_unit_test(a_record_that_is_no_hit_leaves_nothing_in_the_hit),
        cmocka_unit_test(the_quick_way_takes_the_nearest_double),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
