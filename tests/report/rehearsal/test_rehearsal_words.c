/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rehearsal_words.c - what the reports of a rehearsal ask of its story.
 */
#include "story_sample.h"

static story_sample sample;

static void repeats_of_a_place_make_one_group_with_their_mean(void **state)
{
    (void)state;
    tu_story_group groups[4];
    story_sample_start(&sample);
    assert_int_equal(tu_story_groups(&sample.story, groups, 4), 2);
    assert_int_equal(groups[0].first, 1);
    assert_int_equal(groups[0].last, 2);
    check_close(groups[0].mean.z, -40.15, 1e-12, "mean of -40.1 and -40.2, mm");
    assert_int_equal(groups[1].first, 3);
    assert_int_equal(groups[1].last, 3);
    check_same(groups[1].mean.x, 100, "the only one, mm");
    assert_int_equal(tu_story_searches(&sample.story), 2);
}

static void another_way_series_or_place_is_another_group(void **state)
{
    (void)state;
    tu_story_group groups[1];
    story_sample_start(&sample);
    sample.touches[2].hit.direction = 1;
    assert_int_equal(tu_story_groups(&sample.story, groups, 1),
                     3); /* more than there is room for */
    assert_int_equal(groups[0].last, 1);
    story_sample_start(&sample);
    strcpy(sample.touches[2].hit.series, "other");
    assert_int_equal(tu_story_groups(&sample.story, groups, 1), 3);
    story_sample_start(&sample);
    sample.touches[2].hit.position.y += 0.6;
    assert_int_equal(tu_story_groups(&sample.story, groups, 1), 3);
}

/* Differences by hand: 109.5 - 109.525 = -0.025; -49.6 + 49.65 = 0.05. */
static void an_offset_is_off_when_one_axis_is_beyond_the_limit(void **state)
{
    (void)state;
    story_sample_start(&sample);
    tu_rehearsal_story *story = &sample.story;
    check_close(tu_story_difference(story, 0, TU_AXIS_X), -0.025, 1e-12, "X, mm");
    check_close(tu_story_difference(story, 0, TU_AXIS_Z), 0.05, 1e-12, "Z, mm");
    check_nan(tu_story_difference(story, 0, TU_AXIS_Y), "Y was not set");
    assert_true(tu_story_sets_offset(story) && tu_story_sets_slot(story, 0));
    assert_false(tu_story_sets_slot(story, 1));
    assert_false(tu_story_is_off(story)); /* not asked */
    story->within_mm = 0.05;
    assert_false(tu_story_is_off(story)); /* to the very limit */
    story->within_mm = 0.049;
    assert_true(tu_story_is_off(story));
    assert_false(tu_story_axis_is_off(story, 0, TU_AXIS_X));
    story->truth.z = NAN;
    assert_false(tu_story_is_off(story)); /* nothing to compare with */
}

static void durations_are_told_as_people_tell_them(void **state)
{
    (void)state;
    assert_string_equal(tu_story_duration(13.6).text, "14 s");
    assert_string_equal(tu_story_duration(59.6).text, "1 min 0 s");
    assert_string_equal(tu_story_duration(65).text, "1 min 5 s");
    assert_string_equal(tu_story_duration(3599.7).text, "1 h 0 min");
    assert_string_equal(tu_story_duration(3600 + 250).text, "1 h 4 min");
    assert_string_equal(tu_story_duration(0).text, "0 s");
}

static void every_fault_has_a_name_of_its_own(void **state)
{
    (void)state;
    for (int i = TU_FAULT_NONE; i <= TU_FAULT_NO_END; i++) {
        assert_true(*tu_fault_name((tu_fault)i) != '\0');
        for (int k = TU_FAULT_NONE; k < i; k++)
            assert_string_not_equal(tu_fault_name((tu_fault)i), tu_fault_name((tu_fault)k));
    }
    assert_string_equal(tu_fault_name((tu_fault)(TU_FAULT_NO_END + 1)), "");
    assert_true(tu_fault_is_of_text(TU_FAULT_BLOCK) && tu_fault_is_of_text(TU_FAULT_NO_END));
    assert_false(tu_fault_is_of_text(TU_FAULT_COLLISION));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(repeats_of_a_place_make_one_group_with_their_mean),
        cmocka_unit_test(another_way_series_or_place_is_another_group),
        cmocka_unit_test(an_offset_is_off_when_one_axis_is_beyond_the_limit),
        cmocka_unit_test(durations_are_told_as_people_tell_them),
        cmocka_unit_test(every_fault_has_a_name_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
