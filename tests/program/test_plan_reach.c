/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_reach.c - how deep the tip stands beside a wall, and how far the cutter reaches there.
 * Expected radii by the profiles of docs/geometry.md, by pencil.
 */
#include "plan_case.h"

#include "program/plan_place.h"

#include <math.h>

static tu_plan_table table;
static tu_warnings warnings;

static void place(tu_status status)
{
    warnings = (tu_warnings){0};
    tu_error error = {0};
    check_status(tu_plan_place(&p.corner, &p.style, &table, &warnings, &error), status, &error);
}

static void the_tip_stands_below_the_walls_top_edge(void **unused)
{
    (void)unused;
    place(TU_OK);
    check_close(table.side[0].tip_mm, -5.0, 1e-12, "below the face, mm");
    sample_plan_rising(&p, 8.0, 3.0);
    place(TU_OK);
    check_close(table.side[0].tip_mm, 5.0, 1e-12, "above the face, mm");
    p.corner.depth = tu_quantity_exact(4.0); /* goes before the plate's */
    place(TU_OK);
    check_close(table.side[1].tip_mm, 4.0, 1e-12, "above the face, mm");
}

static void each_shape_reaches_as_far_as_its_profile_there(void **unused)
{
    (void)unused;
    p.cutter.diameter = tu_quantity_exact(12.0);
    p.corner.depth = tu_quantity_exact(2.0);
    place(TU_OK);
    check_close(table.side[0].radius_mm, 6.0, 1e-9, "flat, mm");
    p.cutter.shape = TU_CUTTER_BALL;
    place(TU_OK);
    check_close(table.side[0].radius_mm, sqrt(2.0 * 10.0), 1e-9, "ball, mm");
    p.cutter.shape = TU_CUTTER_VEE;
    p.cutter.included_rad = M_PI / 2.0;
    p.cutter.tip = tu_quantity_exact(0.2);
    place(TU_OK);
    check_close(table.side[0].radius_mm, 2.1, 1e-9, "vee, mm");
    p.cutter.shape = TU_CUTTER_BULL;
    p.cutter.corner_radius = tu_quantity_exact(3.0);
    place(TU_OK);
    check_close(table.side[0].radius_mm, 6.0 - 3.0 + sqrt(2.0 * 4.0), 1e-9, "bull nose, mm");
}

static void run_out_and_tolerance_widen_where_the_face_can_be(void **unused)
{
    (void)unused;
    place(TU_OK);
    double before = table.side[0].spread_mm;
    p.cutter.run_out = tu_quantity_exact(0.04);
    p.cutter.diameter = tu_quantity_mm(6.35, 0.02);
    place(TU_OK);
    check_close(table.side[0].spread_mm - before, 0.03, 0.002, "half of each, mm");
}

static void a_bore_must_take_the_cutter_and_the_back_off(void **unused)
{
    (void)unused;
    /* 6.35 and half a millimetre on either side: 7.35. */
    sample_plan_bore(&p, 7.3);
    sample_plan_refused(&p, SAMPLE_CORNER, TU_DATA_CONFLICT, "{cutter}", "does not go into");
    sample_plan_bore(&p, 9.2); /* 0.925 of room */
    p.style.window_mm = 0.2;
    sample_plan_refused(&p, SAMPLE_CORNER, TU_DATA_CONFLICT, "{back_off}", "0.92 mm of room");
    p.style.back_off_mm = 0.9;
    sample_plan_good(&p, SAMPLE_CORNER);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(the_tip_stands_below_the_walls_top_edge),
        TEST(each_shape_reaches_as_far_as_its_profile_there),
        TEST(run_out_and_tolerance_widen_where_the_face_can_be),
        TEST(a_bore_must_take_the_cutter_and_the_back_off),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
