/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_decoder.c - properties of the decoder over random streams. The records of given streams are
 * in fixtures/streams (test_streams.py).
 */
#include "check.h"
#include "decode_bench.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { STREAM_SIZE = 6000 };

/* Large, and used by one test at a time. */
static decode_bench whole, parts;
static tu_template touch_template;

typedef struct stream {
    char text[STREAM_SIZE + 1000];
    size_t length;
} stream;

static tu_decode_setup full_setup(void)
{
    tu_decode_setup setup = decode_bench_setup();
    check_status(tu_template_parse("touch {n} at {x}, {y}, {z}; {_}", &touch_template, NULL), TU_OK,
                 NULL);
    setup.templates = &touch_template;
    setup.template_count = 1;
    return setup;
}

/* A line of any form, mostly sound. */
static size_t write_line(check_random *random, char *text, size_t size, unsigned number)
{
    char body[120];
    double x = check_random_uniform(random, -100, 1300), z = check_random_uniform(random, -130, 10);
    unsigned clock = number * 1000;
    switch (check_random_below(random, 8)) {
    case 0:
        snprintf(body, sizeof body, "TUCNT,%u,%u,Z-,%d,6400,%d,1,20", number, clock, (int)(80 * x),
                 (int)(400 * z));
        return decode_bench_sentence(text, size, body);
    case 1:
        snprintf(body, sizeof body, "TUHLO,bench probe,1.0,%u", number);
        return decode_bench_sentence(text, size, body);
    case 2:
        return (size_t)snprintf(text, size, "{\"x\":%.3f,\"y\":10,\"z\":%.3f,\"seq\":%u}\n", x, z,
                                number);
    case 3:
        return (size_t)snprintf(text, size, "touch %u at %.3f, 20.5, %.3f; %u\r\n", number, x, z,
                                clock);
    case 4:
        return (size_t)snprintf(text, size, "status %u\n", number);
    default:
        snprintf(body, sizeof body, "TUHIT,%u,%u,X+,%.4f,10.0,%.4f,3,400", number, clock, x, z);
        return decode_bench_sentence(text, size, body);
    }
}

/* Changes, doubles or removes single bytes here and there; floods of any byte now and then. */
static void spoil(check_random *random, stream *s)
{
    size_t faults = check_random_below(random, 12);
    for (size_t i = 0; i < faults && s->length > 2; i++) {
        size_t at = check_random_below(random, s->length - 1);
        char *place = s->text + at;
        switch (check_random_below(random, 4)) {
        case 0:
            *place = (char)check_random_below(random, 256);
            break;
        case 1:
            memmove(place, place + 1, s->length - at - 1);
            s->length--;
            break;
        case 2:
            if (s->length < STREAM_SIZE) {
                memmove(place + 1, place, s->length - at);
                s->length++;
            }
            break;
        default:
            for (size_t k = check_random_below(random, 700); k > 0 && place < s->text + s->length;
                 k--)
                *place++ = (char)check_random_below(random, 256);
        }
    }
}

static void write_stream(check_random *random, stream *s)
{
    unsigned number = (unsigned)check_random_below(random, 3);
    s->length = 0;
    while (s->length + 200 < STREAM_SIZE && check_random_below(random, 60) > 0) {
        number += (unsigned)check_random_below(random, 12) == 0 ? 3 : 1;
        if (check_random_below(random, 40) == 0)
            number = 0;
        s->length += write_line(random, s->text + s->length, sizeof s->text - s->length, number);
    }
    spoil(random, s);
}

static void the_records_do_not_depend_on_the_chunks(void **state)
{
    (void)state;
    static stream s;
    check_random random = check_random_seed(20261125);
    tu_decode_setup setup = full_setup();
    for (int round = 0; round < 400; round++) {
        write_stream(&random, &s);
        tu_decoder one = decode_bench_run(&whole, &setup, s.text, s.length);
        tu_decoder two = tu_decoder_start(&setup);
        parts.count = parts.used = 0;
        size_t most = 1 + check_random_below(&random, round % 2 ? 5 : 300);
        for (size_t at = 0; at < s.length;) {
            size_t chunk = check_random_below(&random, most + 1);
            if (chunk > s.length - at)
                chunk = s.length - at;
            /* from a copy, so that reading beyond the chunk shows under a sanitizer */
            char copy[512];
            memcpy(copy, s.text + at, chunk);
            tu_decoder_feed(&two, copy, chunk, decode_bench_take, &parts);
            at += chunk;
        }
        tu_decoder_finish(&two, decode_bench_take, &parts);
        assert_true(decode_bench_is_same(&whole, &parts));
        assert_true(one.hits == two.hits && one.unread == two.unread && one.lost == two.lost &&
                    one.good_bytes == two.good_bytes && one.bad_bytes == two.bad_bytes);
    }
}

static void a_stream_split_anywhere_gives_the_same_records(void **state)
{
    (void)state;
    static stream s;
    check_random random = check_random_seed(7);
    tu_decode_setup setup = full_setup();
    do
        write_stream(&random, &s);
    while (s.length < 1000 || s.length > 3000);
    decode_bench_run(&whole, &setup, s.text, s.length);
    for (size_t at = 0; at <= s.length; at++) {
        tu_decoder decoder = tu_decoder_start(&setup);
        parts.count = parts.used = 0;
        tu_decoder_feed(&decoder, s.text, at, decode_bench_take, &parts);
        tu_decoder_feed(&decoder, s.text + at, s.length - at, decode_bench_take, &parts);
        tu_decoder_finish(&decoder, decode_bench_take, &parts);
        assert_true(decode_bench_is_same(&whole, &parts));
    }
}

/* The books are kept at every moment, not only at the end. */
static void the_counters_add_up_to_the_bytes(void **state)
{
    (void)state;
    static stream s;
    check_random random = check_random_seed(11);
    tu_decode_setup setup = full_setup();
    for (int round = 0; round < 100; round++) {
        write_stream(&random, &s);
        tu_decoder d = tu_decoder_start(&setup);
        parts.count = parts.used = 0;
        for (size_t at = 0; at < s.length; at++) {
            tu_decoder_feed(&d, s.text + at, 1, decode_bench_take, &parts);
            assert_int_equal(d.good_bytes + d.text_bytes + d.bad_bytes + d.length, at + 1);
        }
        uint64_t hits = 0, unread = 0, lost = 0, restarts = 0;
        tu_decoder_finish(&d, decode_bench_take, &parts);
        for (size_t i = 0; i < parts.count; i++) {
            hits += parts.record[i].kind == TU_DECODED_HIT;
            unread += parts.record[i].kind == TU_DECODED_UNREAD;
            restarts += parts.record[i].kind == TU_DECODED_RESTART;
            if (parts.record[i].kind == TU_DECODED_LOST)
                lost += parts.record[i].count;
        }
        assert_int_equal(d.good_bytes + d.text_bytes + d.bad_bytes, s.length);
        assert_true(hits == d.hits && unread == d.unread && lost == d.lost &&
                    restarts == d.restarts);
    }
}

/* Every byte is in a record, but for line ends and blank lines. */
static void no_byte_of_a_line_gets_lost(void **state)
{
    (void)state;
    static stream s;
    check_random random = check_random_seed(13);
    tu_decode_setup setup = full_setup();
    for (int round = 0; round < 100; round++) {
        write_stream(&random, &s);
        decode_bench_run(&whole, &setup, s.text, s.length);
        size_t at = 0;
        for (size_t i = 0; i < whole.used; i++, at++) {
            while (at < s.length && s.text[at] != whole.text[i]) {
                assert_true(strchr("\r\n\t ", s.text[at]) && s.text[at]);
                at++;
            }
            assert_true(at < s.length);
        }
        for (; at < s.length; at++)
            assert_true(strchr("\r\n\t ", s.text[at]) && s.text[at]);
    }
}

static void a_hit_is_finite_and_within_the_travel(void **state)
{
    (void)state;
    static stream s;
    check_random random = check_random_seed(17);
    tu_decode_setup setup = full_setup();
    size_t hits = 0;
    for (int round = 0; round < 200; round++) {
        write_stream(&random, &s);
        decode_bench_run(&whole, &setup, s.text, s.length);
        for (size_t i = 0; i < whole.count; i++) {
            if (whole.record[i].kind != TU_DECODED_HIT)
                continue;
            const double *place = whole.record[i].position_mm;
            check_between(place[TU_AXIS_X], 0, 1200, "x, mm");
            check_between(place[TU_AXIS_Y], 0, 800, "y, mm");
            check_between(place[TU_AXIS_Z], -120, 0, "z, mm");
            hits++;
        }
    }
    assert_true(hits > 1000); /* or it says nothing */
}

static void a_flood_is_said_once(void **state)
{
    (void)state;
    char noise[600];
    memset(noise, 0x9F, sizeof noise);
    noise[599] = '\n';
    tu_decode_setup setup = decode_bench_setup();
    tu_decoder d = tu_decoder_start(&setup);
    whole.count = whole.used = 0;
    for (int i = 0; i < 50; i++)
        tu_decoder_feed(&d, noise, sizeof noise, decode_bench_take, &whole);
    size_t floods = 0;
    for (size_t i = 0; i < whole.count; i++)
        floods += whole.record[i].kind == TU_DECODED_FLOOD;
    assert_int_equal(floods, 1);
    assert_true(d.flood_said);
    assert_int_equal(whole.record[1].kind, TU_DECODED_FLOOD); /* after the first piece of 512 */
}

/* The device stayed on while the cable was out: what was sent meanwhile is lost, and said so. */
static void the_numbering_goes_on_after_a_finish(void **state)
{
    (void)state;
    char one[100], two[100];
    size_t first = decode_bench_sentence(one, sizeof one, "TUHIT,5,1000,Z-,1,2,-3,0,0");
    size_t second = decode_bench_sentence(two, sizeof two, "TUHIT,9,9000,Z-,1,2,-3,0,0");
    tu_decode_setup setup = decode_bench_setup();
    tu_decoder d = tu_decoder_start(&setup);
    whole.count = whole.used = 0;
    tu_decoder_feed(&d, one, first, decode_bench_take, &whole);
    tu_decoder_feed(&d, two, 10, decode_bench_take, &whole);
    tu_decoder_finish(&d, decode_bench_take, &whole);
    tu_decoder_feed(&d, two, second, decode_bench_take, &whole);
    assert_int_equal(whole.count, 4);
    assert_int_equal(whole.record[1].kind, TU_DECODED_UNREAD);
    assert_string_equal(whole.record[1].reason, "a line that was cut before its end");
    assert_int_equal(whole.record[2].kind, TU_DECODED_LOST);
    assert_int_equal(whole.record[2].count, 3);
    assert_int_equal(whole.record[3].kind, TU_DECODED_HIT);
}

static void a_comma_locale_changes_nothing(void **state)
{
    (void)state;
    check_comma_locale();
    tu_decode_setup setup = full_setup();
    const char text[] = "touch 1 at 100.25, 20.5, -40.125; x\n{\"x\":1.5,\"y\":2.5,\"z\":-3.5}\n";
    decode_bench_run(&whole, &setup, text, sizeof text - 1);
    assert_int_equal(whole.count, 2);
    check_same(whole.record[0].position_mm[TU_AXIS_X], 100.25, "x, mm");
    check_same(whole.record[1].position_mm[TU_AXIS_Z], -3.5, "z, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_records_do_not_depend_on_the_chunks),
        cmocka_unit_test(a_stream_split_anywhere_gives_the_same_records),
        cmocka_unit_test(the_counters_add_up_to_the_bytes),
        cmocka_unit_test(no_byte_of_a_line_gets_lost),
        cmocka_unit_test(a_hit_is_finite_and_within_the_travel),
        cmocka_unit_test(a_flood_is_said_once),
        cmocka_unit_test(the_numbering_goes_on_after_a_finish),
        cmocka_unit_test_teardown(a_comma_locale_changes_nothing, check_plain_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
