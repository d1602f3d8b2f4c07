/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_contour.c - contour lines and regions against closed forms: planes, a cone of revolution
 * (paraboloid), saddles; and by what must hold of every mesh.
 */
#include "check.h"
#include "report/bed/contour.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SIDE = 40, VERTICES = (SIDE + 1) * (SIDE + 1), TRIANGLES = 2 * SIDE * SIDE };

static tu_contour_vertex vertex[VERTICES];
static uint32_t triangle[TRIANGLES][3];

typedef double height_of(double x, double y);

/* A square of `SIDE` x `SIDE` cells on [-1, 1] x [-1, 1]; some cells left out. */
static tu_contour_mesh make_mesh(height_of *height, bool with_holes)
{
    size_t count = 0;
    for (int j = 0; j <= SIDE; j++) {
        for (int i = 0; i <= SIDE; i++) {
            double x = -1 + 2.0 * i / SIDE, y = -1 + 2.0 * j / SIDE;
            vertex[j * (SIDE + 1) + i] = (tu_contour_vertex){x, y, height(x, y)};
        }
    }
    for (int j = 0; j < SIDE; j++) {
        for (int i = 0; i < SIDE; i++) {
            if (with_holes && ((i == 3 && j == 3) || (i == 4 && j == 4))) /* touch at a corner */
                continue;
            uint32_t a = (uint32_t)(j * (SIDE + 1) + i), b = a + 1, c = a + SIDE + 1, d = c + 1;
            memcpy(triangle[count++], (uint32_t[]){a, b, d}, sizeof triangle[0]);
            memcpy(triangle[count++], (uint32_t[]){a, d, c}, sizeof triangle[0]);
        }
    }
    return (tu_contour_mesh){vertex, VERTICES, (const uint32_t(*)[3])triangle, count};
}

static double area_of(const tu_contours *contours)
{
    double area = 0;
    for (size_t k = 0; k < contours->chain_count; k++) {
        const tu_contour_chain *chain = &contours->chain[k];
        for (size_t i = 0; i < chain->count; i++) {
            const tu_contour_point *p = &contours->point[chain->first + i];
            const tu_contour_point *q = &contours->point[chain->first + (i + 1) % chain->count];
            area += 0.5 * (p->x_mm * q->y_mm - q->x_mm * p->y_mm);
        }
    }
    return area;
}

static bool all_closed(const tu_contours *contours)
{
    for (size_t k = 0; k < contours->chain_count; k++)
        if (!contours->chain[k].closed || contours->chain[k].count < 3)
            return false;
    return true;
}

static double plane(double x, double y)
{
    return 3 * x + y;
}

static double bowl(double x, double y)
{
    return x * x + y * y;
}

static double saddle(double x, double y)
{
    return x * x - y * y;
}

static double level_ground(double x, double y)
{
    (void)x;
    (void)y;
    return 5;
}

static double rough(double x, double y)
{
    return sin(7 * x + 3 * y) + 0.7 * cos(11 * y - 5 * x) + 0.3 * x;
}

static void trace(tu_contour_mesh *mesh, double level, bool region, tu_contours *contours)
{
    tu_contour_tracer *tracer;
    check_status(tu_contour_tracer_create(mesh, &tracer, NULL), TU_OK, NULL);
    check_status(region ? tu_contour_trace_region(tracer, level, contours, NULL)
                        : tu_contour_trace_lines(tracer, level, contours, NULL),
                 TU_OK, NULL);
    tu_contour_tracer_destroy(tracer);
}

static void the_line_on_a_plane_is_straight_with_higher_ground_on_its_left(void **state)
{
    (void)state;
    tu_contours contours = {0};
    tu_contour_mesh mesh = make_mesh(plane, false);
    trace(&mesh, 0.35, false, &contours);
    assert_int_equal(contours.chain_count, 1);
    assert_false(contours.chain[0].closed);
    for (size_t i = 0; i < contours.point_count; i++) {
        const tu_contour_point *p = &contours.point[i];
        assert_true(fabs(3 * p->x_mm + p->y_mm - 0.35) < 1e-12); /* the plane's own equation */
    }
    const tu_contour_point *a = &contours.point[0], *b = &contours.point[contours.point_count - 1];
    /* the left of the direction is (-dy, dx); uphill is (3, 1) */
    assert_true(-(b->y_mm - a->y_mm) * 3 + (b->x_mm - a->x_mm) * 1 > 0);
    assert_true(fabs(fabs(b->y_mm - a->y_mm) - 2) < 1e-12); /* from the front to the back border */
    tu_contours_destroy(&contours);
}

static void the_region_above_a_plane_has_the_area_of_its_trapezium(void **state)
{
    (void)state;
    tu_contours contours = {0};
    tu_contour_mesh mesh = make_mesh(plane, false);
    trace(&mesh, 0.35, true, &contours);
    assert_true(all_closed(&contours));
    /* 3 x + y >= 0.35: x from (0.35 - y)/3 to 1, y from -1 to 1: area 2 (1 - 0.35/3) */
    assert_true(fabs(area_of(&contours) - 2 * (1 - 0.35 / 3)) < 1e-12);
    tu_contours_destroy(&contours);
}

static void a_bowl_has_rings_and_the_region_outside_them(void **state)
{
    (void)state;
    const double pi = 3.14159265358979323846;
    tu_contours contours = {0};
    tu_contour_mesh mesh = make_mesh(bowl, false);
    trace(&mesh, 0.5, false, &contours);
    assert_int_equal(contours.chain_count, 1);
    assert_true(contours.chain[0].closed);
    /* a circle of area pi h, less the chords of the cells: within the mesh's own error h^2 ~ 0.0025
     */
    assert_true(fabs(-area_of(&contours) - 0.5 * pi) < 0.005);
    trace(&mesh, 0.5, true, &contours);
    assert_int_equal(contours.chain_count, 2);
    assert_true(all_closed(&contours));
    assert_true(fabs(area_of(&contours) - (4 - 0.5 * pi)) < 0.005);
    tu_contours_destroy(&contours);
}

static void a_saddle_at_its_own_height_is_no_branch(void **state)
{
    (void)state;
    tu_contours contours = {0};
    tu_contour_mesh mesh = make_mesh(saddle, false);
    trace(&mesh, 0, true, &contours);
    assert_true(all_closed(&contours));
    assert_true(fabs(area_of(&contours) - 2) < 0.01); /* half of the square, by symmetry */
    tu_contours_destroy(&contours);
}

static void level_ground_is_all_above_or_all_below(void **state)
{
    (void)state;
    tu_contours contours = {0};
    tu_contour_mesh mesh = make_mesh(level_ground, false);
    trace(&mesh, 5, true, &contours);
    assert_int_equal(contours.chain_count, 1);
    assert_true(fabs(area_of(&contours) - 4) < 1e-12);
    trace(&mesh, 5, false, &contours);
    assert_int_equal(contours.chain_count, 0);
    trace(&mesh, 5.0000001, true, &contours);
    assert_int_equal(contours.chain_count, 0);
    tu_contours_destroy(&contours);
}

/* The regions of one mesh against summing each triangle's part above the level by clipping it. */
static double clipped_area(const tu_contour_mesh *mesh, double level)
{
    double area = 0;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        double x[6], y[6];
        size_t n = 0;
        for (int k = 0; k < 3; k++) {
            const tu_contour_vertex *a = &mesh->vertex[mesh->triangle[t][k]];
            const tu_contour_vertex *b = &mesh->vertex[mesh->triangle[t][(k + 1) % 3]];
            if (a->height_mm >= level) {
                x[n] = a->x_mm;
                y[n++] = a->y_mm;
            }
            if ((a->height_mm >= level) != (b->height_mm >= level)) {
                double s = (level - a->height_mm) / (b->height_mm - a->height_mm);
                x[n] = a->x_mm + s * (b->x_mm - a->x_mm);
                y[n++] = a->y_mm + s * (b->y_mm - a->y_mm);
            }
        }
        for (size_t i = 0; i < n; i++)
            area += 0.5 * (x[i] * y[(i + 1) % n] - x[(i + 1) % n] * y[i]);
    }
    return area;
}

static void a_rough_bed_with_holes_keeps_every_region_whole(void **state)
{
    (void)state;
    tu_contours contours = {0};
    tu_contour_mesh mesh = make_mesh(rough, true);
    for (int step = -21; step <= 21; step++) {
        double level = 0.1 * step;
        trace(&mesh, level, true, &contours);
        assert_true(all_closed(&contours));
        assert_true(fabs(area_of(&contours) - clipped_area(&mesh, level)) < 1e-10);
    }
    tu_contours_destroy(&contours);
}

static void triangles_that_overlap_are_refused(void **state)
{
    (void)state;
    const tu_contour_vertex v[] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 1}, {2, 2, 0}};
    const uint32_t t[][3] = {{0, 1, 2}, {0, 1, 3}};
    tu_contour_mesh mesh = {v, 5, t, 2};
    tu_contour_tracer *tracer = (tu_contour_tracer *)1;
    tu_error error;
    check_status(tu_contour_tracer_create(&mesh, &tracer, &error), TU_DATA_CONFLICT, &error);
    assert_null(tracer);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_line_on_a_plane_is_straight_with_higher_ground_on_its_left),
        cmocka_unit_test(the_region_above_a_plane_has_the_area_of_its_trapezium),
        cmocka_unit_test(a_bowl_has_rings_and_the_region_outside_them),
        cmocka_unit_test(a_saddle_at_its_own_height_is_no_branch),
        cmocka_unit_test(level_ground_is_all_above_or_all_below),
        cmocka_unit_test(a_rough_bed_with_holes_keeps_every_region_whole),
        cmocka_unit_test(triangles_that_overlap_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
