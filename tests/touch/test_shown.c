/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_shown.c - lengths in messages.
 */
#include "check.h"

#include "touch/shown.h"

static void lengths_are_shown_in_the_unit_that_was_typed(void **state)
{
    (void)state;
    assert_string_equal(tu_show_length(TU_UNIT_MM, 104.775).text, "104.775 mm");
    assert_string_equal(tu_show_length(TU_UNIT_INCH, 104.775).text, "4.1250 in");
    assert_string_equal(tu_show_short(TU_UNIT_MM, 1200.0).text, "1200 mm");
    assert_string_equal(tu_show_short(TU_UNIT_MM, 0.0).text, "0 mm");
    assert_string_equal(tu_show_typed(TU_UNIT_INCH, 104.775).text, "4.125in");
    assert_string_equal(tu_show_typed(TU_UNIT_MM, -100.0).text, "-100mm");
}

static void a_length_that_nobody_typed_still_fits(void **state)
{
    (void)state;
    assert_string_equal(tu_show_length(TU_UNIT_MM, 1e200).text, "a huge number of mm");
    assert_string_equal(tu_show_typed(TU_UNIT_INCH, -1e200).text, "a huge number of in");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lengths_are_shown_in_the_unit_that_was_typed),
        cmocka_unit_test(a_length_that_nobody_typed_still_fits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
