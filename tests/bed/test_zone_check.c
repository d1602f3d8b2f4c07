/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The certificate of a minimum zone: what was tampered with fails, by as much as it is wrong. */
#include "check.h"

#include "bed/zone_parts.h"

#include "trueup/flatness.h"

#include <math.h>

static tu_zone_workspace workspace;

static const tu_bed_point saddle[6] = {{0, 0, 0},    {100, 0, 1},   {0, 80, 1},
                                       {100, 80, 0}, {50, 30, 0.5}, {20, 60, 0.4}};

static void check_spoilt(const tu_bed_zone *zone, const char *words)
{
    tu_error error = {0};

    check_status(tu_bed_check_zone(saddle, 6, zone, 0.0, NULL, &error), TU_DATA_CONFLICT, NULL);
    check_contains(error.message, words);
}

static void a_certificate_that_was_tampered_with_fails(void **state)
{
    tu_bed_zone good;
    tu_error error = {0};

    (void)state;
    check_status(tu_bed_find_any_zone(saddle, 6, &workspace, &good, &error), TU_OK, &error);
    tu_bed_zone zone = good;
    assert_int_equal(good.criterion, TU_ZONE_2_2);
    zone.FLTt_mm -= 1e-9;
    check_spoilt(&zone, "a point lies 1e-09 mm outside");
    zone.FLTt_mm += 2e-9;
    check_spoilt(&zone, "a contact point 1e-09 mm off");
    zone = good;
    zone.base.z_mm += 1e-6;
    check_spoilt(&zone, "a point lies 1e-06 mm outside");
    zone = good;
    zone.low[0] = 4;
    check_spoilt(&zone, "0.5 mm off its plane");
    zone = good;
    zone.low[0] = zone.low[1];
    check_spoilt(&zone, "named twice");
    zone = good;
    zone.high[1] = 6;
    check_spoilt(&zone, "beyond the 6 points");
    zone = good;
    zone.criterion = TU_ZONE_3_1;
    check_spoilt(&zone, "do not fit the zone's criterion");
    zone = good;
    zone.normal.z *= 1.001;
    check_spoilt(&zone, "not a unit vector");
    zone = good;
    zone.FLTt_mm = NAN;
    check_spoilt(&zone, "not a width");
}

/* Four points of a roof: at a normal that leans, two and two touch, but their lines do not cross.
 */
static void a_zone_that_touches_on_four_points_but_could_be_narrower_fails(void **state)
{
    const tu_bed_point points[4] = {{0, 0, 1}, {100, 0, 1}, {0, 80, 0}, {100, 80, 0}};
    tu_bed_zone zone = {.FLTt_mm = 1.0,
                        .normal = {0, 0, 1},
                        .criterion = TU_ZONE_2_2,
                        .high = {0, 1},
                        .high_count = 2,
                        .low = {2, 3},
                        .low_count = 2};
    tu_zone_check check;
    tu_error error = {0};

    (void)state;
    check_status(tu_bed_check_zone(points, 4, &zone, 0.0, &check, &error), TU_DATA_CONFLICT, NULL);
    check_close(check.projection_mm, 80.0, 1e-12, "projection, mm");
    check_close(check.outside_mm, 0.0, 0.0, "outside, mm");
    check_close(check.contact_mm, 0.0, 0.0, "contact, mm");
    /* three high and one low beside their triangle */
    const tu_bed_point beside[4] = {{0, 0, 1}, {90, 0, 1}, {0, 90, 1}, {60, 50, 0}};
    zone.criterion = TU_ZONE_3_1;
    zone.high[2] = 2;
    zone.high_count = 3;
    zone.low[0] = 3;
    zone.low_count = 1;
    check_status(tu_bed_check_zone(beside, 4, &zone, 0.0, &check, &error), TU_DATA_CONFLICT, NULL);
    check_close(check.projection_mm, 20.0 / sqrt(2.0), 1e-12, "projection, mm"); /* x + y = 90 */
}

/* Beside each side and each corner, the triangle run through in either sense; within it and on its
 * border it is one. */
static void a_low_point_misses_its_triangle_by_the_way_to_the_nearest_side(void **state)
{
    const double aside[][3] = {{60, 50, 14.142135623730951},
                               {30, -7, 7},
                               {-8, 40, 8},
                               {-3, -4, 5},
                               {93, -4, 5},
                               {-4, 93, 5},
                               {30, 30, 0},
                               {45, 45, 0},
                               {0, 20, 0}};
    tu_bed_zone zone = {.FLTt_mm = 1.0,
                        .normal = {0, 0, 1},
                        .criterion = TU_ZONE_3_1,
                        .high_count = 3,
                        .low = {3},
                        .low_count = 1};
    tu_zone_check check;
    tu_error error = {0};

    (void)state;
    for (size_t k = 0; k < 18; k++) {
        const double *at = aside[k / 2];
        const tu_bed_point one[4] = {{0, 0, 1}, {90, 0, 1}, {0, 90, 1}, {at[0], at[1], 0}};
        zone.high[1] = k % 2 ? 2 : 1;
        zone.high[2] = k % 2 ? 1 : 2;
        check_status(tu_bed_check_zone(one, 4, &zone, 0.0, &check, &error),
                     at[2] > 0 ? TU_DATA_CONFLICT : TU_OK, NULL);
        check_close(check.projection_mm, at[2], 1e-12, "projection beside the triangle, mm");
    }
}

/* What is nearest is an end of either, beside the other. */
static void two_contact_lines_miss_each_other_by_the_way_between_them(void **state)
{
    const double gaps[][5] = {{50, 20, 50, 60, 20},    {50, -60, 50, -20, 20},
                              {-30, -40, -30, 10, 30}, {103, -4, 200, -90, 5},
                              {110, -50, 110, 50, 10}, {50, -1, 50, 1, 0}};
    tu_bed_zone zone = {.FLTt_mm = 1.0,
                        .normal = {0, 0, 1},
                        .criterion = TU_ZONE_2_2,
                        .high = {0, 1},
                        .high_count = 2,
                        .low = {2, 3},
                        .low_count = 2};
    tu_zone_check check;
    tu_error error = {0};

    (void)state;
    for (size_t k = 0; k < 24; k++) {
        const double *at = gaps[k / 4];
        const tu_bed_point two[4] = {{0, 0, 1}, {100, 0, 1}, {at[0], at[1], 0}, {at[2], at[3], 0}};
        zone.high[0] = k % 2 ? 1 : 0;
        zone.high[1] = k % 2 ? 0 : 1;
        zone.low[0] = k / 2 % 2 ? 3 : 2;
        zone.low[1] = k / 2 % 2 ? 2 : 3;
        check_status(tu_bed_check_zone(two, 4, &zone, 0.0, &check, &error),
                     at[4] > 0 ? TU_DATA_CONFLICT : TU_OK, NULL);
        check_close(check.projection_mm, at[4], 1e-12, "projection between segments, mm");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_certificate_that_was_tampered_with_fails),
        cmocka_unit_test(a_zone_that_touches_on_four_points_but_could_be_narrower_fails),
        cmocka_unit_test(a_low_point_misses_its_triangle_by_the_way_to_the_nearest_side),
        cmocka_unit_test(two_contact_lines_miss_each_other_by_the_way_between_them),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
