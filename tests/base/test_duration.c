/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_duration.c - about how long something takes, in words. Expected texts by pencil.
 */
#include "check.h"

#include "base/duration.h"

#include <math.h>

static void says(double seconds, const char *expected)
{
    assert_string_equal(tu_duration_about(seconds).text, expected);
}

static void below_ten_minutes_it_is_seconds(void **unused)
{
    (void)unused;
    says(0.0, "0 s");
    says(0.2, "1 s");
    says(66.0, "66 s");
    says(598.7, "599 s");
}

static void from_ten_minutes_on_it_is_minutes(void **unused)
{
    (void)unused;
    says(599.1, "10 min");
    says(600.0, "10 min");
    says(660.1, "12 min");
    says(3540.0, "59 min");
}

static void from_an_hour_on_it_is_hours_and_minutes(void **unused)
{
    (void)unused;
    says(3540.1, "1 h 0 min");
    says(3600.0, "1 h 0 min");
    says(5941.0, "1 h 40 min");
    says(90000.0, "25 h 0 min");
}

static void what_is_no_time_is_not_said_as_one(void **unused)
{
    (void)unused;
    says(NAN, "? s");
    says(INFINITY, "? s");
    says(-2.0, "? s");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(below_ten_minutes_it_is_seconds),
        cmocka_unit_test(from_ten_minutes_on_it_is_minutes),
        cmocka_unit_test(from_an_hour_on_it_is_hours_and_minutes),
        cmocka_unit_test(what_is_no_time_is_not_said_as_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
