/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Stock that is turned on the table, against simulated contact: its corner from two contacts along
 * an edge, what an angle costs that nobody measured, and the border that a job then needs.
 *
 * Origin of every expected value: the simulated block, which was put there.
 */
#include "contact_trial.h"

#include <math.h>
#include <string.h>

enum { ROUNDS = 400 };

static const double skew_tolerance_mm = 2e-7;

static trial work; /* too large for the stack */

static tu_machine_plane_point read_plane(const trial *t, cw_place contact)
{
    const double *active = t->request.active_mm;

    return (tu_machine_plane_point){contact.x - (isnan(active[0]) ? 0.0 : active[0]),
                                    contact.y - (isnan(active[1]) ? 0.0 : active[1])};
}

static tu_baseline either_way(tu_machine_plane_point a, tu_machine_plane_point b)
{
    return trial_toss() ? (tu_baseline){a, b} : (tu_baseline){b, a};
}

/* Two contacts on the bare stock, the plate taken off: on any of its four sides. */
static tu_baseline bare_baseline(const trial *t, double from, double to)
{
    static cw_world bare;
    cw_setup setup = t->world.setup;
    int axis = trial_toss() ? 0 : 1;
    bool high = trial_toss();
    cw_place first, second;

    setup.plate_away = true;
    cw_build(&bare, &setup);
    assert_true(cw_touch_bare(&bare, &t->solid, axis, high, from, 3.0, &first));
    assert_true(cw_touch_bare(&bare, &t->solid, axis, high, to, 3.0, &second));
    return either_way(read_plane(t, first), read_plane(t, second));
}

/* Two contacts along one wall of the plate. */
static tu_baseline wall_baseline(const trial *t)
{
    int axis = trial_toss() ? 0 : 1, direction;
    cw_place first, second;

    assert_true(cw_touch_wall(&t->world, &t->solid, axis, -10.0, t->depth, &first, &direction));
    assert_true(cw_touch_wall(&t->world, &t->solid, axis, 10.0, t->depth, &second, &direction));
    return either_way(read_plane(t, first), read_plane(t, second));
}

static bool try_skew(bool bored, double angle, double spread)
{
    cw_setup setup = trial_draw_setup(bored, angle);
    size_t repeats = 1 + (size_t)trial_draw(0.0, TRIAL_REPEATS - 0.001);
    tu_zero_result result;

    trial_start(&work, &setup, trial_toss() ? 1 : -1);
    for (int axis = 0; axis < 2; axis++) {
        if (bored)
            trial_touch_bore(&work, axis, repeats, 0.0, true);
        else
            trial_touch_walls(&work, axis, repeats, (trial_along){trial_draw(-8.0, 8.0), spread},
                              true);
    }
    trial_touch_face(&work, repeats);
    work.request.baseline[0] = bored || trial_toss() ? bare_baseline(&work, trial_draw(30.0, 60.0),
                                                                     trial_draw(160.0, 210.0))
                                                     : wall_baseline(&work);
    work.request.baseline_count = 1;
    if (spread == 0.0)
        trial_solve(&work, &result);
    else if (!trial_solve_or_refuse(&work, &result))
        return false;
    assert_true(result.skew.known);
    check_close(result.skew.angle_rad, angle, 1e-9, "angle, rad");
    for (int axis = 0; axis < 3; axis++)
        trial_expect(&work, axis, &result.axis[axis], skew_tolerance_mm);
    return true;
}

static void a_turned_stock_gives_its_corner_with_walls(void **state)
{
    (void)state;
    trial_seed(20240104);
    for (int round = 0; round < ROUNDS; round++)
        try_skew(false, trial_draw(-0.349, 0.349), 0.0);
}

/* Touches along a turned wall differ by the distance between them times the tangent. They may be
 * refused as no touches of one place; a wrong zero may not come out. */
static void touches_spread_along_a_turned_wall_give_its_corner_or_are_refused(void **state)
{
    int solved = 0;

    (void)state;
    trial_seed(20240109);
    for (int round = 0; round < ROUNDS; round++)
        solved += try_skew(false, trial_draw(-0.349, 0.349), 4.0);
    assert_in_range(solved, ROUNDS / 3, ROUNDS); /* a third has one touch only */
}

static void a_turned_stock_gives_its_corner_with_a_bore(void **state)
{
    (void)state;
    trial_seed(20240105);
    for (int round = 0; round < ROUNDS; round++)
        try_skew(true, trial_draw(-0.349, 0.349), 0.0);
}

/* The short baseline carries an error of 0.01 mm in 30 mm; only the long one may count. */
static void the_longer_baseline_gives_the_angle(void **state)
{
    (void)state;
    trial_seed(20240106);
    for (int round = 0; round < 60; round++) {
        cw_setup setup = trial_draw_setup(false, trial_draw(-0.2, 0.2));
        tu_zero_result result;
        size_t wrong = trial_toss() ? 0 : 1;

        trial_start(&work, &setup, 1);
        for (int axis = 0; axis < 2; axis++)
            trial_touch_walls(&work, axis, 1, (trial_along){0.0, 8.0}, true);
        work.request.baseline[1 - wrong] = bare_baseline(&work, 40.0, 200.0);
        work.request.baseline[wrong] = bare_baseline(&work, 100.0, 130.0);
        work.request.baseline[wrong].to.x += 0.01;
        work.request.baseline[wrong].to.y += 0.01;
        work.request.baseline_count = 2;
        trial_solve(&work, &result);
        check_close(result.skew.angle_rad, setup.angle, 1e-9, "angle, rad");
        for (int axis = 0; axis < 2; axis++)
            trial_expect(&work, axis, &result.axis[axis], skew_tolerance_mm);
    }
}

/*
 * The signed error of a zero from a single touch when nobody measured the stock's angle. From the
 * contact of a disc with a face turned by the angle, n.(P - C) = o + sigma r with n = s (cos, sin)
 * for the face across X, s (-sin, cos) for the face across Y:
 *     X: s (o + sigma r)(1/cos - 1) - d tan     Y: s (o + sigma r)(1/cos - 1) + d tan
 * d: distance of the touch from the corner along the edge, in the machine's other axis.
 */
static double derived_error(double s, double reach, double d, double angle, int axis)
{
    return s * reach * (1.0 / cos(angle) - 1.0) + (axis == 0 ? -d : d) * tan(angle);
}

static void touch_one_wall_each(trial *t, double along)
{
    for (int axis = 0; axis < 2; axis++) {
        cw_place contact;
        int direction;

        assert_true(
            cw_touch_wall(&t->world, &t->solid, axis, along, t->depth, &contact, &direction));
        t->single[axis][0] = trial_read(t, axis, contact, direction, true);
        t->request.touches[axis].single = t->single[axis];
        t->request.touches[axis].single_count = 1;
    }
}

/* One stock angle: the derived error is the simulated one; what is told is the derived one for the
 * worse sign of the angle, with the distance as it appears from the zeros themselves. */
static void price_one_angle(trial *t, double fear, double angle)
{
    const cw_setup *setup = &t->world.setup;
    const double *active = t->request.active_mm;
    cw_plane corner = cw_corner(setup);
    double truth[2] = {corner.x, corner.y};
    tu_zero_result result;

    trial_solve(t, &result);
    assert_true(result.fear.asked);
    for (int axis = 0; axis < 2; axis++) {
        const cw_wall *wall = &setup->plate.wall[cw_wall_across(setup, axis)];
        double radius = cw_widest(&t->solid, 0.0, t->depth);
        double reach = wall->offset + (wall->outward ? radius : -radius);
        double s = t->request.target.outward[axis];
        double across =
            t->single[axis][0].across_mm + (isnan(active[1 - axis]) ? 0.0 : active[1 - axis]);
        double apparent = across - result.axis[1 - axis].zero_mm;

        check_close(result.axis[axis].zero_mm - truth[axis],
                    derived_error(s, reach, across - truth[1 - axis], angle, axis), 1e-7,
                    "error, mm");
        check_close(result.fear.error_mm[axis],
                    fmax(fabs(derived_error(s, reach, apparent, fear, axis)),
                         fabs(derived_error(s, reach, apparent, -fear, axis))),
                    1e-9, "error told, mm");
    }
}

static void a_feared_angle_is_priced_at_its_worst(void **state)
{
    (void)state;
    trial_seed(20240107);
    for (int round = 0; round < 150; round++) {
        double fear = trial_draw(0.002, 0.04);
        cw_setup setup = trial_draw_setup(false, 0.0);

        trial_start(&work, &setup, 1);
        work.request.feared_angle_rad = fear;
        for (int sign = -1; sign <= 1; sign += 2) {
            setup.angle = sign * fear;
            cw_build(&work.world, &setup);
            touch_one_wall_each(&work, trial_draw(-8.0, 8.0));
            price_one_angle(&work, fear, setup.angle);
        }
    }
}

/*
 * A bore's centre c, turned with the stock by an angle a about the corner, stands at R(a) c instead
 * of c: the zero is off by R(a) c - c, whatever the touches. It is told for the worse sign.
 */
static void a_feared_angle_is_priced_with_a_bore(void **state)
{
    (void)state;
    trial_seed(20240110);
    for (int round = 0; round < 150; round++) {
        double fear = trial_draw(0.002, 0.04), worst[2] = {0.0, 0.0};
        cw_setup setup = trial_draw_setup(true, 0.0);
        tu_zero_result result;

        trial_start(&work, &setup, 1);
        work.request.feared_angle_rad = fear;
        for (int sign = -1; sign <= 1; sign += 2) {
            cw_plane corner;

            setup.angle = sign * fear;
            cw_build(&work.world, &setup);
            corner = cw_corner(&setup);
            for (int axis = 0; axis < 2; axis++)
                trial_touch_bore(&work, axis, 1, 0.0, true);
            trial_solve(&work, &result);
            worst[0] = fmax(worst[0], fabs(result.axis[0].zero_mm - corner.x));
            worst[1] = fmax(worst[1], fabs(result.axis[1].zero_mm - corner.y));
        }
        for (int axis = 0; axis < 2; axis++)
            check_close(result.fear.error_mm[axis], worst[axis], 1e-7, "error told, mm");
    }
}

/* ---- a job inside a turned stock ---- */

/* Whether a job of length x width, set off by its borders from the corner and square to the
 * machine, lies inside a stock of the given size whose corner it starts from, turned by angle. */
static bool job_is_inside(const double border[2], const double job[2], const double stock[2],
                          double angle)
{
    for (int corner = 0; corner < 4; corner++) {
        double x = border[0] + (corner & 1 ? job[0] : 0.0);
        double y = border[1] + (corner & 2 ? job[1] : 0.0);
        double u = x * cos(angle) + y * sin(angle), v = -x * sin(angle) + y * cos(angle);

        if (u < -1e-9 || v < -1e-9 || u > stock[0] + 1e-9 || v > stock[1] + 1e-9)
            return false;
    }
    return true;
}

static bool job_is_safe(const double border[2], const double job[2], const double stock[2],
                        double fear)
{
    return job_is_inside(border, job, stock, fear) && job_is_inside(border, job, stock, -fear);
}

static void the_border_keeps_the_job_inside_a_turned_stock(void **state)
{
    (void)state;
    trial_seed(20240108);
    for (int round = 0; round < 300; round++) {
        double fear = trial_draw(0.002, 0.05), endless[2] = {1e9, 1e9};
        cw_setup setup = trial_draw_setup(false, 0.0);
        tu_zero_result result;
        double job[2] = {trial_draw(20.0, 300.0), trial_draw(20.0, 300.0)};

        trial_start(&work, &setup, 1);
        trial_touch_face(&work, 1);
        for (int axis = 0; axis < 2; axis++) {
            trial_touch_walls(&work, axis, 1, (trial_along){0.0, 8.0},
                              false); /* across not stated */
            work.request.job_mm[axis] = job[axis];
        }
        work.request.feared_angle_rad = fear;
        trial_solve(&work, &result);
        assert_true(result.fear.asked);
        assert_true(job_is_safe(result.fear.border_mm, job, endless, fear));
        assert_true(job_is_safe(result.fear.border_mm, job, result.fear.stock_needed_mm, fear));
        for (int axis = 0; axis < 2; axis++) {
            double less[2] = {result.fear.border_mm[0], result.fear.border_mm[1]};
            double smaller[2] = {result.fear.stock_needed_mm[0], result.fear.stock_needed_mm[1]};

            less[axis] *= 0.99;
            assert_false(job_is_safe(less, job, endless, fear));
            smaller[axis] *= 0.99;
            assert_false(job_is_safe(result.fear.border_mm, job, smaller, fear));
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_turned_stock_gives_its_corner_with_walls),
        cmocka_unit_test(touches_spread_along_a_turned_wall_give_its_corner_or_are_refused),
        cmocka_unit_test(a_turned_stock_gives_its_corner_with_a_bore),
        cmocka_unit_test(the_longer_baseline_gives_the_angle),
        cmocka_unit_test(a_feared_angle_is_priced_at_its_worst),
        cmocka_unit_test(a_feared_angle_is_priced_with_a_bore),
        cmocka_unit_test(the_border_keeps_the_job_inside_a_turned_stock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
