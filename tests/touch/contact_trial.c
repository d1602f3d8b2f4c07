/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * contact_trial.c - random set-ups of the solid world and the requests made from them.
 */
#include "contact_trial.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static check_random random_state;

void trial_seed(uint64_t seed)
{
    random_state = check_random_seed(seed);
}

double trial_draw(double low, double high)
{
    return check_random_uniform(&random_state, low, high);
}

bool trial_toss(void)
{
    return trial_draw(0.0, 1.0) < 0.5;
}

/* Through text, as a person would type it: sometimes bare, sometimes with its unit. */
tu_quantity trial_typed(double value_mm, tu_unit unit)
{
    char text[64];
    bool inch = unit == TU_UNIT_INCH;
    const char *suffix = trial_toss() ? "" : (inch ? "in" : "mm");
    int length = snprintf(text, sizeof text, "%.12f%s", value_mm / (inch ? 25.4 : 1.0), suffix);
    tu_quantity quantity;

    assert_int_equal(tu_quantity_parse(text, (size_t)length, unit, &quantity, NULL), TU_OK);
    quantity.tolerance_mm = trial_toss() ? 0.02 : 0.0;
    return quantity;
}

static void draw_cutter(trial *t)
{
    double diameter = trial_draw(1.0, 12.7);

    t->cutter = tu_cutter_start();
    t->cutter.shape = (tu_cutter_shape)(int)trial_draw(0.0, 3.999);
    t->cutter.diameter = trial_typed(diameter, t->unit);
    t->depth = trial_draw(0.3, 9.0);
    if (t->cutter.shape == TU_CUTTER_FLAT) {
        t->solid = cw_flat(diameter);
    } else if (t->cutter.shape == TU_CUTTER_BALL) {
        t->solid = cw_ball(diameter);
    } else if (t->cutter.shape == TU_CUTTER_BULL) {
        double corner = trial_draw(0.05, 0.5) * diameter;

        t->solid = cw_bull(diameter, corner);
        t->cutter.corner_radius = trial_typed(corner, t->unit);
    } else {
        double tip = trial_toss() ? 0.0 : trial_draw(0.0, 0.5) * diameter;

        t->cutter.included_rad = trial_draw(0.35, 2.1);
        t->solid = cw_vee(diameter, t->cutter.included_rad, tip);
        t->cutter.tip = trial_typed(tip, t->unit);
    }
}

/* The plate as the shop file would state it; the depth stands there or in the request. */
static void state_plate(trial *t, bool depth_in_request)
{
    const cw_plate *body = &t->world.setup.plate;
    tu_quantity depth = trial_typed(t->depth, t->unit);

    t->plate = tu_plate_start();
    strcpy(t->plate.name, "offcut");
    t->plate.thickness = trial_typed(body->thickness, t->unit);
    t->plate.turned = body->bodily;
    t->plate.bore.touch_depth = depth;
    if (depth_in_request) /* which overrides the plate's, whatever that says */
        t->plate.bore.touch_depth = trial_toss() ? tu_quantity_none() : tu_quantity_mm(1.0, 0.1);
    t->plate.bore.present = body->bored;
    t->plate.bore.diameter = trial_typed(body->bore_diameter, t->unit);
    for (int i = 0; i < 2; i++) {
        t->plate.bore.centre[i] = trial_typed(body->bore_out[i], t->unit);
        t->plate.wall[i].present = !body->bored;
        t->plate.wall[i].offset = trial_typed(body->wall[i].offset, t->unit);
        t->plate.wall[i].facing = body->wall[i].outward ? TU_FACES_OUTWARD : TU_FACES_INWARD;
        t->plate.wall[i].touch_depth = t->plate.bore.touch_depth;
    }
    if (depth_in_request)
        t->request.depth = depth;
}

cw_setup trial_draw_setup(bool bored, double angle)
{
    cw_setup setup = {.front_left = {trial_draw(-900.0, 900.0), trial_draw(-900.0, 900.0)},
                      .angle = angle,
                      .size_x = trial_draw(250.0, 400.0),
                      .size_y = trial_draw(250.0, 400.0),
                      .size_z = trial_draw(6.0, 40.0),
                      .bed = trial_draw(-180.0, -60.0),
                      .right = trial_toss(),
                      .back = trial_toss(),
                      .on_bed = trial_toss()};

    setup.plate.thickness = trial_draw(3.0, 20.0);
    setup.plate.bodily = trial_toss();
    setup.plate.bored = bored;
    setup.plate.bore_diameter = trial_draw(20.0, 30.0);
    for (int i = 0; i < 2; i++) {
        setup.plate.wall[i] = (cw_wall){bored ? 0.0 : trial_draw(-18.0, 18.0), trial_toss()};
        setup.plate.bore_out[i] = trial_draw(-25.0, 25.0);
    }
    return setup;
}

/* A place as read: in machine coordinates, or under an active offset, typed in the unit. */
tu_touch trial_read(const trial *t, int axis, cw_place contact, int direction, bool across)
{
    const double *active = t->request.active_mm;
    double at[3] = {contact.x, contact.y, contact.z};
    int other = axis == 0 ? 1 : 0;
    tu_touch touch = tu_touch_start(NAN, NAN, trial_toss() ? direction : 0);

    touch.position_mm =
        trial_typed(at[axis] - (isnan(active[axis]) ? 0.0 : active[axis]), t->unit).value_mm;
    if (across && axis < 2)
        touch.across_mm =
            trial_typed(at[other] - (isnan(active[other]) ? 0.0 : active[other]), t->unit).value_mm;
    return touch;
}

void trial_touch_walls(trial *t, int axis, size_t repeats, trial_along along, bool across)
{
    for (size_t i = 0; i < repeats; i++) {
        cw_place contact;
        int direction;

        assert_true(cw_touch_wall(&t->world, &t->solid, axis,
                                  along.middle + trial_draw(-along.spread, along.spread), t->depth,
                                  &contact, &direction));
        t->single[axis][i] = trial_read(t, axis, contact, direction, across);
    }
    t->request.touches[axis].single = t->single[axis];
    t->request.touches[axis].single_count = repeats;
}

void trial_touch_bore(trial *t, int axis, size_t repeats, double off_centre, bool across)
{
    t->off_centre[axis] = off_centre;
    for (size_t i = 0; i < repeats; i++) {
        double aside = trial_draw(-off_centre, off_centre);
        cw_plane off = {axis == 0 ? 0.0 : aside, axis == 0 ? aside : 0.0};
        cw_place low, high;

        assert_true(cw_touch_bore(&t->world, &t->solid, axis, -1, off, t->depth, &low));
        assert_true(cw_touch_bore(&t->world, &t->solid, axis, 1, off, t->depth, &high));
        t->single[axis][i] = trial_read(t, axis, low, -1, across);
        t->high[axis][i] = trial_read(t, axis, high, 1, across);
    }
    t->request.touches[axis].low = t->single[axis];
    t->request.touches[axis].high = t->high[axis];
    t->request.touches[axis].low_count = t->request.touches[axis].high_count = repeats;
}

void trial_touch_face(trial *t, size_t repeats)
{
    cw_place contact;

    assert_true(cw_touch_plate(&t->world, &t->solid, &contact));
    for (size_t i = 0; i < repeats; i++)
        t->single[2][i] = trial_read(t, 2, contact, -1, false);
    t->request.touches[2].single = t->single[2];
    t->request.touches[2].single_count = repeats;
}

/* States everything but the touches; the stock's thickness only where the zero needs it. */
void trial_start(trial *t, const cw_setup *setup, int up)
{
    bool needed = setup->on_bed == (up > 0);

    t->request = tu_zero_request_start();
    t->unit = trial_toss() ? TU_UNIT_INCH : TU_UNIT_MM;
    cw_build(&t->world, setup);
    draw_cutter(t);
    state_plate(t, trial_toss());
    t->request.plate = &t->plate;
    t->request.cutter = &t->cutter;
    t->request.seat = setup->on_bed ? TU_SEAT_BED : TU_SEAT_STOCK;
    t->request.read_unit = t->unit;
    t->request.target.outward[0] = setup->right ? 1 : -1;
    t->request.target.outward[1] = setup->back ? 1 : -1;
    t->request.target.outward[2] = up;
    if (needed || trial_toss()) {
        tu_quantity thickness = trial_typed(setup->size_z, t->unit);

        t->request.stock.size[TU_AXIS_Z] = thickness;
        if (trial_toss()) { /* the request's own thickness overrides the shop's */
            t->request.stock_thickness = thickness;
            t->request.stock.size[TU_AXIS_Z] =
                trial_toss() ? tu_quantity_none() : tu_quantity_mm(setup->size_z + 1.0, 0.1);
        }
    }
    if (trial_toss())
        for (int i = 0; i < TU_AXIS_COUNT; i++)
            t->request.active_mm[i] = trial_typed(trial_draw(-500.0, 500.0), t->unit).value_mm;
}

void trial_solve(const trial *t, tu_zero_result *result)
{
    tu_error error = {0};

    if (tu_zero_solve(&t->request, result, &error))
        fail_msg("refused: %s: %s", error.where, error.message);
}

bool trial_solve_or_refuse(const trial *t, tu_zero_result *result)
{
    tu_error error = {0};
    tu_status status = tu_zero_solve(&t->request, result, &error);

    if (status != TU_DATA_CONFLICT)
        check_status(status, TU_OK, &error);
    return !status;
}

/* What else the result tells of a side contact, for the drawing and the arithmetic. */
static void expect_parts(const trial *t, int axis, const tu_axis_zero *zero, double tolerance)
{
    const cw_setup *setup = &t->world.setup;
    double radius = cw_widest(&t->solid, 0.0, t->depth);
    int wall = cw_wall_across(setup, axis);

    assert_int_equal(zero->outward, t->request.target.outward[axis]);
    assert_int_equal(zero->wall, wall);
    assert_int_equal(zero->bore, setup->plate.bored);
    check_close(zero->depth_mm, t->depth, 1e-9, "depth, mm");
    check_close(zero->effective_radius_mm, radius, 1e-9, "effective radius, mm");
    if (setup->plate.bored) {
        check_close(zero->offset_mm, setup->plate.bore_out[wall], 1e-9, "bore's centre, mm");
        check_close(zero->chord_mm, zero->high_mm - zero->low_mm, 1e-9, "chord, mm");
        check_close(zero->touch_mm, (zero->high_mm + zero->low_mm) / 2, 1e-9, "midpoint, mm");
        if (t->off_centre[axis] == 0.0)
            check_close(zero->implied_diameter_mm, 2 * radius, 2 * tolerance, "cutter, mm");
    } else {
        check_close(zero->offset_mm, setup->plate.wall[wall].offset, 1e-9, "offset, mm");
        assert_true((zero->facing == TU_FACES_OUTWARD) == setup->plate.wall[wall].outward);
    }
}

void trial_expect(const trial *t, int axis, const tu_axis_zero *zero, double tolerance)
{
    const cw_setup *setup = &t->world.setup;
    cw_plane corner = cw_corner(setup);
    double truth[3] = {corner.x, corner.y,
                       setup->bed + (t->request.target.outward[2] > 0 ? setup->size_z : 0.0)};

    assert_true(zero->asked);
    if (!(fabs(zero->zero_mm - truth[axis]) <= tolerance))
        fail_msg("%s %c: %.9f instead of %.9f mm (%s plate, %s, angle %.4f, seat on %s)",
                 tu_target_name(t->request.target), "XYZ"[axis], zero -> zero_mm, truth[axis],
                 setup -> plate.bored ? "bore" : "wall",
                 setup->plate.bodily ? "turned" : "not turned", setup->angle,
                 setup->on_bed ? "bed" : "stock");
    if (axis < 2)
        expect_parts(t, axis, zero, tolerance);
}
