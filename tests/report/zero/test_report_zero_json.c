/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_zero_json.c - a zero as JSON: the keys, what is absent, numbers to the last bit.
 */
#include "check.h"

#include "zero_sample.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The report, parsed; cJSON_Delete it. */
static cJSON *report(const tu_zero_result *result, tu_zero_style style)
{
    char *text = zero_written(tu_report_zero_json, result, &style);
    cJSON *root = cJSON_ParseWithOpts(text, NULL, 0);
    if (!root)
        fail_msg("not JSON: %s", text);
    free(text);
    return root;
}

static bool has(const cJSON *root, const char *key)
{
    return cJSON_GetObjectItemCaseSensitive(root, key) != NULL;
}

static const char *text_at(const cJSON *root, const char *path)
{
    return cJSON_GetStringValue(check_json_at(root, path));
}

static void the_keys_that_other_programs_rely_on_are_there(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    cJSON *root = report(&result, zero_sample_style());
    check_close(check_json_number(root, "schema"), 1, 0, "schema");
    assert_string_equal(text_at(root, "target"), "front-left-top");
    assert_string_equal(text_at(root, "slot"), "G54");
    assert_string_equal(text_at(root, "unit"), "mm");
    assert_string_equal(text_at(root, "plate"), "offcut");
    assert_string_equal(text_at(root, "cutter"), "quarter");
    assert_string_equal(text_at(root, "seat"), "stock");
    assert_string_equal(text_at(root, "program[0]"), "G21 G10 L2 P1 X109.5250 Z-49.6500");
    check_same(check_json_number(root, "effective_radius.x"), 3.175, "radius, mm: as given");
    check_close(check_json_number(root, "uncertainty.x.standard"), 0.005, 1e-15,
                "standard, mm: 3-4-5 triangle");
    check_close(check_json_number(root, "uncertainty.x.coverage"), 0.95, 0, "coverage");
    assert_string_equal(text_at(root, "uncertainty.x.budget[0].source"), "touches");
    check_same(check_json_number(root, "uncertainty.x.budget[0].standard"), 0.003, "touches, mm");
    check_close(check_json_number(root, "uncertainty.x.budget[0].dof"), 2, 0, "dof of touches");
    check_close(check_json_number(root, "uncertainty.x.budget[0].share"), 0.36, 1e-12, "share");
    assert_int_equal(cJSON_GetArraySize(check_json_at(root, "warnings")), 0);
    cJSON_Delete(root);
}

static void infinite_degrees_of_freedom_are_null(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    cJSON *root = report(&result, zero_sample_style());
    assert_true(cJSON_IsNull(check_json_at(root, "uncertainty.x.budget[1].dof")));
    assert_true(cJSON_IsNull(check_json_at(root, "uncertainty.z.dof")));
    cJSON_Delete(root);
}

static void an_uncertainty_with_nothing_to_judge_by_is_null(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    result.axis[TU_AXIS_Z].uncertainty = (tu_uncertainty){0};
    tu_budget_close(&result.axis[TU_AXIS_Z].uncertainty, 0.95);
    cJSON *root = report(&result, zero_sample_style());
    assert_true(cJSON_IsNull(check_json_at(root, "uncertainty.z.standard")));
    assert_true(cJSON_IsNull(check_json_at(root, "uncertainty.z.expanded")));
    assert_false(cJSON_IsNull(check_json_at(root, "uncertainty.x.expanded")));
    cJSON_Delete(root);
}

static void an_axis_that_was_not_asked_for_is_absent(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    cJSON *root = report(&result, zero_sample_style());
    assert_false(has(check_json_at(root, "zero"), "y"));
    assert_false(has(check_json_at(root, "uncertainty"), "y"));
    assert_false(has(check_json_at(root, "effective_radius"), "y"));
    assert_false(has(check_json_at(root, "effective_radius"), "z"));
    cJSON_Delete(root);
}

static void what_is_not_known_is_absent(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    cJSON *root = report(&result, zero_sample_style());
    assert_false(has(root, "skew"));
    assert_false(has(root, "fear"));
    cJSON_Delete(root);
    result.axis[TU_AXIS_X].bore = true;
    result.cutter_name[0] = '\0';
    root = report(&result, zero_sample_style());
    assert_false(has(root, "effective_radius"));
    assert_false(has(root, "cutter"));
    cJSON_Delete(root);
}

static void a_bore_tells_its_chord_and_the_cutter_that_it_means(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    cJSON *root = report(&result, zero_sample_style());
    assert_false(has(root, "chord"));
    assert_false(has(root, "implied_diameter"));
    cJSON_Delete(root);
    for (int axis = 0; axis < 2; axis++) {
        result.axis[axis].asked = result.axis[axis].bore = true;
        result.axis[axis].chord_mm = 18.65 + axis;
        result.axis[axis].implied_diameter_mm = axis == 0 ? 6.35 : (double)NAN;
    }
    root = report(&result, zero_sample_style());
    check_same(check_json_number(root, "chord.x"), 18.65, "chord, mm: as given");
    check_same(check_json_number(root, "chord.y"), 19.65, "chord, mm: as given");
    check_same(check_json_number(root, "implied_diameter.x"), 6.35, "diameter, mm: as given");
    assert_false(has(check_json_at(root, "implied_diameter"), "y")); /* no check was possible */
    cJSON_Delete(root);
}

static void a_known_skew_is_in_radians(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    result.skew = (tu_skew){.known = true, .angle_rad = -0.0125};
    cJSON *root = report(&result, zero_sample_style());
    check_same(check_json_number(root, "skew"), -0.0125, "skew, rad: as given");
    cJSON_Delete(root);
}

static void a_fear_leaves_out_what_it_does_not_know(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    result.fear = (tu_fear){.asked = true,
                            .angle_rad = 0.01,
                            .error_mm = {0.5, (double)NAN},
                            .border_mm = {(double)NAN, (double)NAN},
                            .stock_needed_mm = {(double)NAN, (double)NAN}};
    cJSON *root = report(&result, zero_sample_style());
    check_same(check_json_number(root, "fear.angle"), 0.01, "angle, rad: as given");
    check_same(check_json_number(root, "fear.error.x"), 0.5, "error, mm: as given");
    assert_false(has(check_json_at(root, "fear.error"), "y"));
    assert_false(has(check_json_at(root, "fear"), "border"));
    assert_false(has(check_json_at(root, "fear"), "stock_needed"));
    cJSON_Delete(root);
}

static void numbers_stay_millimetres_whatever_the_unit(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = {.unit = TU_UNIT_INCH, .slot = 1};
    cJSON *root = report(&result, style);
    check_same(check_json_number(root, "zero.x"), 109.525, "zero, mm: as given");
    assert_string_equal(text_at(root, "unit"), "mm");
    check_contains(text_at(root, "program[0]"), "G20 G10 L2 P1 X4.31201");
    cJSON_Delete(root);
}

static void numbers_read_back_as_the_same_double(void **state)
{
    (void)state;
    check_random random = check_random_seed(11);
    for (int i = 0; i < 200; i++) {
        tu_zero_result result = zero_sample();
        double value = check_random_normal(&random, 0, 500);
        result.axis[TU_AXIS_X].zero_mm = value;
        cJSON *root = report(&result, zero_sample_style());
        check_same(check_json_number(root, "zero.x"), value, "zero, mm: as given");
        cJSON_Delete(root);
    }
}

static void warnings_stand_in_their_order_and_are_escaped(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_warn(&result.warnings, "plate \"offcut\" \\ ±");
    tu_warn(&result.warnings, "second");
    cJSON *root = report(&result, zero_sample_style());
    assert_string_equal(text_at(root, "warnings[0]"), "plate \"offcut\" \\ ±");
    assert_string_equal(text_at(root, "warnings[1]"), "second");
    cJSON_Delete(root);
}

static void a_write_that_fails_is_reported(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    tu_error error = {0};
    FILE *full = fopen("/dev/full", "w");
    assert_non_null(full);
    check_status(tu_report_zero_json(full, &result, &style, &error), TU_SYSTEM_IO, &error);
    fclose(full);
}

static void an_answer_that_finds_no_room_is_told(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    char *room = zero_written(tu_report_zero_json, &result, &style);
    size_t whole = strlen(room);
    for (size_t size = 1; size <= whole; size++) {
        FILE *out = fmemopen(room, size, "w");
        setvbuf(out, NULL, _IONBF, 0);
        tu_status status = tu_report_zero_json(out, &result, &style, NULL);
        assert_int_equal(status, size < whole ? TU_SYSTEM_IO : TU_OK);
        fclose(out);
    }
    free(room);
}

static void a_decimal_comma_locale_changes_nothing(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    char *plain = zero_written(tu_report_zero_json, &result, &style);
    if (!check_enter_comma_locale()) {
        free(plain);
        skip();
    }
    char *comma = zero_written(tu_report_zero_json, &result, &style);
    assert_string_equal(comma, plain);
    free(plain);
    free(comma);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_keys_that_other_programs_rely_on_are_there),
        cmocka_unit_test(infinite_degrees_of_freedom_are_null),
        cmocka_unit_test(an_uncertainty_with_nothing_to_judge_by_is_null),
        cmocka_unit_test(an_axis_that_was_not_asked_for_is_absent),
        cmocka_unit_test(what_is_not_known_is_absent),
        cmocka_unit_test(a_bore_tells_its_chord_and_the_cutter_that_it_means),
        cmocka_unit_test(a_known_skew_is_in_radians),
        cmocka_unit_test(a_fear_leaves_out_what_it_does_not_know),
        cmocka_unit_test(numbers_stay_millimetres_whatever_the_unit),
        cmocka_unit_test(numbers_read_back_as_the_same_double),
        cmocka_unit_test(warnings_stand_in_their_order_and_are_escaped),
        cmocka_unit_test(a_write_that_fails_is_reported),
        cmocka_unit_test(an_answer_that_finds_no_room_is_told),
        cmocka_unit_test_teardown(a_decimal_comma_locale_changes_nothing, check_plain_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
