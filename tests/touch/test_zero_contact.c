/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Zeros of square stock against simulated contact: the solids of contact_world.c are moved against
 * each other, the places of contact go into tu_zero_solve, and the stock's true corner must come
 * out. Origin of every expected value: the corner of the simulated block, which was put there.
 */
#include "contact_trial.h"

#include <math.h>
#include <string.h>

enum { ROUNDS = 40 };

/* A polygon of 2048 corners lies inside its circle by 12.5 mm x (1 - cos(pi/2048)) = 1.5e-5 mm. */
static const double polygon_tolerance_mm = 2e-5;

static trial work; /* too large for the stack */

/* One square set-up at a corner, all three axes. */
static void try_corner(const cw_setup *setup, int up)
{
    size_t repeats = 1 + (size_t)trial_draw(0.0, TRIAL_REPEATS - 0.001);
    tu_zero_result result;

    trial_start(&work, setup, up);
    for (int axis = 0; axis < 2; axis++) {
        if (setup->plate.bored)
            trial_touch_bore(&work, axis, repeats, 0.0, trial_toss());
        else
            trial_touch_walls(&work, axis, repeats, (trial_along){0.0, 14.0}, trial_toss());
        if (!setup->plate.bored)
            assert_int_equal(tu_plate_wall_for(&work.plate, work.request.target, (tu_axis)axis),
                             cw_wall_across(setup, axis));
    }
    trial_touch_face(&work, repeats);
    trial_solve(&work, &result);
    for (int axis = 0; axis < 3; axis++)
        trial_expect(&work, axis, &result.axis[axis],
                     setup->plate.bore_sides > 0 ? polygon_tolerance_mm : trial_square_mm);
}

/* Every corner x seat x turned or not x both walls' facing x both walls over or outside. */
static void walls_find_the_true_corner_at_all_eight_corners(void **state)
{
    (void)state;
    trial_seed(20240101);
    for (unsigned code = 0; code < 512; code++) {
        for (int round = 0; round < 10; round++) {
            cw_setup setup = trial_draw_setup(false, 0.0);

            setup.right = code & 1;
            setup.back = code & 2;
            setup.on_bed = code & 8;
            setup.plate.bodily = code & 16;
            for (unsigned w = 0; w < 2; w++) {
                double out = trial_draw(0.0, 18.0);

                setup.plate.wall[w].outward = code & (32u << w);
                setup.plate.wall[w].offset = code & (128u << w) ? out : -out;
            }
            try_corner(&setup, code & 4 ? 1 : -1);
        }
    }
}

static void bores_find_the_true_corner_at_all_eight_corners(void **state)
{
    (void)state;
    trial_seed(20240102);
    for (unsigned code = 0; code < 32; code++) {
        for (int round = 0; round < ROUNDS; round++) {
            cw_setup setup = trial_draw_setup(true, 0.0);

            setup.right = code & 1;
            setup.back = code & 2;
            setup.on_bed = code & 8;
            setup.plate.bodily = code & 16;
            setup.plate.bore_sides = round == 0 ? CW_EDGES : 0;
            try_corner(&setup, code & 4 ? 1 : -1);
        }
    }
}

/*
 * Both contacts of an off-centre chord lie as far from the bore's centre, so their midpoint is
 * right all the same. A chord that is short by more than the tolerances explain may be refused,
 * since it looks like another cutter; a wrong zero may not come out.
 */
static void a_bore_touched_beside_its_centre_gives_the_corner_or_is_refused(void **state)
{
    int solved = 0;

    (void)state;
    trial_seed(20240112);
    for (int round = 0; round < 400; round++) {
        cw_setup setup = trial_draw_setup(true, 0.0);
        tu_zero_result result;

        trial_start(&work, &setup, 1);
        for (int axis = 0; axis < 2; axis++)
            trial_touch_bore(&work, axis, 1, 0.8, trial_toss());
        if (!trial_solve_or_refuse(&work, &result))
            continue;
        solved++;
        for (int axis = 0; axis < 2; axis++)
            trial_expect(&work, axis, &result.axis[axis], trial_square_mm);
    }
    assert_in_range(solved, 40, 400);
}

/* A face alone: the plate lies on either corner that the face has, its wall is named. */
static void try_face(int axis, int sign, bool bored)
{
    cw_setup setup = trial_draw_setup(bored, 0.0);
    tu_zero_result result;
    int wall;

    if (axis == 0)
        setup.right = sign > 0;
    if (axis == 1)
        setup.back = sign > 0;
    trial_start(&work, &setup, sign);
    wall = axis < 2 ? cw_wall_across(&setup, axis) : -1;
    work.request.wall = wall == 0 && trial_toss() ? -1 : wall;
    for (int i = 0; i < 3; i++)
        work.request.target.outward[i] = i == axis ? sign : 0;
    if (axis == 2)
        trial_touch_face(&work, 1);
    else if (bored)
        trial_touch_bore(&work, axis, 2, 0.0, false);
    else
        trial_touch_walls(&work, axis, 2, (trial_along){0.0, 14.0}, false);
    trial_solve(&work, &result);
    trial_expect(&work, axis, &result.axis[axis], trial_square_mm);
    for (int i = 0; i < 3; i++)
        assert_int_equal(result.axis[i].asked, i == axis);
}

static void all_six_faces_are_found_alone(void **state)
{
    (void)state;
    trial_seed(20240103);
    for (int round = 0; round < 150; round++)
        for (int axis = 0; axis < 3; axis++)
            for (int sign = -1; sign <= 1; sign += 2) {
                try_face(axis, sign, false);
                try_face(axis, sign, true);
            }
}

/* A wall can be touched from one side only; a touch that says it came from the other is refused. */
static void a_touch_that_came_through_the_wall_is_refused(void **state)
{
    (void)state;
    trial_seed(20240111);
    for (int round = 0; round < 200; round++) {
        cw_setup setup = trial_draw_setup(false, 0.0);
        int axis = round % 2, direction;
        tu_zero_result result;
        cw_place contact;

        trial_start(&work, &setup, 1);
        assert_true(
            cw_touch_wall(&work.world, &work.solid, axis, 0.0, work.depth, &contact, &direction));
        work.single[axis][0] = trial_read(&work, axis, contact, direction, false);
        work.single[axis][0].direction = direction;
        work.request.touches[axis].single = work.single[axis];
        work.request.touches[axis].single_count = 1;
        trial_solve(&work, &result);
        work.single[axis][0].direction = -direction;
        assert_int_equal(tu_zero_solve(&work.request, &result, NULL), TU_DATA_CONFLICT);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(walls_find_the_true_corner_at_all_eight_corners),
        cmocka_unit_test(bores_find_the_true_corner_at_all_eight_corners),
        cmocka_unit_test(a_bore_touched_beside_its_centre_gives_the_corner_or_is_refused),
        cmocka_unit_test(all_six_faces_are_found_alone),
        cmocka_unit_test(a_touch_that_came_through_the_wall_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
