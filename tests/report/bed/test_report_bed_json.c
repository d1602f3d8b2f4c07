/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_bed_json.c - numbers of a bed's JSON in a locale that writes a comma.
 */
#include "check.h"

#include "trueup/report_bed.h"

#include <stdio.h>
#include <stdlib.h>

/* All that is a number in an array of its own: the others go in by their key. */
static char *written(void)
{
    static tu_bed_point point[4] = {
        {0.5, 0.25, 0.125}, {400.5, 0.25, 0.5}, {0.5, 300.25, 0.25}, {400.5, 300.25, 0.75}};
    tu_bed_answer answer = {
        .name = "bed.csv", .judged = point, .judged_count = 4, .inflated = true};
    answer.places = (tu_bed_places){.point = point, .count = 4};
    answer.zone = (tu_bed_zone){.FLTt_mm = 0.25, .normal = {0.0625, 0.03125, 0.9973}};
    answer.sd_mm = 0.0125;
    answer.inflation = (tu_inflation){.low_mm = 0.21, .high_mm = 0.29};
    char *text = NULL;
    size_t length;
    FILE *out = open_memstream(&text, &length);
    tu_error error;
    check_status(tu_report_bed_json(out, &answer, &error), TU_OK, &error);
    fclose(out);
    return text;
}

static void a_decimal_comma_locale_changes_nothing(void **state)
{
    (void)state;
    char *plain = written();
    check_contains(plain, "0.9973");
    check_contains(plain, "0.29");
    check_comma_locale();
    char *comma = written();
    assert_string_equal(comma, plain);
    free(plain);
    free(comma);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(a_decimal_comma_locale_changes_nothing, check_plain_locale),
    };
    return cmocka_run_group_tests_name("report_bed_json", tests, NULL, NULL);
}
