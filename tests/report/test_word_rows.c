/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_word_rows.c - sentences broken between words into rows.
 */
#include "check.h"

#include "report/drawing/svg.h"
#include "report/word_rows.h"

#include <stdlib.h>
#include <string.h>

static char *written;

static const char *write_rows(const char *text, int used, int indent)
{
    size_t length;
    free(written);
    FILE *out = open_memstream(&written, &length);
    assert_non_null(out);
    tu_word_rows_write(out, text, used, indent);
    assert_int_equal(fclose(out), 0);
    return written;
}

static int forget(void **state)
{
    (void)state;
    free(written);
    written = NULL;
    return 0;
}

#define TEN "123456789 "

static void a_row_holds_eighty_columns_and_not_one_more(void **state)
{
    (void)state;
    /* seven tens and 11 or 10 more: 81 and 80 columns */
    assert_string_equal(write_rows(TEN TEN TEN TEN TEN TEN TEN "123456789 x", 0, 2),
                        TEN TEN TEN TEN TEN TEN TEN "123456789\n  x\n");
    assert_string_equal(write_rows(TEN TEN TEN TEN TEN TEN TEN "12345678 x", 0, 2),
                        TEN TEN TEN TEN TEN TEN TEN "12345678 x\n");
}

static void columns_are_characters_not_bytes(void **state)
{
    (void)state;
    assert_int_equal(tu_word_rows_columns("\xC2\xB1 0.02 \xC2\xB5m"), 9);
    assert_string_equal(
        write_rows(TEN TEN TEN TEN TEN TEN TEN "\xC2\xB1\xC2\xB1\xC2\xB1\xC2\xB1\xC2\xB1 6789", 0,
                   0),
        TEN TEN TEN TEN TEN TEN TEN "\xC2\xB1\xC2\xB1\xC2\xB1\xC2\xB1\xC2\xB1 6789\n");
}

static void the_first_row_begins_where_the_label_ended(void **state)
{
    (void)state;
    assert_string_equal(write_rows("twelve chars", 69, 3), "twelve\n   chars\n");
    assert_string_equal(write_rows("twelve chars", 68, 3), "twelve chars\n");
}

static void spaces_around_words_are_one_and_a_long_word_stands_alone(void **state)
{
    (void)state;
    char word[101];
    char expected[120];
    memset(word, 'w', 100);
    word[100] = '\0';
    assert_string_equal(write_rows("  a   b  ", 0, 0), "a b\n");
    assert_string_equal(write_rows("", 0, 0), "\n");
    char text[120];
    snprintf(text, sizeof text, "a %s b", word);
    snprintf(expected, sizeof expected, "a\n%s\nb\n", word);
    assert_string_equal(write_rows(text, 0, 0), expected);
}

static void rows_of_a_picture_hold_all_words_in_order_and_fit(void **state)
{
    (void)state;
    static const char text[] =
        "The bed is 0.62 mm from highest to lowest; \xC2\xB1 0.01 mm, shim it.";
    for (double room_mm = 10; room_mm < 200; room_mm += 7) {
        char together[sizeof text + 1] = "", row[64];
        for (const char *left = text; *left;) {
            left = tu_word_rows_take(left, room_mm, 3, row, sizeof row);
            assert_true(*row != '\0');
            if (strchr(row, ' '))
                check_between(tu_svg_text_width(row, 3), 0, room_mm, "row, mm of paper");
            strcat(strcat(together, *together ? " " : ""), row);
        }
        assert_string_equal(together, text);
    }
}

static void a_word_longer_than_the_memory_is_cut_between_characters(void **state)
{
    (void)state;
    char row[6];
    const char *left =
        tu_word_rows_take("ab\xC2\xB5\xC2\xB5\xC2\xB5 next", 1000, 3, row, sizeof row);
    assert_string_equal(row, "ab\xC2\xB5");
    assert_string_equal(left, "next");
    left = tu_word_rows_take(left, 1000, 3, row, sizeof row);
    assert_string_equal(row, "next");
    assert_string_equal(left, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(a_row_holds_eighty_columns_and_not_one_more, forget),
        cmocka_unit_test_teardown(columns_are_characters_not_bytes, forget),
        cmocka_unit_test_teardown(the_first_row_begins_where_the_label_ended, forget),
        cmocka_unit_test_teardown(spaces_around_words_are_one_and_a_long_word_stands_alone, forget),
        cmocka_unit_test(rows_of_a_picture_hold_all_words_in_order_and_fit),
        cmocka_unit_test(a_word_longer_than_the_memory_is_cut_between_characters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
