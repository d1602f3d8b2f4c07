/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the step of the position does to the mean of many touches, against the exact mean and
 * standard deviation of rounded normal values (sums over the steps of the normal distribution) and
 * against simulation. How many touches are needed stands in test_feed_fit.c.
 */
#include "check.h"

#include "trueup/trial_models.h"

#include <math.h>

/* In steps: normal about place with width, rounded to whole numbers. */
static void round_exactly(double place, double width, double *error, double *sd)
{
    double first = 0, second = 0;
    for (int k = -12; k <= 13; k++) {
        double low = erfc(-(k - 0.5 - place) / width * M_SQRT1_2);
        double high = erfc(-(k + 0.5 - place) / width * M_SQRT1_2);
        first += (high - low) / 2 * k;
        second += (high - low) / 2 * k * k;
    }
    *error = fabs(first - place);
    *sd = sqrt(second - first * first);
}

static void no_mean_of_rounded_touches_is_off_by_more_than_is_said(void **state)
{
    (void)state;
    double worst_narrow = 0, worst_wide = 0;
    for (double width = 0.01; width < 2; width += 0.005) {
        for (double place = 0; place < 1; place += 0.01) {
            double error, sd;
            round_exactly(place, width, &error, &sd);
            assert_true(error <= tu_trials_rounding_error(sd, 1.0) + 1e-9);
            double *worst = sd > 0.5 ? &worst_wide : &worst_narrow;
            *worst = fmax(*worst, error);
        }
    }
    print_message("# off by up to %.4f steps with s up to half a step, %.4f above\n", worst_narrow,
                  worst_wide);
    check_between(worst_narrow, 0.45, 0.5,
                  "off with s small, in steps"); /* the figure is no waste */
    check_between(worst_wide, 0.011, 0.02, "off with s above half a step, in steps");
}

/* s of 0.0113 and a step of 0.0125 mm: sqrt(0.011^2 + 0.0125^2/12) / 5 = 0.0023 (Sheppard). */
static void the_mean_of_25_touches_in_steps_is_as_good_as_their_spread_says(void **state)
{
    (void)state;
    enum { SERIES = 4000, COUNT = 25 };
    const double step_mm = 0.0125, noise_mm = 0.011;
    check_random random = check_random_seed(21);
    double squares = 0;
    for (int run = 0; run < SERIES; run++) {
        double sum = 0, place = check_random_uniform(&random, 0, step_mm);
        for (int i = 0; i < COUNT; i++)
            sum += round(check_random_normal(&random, place, noise_mm) / step_mm) * step_mm;
        squares += (sum / COUNT - place) * (sum / COUNT - place);
    }
    check_close(sqrt(squares / SERIES), 0.00231, 0.0001, "error of the mean, mm"); /* 4 sigma */
}

static void the_step_says_nothing_where_it_is_not_known(void **state)
{
    (void)state;
    check_close(tu_trials_rounding_error(0.004, NAN), 0.0, 0.0, "mm");
    check_close(tu_trials_rounding_error(0.0, 0.0125), 0.00625, 1e-12, "mm");
    check_close(tu_trials_rounding_error(0.0113, 0.0125), 0.00025, 1e-12, "mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_mean_of_rounded_touches_is_off_by_more_than_is_said),
        cmocka_unit_test(the_mean_of_25_touches_in_steps_is_as_good_as_their_spread_says),
        cmocka_unit_test(the_step_says_nothing_where_it_is_not_known),
    };
    return cmocka_run_group_tests_name("touches_needed", tests, NULL, NULL);
}
