/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_solids.c - where cutters meet prisms, bores and beds. Expected places are worked out by hand
 * from lines and circles, or come from the solids of contact_world.h, which share no code.
 */
#include "check.h"

#include "../touch/contact_world.h"
#include "program/solids.h"

#include <math.h>

/* Contacts are found to TU_CONTACT_MM. */
static const double tolerance = 1e-8;

static tu_cutter cutter_of(tu_cutter_shape shape, double diameter)
{
    tu_cutter cutter = tu_cutter_start();
    cutter.shape = shape;
    cutter.diameter = tu_quantity_exact(diameter);
    return cutter;
}

static tu_cutter_solid solid_cutter(tu_cutter cutter)
{
    return tu_cutter_solid_start(&cutter, 0.0);
}

static tu_cutter_solid flat_of(double diameter)
{
    return solid_cutter(cutter_of(TU_CUTTER_FLAT, diameter));
}

static tu_cutter_solid ball_of(double diameter)
{
    return solid_cutter(cutter_of(TU_CUTTER_BALL, diameter));
}

static tu_cutter_solid bull_of(double diameter, double corner)
{
    tu_cutter cutter = cutter_of(TU_CUTTER_BULL, diameter);
    cutter.corner_radius = tu_quantity_exact(corner);
    return solid_cutter(cutter);
}

static tu_cutter_solid vee_of(double diameter, double included_rad, double tip)
{
    tu_cutter cutter = cutter_of(TU_CUTTER_VEE, diameter);
    cutter.included_rad = included_rad;
    cutter.tip = tu_quantity_exact(tip);
    return solid_cutter(cutter);
}

/* A block 40 by 40 with a corner at the origin, from height 0 to 5, turned about the origin. */
static tu_solid block_turned(double angle_rad)
{
    tu_machine_plane_point corner[] = {{0.0, 0.0}, {40.0, 0.0}, {40.0, 40.0}, {0.0, 40.0}};
    double c = cos(angle_rad), s = sin(angle_rad);
    for (int i = 0; i < 4; i++)
        corner[i] = (tu_machine_plane_point){c * corner[i].x - s * corner[i].y,
                                             s * corner[i].x + c * corner[i].y};
    return (tu_solid){
        .name = "block",
        .prism = {.outline = tu_polygon_start(corner), .low_mm = 0.0, .high_mm = 5.0}};
}

static double travel_of(const tu_solid *solid, const tu_cutter_solid *cutter, tu_machine_point from,
                        tu_machine_point to)
{
    tu_path path = tu_path_between(from, to);
    return tu_solid_first_contact(solid, cutter, &path, 0.0);
}

/* x of the tip where a move along X+ from x = -20 meets the block. */
static double meets_x(const tu_solid *solid, tu_cutter_solid cutter, double y, double z)
{
    return travel_of(solid, &cutter, (tu_machine_point){-20.0, y, z},
                     (tu_machine_point){10.0, y, z}) -
           20.0;
}

/* z of the tip where a move straight down from z = 30 meets it. */
static double meets_z(const tu_solid *solid, tu_cutter_solid cutter, double x, double y)
{
    return 30.0 - travel_of(solid, &cutter, (tu_machine_point){x, y, 30.0},
                            (tu_machine_point){x, y, -5.0});
}

static void a_flat_cutter_meets_a_wall_at_half_its_diameter(void **state)
{
    (void)state;
    tu_solid block = block_turned(0.0);
    check_close(meets_x(&block, flat_of(6.0), 20.0, 2.0), -3.0, tolerance, "x, mm");
    assert_true(isinf(meets_x(&block, flat_of(6.0), 20.0, 5.0))); /* over its top */
}

static void any_cutter_meets_a_face_with_its_tip(void **state)
{
    (void)state;
    tu_solid block = block_turned(0.0);
    check_close(meets_z(&block, flat_of(6.0), 20.0, 20.0), 5.0, tolerance, "flat, mm");
    check_close(meets_z(&block, flat_of(6.0), -2.9, 20.0), 5.0, tolerance, "half over, mm");
    check_close(meets_z(&block, ball_of(6.0), 0.5, 20.0), 5.0, tolerance, "ball, mm");
    check_close(meets_z(&block, vee_of(6.0, 1.0, 0.0), 0.5, 20.0), 5.0, tolerance, "vee, mm");
    assert_true(isinf(meets_z(&block, flat_of(6.0), -3.0, 20.0)));
}

static void round_and_pointed_cutters_meet_a_wall_where_they_are_as_wide_as_its_top(void **state)
{
    (void)state; /* 1 mm below the top edge */
    tu_solid block = block_turned(0.0);
    /* circle of radius 3: sqrt(3^2 - 2^2) */
    check_close(meets_x(&block, ball_of(6.0), 20.0, 4.0), -sqrt(5.0), tolerance, "ball, mm");
    /* round of 1.5 set out by 1.5, 1 mm up: 1.5 + sqrt(1.5^2 - 0.5^2) */
    check_close(meets_x(&block, bull_of(6.0, 1.5), 20.0, 4.0), -1.5 - sqrt(2.0), tolerance,
                "bull nose, mm");
    /* flank of 30 degrees from a tip of 0.25 */
    check_close(meets_x(&block, vee_of(6.0, M_PI / 3, 0.5), 20.0, 4.0), -0.25 - 1.0 / sqrt(3.0),
                tolerance, "vee, mm");
    /* deep enough, each is a cylinder */
    check_close(meets_x(&block, ball_of(6.0), 20.0, 1.9), -3.0, tolerance, "deep ball, mm");
    check_close(meets_x(&block, vee_of(2.0, M_PI / 3, 0.5), 20.0, 1.0), -1.0, tolerance,
                "deep vee, mm");
}

static void round_and_pointed_cutters_come_down_on_an_edge_with_their_sides(void **state)
{
    (void)state; /* 1 mm outside the edge */
    tu_solid block = block_turned(0.0);
    check_close(meets_z(&block, ball_of(6.0), -1.0, 20.0), 5.0 - (3.0 - sqrt(8.0)), tolerance,
                "ball, mm");
    check_close(meets_z(&block, vee_of(6.0, M_PI / 3, 0.5), -1.0, 20.0), 5.0 - 0.75 * sqrt(3.0),
                tolerance, "vee, mm");
    check_close(meets_z(&block, bull_of(6.0, 1.5), -1.0, 20.0), 5.0, tolerance, "bull nose, mm");
    /* by the corner: 3-4-5, 2.5 mm away */
    check_close(meets_z(&block, ball_of(6.0), -1.5, -2.0), 5.0 - (3.0 - sqrt(9.0 - 6.25)),
                tolerance, "ball at the corner, mm");
}

static void a_disc_that_passes_a_corner_meets_its_point(void **state)
{
    (void)state;
    tu_solid block = block_turned(0.0);
    check_close(meets_x(&block, flat_of(6.0), -2.0, 2.0), -sqrt(5.0), tolerance, "x, mm");
    assert_true(isinf(meets_x(&block, flat_of(6.0), -3.0, 2.0)));
}

static void a_turned_wall_is_met_along_its_own_normal(void **state)
{
    (void)state;
    for (int i = -6; i <= 6; i++) {
        double angle = i * M_PI / 36;
        tu_solid block = block_turned(angle);
        /* The wall through the origin with the normal (-cos, -sin): the centre stands off by 3. */
        double y = 15.0;
        check_close(meets_x(&block, flat_of(6.0), y, 2.0), (-3.0 - y * sin(angle)) / cos(angle),
                    tolerance, "x, mm");
    }
}

static tu_solid ring(void)
{
    tu_solid solid = block_turned(0.0);
    solid.prism.hole = (tu_machine_plane_point){20.0, 20.0};
    solid.prism.hole_radius_mm = 12.5;
    return solid;
}

static void a_bore_is_met_from_inside(void **state)
{
    (void)state;
    tu_solid solid = ring();
    tu_cutter_solid flat = flat_of(6.0), ball = ball_of(6.0);
    tu_machine_point centre = {20.0, 20.0, 2.0}, far = {45.0, 20.0, 2.0};
    check_close(travel_of(&solid, &flat, centre, far), 9.5, tolerance, "to the right, mm");
    far = (tu_machine_point){20.0, -5.0, 2.0};
    check_close(travel_of(&solid, &flat, centre, far), 9.5, tolerance, "to the front, mm");
    /* 4 mm beside the centre: the axis moves in a circle of 9.5 */
    tu_machine_point off = {20.0, 24.0, 2.0}, left = {-5.0, 24.0, 2.0};
    check_close(travel_of(&solid, &flat, off, left), sqrt(9.5 * 9.5 - 16.0), tolerance, "left, mm");
    /* a ball that reaches 1 mm below the rim */
    tu_machine_point high = {20.0, 20.0, 4.0}, right = {45.0, 20.0, 4.0};
    check_close(travel_of(&solid, &ball, high, right), 12.5 - sqrt(5.0), tolerance, "ball, mm");
}

static void a_cutter_goes_through_a_bore_only_where_it_fits(void **state)
{
    (void)state;
    tu_solid solid = ring();
    assert_true(isinf(meets_z(&solid, flat_of(6.0), 29.4, 20.0)));
    check_close(meets_z(&solid, flat_of(6.0), 29.6, 20.0), 5.0, tolerance, "on the rim, mm");
    check_close(meets_z(&solid, flat_of(26.0), 20.0, 20.0), 5.0, tolerance, "too wide, mm");
    /* a ball 10.5 from the centre leaves 2 to the rim */
    check_close(meets_z(&solid, ball_of(6.0), 30.5, 20.0), 5.0 - (3.0 - sqrt(5.0)), tolerance,
                "ball on the rim, mm");
}

static void a_slanting_path_is_measured_along_itself(void **state)
{
    (void)state; /* (3, 4) of 5 down onto the face: 10 mm of height are 12.5 mm of path */
    tu_solid block = block_turned(0.0);
    tu_cutter_solid flat = flat_of(6.0);
    check_close(travel_of(&block, &flat, (tu_machine_point){10.0, 10.0, 15.0},
                          (tu_machine_point){19.0, 10.0, 3.0}),
                12.5, tolerance, "travel, mm");
}

/* Where cw_overlaps and the march must agree. */
static void compare_with_other_solids(check_random *random, const cw_world *world,
                                      const cw_cutter *other, const tu_solid *solid,
                                      const tu_cutter_solid *cutter, size_t *met)
{
    tu_machine_point from, to;
    do {
        from = (tu_machine_point){check_random_uniform(random, -25.0, 65.0),
                                  check_random_uniform(random, -25.0, 65.0),
                                  check_random_uniform(random, -3.0, 9.0)};
    } while (cw_overlaps(world, other, (cw_place){from.x, from.y, from.z}));
    bool level = check_random_below(random, 2) == 0;
    to = (tu_machine_point){check_random_uniform(random, -25.0, 65.0),
                            check_random_uniform(random, -25.0, 65.0),
                            level ? from.z : check_random_uniform(random, -3.0, 9.0)};
    tu_path path = tu_path_between(from, to);
    double travel = tu_solid_first_contact(solid, cutter, &path, 0.0);
    double clear = fmin(travel - 1e-6, path.length_mm);
    for (int i = 0; i <= 300; i++) {
        tu_machine_point p = tu_path_point(&path, fmax(clear, 0.0) * i / 300);
        /* A step may pass over a corner by half its length. */
        if (cw_overlaps(world, other, (cw_place){p.x, p.y, p.z}))
            check_between(tu_solid_clearance(solid, cutter, p, 0.0), -TU_MARCH_STEP_MM, 0.0,
                          "grazed, mm");
    }
    if (isinf(travel))
        return;
    tu_machine_point p = tu_path_point(&path, travel + 1e-7);
    assert_true(cw_overlaps(world, other, (cw_place){p.x, p.y, p.z}));
    (*met)++;
}

static void contacts_agree_with_solids_that_share_no_code(void **state)
{
    (void)state;
    check_random random = check_random_seed(31);
    static cw_world world;
    size_t met = 0;
    for (int i = 0; i < 4000; i++) {
        bool bored = i % 2 == 0;
        double angle = check_random_uniform(&random, -0.5, 0.5);
        double diameter = check_random_uniform(&random, 1.0, 12.0);
        tu_solid solid = block_turned(angle);
        world.count = 1;
        world.solid[0] = (cw_solid){.count = 4, .low = 0.0, .high = 5.0};
        for (int j = 0; j < 4; j++)
            world.solid[0].corner[j] =
                (cw_plane){solid.prism.outline.corner[j].x, solid.prism.outline.corner[j].y};
        if (bored) {
            solid.prism.hole = (tu_machine_plane_point){20 * cos(angle) - 20 * sin(angle),
                                                        20 * sin(angle) + 20 * cos(angle)};
            solid.prism.hole_radius_mm = check_random_uniform(&random, 7.0, 19.0);
            world.solid[0].hole_centre = (cw_plane){solid.prism.hole.x, solid.prism.hole.y};
            world.solid[0].hole_radius = solid.prism.hole_radius_mm;
        }
        tu_cutter_solid cutter[] = {flat_of(diameter), ball_of(diameter),
                                    bull_of(diameter, diameter / 5),
                                    vee_of(diameter, 1.2, diameter / 8)};
        cw_cutter other[] = {cw_flat(diameter), cw_ball(diameter), cw_bull(diameter, diameter / 5),
                             cw_vee(diameter, 1.2, diameter / 8)};
        size_t shape = check_random_below(&random, 4);
        compare_with_other_solids(&random, &world, &other[shape], &solid, &cutter[shape], &met);
    }
    assert_true(met > 1000);
}

static void the_clearance_is_never_more_than_there_is(void **state)
{
    (void)state; /* from random places, moved by all of it in a random direction */
    check_random random = check_random_seed(8);
    tu_solid solid[] = {block_turned(0.3), ring()};
    for (int i = 0; i < 20000; i++) {
        double diameter = check_random_uniform(&random, 1.0, 12.0);
        tu_cutter_solid cutter[] = {flat_of(diameter), ball_of(diameter),
                                    bull_of(diameter, diameter / 5),
                                    vee_of(diameter, 1.2, diameter / 8)};
        const tu_cutter_solid *c = &cutter[i % 4];
        const tu_solid *s = &solid[i / 4 % 2];
        tu_machine_point tip = {check_random_uniform(&random, -9.0, 45.0),
                                check_random_uniform(&random, -9.0, 45.0),
                                check_random_uniform(&random, 0.0, 9.0)};
        double clearance = tu_solid_clearance(s, c, tip, 0.0);
        if (clearance <= 0.0)
            continue;
        tu_machine_point by = {check_random_normal(&random, 0, 1),
                               check_random_normal(&random, 0, 1),
                               check_random_normal(&random, 0, 1)};
        tu_path path = tu_path_between((tu_machine_point){0, 0, 0}, by);
        path.from = tip;
        tu_machine_point moved = tu_path_point(&path, clearance);
        check_between(tu_solid_clearance(s, c, moved, 0.0), -1e-9, INFINITY, "left over, mm");
    }
}

static void a_cutter_that_just_touched_may_move_away_but_not_on_nor_along(void **state)
{
    (void)state; /* 0.01 mm inside the wall, 0.012 tolerated */
    tu_solid block = block_turned(0.0);
    tu_cutter_solid flat = flat_of(6.0);
    tu_machine_point in = {-2.99, 20.0, 2.0};
    tu_path away = tu_path_between(in, (tu_machine_point){-8.0, 20.0, 2.0});
    tu_path on = tu_path_between(in, (tu_machine_point){8.0, 20.0, 2.0});
    tu_path beside = tu_path_between(in, (tu_machine_point){-2.99, 30.0, 2.0});
    tu_path aslant = tu_path_between(in, (tu_machine_point){-4.99, 30.0, 2.0});
    assert_true(isinf(tu_solid_first_contact(&block, &flat, &away, 0.012)));
    check_between(tu_solid_first_contact(&block, &flat, &on, 0.012), 0.002,
                  0.002 + TU_MARCH_STEP_MM, "deeper, mm");
    check_between(tu_solid_first_contact(&block, &flat, &beside, 0.012), TU_DRAG_MM,
                  TU_DRAG_MM + 0.03, "along, mm");
    assert_true(isinf(tu_solid_first_contact(&block, &flat, &aslant, 0.012)));
    check_close(tu_solid_first_contact(&block, &flat, &away, 0.0), 0.0, 0.0, "not tolerated, mm");
}

static void away_from_one_side_of_a_bore_the_other_side_counts(void **state)
{
    (void)state;
    tu_solid solid = ring();
    tu_cutter_solid flat = flat_of(6.0);
    tu_path path =
        tu_path_between((tu_machine_point){29.51, 20.0, 2.0}, (tu_machine_point){0.0, 20.0, 2.0});
    check_close(tu_solid_first_contact(&solid, &flat, &path, 0.02), 19.01, tolerance, "mm");
}

static void a_tilted_bed_is_met_uphill_of_a_flat_cutter_and_tangent_to_a_ball(void **state)
{
    (void)state;
    static tu_bed_surface bed;
    bed = (tu_bed_surface){.height_mm = 1.0, .slope_x = 0.03, .slope_y = -0.04};
    tu_solid solid = tu_solid_start_bed(&bed, false);
    double here = 1.0 + 0.03 * 10.0 - 0.04 * 20.0;
    check_close(meets_z(&solid, flat_of(6.0), 10.0, 20.0), here + 0.05 * 3.0, 1e-7, "flat, mm");
    check_close(meets_z(&solid, ball_of(6.0), 10.0, 20.0),
                here + 3.0 * (sqrt(1.0 + 0.05 * 0.05) - 1.0), 1e-7, "ball, mm");
    tu_cutter_solid flat = flat_of(6.0);
    /* sideways uphill, 0.3 above the plane: 0.15 of them for the radius */
    check_close(travel_of(&solid, &flat, (tu_machine_point){10.0, 20.0, here + 0.3},
                          (tu_machine_point){40.0, -20.0, here + 0.3}),
                0.15 / 0.05, 1e-6, "uphill, mm");
}

static void a_map_is_met_where_it_is_highest_under_the_cutter(void **state)
{
    (void)state; /* a ridge along y: 0 at x = 0 and 20, 0.2 at x = 10 */
    static tu_bed_surface bed;
    bed = (tu_bed_surface){.columns = 3, .rows = 2, .map_dx_mm = 10.0, .map_dy_mm = 40.0};
    bed.map_mm[1] = bed.map_mm[4] = 0.2;
    tu_solid solid = tu_solid_start_bed(&bed, true);
    check_close(meets_z(&solid, ball_of(6.0), 10.0, 20.0), 0.2, 1e-7, "on the ridge, mm");
    check_close(meets_z(&solid, flat_of(6.0), 5.0, 20.0), 0.1 + 0.02 * 3.0, 1e-3, "beside, mm");
    check_close(meets_z(&solid, flat_of(6.0), 15.0, 20.0), 0.1 + 0.02 * 3.0, 1e-3, "behind, mm");
    check_close(meets_z(&solid, flat_of(6.0), 100.0, 20.0), 0.0, 1e-7, "off the map, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_flat_cutter_meets_a_wall_at_half_its_diameter),
        cmocka_unit_test(any_cutter_meets_a_face_with_its_tip),
        cmocka_unit_test(round_and_pointed_cutters_meet_a_wall_where_they_are_as_wide_as_its_top),
        cmocka_unit_test(round_and_pointed_cutters_come_down_on_an_edge_with_their_sides),
        cmocka_unit_test(a_disc_that_passes_a_corner_meets_its_point),
        cmocka_unit_test(a_turned_wall_is_met_along_its_own_normal),
        cmocka_unit_test(a_bore_is_met_from_inside),
        cmocka_unit_test(a_cutter_goes_through_a_bore_only_where_it_fits),
        cmocka_unit_test(a_slanting_path_is_measured_along_itself),
        cmocka_unit_test(contacts_agree_with_solids_that_share_no_code),
        cmocka_unit_test(the_clearance_is_never_more_than_there_is),
        cmocka_unit_test(a_cutter_that_just_touched_may_move_away_but_not_on_nor_along),
        cmocka_unit_test(away_from_one_side_of_a_bore_the_other_side_counts),
        cmocka_unit_test(a_tilted_bed_is_met_uphill_of_a_flat_cutter_and_tangent_to_a_ball),
        cmocka_unit_test(a_map_is_met_where_it_is_highest_under_the_cutter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
