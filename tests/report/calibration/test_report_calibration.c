/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_calibration.c - a calibration as text and as JSON says what the result holds, in both
 * units, and a write that fails is told. Whole answers are held by the golden runs of tests/cli.
 */
#include "plate_bench.h"
#include "trueup/report.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bench on;

/* Plate and bare block along X, the plate along Y: wall a is settled, wall b is not. */
static void solve_in_part(void)
{
    bench_start(&on, 21);
    on.noise_mm = 0.003;
    bench_state_block(&on, 0.01);
    for (const char *edge = "lr"; *edge != '\0'; edge++) {
        bench_touch(&on, *edge, 'a', 0, 3);
        bench_touch(&on, *edge, '-', 0, 3);
    }
    bench_touch(&on, 'f', 'b', 1, 3);
    bench_touch(&on, 'k', 'b', 1, 3);
    check_status(bench_solve(&on), TU_OK, &on.error);
    assert_false(on.result.determined);
}

static char *text_of(const tu_calibration_style *style, bool json)
{
    char *text = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&text, &length);
    assert_non_null(out);
    tu_error error = {0};
    tu_status status =
        json ? tu_report_calibration_json(out, &on.request, &on.result, style, &error)
             : tu_report_calibration_text(out, &on.request, &on.result, style, &error);
    fclose(out);
    check_status(status, TU_OK, &error);
    return text;
}

static void json_holds_each_figure_as_the_result_does(void **state)
{
    (void)state;
    solve_in_part();
    const tu_calibration_style style = {.unit = TU_UNIT_INCH}; /* no matter: always millimetres */
    char *text = text_of(&style, true);
    cJSON *root = cJSON_Parse(text);
    assert_non_null(root);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(root, "figures")),
                     (int)on.result.count);
    assert_true(cJSON_IsFalse(cJSON_GetObjectItem(root, "determined")));
    for (size_t k = 0; k < on.result.count; k++) {
        const tu_calibrated *figure = &on.result.figure[k];
        const cJSON *item = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "figures"), (int)k);
        const cJSON *value = cJSON_GetObjectItem(item, "value");
        if (!figure->determined) {
            assert_true(cJSON_IsNull(value));
            assert_null(cJSON_GetObjectItem(item, "uncertainty"));
            continue;
        }
        check_same(value->valuedouble, figure->value_mm, "value, mm");
        const cJSON *u = cJSON_GetObjectItem(item, "uncertainty");
        check_same(cJSON_GetObjectItem(u, "expanded")->valuedouble, figure->uncertainty.expanded_mm,
                   "U, mm");
        assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(u, "budget")),
                         (int)figure->uncertainty.count);
    }
    check_same(check_json_number(root, "misfit.p"), on.result.misfit_p, "p");
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(root, "advice")),
                     (int)on.result.advice_count);
    cJSON_Delete(root);
    free(text);
}

static void text_tells_what_is_known_what_is_not_and_what_settles_it(void **state)
{
    (void)state;
    solve_in_part();
    const tu_calibration_style style = {.unit = TU_UNIT_MM, .budget = true};
    char *text = text_of(&style, false);
    const char *known = strstr(text, "offset of wall a");
    const char *open = strstr(text, "Not determined by these touches:\n  offset of wall b");
    const char *advice = strstr(text, "1. offset of wall b: touch the front edge");
    const char *budget = strstr(text, "Uncertainty of offset of wall a (mm):");
    assert_true(known != NULL && open != NULL && advice != NULL && budget != NULL);
    assert_true(known < open && open < advice && advice < budget);
    check_contains(text, "offset of wall b plus radius of eighth is known; apart they are not");
    free(text);
}

static void text_in_inches_shows_the_same_lengths_in_inches(void **state)
{
    (void)state;
    solve_in_part();
    const tu_calibration_style style = {.unit = TU_UNIT_INCH};
    char *text = text_of(&style, false);
    char expected[64];
    double value = bench_figure(&on, TU_CALIBRATED_WALL, 0, -1)->value_mm / 25.4;
    snprintf(expected, sizeof expected, " %.5f ±", value);
    check_contains(text, expected);
    check_contains(text, "\n  in ");
    free(text);
}

static void a_full_disk_is_told(void **state)
{
    (void)state;
    solve_in_part();
    for (int json = 0; json < 2; json++) {
        FILE *full = fopen("/dev/full", "w");
        if (full == NULL)
            skip();
        tu_error error = {0};
        const tu_calibration_style style = {.unit = TU_UNIT_MM};
        tu_status status =
            json ? tu_report_calibration_json(full, &on.request, &on.result, &style, &error)
                 : tu_report_calibration_text(full, &on.request, &on.result, &style, &error);
        fclose(full);
        check_status(status, TU_SYSTEM_IO, NULL);
        check_contains(error.message, "the answer cannot be written: No space left on device");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(json_holds_each_figure_as_the_result_does),
        cmocka_unit_test(text_tells_what_is_known_what_is_not_and_what_settles_it),
        cmocka_unit_test(text_in_inches_shows_the_same_lengths_in_inches),
        cmocka_unit_test(a_full_disk_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
