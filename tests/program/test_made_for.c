/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_made_for.c - the sizes in a program's head: written by tu_plan_write_*, read back, compared
 * with the scene. Figures by hand from those of sample_plan.h and sample_scene.h, which are alike.
 */
#include "check.h"

#include "program/made_for.h"
#include "sample_plan.h"
#include "sample_scene.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static sample_plan p;
static sample_run run;
static tu_made_for made;

static tu_status read_text(const char *text, tu_error *error)
{
    return tu_made_for_read(text, strlen(text), &made, error);
}

static void plan_it(sample_kind kind)
{
    sample_plan_good(&p, kind);
}

static void start(void)
{
    sample_plan_start(&p);
    sample_scene_start(&run.scene);
    p.style.height_mm[1] = 14.0; /* the sample scene starts 12.47 above the face */
    p.style.window_mm = 1.0;
    p.style.repeats = 1;
}

/* Rehearses the planned program from the middle of its window. */
static void rehearse_it(void)
{
    run.scene.start.x = 200.0 + p.summary.start_mm[0];
    run.scene.start.y = 150.0 + p.summary.start_mm[1];
    run.scene.start.z =
        -100.0 + run.scene.stock_size_mm[2] + run.scene.plate.thickness.value_mm + 5;
    check_status(sample_rehearse(&run, p.program), TU_OK, &run.error);
}

/* --- The form --- */

static void what_a_plan_writes_is_read_back(void **state)
{
    (void)state;
    start();
    p.plate.wall[0].offset = tu_quantity_mm(6.35, 0.02);
    p.corner.stock_thickness = tu_quantity_mm(18, 0.1);
    plan_it(SAMPLE_CORNER);
    check_status(read_text(p.program, NULL), TU_OK, NULL);
    assert_true(made.stated);
    assert_int_equal(made.line, 2);
    assert_int_equal(made.unit, TU_UNIT_MM);
    assert_int_equal(made.corner.outward[TU_AXIS_X], -1);
    assert_int_equal(made.corner.outward[TU_AXIS_Y], -1);
    assert_int_equal(made.seat, TU_SEAT_STOCK);
    assert_true(made.has_shape && made.shape == TU_CUTTER_FLAT);
    check_close(made.size[TU_MADE_FOR_PLATE].value_mm, 9.53, 1e-12, "plate, mm");
    check_nan(made.size[TU_MADE_FOR_PLATE].tolerance_mm, "plate, tolerance");
    check_close(made.size[TU_MADE_FOR_WALL_A].value_mm, 6.35, 1e-12, "wall a, mm");
    check_close(made.size[TU_MADE_FOR_WALL_A].tolerance_mm, 0.02, 1e-12, "wall a, mm");
    check_close(made.size[TU_MADE_FOR_WALL_B].value_mm, 6.40, 1e-12, "wall b, mm");
    check_close(made.size[TU_MADE_FOR_CUTTER].value_mm, 6.35, 1e-12, "cutter, mm");
    check_close(made.size[TU_MADE_FOR_STOCK].value_mm, 18, 1e-12, "stock, mm");
    check_nan(made.size[TU_MADE_FOR_BORE].value_mm, "bore");
    check_close(made.rounding_mm[TU_MADE_FOR_PLATE], 0.0005, 1e-12, "half a digit, mm");
    sample_plan_end(&p);
}

static void an_inch_plan_is_read_back_in_inches(void **state)
{
    (void)state;
    start();
    p.style.unit = TU_UNIT_INCH;
    p.corner.target.outward[0] = +1;
    sample_plan_bore(&p, 25.4);
    p.cutter.shape = TU_CUTTER_VEE;
    p.cutter.included_rad = M_PI / 3;
    p.cutter.tip = tu_quantity_exact(0.254);
    plan_it(SAMPLE_CORNER);
    check_status(read_text(p.program, NULL), TU_OK, NULL);
    assert_int_equal(made.unit, TU_UNIT_INCH);
    assert_int_equal(made.corner.outward[TU_AXIS_X], 1);
    check_close(made.size[TU_MADE_FOR_BORE].value_mm, 25.4, 1e-12, "bore, mm");
    /* -20 mm is -0.7874 in, -19.99996 mm */
    check_close(made.size[TU_MADE_FOR_BORE_B].value_mm, -19.99996, 1e-9, "bore centre b, mm");
    check_close(made.included_rad, M_PI / 3, 1e-12, "vee, rad");
    check_close(made.size[TU_MADE_FOR_CUTTER_TIP].value_mm, 0.254, 1e-12, "tip, mm");
    check_close(made.rounding_mm[TU_MADE_FOR_BORE], 0.00127, 1e-12, "half a digit, mm");
    sample_plan_end(&p);
}

static void every_kind_of_plan_is_read(void **state)
{
    (void)state;
    const sample_kind kinds[] = {SAMPLE_CORNER, SAMPLE_SURFACE, SAMPLE_GRID, SAMPLE_TRIALS};
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        tu_error error = {0};
        start();
        plan_it(kinds[i]);
        check_status(read_text(p.program, &error), TU_OK, &error);
        assert_true(made.stated == (kinds[i] != SAMPLE_GRID)); /* heights of any cutter are alike */
        sample_plan_end(&p);
    }
}

static void the_longest_head_still_fits(void **state)
{
    (void)state;
    tu_quantity longest = tu_quantity_mm(-99999.999, 99999.999);
    made = tu_made_for_start(TU_UNIT_MM);
    for (int i = 0; i < TU_MADE_FOR_SIZES; i++)
        made.size[i] = longest;
    made.corner.outward[0] = made.corner.outward[1] = 1;
    made.has_shape = true;
    made.shape = TU_CUTTER_BALL;
    made.included_rad = 2;
    char text[sizeof p.summary.made_for];
    tu_made_for_write(&made, text, sizeof text);
    assert_true(strlen(text) > 300);
    char small[40];
    tu_made_for_write(&made, small, sizeof small);
    assert_string_equal(small, "");
}

#define TITLE "(trueup: touches for top, plate p)\n"

static void a_program_without_such_a_head_says_nothing(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "", "G21\nM2\n", "(touches of mine)\n(MADE FOR Anna)\nM2\n", TITLE "G21\nM2\n",
        /* after the first block it is no head any more */
        TITLE "G21\n(MADE FOR plate thickness 1 mm. Check them with a caliper.)\nM2\n"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        check_status(read_text(texts[i], NULL), TU_OK, NULL);
        assert_false(made.stated);
        assert_int_equal(made.line, 0);
    }
}

static void line_ends_blank_lines_and_a_percent_sign_do_not_matter(void **state)
{
    (void)state;
    check_status(read_text("%\r\n\r\n(mine)\r\n  (trueup: touches for top, plate p) \r\n"
                           "(MADE FOR plate thickness 9.5)\r\n(   mm. Check them with a caliper.)"
                           "\r\nM2\r\n%\r\n",
                           NULL),
                 TU_DATA_SYNTAX, NULL); /* a blank too many is not the form */
    check_status(read_text("%\r\n\r\n(mine)\r\n  (trueup: touches for top, plate p) \r\n"
                           "(MADE FOR plate thickness 9.5)\r\n(  mm. Check them with a caliper.)"
                           "\r\nM2\r\n%\r\n",
                           NULL),
                 TU_OK, NULL);
    assert_int_equal(made.line, 5);
    check_close(made.size[TU_MADE_FOR_PLATE].value_mm, 9.5, 1e-12, "plate, mm");
    check_close(made.rounding_mm[TU_MADE_FOR_PLATE], 0.05, 1e-12, "half of the printed digit, mm");
}

static void a_head_that_cannot_be_read_is_said(void **state)
{
    (void)state;
    static const char *const lists[] = {
        "plate thickness 9,53 mm. Check them with a caliper.", /* a decimal comma */
        "plate thickness 9.53. Check them with a caliper.",
        "plate thickness 9.53 cm. Check them with a caliper.",
        "plate thickness nan mm. Check them with a caliper.",
        "plate thickness 1e3 mm. Check them with a caliper.",
        "plate thickness 999999 mm. Check them with a caliper.",
        "plate thickness 9.5300000000 mm. Check them with a caliper.", /* nobody prints so many */
        "plate thickness 9.53+--0.02 mm. Check them with a caliper.",
        "plate thickness 9.53 mm",
        "plate thickness 9.53 mm, . Check them with a caliper.",
        "plate thickness 9.53 mm, plate thickness 9.53 mm. Check them with a caliper.",
        "plate thickness 9.53 mm, cutter 0.25 in. Check them with a caliper.",
        "plate on chair at front-left. Check them with a caliper.",
        "plate on bed at front. Check them with a caliper.",
        "cutter shape round. Check them with a caliper.",
        "cutter angle 180 deg. Check them with a caliper.",
        "wall c at 6 mm. Check them with a caliper.",
        ""};
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        char text[300];
        tu_error error = {0};
        snprintf(text, sizeof text, TITLE "(MADE FOR %s)\nM2\n", lists[i]);
        if (read_text(text, &error) != TU_DATA_SYNTAX)
            fail_msg("read: %s", lists[i]);
        assert_string_equal(error.where, "line 2");
        assert_false(made.stated);
    }
    sample_scene_start(&run.scene);
    sample_rehearse_clean(&run, TITLE "(MADE FOR measure)\nM2\n");
    assert_int_equal(run.result.warnings.count, 1);
    check_contains(run.result.warnings.text[0], "cannot be read at \"measure\"");
    assert_int_equal(run.result.mismatch_count, 0);
}

/* --- Against the scene --- */

static void a_scene_as_planned_is_clean(void **state)
{
    (void)state;
    for (int inch = 0; inch < 2; inch++) {
        start();
        p.style.unit = inch ? TU_UNIT_INCH : TU_UNIT_MM;
        p.corner.stock_thickness = tu_quantity_exact(18);
        plan_it(SAMPLE_CORNER);
        rehearse_it();
        assert_string_equal(run.result.text, "");
        assert_int_equal(run.result.mismatch_count, 0);
        assert_int_equal(run.result.warnings.count, 0);
        sample_plan_end(&p);
    }
}

static void within_tolerance_and_rounding_nothing_differs(void **state)
{
    (void)state;
    start();
    p.plate.thickness = tu_quantity_mm(9.53, 0.02);
    plan_it(SAMPLE_CORNER);
    run.scene.plate.thickness.value_mm = 9.5502;
    run.scene.cutter.diameter.value_mm = 6.3504;
    rehearse_it();
    assert_int_equal(run.result.mismatch_count, 0);
    run.scene.plate.thickness.value_mm = 9.552;
    run.scene.cutter.diameter.value_mm = 6.351;
    rehearse_it();
    assert_int_equal(run.result.mismatch_count, 2);
    sample_plan_end(&p);
}

static void check_only(const char *what, double planned_mm, double found_mm, const char *part)
{
    assert_int_equal(run.result.mismatch_count, 1);
    const tu_mismatch *mismatch = &run.result.mismatch[0];
    assert_string_equal(mismatch->what, what);
    check_contains(mismatch->text, part);
    if (isnan(planned_mm))
        check_nan(mismatch->made_for_mm, "made for");
    else
        check_close(mismatch->made_for_mm, planned_mm, 1e-9, "made for, mm");
    if (isnan(found_mm))
        check_nan(mismatch->found_mm, "found");
    else
        check_close(mismatch->found_mm, found_mm, 1e-9, "found, mm");
}

/* (8 - 6.35) / 2 = 0.825 */
static void another_cutter_is_told_with_what_it_does(void **state)
{
    (void)state;
    start();
    plan_it(SAMPLE_CORNER);
    run.scene.cutter.diameter.value_mm = 8;
    rehearse_it();
    assert_int_equal(run.result.fault, TU_FAULT_NONE);
    check_only("cutter", 6.35, 8,
               "the program is made for a cutter of 6.350 mm; the one in the scene is 8.000 mm: X "
               "and Y would be 0.825 mm off");
    sample_plan_end(&p);
}

/* What it says is what the touches are off by. */
static void the_stated_effect_is_what_the_touches_are_off_by(void **state)
{
    (void)state;
    double x[2] = {0, 0};
    start();
    plan_it(SAMPLE_CORNER);
    for (int i = 0; i < 2; i++) {
        run.scene.cutter.diameter.value_mm = i == 0 ? 6.35 : 8;
        rehearse_it();
        for (size_t h = 0; h < run.hits; h++)
            x[i] = run.hit[h].axis == TU_AXIS_X ? run.hit[h].position.x : x[i];
    }
    check_close(fabs(x[1] - x[0]), 0.825, 1e-6, "X, mm");
    sample_plan_end(&p);
}

static void other_sizes_are_told_each(void **state)
{
    (void)state;
    start();
    p.corner.stock_thickness = tu_quantity_exact(18);
    plan_it(SAMPLE_CORNER);
    run.scene.plate.thickness.value_mm = 10;
    rehearse_it();
    check_only("plate", 9.53, 10, "Z would be 0.470 mm off");
    run.scene.plate.thickness.value_mm = 9.53;
    run.scene.plate.wall[1].offset.value_mm = 7;
    rehearse_it();
    check_only("wall_b", 6.4, 7, "Y would be 0.600 mm off");
    run.scene.plate.wall[1].offset.value_mm = 6.4;
    run.scene.stock_size_mm[2] = 25;
    rehearse_it();
    check_only("stock", 18, 25, "7.000 mm off");
    run.scene.stock_size_mm[2] = 18;
    run.scene.cutter.shape = TU_CUTTER_BALL;
    rehearse_it();
    check_only("cutter_shape", NAN, NAN, "made for a flat cutter; in the scene it is a ball");
    sample_plan_end(&p);
}

static void exchanged_walls_are_told_as_a_plate_turned_wrong(void **state)
{
    (void)state;
    start();
    plan_it(SAMPLE_CORNER);
    run.scene.plate.wall[0].offset.value_mm = 6.40;
    run.scene.plate.wall[1].offset.value_mm = 6.35;
    rehearse_it();
    assert_int_equal(run.result.fault, TU_FAULT_NONE);
    check_only("walls", NAN, NAN, "turned wrong and slid back against the edges");
    check_contains(run.result.mismatch[0].text, "X and Y would be 0.050 mm off");
    sample_plan_end(&p);
}

static bool told(const char *what)
{
    for (size_t i = 0; i < run.result.mismatch_count; i++)
        if (!strcmp(run.result.mismatch[i].what, what))
            return true;
    return false;
}

static void a_plate_elsewhere_is_told_beside_the_fault(void **state)
{
    (void)state;
    start();
    plan_it(SAMPLE_CORNER);
    sample_scene_lay(&run.scene, "back-left-top");
    rehearse_it();
    assert_true(run.result.fault != TU_FAULT_NONE);
    assert_true(told("plate_corner"));
    sample_scene_lay(&run.scene, "front-left-top");
    run.scene.wrong_turns = 1;
    rehearse_it();
    assert_true(told("plate_turned"));
    run.scene.wrong_turns = 0;
    run.scene.plate_present = false;
    rehearse_it();
    check_only("plate", 9.53, NAN, "none lies in the scene");
    sample_plan_end(&p);
}

static void a_bore_instead_of_walls_is_told(void **state)
{
    (void)state;
    start();
    sample_plan_bore(&p, 26);
    plan_it(SAMPLE_CORNER);
    rehearse_it();
    assert_true(told("bore"));
    run.scene.plate = p.plate;
    run.scene.plate.bore.diameter.value_mm = 26.5;
    run.scene.plate.bore.centre[0].value_mm = -20.2;
    rehearse_it();
    assert_int_equal(run.result.mismatch_count, 2);
    assert_true(told("bore") && told("bore_a"));
    check_contains(run.result.mismatch[1].text, "X would be 0.200 mm off");
    sample_plan_end(&p);
}

/* In the window at its very end, and 0.01 beyond. The window: 1 about the middle, 2 to 14 above. */
static void a_start_outside_the_window_is_told_though_it_runs_well(void **state)
{
    (void)state;
    static const char *const names[] = {"start_x", "start_y", "start_z"};
    start();
    plan_it(SAMPLE_CORNER);
    for (int axis = 0; axis < 6; axis++) {
        for (int outside = 0; outside < 2; outside++) {
            double off = (axis < 3 ? 1 : -1) * (axis % 3 == 2 ? 6.0 : 1.0);
            off += (axis < 3 ? 0.01 : -0.01) * outside;
            run.scene.start.x = 200.0 + p.summary.start_mm[0] + (axis % 3 == 0 ? off : 0);
            run.scene.start.y = 150.0 + p.summary.start_mm[1] + (axis % 3 == 1 ? off : 0);
            run.scene.start.z = -72.47 + 8 + (axis % 3 == 2 ? off : 0);
            check_status(sample_rehearse(&run, p.program), TU_OK, &run.error);
            assert_string_equal(run.result.text, "");
            if (outside)
                assert_true(run.result.mismatch_count == 1 && told(names[axis % 3]));
            else
                assert_int_equal(run.result.mismatch_count, 0);
        }
    }
    sample_plan_end(&p);
}

/* The head stays as it was planned, and somebody changes the unit below it. */
static void a_changed_unit_is_told(void **state)
{
    (void)state;
    start();
    plan_it(SAMPLE_SURFACE);
    char *unit = strstr(p.program, "G21 G80");
    assert_non_null(unit);
    unit[2] = '0';
    check_status(sample_rehearse(&run, p.program), TU_OK, &run.error);
    assert_true(told("unit"));
    sample_plan_end(&p);
}

static void a_comma_locale_changes_nothing(void **state)
{
    (void)state;
    check_comma_locale();
    a_scene_as_planned_is_clean(state);
    another_cutter_is_told_with_what_it_does(state);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_a_plan_writes_is_read_back),
        cmocka_unit_test(an_inch_plan_is_read_back_in_inches),
        cmocka_unit_test(every_kind_of_plan_is_read),
        cmocka_unit_test(the_longest_head_still_fits),
        cmocka_unit_test(a_program_without_such_a_head_says_nothing),
        cmocka_unit_test(line_ends_blank_lines_and_a_percent_sign_do_not_matter),
        cmocka_unit_test(a_head_that_cannot_be_read_is_said),
        cmocka_unit_test(a_scene_as_planned_is_clean),
        cmocka_unit_test(within_tolerance_and_rounding_nothing_differs),
        cmocka_unit_test(another_cutter_is_told_with_what_it_does),
        cmocka_unit_test(the_stated_effect_is_what_the_touches_are_off_by),
        cmocka_unit_test(other_sizes_are_told_each),
        cmocka_unit_test(exchanged_walls_are_told_as_a_plate_turned_wrong),
        cmocka_unit_test(a_plate_elsewhere_is_told_beside_the_fault),
        cmocka_unit_test(a_bore_instead_of_walls_is_told),
        cmocka_unit_test(a_start_outside_the_window_is_told_though_it_runs_well),
        cmocka_unit_test(a_changed_unit_is_told),
        cmocka_unit_test_teardown(a_comma_locale_changes_nothing, check_plain_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
