/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The narrowest direction by the hull against all hull facets and edge pairs (zone_brute.c), at the
 * clouds that are no bed: fat ones, balls, lattices, boxes, in parallel faces and edges too.
 */
#include "check.h"
#include "zone_brute.h"

#include "bed/zone_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static double width_along(const tu_bed_point *points, size_t count, tu_bed_direction n)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < count; i++) {
        const double value = n.x * (points[i].x_mm - points[0].x_mm) +
                             n.y * (points[i].y_mm - points[0].y_mm) +
                             n.z * (points[i].z_mm - points[0].z_mm);
        low = fmin(low, value);
        high = fmax(high, value);
    }
    return high - low;
}

/* False: Qhull made no hull, since all is flat or on one line. */
static bool compare(const tu_bed_point *points, size_t count, unsigned run, size_t kind)
{
    tu_bed_box box;
    tu_zone_hull found;
    tu_error error = {0};
    char what[80];

    if (tu_bed_box_of(points, count, &box, &error))
        return false;
    const tu_status status = tu_zone_search_hull(points, count, &box, &found, &error);
    if (status == TU_NUMERIC) {
        const double width = brute_width(points, count); /* infinite: on one line */
        assert_true(isinf(width) || width < 1e-9 * box.size_mm);
        return false;
    }
    check_status(status, TU_OK, &error);
    snprintf(what, sizeof what, "width of cloud %u (%s), mm", run, brute_kind_name(kind));
    /* Qhull lets a point lie off its facet by some roundings of the size; a slanted direction
     * costs as many of the offset. */
    check_close(width_along(points, count, found.normal), brute_width(points, count),
                1e-13 * (box.size_mm + box.largest_mm), what);
    return true;
}

static void the_hull_gives_the_width_of_the_narrowest_facet_or_edge_pair(void **state)
{
    static const char *const solid[] = {"fat", "ball", "lattice", "box", "saddle", "bed"};
    check_random random = check_random_seed(11);
    tu_bed_point points[BRUTE_POINTS];
    size_t compared = 0;

    (void)state;
    for (unsigned run = 0; run < 3000; run++) {
        const size_t kind = run % BRUTE_KINDS;
        bool wanted = false;
        size_t count;

        for (size_t k = 0; k < sizeof solid / sizeof *solid; k++)
            wanted |= strcmp(brute_kind_name(kind), solid[k]) == 0;
        if (!wanted)
            continue;
        brute_cloud(&random, kind, points, &count);
        if (run / BRUTE_KINDS % 2 == 1)
            brute_move(&random, 500.0, points, count);
        compared += compare(points, count, run, kind);
    }
    assert_true(compared > 1300);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_hull_gives_the_width_of_the_narrowest_facet_or_edge_pair),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
