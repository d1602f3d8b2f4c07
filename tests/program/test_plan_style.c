/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_style.c - which ways of touching are taken. The limits and the usual values are common
 * practice, no source.
 */
#include "plan_case.h"

#include <math.h>
#include <string.h>

static void refused(tu_status status, const char *where, const char *part)
{
    sample_plan_refused(&p, SAMPLE_CORNER, status, where, part);
}

static void the_usual_style_is_the_documented_one(void **unused)
{
    (void)unused;
    check_close(p.style.search_mm_per_min, 100.0, 0.0, "mm/min");
    check_close(p.style.measure_mm_per_min, 25.0, 0.0, "mm/min");
    check_close(p.style.back_off_mm, 1.0, 0.0, "mm");
    check_close(p.style.window_mm, 3.0, 0.0, "mm");
    check_close(p.style.height_mm[0], 2.0, 0.0, "mm");
    check_close(p.style.height_mm[1], 8.0, 0.0, "mm");
    check_close(p.style.press_mm, 2.0, 0.0, "mm");
    check_close(p.style.clearance_mm, 3.0, 0.0, "mm");
    assert_int_equal(p.style.repeats, 3);
    sample_plan_good(&p, SAMPLE_CORNER);
}

static void lengths_that_cannot_be_are_refused(void **unused)
{
    (void)unused;
    struct {
        double *value;
        const char *where;
        double low, high; /* just outside */
    } cases[] = {{&p.style.back_off_mm, "{back_off}", 0.29, 10.1},
                 {&p.style.window_mm, "{window}", 0.19, 25.1},
                 {&p.style.height_mm[0], "{height}", 0.49, 50.1},
                 {&p.style.press_mm, "{press}", 0.29, 5.1},
                 {&p.style.clearance_mm, "{clearance}", 0.49, 25.1}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const double values[] = {cases[i].low, cases[i].high, -1.0, NAN, INFINITY};
        double good = *cases[i].value;
        for (size_t v = 0; v < sizeof values / sizeof *values; v++) {
            *cases[i].value = values[v];
            refused(TU_DATA_RANGE, cases[i].where, "must lie from");
        }
        *cases[i].value = good;
    }
    p.style.skew_rad = 0.1;
    refused(TU_DATA_RANGE, "{skew}", "degrees");
}

static void the_least_height_is_below_the_greatest(void **unused)
{
    (void)unused;
    p.style.height_mm[1] = 2.0;
    refused(TU_DATA_CONFLICT, "{height}", "below its greatest");
}

static void a_probe_is_no_faster_than_500_mm_per_min(void **unused)
{
    (void)unused;
    double *feeds[] = {&p.style.search_mm_per_min, &p.style.measure_mm_per_min,
                       &p.style.traverse_mm_per_min};
    const char *where[] = {"{search}", "{measure}", "{traverse}"};
    for (int i = 0; i < 3; i++) {
        const double values[] = {0.0, -5.0, i == 2 ? 10001.0 : 500.1, NAN};
        double good = *feeds[i];
        for (int v = 0; v < 4; v++) {
            *feeds[i] = values[v];
            refused(TU_DATA_RANGE, where[i], "a feed here lies from 1 to");
        }
        *feeds[i] = good;
    }
    p.style.search_mm_per_min = 500.0;
    sample_plan_good(&p, SAMPLE_CORNER);
}

static void the_touch_that_counts_is_not_the_faster_one(void **unused)
{
    (void)unused;
    p.style.measure_mm_per_min = 101.0;
    refused(TU_DATA_CONFLICT, "{measure}", "must not be faster");
}

static void repeats_and_slots_have_limits(void **unused)
{
    (void)unused;
    p.style.repeats = 0;
    refused(TU_DATA_RANGE, "{repeats}", "1 to 20");
    p.style.repeats = 21;
    refused(TU_DATA_RANGE, "{repeats}", "found 21");
    p.style.repeats = 20;
    sample_plan_good(&p, SAMPLE_CORNER);
    p.style.slot = 10;
    refused(TU_DATA_RANGE, "{slot}", "G59.3");
}

static void a_series_must_not_break_the_programs_comments(void **unused)
{
    (void)unused;
    static const char *const bad[] = {
        "a(b", "a)b", "a b", "a,b", "a\nb", "a\tb", "\x7f", "gr\xc3\xb6\xc3\x9f", ";", "a\x01"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        strcpy(p.corner.series, bad[i]);
        refused(TU_DATA_RANGE, "{series_name}", "letters, digits");
    }
    memset(p.corner.series, 'a', 41);
    p.corner.series[41] = '\0';
    refused(TU_DATA_RANGE, "{series_name}", "longer than 40");
    strcpy(p.corner.series, "Run_2.b+c-d");
    sample_plan_good(&p, SAMPLE_CORNER);
    assert_true(sample_plan_count(&p, "(touch Run_2.b+c-d x 1, search)") == 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(the_usual_style_is_the_documented_one),
        TEST(lengths_that_cannot_be_are_refused),
        TEST(the_least_height_is_below_the_greatest),
        TEST(a_probe_is_no_faster_than_500_mm_per_min),
        TEST(the_touch_that_counts_is_not_the_faster_one),
        TEST(repeats_and_slots_have_limits),
        TEST(a_series_must_not_break_the_programs_comments),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
