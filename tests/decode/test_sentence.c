/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_sentence.c - the checksummed sentence.
 */
#include "check.h"
#include "decode_bench.h"

#include <stdio.h>
#include <string.h>

static decode_bench bench;

/* A sentence that is quoted in many places, here from memory; its digits would fit by chance once
 * in 256. */
static void the_checksum_is_that_of_a_well_known_sentence(void **state)
{
    (void)state;
    const char body[] = "GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,";
    assert_int_equal(tu_sentence_checksum(body, sizeof body - 1), 0x47);
    assert_int_equal(tu_sentence_checksum(body, 0), 0);
}

/* Any single byte of a sentence changed to any other: never a hit. XOR finds every such change. */
static void no_single_wrong_byte_gets_through(void **state)
{
    (void)state;
    char text[100], spoilt[100];
    size_t length = decode_bench_sentence(text, sizeof text, "TUHIT,7,1000,Z-,1.5,2.5,-3.5,1,20");
    tu_decode_setup setup = decode_bench_setup();
    for (size_t at = 0; at + 2 < length; at++) {
        for (int byte = 0; byte < 256; byte++) {
            memcpy(spoilt, text, length);
            spoilt[at] = (char)byte;
            bool digit_case = at + 4 >= length && (byte | 0x20) == (text[at] | 0x20);
            if (spoilt[at] == text[at] || digit_case)
                continue;
            tu_decoder d = decode_bench_run(&bench, &setup, spoilt, length);
            assert_int_equal(d.hits, 0);
            assert_int_equal(d.good_bytes, 0);
            assert_true(d.unread >= 1);
        }
    }
    assert_int_equal(decode_bench_run(&bench, &setup, text, length).hits, 1);
}

/* Torn anywhere, with a line end put behind the tear: never a hit. */
static void no_torn_sentence_gets_through(void **state)
{
    (void)state;
    char text[100];
    size_t length = decode_bench_sentence(text, sizeof text, "TUHIT,7,1000,Z-,1.5,2.5,-3.5,1,20");
    tu_decode_setup setup = decode_bench_setup();
    for (size_t keep = 1; keep + 2 < length; keep++) {
        char torn[100];
        memcpy(torn, text, keep);
        torn[keep] = '\n';
        assert_int_equal(decode_bench_run(&bench, &setup, torn, keep + 1).hits, 0);
    }
}

/* Expected values: the counts over 80, 80 and 400 steps per mm, by pencil. */
static void counts_become_lengths_by_the_steps(void **state)
{
    (void)state;
    char text[100];
    size_t length = decode_bench_sentence(text, sizeof text, "TUCNT,1,5,Y-,+8001,0,-47999,0,0");
    tu_decode_setup setup = decode_bench_setup();
    decode_bench_run(&bench, &setup, text, length);
    assert_int_equal(bench.record[0].kind, TU_DECODED_HIT);
    check_close(bench.record[0].position_mm[TU_AXIS_X], 100.0125, 1e-12, "x, mm");
    check_close(bench.record[0].position_mm[TU_AXIS_Y], 0, 0, "y, mm");
    check_close(bench.record[0].position_mm[TU_AXIS_Z], -119.9975, 1e-12, "z, mm");
    assert_int_equal(bench.record[0].axis, TU_AXIS_Y);
    assert_int_equal(bench.record[0].direction, -1);
}

static void a_position_in_a_sentence_is_in_mm_whatever_the_unit(void **state)
{
    (void)state;
    char text[100];
    size_t length = decode_bench_sentence(text, sizeof text, "TUHIT,1,5,,10.5,20.5,-30.5,,");
    tu_decode_setup setup = decode_bench_setup();
    setup.unit = TU_UNIT_INCH;
    setup.axis = TU_AXIS_Z;
    setup.direction = -1;
    decode_bench_run(&bench, &setup, text, length);
    check_same(bench.record[0].position_mm[TU_AXIS_Z], -30.5, "z, mm");
    assert_int_equal(bench.record[0].axis, TU_AXIS_Z); /* of the setup, since it says nothing */
    assert_int_equal(bench.record[0].direction, -1);
}

/* Whole sentences whose checksum is right, and which all the same are none of ours. */
static void what_is_not_in_the_form_is_refused_by_its_field(void **state)
{
    (void)state;
    static const struct {
        const char *body, *reason;
    } cases[] = {
        {"TUHITS,7,1000,Z-,1.5,2.5,-3.5,1,20", "a sentence with too few or too many fields"},
        {"TUHITS,1000,Z-,1.5,2.5,-3.5,1,20", "a sentence with too few or too many fields"},
        {"TUHIT,7,1000,Z-,1.5,2.5,-3.5,1", "a sentence with too few or too many fields"},
        {"TUHIT,7,1000,Z-,1.5,2.5,-3.5,1,20,1,1", "a sentence with too few or too many fields"},
        {"TUHIT,7,1000,X5,1.5,2.5,-3.5,1,20",
         "the movement is not an axis and a direction, as in Z-"},
        {"TUHIT,7,1000,W-,1.5,2.5,-3.5,1,20",
         "the movement is not an axis and a direction, as in Z-"},
        {"TUHIT,7,1000,[-,1.5,2.5,-3.5,1,20",
         "the movement is not an axis and a direction, as in Z-"},
        {"TUHIT,7,1000,Z--,1.5,2.5,-3.5,1,20",
         "the movement is not an axis and a direction, as in Z-"},
    };
    tu_decode_setup setup = decode_bench_setup();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[100];
        size_t length = decode_bench_sentence(text, sizeof text, cases[i].body);
        tu_decoder d = decode_bench_run(&bench, &setup, text, length);
        assert_int_equal(d.hits, 0);
        assert_string_equal(bench.record[0].reason, cases[i].reason);
    }
}

static void one_axis_without_steps_makes_counts_unread(void **state)
{
    (void)state;
    char text[100];
    size_t length = decode_bench_sentence(text, sizeof text, "TUCNT,1,5,,80,80,-400,,");
    static const double useless[] = {0, -80};
    for (size_t i = 0; i < 3; i++) {
        tu_decode_setup setup = decode_bench_setup();
        setup.machine.steps_per_mm[TU_AXIS_Y] =
            i < 2 ? useless[i] : tu_decode_setup_start().machine.steps_per_mm[0];
        assert_int_equal(decode_bench_run(&bench, &setup, text, length).hits, 0);
        check_contains(bench.record[0].reason, "steps_per_mm");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_checksum_is_that_of_a_well_known_sentence),
        cmocka_unit_test(no_single_wrong_byte_gets_through),
        cmocka_unit_test(no_torn_sentence_gets_through),
        cmocka_unit_test(counts_become_lengths_by_the_steps),
        cmocka_unit_test(a_position_in_a_sentence_is_in_mm_whatever_the_unit),
        cmocka_unit_test(what_is_not_in_the_form_is_refused_by_its_field),
        cmocka_unit_test(one_axis_without_steps_makes_counts_unread),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
