/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The minimum zone against all hull facets and edge pairs (zone_brute.c) at random clouds of up to
 * 60 points of twelve kinds, level and turned, with the certificate checked each time; and what a
 * change of frame, size or order must not change. TRUEUP_RUNS and TRUEUP_SEED ask for other clouds.
 */
#include "check.h"
#include "zone_brute.h"

#include "bed/zone_parts.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static tu_zone_workspace workspace;

/* False: the points are on one line. */
static bool find(const tu_bed_point *points, size_t count, tu_bed_zone *zone)
{
    tu_error error = {0};
    const tu_status status = tu_bed_find_any_zone(points, count, &workspace, zone, &error);

    if (status == TU_UNDETERMINED)
        return false;
    check_status(status, TU_OK, &error);
    return true;
}

/*
 * Rounding of a width: of distances over the size, and of the coordinates as they stand. That of
 * the direction of two nearly parallel lines of a needle is the largest, and is the brute force's.
 */
static double rounding(const tu_bed_point *points, size_t count)
{
    return 256.0 * DBL_EPSILON * (brute_size(points, count) + brute_largest(points, count));
}

static void clouds_have_the_width_of_their_narrowest_facet_or_edge_pair(void **state)
{
    const size_t runs = check_runs(2000, 10000);
    check_random random = check_random_seed(check_seed(20261125));
    tu_bed_point points[BRUTE_POINTS];
    size_t proofs[3] = {0};
    size_t criteria[4] = {0};
    size_t lines = 0;

    (void)state;
    for (size_t run = 0; run < runs; run++) {
        const size_t kind = run % BRUTE_KINDS;
        tu_bed_zone zone;
        tu_zone_check check;
        tu_error error = {0};
        char what[80];
        size_t count;

        brute_cloud(&random, kind, points, &count);
        if (run / BRUTE_KINDS % 2 == 1)
            brute_move(&random, 500.0, points, count);
        if (!find(points, count, &zone)) {
            lines++;
            continue;
        }
        snprintf(what, sizeof what, "width of cloud %zu (%s), mm", run, brute_kind_name(kind));
        check_close(zone.FLTt_mm, brute_width(points, count), rounding(points, count), what);
        check_status(tu_bed_check_zone(points, count, &zone, 0.0, &check, &error), TU_OK, &error);
        proofs[zone.proof]++;
        criteria[zone.criterion]++;
    }
    printf("# proofs: spread %zu, search %zu, flat %zu; criteria 3-1 %zu, 1-3 %zu, 2-2 %zu; on one "
           "line %zu\n",
           proofs[0], proofs[1], proofs[2], criteria[0], criteria[1], criteria[2], lines);
    /* each way was gone, or the test shows less than it says */
    for (int k = 0; k < 3; k++)
        assert_true(100 * proofs[k] > runs && 100 * criteria[k] > runs);
    assert_true(lines < runs / 50);
}

static void turning_moving_scaling_and_reordering_keep_the_width(void **state)
{
    check_random random = check_random_seed(7);
    tu_bed_point points[BRUTE_POINTS];
    tu_bed_point other[BRUTE_POINTS];

    (void)state;
    for (size_t run = 0; run < 3000; run++) {
        const double scale = pow(10.0, check_random_uniform(&random, -3, 3));
        tu_bed_zone first;
        tu_bed_zone second;
        char what[80];
        size_t count;

        brute_cloud(&random, run % BRUTE_KINDS, points, &count);
        if (!find(points, count, &first))
            continue;
        for (size_t i = 0; i < count; i++)
            other[i] = (tu_bed_point){points[i].x_mm * scale, points[i].y_mm * scale,
                                      points[i].z_mm * scale};
        for (size_t i = count - 1; i > 0; i--) {
            const size_t k = check_random_below(&random, i + 1);
            const tu_bed_point swap = other[i];

            other[i] = other[k];
            other[k] = swap;
        }
        brute_move(&random, 300.0, other, count);
        assert_true(find(other, count, &second));
        snprintf(what, sizeof what, "width of cloud %zu (%s), moved, mm", run,
                 brute_kind_name(run % BRUTE_KINDS));
        check_close(second.FLTt_mm, first.FLTt_mm * scale,
                    rounding(other, count) + scale * rounding(points, count), what);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(clouds_have_the_width_of_their_narrowest_facet_or_edge_pair),
        cmocka_unit_test(turning_moving_scaling_and_reordering_keep_the_width),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
