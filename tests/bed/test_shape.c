/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Tilt, twist and bow: closed forms, and R's lm over its data set volcano
 * (fixtures/reference/r_volcano.json).
 */
#include "bed_sample.h"

#include <math.h>
#include <stdlib.h>

static tu_bed_shape shape_of(const tu_bed_point *points, size_t count)
{
    tu_bed_shape shape;
    tu_error error;

    check_status(tu_bed_fit_shape(points, count, &shape, &error), TU_OK, &error);
    return shape;
}

static void the_quadratic_of_volcano_is_that_of_r(void **state)
{
    (void)state;
    size_t count, terms;
    tu_bed_point *points = bed_volcano(&count);
    cJSON *root = check_fixture_json("reference/r_volcano.json");
    double *expected = check_json_numbers(root, "lm.quadratic", &terms);
    const tu_bed_shape shape = shape_of(points, count);

    assert_int_equal(terms, 6);
    check_close(shape.x_middle_mm, 430, 1e-12, "middle X, mm");
    for (size_t k = 0; k < 6; k++)
        check_relative(shape.coefficient[k], expected[k], 1e-10, "coefficient, R's lm");
    check_relative(shape.rest_sd_mm, check_json_number(root, "lm.quadratic_sigma"), 1e-12,
                   "residual sd, R's sigma");
    free(expected);
    cJSON_Delete(root);
    free(points);
}

static void a_bowl_has_bow_and_no_twist(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_bowl);
    const tu_bed_shape shape = shape_of(points, 63);

    /* pencil: edges at X 0 and 800 lie 400^2 / 1e6 = 0.16 above the middle, front and back 0.09 */
    check_close(shape.bow_x_mm, -0.16, 1e-13, "bow along X, mm");
    check_close(shape.bow_y_mm, -0.09, 1e-13, "bow along Y, mm");
    check_close(shape.twist_mm, 0, 1e-13, "twist, mm");
    check_close(shape.rest_sd_mm, 0, 1e-13, "rest, mm");
    check_close(tu_bed_shape_height(&shape, 123, 77), bed_bowl(123, 77), 1e-13, "height, mm");
    free(points);
}

static void a_saddle_has_twist_and_no_bow(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_saddle);
    const tu_bed_shape shape = shape_of(points, 63);

    /* pencil: corners +-1.2, -1.2; back right over the plane of the others: 4 * 1.2 */
    check_close(shape.twist_mm, 4.8, 1e-12, "twist, mm");
    check_close(shape.bow_x_mm, 0, 1e-12, "bow along X, mm");
    check_close(shape.coefficient[3], 1e-5, 1e-16, "XY term, per mm");
    free(points);
}

static void twist_is_the_fourth_corner_over_the_plane_of_three(void **state)
{
    (void)state;
    const tu_bed_point corner[4] = {{0, 0, 0}, {500, 0, 0.1}, {0, 300, -0.2}, {500, 300, 0.4}};
    const tu_bed_shape shape = shape_of(corner, 4);

    /* pencil: the plane of three is -0.1 there */
    check_close(shape.twist_mm, 0.5, 1e-14, "twist, mm");
    check_nan(shape.bow_x_mm, "bow along X of a 2 by 2 grid");
    check_nan(shape.bow_y_mm, "bow along Y of a 2 by 2 grid");
    assert_int_equal(shape.terms, 4);
    check_nan(shape.rest_sd_mm, "rest of four points under four terms");
}

static void far_from_the_origin_the_shape_stays_the_same(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_saddle);

    for (size_t i = 0; i < 63; i++) {
        points[i].x_mm += 1e6;
        points[i].z_mm -= 4096;
    }
    /* rounding of the heights given: 4096 * 2^-53 */
    check_close(shape_of(points, 63).twist_mm, 4.8, 1e-11, "twist, mm");
    free(points);
}

static void three_points_have_tilt_only(void **state)
{
    (void)state;
    const tu_bed_point three[3] = {{0, 0, 1}, {100, 0, 1.1}, {0, 100, 0.95}};
    const tu_bed_shape shape = shape_of(three, 3);

    check_close(shape.coefficient[1], 0.001, 1e-15, "slope along X");
    check_close(shape.coefficient[2], -0.0005, 1e-15, "slope along Y");
    check_nan(shape.twist_mm, "twist");
    assert_int_equal(shape.terms, 3);
}

/* Two columns show no bow along X; that along Y is found all the same. */
static void two_columns_have_a_bow_along_y(void **state)
{
    (void)state;
    tu_bed_point points[10];
    for (int i = 0; i < 10; i++) {
        const double v = i / 2 - 2.0, x = i % 2;
        points[i] = (tu_bed_point){300 * x, 100 * v, 0.2 + 0.1 * x + 0.03 * v * v + 0.01 * v * x};
    }
    const tu_bed_shape shape = shape_of(points, 10);
    check_nan(shape.bow_x_mm, "bow along X");
    /* pencil: the ends lie 0.03 * 4 above the middle */
    check_close(shape.bow_y_mm, -0.12, 1e-12, "bow along Y, mm");
    check_close(shape.twist_mm, 0.04, 1e-12, "twist, mm");
    check_close(shape.rest_sd_mm, 0, 1e-12, "rest, mm");
}

/* The first point is the only one that far to the left. */
static void the_first_point_counts_for_the_extent(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_tilted);
    points[0] = (tu_bed_point){-400, -200, bed_tilted(-400, -200)};
    const tu_bed_shape shape = shape_of(points, 63);
    check_close(shape.x_middle_mm, 200, 1e-12, "middle X, mm");
    check_close(shape.y_middle_mm, 200, 1e-12, "middle Y, mm");
    free(points);
}

static void what_settles_no_plane_is_refused(void **state)
{
    (void)state;
    const tu_bed_point line[4] = {{0, 0, 1}, {100, 50, 1.1}, {200, 100, 0.95}, {300, 150, 1}};
    tu_bed_point bad[3] = {{0, 0, 1}, {100, NAN, 1.1}, {200, 100, 0.95}};
    tu_bed_shape shape;
    tu_error error;

    check_status(tu_bed_fit_shape(line, 4, &shape, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "one line");
    check_status(tu_bed_fit_shape(line, 2, &shape, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "found 2");
    check_status(tu_bed_fit_shape(bad, 3, &shape, &error), TU_DATA_RANGE, NULL);
    check_contains(error.message, "point 2");
    bad[0].z_mm = INFINITY;
    check_status(tu_bed_fit_shape(bad, 3, &shape, &error), TU_DATA_RANGE, NULL);
    check_contains(error.message, "point 1");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_quadratic_of_volcano_is_that_of_r),
        cmocka_unit_test(a_bowl_has_bow_and_no_twist),
        cmocka_unit_test(a_saddle_has_twist_and_no_bow),
        cmocka_unit_test(twist_is_the_fourth_corner_over_the_plane_of_three),
        cmocka_unit_test(far_from_the_origin_the_shape_stays_the_same),
        cmocka_unit_test(three_points_have_tilt_only),
        cmocka_unit_test(two_columns_have_a_bow_along_y),
        cmocka_unit_test(the_first_point_counts_for_the_extent),
        cmocka_unit_test(what_settles_no_plane_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
