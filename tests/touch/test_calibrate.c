/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_calibrate.c - known plates are found again from simulated contacts (plate_bench.h), worked
 * examples with a pencil, budgets.
 *
 * Sources: the GUM (JCGM 100:2008) for the budgets; contacts from solids moved against each other.
 */
#include "plate_bench.h"

#include <math.h>
#include <string.h>

/* Rounding and the bisection of contacts at coordinates of some hundred millimetres. */
static const double EXACT_MM = 1e-9;

static void check_figure(const bench *on, tu_calibrated_kind kind, int index, int cutter,
                         double expected)
{
    const tu_calibrated *figure = bench_figure(on, kind, index, cutter);
    char name[TU_FIGURE_NAME_SIZE];
    tu_calibrated_name(name, &on->request, figure);
    assert_true(figure->determined);
    check_close(figure->value_mm, expected, EXACT_MM, name);
}

static void place(bench *on, tu_contact contact, int outward, size_t cutter, double at)
{
    on->touch[on->request.touch_count++] =
        (tu_calibration_touch){contact, TU_AXIS_X, outward, 0, cutter, at};
}

static void a_plate_on_both_edges_gives_offset_plus_radius_with_a_pencil(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    on.request.block[0] = tu_quantity_mm(60.0, 0.01);
    place(&on, TU_CONTACT_WALL, -1, 0, 100.0);
    place(&on, TU_CONTACT_WALL, +1, 0, 179.05);
    check_status(bench_solve(&on), TU_OK, &on.error);
    /* (179.05 - 100.00 - 60.00) / 2 = 9.525 = 6.35 + 3.175 */
    check_figure(&on, TU_CALIBRATED_SUM, 0, 0, 9.525);
    assert_false(
        bench_figure(&on, TU_CALIBRATED_SUM, 0, 0)->suspect); /* the shop has no such sum */
    assert_false(bench_figure(&on, TU_CALIBRATED_WALL, 0, -1)->determined);
    check_nan(bench_figure(&on, TU_CALIBRATED_WALL, 0, -1)->value_mm, "offset, mm");
    check_nan(bench_figure(&on, TU_CALIBRATED_WALL, 0, -1)->uncertainty.expanded_mm, "U, mm");
    assert_false(on.result.determined);
}

static void a_bare_touch_on_the_same_edge_gives_the_offset_of_an_outward_wall(void **state)
{
    (void)state;
    static bench on; /* 121.175 - 3.175 = 118 is the edge; the face stands at 114.825 - 3.175 */
    bench_start(&on, 1);
    place(&on, TU_CONTACT_WALL, -1, 0, 100.0);
    place(&on, TU_CONTACT_BARE, -1, 0, 106.35);
    check_status(bench_solve(&on), TU_OK, &on.error);
    check_figure(&on, TU_CALIBRATED_WALL, 0, -1, 6.35); /* 106.35 - 100 */
    /* The diameter is a by-product that nothing waits for. */
    assert_false(bench_figure(&on, TU_CALIBRATED_CUTTER, 0, -1)->determined);
    assert_false(bench_figure(&on, TU_CALIBRATED_CUTTER, 0, -1)->needed);
    assert_true(on.result.determined);
    assert_int_equal(on.result.advice_count, 0);
}

static void bare_touches_give_the_cutter_and_a_slot_does_too(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_state_block(&on, 0.01);
    on.request.slot[0] = tu_quantity_mm(20.0, 0.01);
    place(&on, TU_CONTACT_BARE, -1, 0, 96.825);
    place(&on, TU_CONTACT_BARE, +1, 0, 163.175);
    place(&on, TU_CONTACT_SLOT, -1, 1, 301.5875);
    place(&on, TU_CONTACT_SLOT, +1, 1, 318.4125);
    check_status(bench_solve(&on), TU_OK, &on.error);
    check_figure(&on, TU_CALIBRATED_CUTTER, 0, -1, 6.35);  /* 163.175 - 96.825 - 60 */
    check_figure(&on, TU_CALIBRATED_CUTTER, 1, -1, 3.175); /* 20 - (318.4125 - 301.5875) */
    assert_true(on.result.determined);
}

static void thickness_is_face_less_seat(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    on.truth.thickness = 12.34;
    bench_touch_z(&on, 'f', 2);
    bench_touch_z(&on, 's', 2);
    check_status(bench_solve(&on), TU_OK, &on.error);
    check_figure(&on, TU_CALIBRATED_THICKNESS, 0, -1, 12.34);
    check_close(bench_figure(&on, TU_CALIBRATED_THICKNESS, 0, -1)->old_mm, 9.53, 0.0, "old, mm");
}

/* A truth at random: offsets inside and outside, both facings, cutters, block, slot, bore. */
static void draw(bench *on, uint64_t seed)
{
    bench_start(on, seed);
    bench_bore(on);
    check_random *random = &on->random;
    for (size_t k = 0; k < 2; k++) {
        on->truth.origin[k] = check_random_uniform(random, -400.0, 400.0);
        on->truth.width[k] = check_random_uniform(random, 30.0, 90.0);
        on->truth.slot_at[k] = check_random_uniform(random, 400.0, 500.0);
        on->truth.slot_width[k] = check_random_uniform(random, 10.0, 30.0);
        on->truth.offset[k] = check_random_uniform(random, -12.0, 12.0);
        on->truth.outward[k] = check_random_below(random, 2) == 0;
        on->truth.bore_out[k] = check_random_uniform(random, -30.0, 30.0);
        on->plate.wall[k].facing = on->truth.outward[k] ? TU_FACES_OUTWARD : TU_FACES_INWARD;
        on->plate.wall[k].offset.value_mm = NAN;
        on->plate.bore.centre[k].value_mm = NAN;
        on->request.slot[k] = tu_quantity_mm(on->truth.slot_width[k], 0.01);
    }
    on->truth.bore_diameter = check_random_uniform(random, 15.0, 40.0);
    on->plate.bore.diameter.value_mm = NAN;
    on->truth.thickness = check_random_uniform(random, 2.0, 30.0);
    on->truth.cutter_diameter[0] = check_random_uniform(random, 1.0, 8.0);
    on->truth.cutter_diameter[1] = check_random_uniform(random, 1.0, 8.0);
    bench_state_block(on, 0.01);
}

static void check_all_determined(const bench *on)
{
    for (size_t k = 0; k < on->result.count; k++) {
        const tu_calibrated *figure = &on->result.figure[k];
        char name[TU_FIGURE_NAME_SIZE];
        tu_calibrated_name(name, &on->request, figure);
        assert_true(figure->determined);
        check_close(figure->value_mm, bench_truth_of(on, figure), EXACT_MM, name);
    }
}

static void any_plate_is_found_again_from_walls_and_bare_touches(void **state)
{
    (void)state;
    static bench on;
    for (uint64_t seed = 1; seed <= 300; seed++) {
        draw(&on, seed);
        for (const char *edge = "lrfk"; *edge != '\0'; edge++) {
            bench_touch(&on, *edge, *edge == 'l' || *edge == 'r' ? 'a' : 'b', 0, 1);
            bench_touch(&on, *edge, '-', 0, 1);
        }
        bench_touch_z(&on, 'f', 1);
        bench_touch_z(&on, 's', 1);
        check_status(bench_solve(&on), TU_OK, &on.error);
        assert_int_equal(on.result.count, 4); /* thickness, two walls, the cutter */
        check_all_determined(&on);
    }
}

static void any_plate_is_found_again_from_walls_and_a_slot(void **state)
{
    (void)state;
    static bench on;
    for (uint64_t seed = 1; seed <= 300; seed++) {
        draw(&on, seed);
        for (const char *edge = "lrfk"; *edge != '\0'; edge++)
            bench_touch(&on, *edge, *edge == 'l' || *edge == 'r' ? 'b' : 'a', 1, 1);
        bench_touch(&on, 'f', '=', 1, 1);
        bench_touch(&on, 'k', '=', 1, 1);
        check_status(bench_solve(&on), TU_OK, &on.error);
        check_all_determined(&on);
    }
}

static void any_bore_is_found_again_with_bare_touches(void **state)
{
    (void)state;
    static bench on;
    for (uint64_t seed = 1; seed <= 300; seed++) {
        draw(&on, seed);
        for (const char *edge = "lrfk"; *edge != '\0'; edge++) {
            bench_touch(&on, *edge, '<', 0, 1);
            bench_touch(&on, *edge, '>', 0, 1);
        }
        bench_touch(&on, 'l', '-', 0, 1);
        check_status(bench_solve(&on), TU_OK, &on.error);
        assert_int_equal(on.result.count, 4); /* two centres, the diameter, the cutter */
        check_all_determined(&on);
    }
}

static void trusted_diameters_part_offset_and_radius(void **state)
{
    (void)state;
    static bench on;
    for (uint64_t seed = 1; seed <= 100; seed++) {
        draw(&on, seed);
        on.request.trust_cutters = true;
        on.cutter[0].diameter = tu_quantity_mm(on.truth.cutter_diameter[0], 0.02);
        bench_touch(&on, 'l', 'a', 0, 1);
        bench_touch(&on, 'r', 'a', 0, 1);
        check_status(bench_solve(&on), TU_OK, &on.error);
        check_all_determined(&on);
        /* What is left: half the block's tolerance and half the cutter's, both by sqrt(3). */
        const tu_uncertainty *u = &bench_figure(&on, TU_CALIBRATED_WALL, 0, -1)->uncertainty;
        check_close(u->standard_mm, hypot(0.005, 0.01) / sqrt(3.0), 1e-9, "u of offset, mm");
    }
}

static void inward_and_outward_walls_with_one_cutter_stay_sums(void **state)
{
    (void)state;
    static bench on;
    draw(&on, 5);
    on.truth.outward[0] = true;
    on.truth.outward[1] = false;
    on.plate.wall[0].facing = TU_FACES_OUTWARD;
    on.plate.wall[1].facing = TU_FACES_INWARD;
    for (const char *edge = "lr"; *edge != '\0'; edge++) {
        bench_touch(&on, *edge, 'a', 0, 1);
        bench_touch(&on, *edge, 'b', 0, 1);
    }
    check_status(bench_solve(&on), TU_OK, &on.error);
    check_figure(&on, TU_CALIBRATED_SUM, 0, 0,
                 on.truth.offset[0] + on.truth.cutter_diameter[0] / 2.0);
    check_figure(&on, TU_CALIBRATED_SUM, 1, 0,
                 on.truth.offset[1] - on.truth.cutter_diameter[0] / 2.0);
    assert_false(on.result.determined);
}

static void a_second_cutter_on_the_walls_alone_settles_nothing(void **state)
{
    (void)state;
    static bench on;
    draw(&on, 6);
    for (size_t cutter = 0; cutter < 2; cutter++) {
        bench_touch(&on, 'l', 'a', cutter, 1);
        bench_touch(&on, 'r', 'a', cutter, 1);
    }
    check_status(bench_solve(&on), TU_OK, &on.error);
    assert_false(bench_figure(&on, TU_CALIBRATED_WALL, 0, -1)->determined);
    double sign = on.truth.outward[0] ? 0.5 : -0.5;
    for (int c = 0; c < 2; c++) {
        assert_false(bench_figure(&on, TU_CALIBRATED_CUTTER, c, -1)->determined);
        check_figure(&on, TU_CALIBRATED_SUM, 0, c,
                     on.truth.offset[0] + sign * on.truth.cutter_diameter[c]);
    }
}

static void a_bore_with_one_cutter_gives_centre_and_clearance(void **state)
{
    (void)state;
    static bench on;
    draw(&on, 7);
    for (const char *edge = "lr"; *edge != '\0'; edge++) {
        bench_touch(&on, *edge, '<', 0, 1);
        bench_touch(&on, *edge, '>', 0, 1);
    }
    check_status(bench_solve(&on), TU_OK, &on.error);
    check_figure(&on, TU_CALIBRATED_BORE_CENTRE, 0, -1, on.truth.bore_out[0]);
    check_figure(&on, TU_CALIBRATED_CLEARANCE, 0, 0,
                 on.truth.bore_diameter - on.truth.cutter_diameter[0]);
    assert_false(bench_figure(&on, TU_CALIBRATED_BORE_DIAMETER, 0, -1)->determined);
    assert_false(on.result.determined);
}

static const tu_budget_line *line_of(const tu_uncertainty *budget, const char *source)
{
    for (size_t k = 0; k < budget->count; k++)
        if (strcmp(budget->line[k].source, source) == 0)
            return &budget->line[k];
    return NULL;
}

static void the_budget_follows_the_pencil(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    on.request.block[0] = tu_quantity_mm(60.0, 0.03);
    on.request.machine.step_mm = 0.01;
    /* Repeats at +-0.005 about their mean, in four groups of two. */
    const struct {
        tu_contact contact;
        int outward;
        double at;
    } groups[] = {{TU_CONTACT_WALL, -1, 100.0},
                  {TU_CONTACT_WALL, +1, 179.05},
                  {TU_CONTACT_BARE, -1, 106.35},
                  {TU_CONTACT_BARE, +1, 172.70}};
    for (size_t g = 0; g < 4; g++) {
        place(&on, groups[g].contact, groups[g].outward, 0, groups[g].at - 0.005);
        place(&on, groups[g].contact, groups[g].outward, 0, groups[g].at + 0.005);
    }
    check_status(bench_solve(&on), TU_OK, &on.error);
    /* s^2 = 2 (0.005)^2 = 5e-5 in each group; pooled over 4 groups with 4 degrees of freedom. */
    check_relative(on.result.touch_sd_mm[0], sqrt(5e-5), 1e-9, "s of a touch, mm");
    check_close(on.result.touch_dof[0], 4.0, 0.0, "degrees of freedom");
    /* o = (wall right - wall left - bare right + bare left) / 2: four means, the width cancels. */
    const tu_uncertainty *offset = &bench_figure(&on, TU_CALIBRATED_WALL, 0, -1)->uncertainty;
    check_relative(line_of(offset, "touches along X")->standard_mm, sqrt(5e-5 / 2.0), 1e-7,
                   "touches in o, mm");
    check_relative(line_of(offset, "machine step")->standard_mm, 0.01 / sqrt(12.0), 1e-7,
                   "step in o, mm");
    /* D = bare right - bare left - W. */
    const tu_uncertainty *diameter = &bench_figure(&on, TU_CALIBRATED_CUTTER, 0, -1)->uncertainty;
    check_relative(line_of(diameter, "block width along X")->standard_mm, 0.03 / sqrt(3.0), 1e-7,
                   "width in D, mm");
    check_relative(line_of(diameter, "touches along X")->standard_mm, sqrt(5e-5), 1e-7,
                   "touches in D, mm");
}

static void a_stored_repeatability_is_pooled(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    on.request.machine.repeatability[TU_AXIS_Z] = (tu_repeatability){0.004, 18.0};
    const double z[] = {-40.468, -40.472, -50.0, -50.004};
    for (size_t k = 0; k < 4; k++)
        on.touch[on.request.touch_count++] = (tu_calibration_touch){
            k < 2 ? TU_CONTACT_FACE : TU_CONTACT_SEAT, TU_AXIS_Z, 0, 0, 0, z[k]};
    check_status(bench_solve(&on), TU_OK, &on.error);
    /* GUM 4.2.4: (18 x 0.004^2 + 2 x 0.002^2 x 2) / 20; each pair's sum of squares is 8e-6. */
    check_relative(on.result.touch_sd_mm[2], sqrt((18.0 * 16e-6 + 16e-6) / 20.0), 1e-9, "s, mm");
    check_close(on.result.touch_dof[2], 20.0, 0.0, "degrees of freedom");
}

static void flutes_and_run_out_enter_the_budget_and_the_shop_figure(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_state_block(&on, 0.01);
    on.cutter[0].flutes = 2;
    on.cutter[0].helix_rad = 0.0;
    on.cutter[0].turned_within_rad = 0.1;
    on.cutter[0].run_out = tu_quantity_exact(0.02);
    bench_touch(&on, 'l', '-', 0, 2);
    bench_touch(&on, 'r', '-', 0, 2);
    check_status(bench_solve(&on), TU_OK, &on.error);
    const tu_calibrated *cutter = bench_figure(&on, TU_CALIBRATED_CUTTER, 0, -1);
    check_close(cutter->value_mm, 6.35, EXACT_MM, "effective diameter, mm");
    /* The mean reach of an edge within 0.1 rad of the wall is sin(0.1)/0.1 of the radius. */
    check_relative(cutter->shop_mm, 6.35 / (sin(0.1) / 0.1), 1e-12, "diameter to store, mm");
    check_relative(cutter->old_mm, 6.35 * sin(0.1) / 0.1, 1e-12, "old effective diameter, mm");
    /* e/2/sqrt(2) at both contacts. */
    check_relative(line_of(&cutter->uncertainty, "run-out")->standard_mm, 0.01, 1e-9, "mm");
    double a = 0.1;
    double spread = sqrt(0.5 + sin(2 * a) / (4 * a) - pow(sin(a) / a, 2)) * 3.175;
    check_relative(line_of(&cutter->uncertainty, "flute alignment")->standard_mm,
                   spread * sqrt(2.0), 1e-6, "mm");
}

static void the_way_of_travel_follows_the_surface(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    tu_calibration_touch touch = {TU_CONTACT_WALL, TU_AXIS_X, -1, 0, 0, 0.0};
    assert_int_equal(tu_calibration_travel(&on.plate, &touch), +1); /* docs/geometry.md, example */
    on.plate.wall[0].facing = TU_FACES_INWARD;
    assert_int_equal(tu_calibration_travel(&on.plate, &touch), -1);
    touch.contact = TU_CONTACT_BARE;
    assert_int_equal(tu_calibration_travel(&on.plate, &touch), +1);
    touch.contact = TU_CONTACT_SLOT;
    assert_int_equal(tu_calibration_travel(&on.plate, &touch), -1);
    touch.contact = TU_CONTACT_BORE_LOW;
    assert_int_equal(tu_calibration_travel(&on.plate, &touch), -1);
    touch.contact = TU_CONTACT_BORE_HIGH;
    assert_int_equal(tu_calibration_travel(&on.plate, &touch), +1);
}

static void a_spread_is_known_along_the_axes_that_were_touched_again(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    on.noise_mm = 0.004;
    bench_state_block(&on, 0.01);
    bench_touch(&on, 'l', 'a', 0, 3);
    bench_touch(&on, 'l', '-', 0, 3);
    bench_touch(&on, 'f', 'b', 0, 1);
    bench_touch(&on, 'f', '-', 0, 1);
    bench_touch_z(&on, 'f', 1);
    bench_touch_z(&on, 's', 1);
    check_status(bench_solve(&on), TU_OK, &on.error);
    assert_true(bench_figure(&on, TU_CALIBRATED_WALL, 0, -1)->spread_known);
    assert_false(bench_figure(&on, TU_CALIBRATED_WALL, 1, -1)->spread_known);
    assert_false(bench_figure(&on, TU_CALIBRATED_THICKNESS, 0, -1)->spread_known);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plate_on_both_edges_gives_offset_plus_radius_with_a_pencil),
        cmocka_unit_test(a_bare_touch_on_the_same_edge_gives_the_offset_of_an_outward_wall),
        cmocka_unit_test(bare_touches_give_the_cutter_and_a_slot_does_too),
        cmocka_unit_test(thickness_is_face_less_seat),
        cmocka_unit_test(any_plate_is_found_again_from_walls_and_bare_touches),
        cmocka_unit_test(any_plate_is_found_again_from_walls_and_a_slot),
        cmocka_unit_test(any_bore_is_found_again_with_bare_touches),
        cmocka_unit_test(trusted_diameters_part_offset_and_radius),
        cmocka_unit_test(inward_and_outward_walls_with_one_cutter_stay_sums),
        cmocka_unit_test(a_second_cutter_on_the_walls_alone_settles_nothing),
        cmocka_unit_test(a_bore_with_one_cutter_gives_centre_and_clearance),
        cmocka_unit_test(the_budget_follows_the_pencil),
        cmocka_unit_test(a_stored_repeatability_is_pooled),
        cmocka_unit_test(a_spread_is_known_along_the_axes_that_were_touched_again),
        cmocka_unit_test(flutes_and_run_out_enter_the_budget_and_the_shop_figure),
        cmocka_unit_test(the_way_of_travel_follows_the_surface),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
