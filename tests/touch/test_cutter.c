/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_cutter.c - effective radius at points that a pencil can check, refusals, flutes at limits.
 *
 * The shapes are swept numerically in test_cutter_sweep.c, flutes in test_flute_rotation.c.
 */
#include "check.h"
#include "sample_setup.h"

#include <math.h>

static tu_cutter cutter_of(tu_cutter_shape shape, double diameter_mm)
{
    sample_setup setup;
    sample_start(&setup, "front-left-top");
    tu_cutter cutter = setup.cutter;
    cutter.shape = shape;
    cutter.diameter = tu_quantity_mm(diameter_mm, 0.01);
    return cutter;
}

static double radius_at(const tu_cutter *cutter, double depth_mm)
{
    double radius = NAN;
    tu_error error;
    check_status(tu_cutter_profile_radius(cutter, depth_mm, &radius, NULL, &error), TU_OK, &error);
    return radius;
}

static void a_flat_cutter_reaches_half_its_diameter_at_any_depth(void **state)
{
    (void)state;
    tu_cutter cutter = cutter_of(TU_CUTTER_FLAT, 6.35);
    check_close(radius_at(&cutter, 0.001), 3.175, 1e-15, "radius, mm");
    check_close(radius_at(&cutter, NAN), 3.175, 1e-15, "radius, mm");
}

static void a_ball_of_10_reaches_4_mm_at_2_mm_depth(void **state)
{
    (void)state; /* the 3-4-5 triangle: 5 - 2 = 3 */
    tu_cutter cutter = cutter_of(TU_CUTTER_BALL, 10.0);
    check_close(radius_at(&cutter, 2.0), 4.0, 1e-12, "radius, mm");
    check_close(radius_at(&cutter, 5.0), 5.0, 1e-12, "radius, mm");
    check_close(radius_at(&cutter, 50.0), 5.0, 1e-12, "radius, mm");
}

static void a_bull_nose_of_20_with_corner_5_reaches_9_mm_at_2_mm_depth(void **state)
{
    (void)state; /* the same triangle on the corner: 10 - 5 + 4 */
    tu_cutter cutter = cutter_of(TU_CUTTER_BULL, 20.0);
    cutter.corner_radius = tu_quantity_mm(5.0, 0.0);
    check_close(radius_at(&cutter, 2.0), 9.0, 1e-12, "radius, mm");
    check_close(radius_at(&cutter, 5.0), 10.0, 1e-12, "radius, mm");
    cutter.corner_radius = tu_quantity_mm(10.0, 0.0); /* a ball */
    check_close(radius_at(&cutter, 4.0), 8.0, 1e-12, "radius, mm");
}

static void a_90_degree_vee_reaches_its_depth_more_than_its_tip(void **state)
{
    (void)state;
    tu_cutter cutter = cutter_of(TU_CUTTER_VEE, 12.0);
    cutter.included_rad = M_PI_2;
    cutter.tip = tu_quantity_mm(0.4, 0.0);
    check_close(radius_at(&cutter, 3.0), 3.2, 1e-12, "radius, mm");
    check_close(radius_at(&cutter, 9.0), 6.0, 1e-12, "radius, mm");
}

static void a_shape_that_depends_on_depth_is_refused_without_it(void **state)
{
    (void)state;
    const tu_cutter_shape shapes[] = {TU_CUTTER_BALL, TU_CUTTER_BULL, TU_CUTTER_VEE};
    for (size_t i = 0; i < 3; i++) {
        tu_cutter cutter = cutter_of(shapes[i], 6.0);
        cutter.corner_radius = tu_quantity_mm(1.0, 0.0);
        cutter.included_rad = 1.0;
        double radius = 0.0;
        tu_error error;
        check_status(tu_cutter_profile_radius(&cutter, NAN, &radius, NULL, &error), TU_DATA_MISSING,
                     &error);
        check_nan(radius, "radius, mm");
        check_contains(error.message, "{depth}");
    }
}

static void a_depth_of_zero_touches_nothing_and_is_refused(void **state)
{
    (void)state;
    tu_cutter cutter = cutter_of(TU_CUTTER_FLAT, 6.0);
    double radius = 0.0;
    const double depths[] = {0.0, -1.0, INFINITY};
    for (size_t i = 0; i < 3; i++)
        check_status(tu_cutter_profile_radius(&cutter, depths[i], &radius, NULL, NULL),
                     TU_DATA_RANGE, NULL);
}

static void cutters_that_cannot_be_are_refused(void **state)
{
    (void)state;
    double radius = 0.0;
    tu_cutter bull = cutter_of(TU_CUTTER_BULL, 6.0);
    bull.corner_radius = tu_quantity_mm(3.1, 0.0);
    check_status(tu_cutter_profile_radius(&bull, 1.0, &radius, NULL, NULL), TU_DATA_RANGE, NULL);
    tu_cutter vee = cutter_of(TU_CUTTER_VEE, 6.0);
    vee.included_rad = M_PI;
    check_status(tu_cutter_profile_radius(&vee, 1.0, &radius, NULL, NULL), TU_DATA_RANGE, NULL);
    bull.corner_radius = tu_quantity_mm(-0.001, 0.0);
    check_status(tu_cutter_profile_radius(&bull, 1.0, &radius, NULL, NULL), TU_DATA_RANGE, NULL);
    vee.included_rad = 0.0;
    check_status(tu_cutter_profile_radius(&vee, 1.0, &radius, NULL, NULL), TU_DATA_RANGE, NULL);
    const double diameters[] = {NAN, 0.0, -1.0, INFINITY};
    for (size_t i = 0; i < 4; i++) {
        tu_cutter none = cutter_of(TU_CUTTER_FLAT, diameters[i]);
        check_status(tu_cutter_profile_radius(&none, 1.0, &radius, NULL, NULL), TU_DATA_RANGE,
                     NULL);
    }
}

static void two_straight_flutes_not_turned_may_lose_the_whole_radius(void **state)
{
    (void)state;
    tu_cutter cutter = cutter_of(TU_CUTTER_FLAT, 6.35);
    cutter.flutes = 2;
    tu_flute_loss loss = tu_cutter_flute_loss(&cutter, 3.175, 5.0);
    check_close(loss.worst_loss_mm, 3.175, 1e-12, "worst loss, mm");
    cutter.core = tu_quantity_mm(3.0, NAN);
    loss = tu_cutter_flute_loss(&cutter, 3.175, 5.0);
    check_close(loss.worst_loss_mm, 3.175 - 1.5, 1e-12, "worst loss down to the core, mm");
}

static void a_turned_edge_has_the_stated_mean_and_spread(void **state)
{
    (void)state; /* origin: the closed forms of docs/geometry.md at a = 5 degrees, r = 3.175 */
    tu_cutter cutter = cutter_of(TU_CUTTER_FLAT, 6.35);
    cutter.flutes = 2;
    cutter.turned_within_rad = 5.0 * M_PI / 180.0;
    tu_flute_loss loss = tu_cutter_flute_loss(&cutter, 3.175, 5.0);
    double a = cutter.turned_within_rad;
    check_close(loss.mean_reach_mm, 3.175 * sin(a) / a, 1e-12, "mean reach, mm");
    double ratio = sin(a) / a;
    double spread = 3.175 * sqrt(0.5 + sin(2.0 * a) / (4.0 * a) - ratio * ratio);
    check_close(loss.standard_mm, spread, 1e-9, "standard deviation, mm");
}

static void the_small_angle_spread_joins_the_closed_form(void **state)
{
    (void)state; /* both branches near the seam at 0.01 rad */
    tu_cutter cutter = cutter_of(TU_CUTTER_FLAT, 20.0);
    cutter.flutes = 2;
    cutter.turned_within_rad = 0.0099999;
    double below = tu_cutter_flute_loss(&cutter, 10.0, 5.0).standard_mm;
    cutter.turned_within_rad = 0.0100001;
    double above = tu_cutter_flute_loss(&cutter, 10.0, 5.0).standard_mm;
    check_relative(below, above, 2e-4, "standard deviation at the seam, mm");
}

static void overlapping_edges_lose_nothing(void **state)
{
    (void)state; /* 4 flutes, 45 degrees, r 3: one edge sweeps h/r = 2 rad over 6 mm > pi/2 */
    tu_cutter cutter = cutter_of(TU_CUTTER_FLAT, 6.0);
    cutter.flutes = 4;
    cutter.helix_rad = M_PI_4;
    tu_flute_loss loss = tu_cutter_flute_loss(&cutter, 3.0, 6.0);
    assert_true(loss.gap_rad < 0.0);
    check_close(loss.mean_reach_mm, 3.0, 0.0, "reach, mm");
    check_close(loss.worst_loss_mm, 0.0, 0.0, "worst loss, mm");
}

static void a_pin_without_flutes_loses_nothing(void **state)
{
    (void)state;
    tu_cutter cutter = cutter_of(TU_CUTTER_FLAT, 6.0);
    tu_flute_loss loss = tu_cutter_flute_loss(&cutter, 3.0, 6.0);
    check_close(loss.mean_reach_mm, 3.0, 0.0, "reach, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_flat_cutter_reaches_half_its_diameter_at_any_depth),
        cmocka_unit_test(a_ball_of_10_reaches_4_mm_at_2_mm_depth),
        cmocka_unit_test(a_bull_nose_of_20_with_corner_5_reaches_9_mm_at_2_mm_depth),
        cmocka_unit_test(a_90_degree_vee_reaches_its_depth_more_than_its_tip),
        cmocka_unit_test(a_shape_that_depends_on_depth_is_refused_without_it),
        cmocka_unit_test(a_depth_of_zero_touches_nothing_and_is_refused),
        cmocka_unit_test(cutters_that_cannot_be_are_refused),
        cmocka_unit_test(two_straight_flutes_not_turned_may_lose_the_whole_radius),
        cmocka_unit_test(a_turned_edge_has_the_stated_mean_and_spread),
        cmocka_unit_test(the_small_angle_spread_joins_the_closed_form),
        cmocka_unit_test(overlapping_edges_lose_nothing),
        cmocka_unit_test(a_pin_without_flutes_loses_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
