/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_zero_text.c - a zero as text, from result structs made by hand.
 */
#include "check.h"

#include "zero_sample.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static char *written(const tu_zero_result *result, const tu_zero_style *style)
{
    return zero_written(tu_report_zero_text, result, style);
}

static void check_text(const tu_zero_result *result, tu_zero_style style, const char *part)
{
    char *text = written(result, &style);
    check_contains(text, part);
    free(text);
}

static void check_no_text(const tu_zero_result *result, tu_zero_style style, const char *part)
{
    char *text = written(result, &style);
    check_lacks(text, part);
    free(text);
}

static void the_answer_stands_first(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    char *text = written(&result, &style);
    /* u = 0.005, dof = 2 (0.005/0.003)^4 = 15.43, t = 2.13: 0.0107, rounded up 0.011 */
    const char start[] = "Zero at front-left-top, machine coordinates in mm:\n\n"
                         "  X     109.525 ± 0.011   (k = 2.13)\n"
                         "  Z     -49.650 ± unknown\n";
    assert_int_equal(strncmp(text, start, strlen(start)), 0);
    free(text);
}

static void inches_are_named_and_have_4_decimals(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    result.axis[TU_AXIS_X].zero_mm = 101.6;
    tu_zero_style style = {.unit = TU_UNIT_INCH, .slot = 1};
    check_text(&result, style, "machine coordinates in inches");
    /* t(0.975; 15.43) 0.005 mm = 0.01063 mm = 0.000419 in */
    check_text(&result, style, "  X      4.0000 ± 0.00042");
    check_text(&result, style, "leaves the controller in inches (G20)");
}

static void an_unknown_uncertainty_is_not_zero(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    check_text(&result, zero_sample_style(), "± unknown: no repeats and no tolerances");
    check_no_text(&result, zero_sample_style(), "± 0.000");
}

static void repeatability_that_was_left_out_is_said(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    check_no_text(&result, zero_sample_style(), "Not counted");
    tu_uncertainty *budget = &result.axis[TU_AXIS_X].uncertainty;
    *budget = (tu_uncertainty){0};
    tu_budget_add(budget, "wall offset", 0.004, (double)INFINITY);
    tu_budget_close(budget, 0.95);
    check_text(&result, zero_sample_style(), "how well touches of X repeat");
}

/* A terminal beside a machine is often no wider. */
static void lines_fit_80_columns(void **state)
{
    (void)state;
    for (int unit = TU_UNIT_MM; unit <= TU_UNIT_INCH; unit++) {
        tu_zero_result result = zero_sample();
        tu_zero_style style = {.unit = (tu_unit)unit, .slot = 8, .budget = true, .explain = true};
        result.axis[TU_AXIS_Y] = result.axis[TU_AXIS_X];
        result.active = true;
        char *text = written(&result, &style);
        for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
            size_t columns = 0;
            for (const char *c = line; *c; c++)
                columns += (*c & 0xc0) != 0x80; /* not a byte that continues a character */
            if (columns > 80)
                fail_msg("%zu columns: %s", columns, line);
        }
        free(text);
    }
}

static void warnings_are_counted_for_whoever_does_not_see_them(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    check_no_text(&result, zero_sample_style(), "warning");
    tu_warn(&result.warnings, "X was touched once");
    check_text(&result, zero_sample_style(), "There is 1 warning: read it first.\n");
    tu_warn(&result.warnings, "Y was touched once");
    check_text(&result, zero_sample_style(), "There are 2 warnings: read them first.\n");
}

static void the_line_to_enter_names_its_slot(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = {.slot = 8};
    check_text(&result, style, "To enter (sets G59.2):\n\n  G21 G10 L2 P8 X109.5250 Z-49.6500\n");
}

/* The cutter travels against the normal n = s f of the face. */
static void the_travel_is_told_by_side_and_facing(void **state)
{
    (void)state;
    static const struct {
        int outward;
        tu_facing facing;
        const char *text;
    } cases[] = {
        {-1, TU_FACES_OUTWARD, "X: wall b at the left edge, touched moving X+"},
        {+1, TU_FACES_OUTWARD, "X: wall b at the right edge, touched moving X-"},
        {-1, TU_FACES_INWARD, "X: wall b at the left edge, touched moving X-"},
        {+1, TU_FACES_INWARD, "X: wall b at the right edge, touched moving X+"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tu_zero_result result = zero_sample();
        result.axis[TU_AXIS_X].wall = 1;
        result.axis[TU_AXIS_X].outward = cases[i].outward;
        result.axis[TU_AXIS_X].facing = cases[i].facing;
        check_text(&result, zero_sample_style(), cases[i].text);
    }
}

static void the_checks_fit_what_was_done(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    check_text(&result, zero_sample_style(), "Cutter quarter (6.350 mm) made every touch and has");
    check_text(&result, zero_sample_style(), "Plate offcut lay flat on the stock");
    check_text(&result, zero_sample_style(), "spindle is off and cannot start");
    check_text(&result, zero_sample_style(), "Plate and clip are off the machine");
    check_text(&result, zero_sample_style(), "manual");
    check_no_text(&result, zero_sample_style(), "given as active");
    check_text(&result, zero_sample_style(), "go to X0 of G54");
    result.active = true;
    result.seat = TU_SEAT_BED;
    result.axis[TU_AXIS_X].asked = false;
    check_text(&result, zero_sample_style(), "given as active was active");
    check_text(&result, zero_sample_style(), "Plate offcut lay flat on the bed");
    check_text(&result, zero_sample_style(), "Go to Z0 of G54 slowly from high above");
    check_no_text(&result, zero_sample_style(), "snug");
}

static void a_bore_tells_where_its_centre_lies(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    result.axis[TU_AXIS_X].bore = true;
    result.axis[TU_AXIS_X].offset_mm = -20;
    check_text(&result, zero_sample_style(), "bore's centre 20.000 mm inside the left edge");
    result.axis[TU_AXIS_X].offset_mm = 15;
    check_text(&result, zero_sample_style(), "bore's centre 15.000 mm outside the left edge");
}

static void a_turned_stock_warns_that_the_job_does_not_turn(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    result.skew = (tu_skew){.known = true, .angle_rad = -0.01, .baseline_mm = 150};
    /* 0.01 rad = 0.573 degrees, tan 0.01 = 0.0100003 */
    check_text(&result, zero_sample_style(),
               "turned by 0.573 degrees (clockwise, seen from above, 10.00 mm per metre)");
    check_text(&result, zero_sample_style(), "the job still runs along the machine's axes");
    result.skew.angle_rad = 0.01;
    check_text(&result, zero_sample_style(), "(counter-clockwise, seen from above");
}

static void a_feared_angle_tells_its_error_or_what_is_missing(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    result.fear = (tu_fear){.asked = true,
                            .angle_rad = M_PI / 180,
                            .error_mm = {1.2344, (double)NAN},
                            .border_mm = {1.5, 2.5},
                            .stock_needed_mm = {200.25, 100.75}};
    check_text(&result, zero_sample_style(),
               "turned by 1.000 degrees (mm):\n"
               "  X would be wrong by up to 1.234\n"
               "  the job must begin 1.500 from the left edge and "
               "2.500 from the front edge,\n"
               "  on stock of at least 200.250 x 100.750\n");
    result.fear.error_mm[0] = (double)NAN;
    check_text(&result, zero_sample_style(),
               "X: not known how wrong; name a corner and touch both");
    result.axis[TU_AXIS_Y] = result.axis[TU_AXIS_X];
    check_text(&result, zero_sample_style(), "X: not known how wrong; give Y at contact too");
    result.fear.border_mm[0] = (double)NAN;
    check_no_text(&result, zero_sample_style(), "the job must begin");
}

static void the_budget_is_shown_when_asked_for(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    check_no_text(&result, style, "Uncertainty of X");
    style.budget = true;
    /* shares: 0.003^2 and 0.004^2 over 0.005^2 */
    check_text(&result, style,
               "touches                             0.00300        2  36.0 %\n"
               "  wall offset                         0.00400      inf  64.0 %\n"
               "  combined                            0.00500     15.4\n");
    check_text(&result, style, "Uncertainty of Z (mm)");
}

static void the_explanation_is_shown_when_asked_for(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    check_no_text(&result, style, "The arithmetic");
    style.explain = true;
    check_text(&result, style,
               "  X = P - s*o - s*f*r\n"
               "    = 100.0000 - (-1)*6.3500 - (-1)*(+1)*3.1750\n"
               "    = 109.5250\n");
    check_text(&result, style, "  Z = P - t\n    = -40.1200 - 9.5300\n    = -49.6500\n");
}

static void a_write_that_fails_is_reported(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = zero_sample_style();
    tu_error error = {0};
    FILE *full = fopen("/dev/full", "w");
    assert_non_null(full);
    check_status(tu_report_zero_text(full, &result, &style, &error), TU_SYSTEM_IO, &error);
    check_contains(error.message, "No space left on device");
    fclose(full);
}

static void a_decimal_comma_locale_changes_nothing(void **state)
{
    (void)state;
    tu_zero_result result = zero_sample();
    tu_zero_style style = {.slot = 1, .budget = true, .explain = true};
    char *plain = written(&result, &style);
    if (!check_enter_comma_locale()) {
        free(plain);
        skip();
    }
    char *comma = written(&result, &style);
    assert_string_equal(comma, plain);
    free(plain);
    free(comma);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_answer_stands_first),
        cmocka_unit_test(inches_are_named_and_have_4_decimals),
        cmocka_unit_test(an_unknown_uncertainty_is_not_zero),
        cmocka_unit_test(repeatability_that_was_left_out_is_said),
        cmocka_unit_test(lines_fit_80_columns),
        cmocka_unit_test(warnings_are_counted_for_whoever_does_not_see_them),
        cmocka_unit_test(the_line_to_enter_names_its_slot),
        cmocka_unit_test(the_travel_is_told_by_side_and_facing),
        cmocka_unit_test(the_checks_fit_what_was_done),
        cmocka_unit_test(a_bore_tells_where_its_centre_lies),
        cmocka_unit_test(a_turned_stock_warns_that_the_job_does_not_turn),
        cmocka_unit_test(a_feared_angle_tells_its_error_or_what_is_missing),
        cmocka_unit_test(the_budget_is_shown_when_asked_for),
        cmocka_unit_test(the_explanation_is_shown_when_asked_for),
        cmocka_unit_test(a_write_that_fails_is_reported),
        cmocka_unit_test_teardown(a_decimal_comma_locale_changes_nothing, check_plain_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
