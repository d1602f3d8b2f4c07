/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The nearest points, against looking at all of them. */
#include "bed_sample.h"

#include "bed/neighbours.h"

#include <math.h>
#include <stdlib.h>

static double distance2(const tu_bed_point *a, const tu_bed_point *b)
{
    return pow(a->x_mm - b->x_mm, 2) + pow(a->y_mm - b->y_mm, 2);
}

static void check_all(const tu_bed_point *points, size_t count)
{
    const size_t bytes = tu_bed_squares_bytes(count);
    void *block = malloc(bytes);
    tu_bed_memory memory = {block, bytes};
    tu_bed_squares squares;

    tu_bed_squares_start(&squares, points, count, &memory);
    for (size_t i = 0; i < count; i++) {
        size_t nearest[TU_BED_NEIGHBOURS_MAX];
        const size_t found = tu_bed_squares_nearest(&squares, i, TU_BED_NEIGHBOURS_MAX, nearest);
        assert_int_equal(found, count - 1 < 12 ? count - 1 : 12);
        const double farthest = distance2(&points[i], &points[nearest[found - 1]]);
        size_t nearer = 0;
        for (size_t k = 0; k < count; k++)
            nearer += k != i && distance2(&points[i], &points[k]) < farthest;
        assert_in_range(nearer, 0, found - 1);
        for (size_t k = 1; k < found; k++)
            assert_true(distance2(&points[i], &points[nearest[k - 1]]) <=
                        distance2(&points[i], &points[nearest[k]]));
    }
    free(block);
}

static void the_nearest_are_the_nearest(void **state)
{
    (void)state;
    for (size_t count = 2; count < 400; count = count * 3 / 2 + 1) {
        tu_bed_point *points = bed_scatter(count, count, 800, count % 2 ? 600 : 3, bed_flat);
        check_all(points, count);
        free(points);
    }
}

static void crowds_and_lines_are_searched_too(void **state)
{
    (void)state;
    tu_bed_point *points = bed_scatter(9, 200, 1, 1, bed_flat);

    points[0].x_mm = 5000;
    check_all(points, 200);
    for (size_t i = 0; i < 200; i++)
        points[i].y_mm = 0;
    check_all(points, 200);
    for (size_t i = 0; i < 200; i++)
        points[i].x_mm = 7;
    check_all(points, 200);
    free(points);
}

/* Rows ten times as far apart as the places in them, or the other way round: the neighbours are
 * still not all of one row. */
static void neighbours_lie_on_all_sides_whatever_the_spacing(void **state)
{
    (void)state;
    for (int turned = 0; turned < 2; turned++) {
        tu_bed_point *points = bed_grid(15, 15, 10, bed_flat);
        void *block = malloc(tu_bed_squares_bytes(225));
        tu_bed_memory memory = {block, tu_bed_squares_bytes(225)};
        tu_bed_squares squares;
        size_t nearest[TU_BED_NEIGHBOURS_MAX], in_row = 0, in_column = 0;

        assert_non_null(block);
        for (size_t i = 0; i < 225; i++)
            *(turned ? &points[i].x_mm : &points[i].y_mm) *= 10;
        tu_bed_squares_start(&squares, points, 225, &memory);
        tu_bed_squares_nearest(&squares, 112, 12, nearest);
        for (size_t k = 0; k < 12; k++)
            assert_true(turned ? points[nearest[k]].x_mm == points[112].x_mm
                               : points[nearest[k]].y_mm == points[112].y_mm);
        tu_bed_squares_balance(&squares);
        assert_int_equal(tu_bed_squares_nearest(&squares, 112, 12, nearest), 12);
        for (size_t k = 0; k < 12; k++) {
            in_row += points[nearest[k]].y_mm == points[112].y_mm;
            in_column += points[nearest[k]].x_mm == points[112].x_mm;
        }
        assert_in_range(in_row, 2, 10);
        assert_in_range(in_column, 2, 10);
        free(block);
        free(points);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_nearest_are_the_nearest),
        cmocka_unit_test(neighbours_lie_on_all_sides_whatever_the_spacing),
        cmocka_unit_test(crowds_and_lines_are_searched_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
