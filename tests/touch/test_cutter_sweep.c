/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The effective radius of every cutter shape against its outline, swept numerically.
 *
 * The wall fills the heights below its top edge, and the tip is `depth` below that edge, so the
 * outline from the tip up to that height can meet the wall: the effective radius is the widest
 * point of that part. Origin of the expected values: the outline built from its lines and arcs
 * (contact_world.c), sampled along its length and searched finer about the best sample.
 */
#include "check.h"
#include "contact_world.h"

#include "trueup/cutter.h"

#include <math.h>
#include <string.h>

enum { SAMPLES = 400, ZOOMS = 8, ROUNDS = 120 };

static const double half_turn = 3.14159265358979323846;
static const double radius_tolerance_mm = 1e-10;

static check_random random_state;

static double draw(double low, double high)
{
    return check_random_uniform(&random_state, low, high);
}

/* A point of a piece of outline: t from 0 (low end) to 1. */
static void outline_point(const cw_piece *piece, double t, double *radius, double *height)
{
    if (piece->arc > 0.0) {
        double angle = (t - 1.0) * half_turn / 2;

        *radius = piece->r0 + piece->arc * cos(angle);
        *height = piece->z0 + piece->arc * sin(angle);
    } else {
        *radius = piece->r0 + t * (piece->r1 - piece->r0);
        *height = piece->z0 + t * (piece->z1 - piece->z0);
    }
}

/* The widest point of one piece at or below a height; -1: the piece lies above. */
static double widest_of_piece(const cw_piece *piece, double depth)
{
    double low = 0.0, high = 1.0, best = -1.0, best_t = 0.0;

    for (int zoom = 0; zoom < ZOOMS; zoom++) {
        double step = (high - low) / SAMPLES;

        for (int i = 0; i <= SAMPLES; i++) {
            double t = low + i * step, radius, height;

            outline_point(piece, t, &radius, &height);
            if (height <= depth && radius > best) {
                best = radius;
                best_t = t;
            }
        }
        low = fmax(0.0, best_t - step);
        high = fmin(1.0, best_t + step);
    }
    return best;
}

static double swept(const cw_cutter *outline, double depth)
{
    double widest = -1.0;

    for (size_t i = 0; i < outline->count; i++)
        widest = fmax(widest, widest_of_piece(&outline->piece[i], depth));
    return widest;
}

static tu_cutter plain_cutter(tu_cutter_shape shape, double diameter)
{
    tu_cutter cutter = tu_cutter_start();

    cutter.shape = shape;
    cutter.diameter = tu_quantity_mm(diameter, 0.01);
    return cutter;
}

/* Radius and slope at one depth; kink: the height from where the full radius touches. */
static void compare(const tu_cutter *cutter, const cw_cutter *outline, double depth, double kink)
{
    const double step = 1e-5;
    double radius, slope, finite;
    tu_error error = {0};

    check_status(tu_cutter_profile_radius(cutter, depth, &radius, &slope, &error), TU_OK, &error);
    check_close(radius, swept(outline, depth), radius_tolerance_mm, "effective radius, mm");
    check_status(tu_cutter_profile_radius(cutter, depth, &radius, NULL, &error), TU_OK, &error);
    if (fabs(depth - kink) < 1e-3)
        return; /* the slope jumps, or bends too fast for a difference */
    finite = (swept(outline, depth + step) - swept(outline, depth - step)) / (2 * step);
    check_close(slope, finite, 2e-6 * (1.0 + fabs(finite)), "slope, mm per mm");
}

static double depth_about(double kink)
{
    return draw(0.0, 1.0) < 0.7 ? draw(0.1, fmax(0.11, kink)) : kink + draw(0.01, 8.0);
}

static void a_flat_cutter_touches_with_half_its_diameter(void **state)
{
    (void)state;
    random_state = check_random_seed(20240301);
    for (int round = 0; round < ROUNDS; round++) {
        double diameter = draw(0.5, 20.0), radius;
        tu_cutter cutter = plain_cutter(TU_CUTTER_FLAT, diameter);
        cw_cutter outline = cw_flat(diameter);

        compare(&cutter, &outline, draw(0.01, 12.0), 0.0);
        assert_int_equal(tu_cutter_profile_radius(&cutter, NAN, &radius, NULL, NULL), TU_OK);
        check_close(radius, swept(&outline, 1.0), radius_tolerance_mm, "radius, mm");
    }
}

static void a_ball_touches_with_its_outline(void **state)
{
    (void)state;
    random_state = check_random_seed(20240302);
    for (int round = 0; round < ROUNDS; round++) {
        double diameter = draw(0.5, 20.0);
        tu_cutter cutter = plain_cutter(TU_CUTTER_BALL, diameter);
        cw_cutter outline = cw_ball(diameter);

        compare(&cutter, &outline, depth_about(diameter / 2), diameter / 2);
    }
}

static void a_bull_nose_touches_with_its_outline(void **state)
{
    (void)state;
    random_state = check_random_seed(20240303);
    for (int round = 0; round < ROUNDS; round++) {
        double diameter = draw(1.0, 20.0), corner = draw(0.15, 0.5) * diameter;
        tu_cutter cutter = plain_cutter(TU_CUTTER_BULL, diameter);
        cw_cutter outline = cw_bull(diameter, corner);

        cutter.corner_radius = tu_quantity_mm(corner, 0.01);
        compare(&cutter, &outline, depth_about(corner), corner);
    }
}

static void a_vee_touches_with_its_outline(void **state)
{
    (void)state;
    random_state = check_random_seed(20240304);
    for (int round = 0; round < ROUNDS; round++) {
        double diameter = draw(2.0, 25.0), included = draw(0.2, 2.6);
        double tip = round % 3 ? draw(0.0, 0.8) * diameter : 0.0;
        double kink = (diameter - tip) / 2 / tan(included / 2);
        tu_cutter cutter = plain_cutter(TU_CUTTER_VEE, diameter);
        cw_cutter outline = cw_vee(diameter, included, tip);

        cutter.included_rad = included;
        cutter.tip = tu_quantity_mm(tip, 0.01);
        compare(&cutter, &outline, fmin(60.0, depth_about(kink)), kink);
    }
}

/* A ball of 6 mm, 1 mm below the edge: sqrt(1 (6 - 1)) = sqrt 5, by Thales in the outline. */
static void a_ball_one_millimetre_deep_touches_with_root_five(void **state)
{
    tu_cutter cutter = plain_cutter(TU_CUTTER_BALL, 6.0);
    double radius, slope;

    (void)state;
    assert_int_equal(tu_cutter_profile_radius(&cutter, 1.0, &radius, &slope, NULL), TU_OK);
    check_close(radius, 2.23606797749979, 1e-12, "radius, mm");
    check_close(slope, 2.0 / 2.23606797749979, 1e-12, "slope");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_flat_cutter_touches_with_half_its_diameter),
        cmocka_unit_test(a_ball_touches_with_its_outline),
        cmocka_unit_test(a_bull_nose_touches_with_its_outline),
        cmocka_unit_test(a_vee_touches_with_its_outline),
        cmocka_unit_test(a_ball_one_millimetre_deep_touches_with_root_five),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
