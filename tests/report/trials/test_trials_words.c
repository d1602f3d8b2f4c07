/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_trials_words.c - each sentence of a verdict has its figure, and each alarm its advice.
 */
#include "trials_bench.h"

static trials_bench bench;
static tu_trials_words words;

static bool says(const char *part)
{
    for (size_t i = 0; i < words.count; i++)
        if (strstr(words.text[i], part))
            return true;
    return false;
}

static void verdict_of(size_t entry)
{
    words = (tu_trials_words){0};
    tu_trials_verdict(&words, &bench.story, &bench.entry[entry]);
}

static void answers(void)
{
    words = (tu_trials_words){0};
    tu_trials_answers(&words, &bench.story);
}

static void advice(void)
{
    words = (tu_trials_words){0};
    tu_trials_advice(&words, &bench.story);
}

static void judge(const double *values, const double *times, size_t n, double step_mm)
{
    bench_start(&bench, TU_UNIT_MM);
    bench_add(&bench, "seat", values, times, n, step_mm);
    verdict_of(0);
}

static void one_touch_is_asked_to_become_twenty(void **state)
{
    (void)state;
    judge((double[]){1.5}, NULL, 1, NAN);
    assert_int_equal(words.count, 1);
    assert_string_equal(words.text[0],
                        "one touch cannot show how well touches repeat; make twenty.");
    bench_end(&bench);
}

/* s 0.00707 and t(0.975, 1) = 12.706 (any table): 12.706 s sqrt(1.5) = 0.110; chi-squared: sqrt(1/
 * 0.000982) = 31.9. */
static void two_touches_say_how_little_they_know(void **state)
{
    (void)state;
    judge((double[]){1.5, 1.51}, NULL, 2, NAN);
    assert_true(says("repeats within ±0.12 mm, 19 touches in 20 (from 2 touches)."));
    assert_true(says("the true s may be 31.9 times as large"));
    advice();
    assert_true(says("seat, Z- has 2 touches, and s may be 31.9 times as large: make twenty."));
    bench_end(&bench);
}

static void equal_touches_ask_for_the_step_and_take_half_of_it(void **state)
{
    (void)state;
    const double equal[] = {1.5, 1.5, 1.5, 1.5};
    judge(equal, NULL, 4, NAN);
    assert_int_equal(words.count, 1);
    assert_true(says("all 4 touches are equal") && says("state it with step."));
    bench_end(&bench);
    judge(equal, NULL, 4, 0.0125);
    assert_true(says("repeats within ±0.0063 mm")); /* 0.00625 rounded up */
    assert_true(says("the step of 0.0125 mm limits it, not the plate."));
    advice();
    assert_true(says("steps of 0.0125 mm (1 different value):"));
    bench_end(&bench);
}

static void one_touch_a_step_off_equal_ones_is_not_called_bad_outright(void **state)
{
    (void)state;
    const double touches[] = {1, 1, 1, 1, 1.05}, narrow[] = {1, 1, 1, 1, 1.0025};
    judge(touches, NULL, 5, NAN);
    assert_true(says("touch 5 is off by 0.0500 mm") && says("unless that is the position's step"));
    assert_false(says("1 outlier"));
    advice();
    assert_true(says("state the step with step; if it is 0.0500 mm, touch 5"));
    bench_end(&bench);
    judge(touches, NULL, 5, 0.05);
    assert_false(says("outlier"));
    bench_end(&bench);
    judge(narrow, NULL, 5, NAN); /* as a machine steps */
    assert_false(says("outlier"));
    assert_true(says("only 2 different values, 0.0025 mm apart"));
    bench_end(&bench);
}

/* 12 touches, 0.01 mm a minute each: 0.11 mm in all. */
static void a_drift_has_its_rate_its_whole_and_a_remedy(void **state)
{
    (void)state;
    double values[12], times[12];
    for (int i = 0; i < 12; i++) {
        times[i] = 60 * i;
        values[i] = -20 + 0.01 * i;
    }
    judge(values, times, 12, NAN);
    assert_true(says("drifting 10.0 µm/min upwards, 0.1100 mm from the first touch to the last."));
    check_close(bench.entry[0].figures.drift_mm, 0.11, 1e-9, "mm in all, by hand");
    advice();
    assert_true(says("seat, Z- drifts (10.0 µm/min upwards") && says("warm up"));
    bench_end(&bench);
    judge(values, NULL, 12, NAN);
    assert_true(says("drifting 10.0 µm a touch upwards, 0.1100 mm from the first"));
    bench_end(&bench);
    for (int i = 0; i < 12; i++)
        values[i] = -20 - 0.2 * i;
    judge(values, NULL, 12, NAN);
    assert_true(says("drifting 0.2000 mm a touch downwards, 2.2000 mm from the first"));
    bench_end(&bench);
}

static void an_outlier_has_its_touch_and_both_standard_deviations(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    bench_add_normal(&bench, "clean", 30, 0, 11);
    double values[30];
    memcpy(values, bench.entry[0].series.value_mm, sizeof values);
    values[12] += 0.08;
    bench_end(&bench);
    judge(values, NULL, 30, NAN);
    assert_true(says("1 outlier; without it s is 0.00"));
    advice();
    assert_true(says("(touch 13, Grubbs' G ") && says("clean plate and cutter"));
    bench_end(&bench);
}

static void a_clean_series_has_one_sentence_and_no_advice(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    bench_add_normal(&bench, "clean", 30, 0, 11);
    verdict_of(0);
    assert_int_equal(words.count, 1);
    assert_true(says("repeats within ±0.0") && says("(from 30 touches)."));
    advice();
    assert_int_equal(words.count, 0);
    bench_end(&bench);
}

static void beyond_the_limit_both_figures_and_what_to_do_are_said(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    bench_add_normal(&bench, "clean", 30, 0, 11);
    bench.story.limit_mm = 0.002;
    assert_true(tu_trials_limit_exceeded(&bench.story));
    verdict_of(0);
    assert_true(says("beyond the limit of ±0.0020 mm."));
    advice();
    assert_true(says("clean, Z- is beyond the limit (±0.0") && says("against ±0.0020 mm)"));
    bench.story.limit_mm = 0.02;
    assert_false(tu_trials_limit_exceeded(&bench.story));
    verdict_of(0);
    assert_false(says("limit"));
    bench_end(&bench);
}

static void beside_an_effect_the_settled_figure_leads_and_the_limit_follows_it(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    tu_trials_entry *entry = bench_add_normal(&bench, "cold", 30, 0, 11);
    entry->effect = TU_TRIALS_WARM_UP;
    entry->within_mm = 0.004;
    entry->within_all_mm = 0.03;
    bench.story.has_warm_up = true;
    bench.story.warm_up = (tu_warm_up){.p = 0.001, .tau_s = 120, .settled_after_s = 240};
    bench.story.limit_mm = 0.01;
    verdict_of(0);
    assert_true(says("once settled, repeats within ±0.0040 mm"));
    assert_true(says("with the warm-up in it: within ±0.030 mm."));
    assert_false(tu_trials_limit_exceeded(&bench.story) || says("beyond"));
    bench.story.limit_mm = 0.003;
    assert_true(tu_trials_limit_exceeded(&bench.story));
    bench.story.has_warm_up = false;
    entry->effect = TU_TRIALS_FEED;
    verdict_of(0);
    assert_true(says("at one feed, repeats within ±0.0040 mm"));
    assert_true(says("with the change of feed in it: within ±0.030 mm.") && says("beyond"));
    bench_end(&bench);
}

static void a_delay_is_shown_when_its_interval_leaves_out_zero(void **state)
{
    (void)state;
    tu_trials_story story = {.has_feed = true, .feed = {.delay_interval = {-0.001, 0.002}}};
    assert_false(tu_trials_shows_feed(&story));
    story.feed.delay_interval.low = 0.001;
    assert_true(tu_trials_shows_feed(&story));
    story.has_feed = false;
    assert_false(tu_trials_shows_feed(&story));
}

static void neighbours_that_are_hardly_alike_are_not_mentioned(void **state)
{
    (void)state;
    tu_trial_figures f = {.n = 10000, .lag1 = 0.05, .slope_p = 1}; /* beyond 1.96/sqrt(n) = 0.02 */
    assert_false(tu_trials_is_chained(&f));
    f.lag1 = -0.11;
    assert_true(tu_trials_is_chained(&f));
    f = (tu_trial_figures){.n = 25, .lag1 = 0.38, .slope_p = 1}; /* 1.96/5 = 0.392 */
    assert_false(tu_trials_is_chained(&f));
}

static void a_comparison_says_which_side_drifts_and_how_far(void **state)
{
    (void)state;
    double drifting[12], times[12];
    for (int i = 0; i < 12; i++) {
        times[i] = 60 * i;
        drifting[i] = -52.38 + 0.01 * i;
    }
    bench_start(&bench, TU_UNIT_MM);
    bench_add_normal(&bench, "warm", 30, 0, 11);
    bench_add(&bench, "cold", drifting, times, 12, NAN);
    bench_compare(&bench);
    answers();
    assert_true(says("against cold, Z-: the mean moved by -0.05"));
    assert_true(says("cold, Z- drifts (10.0 µm/min upwards, 0.1100 mm in all): the drift is in the "
                     "difference"));
    assert_true(says("the spread is 0.")); /* a figure, but no judgement beside the drift */
    assert_false(says("warm, Z- drifts") || says("repeats better now") || says("without the out"));
    advice();
    assert_true(says("touch before and after in turn"));
    bench_end(&bench);
}

static void a_comparison_is_told_once_more_without_outliers(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    bench_add_normal(&bench, "warm", 30, 0, 11);
    bench_add_normal(&bench, "cold", 30, 0, 12);
    bench_compare(&bench);
    bench.story.has_comparison_without = true;
    bench.story.comparison_without = bench.story.comparison;
    bench.story.comparison_without.t_p = 0.001;
    bench.story.comparison_without.difference = 0.0123;
    bench.entry[0].figures.outlier_count = 2;
    answers();
    assert_true(says("without the outliers (0 before, 2 after): the mean moved by 0.0123 mm"));
    bench_end(&bench);
}

static void inches_have_a_digit_more_and_no_micrometres(void **state)
{
    (void)state;
    double values[12], times[12];
    for (int i = 0; i < 12; i++) {
        times[i] = 60 * i;
        values[i] = 25.4 * 0.001 * i; /* a thousandth a minute */
    }
    bench_start(&bench, TU_UNIT_INCH);
    bench_add(&bench, "", values, times, 12, NAN);
    verdict_of(0);
    assert_true(says("drifting 0.00100 in/min upwards, 0.01100 in from"));
    assert_false(says("µm") || says(" mm"));
    bench_end(&bench);
}

static void more_than_fits_is_said_to_be_more(void **state)
{
    (void)state;
    words = (tu_trials_words){0};
    for (int i = 0; i < TU_TRIALS_SENTENCES + 3; i++)
        tu_trials_say(&words, "sentence %d.", i);
    assert_int_equal(words.count, TU_TRIALS_SENTENCES);
    check_contains(words.text[TU_TRIALS_SENTENCES - 1], "there is more");
    assert_string_equal(words.text[TU_TRIALS_SENTENCES - 2], "sentence 46.");
}

/* Twenty at one place, then ten a step higher: the median slope is 0. */
static void a_shift_by_a_step_is_said_where_the_median_slope_is_none(void **state)
{
    (void)state;
    double values[30];
    for (int i = 0; i < 30; i++)
        values[i] = i < 20 ? -40 : -39.9875;
    judge(values, NULL, 30, 0.0125);
    assert_true(tu_trials_drifts(&bench.entry[0].figures));
    assert_true(says("shifts upwards by up to a step of 0.0125 mm on the way (p "));
    advice();
    assert_true(says("shifts upwards by up to a step of 0.0125 mm (p ") && says("loose"));
    bench_end(&bench);
}

/* 3000 touches of s 0.01 and a drift of 0.004 mm in all, found with p far below 5 %. */
static void a_drift_far_below_s_is_not_made_much_of(void **state)
{
    (void)state;
    enum { COUNT = 3000 };
    static double values[COUNT], times[COUNT];
    check_random random = check_random_seed(31);
    for (int i = 0; i < COUNT; i++) {
        times[i] = 10 * i;
        values[i] = check_random_normal(&random, 0.004 * i / COUNT, 0.01);
    }
    judge(values, times, COUNT, NAN);
    assert_true(bench.entry[0].figures.slope_p < 0.001);
    assert_false(tu_trials_drifts(&bench.entry[0].figures) || says("drift"));
    bench_end(&bench);
    for (int i = 0; i < COUNT; i++)
        values[i] += 0.03 * i / COUNT; /* that matters: 0.034 mm in 500 min, by s in 147 or more */
    judge(values, times, COUNT, NAN);
    assert_true(says("drifting 0.07 µm/min upwards"));
    advice();
    assert_true(says("drifts slowly (0.07 µm/min upwards, p < 1e-30): by as much as s in 2"));
    assert_false(says("warm"));
    bench_end(&bench);
}

static void a_delay_excuses_the_drift_of_mixed_feeds_alone(void **state)
{
    (void)state;
    double values[12];
    for (int i = 0; i < 12; i++)
        values[i] = 0.001 * i;
    judge(values, NULL, 12, NAN);
    bench.story.has_feed = true;
    bench.story.feed.delay_interval = (tu_interval){0.001, 0.002};
    verdict_of(0);
    assert_true(says("drifting"));
    bench.entry[0].effect = TU_TRIALS_FEED;
    verdict_of(0);
    assert_false(says("drifting"));
    bench_end(&bench);
}

static void neighbours_that_alternate_are_not_said_to_widen_the_mean(void **state)
{
    (void)state;
    double values[20];
    for (int i = 0; i < 20; i++)
        values[i] = (i % 2 ? 0.02 : 0) + 0.0001 * (i * 7 % 11);
    judge(values, NULL, 20, NAN);
    assert_true(says("tends to go the other way than the one before (lag-1 correlation -0.9"));
    advice();
    assert_true(says("neighbours alternate") && says("in turn"));
    assert_false(says("less well"));
    bench_end(&bench);
}

static void no_difference_is_asserted_where_the_interval_holds_none(void **state)
{
    (void)state;
    tu_trials_story *story = &bench.story;
    judge((double[]){1, 1.1}, NULL, 2, NAN);
    story->has_reversal = true;
    story->reversal = (tu_trial_reversal){.b = 0.02, .b_interval = {-0.07, 0.11}};
    story->has_feed = true;
    story->feed = (tu_feed_fit){.delay_s = 0.001, .delay_interval = {-0.002, 0.004}};
    answers();
    assert_true(says("no difference between moving + and moving - is shown (0.0200 mm, 95 %: "
                     "-0.0700 to 0.1100)"));
    assert_true(says("no delay of the latch is shown (1 ms, 95 %: -2 to 4 ms)"));
    story->reversal.b_interval.low = 0.01;
    story->feed.delay_interval.low = 0.0005;
    answers();
    assert_true(says("moving + reads 0.0200 mm higher"));
    assert_true(says("latched 1 ms after contact"));
    story->has_reversal = false;
    story->has_faces = true;
    story->reversal.b = 21.837;
    answers();
    assert_true(says("two faces, 21.8370 mm apart") && !says("higher"));
    advice();
    assert_false(says("one side only"));
    bench_end(&bench);
}

static void a_warm_up_is_not_dated_beyond_the_last_touch(void **state)
{
    (void)state;
    double times[] = {0, 60, 120, 180, 600};
    judge((double[]){1, 1.1, 1.2, 1.25, 1.3}, times, 5, NAN);
    bench.story.has_warm_up = true;
    bench.story.settled_mm = 0.002;
    bench.story.warm_up =
        (tu_warm_up){.rise = 0.04, .tau_s = 540, .tau_sd = 138, .settled_after_s = 1582};
    answers();
    assert_true(says("(s 2.3), as far as 10 min tell") && says("beyond what was touched"));
    advice();
    assert_true(says("touch for longer than 10 min") && !says("26.4"));
    bench.story.warm_up.settled_after_s = 540;
    answers();
    assert_true(says("after 9 min less than 0.0020 mm is left"));
    bench_end(&bench);
}

/* s by hand: squares add up to 17 in 20, mean 0.05: sqrt((17 - 0.05)/19) = 0.9445 steps = 0.0118
 * mm; less 1/12 step^2 (Sheppard): 0.8993 steps = 0.0112 mm. */
static void with_s_above_half_a_step_more_touches_help_and_the_rounding_is_said(void **state)
{
    (void)state;
    const double touches[] = {0, 1, -1, 0, 1, -1, 0, 2, -1, 0, 1, 0, -1, 0, 1, 0, -2, 0, 1, 0};
    double values[20];
    for (int i = 0; i < 20; i++)
        values[i] = 0.0125 * touches[i];
    judge(values, NULL, 20, 0.0125);
    assert_true(says("positions come in steps of 0.0125 mm: s (0.0118 mm) would be about 0.0112"));
    assert_false(says("limits it"));
    advice();
    assert_false(says("more touches do not help"));
    bench_end(&bench);
    judge(values, NULL, 20, NAN);
    assert_true(says("values lie 0.0125 mm apart: if that is the position's step (step), s (0"));
    bench_end(&bench);
}

static void a_fine_step_is_not_rounded_to_none(void **state)
{
    (void)state;
    char text[64];
    tu_trial_figures f = {.resolution_mm = 0.000025};
    assert_string_equal(tu_trials_step_text(TU_UNIT_MM, &f, text, sizeof text), "0.000025 mm");
    f.resolution_mm = 0.0125;
    assert_string_equal(tu_trials_step_text(TU_UNIT_MM, &f, text, sizeof text), "0.0125 mm");
    f.resolution_mm = 0.00125;
    assert_string_equal(tu_trials_step_text(TU_UNIT_INCH, &f, text, sizeof text), "0.000049 in");
}

static void a_p_is_never_said_to_be_zero(void **state)
{
    (void)state;
    assert_string_equal(tu_trials_p(0).text, "p < 1e-30");
    assert_string_equal(tu_trials_p(3e-27).text, "p 3e-27");
    assert_string_equal(tu_trials_p(0.0321).text, "p 0.032");
}

/* A figure that is not known must not come out as one. */
static void no_sentence_of_any_kind_of_series_holds_nan_or_infinity(void **state)
{
    (void)state;
    for (int kind = 0; kind < BENCH_KINDS; kind++) {
        bench_kind(&bench, kind, kind % 2 ? TU_UNIT_INCH : TU_UNIT_MM);
        bench.story.wanted_mm = 0.001;
        for (int part = 0; part < 3; part++) {
            if (part == 0)
                verdict_of(0);
            else if (part == 1)
                answers();
            else
                advice();
            assert_false(says("nan") || says("inf"));
            for (size_t i = 0; i < words.count; i++) {
                size_t length = strlen(words.text[i]);
                assert_true(length > 10 && length < TU_TRIALS_SENTENCE - 1);
                assert_int_equal(words.text[i][length - 1], '.');
            }
        }
        bench_end(&bench);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_touch_is_asked_to_become_twenty),
        cmocka_unit_test(two_touches_say_how_little_they_know),
        cmocka_unit_test(equal_touches_ask_for_the_step_and_take_half_of_it),
        cmocka_unit_test(one_touch_a_step_off_equal_ones_is_not_called_bad_outright),
        cmocka_unit_test(a_drift_has_its_rate_its_whole_and_a_remedy),
        cmocka_unit_test(an_outlier_has_its_touch_and_both_standard_deviations),
        cmocka_unit_test(a_clean_series_has_one_sentence_and_no_advice),
        cmocka_unit_test(beyond_the_limit_both_figures_and_what_to_do_are_said),
        cmocka_unit_test(beside_an_effect_the_settled_figure_leads_and_the_limit_follows_it),
        cmocka_unit_test(a_delay_is_shown_when_its_interval_leaves_out_zero),
        cmocka_unit_test(neighbours_that_are_hardly_alike_are_not_mentioned),
        cmocka_unit_test(a_comparison_says_which_side_drifts_and_how_far),
        cmocka_unit_test(a_comparison_is_told_once_more_without_outliers),
        cmocka_unit_test(inches_have_a_digit_more_and_no_micrometres),
        cmocka_unit_test(a_shift_by_a_step_is_said_where_the_median_slope_is_none),
        cmocka_unit_test(a_drift_far_below_s_is_not_made_much_of),
        cmocka_unit_test(a_delay_excuses_the_drift_of_mixed_feeds_alone),
        cmocka_unit_test(neighbours_that_alternate_are_not_said_to_widen_the_mean),
        cmocka_unit_test(no_difference_is_asserted_where_the_interval_holds_none),
        cmocka_unit_test(a_warm_up_is_not_dated_beyond_the_last_touch),
        cmocka_unit_test(with_s_above_half_a_step_more_touches_help_and_the_rounding_is_said),
        cmocka_unit_test(a_fine_step_is_not_rounded_to_none),
        cmocka_unit_test(a_p_is_never_said_to_be_zero),
        cmocka_unit_test(more_than_fits_is_said_to_be_more),
        cmocka_unit_test(no_sentence_of_any_kind_of_series_holds_nan_or_infinity),
    };
    return cmocka_run_group_tests_name("trials_words", tests, NULL, NULL);
}
