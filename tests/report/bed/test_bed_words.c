/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_bed_words.c - what is said of a bed: each sentence with its figures, and only what they
 * bear.
 */
#include "check.h"

#include "report/bed/bed_words.h"
#include "trueup/report_bed.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* 0.62 mm from highest to lowest, 0.21 mm of warp, the back right corner low. */
static tu_bed_answer tilted_bed(void)
{
    tu_bed_answer answer = {.name = "bed.csv",
                            .range_mm = 0.62,
                            .depth_of_cut_mm = 0.4,
                            .allowance_mm = 0.03,
                            .supports = 4,
                            .corners = true,
                            .limit_mm = NAN,
                            .sd_mm = NAN};
    answer.places.count = 63;
    answer.zone.FLTt_mm = 0.21;
    answer.add_mm[3] = 0.34;
    answer.surfacing.depth_mm = 0.65;
    answer.surfacing.passes = 2;
    return answer;
}

static void the_verdict_and_the_advice_come_with_their_numbers(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    assert_string_equal(tu_bed_say_verdict(&answer, TU_UNIT_MM).text,
                        "0.620 mm from the highest to the lowest of 63 places; 0.210 mm of it is "
                        "warp, the rest is tilt.");
    assert_string_equal(tu_bed_say_remedy(&answer, TU_UNIT_MM).text,
                        "Shim the back right corner by 0.340 mm to take out the tilt, or surface "
                        "0.650 mm in 2 passes to make it flat.");
    answer.surfacing.passes = 1;
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "in 1 pass to make it flat.");
}

static void lengths_are_in_the_unit_asked_for(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    /* 0.62 mm / 25.4 = 0.02441 in, 0.34 mm: 0.01339 in, 0.65 mm: 0.02559 in */
    check_contains(tu_bed_say_verdict(&answer, TU_UNIT_INCH).text, "0.0244 in from");
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_INCH).text, "by 0.0134 in to");
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_INCH).text, "surface 0.0256 in in 2 passes");
    check_lacks(tu_bed_say_remedy(&answer, TU_UNIT_INCH).text, "mm");
}

static void a_depth_that_nobody_divided_is_never_said_to_go_in_one_pass(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    answer.depth_of_cut_mm = NAN;
    answer.surfacing.passes = 1;
    const tu_bed_words words = tu_bed_say_remedy(&answer, TU_UNIT_MM);
    check_contains(words.text, "surface 0.650 mm to make it flat (depth_of_cut ");
    check_lacks(words.text, "1 pass");
}

static void shims_are_listed_as_one_speaks(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    answer.add_mm[0] = 0.019; /* thinner than any shim */
    answer.add_mm[1] = 0.5;
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_MM).text,
                   "Shim the front right corner by 0.500 mm and the back right corner by 0.340 mm "
                   "to take");
    answer.add_mm[0] = 0.1;
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_MM).text,
                   "Shim the front left corner by 0.100 mm, the front right corner by 0.500 mm and "
                   "the back right corner by 0.340 mm to take");
    answer.corners = false;
    answer.support[3].x = 900;
    answer.support[3].y = 600;
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_MM).text,
                   " and the support at X 900.000 Y 600.000 by 0.340 mm to take");
    answer.supports = 6;
    answer.add_mm[2] = answer.add_mm[4] = 0.2;
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_MM).text,
                   "Shim the supports as listed below");
}

static void warp_alone_is_not_shimmed(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    answer.zone.FLTt_mm = 0.6;
    check_contains(tu_bed_say_verdict(&answer, TU_UNIT_MM).text,
                   "nearly all of it warp (0.600 mm): levelling does not help.");
    const tu_bed_words words = tu_bed_say_remedy(&answer, TU_UNIT_MM);
    assert_true(strncmp(words.text, "Surface 0.650 mm in 2", 21) == 0);
    check_lacks(words.text, "him");
}

static void a_bed_flatter_than_any_shim_gets_no_advice(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    answer.range_mm = 0.019;
    answer.zone.FLTt_mm = 0.012;
    check_contains(tu_bed_say_verdict(&answer, TU_UNIT_MM).text, "nothing to level or to surface.");
    assert_string_equal(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "");
    answer.limit_mm = 0.01; /* unless somebody wants it flatter still */
    check_lacks(tu_bed_say_verdict(&answer, TU_UNIT_MM).text, "nothing");
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "urface");
}

static void a_limit_is_compared_with_the_whole_and_with_the_warp(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    assert_string_equal(tu_bed_say_limit(&answer, TU_UNIT_MM).text, "");
    answer.limit_mm = 0.62;
    assert_string_equal(tu_bed_say_limit(&answer, TU_UNIT_MM).text,
                        "Within the limit of 0.620 mm.");
    answer.limit_mm = 0.5;
    assert_string_equal(tu_bed_say_limit(&answer, TU_UNIT_MM).text,
                        "Over the limit of 0.500 mm; without the tilt it would be within.");
    answer.limit_mm = 0.2;
    assert_string_equal(tu_bed_say_limit(&answer, TU_UNIT_MM).text,
                        "Over the limit of 0.200 mm; without the tilt it would be over it, too.");
}

static void what_is_within_the_limit_need_not_be_mended(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    answer.limit_mm = 0.7;
    assert_string_equal(tu_bed_say_remedy(&answer, TU_UNIT_MM).text,
                        "To have it flatter still: shim the back right corner by 0.340 mm to take "
                        "out the tilt, or surface 0.650 mm in 2 passes to make it flat.");
    answer.limit_mm = 0.6;
    assert_true(strncmp(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "Shim ", 5) == 0);
}

static void a_job_touched_in_part_is_not_said_to_be_within_the_limit(void **state)
{
    (void)state;
    const tu_bed_rectangle job = {0, 100, 0, 100};
    tu_bed_answer answer = tilted_bed();
    answer.job = &job;
    answer.limit_mm = 0.7;
    answer.surfacing.area_mm2 = 9890; /* 1.1 % of it was never touched */
    answer.surfacing.unknown_mm2 = 110;
    assert_string_equal(tu_bed_say_limit(&answer, TU_UNIT_MM).text,
                        "What was touched of the job is within the limit of 0.700 mm; the rest is "
                        "not known.");
    check_lacks(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "still");
    answer.limit_mm = 0.6;
    check_contains(tu_bed_say_limit(&answer, TU_UNIT_MM).text, "Over the limit of 0.600 mm");
    answer.limit_mm = 0.7;
    answer.surfacing.area_mm2 = 9910;
    answer.surfacing.unknown_mm2 = 90;
    assert_string_equal(tu_bed_say_limit(&answer, TU_UNIT_MM).text,
                        "Within the limit of 0.700 mm.");
}

static void a_through_cut_says_what_it_does_to_bed_and_stock(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    assert_string_equal(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text, "");
    answer.through_asked = true;
    answer.overcut_mm = 0.1;
    answer.through = (tu_through_cut){
        .worst_bite_mm = 0.3, .worst_skin_mm = 0.2, .overcut_needed_mm = 0.3, .bite_then_mm = 0.5};
    assert_string_equal(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text,
                        "A cut programmed 0.100 mm below the stock's underside, zeroed in the "
                        "middle: it bites up to 0.300 mm into the bed, and leaves a skin of up to "
                        "0.200 mm; 0.300 mm would cut through everywhere, with a bite of up to "
                        "0.500 mm.");
    answer.through.worst_skin_mm = 0;
    answer.reference_stated = true;
    answer.through.overcut_needed_mm = 0.04;
    check_contains(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text, "zeroed where stated: ");
    check_contains(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text,
                   "and cuts through everywhere; 0.040 mm would be enough.");
    answer.through.overcut_needed_mm = -0.1;
    check_contains(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text,
                   "even if it ended 0.100 mm above the underside.");
    answer.overcut_mm = -0.05;
    check_contains(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text, "0.050 mm above the stock's");
    check_lacks(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text, "-0");
}

static void a_cut_within_the_reserve_is_not_said_to_go_through(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    answer.through_asked = true;
    answer.reserve_mm = 0.012;
    answer.through =
        (tu_through_cut){.worst_bite_mm = 0.3, .overcut_needed_mm = 0.188, .bite_then_mm = 0.5};
    answer.overcut_mm = 0.19;
    check_contains(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text,
                   "and cuts through by less than heights scatter, so a skin may stay; 0.200 mm "
                   "(with a reserve of 0.012 mm) would cut through everywhere.");
    answer.overcut_mm = 0.2001;
    check_contains(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text,
                   "and cuts through everywhere; 0.200 mm (with a reserve of 0.012 mm) would be "
                   "enough.");
    answer.through.worst_skin_mm = 0.1;
    check_contains(
        tu_bed_say_through_cut(&answer, TU_UNIT_MM).text,
        "0.200 mm (with a reserve of 0.012 mm) would cut through everywhere, with a bite "
        "of up to 0.512 mm.");
    answer.surfaced = true;
    answer.surfacing.area_mm2 = 9000;
    answer.surfacing.unknown_mm2 = 1000;
    check_contains(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text,
                   "would cut through everywhere that was touched");
}

static void what_rests_on_a_suspect_is_said_first_and_both_ways(void **state)
{
    (void)state;
    const tu_bed_point chip = {200, 150, -79.3};
    tu_bed_answer answer = tilted_bed(), without = tilted_bed();
    assert_string_equal(tu_bed_say_doubt(&answer, TU_UNIT_MM).text, "");
    answer.suspect = &chip;
    answer.zone.FLTt_mm = 0.61;
    assert_string_equal(tu_bed_say_doubt(&answer, TU_UNIT_MM).text,
                        "What follows rests on a suspect place at X 200.000 Y 150.000: look and "
                        "touch it again (re_touch).");
    assert_string_equal(tu_bed_say_remedy(&answer, TU_UNIT_MM).text,
                        "Look before you shim or surface. As touched: surface 0.650 mm in 2 passes "
                        "to make it flat.");
    without.range_mm = 0.25;
    without.zone.FLTt_mm = 0.1;
    without.surfacing.depth_mm = 0.28;
    without.surfacing.passes = 1;
    answer.without = &without;
    check_contains(
        tu_bed_say_doubt(&answer, TU_UNIT_MM).text,
        "Without the suspects it is 0.250 mm from the highest to the lowest, 0.100 mm of "
        "it warp.");
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_MM).text,
                   "Without the suspects: shim the back right corner by 0.340 mm to take out the "
                   "tilt, or surface 0.280 mm in 1 pass to make it flat.");
    check_lacks(tu_bed_say_verdict(&answer, TU_UNIT_MM).text, "levelling does not help");
}

static void a_zero_on_a_suspect_is_told(void **state)
{
    (void)state;
    const tu_bed_point chip = {200, 150, -79.3};
    tu_bed_answer answer = tilted_bed(), without = tilted_bed();
    answer.through_asked = without.through_asked = true;
    answer.through.overcut_needed_mm = 0.6;
    without.through.overcut_needed_mm = 0.02;
    answer.overcut_mm = 0.7;
    answer.reference_suspect = &chip;
    answer.without = &without;
    check_contains(tu_bed_say_through_cut(&answer, TU_UNIT_MM).text,
                   "0.600 mm would be enough. The height of the bed where the stock was zeroed "
                   "rests on a suspect place, X 200.000 Y 150.000: state zeroed_at. Without the "
                   "suspects, 0.020 mm would be enough.");
}

static void heights_in_two_groups_get_a_question_and_no_advice(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    answer.parted_mm = 9.3;
    answer.parted_low = 42;
    answer.parted_high = 21;
    check_contains(tu_bed_say_doubt(&answer, TU_UNIT_MM).text,
                   "two groups 9.300 mm apart, of 42 and 21 places: touches on a plate, or of "
                   "another series?");
    assert_string_equal(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "");
    answer.parted_mm = 0;
    answer.surfacing.depth_mm = 3.2;
    check_contains(tu_bed_say_doubt(&answer, TU_UNIT_MM).text,
                   "3.200 mm to surface is more than a bed is out by");
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "surface 3.200 mm");
}

static void series_at_two_heights_are_no_bed_to_mend(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    answer.seam_mm = 0.5;
    assert_string_equal(tu_bed_say_doubt(&answer, TU_UNIT_MM).text,
                        "Series put together here stand 0.500 mm apart where they adjoin: as one "
                        "map they are no bed, so nothing is advised.");
    assert_string_equal(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "");
}

static void a_job_is_levelled_as_a_job_and_never_by_noise(void **state)
{
    (void)state;
    const tu_bed_rectangle job = {0, 100, 0, 100};
    tu_bed_answer answer = tilted_bed();
    answer.job = &job;
    check_contains(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "by 0.340 mm to level the job, or");
    answer.tilt_hidden = true;
    assert_true(strncmp(tu_bed_say_remedy(&answer, TU_UNIT_MM).text, "Surface 0.650", 13) == 0);
}

static void noise_is_told_as_what_the_warp_may_truly_be(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    assert_string_equal(tu_bed_say_noise(&answer, TU_UNIT_MM).text, "");
    answer.inflated = true;
    answer.sd_mm = 0.01;
    answer.sd_source = "the shop file";
    answer.inflation =
        (tu_inflation){.observed_mm = 0.21, .inflation_mm = 0.02, .low_mm = 0.15, .high_mm = 0.2};
    assert_string_equal(
        tu_bed_say_noise(&answer, TU_UNIT_MM).text,
        "A touch repeats to 0.010 mm (standard deviation, from the shop file). That makes the warp "
        "look larger by about 0.020 mm: it is truly between 0.150 mm and 0.200 mm (95 %).");
    answer.inflation.low_mm = 0;
    check_contains(tu_bed_say_noise(&answer, TU_UNIT_MM).text,
                   "truly 0.200 mm at most, perhaps none (95 %).");
}

static void a_change_is_lower_or_higher_never_negative(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    assert_string_equal(tu_bed_say_change(&answer, TU_UNIT_MM).text, "");
    answer.against = "before.csv";
    answer.comparison = (tu_bed_comparison){.points = 96,
                                            .mean_mm = -0.777,
                                            .rise.z_mm = 0.012,
                                            .fall.z_mm = -1.088,
                                            .range_before_mm = 0.457,
                                            .range_now_mm = 0.62};
    assert_string_equal(tu_bed_say_change(&answer, TU_UNIT_MM).text,
                        "Since before.csv, at 96 places: 0.777 mm lower on average, from 1.088 mm "
                        "lower to 0.012 mm higher; highest to lowest was 0.457 mm there, and is "
                        "0.620 mm now. The 0.777 mm lower on average may come from another tool "
                        "length or another homing, and not from the bed; without it, places are "
                        "from 0.311 mm lower to 0.789 mm higher.");
    answer.comparison.mean_mm = 0.015; /* no shim is thinner than 0.02 mm */
    check_contains(tu_bed_say_change(&answer, TU_UNIT_MM).text, "is 0.620 mm now.");
    assert_null(strstr(tu_bed_say_change(&answer, TU_UNIT_MM).text, "tool length"));
}

static void what_was_touched_again_is_counted_in_singular_and_plural(void **state)
{
    (void)state;
    tu_bed_answer answer = tilted_bed();
    assert_string_equal(tu_bed_say_renewed(&answer).text, "");
    answer.places.renewed = answer.places.replaced = 1;
    assert_string_equal(tu_bed_say_renewed(&answer).text,
                        "1 place was touched again: the later touches count, 1 earlier one does "
                        "not.");
    answer.places.renewed = 2;
    answer.places.replaced = 3;
    assert_string_equal(tu_bed_say_renewed(&answer).text,
                        "2 places were touched again: the later touches count, 3 earlier ones do "
                        "not.");
}

static void no_length_is_minus_zero(void **state)
{
    (void)state;
    assert_string_equal(tu_bed_show(TU_UNIT_MM, -0.0004).text, "0.000 mm");
    assert_string_equal(tu_bed_show(TU_UNIT_MM, -0.0006).text, "-0.001 mm");
    assert_string_equal(tu_bed_show(TU_UNIT_INCH, -0.001).text, "0.0000 in");
}

static void a_long_path_does_not_push_the_figures_out(void **state)
{
    (void)state;
    char name[2000];
    memset(name, 'n', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    tu_bed_answer answer = tilted_bed();
    answer.against = name;
    answer.comparison.range_now_mm = 0.62;
    const tu_bed_words words = tu_bed_say_change(&answer, TU_UNIT_MM);
    check_contains(words.text, "Since the earlier map, at ");
    check_contains(words.text, "0.620 mm now.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_verdict_and_the_advice_come_with_their_numbers),
        cmocka_unit_test(lengths_are_in_the_unit_asked_for),
        cmocka_unit_test(a_depth_that_nobody_divided_is_never_said_to_go_in_one_pass),
        cmocka_unit_test(shims_are_listed_as_one_speaks),
        cmocka_unit_test(warp_alone_is_not_shimmed),
        cmocka_unit_test(a_bed_flatter_than_any_shim_gets_no_advice),
        cmocka_unit_test(a_limit_is_compared_with_the_whole_and_with_the_warp),
        cmocka_unit_test(what_is_within_the_limit_need_not_be_mended),
        cmocka_unit_test(a_job_touched_in_part_is_not_said_to_be_within_the_limit),
        cmocka_unit_test(a_through_cut_says_what_it_does_to_bed_and_stock),
        cmocka_unit_test(a_cut_within_the_reserve_is_not_said_to_go_through),
        cmocka_unit_test(what_rests_on_a_suspect_is_said_first_and_both_ways),
        cmocka_unit_test(a_zero_on_a_suspect_is_told),
        cmocka_unit_test(heights_in_two_groups_get_a_question_and_no_advice),
        cmocka_unit_test(series_at_two_heights_are_no_bed_to_mend),
        cmocka_unit_test(a_job_is_levelled_as_a_job_and_never_by_noise),
        cmocka_unit_test(noise_is_told_as_what_the_warp_may_truly_be),
        cmocka_unit_test(a_change_is_lower_or_higher_never_negative),
        cmocka_unit_test(what_was_touched_again_is_counted_in_singular_and_plural),
        cmocka_unit_test(no_length_is_minus_zero),
        cmocka_unit_test(a_long_path_does_not_push_the_figures_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
