/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_crc32.c - the checksum of a log line.
 */
#include "check.h"

#include "record/crc32.h"

#include <string.h>

/* The check value of CRC-32/ISO-HDLC (the CRC of IEEE 802.3), as published with its parameters. */
static void the_published_check_value_is_met(void **state)
{
    (void)state;
    assert_int_equal(tu_crc32("123456789", 9), 0xCBF43926);
}

/* IEEE 802.3 residue: a message followed by its CRC, low byte first, leaves DEBB20E3 before the
 * final inversion, that is 2144DF1C after it. */
static void a_message_with_its_crc_leaves_the_published_residue(void **state)
{
    (void)state;
    char text[32] = "z = -40.125";
    size_t length = strlen(text);
    uint32_t crc = tu_crc32(text, length);
    for (int i = 0; i < 4; i++)
        text[length++] = (char)(crc >> (8 * i) & 0xFF);
    assert_int_equal(tu_crc32(text, length), 0x2144DF1C);
}

/* Values by zlib.crc32 of Python 3.11 (the zlib library). */
static void zlib_gives_the_same(void **state)
{
    (void)state;
    char all[256], zeros[32] = {0}, ones[32];
    for (int i = 0; i < 256; i++)
        all[i] = (char)i;
    memset(ones, 0xFF, sizeof ones);
    assert_int_equal(tu_crc32("", 0), 0x00000000);
    assert_int_equal(tu_crc32("a", 1), 0xe8b7be43);
    assert_int_equal(tu_crc32(all, sizeof all), 0x29058c73);
    assert_int_equal(tu_crc32(zeros, sizeof zeros), 0x190a55ad);
    assert_int_equal(tu_crc32(ones, sizeof ones), 0xff6cab0b);
}

/* The definition, bit by bit: the reflected polynomial EDB88320 of IEEE 802.3. */
static uint32_t crc_by_bits(const char *bytes, size_t length)
{
    uint32_t crc = 0xFFFFFFFFu;
    for (size_t i = 0; i < length; i++) {
        crc ^= (unsigned char)bytes[i];
        for (int bit = 0; bit < 8; bit++)
            crc = crc & 1u ? (crc >> 1) ^ 0xEDB88320u : crc >> 1;
    }
    return ~crc;
}

static void every_length_and_place_agrees_with_the_definition(void **state)
{
    (void)state;
    char bytes[600];
    check_random random = check_random_seed(802);
    for (int round = 0; round < 3000; round++) {
        size_t start = check_random_below(&random, 16), length = (size_t)round % 580;
        for (size_t i = 0; i < sizeof bytes; i++)
            bytes[i] = (char)check_random_below(&random, 256);
        assert_int_equal(tu_crc32(bytes + start, length), crc_by_bits(bytes + start, length));
    }
}

static void the_text_is_eight_lower_case_digits(void **state)
{
    (void)state;
    char text[TU_CRC32_TEXT_SIZE];
    tu_crc32_format(text, 0xCBF43926);
    assert_string_equal(text, "cbf43926");
    tu_crc32_format(text, 0xA);
    assert_string_equal(text, "0000000a");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_published_check_value_is_met),
        cmocka_unit_test(a_message_with_its_crc_leaves_the_published_residue),
        cmocka_unit_test(zlib_gives_the_same),
        cmocka_unit_test(every_length_and_place_agrees_with_the_definition),
        cmocka_unit_test(the_text_is_eight_lower_case_digits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
