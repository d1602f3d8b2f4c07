/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The straight line against NIST StRD Norris (fixtures/reference), the delay against that line and
 * by hand, and how many touches are needed against Student's table.
 */
#include "trial_sample.h"

#include "trueup/trial_models.h"

#include <math.h>
#include <stdlib.h>

static void norris_comes_out_with_its_certified_digits(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/nist_linear_norris.json");
    size_t count;
    double *x = check_json_numbers(root, "data.x", &count);
    double *y = check_json_numbers(root, "data.y", &count);
    tu_line_fit fit;
    check_status(tu_trials_fit_line(x, y, count, &fit, NULL), TU_OK, NULL);
    check_relative(fit.intercept, check_json_number(root, "certified.b0"), 1e-11, "b0");
    check_relative(fit.slope, check_json_number(root, "certified.b1"), 1e-13, "b1");
    check_relative(fit.intercept_sd, check_json_number(root, "certified.se_b0"), 1e-11, "sd b0");
    check_relative(fit.slope_sd, check_json_number(root, "certified.se_b1"), 1e-11, "sd of b1");
    check_relative(fit.residual_sd, check_json_number(root, "certified.residual_sd"), 1e-11, "s");
    check_relative(fit.r_squared, check_json_number(root, "certified.r_squared"), 1e-11, "R2");
    check_close(fit.dof, check_json_number(root, "certified.df_residual"), 0.0, "df");
    free(x);
    free(y);
    cJSON_Delete(root);
}

static void what_is_no_line_is_refused(void **state)
{
    (void)state;
    const double x[] = {1, 1, 1}, y[] = {1, 2, 3}, hole[] = {1, NAN, 3};
    tu_line_fit fit;
    tu_error error;
    check_status(tu_trials_fit_line(x, y, 3, &fit, &error), TU_UNDETERMINED, NULL);
    check_status(tu_trials_fit_line(y, x, 2, &fit, &error), TU_UNDETERMINED, NULL);
    check_status(tu_trials_fit_line(y, hole, 3, &fit, &error), TU_DATA_RANGE, NULL);
    check_contains(error.message, "point 2");
    check_status(tu_trials_fit_line(y, x, 3, &fit, &error), TU_OK, NULL);
    check_nan(fit.r_squared, "R2 of a level line");
}

enum { COUNT = 24 };

typedef struct sample {
    double feed[COUNT], value[COUNT];
    signed char direction[COUNT];
    tu_trial_series series;
} sample;

/* Contacts at -20.5 moving -, -20.1 moving +; feeds 1 to 6 mm/s; delay 4 ms. */
static void make(sample *s, double noise, bool both, check_random *random)
{
    for (size_t i = 0; i < COUNT; i++) {
        s->direction[i] = both && i % 2 == 1 ? 1 : -1;
        s->feed[i] = 1.0 + (double)(i / 2 % 6);
        double contact = s->direction[i] > 0 ? -20.1 : -20.5;
        s->value[i] = contact + 0.004 * s->direction[i] * s->feed[i] +
                      (noise > 0.0 ? check_random_normal(random, 0.0, noise) : 0.0);
    }
    s->series = trial_sample_of(s->value, COUNT);
    s->series.direction = s->direction;
    s->series.feed_mm_s = s->feed;
}

static void delay_and_contacts_come_back_without_noise(void **state)
{
    (void)state;
    sample s;
    tu_feed_fit fit;
    make(&s, 0.0, true, NULL);
    check_status(tu_trials_fit_feed(&s.series, &fit, NULL), TU_OK, NULL);
    check_close(fit.delay_s, 0.004, 1e-15, "delay, s");
    check_close(fit.contact_mm[0], -20.5, 1e-13, "contact moving -, mm");
    check_close(fit.contact_mm[1], -20.1, 1e-13, "contact moving +, mm");
    check_close(fit.residual_sd, 0.0, 1e-13, "residual, mm");
    check_close(fit.dof, COUNT - 3, 0.0, "dof");
}

static void one_direction_is_a_straight_line_over_the_feed(void **state)
{
    (void)state;
    check_random random = check_random_seed(41);
    sample s;
    tu_feed_fit fit;
    tu_line_fit line;
    double signed_feed[COUNT];
    make(&s, 0.003, false, &random);
    for (size_t i = 0; i < COUNT; i++)
        signed_feed[i] = -s.feed[i];
    check_status(tu_trials_fit_feed(&s.series, &fit, NULL), TU_OK, NULL);
    check_status(tu_trials_fit_line(signed_feed, s.value, COUNT, &line, NULL), TU_OK, NULL);
    check_relative(fit.delay_s, line.slope, 1e-11, "delay, s");
    check_relative(fit.delay_sd, line.slope_sd, 1e-11, "sd of the delay, s");
    check_relative(fit.contact_mm[0], line.intercept, 1e-13, "contact, mm");
    check_relative(fit.contact_sd[0], line.intercept_sd, 1e-11, "sd of the contact, mm");
    check_relative(fit.residual_sd, line.residual_sd, 1e-11, "residual, mm");
    check_close(fit.dof, line.dof, 0.0, "dof");
    check_nan(fit.contact_mm[1], "no touches moving +");
    check_nan(fit.contact_sd[1], "no touches moving +");
}

static void what_has_no_delay_in_it_is_refused(void **state)
{
    (void)state;
    sample s;
    tu_feed_fit fit;
    tu_error error;
    make(&s, 0.0, true, NULL);
    for (size_t i = 0; i < COUNT; i++)
        s.feed[i] = s.direction[i] > 0 ? 2.1 : 5.3; /* a feed for each direction says nothing */
    check_status(tu_trials_fit_feed(&s.series, &fit, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "two different feeds");
    check_nan(fit.delay_s, "delay");
    make(&s, 0.0, true, NULL);
    s.series.count = 3;
    check_status(tu_trials_fit_feed(&s.series, &fit, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "needs 4 touches");
    s.series.count = 0;
    check_status(tu_trials_fit_feed(&s.series, &fit, &error), TU_UNDETERMINED, NULL);
}

static void feeds_that_are_not_stated_or_cannot_be_are_refused(void **state)
{
    (void)state;
    sample s;
    tu_feed_fit fit;
    tu_error error;
    make(&s, 0.0, true, NULL);
    s.feed[7] = NAN;
    check_status(tu_trials_fit_feed(&s.series, &fit, &error), TU_DATA_MISSING, NULL);
    check_contains(error.message, "touch 8: its feed is not stated");
    s.feed[7] = -1.0;
    check_status(tu_trials_fit_feed(&s.series, &fit, &error), TU_DATA_RANGE, NULL);
    s.feed[7] = 1.0;
    s.direction[2] = 0;
    check_status(tu_trials_fit_feed(&s.series, &fit, &error), TU_DATA_MISSING, NULL);
    check_contains(error.message, "touch 3: its direction is not stated");
    s.series.feed_mm_s = NULL;
    check_status(tu_trials_fit_feed(&s.series, &fit, &error), TU_DATA_MISSING, NULL);
    check_contains(error.message, "the feed of each touch");
}

/* t(0.975, n - 1)/sqrt(n) from any table: 4.303/1.732 = 2.48 at 3, 3.182/2 = 1.59 at 4, 2.776/2.236
 * = 1.24 at 5, 2.571/2.449 = 1.05 at 6, 2.447/2.646 = 0.92 at 7. */
static void touches_are_as_many_as_students_table_says(void **state)
{
    (void)state;
    assert_int_equal(tu_trials_touches_needed(1.0, 0.0, 2.5), 3);
    assert_int_equal(tu_trials_touches_needed(1.0, 0.0, 1.3), 5);
    assert_int_equal(tu_trials_touches_needed(1.0, 0.0, 1.0), 7);
    assert_int_equal(tu_trials_touches_needed(0.004, NAN, 0.004), 7);
    /* with 30 degrees of freedom behind s: t(0.975, 30) = 2.042, (31) 2.040, (32) 2.037 */
    assert_int_equal(tu_trials_touches_needed(1.0, 30.0, 2.05), 1);
    assert_int_equal(tu_trials_touches_needed(1.0, 30.0, 1.45), 2); /* 2.040/1.414 = 1.442 */
    assert_int_equal(tu_trials_touches_needed(1.0, 30.0, 1.2), 3);  /* 2.037/1.732 = 1.176 */
    assert_int_equal(tu_trials_touches_needed(0.0, 5.0, 0.001), 1);
}

static void no_number_of_touches_is_zero(void **state)
{
    (void)state;
    assert_int_equal(tu_trials_touches_needed(1.0, 0.0, 0.0195), 0);    /* 1.96/100 = 0.0196 */
    assert_int_equal(tu_trials_touches_needed(1.0, 0.0, 0.0197), 9901); /* (1.9602/0.0197)^2 */
    assert_int_equal(tu_trials_touches_needed(NAN, 5.0, 0.01), 0);
    assert_int_equal(tu_trials_touches_needed(1.0, 5.0, 0.0), 0);
    assert_int_equal(tu_trials_touches_needed(1.0, 5.0, NAN), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(norris_comes_out_with_its_certified_digits),
        cmocka_unit_test(what_is_no_line_is_refused),
        cmocka_unit_test(delay_and_contacts_come_back_without_noise),
        cmocka_unit_test(one_direction_is_a_straight_line_over_the_feed),
        cmocka_unit_test(what_has_no_delay_in_it_is_refused),
        cmocka_unit_test(feeds_that_are_not_stated_or_cannot_be_are_refused),
        cmocka_unit_test(touches_are_as_many_as_students_table_says),
        cmocka_unit_test(no_number_of_touches_is_zero),
    };
    return cmocka_run_group_tests_name("feed_fit", tests, NULL, NULL);
}
