/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_calibrate_advice.c - what is not determined is said so, and the touch that is advised
 * settles it: each piece of advice is followed on the bench (plate_bench.h) and solved again.
 */
#include "plate_bench.h"

#include <math.h>
#include <string.h>

static const char *const EDGES = "lrfk";

static bool bears_on(const tu_calibrated *figure)
{
    return figure->needed && !figure->determined;
}

/* Follows all advice in its order; after each step the figures it promised are settled. */
static void follow_all(bench *on)
{
    static tu_calibration_result before;
    before = on->result;
    for (size_t k = 0; k < before.advice_count; k++) {
        const tu_advice *advice = &before.advice[k];
        assert_true(advice->touch_count > 0 || advice->width_axis >= 0);
        bench_follow(on, advice, 1);
        check_status(bench_solve(on), TU_OK, &on->error);
        assert_true((advice->settles >> advice->figure & 1u) == 1u);
        for (size_t f = 0; f < before.count; f++) {
            const tu_calibrated *old = &before.figure[f];
            if ((advice->settles >> f & 1u) == 0u || old->kind == TU_CALIBRATED_SUM ||
                old->kind == TU_CALIBRATED_CLEARANCE)
                continue; /* a sum is no longer listed once its parts are known */
            const tu_calibrated *now = bench_figure(on, old->kind, old->index, old->cutter);
            if (!now->determined)
                fail_msg("not settled by: %s", advice->text);
            check_close(now->value_mm, bench_truth_of(on, now), 1e-9, "settled figure, mm");
        }
    }
}

static void check_settled(bench *on)
{
    for (size_t k = 0; k < on->result.count; k++)
        assert_false(bears_on(&on->result.figure[k]));
    assert_true(on->result.determined);
}

static void each_advice_settles_what_it_promises_at_random(void **state)
{
    (void)state;
    static bench on;
    check_random random = check_random_seed(77);
    size_t followed = 0, whole = 0;
    for (uint64_t run = 0; run < 1500; run++) {
        bench_start(&on, run + 1);
        if (check_random_below(&random, 3) == 0)
            bench_bore(&on);
        for (size_t k = 0; k < 2; k++) {
            on.truth.outward[k] = check_random_below(&random, 2) == 0;
            on.plate.wall[k].facing = on.truth.outward[k] ? TU_FACES_OUTWARD : TU_FACES_INWARD;
            if (check_random_below(&random, 2) == 0)
                on.request.block[k] = tu_quantity_mm(on.truth.width[k], 0.01);
        }
        on.request.cutter_count = 1 + check_random_below(&random, 2);
        size_t touches = 1 + check_random_below(&random, 4);
        const char *surfaces = on.plate.bore.present ? "ab-=<>()" : "ab-=";
        for (size_t k = 0; k < touches; k++)
            bench_touch(&on, EDGES[check_random_below(&random, 4)],
                        surfaces[check_random_below(&random, strlen(surfaces))],
                        check_random_below(&random, on.request.cutter_count), 1);
        if (check_random_below(&random, 4) == 0)
            bench_touch_z(&on, check_random_below(&random, 2) == 0 ? 'f' : 's', 1);
        check_status(bench_solve(&on), TU_OK, &on.error);
        assert_true(on.result.determined == (on.result.advice_count == 0));
        followed += on.result.advice_count;
        follow_all(&on);
        check_settled(&on);
        whole += on.result.determined ? 1 : 0;
    }
    assert_true(followed > 1000);
    assert_int_equal(whole, 1500);
}

/* Solves and checks that there is one piece of advice, with these words. */
static void check_advice(bench *on, const char *words)
{
    check_status(bench_solve(on), TU_OK, &on->error);
    assert_false(on->result.determined);
    assert_true(on->result.advice_count >= 1);
    check_contains(on->result.advice[0].text, words);
}

static void one_cutter_on_both_edges_asks_for_one_bare_touch(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_state_block(&on, 0.01);
    bench_touch(&on, 'l', 'a', 0, 1);
    bench_touch(&on, 'r', 'a', 0, 1);
    check_advice(&on, "offset of wall a: touch the left edge of the bare block with quarter "
                      "(left/bare/quarter); or, where the stored diameter is sure, take it as "
                      "known ({trust_cutters})");
    assert_int_equal(on.result.advice_count, 1);
    assert_int_equal(on.result.advice[0].settles, 0x3); /* the offset and the diameter */
    on.request.trust_cutters = true;
    check_status(bench_solve(&on), TU_OK, &on.error);
    assert_true(on.result.determined);
}

static void a_missing_width_is_asked_for_before_another_touch(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_touch(&on, 'l', '-', 0, 1);
    bench_touch(&on, 'r', '-', 0, 1);
    check_advice(&on, "effective diameter of quarter: state the width of the block ({block_x})");
    assert_false(on.result.advice[0].trust && on.result.advice[0].touch_count > 0);
}

static void one_edge_alone_asks_for_the_bare_edge_beside_it(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_state_block(&on, 0.01);
    bench_touch(&on, 'k', 'b', 0, 1);
    check_advice(&on, "touch the back edge of the bare block with quarter");
    assert_false(on.result.advice[0].trust); /* the edge would still be unknown */
}

static void an_inward_wall_on_one_edge_asks_for_the_bare_edge_across(void **state)
{
    (void)state;
    static bench on; /* left: E - o + r; bare on the right: E + W + r; the difference has no r */
    bench_start(&on, 1);
    bench_state_block(&on, 0.01);
    on.truth.outward[0] = false;
    on.plate.wall[0].facing = TU_FACES_INWARD;
    bench_touch(&on, 'l', 'a', 0, 1);
    check_advice(&on, "touch the right edge of the bare block with quarter");
    assert_int_equal(on.result.advice_count, 1); /* the diameter is then a by-product */
    follow_all(&on);
    check_settled(&on);
}

static void without_a_width_the_same_needs_more(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    on.truth.outward[0] = false;
    on.plate.wall[0].facing = TU_FACES_INWARD;
    bench_touch(&on, 'l', 'a', 0, 1);
    check_advice(&on, ", and ");
    follow_all(&on);
    check_settled(&on);
}

static void one_side_of_a_bore_asks_for_the_bore_on_the_edge_across(void **state)
{
    (void)state;
    static bench on; /* left: E - c - D/2 + r; the same side on the right: E + W + c - D/2 + r */
    for (int turned = 0; turned < 2; turned++) {
        bench_start(&on, 1);
        bench_bore(&on);
        on.plate.turned = turned;
        on.plate.wall[0].present = false;
        on.plate.wall[1].present = false;
        bench_touch(&on, 'l', '<', 0, 1);
        check_advice(&on, "bore centre a: put the plate on the right edge, its distance a along X, "
                          "and touch both sides of the bore with quarter (right/bore.a/quarter), "
                          "and state the width of the block ({block_x})");
        follow_all(&on);
        check_settled(&on);
    }
}

/* Solves and checks that one of the pieces of advice has these words. */
static void check_advised(bench *on, const char *words)
{
    check_status(bench_solve(on), TU_OK, &on->error);
    bool found = false;
    for (size_t k = 0; k < on->result.advice_count; k++)
        found = found || strstr(on->result.advice[k].text, words) != NULL;
    if (!found)
        fail_msg("nowhere advised: %s", words);
}

/* The block was touched along Y with this plate, and never along X: what was touched along X counts
 * for X alone. */
static void an_axis_that_was_touched_is_advised_first(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    on.truth.outward[0] = false;
    on.plate.wall[0].facing = TU_FACES_INWARD;
    bench_touch(&on, 'l', 'a', 0, 1);
    bench_touch(&on, 'f', 'b', 0, 1);
    bench_touch(&on, 'k', 'a', 0, 1);
    check_advised(&on, "offset of wall a: touch the front edge of the bare block with quarter");
}

/* A turned plate, a cutter that was used where the edge was not, an edge that was not touched: each
 * is more work, and the least is advised. How much more is ours: common practice, no source. */
static void a_plate_is_turned_only_where_that_is_less_work(void **state)
{
    (void)state;
    static bench on; /* centre a: the left edge was touched; the front edge too, but a is X's own */
    bench_start(&on, 1);
    bench_bore(&on);
    bench_touch(&on, 'l', '>', 1, 1);
    bench_touch(&on, 'f', '<', 1, 1);
    bench_touch(&on, 'k', '<', 1, 1);
    check_advised(&on, "bore centre a: put the plate on the right edge, its distance a along X");
    bench_start(&on, 1); /* centre b on the left edge would turn the plate for a known edge */
    bench_bore(&on);
    bench_touch(&on, 'r', ')', 0, 1);
    bench_touch(&on, 'l', 'a', 0, 1);
    bench_touch(&on, 'f', '<', 0, 1);
    check_advised(&on, "bore centre b: put the plate on the back edge, its distance b along Y");
    bench_start(&on, 1); /* a turn and a width against the plate on two more edges */
    bench_bore(&on);
    on.request.block[0] = tu_quantity_mm(on.truth.width[0], 0.01);
    bench_touch(&on, 'k', '(', 1, 1);
    bench_touch(&on, 'l', ')', 1, 1);
    check_advised(&on, "bore centre a: put the plate on the front edge, its distance a along Y");
}

static void a_seat_that_was_not_touched_is_asked_for(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_touch_z(&on, 'f', 3);
    check_advice(&on, "thickness: touch what the plate rests on, without it (seat)");
    bench_start(&on, 1);
    bench_touch_z(&on, 's', 3);
    check_advice(&on, "thickness: touch the plate's face (face)");
}

static void a_slot_touched_on_one_side_asks_for_the_other_and_its_width(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_state_block(&on, 0.01);
    bench_touch(&on, 'l', '=', 0, 1);
    check_status(bench_solve(&on), TU_OK, &on.error);
    assert_false(on.result.determined);
    follow_all(&on);
    check_settled(&on);
}

static void a_cutter_that_is_not_flat_is_never_advised_to_be_trusted(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_state_block(&on, 0.01);
    on.cutter[0].shape = TU_CUTTER_BALL;
    bench_touch(&on, 'l', 'a', 0, 1);
    bench_touch(&on, 'r', 'a', 0, 1);
    check_status(bench_solve(&on), TU_OK, &on.error);
    assert_false(on.result.advice[0].trust);
    check_lacks(on.result.advice[0].text, "{trust_cutters}");
}

static void a_plate_that_is_not_turned_is_not_advised_to_be(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    on.plate.turned = false;
    bench_touch(&on, 'l', 'a', 0, 1);
    bench_touch(&on, 'f', 'b', 0, 1);
    check_status(bench_solve(&on), TU_OK, &on.error);
    for (size_t k = 0; k < on.result.advice_count; k++)
        check_lacks(on.result.advice[k].text, "its wall");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_advice_settles_what_it_promises_at_random),
        cmocka_unit_test(one_cutter_on_both_edges_asks_for_one_bare_touch),
        cmocka_unit_test(a_missing_width_is_asked_for_before_another_touch),
        cmocka_unit_test(one_edge_alone_asks_for_the_bare_edge_beside_it),
        cmocka_unit_test(an_inward_wall_on_one_edge_asks_for_the_bare_edge_across),
        cmocka_unit_test(without_a_width_the_same_needs_more),
        cmocka_unit_test(one_side_of_a_bore_asks_for_the_bore_on_the_edge_across),
        cmocka_unit_test(an_axis_that_was_touched_is_advised_first),
        cmocka_unit_test(a_plate_is_turned_only_where_that_is_less_work),
        cmocka_unit_test(a_seat_that_was_not_touched_is_asked_for),
        cmocka_unit_test(a_slot_touched_on_one_side_asks_for_the_other_and_its_width),
        cmocka_unit_test(a_cutter_that_is_not_flat_is_never_advised_to_be_trusted),
        cmocka_unit_test(a_plate_that_is_not_turned_is_not_advised_to_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
