/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_scene_solids.c - where a scene's plate, stock, bed and blocks stand, felt with a probe move,
 * and where its zero truly is. Expected places are sums of the scene's own numbers.
 */
#include "check.h"

#include "program/scene_solids.h"
#include "sample_scene.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double tolerance = 1e-7; /* mm */

static sample_run run;

/* Lets a bare pin of 6.35 start at a place and probe along an axis; where it stops. */
static double felt(tu_machine_point from, char axis, double by)
{
    char program[80];
    run.scene.start = from;
    snprintf(program, sizeof program, "G91 F100\nG38.2 %c%.3f\nM2\n", axis, by);
    check_status(sample_rehearse(&run, program), TU_OK, &run.error);
    if (run.hits == 0)
        return NAN;
    return axis == 'X'   ? run.hit[0].position.x
           : axis == 'Y' ? run.hit[0].position.y
                         : run.hit[0].position.z;
}

/* The same where something that does not conduct is in the way: where it was met, or NaN. */
static double met(tu_machine_point from, char axis, double by, const char *name)
{
    double hit = felt(from, axis, by);
    if (!isnan(hit) || strcmp(run.result.struck, name) != 0)
        return NAN;
    return axis == 'X' ? run.result.at.x : axis == 'Y' ? run.result.at.y : run.result.at.z;
}

static tu_machine_point at(double x, double y, double z)
{
    return (tu_machine_point){x, y, z};
}

static void the_plates_own_sides_stand_on_each_corner_as_it_is_turned(void **state)
{
    (void)state; /* a 6.35, b 6.40; radius 3.175; stock 200..500, 150..350; face at -72.47 */
    sample_scene_start(&run.scene);
    check_close(felt(at(170, 170, -75), 'X', 30), 200 - 6.35 - 3.175, tolerance, "a, left, mm");
    check_close(felt(at(220, 120, -75), 'Y', 30), 150 - 6.40 - 3.175, tolerance, "b, front, mm");
    sample_scene_lay(&run.scene, "front-right-top");
    check_close(felt(at(530, 170, -75), 'X', -30), 500 + 6.40 + 3.175, tolerance, "b, right, mm");
    check_close(felt(at(480, 120, -75), 'Y', 30), 150 - 6.35 - 3.175, tolerance, "a, front, mm");
    sample_scene_lay(&run.scene, "back-right-top");
    check_close(felt(at(530, 330, -75), 'X', -30), 500 + 6.35 + 3.175, tolerance, "a, right, mm");
    check_close(felt(at(480, 380, -75), 'Y', -30), 350 + 6.40 + 3.175, tolerance, "b, back, mm");
    sample_scene_lay(&run.scene, "back-left-top");
    check_close(felt(at(170, 330, -75), 'X', 30), 200 - 6.40 - 3.175, tolerance, "b, left, mm");
    check_close(felt(at(220, 380, -75), 'Y', -30), 350 + 6.35 + 3.175, tolerance, "a, back, mm");
}

static void a_plate_that_is_not_turned_serves_x_with_wall_a_everywhere(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.plate.turned = false;
    sample_scene_lay(&run.scene, "front-right-top");
    check_close(felt(at(530, 170, -75), 'X', -30), 500 + 6.35 + 3.175, tolerance, "right, mm");
    sample_scene_lay(&run.scene, "back-left-top");
    check_close(felt(at(170, 330, -75), 'X', 30), 200 - 6.35 - 3.175, tolerance, "left, mm");
    check_close(felt(at(220, 380, -75), 'Y', -30), 350 + 6.40 + 3.175, tolerance, "back, mm");
}

static void the_face_is_as_high_as_bed_stock_and_plate_together(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    check_close(felt(at(220, 170, -60), 'Z', -30), -100 + 18 + 9.53, tolerance, "face, mm");
    /* it reaches 60 mm over the stock, by default */
    check_close(felt(at(260 + 3.1, 170, -60), 'Z', -30), -72.47, tolerance, "its end, mm");
    check_close(met(at(260 + 3.2, 170, -60), 'Z', -30, "stock"), -82, tolerance, "stock, mm");
    check_close(met(at(560, 400, -60), 'Z', -50, "bed"), -100, tolerance, "bed, mm");
    run.scene.plate.extent[0][0] = tu_quantity_exact(-35);
    check_close(felt(at(235 + 3.1, 170, -60), 'Z', -30), -72.47, tolerance, "stated end, mm");
    check_close(met(at(235 + 3.2, 170, -60), 'Z', -30, "stock"), -82, tolerance, "stock, mm");
}

static void a_lip_hangs_beside_the_stock_under_an_outside_wall(void **state)
{
    (void)state; /* 4 mm below the seat at -82, 6 mm broad: from 0.35 to 6.35 outside */
    static tu_solids solids;
    sample_scene_start(&run.scene);
    tu_scene_build_solids(&run.scene, &solids);
    assert_int_equal(solids.count, 5); /* bed, stock, slab, two lips */
    const tu_prism *lip = &solids.solid[3].prism;
    check_close(lip->low_mm, -86, tolerance, "low, mm");
    check_close(lip->high_mm, -82, tolerance, "high, mm");
    check_close(tu_prism_gap(lip, 190, 170), 3.65, tolerance, "outside of it, mm");
    check_close(tu_prism_gap(lip, 199.8, 170), 0.15, tolerance, "between it and the stock, mm");
    run.scene.wrong_turns = 1; /* there the stock would be in its way */
    tu_scene_build_solids(&run.scene, &solids);
    assert_int_equal(solids.count, 3);
    run.scene.wrong_turns = 0;
    run.scene.plate.wall[0].offset = tu_quantity_exact(-2); /* over the stock */
    tu_scene_build_solids(&run.scene, &solids);
    assert_int_equal(solids.count, 4);
}

static void rising_walls_stand_on_the_side_that_they_look_away_from(void **state)
{
    (void)state; /* inward at 2 outside, outward at -25 over the stock; 8 above the face */
    sample_scene_start(&run.scene);
    tu_wall *a = &run.scene.plate.wall[0], *b = &run.scene.plate.wall[1];
    a->offset = tu_quantity_exact(2);
    a->facing = TU_FACES_INWARD;
    b->offset = tu_quantity_exact(-25);
    a->rise = b->rise = tu_quantity_exact(8);
    check_close(felt(at(230, 160, -70), 'X', -60), 198 + 3.175, tolerance, "a from over it, mm");
    check_close(felt(at(230, 160, -70), 'Y', 60), 175 - 3.175, tolerance, "b from outside, mm");
    /* their other sides are 6 mm off, their tops 8 mm above the face; slab 12 mm beyond */
    check_close(felt(at(187.9, 160, -70), 'X', 30), 192 - 3.175, tolerance, "a's back, mm");
    check_close(felt(at(230, 190, -70), 'Y', -60), 181 + 3.175, tolerance, "b's back, mm");
    check_close(felt(at(195, 160, -60), 'Z', -30), -72.47 + 8, tolerance, "a's top, mm");
    check_close(felt(at(198 - 11.9 - 3.175, 160, -60), 'Z', -30), -72.47, tolerance, "slab, mm");
    check_close(met(at(198 - 12.1 - 3.175, 160, -60), 'Z', -50, "bed"), -100, tolerance,
                "beyond, mm");
}

static void make_ring(void)
{
    sample_scene_start(&run.scene);
    run.scene.plate.wall[0].present = run.scene.plate.wall[1].present = false;
    run.scene.plate.bore = (tu_bore){.present = true,
                                     .diameter = tu_quantity_exact(25),
                                     .centre = {tu_quantity_exact(-20), tu_quantity_exact(-24)}};
}

static void a_bore_lies_over_the_stock_and_turns_with_the_plate(void **state)
{
    (void)state;
    make_ring();
    check_close(felt(at(220, 174, -75), 'X', 30), 220 + 12.5 - 3.175, tolerance, "right, mm");
    check_close(felt(at(220, 174, -75), 'Y', -30), 174 - 12.5 + 3.175, tolerance, "front, mm");
    sample_scene_lay(&run.scene, "front-right-top"); /* b serves X: 24 over, a serves Y: 20 over */
    check_close(felt(at(476, 170, -75), 'X', 30), 476 + 12.5 - 3.175, tolerance, "right, mm");
    check_close(felt(at(476, 170, -75), 'Y', 30), 170 + 12.5 - 3.175, tolerance, "back, mm");
}

static void plate_and_stock_turn_about_the_front_left_corner(void **state)
{
    (void)state; /* a wall turned by t: cos(t) (x - Cx) + sin(t) (y - Cy) = -(6.35 + 3.175) */
    sample_scene_start(&run.scene);
    for (int i = -2; i <= 2; i++) {
        double t = 0.01 * i;
        run.scene.stock_angle_rad = t;
        double x = 200 + (-(6.35 + 3.175) - 30 * sin(t)) / cos(t);
        check_close(felt(at(170, 180, -75), 'X', 30), x, tolerance, "left, mm");
        /* front-right: the corner itself is carried round, wall b looks along (cos t, sin t) */
        sample_scene_lay(&run.scene, "front-right-top");
        double cx = 200 + 300 * cos(t), cy = 150 + 300 * sin(t);
        x = cx + (6.40 + 3.175 - (180 - cy) * sin(t)) / cos(t);
        check_close(felt(at(530, 180, -75), 'X', -40), x, tolerance, "right, mm");
        sample_scene_lay(&run.scene, "front-left-top");
    }
}

static void a_plate_turned_wrong_lies_where_it_was_turned_to(void **state)
{
    (void)state; /* a quarter turn carries what lay over the stock out over its left edge... */
    sample_scene_start(&run.scene);
    run.scene.wrong_turns = 1; /* body x from -60 to +6.40, y from -6.35 to +60 about the corner */
    check_close(felt(at(170, 170, -60), 'Z', -30), -72.47, tolerance, "beside the stock, mm");
    check_close(met(at(220, 170, -60), 'Z', -30, "stock"), -82, tolerance, "over the stock, mm");
    run.scene.wrong_turns = -3;
    check_close(felt(at(170, 170, -60), 'Z', -30), -72.47, tolerance, "three back, mm");
}

static void a_slab_on_the_bed_lies_clear_of_the_stock(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.plate.wall[0].present = run.scene.plate.wall[1].present = false;
    run.scene.seat = TU_SEAT_BED;
    run.scene.bed.slope_x = 0.001; /* bed under the plate's corner: -99.8 */
    check_close(felt(at(170, 120, -60), 'Z', -39.99), -100 + 0.2 + 9.53, tolerance, "face, mm");
    run.scene.stock_present = false;
    check_close(felt(at(170, 120, -60), 'Z', -39.99), -100 + 0.2 + 9.53, tolerance, "alone, mm");
}

static void a_bed_that_conducts_gives_hits(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.bed_conducts = true;
    run.scene.bed.slope_y = 0.002;
    check_close(felt(at(560, 400, -60), 'Z', -50), -100 + 0.002 * (400 + 3.175), 1e-7, "bed, mm");
}

static void blocks_stand_in_the_way_by_name(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    sample_scene_add_block(&run.scene, "clamp front", at(300, 160, -90), at(320, 200, -60));
    check_close(met(at(290, 170, -80.9), 'X', 30, "clamp front"), 300 - 3.175, tolerance, "x, mm");
}

static void the_truth_is_the_corner_of_the_stock_as_it_lies(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.stock_angle_rad = 0.02;
    double c = cos(0.02), s = sin(0.02);
    for (size_t i = 0; i < 8; i++) {
        tu_target target;
        tu_machine_point zero;
        check_status(tu_target_parse(tu_target_name_at(i), &target, NULL), TU_OK, NULL);
        check_status(tu_scene_truth(&run.scene, target, &zero, NULL), TU_OK, NULL);
        double x = target.outward[0] > 0 ? 300 : 0, y = target.outward[1] > 0 ? 200 : 0;
        check_close(zero.x, 200 + c * x - s * y, 1e-9, "x, mm");
        check_close(zero.y, 150 + s * x + c * y, 1e-9, "y, mm");
        check_close(zero.z, target.outward[2] > 0 ? -82 : -100, 1e-9, "z, mm");
    }
}

static void the_truth_of_a_face_leaves_the_other_axes_out(void **state)
{
    (void)state;
    tu_machine_point zero;
    tu_target right = {.outward = {1, 0, 0}}, top = {.outward = {0, 0, 1}},
              bottom = {.outward = {0, 0, -1}};
    sample_scene_start(&run.scene);
    sample_scene_lay(&run.scene, "back-right-top");
    run.scene.stock_angle_rad = 0.02;
    check_status(tu_scene_truth(&run.scene, right, &zero, NULL), TU_OK, NULL);
    check_close(zero.x, 200 + cos(0.02) * 300 - sin(0.02) * 200, 1e-9, "x at the plate, mm");
    check_nan(zero.y, "y");
    check_nan(zero.z, "z");
    run.scene.stock_present = run.scene.plate_present = false;
    check_status(tu_scene_truth(&run.scene, top, &zero, &run.error), TU_DATA_MISSING, NULL);
    check_contains(run.error.message, "top");
    check_status(tu_scene_truth(&run.scene, bottom, &zero, NULL), TU_OK, NULL);
    check_close(zero.z, -100, 1e-9, "bed, mm");
}

/* --- Scenes that cannot be --- */

static void refused(tu_status status, const char *where, const char *part)
{
    check_status(tu_scene_check(&run.scene, &run.error), status, NULL);
    assert_string_equal(run.error.where, where);
    check_contains(run.error.message, part);
    sample_scene_start(&run.scene);
}

static void a_scene_without_what_it_needs_is_refused(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    check_status(tu_scene_check(&run.scene, &run.error), TU_OK, &run.error);
    run.scene.stock_size_mm[2] = NAN;
    refused(TU_DATA_MISSING, "stock", "thickness");
    run.scene.cutter.diameter = tu_quantity_none();
    refused(TU_DATA_MISSING, "cutter", "diameter");
    run.scene.cutter.shape = TU_CUTTER_BULL;
    refused(TU_DATA_MISSING, "cutter", "corner radius");
    run.scene.cutter.shape = TU_CUTTER_VEE;
    refused(TU_DATA_MISSING, "cutter", "included angle");
    run.scene.plate.thickness = tu_quantity_none();
    refused(TU_DATA_MISSING, "plate", "thickness");
    run.scene.plate.wall[1].offset = tu_quantity_none();
    refused(TU_DATA_MISSING, "plate", "offset");
    run.scene.plate_corner = (tu_target){.outward = {0, 0, 1}};
    refused(TU_DATA_MISSING, "plate", "front-left-top");
}

static void numbers_that_cannot_be_are_refused(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.stock_size_mm[0] = 0;
    refused(TU_DATA_RANGE, "stock", "above zero");
    run.scene.noise_mm = -0.001;
    refused(TU_DATA_RANGE, "machine", "noise");
    run.scene.latch_delay_s = INFINITY;
    refused(TU_DATA_RANGE, "machine", "latch");
    run.scene.machine.travel_high_mm[1] = NAN;
    refused(TU_DATA_RANGE, "machine", "travel of Y");
    run.scene.start.x = -1;
    refused(TU_DATA_RANGE, "start", "outside the travel");
    run.scene.bed.slope_x = 2;
    refused(TU_DATA_RANGE, "bed", "mm per mm");
    run.scene.bed.columns = 60;
    run.scene.bed.rows = 60;
    refused(TU_DATA_RANGE, "bed", "points");
    run.scene.cutter.core = tu_quantity_exact(7);
    refused(TU_DATA_RANGE, "cutter", "core");
    sample_scene_add_block(&run.scene, "clamp", at(1, 1, 1), at(2, 2, 1));
    refused(TU_DATA_RANGE, "clamp", "lower to a higher Z");
}

static void things_that_contradict_each_other_are_refused(void **state)
{
    (void)state;
    sample_scene_start(&run.scene);
    run.scene.plate.extent[0][1] = tu_quantity_exact(10);
    refused(TU_DATA_CONFLICT, "plate", "wall a");
    run.scene.seat = TU_SEAT_BED;
    refused(TU_DATA_CONFLICT, "plate", "into the stock");
    run.scene.stock_present = false;
    refused(TU_DATA_CONFLICT, "plate", "there is none");
    make_ring();
    run.scene.plate.extent[1][0] = tu_quantity_exact(-36);
    refused(TU_DATA_CONFLICT, "plate", "along b");
    run.scene.start = at(220, 170, -73);
    check_status(sample_rehearse(&run, "M2\n"), TU_DATA_CONFLICT, NULL);
    assert_string_equal(run.error.where, "start");
    check_contains(run.error.message, "inside the plate");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_plates_own_sides_stand_on_each_corner_as_it_is_turned),
        cmocka_unit_test(a_plate_that_is_not_turned_serves_x_with_wall_a_everywhere),
        cmocka_unit_test(the_face_is_as_high_as_bed_stock_and_plate_together),
        cmocka_unit_test(a_lip_hangs_beside_the_stock_under_an_outside_wall),
        cmocka_unit_test(rising_walls_stand_on_the_side_that_they_look_away_from),
        cmocka_unit_test(a_bore_lies_over_the_stock_and_turns_with_the_plate),
        cmocka_unit_test(plate_and_stock_turn_about_the_front_left_corner),
        cmocka_unit_test(a_plate_turned_wrong_lies_where_it_was_turned_to),
        cmocka_unit_test(a_slab_on_the_bed_lies_clear_of_the_stock),
        cmocka_unit_test(a_bed_that_conducts_gives_hits),
        cmocka_unit_test(blocks_stand_in_the_way_by_name),
        cmocka_unit_test(the_truth_is_the_corner_of_the_stock_as_it_lies),
        cmocka_unit_test(the_truth_of_a_face_leaves_the_other_axes_out),
        cmocka_unit_test(a_scene_without_what_it_needs_is_refused),
        cmocka_unit_test(numbers_that_cannot_be_are_refused),
        cmocka_unit_test(things_that_contradict_each_other_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
