/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_tour.c - tours over spots made shorter, against every order there is.
 */
#include "check.h"

#include "program/plan_tour.h"

#include <math.h>
#include <string.h>

static tu_plan_tour tour, other;
static tu_plan_routes routes;
static tu_rectangle keep_out[2];

static void start_tour(size_t keep_outs, const tu_plan_spot *spots, size_t count)
{
    const tu_rectangle area = {0.0, 0.0, 100.0, 100.0};
    tu_plan_routes_start(&routes, area, keep_out, keep_outs, 2.0);
    tour.routes = &routes;
    tour.count = count;
    memcpy(tour.spot, spots, count * sizeof *spots);
}

static void a_crossing_is_undone(void **unused)
{
    (void)unused;
    const tu_plan_spot spots[] = {{0, 0}, {10, 10}, {10, 0}, {0, 10}, {0, 20}};
    start_tour(0, spots, 5);
    /* sqrt(200), 10, sqrt(200), 10; afterwards right, up, left, up. */
    check_close(tu_plan_tour_measure(&tour), 2.0 * sqrt(200.0) + 20.0, 1e-9, "mm");
    check_close(tu_plan_tour_shorten(&tour), 40.0, 1e-9, "mm");
    check_close(tour.spot[1].x, 10.0, 0.0, "mm");
    check_close(tour.spot[1].y, 0.0, 0.0, "mm");
}

static void the_last_spot_may_become_another(void **unused)
{
    (void)unused;
    const tu_plan_spot spots[] = {{0, 0}, {30, 0}, {20, 0}, {10, 0}};
    start_tour(0, spots, 4);
    check_close(tu_plan_tour_measure(&tour), 50.0, 1e-9, "mm");
    check_close(tu_plan_tour_shorten(&tour), 30.0, 1e-9, "mm");
}

static void few_spots_stay_as_they_are(void **unused)
{
    (void)unused;
    const tu_plan_spot spots[] = {{5, 0}, {1, 0}};
    for (size_t count = 0; count <= 2; count++) {
        start_tour(0, spots, count);
        double before = tu_plan_tour_measure(&tour);
        check_close(before, count == 2 ? 4.0 : 0.0, 1e-9, "mm");
        check_close(tu_plan_tour_shorten(&tour), before, 0.0, "mm");
    }
}

/* The shortest of all orders that begin with the first spot. */
static double shortest(size_t fixed, double before, double best)
{
    if (fixed == other.count)
        return fmin(best, before);
    for (size_t i = fixed; i < other.count; i++) {
        tu_plan_spot spot = other.spot[fixed];
        other.spot[fixed] = other.spot[i];
        other.spot[i] = spot;
        static tu_plan_way way;
        tu_plan_routes_find(&routes, other.spot[fixed - 1], other.spot[fixed], &way);
        best = shortest(fixed + 1, before + way.length_mm, best);
        other.spot[i] = other.spot[fixed];
        other.spot[fixed] = spot;
    }
    return best;
}

static void draw_tour(check_random *random)
{
    keep_out[0] = (tu_rectangle){30.0, 20.0, 40.0, 80.0};
    keep_out[1] = (tu_rectangle){60.0, 40.0, 90.0, 50.0};
    tu_plan_spot spots[7];
    start_tour(2, spots, 0);
    while (tour.count < 7) {
        tu_plan_spot spot = {check_random_uniform(random, 0.0, 100.0),
                             check_random_uniform(random, 0.0, 100.0)};
        if (tu_plan_routes_allow(&routes, spot))
            tour.spot[tour.count++] = spot;
    }
}

static void tours_round_keep_outs_come_near_the_shortest_order(void **unused)
{
    (void)unused;
    check_random random = check_random_seed(11);
    size_t shortest_found = 0, shorter = 0;
    for (int run = 0; run < 100; run++) {
        draw_tour(&random);
        other = tour;
        double before = tu_plan_tour_measure(&tour), after = tu_plan_tour_shorten(&tour);
        double best = shortest(1, 0.0, (double)INFINITY);
        check_between(after, best - 1e-6, before, "tour, mm");
        check_close(tu_plan_tour_measure(&tour), after, 1e-6, "measured anew, mm");
        check_close(tour.spot[0].x, other.spot[0].x, 0.0, "the first stays, mm");
        shorter += after < before - 1.0;
        shortest_found += after < best + 0.01;
        for (size_t i = 0; i < 7; i++) { /* none lost, none twice */
            size_t found = 0;
            for (size_t k = 0; k < 7; k++)
                found += memcmp(&tour.spot[k], &other.spot[i], sizeof other.spot[i]) == 0;
            assert_int_equal(found, 1);
        }
    }
    assert_true(shorter > 80 && shortest_found > 40);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_crossing_is_undone),
        cmocka_unit_test(the_last_spot_may_become_another),
        cmocka_unit_test(few_spots_stay_as_they_are),
        cmocka_unit_test(tours_round_keep_outs_come_near_the_shortest_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
