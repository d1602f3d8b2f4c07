/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The warm-up against NIST StRD Misra1a (fixtures/reference), which has the same rise from a start
 * that is 0, and against series made with known figures.
 */
#include "trial_sample.h"

#include "trials/rise.h"
#include "trueup/trial_models.h"

#include <math.h>
#include <stdlib.h>

enum { COUNT = 60 };

/* y = b1 (1 - exp(-b2 x)): rise b1, tau 1/b2, whose sd is that of b2 over b2 squared. */
static void misra1a_comes_out_with_its_certified_digits(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/nist_nonlinear_misra1a.json");
    size_t count;
    double *x = check_json_numbers(root, "data.x", &count);
    double *y = check_json_numbers(root, "data.y", &count), work[4 * 20];
    assert_int_equal(count, 14);
    tu_rise_points points = {x, y, 0.0, 0.0, count, false, work};
    tu_rise rise;
    assert_int_equal(tu_rise_fit(&points, x[0] / 3.0, 10.0 * x[count - 1], &rise), TU_OK);
    double b2 = check_json_number(root, "computed.b2");
    check_relative(rise.rise, check_json_number(root, "computed.b1"), 1e-8, "b1");
    check_relative(1.0 / rise.tau, b2, 1e-8, "b2");
    check_relative(rise.rise_sd, check_json_number(root, "computed.sd_b1"), 1e-6, "sd of b1");
    check_relative(rise.tau_sd * b2 * b2, check_json_number(root, "computed.sd_b2"), 1e-6,
                   "sd of b2");
    check_relative(rise.squares, check_json_number(root, "computed.residual_ss"), 1e-8, "RSS");
    check_relative(sqrt(rise.squares / rise.dof), check_json_number(root, "certified.residual_sd"),
                   1e-9, "residual sd");
    check_close(rise.dof, check_json_number(root, "certified.df"), 0.0, "df");
    check_same(rise.start, 0.0, "start is not fitted");
    free(x);
    free(y);
    cJSON_Delete(root);
}

typedef struct sample {
    double times[COUNT], values[COUNT], work[4 * COUNT];
    tu_trial_series series;
} sample;

static void make(sample *s, double start, double rise, double tau, double noise, uint64_t seed)
{
    check_random random = check_random_seed(seed);
    for (size_t i = 0; i < COUNT; i++) {
        s->times[i] = 1000.0 + 30.0 * (double)i;
        s->values[i] = start + rise * -expm1(-30.0 * (double)i / tau) +
                       check_random_normal(&random, 0.0, noise);
    }
    s->series = trial_sample_of(s->values, COUNT);
    s->series.time_s = s->times;
}

static void a_warm_up_without_noise_comes_back_to_the_last_digits(void **state)
{
    (void)state;
    const double tau[] = {25.0, 100.0, 400.0, 1700.0, 4000.0}, rise[] = {0.05, -0.2};
    for (size_t i = 0; i < 10; i++) {
        sample s;
        tu_warm_up fit;
        tu_error error;
        make(&s, -47.3, rise[i % 2], tau[i / 2], 0.0, 1);
        check_status(tu_trials_fit_warm_up(&s.series, 0.001, s.work, &fit, &error), TU_OK, &error);
        check_relative(fit.tau_s, tau[i / 2], 1e-8, "tau, s");
        check_relative(fit.rise, rise[i % 2], 1e-8, "rise, mm");
        check_close(fit.start, -47.3, 1e-9, "start, mm");
        check_relative(fit.settled_after_s, tau[i / 2] * log(fabs(rise[i % 2]) / 0.001), 1e-8,
                       "settled after, s");
    }
}

static void a_rise_below_the_tolerance_has_settled_at_once(void **state)
{
    (void)state;
    sample s;
    tu_warm_up fit;
    make(&s, 3.0, 0.008, 300.0, 1e-5, 2);
    check_status(tu_trials_fit_warm_up(&s.series, 0.02, s.work, &fit, NULL), TU_OK, NULL);
    check_same(fit.settled_after_s, 0.0, "settled after, s");
    check_status(tu_trials_fit_warm_up(&s.series, NAN, s.work, &fit, NULL), TU_OK, NULL);
    check_nan(fit.settled_after_s, "no tolerance, no time");
}

/* The stated standard deviations against what 400 repetitions scatter: 5 % standard error of them,
 * bounds at four. */
static void the_standard_deviations_are_what_repetitions_scatter(void **state)
{
    (void)state;
    enum { RUNS = 400 };
    double start[RUNS], rise[RUNS], tau[RUNS], stated[3] = {0};
    for (size_t k = 0; k < RUNS; k++) {
        sample s;
        tu_warm_up fit;
        make(&s, -10.0, 0.06, 350.0, 0.003, 100 + k);
        check_status(tu_trials_fit_warm_up(&s.series, 0.005, s.work, &fit, NULL), TU_OK, NULL);
        assert_true(fit.p < 1e-6);
        start[k] = fit.start;
        rise[k] = fit.rise;
        tau[k] = fit.tau_s;
        stated[0] += fit.start_sd / RUNS;
        stated[1] += fit.rise_sd / RUNS;
        stated[2] += fit.tau_sd / RUNS;
    }
    check_relative(stated[0], trial_sample_judge(start, RUNS).sd, 0.2, "sd of the start, mm");
    check_relative(stated[1], trial_sample_judge(rise, RUNS).sd, 0.2, "sd of the rise, mm");
    check_relative(stated[2], trial_sample_judge(tau, RUNS).sd, 0.2, "sd of tau, s");
    check_close(trial_sample_judge(tau, RUNS).mean, 350.0, 10.0, "tau, s");
}

static void noise_alone_is_called_a_warm_up_no_more_than_once_in_twenty(void **state)
{
    (void)state;
    enum { RUNS = 2000 };
    size_t alarms = 0, refused = 0;
    for (size_t k = 0; k < RUNS; k++) {
        sample s;
        tu_warm_up fit;
        make(&s, -10.0, 0.0, 100.0, 0.003, 5000 + k);
        tu_status status = tu_trials_fit_warm_up(&s.series, 0.005, s.work, &fit, NULL);
        refused += status;
        alarms += !status && fit.p < 0.05;
    }
    print_message("# %zu alarms, %zu without a bend, of %d\n", alarms, refused, RUNS);
    check_between((double)alarms, 40, 129, "alarms of 2000");
}

/* Longer, and rise and tau cannot be told from a slope. Of straight lines with noise about half
 * bend the right way. */
static void no_warm_up_is_longer_than_three_times_the_series(void **state)
{
    (void)state;
    enum { RUNS = 300 };
    size_t refused = 0;
    for (uint64_t k = 0; k < RUNS; k++) {
        sample s;
        tu_warm_up fit;
        make(&s, -10.0, 0.0, 100.0, 0.0005, 9000 + k);
        for (size_t i = 0; i < COUNT; i++)
            s.values[i] += 0.0002 * (double)i;
        if (!tu_trials_fit_warm_up(&s.series, 0.005, s.work, &fit, NULL))
            check_between(fit.tau_s, 0.0, 3.0 * 30.0 * (COUNT - 1), "tau, s");
        else
            refused++;
    }
    check_between((double)refused, RUNS / 3.0, RUNS, "refused");
}

static void check_undetermined(const tu_trial_series *series, double *work, const char *part)
{
    tu_warm_up fit;
    tu_error error;
    check_status(tu_trials_fit_warm_up(series, 0.01, work, &fit, &error), TU_UNDETERMINED, &error);
    check_contains(error.message, part);
    check_nan(fit.tau_s, "tau after a refusal");
}

static void what_shows_no_warm_up_is_refused(void **state)
{
    (void)state;
    sample s;
    make(&s, 1.0, 0.0, 100.0, 0.0, 1);
    check_undetermined(&s.series, s.work, "does not bend"); /* all equal */
    for (size_t i = 0; i < COUNT; i++)
        s.values[i] = 1e-4 * (double)i;
    check_undetermined(&s.series, s.work, "does not bend"); /* a straight line */
    for (size_t i = 0; i < COUNT; i++)
        s.values[i] = i == 0 ? 0.5 : 0.0;
    check_undetermined(&s.series, s.work, "does not bend"); /* one touch that differs */
}

static void too_few_times_are_refused(void **state)
{
    (void)state;
    sample s;
    make(&s, 1.0, 0.1, 100.0, 0.001, 1);
    s.series.count = 4;
    check_undetermined(&s.series, s.work, "5 different times, found 4");
    s.series.count = 0;
    check_undetermined(&s.series, s.work, "found 0");
    s.series.count = COUNT;
    for (size_t i = 0; i < COUNT; i++)
        s.times[i] = 7.0;
    check_undetermined(&s.series, s.work, "found 1");
    tu_warm_up fit;
    s.series.time_s = NULL;
    check_status(tu_trials_fit_warm_up(&s.series, 0.01, s.work, &fit, NULL), TU_DATA_MISSING, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(misra1a_comes_out_with_its_certified_digits),
        cmocka_unit_test(a_warm_up_without_noise_comes_back_to_the_last_digits),
        cmocka_unit_test(a_rise_below_the_tolerance_has_settled_at_once),
        cmocka_unit_test(the_standard_deviations_are_what_repetitions_scatter),
        cmocka_unit_test(noise_alone_is_called_a_warm_up_no_more_than_once_in_twenty),
        cmocka_unit_test(no_warm_up_is_longer_than_three_times_the_series),
        cmocka_unit_test(what_shows_no_warm_up_is_refused),
        cmocka_unit_test(too_few_times_are_refused),
    };
    return cmocka_run_group_tests_name("warm_up", tests, NULL, NULL);
}
