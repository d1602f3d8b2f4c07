/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_status.c - failures: their place, their message, their exit code.
 */
#include "check.h"

#include "trueup/text.h"

#include <string.h>

static void a_failure_carries_status_place_and_message(void **state)
{
    (void)state;
    tu_error error;
    memset(&error, 0x55, sizeof error);
    tu_status status =
        tu_fail(&error, TU_DATA_RANGE, "{depth}", "must be above %d, found %s", 0, "-2");
    check_status(status, TU_DATA_RANGE, &error);
    check_status(error.status, TU_DATA_RANGE, &error);
    assert_string_equal(error.where, "{depth}");
    assert_string_equal(error.message, "must be above 0, found -2");
}

static void a_failure_without_place_or_taker_is_fine(void **state)
{
    (void)state;
    tu_error error;
    tu_fail(&error, TU_USAGE, NULL, "no touches");
    assert_string_equal(error.where, "");
    check_status(tu_fail(NULL, TU_SYSTEM_IO, "a", "b"), TU_SYSTEM_IO, NULL);
}

static void a_failure_may_quote_the_error_it_replaces(void **state)
{
    (void)state;
    tu_error error;
    tu_fail(&error, TU_DATA_SYNTAX, "thickness", "not a number");
    tu_fail(&error, error.status, error.where, "plate: %s (%s)", error.message, error.where);
    assert_string_equal(error.where, "thickness");
    assert_string_equal(error.message, "plate: not a number (thickness)");
}

/* Each of two to four bytes, at each position of the cut: never half a character at the end. */
static void a_long_message_is_cut_between_characters(void **state)
{
    (void)state;
    static const char *const characters[] = {"\xC2\xB1", "\xE2\x82\xAC", "\xF0\x9F\x94\xA7"};
    for (size_t c = 0; c < 3; c++) {
        for (size_t lead = 0; lead < 4; lead++) {
            char text[2 * TU_ERROR_MESSAGE_SIZE] = "";
            memset(text, 'a', lead);
            for (size_t at = lead; at + 5 < sizeof text; at += strlen(characters[c]))
                memcpy(text + at, characters[c], strlen(characters[c]));
            tu_error error;
            tu_fail(&error, TU_DATA_SYNTAX, text, "%s", text);
            size_t message = strlen(error.message), where = strlen(error.where);
            assert_true(tu_text_is_utf8(error.message, message));
            assert_true(tu_text_is_utf8(error.where, where));
            assert_in_range(message, TU_ERROR_MESSAGE_SIZE - 4, TU_ERROR_MESSAGE_SIZE - 1);
            assert_in_range(where, TU_ERROR_WHERE_SIZE - 4, TU_ERROR_WHERE_SIZE - 1);
            assert_memory_equal(error.message, text, message);
            assert_memory_equal(error.where, text, where);
        }
    }
}

static void a_message_stays_one_line_of_text(void **state)
{
    (void)state;
    tu_error error;
    tu_fail(&error, TU_DATA_SYNTAX, "a\nb",
            "one\ntwo\t\x1B[31m \x7F \xC2\x9B \xFF 9.53\xC2\xB1"
            "0.02");
    assert_string_equal(error.where, "a?b");
    assert_string_equal(error.message, "one?two??[31m ? ?? ? 9.53\xC2\xB1"
                                       "0.02");
}

static void numbers_in_a_message_have_a_point_in_every_locale(void **state)
{
    (void)state;
    check_comma_locale();
    tu_error error;
    tu_fail(&error, TU_DATA_RANGE, NULL, "found %.3f", 6.35);
    assert_string_equal(error.message, "found 6.350");
}

static void the_exit_code_is_the_tens_digit(void **state)
{
    (void)state;
    static const struct {
        tu_status status;
        int code;
    } expected[] = {{TU_OK, 0},
                    {TU_LIMIT_EXCEEDED, 1},
                    {TU_USAGE, 2},
                    {TU_DATA_SYNTAX, 3},
                    {TU_DATA_CONFLICT, 3},
                    {TU_SYSTEM_IO, 4},
                    {TU_SYSTEM_MEMORY, 4},
                    {TU_UNDETERMINED, 5},
                    {TU_NUMERIC, 5}};
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++)
        assert_int_equal(tu_status_exit_code(expected[i].status), expected[i].code);
}

static void every_status_has_words_of_its_own(void **state)
{
    (void)state;
    static const tu_status all[] = {
        TU_OK,         TU_LIMIT_EXCEEDED, TU_USAGE,        TU_DATA_SYNTAX,
        TU_DATA_RANGE, TU_DATA_UNKNOWN,   TU_DATA_MISSING, TU_DATA_CONFLICT,
        TU_SYSTEM_IO,  TU_SYSTEM_MEMORY,  TU_UNDETERMINED, TU_NUMERIC};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        assert_string_not_equal(tu_status_text(all[i]), "unknown status");
        for (size_t j = 0; j < i; j++)
            assert_string_not_equal(tu_status_text(all[i]), tu_status_text(all[j]));
    }
    assert_string_equal(tu_status_text((tu_status)99), "unknown status");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_failure_carries_status_place_and_message),
        cmocka_unit_test(a_failure_without_place_or_taker_is_fine),
        cmocka_unit_test(a_failure_may_quote_the_error_it_replaces),
        cmocka_unit_test(a_long_message_is_cut_between_characters),
        cmocka_unit_test(a_message_stays_one_line_of_text),
        cmocka_unit_test_teardown(numbers_in_a_message_have_a_point_in_every_locale,
                                  check_plain_locale),
        cmocka_unit_test(the_exit_code_is_the_tens_digit),
        cmocka_unit_test(every_status_has_words_of_its_own),
    };
    return cmocka_run_group_tests_name("status", tests, NULL, NULL);
}
