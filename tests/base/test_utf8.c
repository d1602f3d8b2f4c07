/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_utf8.c - one UTF-8 sequence at a time, against every code point and every short sequence.
 */
#include "check.h"

#include "base/utf8.h"

#include <string.h>

enum { LAST_CODE = 0x10FFFF };

/* RFC 3629, section 3: the number's bits are dealt out over the fewest bytes that hold them. */
static size_t encode(uint32_t code, unsigned char bytes[4])
{
    static const unsigned char mark[] = {0, 0x00, 0xC0, 0xE0, 0xF0};
    size_t length = code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
    for (size_t i = length; i-- > 1; code >>= 6)
        bytes[i] = (unsigned char)(0x80 | (code & 0x3F));
    bytes[0] = (unsigned char)(mark[length] | code);
    return length;
}

static bool is_surrogate(uint32_t code)
{
    return code >= 0xD800 && code <= 0xDFFF;
}

static size_t next(const unsigned char *bytes, size_t left, uint32_t *code)
{
    return tu_utf8_next((const char *)bytes, left, code);
}

static void every_code_point_comes_back_and_surrogates_do_not(void **state)
{
    (void)state;
    for (uint32_t code = 0; code <= LAST_CODE; code++) {
        unsigned char bytes[4];
        size_t length = encode(code, bytes);
        uint32_t found = LAST_CODE + 1;
        if (is_surrogate(code)) {
            assert_int_equal(next(bytes, length, &found), 0);
            assert_int_equal(found, LAST_CODE + 1);
            continue;
        }
        assert_int_equal(next(bytes, length, &found), length);
        assert_int_equal(found, code);
        assert_int_equal(next(bytes, length, NULL), length);
        for (size_t cut = 0; cut < length; cut++)
            assert_int_equal(next(bytes, cut, &found), 0);
    }
}

/* What is accepted is nothing but encodings: no overlong form, no stray byte. */
static void every_sequence_of_three_bytes_is_an_encoding_or_refused(void **state)
{
    (void)state;
    for (uint32_t all = 0; all < 1u << 24; all++) {
        unsigned char bytes[3] = {(unsigned char)(all >> 16), (unsigned char)(all >> 8),
                                  (unsigned char)all};
        uint32_t code = 0;
        size_t length = next(bytes, sizeof bytes, &code);
        unsigned char again[4];
        if (length != 0 && (encode(code, again) != length || memcmp(again, bytes, length) != 0))
            fail_msg("%02X %02X %02X read as U+%04X", bytes[0], bytes[1], bytes[2], (unsigned)code);
    }
}

static void forms_beyond_the_last_code_point_are_refused(void **state)
{
    (void)state;
    static const unsigned char beyond[][4] = {
        {0xF4, 0x90, 0x80, 0x80}, /* U+110000 */
        {0xF5, 0x80, 0x80, 0x80}, {0xF8, 0x88, 0x80, 0x80},
        {0xFF, 0xBF, 0xBF, 0xBF}, {0xF0, 0x8F, 0xBF, 0xBF}, /* U+FFFF in four bytes */
    };
    for (size_t i = 0; i < sizeof beyond / sizeof beyond[0]; i++)
        assert_int_equal(next(beyond[i], 4, NULL), 0);
}

static void controls_are_those_of_the_blocks_and_of_writing_direction(void **state)
{
    (void)state;
    static const uint32_t yes[] = {0, 0x1B, 0x1F, 0x7F, 0x80, 0x9F, 0x202A, 0x202E, 0x2066, 0x2069};
    static const uint32_t no[] = {' ', '~', 0xA0, 0xB5, 0x2029, 0x202F, 0x2065, 0x206A, 0x1F600};
    for (size_t i = 0; i < sizeof yes / sizeof yes[0]; i++)
        assert_true(tu_utf8_is_control(yes[i]));
    for (size_t i = 0; i < sizeof no / sizeof no[0]; i++)
        assert_false(tu_utf8_is_control(no[i]));
}

static void check_tidy(const char *text, const char *expected)
{
    char copy[64];
    assert_true(strlen(text) < sizeof copy);
    strcpy(copy, text);
    tu_utf8_tidy(copy);
    assert_string_equal(copy, expected);
}

static void a_text_is_made_fit_for_one_line(void **state)
{
    (void)state;
    check_tidy("", "");
    check_tidy("bed \xC2\xB5m", "bed \xC2\xB5m");
    check_tidy("two\nlines\x1B[2J", "two?lines?[2J");
    check_tidy("\xE2\x80\xAEright to left", "???right to left");
    check_tidy("stray \xB5 byte", "stray ? byte");
    check_tidy("cut \xC2", "cut ");
    check_tidy("cut \xF0\x9F\x98", "cut ");
    check_tidy("not cut \xF0\x28", "not cut ?(");
}

static void a_control_is_found_wherever_it_stands(void **state)
{
    (void)state;
    assert_false(tu_utf8_has_control(""));
    assert_false(tu_utf8_has_control("plain \xC2\xB5 \xFF\xFE"));
    assert_true(tu_utf8_has_control("\tplain"));
    assert_true(tu_utf8_has_control("plain\x7F"));
    assert_true(tu_utf8_has_control("after a stray byte \xFF\xE2\x81\xA6"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_point_comes_back_and_surrogates_do_not),
        cmocka_unit_test(every_sequence_of_three_bytes_is_an_encoding_or_refused),
        cmocka_unit_test(forms_beyond_the_last_code_point_are_refused),
        cmocka_unit_test(controls_are_those_of_the_blocks_and_of_writing_direction),
        cmocka_unit_test(a_text_is_made_fit_for_one_line),
        cmocka_unit_test(a_control_is_found_wherever_it_stands),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
