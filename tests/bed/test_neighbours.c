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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_nearest_are_the_nearest),
        cmocka_unit_test(crowds_and_lines_are_searched_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
