/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_calibrate_coverage.c - do the intervals hold the truth as often as they say, and does the
 * misfit warn as seldom as it says? By simulation; contacts from plate_bench.h.
 *
 * Of 6000 simulated calibrations, 95 % +- 0.28 % (one standard deviation, binomial) should be held.
 */
#include "plate_bench.h"

#include <math.h>

enum { RUNS = 6000, KINDS = 3 };

/* Draws the true block, slot and cutter about what is stated, normally, with the standard
 * deviation that a tolerance stands for (a/sqrt(3), GUM 4.3.7). */
static void draw_truth(bench *on, const bench_truth *nominal, double tolerance_mm)
{
    double sd = tolerance_mm / sqrt(3.0);
    on->truth = *nominal;
    for (size_t k = 0; k < 2; k++)
        on->truth.width[k] = check_random_normal(&on->random, nominal->width[k], sd);
    on->truth.cutter_diameter[0] =
        check_random_normal(&on->random, nominal->cutter_diameter[0], sd);
    on->request.touch_count = 0;
}

static void count_held(const bench *on, size_t *held, size_t count)
{
    static const struct {
        tu_calibrated_kind kind;
        int index;
    } wanted[] = {{TU_CALIBRATED_WALL, 0}, {TU_CALIBRATED_CUTTER, 0}, {TU_CALIBRATED_THICKNESS, 0}};
    for (size_t k = 0; k < count; k++) {
        const tu_calibrated *figure = bench_figure(on, wanted[k].kind, wanted[k].index, -1);
        double away = fabs(figure->value_mm - bench_truth_of(on, figure));
        held[k] += away <= figure->uncertainty.expanded_mm ? 1 : 0;
    }
}

static void check_coverage(const size_t *held, size_t count)
{
    static const char *const names[] = {"coverage of an offset", "coverage of a cutter's diameter",
                                        "coverage of a thickness"};
    for (size_t k = 0; k < count; k++)
        check_between((double)held[k] / RUNS, 0.94, 0.96, names[k]);
}

static void intervals_hold_the_truth_where_touches_dominate(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 11);
    on.noise_mm = 0.005;
    const bench_truth nominal = on.truth;
    bench_state_block(&on, 0.002);
    size_t held[KINDS] = {0};
    for (size_t run = 0; run < RUNS; run++) {
        draw_truth(&on, &nominal, 0.002);
        for (const char *edge = "lr"; *edge != '\0'; edge++) {
            bench_touch(&on, *edge, 'a', 0, 10);
            bench_touch(&on, *edge, '-', 0, 10);
        }
        bench_touch_z(&on, 'f', 10);
        bench_touch_z(&on, 's', 10);
        check_status(bench_solve(&on), TU_OK, &on.error);
        count_held(&on, held, KINDS);
    }
    check_coverage(held, KINDS);
}

static void intervals_hold_the_truth_where_tolerances_dominate(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 12);
    on.noise_mm = 0.003;
    const bench_truth nominal = on.truth;
    bench_state_block(&on, 0.02);
    on.cutter[0].diameter.tolerance_mm = 0.02;
    on.request.trust_cutters = true;
    size_t held[KINDS] = {0};
    for (size_t run = 0; run < RUNS; run++) {
        draw_truth(&on, &nominal, 0.02);
        bench_touch(&on, 'l', 'a', 0, 10);
        bench_touch(&on, 'r', 'a', 0, 10);
        check_status(bench_solve(&on), TU_OK, &on.error);
        count_held(&on, held, 2);
    }
    check_coverage(held, 2);
}

/* A plate at random, its surroundings drawn about what is stated. */
static void draw_plate(bench *on, uint64_t seed)
{
    bench_start(on, seed);
    check_random *random = &on->random;
    const double tolerance_mm = 0.01;
    for (size_t k = 0; k < 2; k++) {
        on->truth.offset[k] = check_random_uniform(random, -12.0, 12.0);
        on->truth.outward[k] = check_random_below(random, 2) == 0;
        on->truth.bore_out[k] = check_random_uniform(random, -30.0, 30.0);
        on->plate.wall[k].facing = on->truth.outward[k] ? TU_FACES_OUTWARD : TU_FACES_INWARD;
        on->plate.wall[k].offset.value_mm = on->truth.offset[k];
        on->request.block[k] = tu_quantity_mm(on->truth.width[k], tolerance_mm);
        on->request.slot[k] = tu_quantity_mm(on->truth.slot_width[k], tolerance_mm);
        on->truth.width[k] += check_random_normal(random, 0.0, tolerance_mm / sqrt(3.0));
        on->truth.slot_width[k] += check_random_normal(random, 0.0, tolerance_mm / sqrt(3.0));
    }
    bench_bore(on);
    on->noise_mm = 0.004;
}

/* One of the ways to touch that settle everything: walls with bare edges, walls with a slot, a
 * bore; along X, Y, or both. */
static void touch_one_way(bench *on, size_t way)
{
    const char *edges = way % 3 == 0 ? "lr" : way % 3 == 1 ? "fk" : "lrfk";
    for (const char *edge = edges; *edge != '\0'; edge++) {
        if (way < 6) {
            bench_touch(on, *edge, way % 2 == 0 ? 'a' : 'b', 0, 10);
        } else {
            bench_touch(on, *edge, '<', 0, 10);
            bench_touch(on, *edge, '>', 0, 10);
        }
        bench_touch(on, *edge, way >= 3 && way < 6 ? '=' : '-', 0, 10);
    }
}

static void intervals_hold_the_truth_of_plates_at_random(void **state)
{
    (void)state;
    static bench on;
    size_t held = 0, figures = 0;
    for (size_t run = 0; run < RUNS; run++) {
        draw_plate(&on, 1000 + run);
        touch_one_way(&on, run % 9);
        check_status(bench_solve(&on), TU_OK, &on.error);
        assert_true(on.result.determined);
        for (size_t k = 0; k < on.result.count; k++) {
            const tu_calibrated *figure = &on.result.figure[k];
            double away = fabs(figure->value_mm - bench_truth_of(&on, figure));
            held += away <= figure->uncertainty.expanded_mm ? 1 : 0;
            figures++;
        }
    }
    assert_true(figures > 2 * RUNS);
    check_between((double)held / (double)figures, 0.94, 0.96, "coverage over all figures");
}

/* Each run is one chance of a false alarm; of 6000, 1 % is 60 with a standard deviation of 7.7. */
static void check_false_alarms(size_t alarms)
{
    check_between((double)alarms / RUNS, 0.006, 0.014, "false alarms of the misfit");
}

/* Redundant touches at random errors; returns how often the misfit warned. */
static size_t count_alarms(bench *on, double tolerance_mm, size_t repeats)
{
    on->noise_mm = 0.005;
    const bench_truth nominal = on->truth;
    bench_state_block(on, tolerance_mm);
    on->cutter[0].diameter.tolerance_mm = tolerance_mm;
    on->request.trust_cutters = true;
    size_t alarms = 0;
    for (size_t run = 0; run < RUNS; run++) {
        draw_truth(on, &nominal, tolerance_mm);
        for (const char *edge = "lr"; *edge != '\0'; edge++) {
            bench_touch(on, *edge, 'a', 0, repeats);
            bench_touch(on, *edge, '-', 0, repeats);
        }
        check_status(bench_solve(on), TU_OK, &on->error);
        check_close(on->result.misfit_dof, 2.0, 0.0, "degrees of freedom"); /* 6 rows, 4 unknown */
        alarms += bench_warned(on, "the touches disagree") ? 1 : 0;
    }
    return alarms;
}

static void the_misfit_warns_falsely_in_one_of_a_hundred_with_three_repeats(void **state)
{
    (void)state;
    static bench on; /* exact block and cutter: the misfit then follows F without approximation */
    bench_start(&on, 13);
    check_false_alarms(count_alarms(&on, 0.0, 3));
}

static void the_misfit_warns_falsely_in_one_of_a_hundred_with_tolerances(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 15);
    check_false_alarms(count_alarms(&on, 0.005, 10));
}

static void an_edge_that_lies_wrong_is_named(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 14);
    on.noise_mm = 0.004;
    bench_state_block(&on, 0.005);
    for (const char *edge = "lrfk"; *edge != '\0'; edge++) {
        bench_touch(&on, *edge, 'a', 0, 5);
        bench_touch(&on, *edge, '-', 0, 5);
    }
    for (size_t i = 0; i < on.request.touch_count; i++) {
        tu_calibration_touch *touch = &on.touch[i];
        if (touch->axis == TU_AXIS_Y && touch->outward > 0 && touch->contact == TU_CONTACT_WALL)
            touch->position_mm += 0.08; /* a chip under the plate */
    }
    check_status(bench_solve(&on), TU_OK, &on.error);
    assert_true(bench_warned(&on, "back/a/quarter fits worst"));
    assert_true(on.result.misfit_p < 0.01);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(intervals_hold_the_truth_where_touches_dominate),
        cmocka_unit_test(intervals_hold_the_truth_where_tolerances_dominate),
        cmocka_unit_test(intervals_hold_the_truth_of_plates_at_random),
        cmocka_unit_test(the_misfit_warns_falsely_in_one_of_a_hundred_with_three_repeats),
        cmocka_unit_test(the_misfit_warns_falsely_in_one_of_a_hundred_with_tolerances),
        cmocka_unit_test(an_edge_that_lies_wrong_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
