/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_text.c - nearest names, UTF-8, foreign text in messages.
 */
#include "check.h"

#include "base/show.h"
#include "trueup/text.h"

#include <string.h>

static const char *const names[] = {"thickness", "turned", "walls", "bore", "unit", "a", "größe"};

static const char *nearest(const char *word)
{
    return tu_text_nearest(word, names, sizeof names / sizeof names[0]);
}

static void each_kind_of_slip_is_one_edit(void **state)
{
    (void)state;
    static const char *const pool[] = {"bore"};
    static const char *const slips[] = {"boree", "bre", "bote", "obre", "bor"};
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        const char *found = tu_text_nearest(slips[i], pool, 1);
        if (found == NULL)
            fail_msg("%s is not near bore", slips[i]);
    }
    assert_null(tu_text_nearest("obro", pool, 1)); /* two edits, one allowed for four letters */
}

static void letters_compare_without_case(void **state)
{
    (void)state;
    assert_string_equal(nearest("THICKNESS"), "thickness");
    assert_string_equal(nearest("Turend"), "turned");
}

/* A third of the word's length: nine letters allow three edits, five allow one. */
static void longer_words_forgive_more(void **state)
{
    (void)state;
    assert_string_equal(nearest("thikcnes"), "thickness");
    assert_string_equal(nearest("thicxxxss"), "thickness");
    assert_null(nearest("thixxxxss"));
    assert_string_equal(nearest("wlals"), "walls");
    assert_null(nearest("wlasl"));
    assert_string_equal(nearest("wall"), "walls");
}

static void never_more_than_three_edits(void **state)
{
    (void)state;
    static const char *const pool[] = {"front-left-bottom"};
    assert_non_null(tu_text_nearest("front-left-bottxyz", pool, 1));
    assert_null(tu_text_nearest("front-left-botwxyz", pool, 1));
}

static void a_word_with_nothing_in_common_is_no_slip(void **state)
{
    (void)state;
    assert_null(nearest(""));
    assert_null(nearest("b"));
    assert_string_equal(nearest("A"), "a");
    assert_null(nearest("cutter"));
    assert_null(tu_text_nearest("a", NULL, 0));
}

static void of_equally_near_names_the_earlier_is_given(void **state)
{
    (void)state;
    static const char *const pool[] = {"G55", "G54", "G56"};
    assert_string_equal(tu_text_nearest("G5", pool, 3), "G55");
    assert_string_equal(tu_text_nearest("G54", pool, 3), "G54");
}

static void a_letter_beyond_ascii_is_one_edit(void **state)
{
    (void)state;
    assert_string_equal(nearest("größen"), "größe");
    assert_string_equal(nearest("gröse"), "größe");
    static const char *const pool[] = {"äëï"};
    assert_null(tu_text_nearest("äöü", pool, 1)); /* two letters of three, not two bytes of six */
    assert_string_equal(nearest("gr\xF6\xC3\x9F"
                                "e"),
                        "größe"); /* a stray byte counts as one character */
}

static void a_word_longer_than_any_name_is_near_nothing(void **state)
{
    (void)state;
    char word[200];
    memset(word, 'a', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    const char *const pool[] = {word, "bore"};
    assert_null(tu_text_nearest(word, pool, 2));
    assert_string_equal(tu_text_nearest("bpre", pool, 2), "bore");
}

/* Source: RFC 3629, sections 3, 4 and 10. */
static void well_formed_utf8_is_told_from_the_rest(void **state)
{
    (void)state;
    static const struct {
        const char *bytes;
        bool good;
    } cases[] = {
        {"", true},
        {"9.53\xC2\xB1", true},
        {"\xC2\x80", true},
        {"\xDF\xBF", true},
        {"\xE0\xA0\x80", true},
        {"\xED\x9F\xBF", true},
        {"\xEE\x80\x80", true},
        {"\xF0\x90\x80\x80", true},
        {"\xF4\x8F\xBF\xBF", true},
        {"\xF4\x90\x80\x80", false}, /* beyond U+10FFFF */
        {"\xED\xA0\x80", false},     /* a surrogate */
        {"\xC0\x80", false},         /* overlong NUL, section 10 */
        {"\xC1\xBF", false},         /* overlong */
        {"\xE0\x9F\xBF", false},     /* overlong */
        {"\xF0\x8F\xBF\xBF", false}, /* overlong */
        {"\xF5\x80\x80\x80", false}, /* no such first byte */
        {"\xFF", false},             /* never in UTF-8 */
        {"\x80", false},             /* a continuation alone */
        {"\xB1", false},             /* the plus-minus sign of ISO 8859-1 */
        {"a\xC2", false},            /* cut off */
        {"a\xE2\x82", false},        /* cut off */
        {"\xE2\x28\xA1", false},     /* second byte wrong */
        {"\xF0\x9F\x94\x28", false}, /* fourth byte wrong */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        if (tu_text_is_utf8(cases[i].bytes, strlen(cases[i].bytes)) != cases[i].good)
            fail_msg("case %zu is judged wrong", i);
    assert_false(tu_text_is_utf8("a\0b", 3));
    assert_true(tu_text_is_utf8("a\0b", 1));
}

static void assert_shown(const char *text, size_t length, const char *expected)
{
    assert_string_equal(tu_show(text, length).text, expected);
}

static void foreign_text_is_shown_on_one_line(void **state)
{
    (void)state;
    assert_shown("6,35", 4, "6,35");
    assert_shown("a\nb\0c", 5, "a\\x0Ab\\x00c");
    assert_shown("\x1B[2J", 4, "\\x1B[2J");
    assert_shown("9\xB1", 2, "9\\xB1");
    assert_shown("\xC2\x9B", 2, "\\xC2\\x9B");
    assert_shown("9\xC2\xB1"
                 "1",
                 4,
                 "9\xC2\xB1"
                 "1");
    assert_shown("", 0, "");
}

static void long_foreign_text_is_cut_between_characters(void **state)
{
    (void)state;
    for (size_t lead = 0; lead < 3; lead++) {
        char text[300];
        memset(text, 'a', lead);
        for (size_t at = lead; at + 3 <= sizeof text; at += 3)
            memcpy(text + at, "\xE2\x82\xAC", 3);
        tu_shown shown = tu_show(text, 290);
        size_t length = strlen(shown.text);
        assert_in_range(length, sizeof shown.text - 3, sizeof shown.text - 1);
        assert_string_equal(shown.text + length - 3, "...");
        assert_true(tu_text_is_utf8(shown.text, length));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_kind_of_slip_is_one_edit),
        cmocka_unit_test(letters_compare_without_case),
        cmocka_unit_test(longer_words_forgive_more),
        cmocka_unit_test(never_more_than_three_edits),
        cmocka_unit_test(a_word_with_nothing_in_common_is_no_slip),
        cmocka_unit_test(of_equally_near_names_the_earlier_is_given),
        cmocka_unit_test(a_letter_beyond_ascii_is_one_edit),
        cmocka_unit_test(a_word_longer_than_any_name_is_near_nothing),
        cmocka_unit_test(well_formed_utf8_is_told_from_the_rest),
        cmocka_unit_test(foreign_text_is_shown_on_one_line),
        cmocka_unit_test(long_foreign_text_is_cut_between_characters),
    };
    return cmocka_run_group_tests_name("text", tests, NULL, NULL);
}
