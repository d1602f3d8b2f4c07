/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_place.c - where a program starts, and which plates, cutters and machines it refuses.
 * Expected places are worked out by hand beside each.
 */
#include "plan_case.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void refused(tu_status status, const char *where, const char *part)
{
    sample_plan_refused(&p, SAMPLE_CORNER, status, where, part);
}

static void state_extent(int wall, double from, double to)
{
    p.plate.extent[wall][0] = tu_quantity_exact(from);
    p.plate.extent[wall][1] = tu_quantity_exact(to);
}

/* --- Where it starts --- */

static void a_side_of_the_plate_is_started_within_it(void **unused)
{
    (void)unused;
    /* 4 inside, 3 window, 0.1 allowance, and what 1 degree does over some 5 mm, 0.1: 7.5 from a
     * face that stands 6.35 (6.40) outside the left (front) edge, at -6.35. */
    sample_plan_good(&p, SAMPLE_CORNER);
    check_close(p.summary.start_mm[0], -6.35 + 7.5, 1e-9, "X, mm");
    check_close(p.summary.start_mm[1], -6.40 + 7.5, 1e-9, "Y, mm");
    check_contains(p.summary.start, "lies on the front-left corner");
    check_contains(p.summary.start, "X 7.5 mm right of the touched face of wall a");
    check_contains(p.summary.start, "Y 7.5 mm behind the touched face of wall b");
}

static void a_turned_plate_brings_its_other_wall(void **unused)
{
    (void)unused;
    sample_plan_target(&p, "front-right-top");
    sample_plan_good(&p, SAMPLE_CORNER);
    check_close(p.summary.start_mm[0], 6.40 - 7.5, 1e-9, "X by wall b, mm");
    check_close(p.summary.start_mm[1], -6.35 + 7.5, 1e-9, "Y by wall a, mm");
    check_contains(p.summary.start, "X 7.5 mm left of the touched face of wall b");
    p.plate.turned = false;
    sample_plan_good(&p, SAMPLE_CORNER);
    check_close(p.summary.start_mm[0], 6.35 - 7.5, 1e-9, "X by wall a, mm");
}

static void a_rising_wall_is_started_clear_of_it(void **unused)
{
    (void)unused;
    sample_plan_rising(&p, 8.0, 4.0);
    /* Radius 3.175, clearance 3, window 3, allowance 0.1, 1 degree over some 12 mm: 0.22: 9.5. */
    sample_plan_good(&p, SAMPLE_CORNER);
    check_close(p.summary.start_mm[0], -18.0 + 9.5, 1e-9, "X, mm");
    /* Over the wall by the clearance before anything goes sideways: 8 + 3. */
    assert_true(sample_plan_count(&p, "G1 Z11.000") == 1);
    /* The tip 4 below the wall's top edge: 4 above the face, 7 down from there. */
    assert_true(sample_plan_count(&p, "G1 Z-7.000") == 2);
}

static void a_face_lies_where_its_wall_is_brought_to_it(void **unused)
{
    (void)unused;
    struct {
        const char *target;
        int wall;
        const char *corner;
    } cases[] = {{"left", -1, "front-left"}, {"left", 1, "back-left"},
                 {"right", 0, "back-right"}, {"right", 1, "front-right"},
                 {"front", 1, "front-left"}, {"back", 0, "back-left"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        sample_plan_target(&p, cases[i].target);
        p.corner.wall = cases[i].wall;
        sample_plan_good(&p, SAMPLE_CORNER);
        check_contains(p.summary.start, cases[i].corner);
        assert_int_equal(p.summary.touches, 3);
    }
    p.plate.turned = false;
    sample_plan_target(&p, "front");
    p.corner.wall = 0;
    refused(TU_DATA_CONFLICT, "{wall}", "name {wall} b");
}

static void a_bore_is_started_beside_it(void **unused)
{
    (void)unused;
    sample_plan_bore(&p, 30.0);
    /* 15 + 2 beside it + 3 window + 0.35 for 1 degree over 20 mm: 20.5, over the stock. */
    sample_plan_good(&p, SAMPLE_CORNER);
    check_close(p.summary.start_mm[0], 20.0 + 20.5, 1e-9, "X, mm");
    check_close(p.summary.start_mm[1], 20.0, 1e-9, "Y, mm");
    check_contains(p.summary.start, "X 20.5 mm right of the bore's centre, Y at the bore's centre");
    state_extent(0, -40.0, 8.0); /* no room over the stock along a: along b */
    state_extent(1, -60.0, 8.0);
    sample_plan_good(&p, SAMPLE_CORNER);
    check_close(p.summary.start_mm[0], 20.0, 1e-9, "X, mm");
    check_close(p.summary.start_mm[1], 40.5, 1e-9, "Y, mm");
}

/* --- Plates --- */

static void a_wall_that_is_not_there_is_missed(void **unused)
{
    (void)unused;
    p.plate.wall[1].present = false;
    refused(TU_DATA_MISSING, "{plate}", "no wall b, which would serve Y");
    sample_plan_target(&p, "left");
    sample_plan_good(&p, SAMPLE_CORNER);
}

static void an_inward_wall_that_does_not_rise_cannot_be_reached(void **unused)
{
    (void)unused;
    p.plate.wall[0].facing = TU_FACES_INWARD;
    refused(TU_DATA_CONFLICT, "{plate}", "faces inward and does not rise");
}

static void a_wall_lower_than_the_touch_depth_is_refused(void **unused)
{
    (void)unused;
    sample_plan_rising(&p, 5.0, 5.0);
    refused(TU_DATA_CONFLICT, "{depth}", "would not clear the face");
    sample_plan_rising(&p, 5.0, 4.51);
    refused(TU_DATA_CONFLICT, "{depth}", "rises 5.00 mm");
    sample_plan_rising(&p, 5.0, 4.5);
    sample_plan_good(&p, SAMPLE_CORNER);
}

static void a_tip_below_the_plate_is_refused(void **unused)
{
    (void)unused;
    p.corner.depth = tu_quantity_exact(8.54);
    refused(TU_DATA_CONFLICT, "{depth}", "above the stock");
    p.corner.depth = tu_quantity_exact(8.53);
    sample_plan_good(&p, SAMPLE_CORNER);
    sample_plan_bore(&p, 30.0);
    p.plate.bore.touch_depth = tu_quantity_exact(9.0);
    p.corner.depth = tu_quantity_none();
    refused(TU_DATA_CONFLICT, "{depth}", "touch less deep");
}

static void a_depth_that_cannot_be_is_refused(void **unused)
{
    (void)unused;
    const double depths[] = {0.0, -1.0, 101.0, INFINITY};
    for (int i = 0; i < 4; i++) {
        p.corner.depth = tu_quantity_exact(depths[i]);
        refused(TU_DATA_RANGE, "{depth}", "must lie above 0");
    }
}

static void a_depth_that_may_miss_the_wall_is_refused(void **unused)
{
    (void)unused;
    /* 0.5 for a broken edge, 0.1 for the overrun of the touch before. */
    p.corner.depth = tu_quantity_exact(0.25);
    refused(TU_DATA_CONFLICT, "{depth}", "at least 0.60 mm deep");
    p.corner.depth = tu_quantity_exact(0.599);
    refused(TU_DATA_CONFLICT, "{depth}", "broken edge");
    p.corner.depth = tu_quantity_exact(0.6);
    sample_plan_good(&p, SAMPLE_CORNER);
    /* What the depth and the wall's top are off by comes on top. */
    p.corner.depth = tu_quantity_none();
    p.plate.wall[0].touch_depth = tu_quantity_mm(0.9, 0.31);
    refused(TU_DATA_CONFLICT, "{depth}", "at least 0.91 mm deep");
    sample_plan_rising(&p, 8.0, 0.7);
    sample_plan_good(&p, SAMPLE_CORNER);
    p.plate.wall[1].rise = tu_quantity_mm(8.0, 0.15);
    refused(TU_DATA_CONFLICT, "{depth}", "at least 0.75 mm deep");
    sample_plan_bore(&p, 25.0);
    p.plate.bore.touch_depth = tu_quantity_exact(0.3);
    refused(TU_DATA_CONFLICT, "{depth}", "at least 0.60 mm deep");
}

static void sizes_that_are_no_numbers_are_refused(void **unused)
{
    (void)unused;
    double *sizes[] = {&p.plate.thickness.value_mm, &p.plate.wall[0].offset.value_mm,
                       &p.plate.wall[1].offset.value_mm};
    for (int i = 0; i < 3; i++) {
        double good = *sizes[i];
        *sizes[i] = NAN;
        refused(TU_DATA_RANGE, "{plate}", "no finite number");
        *sizes[i] = INFINITY;
        refused(TU_DATA_RANGE, "{plate}", "no finite number");
        *sizes[i] = good;
    }
    p.plate.wall[1].rise.value_mm = INFINITY;
    refused(TU_DATA_RANGE, "{plate}", "no finite number");
    sample_plan_bore(&p, NAN);
    refused(TU_DATA_RANGE, "{plate}", "no finite number");
    sample_plan_bore(&p, 30.0);
    p.plate.bore.centre[1].value_mm = INFINITY;
    refused(TU_DATA_RANGE, "{plate}", "no finite number");
    sample_plan_bore(&p, 30.0);
    p.cutter.diameter.value_mm = NAN;
    refused(TU_DATA_RANGE, "{cutter}", "above zero");
}

static void a_depth_that_nobody_stated_is_told(void **unused)
{
    (void)unused;
    p.plate.wall[0].touch_depth = p.plate.wall[1].touch_depth = tu_quantity_none();
    sample_plan_good(&p, SAMPLE_CORNER);
    check_contains(p.summary.warnings.text[0], "goes 5.00 mm below");
    p.cutter.shape = TU_CUTTER_BALL;
    refused(TU_DATA_MISSING, "{depth}", "depends on how deep");
}

static void a_plate_on_the_bed_must_state_its_extent(void **unused)
{
    (void)unused;
    p.corner.seat = TU_SEAT_BED;
    refused(TU_DATA_MISSING, "{plate}", "state the extent");
    /* Over the stock the start would be: the stock stands there. */
    state_extent(0, -60.0, 6.35);
    state_extent(1, -60.0, 6.40);
    refused(TU_DATA_CONFLICT, "{plate}", "come to the stock");
    p.plate.wall[0].offset = tu_quantity_exact(60.0);
    state_extent(0, 2.0, 60.0);
    sample_plan_good(&p, SAMPLE_CORNER);
    check_contains(p.summary.title, "on the bed");
    p.corner.depth = tu_quantity_exact(9.0);
    refused(TU_DATA_CONFLICT, "{depth}", "above the bed");
}

static void the_start_window_must_lie_on_the_plate(void **unused)
{
    (void)unused;
    state_extent(0, -5.0, 6.35);
    refused(TU_DATA_CONFLICT, "{window}", "the start needs plate offcut to reach");
    state_extent(0, -5.6, 6.35);
    sample_plan_good(&p, SAMPLE_CORNER);
    assert_int_equal(p.summary.warnings.count, 1); /* for b, whose extent is not stated */
    check_contains(p.summary.warnings.text[0], "of the front edge");
}

/* --- Cutters --- */

static void a_cutter_wider_than_the_bore_is_refused(void **unused)
{
    (void)unused;
    sample_plan_bore(&p, 7.35);
    refused(TU_DATA_CONFLICT, "{cutter}", "does not go into the 7.350 mm bore");
}

static void a_window_too_large_for_the_bore_is_refused(void **unused)
{
    (void)unused;
    sample_plan_bore(&p, 16.0);
    /* (3 + 0.35) sqrt 2 = 4.74, and 8 - 3.175 - 0.5 = 4.325 are there. */
    refused(TU_DATA_CONFLICT, "{window}", "may be off by 4.74 mm");
    check_contains(p.error.message, "4.33 mm of room; use a {window} below 2.7 mm");
    p.style.window_mm = 2.65;
    sample_plan_good(&p, SAMPLE_CORNER);
}

static void sides_need_a_cutter_and_plans_a_plate(void **unused)
{
    (void)unused;
    p.corner.cutter = NULL;
    refused(TU_DATA_MISSING, "{cutter}", "needs the cutter");
    sample_plan_target(&p, "top");
    sample_plan_good(&p, SAMPLE_CORNER);
    p.corner.plate = NULL;
    refused(TU_DATA_MISSING, "{plate}", "no plate");
}

static void an_edge_is_turned_to_each_wall_where_there_is_a_gap(void **unused)
{
    (void)unused;
    sample_plan_flutes(&p, 2, 0.1);
    sample_plan_good(&p, SAMPLE_CORNER);
    assert_int_equal(p.summary.pauses, 2);
    assert_true(sample_plan_count(&p, "(MSG, turn a cutting edge to the right, ") == 1);
    assert_true(sample_plan_count(&p, "(MSG, turn a cutting edge to the back, ") == 1);
    assert_true(sample_plan_count(&p, "\nM0\n") == 2);
    p.cutter.helix_rad = 1.2; /* edges overlap all round: 5 tan(1.2) / 3.175 > pi */
    sample_plan_good(&p, SAMPLE_CORNER);
    assert_int_equal(p.summary.pauses, 0);
}

static void an_odd_cutter_is_turned_for_each_side_of_a_bore(void **unused)
{
    (void)unused;
    sample_plan_bore(&p, 30.0);
    sample_plan_flutes(&p, 2, 0.1);
    sample_plan_good(&p, SAMPLE_CORNER);
    assert_int_equal(p.summary.pauses, 3);
    sample_plan_flutes(&p, 3, 0.1);
    sample_plan_good(&p, SAMPLE_CORNER);
    assert_int_equal(p.summary.pauses, 6);
}

static void how_well_an_edge_is_turned_is_asked_for(void **unused)
{
    (void)unused;
    sample_plan_flutes(&p, 2, NAN);
    sample_plan_good(&p, SAMPLE_CORNER);
    check_contains(p.summary.warnings.text[0], "give zero {turned_within}");
    p.style.set = true;
    refused(TU_DATA_MISSING, "{turned_within}", "part of the offset");
    p.corner.turned_within_rad = 0.1;
    sample_plan_good(&p, SAMPLE_CORNER);
    p.corner.turned_within_rad = 2.0;
    refused(TU_DATA_RANGE, "{turned_within}", "at most at 90 degrees");
}

/* --- Machines and words --- */

static void a_machine_too_small_is_refused(void **unused)
{
    (void)unused;
    sample_plan_good(&p, SAMPLE_CORNER);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double needed = p.summary.space_mm[axis][1] - p.summary.space_mm[axis][0];
        double whole = p.machine.travel_high_mm[axis];
        p.machine.travel_high_mm[axis] = needed - 0.01;
        refused(TU_DATA_RANGE, "machine", "travel is");
        p.machine.travel_high_mm[axis] = needed + 0.01;
        sample_plan_good(&p, SAMPLE_CORNER);
        p.machine.travel_high_mm[axis] = whole;
    }
    p.machine.travel_high_mm[0] = p.machine.travel_low_mm[0] = NAN; /* not stated */
    sample_plan_good(&p, SAMPLE_CORNER);
}

static void words_that_contradict_each_other_are_refused(void **unused)
{
    (void)unused;
    p.corner.wall = 0;
    refused(TU_USAGE, "{wall}", "single side face");
    p.corner.wall = 2;
    sample_plan_target(&p, "left");
    refused(TU_USAGE, "{wall}", "is a or b");
    p.corner.wall = -1;
    p.corner.target = (tu_target){.outward = {-1, -1, 0}};
    refused(TU_USAGE, "TARGET", "none of the eight corners");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_side_of_the_plate_is_started_within_it),
        TEST(a_turned_plate_brings_its_other_wall),
        TEST(a_rising_wall_is_started_clear_of_it),
        TEST(a_face_lies_where_its_wall_is_brought_to_it),
        TEST(a_bore_is_started_beside_it),
        TEST(a_wall_that_is_not_there_is_missed),
        TEST(an_inward_wall_that_does_not_rise_cannot_be_reached),
        TEST(a_wall_lower_than_the_touch_depth_is_refused),
        TEST(a_tip_below_the_plate_is_refused),
        TEST(a_depth_that_cannot_be_is_refused),
        TEST(a_depth_that_may_miss_the_wall_is_refused),
        TEST(sizes_that_are_no_numbers_are_refused),
        TEST(a_depth_that_nobody_stated_is_told),
        TEST(a_plate_on_the_bed_must_state_its_extent),
        TEST(the_start_window_must_lie_on_the_plate),
        TEST(a_cutter_wider_than_the_bore_is_refused),
        TEST(a_window_too_large_for_the_bore_is_refused),
        TEST(sides_need_a_cutter_and_plans_a_plate),
        TEST(an_edge_is_turned_to_each_wall_where_there_is_a_gap),
        TEST(an_odd_cutter_is_turned_for_each_side_of_a_bore),
        TEST(how_well_an_edge_is_turned_is_asked_for),
        TEST(a_machine_too_small_is_refused),
        TEST(words_that_contradict_each_other_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
