/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Do the 95 % intervals hold the truth 95 % of the time? Series drawn with known figures, 20 000 a
 * case: a share of 0.95 scatters with sqrt(0.95 0.05/20 000) = 0.0015, so that 94 to 96 % is missed
 * by chance once in 10^10. Fixed seeds.
 */
#include "trial_sample.h"

#include "trueup/trial_models.h"

#include <gsl/gsl_errno.h>
#include <math.h>

enum { RUNS = 20000, LENGTH_MAX = 60 };

static bool holds(tu_interval interval, double truth)
{
    return interval.low <= truth && truth <= interval.high;
}

static void check_share(size_t held, const char *what)
{
    print_message("# %s: %.2f %%\n", what, 100.0 * (double)held / RUNS);
    check_between((double)held / RUNS, 0.94, 0.96, what);
}

/* slope: from 10 touches on, where the ranks are many enough to come near 95 %. */
static void check_series(size_t length, uint64_t seed)
{
    check_random random = check_random_seed(seed);
    size_t mean = 0, sd = 0, slope = 0;
    for (size_t k = 0; k < RUNS; k++) {
        double values[LENGTH_MAX], work[3 * LENGTH_MAX];
        trial_sample_normal(&random, -17.25, 0.006, values, length);
        tu_trial_series series = trial_sample_of(values, length);
        tu_trial_figures f;
        assert_int_equal(tu_trials_judge_series(&series, work, &f, NULL), TU_OK);
        mean += holds(f.mean_interval, -17.25);
        sd += holds(f.sd_interval, 0.006);
        slope += length < 10 || holds(f.slope_interval, 0.0);
    }
    check_share(mean, "mean");
    check_share(sd, "sd");
    if (length >= 10) {
        check_share(slope, "slope");
    }
}

static void mean_and_sd_of_three_touches_are_held_as_often_as_stated(void **state)
{
    (void)state;
    check_series(3, 51);
}

static void mean_sd_and_slope_of_ten_touches_are_held_as_often_as_stated(void **state)
{
    (void)state;
    check_series(10, 52);
}

static void mean_sd_and_slope_of_thirty_touches_are_held_as_often_as_stated(void **state)
{
    (void)state;
    check_series(30, 53);
}

/* Latch delay 6 ms, five feeds, the plate touched from both sides with another contact each. */
static void check_delay(size_t length, bool both, uint64_t seed)
{
    check_random random = check_random_seed(seed);
    size_t held = 0;
    for (size_t k = 0; k < RUNS; k++) {
        double values[LENGTH_MAX], feed[LENGTH_MAX];
        signed char direction[LENGTH_MAX];
        for (size_t i = 0; i < length; i++) {
            direction[i] = both && i % 2 == 0 ? 1 : -1;
            feed[i] = 0.5 + 1.5 * (double)(i / 2 % 5);
            values[i] = check_random_normal(&random, direction[i] > 0 ? 3.0 : 3.2, 0.005) +
                        0.006 * direction[i] * feed[i];
        }
        tu_trial_series series = trial_sample_of(values, length);
        series.direction = direction;
        series.feed_mm_s = feed;
        tu_feed_fit fit;
        assert_int_equal(tu_trials_fit_feed(&series, &fit, NULL), TU_OK);
        held += holds(fit.delay_interval, 0.006);
    }
    check_share(held, "delay");
}

static void the_delay_is_held_as_often_as_stated(void **state)
{
    (void)state;
    check_delay(4, false, 54);
    check_delay(10, true, 55);
    check_delay(40, true, 56);
}

/* Spreads that differ by three, 8 touches beside 15: where pooling would fail. */
static void differences_and_ratios_are_held_as_often_as_stated(void **state)
{
    (void)state;
    check_random random = check_random_seed(57);
    size_t difference = 0, ratio = 0;
    for (size_t k = 0; k < RUNS; k++) {
        double a[8], b[15], work[23];
        trial_sample_normal(&random, 1.01, 0.009, a, 8);
        trial_sample_normal(&random, 1.00, 0.003, b, 15);
        tu_trial_series after = trial_sample_of(a, 8), before = trial_sample_of(b, 15);
        tu_trial_comparison c;
        assert_int_equal(tu_trials_compare(&after, &before, work, &c, NULL), TU_OK);
        difference += holds(c.difference_interval, 0.01);
        ratio += holds(c.sd_ratio_interval, 3.0);
    }
    check_share(difference, "difference");
    check_share(ratio, "ratio of spreads");
}

/* Eight seatings of four touches: the interval of what one seating repeats to. */
static void the_repeatability_of_a_study_is_held_as_often_as_stated(void **state)
{
    (void)state;
    check_random random = check_random_seed(58);
    size_t held = 0;
    double between = 0.0;
    for (size_t k = 0; k < RUNS; k++) {
        double values[32];
        size_t group[32];
        double seat = 0.0;
        for (size_t i = 0; i < 32; i++) {
            group[i] = i / 4;
            seat = i % 4 == 0 ? check_random_normal(&random, 0.0, 0.012) : seat;
            values[i] = seat + check_random_normal(&random, 5.0, 0.004);
        }
        tu_trial_series series = trial_sample_of(values, 32);
        series.group = group;
        tu_trial_group of[8];
        tu_trial_groups study;
        assert_int_equal(tu_trials_study_groups(&series, 8, of, &study, NULL), TU_OK);
        held += holds(study.repeatability_interval, 0.004);
        between += study.between * study.between / RUNS;
    }
    check_share(held, "repeatability of groups");
    /* the estimate of the variance between is unbiased; its standard error here is 0.4 % */
    check_relative(between, 0.012 * 0.012, 0.016, "variance between groups, mm2");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mean_and_sd_of_three_touches_are_held_as_often_as_stated),
        cmocka_unit_test(mean_sd_and_slope_of_ten_touches_are_held_as_often_as_stated),
        cmocka_unit_test(mean_sd_and_slope_of_thirty_touches_are_held_as_often_as_stated),
        cmocka_unit_test(the_delay_is_held_as_often_as_stated),
        cmocka_unit_test(differences_and_ratios_are_held_as_often_as_stated),
        cmocka_unit_test(the_repeatability_of_a_study_is_held_as_often_as_stated),
    };
    gsl_set_error_handler_off();
    return cmocka_run_group_tests_name("trials_coverage", tests, NULL, NULL);
}
