/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * contact_trial.h - random set-ups of the solid world of contact_world.h, touched, and written down
 * as a person would: typed as text in mm or inch, in machine coordinates or under an active offset.
 */
#ifndef CONTACT_TRIAL_H
#define CONTACT_TRIAL_H

#include "check.h"
#include "contact_world.h"

#include "trueup/zero.h"

enum { TRIAL_REPEATS = 3 };

/* Contacts are found to 1e-10 mm, texts carry 12 decimals. */
#define trial_square_mm 5e-9

/* One simulated set-up and the request made from it; too large for the stack. */
typedef struct trial {
    cw_world world;
    cw_cutter solid;
    double depth;
    double off_centre[2]; /* how far beside a bore's centre it was touched, at most */
    tu_unit unit;
    tu_plate plate;
    tu_cutter cutter;
    tu_touch single[TU_AXIS_COUNT][TRIAL_REPEATS]; /* or the low sides of a bore */
    tu_touch high[TU_AXIS_COUNT][TRIAL_REPEATS];
    tu_zero_request request;
} trial;

void trial_seed(uint64_t seed);
double trial_draw(double low, double high);
bool trial_toss(void);
/* Through text, as a person would type it: sometimes bare, sometimes with its unit. */
tu_quantity trial_typed(double value_mm, tu_unit unit);

/* A random set-up: every choice is tossed. */
cw_setup trial_draw_setup(bool bored, double angle);
/* Builds the world, draws a cutter of any shape, states everything but the touches. up: +1 for a
 * top corner, -1 bottom. The stock's thickness is always stated where the zero needs it. */
void trial_start(trial *t, const cw_setup *setup, int up);

/* A place as read: in machine coordinates, or under an active offset, typed in the unit. */
tu_touch trial_read(const trial *t, int axis, cw_place contact, int direction, bool across);
/* Where along a wall: about a place counted from its middle, each touch up to spread away. */
typedef struct trial_along {
    double middle, spread;
} trial_along;

void trial_touch_walls(trial *t, int axis, size_t repeats, trial_along along, bool across);
/* Touches both sides of a bore, each time up to off_centre beside its centre. */
void trial_touch_bore(trial *t, int axis, size_t repeats, double off_centre, bool across);
void trial_touch_face(trial *t, size_t repeats);

/* Solves; fails the test when the request is refused. */
void trial_solve(const trial *t, tu_zero_result *result);
/* Solves; false when the request is refused as contradicting itself, which is no wrong zero. */
bool trial_solve_or_refuse(const trial *t, tu_zero_result *result);
/* The zero of an axis is where the simulated corner is. */
void trial_expect(const trial *t, int axis, const tu_axis_zero *zero, double tolerance);

#endif
