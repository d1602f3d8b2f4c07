/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The height model, grid and triangles: formulas it has to reproduce exactly, and SciPy's
 * LinearNDInterpolator (fixtures/reference/r_volcano.json).
 */
#include "bed_sample.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static tu_bed_point *volcano_scattered(const cJSON *root, size_t *count)
{
    size_t all;
    double *z = check_json_numbers(root, "data.z", &all);
    double *index = check_json_numbers(root, "scattered.index", count);
    double *x = check_json_numbers(root, "scattered.x", count);
    double *y = check_json_numbers(root, "scattered.y", count);
    tu_bed_point *points = malloc(*count * sizeof *points);

    assert_non_null(points);
    for (size_t i = 0; i < *count; i++)
        points[i] = (tu_bed_point){x[i], y[i], z[(size_t)index[i]]};
    free(z);
    free(index);
    free(x);
    free(y);
    return points;
}

/* SciPy has no bridges, and the hull is of interest to its edge. */
static void all_triangles_count(bed_model *made)
{
    made->model.longest_edge_mm = INFINITY;
    made->model.bridges = 0;
}

static void scattered_points_are_interpolated_as_by_scipy(void **state)
{
    (void)state;
    cJSON *root = check_fixture_json("reference/r_volcano.json");
    size_t count, places, outside = 0;
    tu_bed_point *points = volcano_scattered(root, &count);
    bed_model made = bed_model_of(points, count, false);
    all_triangles_count(&made);
    double *x = check_json_numbers(root, "scattered.at_x", &places);
    double *y = check_json_numbers(root, "scattered.at_y", &places);
    const cJSON *linear = check_json_at(root, "scattered.linear");

    assert_int_equal(made.model.kind, TU_BED_MESH);
    for (size_t i = 0; i < places; i++) {
        const cJSON *expected = cJSON_GetArrayItem(linear, (int)i);
        const double z = tu_bed_model_height(&made.model, x[i], y[i]);
        if (cJSON_IsNull(expected)) {
            check_nan(z, "height outside the hull");
            outside++;
        } else {
            check_close(z, expected->valuedouble, 1e-9, "height, SciPy's");
        }
    }
    assert_int_equal(outside, 8);
    free(x);
    free(y);
    bed_model_free(&made);
    free(points);
    cJSON_Delete(root);
}

static void a_grid_is_bilinear_between_its_points(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_saddle);
    bed_model made = bed_model_of(points, 63, false);
    check_random random = check_random_seed(1);

    assert_int_equal(made.model.kind, TU_BED_GRID);
    assert_int_equal(made.model.columns, 9);
    assert_int_equal(made.model.rows, 7);
    for (int i = 0; i < 1000; i++) {
        const double x = check_random_uniform(&random, 0, 800);
        const double y = check_random_uniform(&random, 0, 600);
        check_close(tu_bed_model_height(&made.model, x, y), bed_saddle(x, y), 1e-13, "height, mm");
    }
    check_close(tu_bed_model_height(&made.model, 800, 600), 1.2, 1e-13, "height at a corner, mm");
    check_close(tu_bed_model_height(&made.model, 0, 0), 1.2, 1e-13, "height at a corner, mm");
    check_nan(tu_bed_model_height(&made.model, 800.1, 300), "height beside the points");
    check_nan(tu_bed_model_height(&made.model, 300, -0.1), "height before the points");
    check_nan(tu_bed_model_height(&made.model, NAN, 300), "height nowhere");
    bed_model_free(&made);
    free(points);
}

static void shuffled_and_jittered_points_are_still_a_grid(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(12, 8, 75, bed_tilted);
    check_random random = check_random_seed(2);

    for (size_t i = 95; i > 0; i--) {
        const size_t k = check_random_below(&random, i + 1);
        const tu_bed_point swap = points[i];
        points[i] = points[k];
        points[k] = swap;
    }
    for (size_t i = 0; i < 96; i++) {
        points[i].x_mm += check_random_uniform(&random, -3, 3);
        points[i].y_mm += check_random_uniform(&random, -3, 3);
    }
    bed_model made = bed_model_of(points, 96, false);
    assert_int_equal(made.model.kind, TU_BED_GRID);
    assert_int_equal(made.model.columns * made.model.rows, 96);
    check_between(made.model.jitter_mm, 1, 6, "jitter, mm");
    /* 3 mm on a slope of 0.0011 */
    check_close(tu_bed_model_height(&made.model, 400, 300), bed_tilted(400, 300), 0.007,
                "height, mm");
    bed_model_free(&made);
    free(points);
}

/* Leaves out the points of a list of crossings. */
static size_t leave_out(tu_bed_point *points, size_t count, const size_t *out, size_t outs)
{
    size_t kept = 0;

    for (size_t i = 0; i < count; i++) {
        bool left_out = false;
        for (size_t k = 0; k < outs; k++)
            left_out = left_out || out[k] == i;
        if (!left_out)
            points[kept++] = points[i];
    }
    return kept;
}

static void a_single_missing_touch_is_filled_in_and_a_missing_corner_is_not(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_saddle);
    const size_t out[] = {30, 31, 61, 62,
                          53}; /* two side by side in the middle; back right corner: three */
    const size_t count = leave_out(points, 63, out, 5);
    bed_model made = bed_model_of(points, count, false);

    assert_int_equal(made.model.kind, TU_BED_GRID);
    /* 61 and 53 have no touched neighbour further out in their row and column, nor has 62 */
    assert_int_equal(made.model.filled, 2);
    assert_int_equal(made.model.missing, 3);
    check_close(tu_bed_model_height(&made.model, 350, 300), bed_saddle(350, 300), 1e-13,
                "height between two filled in, mm");
    check_nan(tu_bed_model_height(&made.model, 790, 590), "height in the missing corner");
    check_nan(tu_bed_model_height(&made.model, 660, 560), "height in the missing half of a cell");
    /* the half that is known: a plane over three corners */
    check_close(tu_bed_model_height(&made.model, 630, 530),
                0.4 * bed_saddle(600, 500) + 0.3 * bed_saddle(700, 500) +
                    0.3 * bed_saddle(600, 600),
                1e-13, "height over half a cell, mm");
    bed_model_free(&made);
    free(points);
}

static void a_hole_wider_than_one_touch_stays_a_hole(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(13, 9, 100, bed_saddle);
    size_t out[30], outs = 0;
    for (size_t k = 0; k < 117; k++) /* front middle: five columns, six rows */
        if (k % 13 >= 4 && k % 13 <= 8 && k / 13 <= 5)
            out[outs++] = k;
    bed_model made = bed_model_of(points, leave_out(points, 117, out, outs), false);
    const tu_bed_rectangle inside = {450, 750, 50, 350}, half = {0, 600, 0, 400};
    tu_bed_region region;
    tu_bed_corner corner[4];
    tu_error error;

    assert_int_equal(made.model.kind, TU_BED_GRID);
    assert_int_equal(made.model.filled, 0);
    assert_int_equal(made.model.missing, 30);
    check_nan(tu_bed_model_height(&made.model, 600, 200), "height in the hole");
    check_nan(tu_bed_model_height(&made.model, 350, 100), "height half a step from the hole's rim");
    check_close(tu_bed_model_height(&made.model, 300, 100), bed_saddle(300, 100), 1e-13,
                "height on the rim, mm");
    assert_int_equal(tu_bed_model_corners(&made.model, 350, 150, corner), 4);
    assert_int_equal(corner[1].index, TU_BED_NONE);
    assert_int_equal(tu_bed_model_corners(&made.model, 250, 150, corner), 4);
    for (int k = 0; k < 4; k++)
        assert_int_not_equal(corner[k].index, TU_BED_NONE);
    assert_int_equal(tu_bed_model_corners(&made.model, 300, 100, corner), 1);
    assert_int_equal(tu_bed_model_corners(&made.model, 1201, 100, corner), 0);
    assert_int_equal(tu_bed_model_corners(&made.model, 1200, 800, corner), 1); /* the last one */
    assert_int_equal(tu_bed_model_corners(&made.model, 1200, 750, corner), 2);
    assert_int_equal(tu_bed_model_corners(&made.model, 1150, 800, corner), 2);
    assert_int_equal(tu_bed_model_corners(&made.model, 0, 50, corner), 2);
    check_status(tu_bed_measure_region(&made.model, &inside, 0, &region, &error), TU_UNDETERMINED,
                 NULL);
    /* of the extent: 600 by 600 from the rim left to the one right, less the two corners' halves */
    check_status(tu_bed_measure_region(&made.model, NULL, 0, &region, &error), TU_OK, &error);
    check_close(region.unknown_mm2, 600 * 600 - 2 * 5000, 1e-6, "never touched, mm2");
    check_status(tu_bed_measure_region(&made.model, &half, 0, &region, &error), TU_OK, &error);
    check_close(region.unknown_mm2, 300 * 400, 1e-6, "never touched of the left, mm2");
    bed_model_free(&made);
    free(points);
}

/* The sum of the triangles' areas, each counter-clockwise, as drawn. */
static double area_drawn(const tu_bed_model *model)
{
    const size_t vertices = tu_bed_model_vertex_count(model);
    const size_t triangles = tu_bed_model_triangle_count(model);
    tu_bed_point *vertex = malloc(vertices * sizeof *vertex);
    uint32_t(*triangle)[3] = malloc(triangles * sizeof *triangle);
    double area = 0;

    assert_non_null(vertex);
    assert_non_null(triangle);
    tu_bed_model_draw(model, vertex, triangle);
    for (size_t i = 0; i < triangles; i++) {
        const tu_bed_point a = vertex[triangle[i][0]], b = vertex[triangle[i][1]],
                           c = vertex[triangle[i][2]];
        const double twice =
            (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm);
        assert_true(twice >= 0);
        area += twice / 2;
        for (int k = 0; k < 3; k++) { /* drawn as high as it is */
            const tu_bed_point v = vertex[triangle[i][k]];
            check_close(v.z_mm, tu_bed_model_height(model, v.x_mm, v.y_mm), 1e-12, "vertex, mm");
        }
    }
    free(vertex);
    free(triangle);
    return area;
}

/* A grid turned by 20 degrees, so that it is none in X and Y. */
static void turn(tu_bed_point *points, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const tu_bed_point p = points[i];
        points[i] = (tu_bed_point){0.93969262 * p.x_mm - 0.34202014 * p.y_mm,
                                   0.34202014 * p.x_mm + 0.93969262 * p.y_mm, p.z_mm};
    }
}

static void triangles_do_not_bridge_what_nobody_touched(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(13, 9, 100, bed_saddle);
    size_t out[48], outs = 0;
    for (size_t k = 0; k < 117; k++) /* an L: eight columns of six rows are missing */
        if (k % 13 >= 5 && k / 13 <= 5)
            out[outs++] = k;
    const size_t count = leave_out(points, 117, out, outs);
    tu_bed_point middle[2] = {{800, 300, 0}, {200, 350, 0}};
    turn(points, count);
    turn(middle, 2);
    bed_model made = bed_model_of(points, count, false);
    tu_bed_corner corner[4];
    tu_bed_region region;
    tu_error error;

    assert_int_equal(made.model.kind, TU_BED_MESH);
    check_close(made.model.longest_edge_mm, 400, 1e-4, "longest edge, mm");
    assert_in_range(made.model.bridges, 3, 30);
    check_nan(tu_bed_model_height(&made.model, middle[0].x_mm, middle[0].y_mm),
              "in the L's corner");
    check_close(tu_bed_model_height(&made.model, middle[1].x_mm, middle[1].y_mm),
                bed_saddle(200, 350), 1e-6, "height in the L, mm");
    for (size_t i = 0; i < count; i++)
        check_close(tu_bed_model_height(&made.model, points[i].x_mm, points[i].y_mm),
                    points[i].z_mm, 1e-9, "height at a touched place, mm");
    assert_int_equal(tu_bed_model_corners(&made.model, middle[0].x_mm, middle[0].y_mm, corner), 3);
    assert_int_equal(corner[0].index, TU_BED_NONE);
    check_status(tu_bed_measure_region(&made.model, NULL, 0, &region, &error), TU_OK, &error);
    /* the L has 400 by 800 and 800 by 200; a bridge of four steps may close its inner corner */
    check_between(region.area_mm2, 479999, 480000 + 0.5 * 300 * 300, "area of the L, mm2");
    check_close(area_drawn(&made.model), region.area_mm2, 1e-4, "area drawn, mm2");
    bed_model_free(&made);
    free(points);
}

static void only_the_rim_says_nothing_of_the_middle(void **state)
{
    (void)state;
    tu_bed_point rim[36];
    for (size_t i = 0; i < 36; i++) {
        const double angle = (double)i * M_PI / 18;
        rim[i] = (tu_bed_point){500 + 400 * cos(angle), 400 + 300 * sin(angle), 0};
    }
    bed_model made = bed_model_of(rim, 36, false);

    assert_int_equal(made.model.kind, TU_BED_MESH);
    check_nan(tu_bed_model_height(&made.model, 500, 400), "height in the middle");
    bed_model_free(&made);
}

static void a_touched_place_beside_missing_ones_has_its_height(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(6, 6, 100, bed_tilted);
    const size_t out[] = {28, 29, 34, 35, 23, 33}; /* back right; 22 and 27 stay */
    const size_t count = leave_out(points, 36, out, 6);
    check_random random = check_random_seed(8);

    for (size_t i = 0; i < count; i++) {
        points[i].x_mm += check_random_uniform(&random, -3, 3);
        points[i].y_mm += check_random_uniform(&random, -3, 3);
    }
    bed_model made = bed_model_of(points, count, false);
    assert_int_equal(made.model.kind, TU_BED_GRID);
    for (size_t i = 0; i < count; i++) /* twice 6 mm of jitter on a slope of 0.0011 */
        check_close(tu_bed_model_height(&made.model, points[i].x_mm, points[i].y_mm),
                    points[i].z_mm, 0.014, "height at a touched place, mm");
    bed_model_free(&made);
    free(points);
}

static void a_few_scattered_points_are_triangles(void **state)
{
    (void)state;
    const tu_bed_point five[5] = {
        {0, 0, 1}, {410, 30, 2}, {15, 390, 3}, {430, 400, 4}, {800, 10, 5}};
    bed_model made = bed_model_of(five, 5, false);

    assert_int_equal(made.model.kind, TU_BED_MESH);
    assert_int_equal(made.model.bridges, 0);
    bed_model_free(&made);
    tu_bed_point *seven = bed_scatter(12, 7, 800, 600, bed_tilted);
    made = bed_model_of(seven, 7, false);
    assert_int_equal(made.model.kind, TU_BED_MESH);
    assert_int_equal(made.model.bridges, 0);
    bed_model_free(&made);
    free(seven);
}

static void triangles_reproduce_a_plane_up_to_the_border(void **state)
{
    (void)state;
    tu_bed_point *points = bed_scatter(3, 2000, 800, 600, bed_tilted);
    bed_model made = bed_model_of(points, 2000, false);
    all_triangles_count(&made);
    check_random random = check_random_seed(4);
    size_t outside = 0;

    assert_int_equal(made.model.kind, TU_BED_MESH);
    for (int i = 0; i < 5000; i++) {
        const double x = check_random_uniform(&random, 0, 800);
        const double y = check_random_uniform(&random, 0, 600);
        const double z = tu_bed_model_height(&made.model, x, y);
        if (isnan(z))
            outside++;
        else
            check_close(z, bed_tilted(x, y), 1e-12, "height, mm");
    }
    assert_in_range(outside, 1, 150); /* the hull of 2000 points leaves out some 1 % */
    for (size_t i = 0; i < 2000; i++)
        check_close(tu_bed_model_height(&made.model, points[i].x_mm, points[i].y_mm),
                    points[i].z_mm, 1e-12, "height at a point, mm");
    bed_model_free(&made);
    free(points);
}

/* Off the points by rounding, a millionth of the longer side: the height of the border. */
static void triangles_hold_a_place_that_rounding_put_beside_them(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 3, 100, bed_tilted);
    bed_model made = bed_model_of(points, 27, true);

    check_close(tu_bed_model_height(&made.model, 400, -0.0007), bed_tilted(400, 0), 1e-6,
                "height beside the long side, mm");
    check_close(tu_bed_model_height(&made.model, 800.0007, 100), bed_tilted(800, 100), 1e-6,
                "height beside the short side, mm");
    check_nan(tu_bed_model_height(&made.model, 400, -0.0009), "height further out");
    bed_model_free(&made);
    free(points);
}

/* Where points lie on one line, a triangle over them has no area, and a search may come to it. */
static void a_triangle_without_area_does_not_end_the_search(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{0, 0, 1}, {50, 0, 1}, {100, 0, 2}, {100, 90, 3}, {0, 95, 4}};
    bed_model made = bed_model_of(points, 5, true);
    tu_bed_model *model = &made.model;

    check_close(tu_bed_model_height(model, 25, 0), 1, 1e-12, "height on the border, mm");
    model->triangle[model->triangles][0] = 0;
    model->triangle[model->triangles][1] = 1;
    model->triangle[model->triangles][2] = 2;
    for (int k = 0; k < 3; k++)
        model->neighbour[model->triangles][k] = TU_BED_NONE;
    for (size_t k = 0; k < model->hint_columns * model->hint_rows; k++)
        model->hint[k] = (int32_t)model->triangles;
    model->triangles++;
    check_close(tu_bed_model_height(model, 25, 0), 1, 1e-12, "height on the border, mm");
    check_close(tu_bed_model_height(model, 75, 0), 1.5, 1e-12, "height on the border, mm");
    bed_model_free(&made);
}

static void triangles_over_a_grid_reach_everywhere(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(20, 15, 40, bed_tilted);
    bed_model made = bed_model_of(points, 300, true);

    assert_int_equal(made.model.kind, TU_BED_MESH);
    for (double x = 0; x <= 760; x += 19) {
        for (double y = 0; y <= 560; y += 7)
            check_close(tu_bed_model_height(&made.model, x, y), bed_tilted(x, y), 1e-12,
                        "height, mm");
    }
    bed_model_free(&made);
    free(points);
}

static void what_is_drawn_covers_the_bed_once(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_saddle);
    bed_model made = bed_model_of(points, 63, false);

    check_close(area_drawn(&made.model), 480000, 1e-6, "area of the grid's triangles, mm2");
    bed_model_free(&made);
    made = bed_model_of(points, 63, true);
    check_close(area_drawn(&made.model), 480000, 1e-6, "area of the mesh, mm2");
    bed_model_free(&made);
    const size_t corner = 62;
    made = bed_model_of(points, leave_out(points, 63, &corner, 1), false);
    check_close(area_drawn(&made.model), 475000, 1e-6, "area without half a cell, mm2");
    bed_model_free(&made);
    free(points);
}

static void what_has_no_surface_is_refused(void **state)
{
    (void)state;
    tu_bed_point points[] = {{0, 0, 1}, {10, 10, 1}, {20, 20, 1}, {40, 40, 1}};
    char memory[8192];
    tu_bed_model model;
    tu_error error;

    check_status(tu_bed_model_start(points, 2, false, memory, sizeof memory, &model, &error),
                 TU_UNDETERMINED, NULL);
    check_status(tu_bed_model_start(points, 4, false, memory, sizeof memory, &model, &error),
                 TU_NUMERIC, NULL);
    check_contains(error.message, "Qhull");
    check_status(tu_bed_model_start(points, 4, false, memory, 100, &model, &error), TU_USAGE, NULL);
    check_status(tu_bed_model_start(points, 10000001, false, memory, 100, &model, &error), TU_USAGE,
                 NULL);
    check_contains(error.message, "too many");
    points[2].z_mm = NAN;
    check_status(tu_bed_model_start(points, 4, false, memory, sizeof memory, &model, &error),
                 TU_DATA_RANGE, NULL);
    for (int i = 0; i < 4; i++)
        points[i] = (tu_bed_point){5, i, 0};
    check_status(tu_bed_model_start(points, 4, false, memory, sizeof memory, &model, &error),
                 TU_UNDETERMINED, NULL);
}

static void a_grid_of_a_million_points_is_a_grid(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(1000, 1000, 0.8, bed_bowl);
    bed_model made = bed_model_of(points, 1000000, false);

    assert_int_equal(made.model.kind, TU_BED_GRID);
    /* a bilinear cell of a bowl lies above it by up to 2 * 0.4^2 / 1e6 */
    check_close(tu_bed_model_height(&made.model, 123.4, 567.8), bed_bowl(123.4, 567.8), 3.2e-7,
                "height, mm");
    bed_model_free(&made);
    free(points);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scattered_points_are_interpolated_as_by_scipy),
        cmocka_unit_test(a_grid_is_bilinear_between_its_points),
        cmocka_unit_test(shuffled_and_jittered_points_are_still_a_grid),
        cmocka_unit_test(a_single_missing_touch_is_filled_in_and_a_missing_corner_is_not),
        cmocka_unit_test(a_hole_wider_than_one_touch_stays_a_hole),
        cmocka_unit_test(triangles_do_not_bridge_what_nobody_touched),
        cmocka_unit_test(only_the_rim_says_nothing_of_the_middle),
        cmocka_unit_test(a_touched_place_beside_missing_ones_has_its_height),
        cmocka_unit_test(a_few_scattered_points_are_triangles),
        cmocka_unit_test(triangles_reproduce_a_plane_up_to_the_border),
        cmocka_unit_test(triangles_hold_a_place_that_rounding_put_beside_them),
        cmocka_unit_test(a_triangle_without_area_does_not_end_the_search),
        cmocka_unit_test(triangles_over_a_grid_reach_everywhere),
        cmocka_unit_test(what_is_drawn_covers_the_bed_once),
        cmocka_unit_test(what_has_no_surface_is_refused),
        cmocka_unit_test(a_grid_of_a_million_points_is_a_grid),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
