/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_touch_runs.c - recordings of one place that lie apart are not averaged.
 */
#include "check.h"

#include "task/touch_runs.h"

#include <string.h>

typedef struct touch {
    size_t run;
    double position_mm;
} touch;

static tu_touch_runs runs_of(const touch *touches, size_t count)
{
    tu_touch_runs runs = {0};
    for (size_t i = 0; i < count; i++)
        tu_touch_runs_add(&runs, touches[i].run, touches[i].position_mm);
    return runs;
}

#define RUNS(...)                                                                                  \
    runs_of((const touch[]){__VA_ARGS__}, sizeof((const touch[]){__VA_ARGS__}) / sizeof(touch))

static void one_recording_lies_nowhere_apart(void **state)
{
    (void)state;
    tu_touch_runs none = {0}, one = RUNS({4, 100.0}, {4, 100.5}, {4, 99.8});
    check_close(tu_touch_runs_gap(&none), 0, 0, "gap, mm: no touch");
    check_close(tu_touch_runs_gap(&one), 0, 0, "gap, mm: one recording, however it scatters");
    check_status(tu_touch_runs_check(&one, "a.jsonl", "corner", NULL), TU_OK, NULL);
}

static void two_recordings_that_meet_are_one_place(void **state)
{
    (void)state;
    tu_touch_runs runs = RUNS({0, 100.00}, {0, 100.02}, {1, 100.01}, {1, 100.05});
    check_close(tu_touch_runs_gap(&runs), 0, 0, "gap, mm: ranges overlap");
}

static void the_gap_is_between_the_nearest_touches_of_two_recordings(void **state)
{
    (void)state;
    tu_touch_runs up = RUNS({0, 100.00}, {0, 100.02}, {1, 100.12}, {1, 100.13});
    tu_touch_runs down = RUNS({0, 100.12}, {0, 100.13}, {1, 100.02}, {1, 100.00});
    check_close(tu_touch_runs_gap(&up), 0.10, 1e-12, "gap, mm: 100.12 - 100.02");
    check_close(tu_touch_runs_gap(&down), 0.10, 1e-12, "gap, mm: the same in the other order");
}

static void a_later_recording_does_not_hide_that_two_lie_apart(void **state)
{
    (void)state;
    tu_touch_runs back = RUNS({0, 100.0}, {1, 100.3}, {2, 100.0});
    tu_touch_runs again = RUNS({0, 100.0}, {1, 100.3}, {2, 100.3});
    tu_touch_runs between = RUNS({0, 100.0}, {1, 100.3}, {2, 100.15});
    tu_touch_runs over_all = RUNS({0, 100.0}, {1, 100.3}, {2, 99.9}, {2, 100.4});
    check_close(tu_touch_runs_gap(&back), 0.3, 1e-12, "gap, mm: the third lies on the first");
    check_close(tu_touch_runs_gap(&again), 0.3, 1e-12, "gap, mm: the third lies on the second");
    check_close(tu_touch_runs_gap(&between), 0.3, 1e-12, "gap, mm: the third lies between");
    check_close(tu_touch_runs_gap(&over_all), 0.3, 1e-12, "gap, mm: the third reaches over both");
}

static void a_gap_beyond_the_limit_is_refused_with_its_size(void **state)
{
    (void)state;
    tu_touch_runs near = RUNS({0, 0.0}, {1, 0.029}), far = RUNS({0, 0.0}, {1, 0.031});
    tu_error error = {0};
    check_status(tu_touch_runs_check(&near, "a.jsonl", "corner", &error), TU_OK, &error);
    check_status(tu_touch_runs_check(&far, "a.jsonl", "corner", &error), TU_DATA_CONFLICT, &error);
    assert_string_equal(error.where, "a.jsonl");
    check_contains(error.message, "\"corner\" holds 2 recordings");
    check_contains(error.message, "0.031 mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_recording_lies_nowhere_apart),
        cmocka_unit_test(two_recordings_that_meet_are_one_place),
        cmocka_unit_test(the_gap_is_between_the_nearest_touches_of_two_recordings),
        cmocka_unit_test(a_later_recording_does_not_hide_that_two_lie_apart),
        cmocka_unit_test(a_gap_beyond_the_limit_is_refused_with_its_size),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
