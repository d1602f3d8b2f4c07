/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Do the 95 % intervals hold the truth 95 % of the time? Series drawn with known figures, 20 000 a
 * case (4000 where a sample will do, within wider bounds): a share of 0.95 scatters with
 * sqrt(0.95 0.05/20 000) = 0.0015, so that 94 to 96 % is missed by chance once in 10^10. The seeds
 * are fixed.
 */
#include "trial_sample.h"

#include "trueup/moments.h"
#include "trueup/trial_models.h"

#include <math.h>

enum { FULL = 20000, LENGTH_MAX = 60 };

static size_t runs; /* FULL, or a sample of them */

static bool holds(tu_interval interval, double truth)
{
    return interval.low <= truth && truth <= interval.high;
}

static void check_share(size_t held, const char *what)
{
    double share = (double)held / (double)runs, more = check_share_allowance(0.95, runs, FULL);
    print_message("# %s: %.2f %%\n", what, 100.0 * share);
    check_between(share, 0.94 - more, 0.96 + more, what);
}

/* slope: from 10 touches on, where the ranks are many enough to come near 95 %. */
static void check_series(size_t length, uint64_t seed)
{
    check_random random = check_random_seed(seed);
    size_t mean = 0, sd = 0, slope = 0;
    for (size_t k = 0; k < runs; k++) {
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
    if (length >= 10)
        check_share(slope, "slope");
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
    for (size_t k = 0; k < runs; k++) {
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
    for (size_t k = 0; k < runs; k++) {
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
    for (size_t k = 0; k < runs; k++) {
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
        between += study.between * study.between / (double)runs;
    }
    check_share(held, "repeatability of groups");
    /* the estimate of the variance between is unbiased; its standard error over FULL is 0.4 % */
    check_relative(between, 0.012 * 0.012, 0.016 * sqrt((double)FULL / (double)runs),
                   "variance between groups, mm2");
}

/* The next touch, made where one of those fitted was: 30 touches of a mean, of a warm-up (0.03 mm,
 * time constant 100 s), at four feeds. */
static double next_of(int kind, check_random *random, double *next)
{
    enum { N = 30 };
    double values[N], times[N], feed[N], work[4 * N], truth[N];
    signed char direction[N];
    for (size_t i = 0; i < N; i++) {
        times[i] = 12.0 * (double)i;
        feed[i] = 1.0 + (double)(i % 4);
        direction[i] = -1;
        truth[i] = kind == 0   ? 5.0
                   : kind == 1 ? 5.0 + 0.03 * (1.0 - exp(-times[i] / 100.0))
                               : 5.0 - 0.006 * feed[i];
        values[i] = truth[i] + check_random_normal(random, 0.0, 0.002);
    }
    size_t at = check_random_below(random, N);
    double drawn = truth[at] + check_random_normal(random, 0.0, 0.002), fitted = NAN, sd, dof;
    tu_trial_series series = trial_sample_of(values, N);
    series.time_s = times;
    series.feed_mm_s = feed;
    series.direction = direction;
    if (kind == 0) {
        tu_moments m = tu_moments_of(values, N);
        fitted = m.mean;
        sd = sqrt(m.sum_squares / (N - 1));
        dof = N - 1;
    } else if (kind == 1) {
        tu_warm_up fit;
        assert_int_equal(tu_trials_fit_warm_up(&series, 0.002, work, &fit, NULL), TU_OK);
        fitted = fit.start + fit.rise * (1.0 - exp(-times[at] / fit.tau_s));
        sd = fit.residual_sd;
        dof = fit.dof;
    } else {
        tu_feed_fit fit;
        assert_int_equal(tu_trials_fit_feed(&series, &fit, NULL), TU_OK);
        fitted = fit.contact_mm[0] - fit.delay_s * feed[at];
        sd = fit.residual_sd;
        dof = fit.dof;
    }
    *next = drawn - fitted;
    return tu_trials_next_within(sd, N, dof, NAN);
}

static void the_next_touch_lies_within_as_often_as_stated(void **state)
{
    (void)state;
    static const char *const what[] = {"next beside a mean", "next beside a warm-up",
                                       "next at one feed"};
    for (int kind = 0; kind < 3; kind++) {
        check_random random = check_random_seed(60 + (uint64_t)kind);
        size_t held = 0;
        for (size_t k = 0; k < runs; k++) {
            double next, within = next_of(kind, &random, &next);
            held += fabs(next) <= within;
        }
        check_share(held, what[kind]);
    }
}

/* By hand: t(0.975, 1) = 12.706, sqrt(1 + 1/2) = 1.2247. */
static void the_next_touch_is_not_known_better_than_half_a_step(void **state)
{
    (void)state;
    check_close(tu_trials_next_within(1.0, 2, 1.0, NAN), 12.706 * 1.224745, 0.002,
                "mm, two touches");
    check_close(tu_trials_next_within(0.001, 30, 29.0, 0.0125), 0.00625, 1e-15, "mm, half a step");
    check_close(tu_trials_next_within(0.0, 3, 2.0, 0.01), 0.005, 1e-15, "mm, all equal");
    assert_true(isnan(tu_trials_next_within(0.0, 3, 2.0, NAN)));
    assert_true(isnan(tu_trials_next_within(0.1, 1, 0.0, NAN)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mean_and_sd_of_three_touches_are_held_as_often_as_stated),
        cmocka_unit_test(mean_sd_and_slope_of_ten_touches_are_held_as_often_as_stated),
        cmocka_unit_test(mean_sd_and_slope_of_thirty_touches_are_held_as_often_as_stated),
        cmocka_unit_test(the_delay_is_held_as_often_as_stated),
        cmocka_unit_test(the_next_touch_lies_within_as_often_as_stated),
        cmocka_unit_test(the_next_touch_is_not_known_better_than_half_a_step),
        cmocka_unit_test(differences_and_ratios_are_held_as_often_as_stated),
        cmocka_unit_test(the_repeatability_of_a_study_is_held_as_often_as_stated),
    };
    runs = check_runs(4000, FULL);
    return cmocka_run_group_tests_name("trials_coverage", tests, NULL, NULL);
}
