/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What of a surface counts in a rectangle: its highest and lowest points are those that the areas
 * of region.c find by cutting every piece, and a pencil's.
 */
#include "bed_sample.h"

#include <math.h>
#include <stdlib.h>

enum { ROOM = 20000 };

static double sharp_ridge(double x_mm, double y_mm)
{
    return 0.5 - fabs(x_mm - 0.8 * y_mm) / 200 + 0.0003 * x_mm;
}

static double draw(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (double)(*state >> 11) / 9007199254740992.0;
}

static void compare(const bed_model *made, const tu_bed_rectangle *job)
{
    static tu_bed_point point[ROOM];
    tu_bed_region region;
    tu_error error;
    size_t touched;
    double low = INFINITY, high = -INFINITY;

    const size_t count = tu_bed_list_surface(&made->model, job, point, ROOM, &touched);
    assert_true(count <= ROOM && touched <= count);
    for (size_t i = 0; i < count; i++)
        assert_true(isfinite(point[i].z_mm)); /* an edge into a hole is no edge */
    if (tu_bed_measure_region(&made->model, job, 0, &region, &error))
        return;
    for (size_t i = 0; i < count; i++) {
        low = fmin(low, point[i].z_mm);
        high = fmax(high, point[i].z_mm);
    }
    check_close(high, region.highest.z_mm, 1e-9, "highest in the job, mm");
    check_close(low, region.lowest.z_mm, 1e-9, "lowest in the job, mm");
}

static void try_jobs(const bed_model *made, uint64_t seed)
{
    for (int k = 0; k < 200; k++) {
        const double x = 850 * draw(&seed) - 40, y = 650 * draw(&seed) - 40;
        const double size = k % 2 ? 20 : 300;
        const tu_bed_rectangle job = {x, x + 1 + size * draw(&seed), y, y + 1 + size * draw(&seed)};
        compare(made, &job);
    }
}

static void random_jobs_on_random_meshes_have_the_range_of_the_surface(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 20; seed++) {
        tu_bed_point *points = bed_scatter(seed, 5 + 8 * seed, 800, 600, sharp_ridge);
        bed_model made = bed_model_of(points, 5 + 8 * seed, false);
        assert_int_equal(made.model.kind, TU_BED_MESH);
        try_jobs(&made, seed);
        bed_model_free(&made);
        free(points);
    }
}

static void random_jobs_on_grids_with_holes_have_the_range_of_the_surface(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 20; seed++) {
        tu_bed_point *points = bed_grid(9, 7, 100, sharp_ridge);
        uint64_t draws = seed;
        size_t count = 63;
        for (size_t holes = seed % 10; holes > 0; holes--) {
            const size_t gone = (size_t)((double)count * draw(&draws));
            points[gone] = points[--count];
        }
        bed_model made = bed_model_of(points, count, false);
        assert_int_equal(made.model.kind, TU_BED_GRID);
        try_jobs(&made, seed);
        bed_model_free(&made);
        free(points);
    }
}

/* A ridge along Y at X 100, 1 mm high, by triangles; the job's corners and places are all at 0. */
static void a_ridge_through_a_job_without_a_touch_counts(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{0, 0, 0},     {0, 313, 0}, {100, -20, 1},
                                   {100, 340, 1}, {200, 0, 0}, {200, 307, 0}};
    bed_model made = bed_model_of(points, 6, true);
    tu_bed_point found[40];
    size_t touched;
    const tu_bed_rectangle job = {50, 150, 100, 200};

    const size_t count = tu_bed_list_surface(&made.model, &job, found, 40, &touched);
    double high = -INFINITY;
    for (size_t i = 0; i < count; i++)
        high = fmax(high, found[i].z_mm);
    assert_int_equal(touched, 0);
    check_close(high, 1, 1e-12, "the ridge where the job's border crosses it, mm");
    assert_int_equal(tu_bed_list_surface(&made.model, &job, NULL, 0, &touched), count);
    bed_model_free(&made);
}

/* Nine crossings without the middle one, in a job around all: eight touches, one filled in, and
 * neither the job's border nor its corners are over the model. */
static void a_crossing_that_was_filled_in_is_listed_and_a_touch_only_once(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(3, 3, 100, sharp_ridge), found[20];
    const tu_bed_rectangle job = {-10, 210, -10, 210};
    size_t touched;

    points[4] = points[8];
    bed_model made = bed_model_of(points, 8, false);
    assert_int_equal(made.model.kind, TU_BED_GRID);
    assert_int_equal(tu_bed_list_surface(&made.model, &job, found, 20, &touched), 9);
    assert_int_equal(touched, 8);
    check_close(found[8].x_mm, 100, 1e-12, "X of what was filled in, mm");
    check_close(found[8].y_mm, 100, 1e-12, "its Y, mm");
    bed_model_free(&made);
    free(points);
}

/* Two touched places alone in a hole: the edge between them belongs to no cell and is no surface,
 * and a job's border that runs between them finds nothing there. */
static void an_edge_beside_which_nothing_is_known_is_none(void **state)
{
    (void)state;
    for (int along_x = 0; along_x < 2; along_x++) {
        tu_bed_point *points = bed_grid(9, 9, 100, sharp_ridge), found[20];
        const size_t lone = 4 * 9 + 4, other = along_x ? lone + 1 : lone + 9;
        const tu_bed_rectangle job = {390, along_x ? 450 : 410, 390, along_x ? 410 : 450};
        size_t kept = 0, touched;
        for (size_t k = 0; k < 81; k++)
            if (k == lone || k == other || k % 9 < 2 || k % 9 > 7 || k / 9 < 2 || k / 9 > 7)
                points[kept++] = points[k];
        bed_model made = bed_model_of(points, kept, false);
        assert_int_equal(made.model.kind, TU_BED_GRID);
        assert_int_equal(tu_bed_list_surface(&made.model, &job, found, 20, &touched), 1);
        assert_int_equal(touched, 1);
        bed_model_free(&made);
        free(points);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_jobs_on_random_meshes_have_the_range_of_the_surface),
        cmocka_unit_test(random_jobs_on_grids_with_holes_have_the_range_of_the_surface),
        cmocka_unit_test(a_ridge_through_a_job_without_a_touch_counts),
        cmocka_unit_test(a_crossing_that_was_filled_in_is_listed_and_a_touch_only_once),
        cmocka_unit_test(an_edge_beside_which_nothing_is_known_is_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
