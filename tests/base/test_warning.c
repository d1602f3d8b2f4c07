/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_warning.c - the list of warnings.
 */
#include "check.h"

#include "trueup/text.h"
#include "trueup/warning.h"

#include <string.h>

static void a_warning_is_said_once(void **state)
{
    (void)state;
    tu_warnings warnings = {0};
    tu_warn(&warnings, "single touch on %c", 'X');
    tu_warn(&warnings, "single touch on %c", 'Y');
    tu_warn(&warnings, "single touch on X");
    assert_int_equal(warnings.count, 2);
    assert_string_equal(warnings.text[0], "single touch on X");
    assert_string_equal(warnings.text[1], "single touch on Y");
}

static void a_full_list_says_how_many_came_later(void **state)
{
    (void)state;
    tu_warnings warnings = {0};
    for (int i = 0; i < TU_WARNINGS_MAX; i++)
        tu_warn(&warnings, "warning %d", i);
    assert_int_equal(warnings.count, TU_WARNINGS_MAX);
    tu_warn(&warnings, "one too many");
    tu_warn(&warnings, "warning 31");
    assert_int_equal(warnings.count, TU_WARNINGS_MAX + 1);
    assert_string_equal(warnings.text[TU_WARNINGS_MAX - 1], "warning 31");
    assert_string_equal(warnings.text[TU_WARNINGS_MAX], "and 1 more, for which there was no room.");
    tu_warn(&warnings, "two too many");
    assert_int_equal(warnings.count, TU_WARNINGS_MAX + 1);
    assert_string_equal(warnings.text[TU_WARNINGS_MAX], "and 2 more, for which there was no room.");
}

static void a_long_warning_is_cut_between_characters_and_still_said_once(void **state)
{
    (void)state;
    char text[2 * TU_WARNING_SIZE] = "";
    for (size_t at = 0; at + 3 < sizeof text; at += 3)
        memcpy(text + at, "\xE2\x82\xAC", 3);
    tu_warnings warnings = {0};
    tu_warn(&warnings, "%s", text);
    tu_warn(&warnings, "%s", text);
    assert_int_equal(warnings.count, 1);
    size_t length = strlen(warnings.text[0]);
    assert_in_range(length, TU_WARNING_SIZE - 3, TU_WARNING_SIZE - 1);
    assert_true(tu_text_is_utf8(warnings.text[0], length));
}

static void numbers_in_a_warning_have_a_point_in_every_locale(void **state)
{
    (void)state;
    check_comma_locale();
    tu_warnings warnings = {0};
    tu_warn(&warnings, "off by %.2f mm", 0.25);
    assert_string_equal(warnings.text[0], "off by 0.25 mm");
}

static void no_list_is_fine(void **state)
{
    (void)state;
    tu_warn(NULL, "nobody listens"); /* a crash would fail this */
    tu_warnings warnings = {0};
    tu_warn(&warnings, "line\nbreak");
    assert_string_equal(warnings.text[0], "line?break");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_warning_is_said_once),
        cmocka_unit_test(a_full_list_says_how_many_came_later),
        cmocka_unit_test(a_long_warning_is_cut_between_characters_and_still_said_once),
        cmocka_unit_test_teardown(numbers_in_a_warning_have_a_point_in_every_locale,
                                  check_plain_locale),
        cmocka_unit_test(no_list_is_fine),
    };
    return cmocka_run_group_tests_name("warning", tests, NULL, NULL);
}
