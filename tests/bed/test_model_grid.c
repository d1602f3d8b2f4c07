/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What makes a grid of points and what does not, and where its gaps are wide. By pencil. */
#include "bed_sample.h"

#include <stdlib.h>

static void uneven_lines_are_a_grid(void **state)
{
    (void)state;
    const double xs[] = {0, 20, 45, 150, 400, 401 + 39}, ys[] = {-10, 300, 320, 900};
    tu_bed_point points[24];

    for (size_t k = 0; k < 24; k++)
        points[k] = (tu_bed_point){xs[k % 6], ys[k / 6], bed_saddle(xs[k % 6], ys[k / 6])};
    bed_model made = bed_model_of(points, 24, false);
    assert_int_equal(made.model.kind, TU_BED_GRID);
    assert_int_equal(made.model.columns, 6);
    check_close(tu_bed_model_height(&made.model, 200, 500), bed_saddle(200, 500), 1e-13,
                "height, mm");
    /* gaps along X 20 25 105 250 40, along Y 310 20 580 */
    check_close(made.model.usual_x_mm, 40, 1e-12, "usual gap along X, mm");
    check_close(made.model.usual_y_mm, 310, 1e-12, "usual gap along Y, mm");
    check_close(made.model.wide_gap_mm, 250, 1e-12, "wide gap, mm");
    check_close(tu_bed_model_wide_gap(&made.model, 200, 310), 250, 1e-12, "gap there, mm");
    check_same(tu_bed_model_wide_gap(&made.model, 100, 500), 0, "no wide gap there");
    check_same(tu_bed_model_wide_gap(&made.model, 400, 500), 0, "no wide gap on a line");
    bed_model_free(&made);
}

/* Lines left out first and last; usual gaps are 10 along X, 20 along Y. */
static void a_wide_gap_is_more_than_four_usual_ones(void **state)
{
    (void)state;
    const double xs[] = {0, 50, 60, 70, 80, 130.5}, ys[] = {0, 90, 110, 130, 150, 230};
    tu_bed_point points[36];

    for (size_t k = 0; k < 36; k++)
        points[k] = (tu_bed_point){xs[k % 6], ys[k / 6], 1};
    bed_model made = bed_model_of(points, 36, false);
    assert_int_equal(made.model.kind, TU_BED_GRID);
    check_same(made.model.wide_gap_mm, 90, "wide gap, mm");
    check_same(tu_bed_model_wide_gap(&made.model, 25, 100), 50, "wide along X, mm");
    check_same(tu_bed_model_wide_gap(&made.model, 65, 45), 90, "wide along Y, mm");
    check_same(tu_bed_model_wide_gap(&made.model, 25, 45), 90, "wide along both, mm");
    check_same(tu_bed_model_wide_gap(&made.model, 65, 200), 0, "four usual ones are not wide");
    check_same(tu_bed_model_wide_gap(&made.model, 130.5, 100), 0, "on the last line");
    check_same(tu_bed_model_wide_gap(&made.model, 0, 100), 0, "on the first line");
    check_same(tu_bed_model_wide_gap(&made.model, 65, 0), 0, "on the first line of Y");
    bed_model_free(&made);
}

/* Two rows, each touched between the places of the other: no column has two. */
static void a_zigzag_is_no_grid(void **state)
{
    (void)state;
    tu_bed_point points[20];

    for (size_t k = 0; k < 20; k++)
        points[k] = (tu_bed_point){10.0 * (double)k, k % 2 ? 80 : 0, 1};
    bed_model made = bed_model_of(points, 20, false);
    assert_int_equal(made.model.kind, TU_BED_MESH);
    bed_model_free(&made);
}

/* Of a grid of 6 by 6 the right half of the front row and every other crossing behind: 18; then one
 * of the front row less. */
static void half_of_the_crossings_touched_make_a_grid_and_no_fewer_do(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(6, 6, 100, bed_saddle);
    size_t kept = 0;

    for (size_t k = 0; k < 36; k++)
        if (k < 6 ? k >= 3 : (k % 6 + k / 6) % 2 == 0)
            points[kept++] = points[k];
    assert_int_equal(kept, 18);
    bed_model made = bed_model_of(points, 18, false);
    assert_int_equal(made.model.kind, TU_BED_GRID);
    assert_int_equal(made.model.columns * made.model.rows, 36);
    bed_model_free(&made);
    made = bed_model_of(points + 1, 17, false);
    assert_int_equal(made.model.kind, TU_BED_MESH);
    bed_model_free(&made);
    free(points);
}

/* By pencil: between the neighbours of its row, of its column, the mean of both where both are. */
static void a_missing_touch_is_filled_in_from_touched_neighbours_alone(void **state)
{
    (void)state;
    tu_bed_point points[25];
    const size_t middle = 12;

    for (size_t k = 0; k < 25; k++)
        points[k] = (tu_bed_point){100.0 * (double)(k % 5), 100.0 * (double)(k / 5), 0};
    points[middle - 1].z_mm = 1;
    points[middle + 1].z_mm = 2;
    points[middle - 5].z_mm = 4;
    points[middle + 5].z_mm = 6;
    points[middle + 6].z_mm = 8;
    const tu_bed_point beside = points[middle + 1];
    points[middle] = points[24];
    bed_model made = bed_model_of(points, 24, false); /* 1, 2 along X, 4, 6 along Y */
    assert_int_equal(made.model.filled, 1);
    check_close(tu_bed_model_height(&made.model, 200, 200), (1.5 + 5) / 2, 1e-12, "height, mm");
    bed_model_free(&made);
    points[middle + 1] = points[23]; /* two side by side: each from its column alone */
    made = bed_model_of(points, 23, false);
    assert_int_equal(made.model.filled, 2);
    check_close(tu_bed_model_height(&made.model, 200, 200), 5, 1e-12, "height, mm");
    check_close(tu_bed_model_height(&made.model, beside.x_mm, beside.y_mm), 4, 1e-12,
                "height beside it, mm");
    bed_model_free(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(uneven_lines_are_a_grid),
        cmocka_unit_test(a_wide_gap_is_more_than_four_usual_ones),
        cmocka_unit_test(a_zigzag_is_no_grid),
        cmocka_unit_test(half_of_the_crossings_touched_make_a_grid_and_no_fewer_do),
        cmocka_unit_test(a_missing_touch_is_filled_in_from_touched_neighbours_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
