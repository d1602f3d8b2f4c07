/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Series that cannot be judged are refused, and the touch is named.
 */
#include "trial_sample.h"

#include "trueup/trial_models.h"

#include <math.h>

static void check_refused(const tu_trial_series *series, tu_status status, const char *part)
{
    double work[30];
    tu_trial_figures figures;
    tu_error error;
    check_status(tu_trials_judge_series(series, work, &figures, &error), status, &error);
    check_contains(error.message, part);
    check_nan(figures.mean, "no figure after a refusal");
}

static void a_position_that_is_no_number_is_refused_by_its_place(void **state)
{
    (void)state;
    const double bad[][3] = {{1.0, NAN, 1.0}, {1.0, INFINITY, 1.0}, {1.0, -INFINITY, 1.0}};
    for (size_t i = 0; i < 3; i++) {
        tu_trial_series series = trial_sample_of(bad[i], 3);
        check_refused(&series, TU_DATA_RANGE, "touch 2: its position");
    }
}

static void times_that_run_backwards_or_are_missing_are_refused(void **state)
{
    (void)state;
    const double values[] = {1.0, 1.1, 1.2}, back[] = {0.0, 5.0, 4.5}, hole[] = {0.0, 1.0, NAN};
    tu_trial_series series = trial_sample_of(values, 3);
    series.time_s = back;
    check_refused(&series, TU_DATA_CONFLICT, "touch 3: its time, 4.5 s, lies before");
    series.time_s = hole;
    check_refused(&series, TU_DATA_RANGE, "touch 3: its time is not a finite number");
}

static void a_step_of_nothing_and_a_direction_of_two_are_refused(void **state)
{
    (void)state;
    const double values[] = {1.0, 1.1};
    const signed char direction[] = {1, 2}, other[] = {-1, -2};
    tu_trial_series series = trial_sample_of(values, 2);
    series.step_mm = 0.0;
    check_refused(&series, TU_DATA_RANGE, "the step of the position must be above zero");
    series.step_mm = NAN;
    series.direction = direction;
    check_refused(&series, TU_DATA_RANGE, "touch 2: its direction must be -1, 0 or +1, found 2");
    series.direction = other;
    check_refused(&series, TU_DATA_RANGE, "touch 2: its direction must be -1, 0 or +1, found -2");
}

static void figures_without_room_are_a_misuse(void **state)
{
    (void)state;
    const double values[] = {1.0, 1.1, 1.2, 1.3, 1.4};
    tu_trial_series series = trial_sample_of(values, 5);
    tu_trial_figures figures;
    tu_trial_comparison comparison;
    check_status(tu_trials_judge_series(&series, NULL, &figures, NULL), TU_USAGE, NULL);
    check_status(tu_trials_compare(&series, &series, NULL, &comparison, NULL), TU_USAGE, NULL);
    tu_warm_up fit;
    series.time_s = values;
    check_status(tu_trials_fit_warm_up(&series, 0.01, NULL, &fit, NULL), TU_USAGE, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_position_that_is_no_number_is_refused_by_its_place),
        cmocka_unit_test(times_that_run_backwards_or_are_missing_are_refused),
        cmocka_unit_test(a_step_of_nothing_and_a_direction_of_two_are_refused),
        cmocka_unit_test(figures_without_room_are_a_misuse),
    };
    return cmocka_run_group_tests_name("trial_check", tests, NULL, NULL);
}
