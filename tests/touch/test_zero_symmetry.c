/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What must not change, or must change along, when the whole world is mirrored, turned by a quarter
 * or shifted, or when the same touches are told in another order.
 *
 * Origin of every expected value: the same calculation in the world as it was. A mirrored plate has
 * its walls the other way round: what stood on the left edge of a front-left corner stands, in the
 * mirror, on the right edge of a front-right corner, which is where a turned plate has wall b.
 * Tolerance in mm: rounding of positions of up to 1000 mm.
 */
#include "check.h"

#include "trueup/zero.h"

#include <math.h>
#include <string.h>

enum { ROUNDS = 300, REPEATS = 4 };

static const double rounding_mm = 2e-10;

typedef struct world {
    tu_plate plate;
    tu_cutter cutter;
    tu_touch low[TU_AXIS_COUNT][REPEATS];
    tu_touch high[TU_AXIS_COUNT][REPEATS];
    tu_zero_request request;
} world;

static check_random random_state;

static double draw(double low, double high)
{
    return check_random_uniform(&random_state, low, high);
}

static bool toss(void)
{
    return draw(0.0, 1.0) < 0.5;
}

/* A copy whose request points into itself. */
static void copy_world(world *to, const world *from)
{
    *to = *from;
    to->request.plate = &to->plate;
    to->request.cutter = &to->cutter;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (to->request.touches[axis].single)
            to->request.touches[axis].single = to->low[axis];
        if (to->request.touches[axis].low)
            to->request.touches[axis].low = to->low[axis];
        if (to->request.touches[axis].high)
            to->request.touches[axis].high = to->high[axis];
    }
}

static void draw_plate(world *w, bool bored)
{
    w->plate = tu_plate_start();
    w->plate.thickness = tu_quantity_mm(draw(3.0, 20.0), 0.02);
    w->plate.turned = toss();
    w->plate.bore.present = bored;
    w->plate.bore.diameter = tu_quantity_mm(25.0, 0.02);
    for (int i = 0; i < 2; i++) {
        w->plate.bore.centre[i] = tu_quantity_mm(draw(-25.0, 25.0), draw(0.01, 0.05));
        w->plate.wall[i].present = !bored;
        w->plate.wall[i].offset = tu_quantity_mm(draw(-15.0, 15.0), draw(0.01, 0.05));
        w->plate.wall[i].facing = toss() ? TU_FACES_OUTWARD : TU_FACES_INWARD;
        w->plate.wall[i].touch_depth = tu_quantity_mm(draw(2.0, 5.0), 0.2);
    }
}

static void draw_cutter(world *w)
{
    w->cutter = tu_cutter_start();
    w->cutter.shape = toss() ? TU_CUTTER_FLAT : TU_CUTTER_BALL;
    w->cutter.diameter = tu_quantity_mm(6.35, 0.01);
    w->cutter.run_out = tu_quantity_mm(0.02, 0.0);
}

/* Touches of one axis about a place; a bore's sides are as far apart as its size demands. */
static void draw_touches(world *w, int axis, double at, double across, bool bored)
{
    size_t count = 2 + (size_t)draw(0.0, REPEATS - 1.001);
    tu_axis_touches *touches = &w->request.touches[axis];
    double half = bored && axis < 2 ? (25.0 - 6.35) / 2 : 0.0;

    for (size_t i = 0; i < count; i++) {
        w->low[axis][i] =
            tu_touch_start(at - half + draw(-0.005, 0.005), axis < 2 ? across : NAN, 0);
        w->high[axis][i] =
            tu_touch_start(at + half + draw(-0.005, 0.005), axis < 2 ? across : NAN, 0);
    }
    if (bored && axis < 2) {
        touches->low = w->low[axis];
        touches->high = w->high[axis];
        touches->low_count = touches->high_count = count;
    } else {
        touches->single = w->low[axis];
        touches->single_count = count;
    }
}

static void draw_world(world *w, bool skewed)
{
    bool bored = toss();
    double x = draw(-500.0, 500.0), y = draw(-500.0, 500.0), angle = draw(-0.1, 0.1);

    w->request = tu_zero_request_start();
    draw_plate(w, bored);
    draw_cutter(w);
    if (bored)
        w->cutter.shape = TU_CUTTER_FLAT;
    w->request.plate = &w->plate;
    w->request.cutter = &w->cutter;
    w->request.seat = toss() ? TU_SEAT_BED : TU_SEAT_STOCK;
    w->request.stock.size[TU_AXIS_Z] = tu_quantity_mm(18.0, 0.1);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        w->request.target.outward[axis] = toss() ? 1 : -1;
        w->request.machine.repeatability[axis] =
            (tu_repeatability){draw(0.004, 0.01), draw(5.0, 30.0)};
    }
    draw_touches(w, 0, x, bored ? y : y + draw(-40.0, 40.0), bored);
    draw_touches(w, 1, y, bored ? x : x + draw(-40.0, 40.0), bored);
    draw_touches(w, 2, draw(-100.0, -10.0), NAN, bored);
    if (skewed) {
        w->request.baseline_count = 1;
        w->request.baseline[0] =
            (tu_baseline){{x, y}, {x + 200.0 * cos(angle), y + 200.0 * sin(angle)}};
    }
}

static tu_zero_result solved(const world *w)
{
    tu_zero_result result;
    tu_error error = {0};

    if (tu_zero_solve(&w->request, &result, &error))
        fail_msg("refused: %s: %s", error.where, error.message);
    return result;
}

static void swap_walls(world *w)
{
    tu_wall wall = w->plate.wall[0];
    tu_quantity centre = w->plate.bore.centre[0];

    w->plate.wall[0] = w->plate.wall[1];
    w->plate.wall[1] = wall;
    w->plate.bore.centre[0] = w->plate.bore.centre[1];
    w->plate.bore.centre[1] = centre;
}

/* Negates what an axis measures; the low side of a bore becomes its high side. */
static void negate_axis(world *w, int axis)
{
    tu_touch swapped[REPEATS];
    bool bored = w->request.touches[axis].low != NULL;

    w->request.target.outward[axis] = -w->request.target.outward[axis];
    for (int i = 0; i < REPEATS; i++) {
        w->low[axis][i].position_mm = -w->low[axis][i].position_mm;
        w->high[axis][i].position_mm = -w->high[axis][i].position_mm;
    }
    for (int i = 0; i < REPEATS; i++) {
        w->low[1 - axis][i].across_mm = -w->low[1 - axis][i].across_mm;
        w->high[1 - axis][i].across_mm = -w->high[1 - axis][i].across_mm;
    }
    if (bored) {
        memcpy(swapped, w->low[axis], sizeof swapped);
        memcpy(w->low[axis], w->high[axis], sizeof swapped);
        memcpy(w->high[axis], swapped, sizeof swapped);
    }
    for (size_t i = 0; i < w->request.baseline_count; i++) {
        tu_baseline *b = &w->request.baseline[i];

        if (axis == 0) {
            b->from.x = -b->from.x;
            b->to.x = -b->to.x;
        } else {
            b->from.y = -b->from.y;
            b->to.y = -b->to.y;
        }
    }
}

/* Exchanges what X and Y measure: a mirror at the diagonal. */
static void swap_axes(world *w)
{
    tu_touch hold[REPEATS];
    tu_axis_touches touches = w->request.touches[0];
    tu_repeatability repeatability = w->request.machine.repeatability[0];
    int outward = w->request.target.outward[0];

    memcpy(hold, w->low[0], sizeof hold);
    memcpy(w->low[0], w->low[1], sizeof hold);
    memcpy(w->low[1], hold, sizeof hold);
    memcpy(hold, w->high[0], sizeof hold);
    memcpy(w->high[0], w->high[1], sizeof hold);
    memcpy(w->high[1], hold, sizeof hold);
    w->request.touches[0] = w->request.touches[1];
    w->request.touches[1] = touches;
    w->request.machine.repeatability[0] = w->request.machine.repeatability[1];
    w->request.machine.repeatability[1] = repeatability;
    w->request.target.outward[0] = w->request.target.outward[1];
    w->request.target.outward[1] = outward;
    for (size_t i = 0; i < w->request.baseline_count; i++) {
        tu_baseline *b = &w->request.baseline[i];

        *b = (tu_baseline){{b->from.y, b->from.x}, {b->to.y, b->to.x}};
    }
    copy_world(w, w);
}

static void expect_axis(const tu_axis_zero *got, double zero, const tu_axis_zero *was)
{
    assert_int_equal(got->asked, was->asked);
    check_close(got->zero_mm, zero, rounding_mm, "zero, mm");
    check_close(got->uncertainty.expanded_mm, was->uncertainty.expanded_mm, 1e-9, "expanded, mm");
    check_close(got->uncertainty.standard_mm, was->uncertainty.standard_mm, 1e-9, "standard, mm");
}

static void mirror_case(bool skewed)
{
    static world w, m;
    tu_zero_result before, after;

    draw_world(&w, skewed);
    before = solved(&w);
    for (int axis = 0; axis < 2; axis++) {
        copy_world(&m, &w);
        negate_axis(&m, axis);
        if (m.plate.turned)
            swap_walls(&m);
        after = solved(&m);
        expect_axis(&after.axis[axis], -before.axis[axis].zero_mm, &before.axis[axis]);
        expect_axis(&after.axis[1 - axis], before.axis[1 - axis].zero_mm, &before.axis[1 - axis]);
        expect_axis(&after.axis[2], before.axis[2].zero_mm, &before.axis[2]);
        if (skewed)
            check_close(after.skew.angle_rad, -before.skew.angle_rad, 1e-12, "angle, rad");
    }
}

static void a_mirrored_world_has_a_mirrored_zero(void **state)
{
    (void)state;
    random_state = check_random_seed(20240201);
    for (int round = 0; round < ROUNDS; round++)
        mirror_case(false);
}

static void a_mirrored_skew_has_a_mirrored_zero(void **state)
{
    (void)state;
    random_state = check_random_seed(20240202);
    for (int round = 0; round < ROUNDS; round++)
        mirror_case(true);
}

/* A quarter turn carries (x, y) to (-y, x): swap the axes, then negate X. A turned plate is carried
 * along as it is; one whose wall a always serves X must be another plate after it. */
static void quarter_case(bool skewed)
{
    static world w, q;
    tu_zero_result before, after;

    draw_world(&w, skewed);
    before = solved(&w);
    copy_world(&q, &w);
    swap_axes(&q);
    negate_axis(&q, 0);
    if (!q.plate.turned)
        swap_walls(&q);
    after = solved(&q);
    expect_axis(&after.axis[0], -before.axis[1].zero_mm, &before.axis[1]);
    expect_axis(&after.axis[1], before.axis[0].zero_mm, &before.axis[0]);
    expect_axis(&after.axis[2], before.axis[2].zero_mm, &before.axis[2]);
    if (skewed)
        check_close(after.skew.angle_rad, before.skew.angle_rad, 1e-12, "angle, rad");
}

static void a_quarter_turn_of_the_world_turns_the_zero(void **state)
{
    (void)state;
    random_state = check_random_seed(20240203);
    for (int round = 0; round < ROUNDS; round++)
        quarter_case(false);
}

static void a_quarter_turn_of_a_skewed_world_turns_the_zero(void **state)
{
    (void)state;
    random_state = check_random_seed(20240204);
    for (int round = 0; round < ROUNDS; round++)
        quarter_case(true);
}

static void shift_touches(world *w, const double shift[TU_AXIS_COUNT])
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        for (int i = 0; i < REPEATS; i++) {
            double other = axis < 2 ? shift[1 - axis] : 0.0;

            w->low[axis][i].position_mm += shift[axis];
            w->high[axis][i].position_mm += shift[axis];
            w->low[axis][i].across_mm += other;
            w->high[axis][i].across_mm += other;
        }
    for (size_t i = 0; i < w->request.baseline_count; i++) {
        w->request.baseline[i].from.x += shift[0];
        w->request.baseline[i].to.x += shift[0];
        w->request.baseline[i].from.y += shift[1];
        w->request.baseline[i].to.y += shift[1];
    }
}

static void a_shifted_world_has_a_shifted_zero(void **state)
{
    static world w, m;

    (void)state;
    random_state = check_random_seed(20240205);
    for (int round = 0; round < ROUNDS; round++) {
        double shift[3] = {draw(-300.0, 300.0), draw(-300.0, 300.0), draw(-50.0, 50.0)};
        tu_zero_result before, after;

        draw_world(&w, round % 2);
        before = solved(&w);
        copy_world(&m, &w);
        shift_touches(&m, shift);
        after = solved(&m);
        for (int axis = 0; axis < 3; axis++)
            expect_axis(&after.axis[axis], before.axis[axis].zero_mm + shift[axis],
                        &before.axis[axis]);
    }
}

/* Work position = machine position - active offset (NISTIR 6556 section 3.5.13, RS274/NGC). */
static void touches_under_an_active_offset_give_the_same_zero(void **state)
{
    static world w, m;

    (void)state;
    random_state = check_random_seed(20240206);
    for (int round = 0; round < ROUNDS; round++) {
        double active[3] = {draw(-300.0, 300.0), draw(-300.0, 300.0), draw(-50.0, 50.0)};
        double shift[3] = {-active[0], -active[1], -active[2]};
        tu_zero_result before, after;

        draw_world(&w, round % 2);
        before = solved(&w);
        copy_world(&m, &w);
        shift_touches(&m, shift);
        memcpy(m.request.active_mm, active, sizeof active);
        after = solved(&m);
        for (int axis = 0; axis < 3; axis++) {
            expect_axis(&after.axis[axis], before.axis[axis].zero_mm, &before.axis[axis]);
            check_close(after.axis[axis].touch_mm, before.axis[axis].touch_mm, rounding_mm,
                        "touch, mm");
        }
    }
}

static void reverse_touches(world *w)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const tu_axis_touches *touches = &w->request.touches[axis];
        size_t count = touches->low ? touches->low_count : touches->single_count;

        for (size_t i = 0; i < count / 2; i++) {
            tu_touch low = w->low[axis][i], high = w->high[axis][i];

            w->low[axis][i] = w->low[axis][count - 1 - i];
            w->low[axis][count - 1 - i] = low;
            w->high[axis][i] = w->high[axis][count - 1 - i];
            w->high[axis][count - 1 - i] = high;
        }
    }
}

static void the_order_of_touches_does_not_matter(void **state)
{
    static world w, m;

    (void)state;
    random_state = check_random_seed(20240207);
    for (int round = 0; round < ROUNDS; round++) {
        tu_zero_result before, after;

        draw_world(&w, round % 2);
        before = solved(&w);
        copy_world(&m, &w);
        reverse_touches(&m);
        after = solved(&m);
        for (int axis = 0; axis < 3; axis++)
            expect_axis(&after.axis[axis], before.axis[axis].zero_mm, &before.axis[axis]);
    }
}

/* The ends of a baseline may be told in either order. */
static void the_order_of_a_baseline_does_not_matter(void **state)
{
    static world w, m;

    (void)state;
    random_state = check_random_seed(20240208);
    for (int round = 0; round < ROUNDS; round++) {
        tu_zero_result before, after;

        draw_world(&w, true);
        before = solved(&w);
        copy_world(&m, &w);
        m.request.baseline[0] = (tu_baseline){w.request.baseline[0].to, w.request.baseline[0].from};
        after = solved(&m);
        check_close(after.skew.angle_rad, before.skew.angle_rad, 1e-12, "angle, rad");
        for (int axis = 0; axis < 3; axis++)
            expect_axis(&after.axis[axis], before.axis[axis].zero_mm, &before.axis[axis]);
    }
}

static void an_axis_without_touches_is_not_asked_for_and_changes_nothing(void **state)
{
    static world w, m;

    (void)state;
    random_state = check_random_seed(20240209);
    for (int round = 0; round < ROUNDS; round++) {
        tu_zero_result before, after;

        draw_world(&w, false);
        before = solved(&w);
        for (unsigned mask = 1; mask < 7; mask++) {
            copy_world(&m, &w);
            for (int axis = 0; axis < 3; axis++)
                if (!(mask >> axis & 1))
                    memset(&m.request.touches[axis], 0, sizeof m.request.touches[axis]);
            after = solved(&m);
            for (int axis = 0; axis < 3; axis++) {
                assert_int_equal(after.axis[axis].asked, mask >> axis & 1);
                if (after.axis[axis].asked)
                    expect_axis(&after.axis[axis], before.axis[axis].zero_mm, &before.axis[axis]);
                else
                    assert_true(isnan(after.axis[axis].zero_mm));
            }
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_mirrored_world_has_a_mirrored_zero),
        cmocka_unit_test(a_mirrored_skew_has_a_mirrored_zero),
        cmocka_unit_test(a_quarter_turn_of_the_world_turns_the_zero),
        cmocka_unit_test(a_quarter_turn_of_a_skewed_world_turns_the_zero),
        cmocka_unit_test(a_shifted_world_has_a_shifted_zero),
        cmocka_unit_test(touches_under_an_active_offset_give_the_same_zero),
        cmocka_unit_test(the_order_of_touches_does_not_matter),
        cmocka_unit_test(the_order_of_a_baseline_does_not_matter),
        cmocka_unit_test(an_axis_without_touches_is_not_asked_for_and_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
