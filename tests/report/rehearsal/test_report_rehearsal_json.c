/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_rehearsal_json.c - a rehearsal as JSON: the keys of docs/rehearse.md, what is absent,
 * numbers to the last bit.
 */
#include "story_sample.h"

#include <stdio.h>

static story_sample sample;

/* The report, parsed; cJSON_Delete it. */
static cJSON *report(void)
{
    char *text = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&text, &length);
    assert_non_null(out);
    tu_error error = {0};
    check_status(tu_report_rehearsal_json(out, &sample.story, &error), TU_OK, &error);
    fclose(out);
    cJSON *root = cJSON_ParseWithOpts(text, NULL, 0);
    if (!root)
        fail_msg("not JSON: %s", text);
    free(text);
    return root;
}

static const char *text_at(const cJSON *root, const char *path)
{
    return cJSON_GetStringValue(check_json_at(root, path));
}

static bool has(const cJSON *object, const char *key)
{
    return cJSON_GetObjectItemCaseSensitive(object, key) != NULL;
}

static void a_clean_run_has_hits_pauses_offset_and_truth(void **state)
{
    (void)state;
    story_sample_start(&sample);
    cJSON *root = report();
    assert_string_equal(text_at(root, "verdict"), "clean");
    assert_false(has(root, "fault"));
    assert_int_equal(cJSON_GetArraySize(check_json_at(root, "hits")), 5);
    assert_true(cJSON_IsFalse(check_json_at(root, "hits[0].ok")));
    check_same(check_json_number(root, "hits[1].z"), -40.1, "z, mm: as given");
    check_same(check_json_number(root, "hits[1].t"), 5, "time, s");
    assert_string_equal(text_at(root, "hits[4].axis"), "x");
    check_same(check_json_number(root, "hits[4].dir"), 1, "direction");
    check_same(check_json_number(root, "pauses[0].line"), 8, "line of the pause");
    assert_string_equal(text_at(root, "offsets[0].slot"), "G54");
    check_same(check_json_number(root, "offsets[0].x"), 109.5, "set, mm");
    assert_false(has(check_json_at(root, "offsets[0]"), "y"));
    check_close(check_json_number(root, "offsets[0].difference.z"), 0.05, 1e-12, "off, mm");
    assert_false(has(check_json_at(root, "offsets[0]"), "off"));
    assert_string_equal(text_at(root, "target"), "front-left-top");
    check_same(check_json_number(root, "truth.y"), 80, "truth, mm");
    cJSON_Delete(root);
}

static void a_fault_tells_kind_line_and_what_was_struck(void **state)
{
    (void)state;
    story_sample_start(&sample);
    story_sample_fault(&sample);
    cJSON *root = report();
    assert_string_equal(text_at(root, "verdict"), "fault");
    assert_string_equal(text_at(root, "fault.kind"), "collision");
    check_same(check_json_number(root, "fault.line"), 12, "line");
    assert_string_equal(text_at(root, "fault.struck"), "clamp");
    check_same(check_json_number(root, "fault.at.z"), 3, "place, mm");
    assert_false(has(check_json_at(root, "fault"), "pressed"));
    cJSON_Delete(root);
}

static void a_limit_makes_a_verdict_of_a_difference(void **state)
{
    (void)state;
    story_sample_start(&sample);
    sample.story.within_mm = 0.03;
    cJSON *root = report();
    assert_string_equal(text_at(root, "verdict"), "off");
    assert_true(cJSON_IsTrue(check_json_at(root, "offsets[0].off")));
    cJSON_Delete(root);
}

static void without_a_target_there_is_no_truth(void **state)
{
    (void)state;
    story_sample_start(&sample);
    sample.story.target = (tu_target){.outward = {0, 0, 0}};
    sample.story.truth = (tu_machine_point){NAN, NAN, NAN};
    cJSON *root = report();
    assert_false(has(root, "target") || has(root, "truth"));
    assert_false(has(check_json_at(root, "offsets[0]"), "difference"));
    cJSON_Delete(root);
}

static void numbers_have_a_point_in_every_locale(void **state)
{
    (void)state;
    if (!check_enter_comma_locale())
        skip();
    story_sample_start(&sample);
    cJSON *root = report();
    check_plain_locale(state);
    check_same(check_json_number(root, "offsets[0].x"), 109.5, "set, mm");
    cJSON_Delete(root);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_clean_run_has_hits_pauses_offset_and_truth),
        cmocka_unit_test(a_fault_tells_kind_line_and_what_was_struck),
        cmocka_unit_test(a_limit_makes_a_verdict_of_a_difference),
        cmocka_unit_test(without_a_target_there_is_no_truth),
        cmocka_unit_test_teardown(numbers_have_a_point_in_every_locale, check_plain_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
