/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Anderson and Darling's test: its p against published percentage points and against simulation.
 */
#include "trial_sample.h"

#include "trials/order.h"

#include <math.h>

/* The statistic comes from as many quantiles of the normal distribution as make it small; then one
 * end is moved out until A* has the wanted value. */
static double p_at(double wanted)
{
    enum { COUNT = 60 };
    double values[COUNT], low = 0.0, high = 100.0, p = NAN;
    check_random random = check_random_seed(61);
    double buffer[COUNT];
    trial_sample_normal(&random, 0.0, 1.0, values, COUNT);
    tu_order_sort(values, COUNT, buffer);
    double end = values[COUNT - 1];
    for (int i = 0; i < 200; i++) {
        double middle = (low + high) / 2.0;
        values[COUNT - 1] = end + middle;
        tu_trial_figures f = trial_sample_judge(values, COUNT);
        p = f.normality_p;
        if (f.normality < wanted)
            low = middle;
        else
            high = middle;
    }
    return p;
}

/* D'Agostino and Stephens (1986), table 4.7, case 3: A* is exceeded with 10, 5, 2.5, 1, 0.5 % at
 * 0.631, 0.752, 0.873, 1.035, 1.159 (from memory). The p of table 4.9 is a fit: 3 % of itself. */
static void the_percentage_points_have_their_p(void **state)
{
    (void)state;
    const double a[] = {0.631, 0.752, 0.873, 1.035, 1.159}, p[] = {0.1, 0.05, 0.025, 0.01, 0.005};
    for (size_t i = 0; i < 5; i++)
        check_relative(p_at(a[i]), p[i], 0.03, "p");
}

/* Beyond the table: shares of 12 million normal series of 50, simulated with NumPy and SciPy's
 * log_ndtr, good to 1, 1 and 2.5 %. The fit is 5 % off at 1.8. */
static void beyond_the_table_p_falls_on(void **state)
{
    (void)state;
    const double a[] = {1.3, 1.5, 1.8}, p[] = {0.002230, 0.000728, 0.000140};
    for (size_t i = 0; i < 3; i++)
        check_relative(p_at(a[i]), p[i], i < 2 ? 0.03 : 0.08, "p");
}

/* p of normal series is uniform: 20 000 each; the standard error of a share of 0.1 is 0.0021. The
 * correction for the number of touches is made for the upper tail: eight touches are off by
 * 0.04 at 0.5 and by 0.02 at 0.25, where no one decides anything. Below it is held to 0.005. */
static void p_of_normal_series_is_evenly_spread(void **state)
{
    (void)state;
    enum { RUNS = 20000 };
    const size_t length[] = {8, 20, 100};
    const double level[] = {0.5, 0.25, 0.1, 0.05, 0.01};
    check_random random = check_random_seed(62);
    for (size_t k = 0; k < 3; k++) {
        double below[5] = {0.0};
        for (size_t run = 0; run < RUNS; run++) {
            double values[100], work[100], p;
            trial_sample_normal(&random, 2.0, 0.01, values, length[k]);
            tu_order_sort(values, length[k], work);
            double mean = 0.0, squares = 0.0;
            for (size_t i = 0; i < length[k]; i++)
                mean += values[i] / (double)length[k];
            for (size_t i = 0; i < length[k]; i++)
                squares += (values[i] - mean) * (values[i] - mean);
            double sd = sqrt(squares / ((double)length[k] - 1.0));
            tu_trials_anderson_darling(values, length[k], mean, sd, &p);
            for (size_t i = 0; i < 5; i++)
                below[i] += (p < level[i]) / (double)RUNS;
        }
        for (size_t i = 0; i < 5; i++) {
            double error = sqrt(level[i] * (1.0 - level[i]) / RUNS);
            double fit = level[i] < 0.2 ? 0.005 : level[i] / 10.0;
            check_close(below[i], level[i], fit + 4.0 * error, "share of p below its level");
        }
    }
}

static void two_heaps_and_a_far_touch_are_not_normal(void **state)
{
    (void)state;
    check_random random = check_random_seed(63);
    double values[40];
    for (int i = 0; i < 40; i++)
        values[i] = check_random_normal(&random, i % 2 == 0 ? 0.0 : 0.06, 0.005);
    assert_true(trial_sample_judge(values, 40).normality_p < 0.001);
    trial_sample_normal(&random, 0.0, 0.005, values, 40);
    assert_true(trial_sample_judge(values, 40).normality_p > 0.05);
    values[9] = 1000.0; /* so far out that the distribution function is 0 in a double */
    tu_trial_figures f = trial_sample_judge(values, 40);
    check_between(f.normality, 10.0, 100.0, "A*");
    check_between(f.normality_p, 0.0, 1e-15, "p");
}

static void seven_touches_are_too_few(void **state)
{
    (void)state;
    const double values[] = {1, 2, 3, 4, 5, 6, 9, 7};
    check_nan(trial_sample_judge(values, 7).normality, "A* of 7");
    assert_true(trial_sample_judge(values, 8).normality > 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_percentage_points_have_their_p),
        cmocka_unit_test(beyond_the_table_p_falls_on),
        cmocka_unit_test(p_of_normal_series_is_evenly_spread),
        cmocka_unit_test(two_heaps_and_a_far_touch_are_not_normal),
        cmocka_unit_test(seven_touches_are_too_few),
    };
    return cmocka_run_group_tests_name("normality", tests, NULL, NULL);
}
