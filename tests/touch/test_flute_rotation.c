/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What flutes take away from a cutter's reach, against helical edges that are rotated bodily.
 *
 * n edges wind round a cylinder; the cutter is turned to thousands of angles, and at each the
 * furthest point of any edge within the engaged height is sought, or the body between the flutes
 * where that reaches further. Mean, standard deviation and least reach of these are the expected
 * values. Two ways to choose the angles:
 *   not turned  uniform over the gaps between edges (with straight flutes: over a full turn);
 *   turned      the wall lies off the nearest end of an edge by an angle uniform in -a to +a, or
 *               to half the gap where that is less (the worst of what turning by hand leaves).
 */
#include "check.h"

#include "trueup/cutter.h"

#include <math.h>
#include <string.h>

enum { ANGLES = 6000, HEIGHTS = 48 };

static const double pi = 3.14159265358979323846;

typedef struct spread {
    double mean, sd, least;
} spread;

static check_random random_state;

static double draw(double low, double high)
{
    return check_random_uniform(&random_state, low, high);
}

static tu_cutter fluted(int flutes, double diameter, double helix, double core)
{
    tu_cutter cutter = tu_cutter_start();

    cutter.diameter = tu_quantity_mm(diameter, 0.0);
    cutter.core = core > 0.0 ? tu_quantity_mm(core, 0.0) : tu_quantity_none();
    cutter.flutes = flutes;
    cutter.helix_rad = helix;
    return cutter;
}

/* The angle to the wall of an edge's point at a height, in -pi to pi. */
static double off_wall(const tu_cutter *cutter, int edge, double height, double turn)
{
    double radius = cutter->diameter.value_mm / 2;
    double helix = isnan(cutter->helix_rad) ? 0.0 : cutter->helix_rad;
    double angle = turn + 2 * pi * edge / cutter->flutes + height * tan(helix) / radius;

    return remainder(angle, 2 * pi);
}

/* How far the cutter reaches towards the wall (direction 0) when it is turned to an angle. */
static double reach_at(const tu_cutter *cutter, double depth, double turn)
{
    double radius = cutter->diameter.value_mm / 2;
    double best = tu_quantity_is_stated(cutter->core) ? cutter->core.value_mm / 2 : -radius;

    for (int edge = 0; edge < cutter->flutes; edge++) {
        double before = off_wall(cutter, edge, 0.0, turn);

        best = fmax(best, radius * cos(before));
        for (int i = 1; i <= HEIGHTS; i++) {
            double angle = off_wall(cutter, edge, depth * i / HEIGHTS, turn);

            best = fmax(best, radius * cos(angle));
            if (before * angle <= 0.0 && fabs(before) < pi / 2 && fabs(angle) < pi / 2)
                best = radius; /* the edge crosses the wall's direction between two samples */
            before = angle;
        }
    }
    return best;
}

static spread spread_of(const double *reach)
{
    spread s = {0.0, 0.0, INFINITY};

    for (int i = 0; i < ANGLES; i++) {
        s.mean += reach[i] / ANGLES;
        s.least = fmin(s.least, reach[i]);
    }
    for (int i = 0; i < ANGLES; i++)
        s.sd += (reach[i] - s.mean) * (reach[i] - s.mean) / ANGLES;
    s.sd = sqrt(s.sd);
    return s;
}

static spread rotate_through_a_turn(const tu_cutter *cutter, double depth)
{
    static double reach[ANGLES];

    for (int i = 0; i < ANGLES; i++)
        reach[i] = reach_at(cutter, depth, 2 * pi * (i + 0.5) / ANGLES);
    return spread_of(reach);
}

/* Edge 0 spans the angles from turn to turn + sweep; a gap lies before and behind it. */
static spread rotate_about_an_edge(const tu_cutter *cutter, double depth, double within)
{
    static double reach[ANGLES];
    double sweep = off_wall(cutter, 0, depth, 0.0);

    for (int i = 0; i < ANGLES; i++) {
        double off = within * (2.0 * (i + 0.5) / ANGLES - 1.0);

        reach[i] = reach_at(cutter, depth, off > 0.0 ? off : off - sweep);
    }
    return spread_of(reach);
}

static double sweep_of(double helix, double depth, double radius)
{
    return depth * tan(helix) / radius;
}

static void compare(const tu_flute_loss *loss, spread expected, double radius)
{
    double tolerance = 3e-6 * radius; /* of the midpoint rule with ANGLES points */

    check_close(loss->mean_reach_mm, expected.mean, tolerance, "mean reach, mm");
    check_close(loss->standard_mm, expected.sd, tolerance, "standard deviation of reach, mm");
    /* the least of the sampled angles misses the very middle of the gap by half a step */
    check_close(radius - loss->worst_loss_mm, expected.least, 2e-3 * radius, "least reach, mm");
}

static void straight_flutes_turned_by_hand(void **state)
{
    (void)state;
    random_state = check_random_seed(20240401);
    for (int round = 0; round < 12; round++) {
        double diameter = draw(1.0, 12.0), within = draw(0.01, 0.4);
        tu_cutter cutter = fluted(1 + round % 4, diameter, round % 2 ? NAN : 0.0, 0.0);
        tu_flute_loss loss;

        cutter.turned_within_rad = within;
        loss = tu_cutter_flute_loss(&cutter, diameter / 2, draw(2.0, 8.0));
        assert_true(loss.turned);
        check_close(loss.gap_rad, 2 * pi / cutter.flutes, 1e-12, "gap, rad");
        check_close(loss.within_rad, within, 1e-12, "within, rad");
        compare(&loss, rotate_about_an_edge(&cutter, 5.0, within), diameter / 2);
    }
}

static void helical_flutes_turned_by_hand(void **state)
{
    (void)state;
    random_state = check_random_seed(20240402);
    for (int round = 0; round < 16; round++) {
        double diameter = draw(3.0, 12.0), helix = draw(0.1, 0.7), within = draw(0.02, 0.6);
        double depth = draw(0.3, 1.0) * diameter / 2;
        tu_cutter cutter = fluted(1 + round % 3, diameter, helix, 0.0);
        double gap = 2 * pi / cutter.flutes - sweep_of(helix, depth, diameter / 2);
        tu_flute_loss loss;

        cutter.turned_within_rad = within;
        loss = tu_cutter_flute_loss(&cutter, diameter / 2, depth);
        assert_true(gap > 0.0);
        check_close(loss.gap_rad, gap, 1e-12, "gap, rad");
        compare(&loss, rotate_about_an_edge(&cutter, depth, fmin(within, gap / 2)), diameter / 2);
    }
}

static void turning_by_hand_never_reaches_past_the_middle_of_the_gap(void **state)
{
    tu_cutter cutter = fluted(4, 6.0, 0.6, 0.0);
    double depth = 3.0, gap = 2 * pi / 4 - sweep_of(0.6, depth, 3.0);
    tu_flute_loss loss;

    (void)state;
    cutter.turned_within_rad = 1.2;
    assert_true(gap / 2 < 1.2);
    loss = tu_cutter_flute_loss(&cutter, 3.0, depth);
    check_close(loss.within_rad, gap / 2, 1e-12, "within, rad");
    compare(&loss, rotate_about_an_edge(&cutter, depth, gap / 2), 3.0);
}

static void straight_flutes_not_turned(void **state)
{
    (void)state;
    random_state = check_random_seed(20240403);
    for (int round = 0; round < 12; round++) {
        double diameter = draw(1.0, 12.0);
        /* a single edge without a body would reach backwards: from two flutes on, or with core */
        double core = round % 2 ? draw(0.3, 0.9) * diameter : 0.0;
        tu_cutter cutter = fluted(2 + round % 3, diameter, NAN, core);
        tu_flute_loss loss = tu_cutter_flute_loss(&cutter, diameter / 2, 5.0);

        assert_false(loss.turned);
        compare(&loss, rotate_through_a_turn(&cutter, 5.0), diameter / 2);
    }
}

static void helical_flutes_not_turned(void **state)
{
    (void)state;
    random_state = check_random_seed(20240404);
    for (int round = 0; round < 16; round++) {
        double diameter = draw(3.0, 12.0), helix = draw(0.1, 0.7);
        double depth = draw(0.3, 1.0) * diameter / 2;
        double core = round % 2 ? draw(0.3, 0.9) * diameter : 0.0;
        tu_cutter cutter = fluted(2 + round % 3, diameter, helix, core);
        tu_flute_loss loss = tu_cutter_flute_loss(&cutter, diameter / 2, depth);

        compare(&loss, rotate_about_an_edge(&cutter, depth, loss.gap_rad / 2), diameter / 2);
        check_close(loss.gap_rad, 2 * pi / cutter.flutes - sweep_of(helix, depth, diameter / 2),
                    1e-12, "gap, rad");
    }
}

static void a_body_between_turned_flutes_limits_the_loss(void **state)
{
    (void)state;
    random_state = check_random_seed(20240405);
    for (int round = 0; round < 10; round++) {
        double diameter = draw(3.0, 12.0), within = draw(0.2, 0.7);
        /* some bodies wide enough to be met within that angle, some not */
        double core = diameter * cos(within) * draw(0.95, 1.04);
        tu_cutter cutter = fluted(2, diameter, NAN, fmin(core, 0.995 * diameter));
        tu_flute_loss loss;

        cutter.turned_within_rad = within;
        loss = tu_cutter_flute_loss(&cutter, diameter / 2, 5.0);
        compare(&loss, rotate_about_an_edge(&cutter, 5.0, within), diameter / 2);
    }
}

static void a_single_edge_with_its_body(void **state)
{
    tu_cutter cutter = fluted(1, 6.0, NAN, 4.0);
    tu_flute_loss loss = tu_cutter_flute_loss(&cutter, 3.0, 5.0);

    (void)state;
    compare(&loss, rotate_through_a_turn(&cutter, 5.0), 3.0);
}

/* A shaped tip: its edges reach the full radius only from a height on. */
static tu_cutter shaped(int round, double diameter, double helix, double *full_from)
{
    tu_cutter cutter = fluted(1 + round % 3, diameter, helix, 0.0);

    if (round % 4 == 0) {
        cutter.shape = TU_CUTTER_BALL;
        *full_from = diameter / 2;
    } else if (round % 4 < 3) {
        double corner = draw(0.1, 0.4) * diameter;

        cutter.shape = TU_CUTTER_BULL;
        cutter.corner_radius = tu_quantity_mm(corner, 0.0);
        *full_from = corner;
    } else {
        double tip = draw(0.0, 0.5) * diameter;

        cutter.shape = TU_CUTTER_VEE;
        cutter.tip = tu_quantity_mm(tip, 0.0);
        cutter.included_rad = draw(0.8, 2.4);
        *full_from = (diameter - tip) / 2 / tan(cutter.included_rad / 2);
    }
    return cutter;
}

/* Only the height of full radius counts as sweeping; what lies below reaches less far. */
static void the_shaped_part_of_a_tip_does_not_sweep(void **state)
{
    (void)state;
    random_state = check_random_seed(20240406);
    for (int round = 0; round < 16; round++) {
        double diameter = draw(3.0, 12.0), helix = draw(0.1, 0.6), full_from;
        tu_cutter cutter = shaped(round, diameter, helix, &full_from);
        double sweeping = draw(0.2, 0.9) * diameter / 2;
        double gap = 2 * pi / cutter.flutes - sweep_of(helix, sweeping, diameter / 2);
        tu_flute_loss loss = tu_cutter_flute_loss(&cutter, diameter / 2, full_from + sweeping);

        check_close(loss.gap_rad, gap, 1e-12, "gap, rad");
        if (cutter.flutes > 1) /* a single edge may point away from the wall */
            compare(&loss, rotate_about_an_edge(&cutter, sweeping, gap / 2), diameter / 2);
        /* no deeper than the shaped part: nothing sweeps */
        loss = tu_cutter_flute_loss(&cutter, diameter / 3, 0.9 * full_from);
        check_close(loss.gap_rad, 2 * pi / cutter.flutes, 1e-12, "gap, rad");
    }
}

/* The body's stated diameter is that of the full part; what it is at the tip nobody stated, so
 * there it must not make the loss look smaller. */
static void a_body_does_not_count_where_the_tip_is_shaped(void **state)
{
    tu_cutter bare = fluted(2, 6.0, NAN, 0.0), bodied = fluted(2, 6.0, NAN, 4.0);
    tu_flute_loss without, with;
    double profile = sqrt(1.6 * (6.0 - 1.6)); /* of the ball, 1.6 mm deep */

    (void)state;
    bare.shape = bodied.shape = TU_CUTTER_BALL;
    without = tu_cutter_flute_loss(&bare, profile, 1.6);
    with = tu_cutter_flute_loss(&bodied, profile, 1.6);
    check_close(with.mean_reach_mm, without.mean_reach_mm, 1e-12, "mean reach, mm");
    check_close(with.standard_mm, without.standard_mm, 1e-12, "standard deviation, mm");
    check_close(with.worst_loss_mm, without.worst_loss_mm, 1e-12, "worst loss, mm");
}

static void edges_that_overlap_all_round_lose_nothing(void **state)
{
    tu_cutter cutter = fluted(4, 6.0, 0.7, 0.0);
    spread brute = rotate_through_a_turn(&cutter, 8.0); /* 8 tan 0.7 / 3 > 2 pi / 4 */
    tu_flute_loss loss = tu_cutter_flute_loss(&cutter, 3.0, 8.0);

    (void)state;
    check_close(brute.least, 3.0, 1e-12, "least reach of the rotated edges, mm");
    assert_true(loss.gap_rad <= 0.0);
    check_close(loss.mean_reach_mm, 3.0, 0.0, "mean reach, mm");
    check_close(loss.standard_mm, 0.0, 0.0, "standard deviation, mm");
    check_close(loss.worst_loss_mm, 0.0, 0.0, "worst loss, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(straight_flutes_turned_by_hand),
        cmocka_unit_test(helical_flutes_turned_by_hand),
        cmocka_unit_test(turning_by_hand_never_reaches_past_the_middle_of_the_gap),
        cmocka_unit_test(straight_flutes_not_turned),
        cmocka_unit_test(helical_flutes_not_turned),
        cmocka_unit_test(a_body_between_turned_flutes_limits_the_loss),
        cmocka_unit_test(a_single_edge_with_its_body),
        cmocka_unit_test(the_shaped_part_of_a_tip_does_not_sweep),
        cmocka_unit_test(a_body_does_not_count_where_the_tip_is_shaped),
        cmocka_unit_test(edges_that_overlap_all_round_lose_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
