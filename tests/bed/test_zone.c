/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The minimum zone against published data (fixtures/reference, each file with its source), at
 * constructed beds of any size, and what is refused. The certificate is checked with each, and is
 * seen to fail when anything in it is changed.
 */
#include "bed_sample.h"
#include "check.h"

#include "bed/zone_parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static tu_zone_workspace workspace;

static tu_bed_zone find(const tu_bed_point *points, size_t count)
{
    tu_bed_zone zone;
    tu_error error = {0};

    check_status(tu_bed_find_any_zone(points, count, &workspace, &zone, &error), TU_OK, &error);
    check_status(tu_bed_check_zone(points, count, &zone, 0.0, NULL, &error), TU_OK, &error);
    return zone;
}

static bool touches(const tu_bed_zone *zone, size_t index)
{
    for (size_t k = 0; k < zone->high_count; k++)
        if (zone->high[k] == index)
            return true;
    for (size_t k = 0; k < zone->low_count; k++)
        if (zone->low[k] == index)
            return true;
    return false;
}

/* --- Published data --- */

static void check_reference(const char *file, const char *path, const char *width,
                            tu_zone_criterion criterion)
{
    cJSON *root = check_fixture_json(file);
    const char *normal = "computed.minimum_zone_orthogonal.normal";
    size_t count;
    tu_bed_point *points = bed_points(root, path, &count);
    const tu_bed_zone zone = find(points, count);
    size_t contacts;
    double *contact = check_json_numbers(
        root, "computed.minimum_zone_orthogonal.contact_points_0_based", &contacts);
    size_t components;
    double *n = check_json_numbers(root, normal, &components);

    check_relative(zone.FLTt_mm, check_json_number(root, width), 1e-10, "FLTt, mm");
    check_close(zone.normal.x, n[0], 1e-13, "normal x");
    check_close(zone.normal.y, n[1], 1e-13, "normal y");
    check_close(zone.slope_x, -n[0] / n[2], 1e-12, "slope along X");
    check_close(zone.slope_y, -n[1] / n[2], 1e-12, "slope along Y");
    assert_int_equal(zone.criterion, criterion);
    assert_int_equal(zone.proof, TU_ZONE_PROOF_SPREAD);
    for (size_t k = 0; k < contacts; k++)
        assert_true(touches(&zone, (size_t)contact[k]));
    free(n);
    free(contact);
    free(points);
    cJSON_Delete(root);
}

static void the_constructed_plates_and_moodys_have_their_minimum_zones(void **state)
{
    (void)state;
    check_reference("reference/flatness_constructed_triangle.json", "data.points",
                    "certified.minimum_zone_flatness", TU_ZONE_3_1);
    check_reference("reference/flatness_constructed_crossing_level.json", "data.points",
                    "certified.minimum_zone_flatness", TU_ZONE_2_2);
    check_reference("reference/flatness_moody_surface_plate.json", "data.points_mm",
                    "computed.minimum_zone_orthogonal.flatness", TU_ZONE_2_2);
}

/* Moody's own figure is that of his base plane, so no minimum zone may exceed it. */
static void moodys_plate_is_no_less_flat_than_he_found_it(void **state)
{
    cJSON *root = check_fixture_json("reference/flatness_moody_surface_plate.json");
    size_t count;
    tu_bed_point *points = bed_points(root, "data.points_mm", &count);
    const double published_mm = 25.4 * check_json_number(root, "certified.flatness_moody_inch");

    (void)state;
    check_between(find(points, count).FLTt_mm, 0.9 * published_mm, published_mm, "FLTt, mm");
    free(points);
    cJSON_Delete(root);
}

static void an_octahedron_is_as_wide_as_its_opposite_faces_are_apart(void **state)
{
    cJSON *root = check_fixture_json("reference/width_octahedron.json");
    size_t count;
    tu_bed_point *points = bed_points(root, "data.points", &count);
    const tu_bed_zone zone = find(points, count);

    (void)state;
    check_relative(zone.FLTt_mm, check_json_number(root, "certified.minimum_width"), 1e-14,
                   "width");
    assert_int_equal(zone.proof, TU_ZONE_PROOF_SEARCH);
    free(points);
    cJSON_Delete(root);
}

/*
 * Vertical zones: with heights made small, the zone's contact points become those of the vertical
 * minimax plane, and then the vertical width is the zone's times sqrt(1 + slope^2), exactly.
 */
static void check_vertical(const char *file, double scale, const char *width_path,
                           const char *const slope_path[2], const char *contact_path,
                           double tolerance)
{
    cJSON *root = check_fixture_json(file);
    size_t count;
    size_t contacts;
    tu_bed_point *points = bed_points(root, "data.points", &count);
    double *contact = check_json_numbers(root, contact_path, &contacts);

    for (size_t i = 0; i < count; i++)
        points[i].z_mm *= scale;
    const tu_bed_zone zone = find(points, count);
    check_relative(zone.slope_x / scale, check_json_number(root, slope_path[0]), tolerance, "a");
    check_relative(zone.slope_y / scale, check_json_number(root, slope_path[1]), tolerance, "b");
    check_relative(zone.FLTt_mm / zone.normal.z / scale, check_json_number(root, width_path),
                   tolerance, "vertical width");
    for (size_t k = 0; k < contacts; k++)
        assert_true(touches(&zone, (size_t)contact[k]));
    free(contact);
    free(points);
    cJSON_Delete(root);
}

static void with_small_heights_the_zone_is_that_of_the_minimax_plane(void **state)
{
    (void)state;
    check_vertical("reference/minimax_plane_nag_e02gc.json", 1e-2, "computed.zone_width",
                   (const char *const[]){"computed.K", "computed.L"},
                   "computed.contact_points_0_based", 1e-9);
    check_vertical("reference/plane_vertical_ls_trees.json", 1e-3,
                   "computed.minimum_zone_vertical.zone_width",
                   (const char *const[]){"computed.minimum_zone_vertical.z0_a_b[1]",
                                         "computed.minimum_zone_vertical.z0_a_b[2]"},
                   "computed.minimum_zone_vertical.contact_points_0_based", 1e-9);
}

/* A straightness is the flatness of the profile drawn out sideways. */
static void a_profile_drawn_out_is_as_flat_as_it_is_straight(void **state)
{
    cJSON *root = check_fixture_json("reference/straightness_autocollimator.json");
    cJSON *pearson = check_fixture_json("reference/orthogonal_ls_pearson.json");
    tu_bed_point points[20];
    size_t count;
    double *x = check_json_numbers(root, "data.position_mm", &count);
    double *z = check_json_numbers(root, "data.height_um", &count);

    (void)state;
    for (size_t i = 0; i < 2 * count; i++)
        points[i] = (tu_bed_point){x[i / 2], i % 2 ? 50.0 : -50.0, 1e-3 * z[i / 2]};
    const tu_bed_zone zone = find(points, 2 * count);
    check_relative(1e3 * zone.FLTt_mm,
                   check_json_number(root, "computed.straightness_minimum_zone_orthogonal_um"),
                   1e-9, "straightness, um");
    check_close(1e3 * zone.FLTt_mm,
                check_json_number(root, "certified.straightness_end_point_line"), 1e-6,
                "straightness as printed, um");
    free(x);
    free(z);
    x = check_json_numbers(pearson, "data.x", &count);
    z = check_json_numbers(pearson, "data.y", &count);
    for (size_t i = 0; i < 20; i++)
        points[i] = (tu_bed_point){x[i / 2], i % 2 ? 5.0 : -5.0, z[i / 2]};
    check_relative(find(points, 20).FLTt_mm,
                   check_json_number(pearson, "computed.minimum_zone_orthogonal_straightness"),
                   1e-13, "straightness");
    free(x);
    free(z);
    cJSON_Delete(pearson);
    cJSON_Delete(root);
}

/* --- Beds made so that the zone is known, of any size --- */

/*
 * On a slope with normal n = (-0.28, 0, 0.96): heights along n strictly between 0 and W, but for
 * three points at W around one at 0. So the zone is W wide, by the criterion.
 */
static void check_known_bed(size_t columns, size_t rows, uint64_t seed, bool upside_down)
{
    const double width_mm = 0.37;
    const size_t count = columns * rows;
    const size_t contact[4] = {columns / 2 + columns * (rows / 3), columns - 1, 0,
                               columns * rows - columns / 2};
    check_random random = check_random_seed(seed);
    tu_bed_point *points = malloc(count * sizeof *points);

    assert_non_null(points);
    for (size_t i = 0; i < count; i++) {
        double lift = check_random_uniform(&random, 1e-9, 1.0 - 1e-9);

        for (int k = 0; k < 4; k++)
            if (i == contact[k])
                lift = k == 0 ? 0.0 : 1.0;
        lift = width_mm * (upside_down ? 1.0 - lift : lift);
        const double along = 800.0 * (double)(i % columns) / (double)columns;
        points[i] =
            (tu_bed_point){0.96 * along - 0.28 * lift, 600.0 * (double)(i / columns) / (double)rows,
                           0.28 * along + 0.96 * lift - 100.0};
    }
    const tu_bed_zone zone = find(points, count);
    check_close(zone.FLTt_mm, width_mm, 1e-12, "FLTt, mm");
    check_close(zone.slope_x, 0.28 / 0.96, 1e-13, "slope");
    check_close(zone.slope_y, 0.0, 1e-13, "slope along Y");
    assert_int_equal(zone.criterion, upside_down ? TU_ZONE_1_3 : TU_ZONE_3_1);
    for (int k = 0; k < 4; k++)
        assert_true(touches(&zone, contact[k]));
    free(points);
}

static void beds_of_ten_to_a_million_points_have_the_zone_they_were_made_with(void **state)
{
    (void)state;
    check_known_bed(5, 4, 1, false);
    check_known_bed(20, 30, 2, true);
    check_known_bed(40, 50, 3, false);
    check_known_bed(100, 700, 4, true);
    check_known_bed(1000, 1000, 5, false);
}

/* The worst order for a working set that starts with every n-th point: all of those on one line. */
static void points_whose_every_nth_is_on_one_line_are_not_taken_for_a_line(void **state)
{
    enum { COUNT = 512 * 40 };
    tu_bed_point *points = malloc(COUNT * sizeof *points);

    (void)state;
    assert_non_null(points);
    for (size_t i = 0; i < COUNT; i++)
        points[i] = (tu_bed_point){(double)i / 100.0, i % 40 ? (double)(i % 40) : 0.0,
                                   i % 40 ? 0.01 * (double)(i % 7) : 0.0};
    const tu_bed_zone zone = find(points, COUNT);
    check_between(zone.FLTt_mm, 0.05, 0.0601, "FLTt, mm");
    assert_int_not_equal(zone.proof, TU_ZONE_PROOF_HULL); /* found in time, not given up on */
    free(points);
}

/* Points of a plane that is square to an axis, one of them 0.3 in front. */
static void a_plane_square_to_an_axis_has_its_zone(void **state)
{
    (void)state;
    for (int axis = 0; axis < 3; axis++) {
        tu_bed_point points[10];
        for (int i = 0; i < 10; i++) {
            const double p[3] = {i == 9 ? 0.3 : 0.0, i == 9 ? 50 : 100.0 * (i % 3),
                                 i == 9 ? 50 : 100.0 * (i / 3)};
            points[i] = (tu_bed_point){p[(3 - axis) % 3], p[(4 - axis) % 3], p[(5 - axis) % 3]};
        }
        const tu_bed_zone zone = find(points, 10);
        const double along[3] = {zone.normal.x, zone.normal.y, zone.normal.z};
        check_close(zone.FLTt_mm, 0.3, 1e-12, "FLTt, mm");
        check_close(fabs(along[axis]), 1, 1e-12, "along the axis");
    }
}

static void duplicates_change_nothing(void **state)
{
    check_random random = check_random_seed(11);
    tu_bed_point once[50];
    tu_bed_point thrice[150];

    (void)state;
    for (size_t i = 0; i < 50; i++) {
        once[i] = (tu_bed_point){check_random_uniform(&random, 0, 900),
                                 check_random_uniform(&random, 0, 600),
                                 check_random_uniform(&random, -1, 0)};
        thrice[i] = thrice[i + 50] = thrice[149 - i] = once[i];
    }
    check_close(find(thrice, 150).FLTt_mm, find(once, 50).FLTt_mm, 1e-12, "FLTt, mm");
}

static void points_of_a_plane_are_flat(void **state)
{
    tu_bed_point points[100];

    (void)state;
    for (int i = 0; i < 100; i++)
        points[i] = (tu_bed_point){i % 10, i / 10, 0.1 * (i % 10) + 0.3 * (i / 10) - 20.0};
    tu_bed_zone zone = find(points, 100);
    check_between(zone.FLTt_mm, 0.0, 2e-14, "FLTt, mm");
    assert_int_equal(zone.criterion, TU_ZONE_FLAT);
    assert_int_equal(zone.proof, TU_ZONE_PROOF_FLAT);
    check_close(zone.slope_x, 0.1, 1e-14, "slope along X");
    check_close(zone.slope_y, 0.3, 1e-14, "slope along Y");
    zone = find(points + 8, 3);
    assert_int_equal(zone.criterion, TU_ZONE_FLAT);
}

/* --- What is refused --- */

static void check_refused(const tu_bed_point *points, size_t count, tu_status status,
                          const char *words)
{
    tu_bed_zone zone;
    tu_error error = {0};

    check_status(tu_bed_find_zone(points, count, &workspace, &zone, &error), status, NULL);
    check_contains(error.message, words);
}

static void points_that_are_no_bed_are_refused(void **state)
{
    check_random random = check_random_seed(5);
    tu_bed_point points[60] = {{0}};

    (void)state;
    check_refused(points, 2, TU_UNDETERMINED, "at least 3 points, found 2");
    check_refused(points, 60, TU_UNDETERMINED, "in one place");
    for (int i = 0; i < 60; i++)
        points[i] = (tu_bed_point){0.1 * i, 0.3 * i, 0.7 * i};
    check_refused(points, 60, TU_UNDETERMINED, "on one line");
    for (int i = 0; i < 60; i++)
        points[i] = (tu_bed_point){10.0 * i, 0.01 * (i % 3), check_random_uniform(&random, 0, 0.5)};
    check_refused(points, 60, TU_UNDETERMINED, "thinner sideways");
    points[7].z_mm = NAN;
    check_refused(points, 60, TU_DATA_RANGE, "z of point 8 ");
}

static void missing_arguments_are_refused(void **state)
{
    const tu_bed_point points[3] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}};
    tu_bed_zone zone;

    (void)state;
    check_status(tu_bed_find_zone(NULL, 3, &workspace, &zone, NULL), TU_USAGE, NULL);
    check_status(tu_bed_find_zone(points, 3, NULL, &zone, NULL), TU_USAGE, NULL);
    check_status(tu_bed_find_zone(points, 3, &workspace, NULL, NULL), TU_USAGE, NULL);
    check_status(tu_bed_check_zone(NULL, 3, &zone, 0.0, NULL, NULL), TU_USAGE, NULL);
}

/* Every point of this one lies on a ball: all of them matter, more than are kept at hand. */
static void a_ball_of_many_points_has_its_width_too(void **state)
{
    enum { COUNT = 3000 };
    tu_bed_point *points = malloc(COUNT * sizeof *points);
    tu_bed_zone zone;
    tu_error error = {0};

    (void)state;
    assert_non_null(points);
    for (int i = 0; i < COUNT; i++) { /* the golden spiral */
        const double z = 1.0 - 2.0 * (i + 0.5) / COUNT;
        const double turn = 2.399963229728653 * i;
        points[i] = (tu_bed_point){100.0 * sqrt(1.0 - z * z) * cos(turn),
                                   100.0 * sqrt(1.0 - z * z) * sin(turn), 100.0 * z};
    }
    check_status(tu_bed_find_any_zone(points, COUNT, &workspace, &zone, &error), TU_OK, &error);
    assert_string_equal(error.message, "");
    assert_int_equal(zone.proof, TU_ZONE_PROOF_HULL);
    /* CGAL's 3-D width of the same points, in exact arithmetic (oracle_width.cpp) */
    check_close(zone.FLTt_mm, 199.80076128776406, 1e-12, "width of a ball, mm");
    check_status(tu_bed_check_zone(points, COUNT, &zone, 0.0, NULL, &error), TU_OK, &error);
    free(points);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_constructed_plates_and_moodys_have_their_minimum_zones),
        cmocka_unit_test(moodys_plate_is_no_less_flat_than_he_found_it),
        cmocka_unit_test(an_octahedron_is_as_wide_as_its_opposite_faces_are_apart),
        cmocka_unit_test(with_small_heights_the_zone_is_that_of_the_minimax_plane),
        cmocka_unit_test(a_profile_drawn_out_is_as_flat_as_it_is_straight),
        cmocka_unit_test(beds_of_ten_to_a_million_points_have_the_zone_they_were_made_with),
        cmocka_unit_test(points_whose_every_nth_is_on_one_line_are_not_taken_for_a_line),
        cmocka_unit_test(a_plane_square_to_an_axis_has_its_zone),
        cmocka_unit_test(duplicates_change_nothing),
        cmocka_unit_test(points_of_a_plane_are_flat),
        cmocka_unit_test(points_that_are_no_bed_are_refused),
        cmocka_unit_test(missing_arguments_are_refused),
        cmocka_unit_test(a_ball_of_many_points_has_its_width_too),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
