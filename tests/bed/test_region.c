/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Area and volume above a level: closed forms, and a quadrature by sampling over R's volcano
 * (fixtures/reference/r_volcano.json).
 */
#include "bed_sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static tu_bed_region region_of(const bed_model *made, const tu_bed_rectangle *rectangle,
                               double level_mm)
{
    tu_bed_region region;
    tu_error error;

    check_status(tu_bed_measure_region(&made->model, rectangle, level_mm, &region, &error), TU_OK,
                 &error);
    return region;
}

static void volcano_above_levels_is_as_sampled(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/r_volcano.json");
    size_t count;
    tu_bed_point *points = bed_volcano(&count);
    bed_model made = bed_model_of(points, count, false);

    for (int i = 0; i < 5; i++) {
        char path[40];
        snprintf(path, sizeof path, "above[%d].level", i);
        const tu_bed_region region = region_of(&made, NULL, check_json_number(root, path));
        snprintf(path, sizeof path, "above[%d].area", i);
        check_relative(region.above_mm2, check_json_number(root, path), 1e-4, "area, sampled");
        snprintf(path, sizeof path, "above[%d].volume", i);
        check_relative(region.above_mm3, check_json_number(root, path), 1e-5, "volume, sampled");
        check_same(region.area_mm2, 516000, "area of all, 860 by 600");
        check_same(region.highest.z_mm, 195, "highest (R: max(volcano))");
        check_same(region.lowest.z_mm, 94, "lowest (R: min(volcano))");
    }
    const tu_bed_rectangle part = {100, 500, 50, 350};
    const tu_bed_region region = region_of(&made, &part, 139.5);
    check_relative(region.above_mm2, check_json_number(root, "rectangle.area"), 3e-4, "area");
    check_relative(region.above_mm3, check_json_number(root, "rectangle.volume"), 1e-5, "volume");
    check_close(region.area_mm2, 120000, 1e-6, "area of the rectangle");
    check_close(region.unknown_mm2, 0, 1e-6, "unknown area");
    bed_model_free(&made);
    free(points);
    cJSON_Delete(root);
}

static void a_ridge_is_cut_as_by_pencil(void **state)
{
    (void)state;
    for (int mesh = 0; mesh < 2; mesh++) {
        tu_bed_point *points = bed_grid(9, 7, 100, bed_ridge);
        bed_model made = bed_model_of(points, 63, mesh);
        const tu_bed_region half = region_of(&made, NULL, 0.5);

        /* above 0.5: X 200 to 600; a roof 0.5 high over 400 by 600 */
        check_close(half.above_mm2, 240000, 1e-6, "area, mm2");
        check_close(half.above_mm3, 0.25 * 240000, 1e-6, "volume, mm3");
        const tu_bed_rectangle part = {350, 500, 130, 170};
        const tu_bed_region cut = region_of(&made, &part, 0.8);
        /* X 350 to 480, 40 wide: heights over 0.8: 0.075, 0.2 at 400, 0 at 480 */
        check_close(cut.above_mm2, 130 * 40, 1e-8, "area in the part, mm2");
        check_close(cut.above_mm3, 40 * (50 * 0.1375 + 80 * 0.1), 1e-8, "volume, mm3");
        check_close(cut.highest.z_mm, 1, 1e-13, "highest, mm");
        check_close(cut.lowest.z_mm, 0.75, 1e-13, "lowest, mm");
        check_close(cut.lowest.x_mm, 500, 1e-9, "X of the lowest, mm");
        bed_model_free(&made);
        free(points);
    }
}

static void a_saddle_at_its_own_level_is_halved(void **state)
{
    (void)state;
    const tu_bed_point corner[4] = {{0, 0, 1.2}, {800, 0, -1.2}, {0, 600, -1.2}, {800, 600, 1.2}};
    bed_model made = bed_model_of(corner, 4, false);

    assert_int_equal(made.model.kind, TU_BED_GRID);
    /* two quarters; the mean of s t over a unit square is 1/4: each 1.2 / 4 * 400 * 300 */
    const tu_bed_region at = region_of(&made, NULL, 0);
    check_close(at.above_mm2, 240000, 1e-6, "area, mm2");
    check_close(at.above_mm3, 2 * 0.3 * 120000, 1e-6, "volume, mm3");
    /* above 1.2 q of the saddle: st > q in each of the two: 1 - q + q ln q of its area */
    for (double q = 0.0001; q < 1; q += 0.07) {
        const tu_bed_region over = region_of(&made, NULL, 1.2 * q);
        check_relative(over.above_mm2, 240000 * (1 - q + q * log(q)), 1e-9, "area, mm2");
        check_relative(over.above_mm3,
                       240000 * 1.2 * (0.25 - q + 0.75 * q * q - 0.5 * q * q * log(q)), 1e-9,
                       "volume, mm3");
    }
    bed_model_free(&made);
}

static void a_bowl_tends_to_its_paraboloid(void **state)
{
    (void)state;
    tu_bed_point *points = bed_scatter(5, 20000, 800, 600, bed_bowl);
    bed_model made = bed_model_of(points, 20000, false);
    made.model.longest_edge_mm = INFINITY; /* what chance left empty counts here */
    const tu_bed_region at = region_of(&made, NULL, 0.04);

    /* below 0.04: a disc of radius 200 of a paraboloid: volume pi r^2 h / 2; triangles of some 5 mm
     * lie up to 2.5^2 / 1e6 above it */
    check_relative(at.area_mm2 - at.above_mm2, M_PI * 200 * 200, 5e-4, "area below, mm2");
    const double all = region_of(&made, NULL, 0).above_mm3;
    check_relative(0.04 * at.area_mm2 - (all - at.above_mm3), M_PI * 40000 * 0.02, 1e-3,
                   "volume below, mm3");
    bed_model_free(&made);
    free(points);
}

static void what_nobody_touched_is_counted(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(5, 4, 100, bed_tilted);
    bed_model made = bed_model_of(points, 20, false);
    const tu_bed_rectangle wider = {-50, 200, 100, 400}, away = {500, 600, 0, 100},
                           thin = {5, 5, 0, 100};
    tu_bed_region region = region_of(&made, &wider, 0);
    tu_error error;

    check_close(region.area_mm2, 40000, 1e-9, "known, mm2");
    check_close(region.unknown_mm2, 35000, 1e-9, "unknown, mm2");
    check_status(tu_bed_measure_region(&made.model, &away, 0, &region, &error), TU_UNDETERMINED,
                 NULL);
    check_contains(error.message, "X 500.000 to 600.000");
    check_status(tu_bed_measure_region(&made.model, &thin, 0, &region, &error), TU_DATA_RANGE,
                 NULL);
    bed_model_free(&made);
    free(points);
}

static void a_lone_high_place_is_in_the_cutters_way(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_flat);
    size_t kept = 0;
    for (size_t k = 0; k < 63; k++) { /* 300 to 500 by 200 to 400 is a hole but for its middle */
        const bool in_hole = k % 9 >= 3 && k % 9 <= 5 && k / 9 >= 2 && k / 9 <= 4 && k != 31;
        points[kept] = points[k];
        if (k == 31)
            points[kept].z_mm = 2;
        kept += !in_hole;
    }
    bed_model made = bed_model_of(points, kept, false);
    const tu_bed_region at = region_of(&made, NULL, 0);

    assert_int_equal(made.model.kind, TU_BED_GRID);
    check_same(at.highest.z_mm, 2, "highest, mm");
    check_close(at.highest.x_mm, 400, 1e-12, "its X, mm");
    bed_model_free(&made);
    free(points);
}

/* Alone in a hole five places wide: on each border of a rectangle it counts, beside it not. */
static void a_lone_place_on_the_border_of_a_rectangle_counts(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_flat);
    size_t kept = 0;
    for (size_t k = 0; k < 63; k++) {
        const bool in_hole = k % 9 >= 2 && k % 9 <= 6 && k / 9 >= 1 && k / 9 <= 5 && k != 31;
        points[kept] = points[k];
        if (k == 31)
            points[kept].z_mm = 2;
        kept += !in_hole;
    }
    bed_model made = bed_model_of(points, kept, false);
    const tu_bed_rectangle on[] = {
        {0, 400, 0, 600}, {400, 800, 0, 600}, {0, 800, 0, 300}, {0, 800, 300, 600}};
    const tu_bed_rectangle off[] = {
        {0, 399.9, 0, 600}, {400.1, 800, 0, 600}, {0, 800, 0, 299.9}, {0, 800, 300.1, 600}};

    assert_int_equal(made.model.kind, TU_BED_GRID);
    for (size_t k = 0; k < 4; k++) {
        check_same(region_of(&made, &on[k], 0).highest.z_mm, 2, "highest on the border, mm");
        check_same(region_of(&made, &off[k], 0).highest.z_mm, 0, "highest beside it, mm");
    }
    bed_model_free(&made);
    free(points);
}

static void grid_and_triangles_agree_on_a_plane(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_tilted);
    bed_model grid = bed_model_of(points, 63, false), mesh = bed_model_of(points, 63, true);
    check_random random = check_random_seed(7);

    for (int i = 0; i < 200; i++) {
        const double x = check_random_uniform(&random, -100, 700);
        const double y = check_random_uniform(&random, -100, 500);
        const tu_bed_rectangle r = {x, x + check_random_uniform(&random, 101, 300), y,
                                    y + check_random_uniform(&random, 101, 300)};
        const double level = check_random_uniform(&random, 0.5, 2);
        const tu_bed_region a = region_of(&grid, &r, level), b = region_of(&mesh, &r, level);
        check_close(a.above_mm2, b.above_mm2, 1e-5, "area, mm2");
        check_close(a.above_mm3, b.above_mm3, 1e-6, "volume, mm3");
        check_close(a.area_mm2, b.area_mm2, 1e-6, "known, mm2");
        check_close(a.highest.z_mm, b.highest.z_mm, 1e-12, "highest, mm");
        check_close(a.lowest.z_mm, b.lowest.z_mm, 1e-12, "lowest, mm");
    }
    bed_model_free(&grid);
    bed_model_free(&mesh);
    free(points);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(volcano_above_levels_is_as_sampled),
        cmocka_unit_test(a_ridge_is_cut_as_by_pencil),
        cmocka_unit_test(a_saddle_at_its_own_level_is_halved),
        cmocka_unit_test(a_bowl_tends_to_its_paraboloid),
        cmocka_unit_test(what_nobody_touched_is_counted),
        cmocka_unit_test(a_lone_high_place_is_in_the_cutters_way),
        cmocka_unit_test(a_lone_place_on_the_border_of_a_rectangle_counts),
        cmocka_unit_test(grid_and_triangles_agree_on_a_plane),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
