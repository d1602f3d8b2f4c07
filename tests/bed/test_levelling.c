/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heights added under supports: applied to the points, they make the tilt vanish. */
#include "bed_sample.h"

#include <math.h>
#include <stdlib.h>

static void heights_applied_make_the_tilt_vanish(void **state)
{
    (void)state;
    check_random random = check_random_seed(31);

    for (int run = 0; run < 100; run++) {
        tu_bed_point *points = bed_scatter((uint64_t)run, 40, 800, 600, bed_saddle);
        const size_t supports = 3 + check_random_below(&random, 6);
        tu_machine_plane_point support[8];
        double add[8], least = INFINITY;
        tu_plane_fit before, after;
        tu_error error;

        for (size_t i = 0; i < 40; i++)
            points[i].z_mm += 0.002 * points[i].x_mm - 0.003 * points[i].y_mm;
        for (size_t i = 0; i < supports; i++)
            support[i] = (tu_machine_plane_point){check_random_uniform(&random, 0, 800),
                                                  check_random_uniform(&random, 0, 600)};
        check_status(tu_bed_fit_plane(points, 40, &before, &error), TU_OK, &error);
        check_status(tu_bed_level(before.slope_x, before.slope_y, support, supports, add, &error),
                     TU_OK, &error);
        for (size_t i = 0; i < supports; i++) {
            assert_true(add[i] >= 0);
            least = fmin(least, add[i]);
        }
        check_same(least, 0, "the highest support, mm");
        for (size_t i = 0; i < 40; i++)
            points[i] = tu_bed_raise_point(support, supports, add, points[i]);
        check_status(tu_bed_fit_plane(points, 40, &after, &error), TU_OK, &error);
        /* fitted normal to the plane, applied upright: the difference goes with the slope's square
         * times the saddle's own slopes */
        check_close(after.slope_x, 0, 1e-6, "slope along X after levelling");
        check_close(after.slope_y, 0, 1e-6, "slope along Y after levelling");
        free(points);
    }
}

static void three_supports_are_raised_by_what_they_were_given(void **state)
{
    (void)state;
    const tu_machine_plane_point support[3] = {{0, 0}, {600, 0}, {0, 400}};
    double add[3];
    tu_error error;

    check_status(tu_bed_level(0.001, -0.0005, support, 3, add, &error), TU_OK, &error);
    /* pencil: heights 0, 0.6, -0.2 */
    check_close(add[0], 0.6, 1e-15, "front left, mm");
    check_close(add[1], 0, 1e-15, "front right, mm");
    check_close(add[2], 0.8, 1e-15, "back left, mm");
    for (size_t i = 0; i < 3; i++) {
        const tu_bed_point at = {support[i].x, support[i].y, 0};
        check_close(tu_bed_raise_point(support, 3, add, at).z_mm, add[i], 1e-14, "raised by, mm");
    }
}

static void supports_that_settle_no_tilt_are_refused(void **state)
{
    (void)state;
    const tu_machine_plane_point line[4] = {{0, 0}, {100, 50}, {200, 100.01}, {400, 200}};
    const tu_machine_plane_point nowhere[3] = {{0, 0}, {NAN, 0}, {0, 1}};
    double add[4];
    tu_error error;

    check_status(tu_bed_level(0, 0, line, 2, add, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "found 2");
    check_status(tu_bed_level(0, 0, line, 4, add, &error), TU_UNDETERMINED, NULL);
    check_contains(error.message, "found 4 on one line");
    check_status(tu_bed_level(0, 0, nowhere, 3, add, &error), TU_DATA_RANGE, NULL);
    check_contains(error.message, "support 2");
    check_status(tu_bed_level(NAN, 0, line, 4, add, &error), TU_DATA_RANGE, NULL);
    check_status(tu_bed_level(2, 0, line, 4, add, &error), TU_DATA_RANGE, NULL);
    check_status(tu_bed_level(0, 0, line, 65, add, &error), TU_DATA_RANGE, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heights_applied_make_the_tilt_vanish),
        cmocka_unit_test(three_supports_are_raised_by_what_they_were_given),
        cmocka_unit_test(supports_that_settle_no_tilt_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
