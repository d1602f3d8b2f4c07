/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The least-squares plane against published data (fixtures/reference, each file with its source),
 * closed forms by pencil, and offsets; and what is refused.
 */
#include "bed_sample.h"
#include "check.h"

#include "trueup/flatness.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static void check_reference(const char *file, const char *path)
{
    cJSON *root = check_fixture_json(file);
    size_t count;
    tu_bed_point *points = bed_points(root, path, &count);
    tu_plane_fit fit;
    tu_error error = {0};

    check_status(tu_bed_fit_plane(points, count, &fit, &error), TU_OK, &error);
    check_relative(fit.FLTt_mm,
                   check_json_number(root, "computed.ls_orthogonal.flatness_peak_to_valley"), 1e-9,
                   "FLTt, mm");
    check_relative(fit.FLTq_mm, check_json_number(root, "computed.ls_orthogonal.rms_divisor_n"),
                   1e-9, "FLTq, mm");
    check_close(fit.normal.x, check_json_number(root, "computed.ls_orthogonal.normal[0]"), 1e-14,
                "normal x");
    check_close(fit.normal.y, check_json_number(root, "computed.ls_orthogonal.normal[1]"), 1e-14,
                "normal y");
    check_close(fit.centroid.z_mm, check_json_number(root, "computed.ls_orthogonal.centroid[2]"),
                1e-12, "mean z, mm");
    check_close(fit.FLTp_mm, tu_plane_deviation_mm(&fit, points[fit.highest]), 0.0, "highest, mm");
    check_close(fit.FLTv_mm, -tu_plane_deviation_mm(&fit, points[fit.lowest]), 0.0, "lowest, mm");
    free(points);
    cJSON_Delete(root);
}

static void the_constructed_plates_and_moodys_have_their_least_squares_planes(void **state)
{
    (void)state;
    check_reference("reference/flatness_constructed_triangle.json", "data.points");
    check_reference("reference/flatness_constructed_crossing_level.json", "data.points");
    check_reference("reference/flatness_moody_surface_plate.json", "data.points_mm");
}

/* Pearson's line of closest fit (1901), drawn out along Y into a wall that slopes as the line does.
 */
static void pearsons_line_of_closest_fit_comes_back_as_a_plane(void **state)
{
    cJSON *root = check_fixture_json("reference/orthogonal_ls_pearson.json");
    tu_bed_point points[20];
    tu_plane_fit fit;
    tu_error error = {0};
    size_t count;
    double *x = check_json_numbers(root, "data.x", &count);
    double *y = check_json_numbers(root, "data.y", &count);

    (void)state;
    assert_int_equal(count, 10);
    for (size_t i = 0; i < 20; i++)
        points[i] = (tu_bed_point){x[i % 10], i < 10 ? -5.0 : 5.0, y[i % 10]};
    check_status(tu_bed_fit_plane(points, 20, &fit, &error), TU_OK, &error);
    check_relative(fit.slope_x, check_json_number(root, "computed.slope"), 1e-13, "slope");
    check_close(fit.slope_x, check_json_number(root, "certified.slope"), 5e-5, "slope as printed");
    check_close(fit.slope_y, 0.0, 1e-15, "slope along Y");
    check_close(tu_plane_height_mm(&fit, 0.0, 0.0), check_json_number(root, "computed.intercept"),
                1e-13, "intercept");
    check_close(tu_plane_height_mm(&fit, 0.0, 3.0), check_json_number(root, "certified.intercept"),
                5e-4, "intercept as printed");
    check_relative(fit.FLTt_mm, check_json_number(root, "computed.peak_to_valley_orthogonal"),
                   1e-12, "FLTt");
    /* 20 points carry each of the 10 squares twice */
    check_relative(fit.FLTq_mm * fit.FLTq_mm * 10.0,
                   check_json_number(root, "computed.sum_of_squared_orthogonal_distances"), 1e-12,
                   "sum");
    free(x);
    free(y);
    cJSON_Delete(root);
}

/*
 * R's data set "trees": a regression of z on (x, y) is what total least squares tends to when z
 * gets small, the error falling with the square of the scale. At 1e-4 the slopes are 5e-4 and off
 * by 1e-6 of themselves.
 */
static void with_small_heights_the_plane_is_the_regression_of_rs_trees(void **state)
{
    cJSON *root = check_fixture_json("reference/plane_vertical_ls_trees.json");
    const double scale = 1e-4;
    size_t count;
    tu_bed_point *points = bed_points(root, "data.points", &count);
    tu_plane_fit fit;
    tu_error error = {0};

    (void)state;
    for (size_t i = 0; i < count; i++)
        points[i].z_mm *= scale;
    check_status(tu_bed_fit_plane(points, count, &fit, &error), TU_OK, &error);
    check_relative(fit.slope_x / scale, check_json_number(root, "computed.a"), 1e-6, "a");
    check_relative(fit.slope_y / scale, check_json_number(root, "computed.b"), 1e-6, "b");
    check_relative(tu_plane_height_mm(&fit, 0.0, 0.0) / scale,
                   check_json_number(root, "computed.c"), 1e-6, "c");
    check_close(fit.slope_x / scale, check_json_number(root, "certified.a"), 1e-4, "a as printed");
    check_relative(fit.FLTt_mm / scale,
                   check_json_number(root, "computed.ls_vertical.peak_to_valley"), 1e-6,
                   "peak to valley");
    free(points);
    cJSON_Delete(root);
}

/* By pencil: a 3-4-5 slope with a bump h along the normal in the middle of a 3 x 3 grid. */
static void one_bump_of_nine_points_stands_eight_ninths_above_the_plane(void **state)
{
    const double h = 0.09;
    tu_bed_point points[9];
    tu_plane_fit fit;

    (void)state;
    for (int i = 0; i < 9; i++) {
        const double along = 100.0 * (i % 3 - 1);
        const double lift = i == 4 ? h : 0.0;

        points[i] = (tu_bed_point){500.0 + 0.8 * along - 0.6 * lift, 80.0 * (i / 3),
                                   -30.0 + 0.6 * along + 0.8 * lift};
    }
    check_status(tu_bed_fit_plane(points, 9, &fit, NULL), TU_OK, NULL);
    check_close(fit.slope_x, 0.75, 1e-14, "slope");
    check_close(fit.slope_y, 0.0, 1e-14, "slope along Y");
    check_close(fit.FLTp_mm, h * 8.0 / 9.0, 1e-13, "FLTp, mm");
    check_close(fit.FLTv_mm, h / 9.0, 1e-13, "FLTv, mm");
    check_close(fit.FLTt_mm, h, 1e-13, "FLTt, mm");
    check_close(fit.FLTq_mm, h * sqrt(8.0) / 9.0, 1e-13, "FLTq, mm");
    assert_int_equal(fit.highest, 4);
    check_close(fit.centre_x_mm, 500.0, 1e-12, "middle, mm");
    check_close(fit.centre_y_mm, 80.0, 1e-12, "middle, mm");
    /* the plane goes through the mean, h/9 along the normal from (500, 80, -30) */
    check_close(fit.height_at_centre_mm, -30.0 + h / 9.0 / 0.8, 1e-12, "height there, mm");
}

/* More points than are summed up at once, and no more memory than they take: by turns above and
 * below a level plane. */
static void thousands_of_points_have_their_plane(void **state)
{
    enum { COUNT = 2500 };
    tu_bed_point *points = malloc(COUNT * sizeof *points);
    tu_plane_fit fit;

    (void)state;
    assert_non_null(points);
    for (int i = 0; i < COUNT; i++)
        points[i] = (tu_bed_point){i / 4, i / 2 % 2 * 100.0, i % 2 ? 1e-4 : -1e-4};
    check_status(tu_bed_fit_plane(points, COUNT, &fit, NULL), TU_OK, NULL);
    check_close(fit.FLTt_mm, 2e-4, 1e-9, "FLTt, mm");
    check_relative(fit.FLTq_mm, 1e-4, 1e-3, "FLTq, mm");
    free(points);
}

/* Multiples of 1/64 stay exact when 1e6 is added, so that nothing but the fit can lose digits. */
static void an_offset_of_a_kilometre_changes_nothing(void **state)
{
    check_random random = check_random_seed(3);
    tu_bed_point near[40];
    tu_bed_point far[40];
    tu_plane_fit a;
    tu_plane_fit b;

    (void)state;
    for (size_t i = 0; i < 40; i++) {
        near[i] = (tu_bed_point){(double)check_random_below(&random, 64000) / 64.0,
                                 (double)check_random_below(&random, 64000) / 64.0,
                                 (double)check_random_below(&random, 64) / 64.0};
        far[i] = (tu_bed_point){near[i].x_mm + 1e6, near[i].y_mm - 1e6, near[i].z_mm + 1e6};
    }
    check_status(tu_bed_fit_plane(near, 40, &a, NULL), TU_OK, NULL);
    check_status(tu_bed_fit_plane(far, 40, &b, NULL), TU_OK, NULL);
    check_close(b.FLTt_mm, a.FLTt_mm, 1e-9, "FLTt, mm");
    check_close(b.FLTq_mm, a.FLTq_mm, 1e-9, "FLTq, mm");
    check_close(b.slope_x, a.slope_x, 1e-12, "slope");
    assert_int_equal(b.highest, a.highest);
    assert_int_equal(b.lowest, a.lowest);
}

/* --- What is refused --- */

static void check_refused(const tu_bed_point *points, size_t count, tu_status status,
                          const char *words)
{
    tu_plane_fit fit;
    tu_error error = {0};

    check_status(tu_bed_fit_plane(points, count, &fit, &error), status, NULL);
    check_contains(error.message, words);
}

static void points_that_hold_no_plane_are_refused(void **state)
{
    const tu_bed_point two[2] = {{0, 0, 0}, {1, 0, 0}};
    tu_bed_point points[20] = {0};

    (void)state;
    check_refused(two, 2, TU_UNDETERMINED, "at least 3 points, found 2");
    check_refused(points, 20, TU_UNDETERMINED, "in one place");
    for (int i = 0; i < 20; i++)
        points[i] = (tu_bed_point){0.1 * i, 0.3 * i, 0.7 * i};
    check_refused(points, 20, TU_UNDETERMINED, "on one line");
    for (int i = 0; i < 20; i++)
        points[i].z_mm = i % 3;
    check_refused(points, 20, TU_UNDETERMINED, "seen from above they are on one line");
    for (int i = 0; i < 20; i++)
        points[i] = (tu_bed_point){i % 5, i / 5, 1.5 * (i % 5)};
    check_refused(points, 20, TU_UNDETERMINED, "which is no bed");
    for (int i = 0; i < 8; i++) /* a cube is as thick in all directions */
        points[i] = (tu_bed_point){i & 1 ? 1 : -1, i & 2 ? 1 : -1, i & 4 ? 1 : -1};
    check_refused(points, 8, TU_UNDETERMINED, "");
}

static void a_coordinate_that_is_no_number_is_named(void **state)
{
    const double bad[] = {NAN, INFINITY, -INFINITY, 2e9};

    (void)state;
    for (int k = 0; k < 4; k++) {
        tu_bed_point points[5] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}, {2, 2, 1}};

        points[3].y_mm = bad[k];
        check_refused(points, 5, TU_DATA_RANGE, "y of point 4 ");
        points[3].y_mm = 1.0;
        points[0].z_mm = bad[k];
        check_refused(points, 5, TU_DATA_RANGE, "z of point 1 ");
    }
}

static void missing_arguments_are_refused(void **state)
{
    const tu_bed_point points[3] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}};
    tu_plane_fit fit;

    (void)state;
    check_status(tu_bed_fit_plane(NULL, 3, &fit, NULL), TU_USAGE, NULL);
    check_status(tu_bed_fit_plane(points, 3, NULL, NULL), TU_USAGE, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_constructed_plates_and_moodys_have_their_least_squares_planes),
        cmocka_unit_test(pearsons_line_of_closest_fit_comes_back_as_a_plane),
        cmocka_unit_test(with_small_heights_the_plane_is_the_regression_of_rs_trees),
        cmocka_unit_test(one_bump_of_nine_points_stands_eight_ninths_above_the_plane),
        cmocka_unit_test(thousands_of_points_have_their_plane),
        cmocka_unit_test(an_offset_of_a_kilometre_changes_nothing),
        cmocka_unit_test(points_that_hold_no_plane_are_refused),
        cmocka_unit_test(a_coordinate_that_is_no_number_is_named),
        cmocka_unit_test(missing_arguments_are_refused),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
