/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_cutter_solid.c - flutes, helix, core and run-out of a cutter against walls and bores.
 */
#include "check.h"

#include "program/solids.h"

#include <math.h>

static const double tolerance = 1e-8;
/* What bulges between two points of an edge on a helix: 3 (1 - cos 0.005). */
static const double helix_tolerance = 4e-5;

static tu_cutter fluted(tu_cutter_shape shape, int flutes)
{
    tu_cutter cutter = tu_cutter_start();
    cutter.shape = shape;
    cutter.diameter = tu_quantity_exact(6.0);
    cutter.flutes = flutes;
    return cutter;
}

/* A big block whose left face is the plane x = 0, from height 0 to 10; or a bore in it. */
static tu_solid wall(void)
{
    const tu_machine_plane_point corner[] = {
        {0.0, -50.0}, {60.0, -50.0}, {60.0, 50.0}, {0.0, 50.0}};
    return (tu_solid){
        .name = "wall",
        .prism = {.outline = tu_polygon_start(corner), .low_mm = 0.0, .high_mm = 10.0}};
}

/* How far the cutter reaches towards X+ when it meets the wall, its tip `depth` below the top. */
static double reach_of(const tu_cutter_solid *cutter, double depth)
{
    tu_solid solid = wall();
    tu_path path = tu_path_between((tu_machine_point){-10.0, 3.0, 10.0 - depth},
                                   (tu_machine_point){10.0, 3.0, 10.0 - depth});
    return 10.0 - tu_solid_first_contact(&solid, cutter, &path, 0.0);
}

static double reach_at(tu_cutter cutter, double angle_rad, double depth)
{
    tu_cutter_solid solid = tu_cutter_solid_start(&cutter, angle_rad);
    return reach_of(&solid, depth);
}

static void straight_flutes_reach_as_far_as_the_edge_that_is_nearest_to_the_wall(void **state)
{
    (void)state;
    for (int i = -8; i <= 8; i++) {
        double angle = 0.12 * i;
        check_close(reach_at(fluted(TU_CUTTER_FLAT, 2), angle, 5.0), 3.0 * cos(angle), tolerance,
                    "two flutes, mm");
        double nearest = remainder(angle, M_PI / 2);
        check_close(reach_at(fluted(TU_CUTTER_FLAT, 4), angle, 5.0), 3.0 * cos(nearest), tolerance,
                    "four flutes, mm");
    }
}

static void between_two_flutes_the_core_touches(void **state)
{
    (void)state;
    tu_cutter cutter = fluted(TU_CUTTER_FLAT, 2);
    check_close(reach_at(cutter, M_PI / 2, 5.0), 1.5, tolerance, "core not stated, mm");
    cutter.core = tu_quantity_exact(3.6);
    check_close(reach_at(cutter, M_PI / 2, 5.0), 1.8, tolerance, "core stated, mm");
    check_close(reach_at(cutter, 1.0, 5.0), 1.8, tolerance, "3 cos 1 is less, mm");
}

static void a_helix_brings_an_edge_to_the_wall_within_its_sweep(void **state)
{
    (void)state; /* climb tan(30 deg) / 3 per mm: 5 mm sweep 0.9623 rad */
    tu_cutter cutter = fluted(TU_CUTTER_FLAT, 2);
    cutter.helix_rad = M_PI / 6;
    double sweep = 5.0 * tan(M_PI / 6) / 3.0;
    check_close(reach_at(cutter, -0.5, 5.0), 3.0, helix_tolerance, "within the sweep, mm");
    check_close(reach_at(cutter, 0.3, 5.0), 3.0 * cos(0.3), tolerance, "before its start, mm");
    check_close(reach_at(cutter, -sweep - 0.3, 5.0), 3.0 * cos(0.3), tolerance,
                "behind its end, mm");
    check_close(reach_at(cutter, -1.1, 2.0), 3.0 * cos(1.1 - 0.4 * sweep), tolerance,
                "shorter sweep, mm");
    /* 17 mm would sweep more than the pitch of two flutes; here four flutes in 10 mm do */
    cutter.flutes = 4;
    check_close(reach_at(cutter, 0.77, 9.9), 3.0, tolerance, "an edge on every side, mm");
}

/* The same from twenty thousand points of every edge. */
static double reach_by_points(const tu_cutter_solid *c, double (*radius)(double), double depth)
{
    double best = fmin(radius(depth), c->core_mm);
    for (int k = 0; k < c->flutes; k++) {
        for (int i = 0; i <= 20000; i++) {
            double h = depth * i / 20000;
            double angle = c->angle_rad + 2.0 * M_PI * k / c->flutes + h * tan(0.4) / 3.0;
            best = fmax(best, radius(h) * cos(angle));
        }
    }
    return best;
}

static double flat_radius(double h)
{
    (void)h;
    return 3.0;
}

static double ball_radius(double h)
{
    return h >= 3.0 ? 3.0 : sqrt(h * (6.0 - h));
}

static double vee_radius(double h)
{
    return fmin(3.0, 0.2 + h * tan(0.5));
}

static void random_flutes_reach_as_far_as_the_farthest_of_many_points(void **state)
{
    (void)state;
    check_random random = check_random_seed(5);
    double (*const radius[])(double) = {flat_radius, ball_radius, vee_radius};
    const tu_cutter_shape shape[] = {TU_CUTTER_FLAT, TU_CUTTER_BALL, TU_CUTTER_VEE};
    for (int i = 0; i < 300; i++) {
        size_t which = check_random_below(&random, 3);
        tu_cutter cutter = fluted(shape[which], 1 + (int)check_random_below(&random, 4));
        cutter.helix_rad = 0.4;
        cutter.included_rad = 1.0;
        cutter.tip = tu_quantity_exact(0.4);
        double angle = check_random_uniform(&random, -4.0, 4.0);
        double depth = check_random_uniform(&random, 0.3, 9.5);
        tu_cutter_solid solid = tu_cutter_solid_start(&cutter, angle);
        /* Points on the round or the flank lie up to 0.07 mm apart. */
        check_close(reach_of(&solid, depth), reach_by_points(&solid, radius[which], depth), 1e-4,
                    "reach, mm");
    }
}

static double in_bore(const tu_cutter *cutter, double angle_rad)
{
    tu_solid solid = wall();
    solid.prism.hole = (tu_machine_plane_point){30.0, 0.0};
    solid.prism.hole_radius_mm = 12.5;
    tu_cutter_solid c = tu_cutter_solid_start(cutter, angle_rad);
    tu_path path =
        tu_path_between((tu_machine_point){30.0, 0.0, 4.0}, (tu_machine_point){50.0, 0.0, 4.0});
    return tu_solid_first_contact(&solid, &c, &path, 0.0);
}

static void in_a_bore_edges_that_look_aside_touch_by_pythagoras(void **state)
{
    (void)state;
    tu_cutter cutter = fluted(TU_CUTTER_FLAT, 2);
    check_close(in_bore(&cutter, 0.0), 9.5, tolerance, "edge ahead, mm");
    check_close(in_bore(&cutter, M_PI / 2), 12.5 - 1.5, tolerance, "core, mm");
    cutter.core = tu_quantity_exact(0.2);
    check_close(in_bore(&cutter, M_PI / 2), sqrt(12.5 * 12.5 - 9.0), tolerance, "edges, mm");
}

static void a_fluted_cutter_comes_down_on_a_face_with_its_tip(void **state)
{
    (void)state;
    tu_solid solid = wall();
    tu_cutter cutter = fluted(TU_CUTTER_FLAT, 2);
    tu_cutter_solid c = tu_cutter_solid_start(&cutter, M_PI / 2);
    tu_path path =
        tu_path_between((tu_machine_point){30.0, 0.0, 30.0}, (tu_machine_point){30.0, 0.0, 0.0});
    check_close(tu_solid_first_contact(&solid, &c, &path, 0.0), 20.0, tolerance, "over it, mm");
    /* 2 mm outside: the core of 1.5 misses it, edges along the wall too, an edge ahead does not */
    path.from.x = -2.0;
    assert_true(isinf(tu_solid_first_contact(&solid, &c, &path, 0.0)));
    c.angle_rad = 0.0;
    check_close(tu_solid_first_contact(&solid, &c, &path, 0.0), 20.0, tolerance, "edge, mm");
}

static void run_out_moves_the_whole_cutter_by_half_of_it(void **state)
{
    (void)state;
    tu_cutter cutter = fluted(TU_CUTTER_FLAT, 0);
    cutter.run_out = tu_quantity_exact(0.1);
    tu_cutter_solid c = tu_cutter_solid_start(&cutter, 0.4);
    c.run_out_rad = -0.4;
    check_close(reach_of(&c, 5.0), 3.05, tolerance, "towards the wall, mm");
    c.run_out_rad = 0.6;
    check_close(reach_of(&c, 5.0), 3.0 + 0.05 * cos(1.0), tolerance, "aslant, mm");
}

static void the_outline_has_the_same_height_and_radius_both_ways(void **state)
{
    (void)state;
    tu_cutter cutter = fluted(TU_CUTTER_BULL, 0);
    cutter.corner_radius = tu_quantity_exact(1.0);
    tu_cutter_solid c = tu_cutter_solid_start(&cutter, 0.0);
    for (int i = 1; i < 10; i++) {
        double height = 0.1 * i;
        double radius = tu_cutter_solid_radius(&c, height);
        check_close(hypot(radius - 2.0, 1.0 - height), 1.0, 1e-12, "on the round, mm");
        check_close(tu_cutter_solid_height(&c, radius), height, 1e-12, "height, mm");
    }
    check_close(tu_cutter_solid_height(&c, 1.0), 0.0, 0.0, "under the flat end, mm");
    assert_true(isinf(tu_cutter_solid_height(&c, 3.1)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(straight_flutes_reach_as_far_as_the_edge_that_is_nearest_to_the_wall),
        cmocka_unit_test(between_two_flutes_the_core_touches),
        cmocka_unit_test(a_helix_brings_an_edge_to_the_wall_within_its_sweep),
        cmocka_unit_test(random_flutes_reach_as_far_as_the_farthest_of_many_points),
        cmocka_unit_test(in_a_bore_edges_that_look_aside_touch_by_pythagoras),
        cmocka_unit_test(a_fluted_cutter_comes_down_on_a_face_with_its_tip),
        cmocka_unit_test(run_out_moves_the_whole_cutter_by_half_of_it),
        cmocka_unit_test(the_outline_has_the_same_height_and_radius_both_ways),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
