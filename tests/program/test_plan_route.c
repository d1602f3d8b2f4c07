/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_route.c - ways round rectangles: against lengths by hand, and against sampled distances
 * at random layouts.
 */
#include "check.h"

#include "program/plan_route.h"

#include <math.h>

static tu_plan_routes routes;
static tu_plan_way way;
static const tu_rectangle area = {0.0, 0.0, 100.0, 80.0};

static void a_rectangles_distance_is_that_of_its_nearest_point(void **unused)
{
    (void)unused;
    const tu_rectangle r = {10.0, 20.0, 30.0, 40.0};
    check_close(tu_rectangle_distance(&r, (tu_plan_spot){7.0, 16.0}), 5.0, 1e-12, "corner, mm");
    check_close(tu_rectangle_distance(&r, (tu_plan_spot){20.0, 45.0}), 5.0, 1e-12, "side, mm");
    check_close(tu_rectangle_distance(&r, (tu_plan_spot){20.0, 30.0}), 0.0, 0.0, "within, mm");
}

static void a_lines_distance_is_the_least_of_its_points(void **unused)
{
    (void)unused;
    check_random random = check_random_seed(7);
    for (int i = 0; i < 3000; i++) {
        double x = check_random_uniform(&random, 0, 60), y = check_random_uniform(&random, 0, 60);
        tu_rectangle r = {x, y, x + check_random_uniform(&random, 1, 30),
                          y + check_random_uniform(&random, 1, 30)};
        tu_plan_spot from = {check_random_uniform(&random, 0, 90),
                             check_random_uniform(&random, 0, 90)};
        tu_plan_spot to = {check_random_uniform(&random, 0, 90),
                           check_random_uniform(&random, 0, 90)};
        double least = INFINITY;
        for (int k = 0; k <= 2000; k++) {
            double t = k / 2000.0;
            tu_plan_spot p = {from.x + t * (to.x - from.x), from.y + t * (to.y - from.y)};
            least = fmin(least, tu_rectangle_distance(&r, p));
        }
        double found = tu_rectangle_distance_of_line(&r, from, to);
        assert_true(found <= least + 1e-12);
        check_close(found, least, 0.04, "distance, mm"); /* half a step of at most 0.064 */
    }
}

static void nothing_in_the_way_is_gone_straight(void **unused)
{
    (void)unused;
    tu_plan_routes_start(&routes, area, NULL, 0, 5.0);
    assert_true(tu_plan_routes_find(&routes, (tu_plan_spot){0, 0}, (tu_plan_spot){30, 40}, &way));
    assert_int_equal(way.count, 1);
    check_close(way.length_mm, 50.0, 1e-12, "mm");
}

/* A square of 20 about (50, 40), kept off by 5. The octagon at its corner (40, 50) has the vertices
 * (40 - d, 55) and (35, 50 + d) with d = 5 tan(22.5 deg) = 2.07; both stand 0.003 further off. */
static const tu_rectangle square = {40.0, 30.0, 60.0, 50.0};

static void the_way_round_a_square_takes_the_upper_vertices(void **unused)
{
    (void)unused;
    /* The line from (20, 40) to the first vertex passes the corner at 5.16. */
    double d = 5.003 * tan(M_PI / 8.0);
    tu_plan_routes_start(&routes, area, &square, 1, 5.0);
    assert_true(tu_plan_routes_find(&routes, (tu_plan_spot){20, 40}, (tu_plan_spot){80, 40}, &way));
    assert_int_equal(way.count, 3);
    check_close(way.length_mm, 2.0 * hypot(20.0 - d, 15.003) + 20.0 + 2.0 * d, 1e-9, "mm");
}

static void a_start_near_its_side_takes_the_lower_ones_too(void **unused)
{
    (void)unused;
    /* From (33, 40) the same line would pass the corner at 3.5. */
    double d = 5.003 * tan(M_PI / 8.0);
    tu_plan_routes_start(&routes, area, &square, 1, 5.0);
    assert_true(tu_plan_routes_find(&routes, (tu_plan_spot){33, 40}, (tu_plan_spot){67, 40}, &way));
    assert_int_equal(way.count, 5);
    double legs = hypot(1.997, 10.0 + d) + hypot(5.003 - d, 5.003 - d);
    check_close(way.length_mm, 2.0 * legs + 20.0 + 2.0 * d, 1e-9, "mm");
}

static void a_wall_across_the_area_leaves_no_way(void **unused)
{
    (void)unused;
    const tu_rectangle wall = {45.0, -5.0, 55.0, 76.0}; /* 4 mm are left at the back */
    tu_plan_routes_start(&routes, area, &wall, 1, 5.0);
    assert_false(
        tu_plan_routes_find(&routes, (tu_plan_spot){20, 40}, (tu_plan_spot){80, 40}, &way));
    tu_plan_routes_start(&routes, area, &wall, 1, 3.5);
    assert_true(tu_plan_routes_find(&routes, (tu_plan_spot){20, 40}, (tu_plan_spot){80, 40}, &way));
}

static tu_plan_spot random_spot(check_random *random)
{
    tu_plan_spot spot;
    do {
        spot.x = check_random_uniform(random, area.x0_mm, area.x1_mm);
        spot.y = check_random_uniform(random, area.y0_mm, area.y1_mm);
    } while (!tu_plan_routes_allow(&routes, spot));
    return spot;
}

/* Samples a straight line. */
static void check_line(const tu_rectangle *keep_out, size_t count, double keep, tu_plan_spot from,
                       tu_plan_spot to)
{
    for (int k = 0; k <= 200; k++) {
        double t = k / 200.0;
        tu_plan_spot p = {from.x + t * (to.x - from.x), from.y + t * (to.y - from.y)};
        assert_true(p.x >= -1e-9 && p.x <= 100.0 + 1e-9 && p.y >= -1e-9 && p.y <= 80.0 + 1e-9);
        for (size_t i = 0; i < count; i++)
            assert_true(tu_rectangle_distance(&keep_out[i], p) >= keep - 0.006);
    }
}

static void ways_at_random_keep_off_and_inside(void **unused)
{
    (void)unused;
    check_random random = check_random_seed(11);
    size_t found = 0, turned = 0, shut = 0;
    for (int layout = 0; layout < 1000; layout++) {
        tu_rectangle keep_out[6];
        size_t count = 1 + check_random_below(&random, 6);
        for (size_t i = 0; i < count; i++) {
            double x = check_random_uniform(&random, -10, 90);
            double y = check_random_uniform(&random, -10, 70);
            keep_out[i] = (tu_rectangle){x, y, x + check_random_uniform(&random, 2, 30),
                                         y + check_random_uniform(&random, 2, 30)};
        }
        double keep = check_random_uniform(&random, 1.0, 8.0);
        tu_plan_routes_start(&routes, area, keep_out, count, keep);
        tu_plan_spot from = random_spot(&random), to = random_spot(&random);
        if (!tu_plan_routes_find(&routes, from, to, &way)) {
            shut++;
            continue;
        }
        found++;
        turned += way.count > 1;
        double length = 0.0;
        for (size_t i = 0; i < way.count; i++) {
            check_line(keep_out, count, keep, from, way.spot[i]);
            length += hypot(way.spot[i].x - from.x, way.spot[i].y - from.y);
            from = way.spot[i];
        }
        check_close(length, way.length_mm, 1e-9, "length, mm");
        check_close(from.x, to.x, 0.0, "x of the end, mm");
    }
    assert_true(found > 700 && turned > 200 && shut > 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rectangles_distance_is_that_of_its_nearest_point),
        cmocka_unit_test(a_lines_distance_is_the_least_of_its_points),
        cmocka_unit_test(nothing_in_the_way_is_gone_straight),
        cmocka_unit_test(the_way_round_a_square_takes_the_upper_vertices),
        cmocka_unit_test(a_start_near_its_side_takes_the_lower_ones_too),
        cmocka_unit_test(a_wall_across_the_area_leaves_no_way),
        cmocka_unit_test(ways_at_random_keep_off_and_inside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
