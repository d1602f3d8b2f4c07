/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * calibrate.h - what a homemade plate really measures, from touches on it and on a block of known
 * size. Pure: no I/O, no allocation beyond the caller's structs.
 *
 * Model, one edge of the block at a time (docs/plate.md derives it):
 *     touch on a wall       P = E + s o + s sigma r
 *     touch in a bore       P = E + s c + d (D/2 - r)       d = -1 low side, +1 high side
 *     bare touch, outside   P = E + s r
 *     bare touch, in a slot P = F - s r
 *     plate face, seat      Pz = H + t,  Pz = H
 * with E the block's edge (unknown) and E_high - E_low its known width, F the side of the slot and
 * F_high - F_low its known width, s the outward sign of the edge (for a slot: -1 the low side),
 * sigma the wall's facing. Unknown: o of each wall, c and D of the bore, r of each cutter, t, H.
 *
 * One cutter on the plate's walls, on both edges of the block, leaves o and r apart: only
 * o + sigma r is known. A second cutter alone does not separate them (it brings its own r); a bare
 * touch, a slot, or a trusted diameter does.
 *
 * GSL computes quantiles and fits in here. Its own error handler, which ends the process, is not
 * reached: what GSL would refuse is refused before.
 */
#ifndef TRUEUP_CALIBRATE_H
#define TRUEUP_CALIBRATE_H

#include "trueup/budget.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

enum {
    TU_CALIBRATION_CUTTERS = 6,
    TU_CALIBRATION_GROUPS = 64, /* distinct combinations of edge, contact, wall and cutter */
    TU_CALIBRATION_UNKNOWNS = 21
};

typedef enum tu_contact {
    TU_CONTACT_WALL,     /* a wall of the plate */
    TU_CONTACT_BORE_LOW, /* the bore's side at lower coordinates */
    TU_CONTACT_BORE_HIGH,
    TU_CONTACT_BARE, /* the block itself, from outside */
    TU_CONTACT_SLOT, /* the side of a slot of known width, from inside */
    TU_CONTACT_FACE, /* Z: the plate's face */
    TU_CONTACT_SEAT  /* Z: what the plate rests on, without it */
} tu_contact;

/*
 * One touch. cutter indexes the request's cutters; wall is 0 (a) or 1 (b), for walls, and for
 * bores the one of the bore's two distances that lies along the axis.
 */
typedef struct tu_calibration_touch {
    tu_contact contact;
    tu_axis axis;
    int outward; /* s of the block's edge, -1 or +1; 0 for Z */
    int wall;
    size_t cutter;
    double position_mm;
} tu_calibration_touch;

/* Which way the cutter moves for this touch on this plate: -1 or +1. */
int tu_calibration_travel(const tu_plate *plate, const tu_calibration_touch *touch);

/*
 * What is asked. Start from tu_calibration_request_start() and fill in.
 *   plate        as the shop file has it now: facings, old values (none: a new plate).
 *   cutters      as the shop file has them; old values, and known ones if trust_cutters.
 *   block, slot  known widths along X and Y, with tolerances; none: not stated.
 *   trust_cutters  take the stored diameters (with their tolerances) as known; flat cutters only.
 *   machine      travel, step, and stored repeatability, pooled as in zero.
 */
typedef struct tu_calibration_request {
    const tu_plate *plate;
    const tu_cutter *cutters[TU_CALIBRATION_CUTTERS];
    size_t cutter_count;
    tu_quantity block[2];
    tu_quantity slot[2];
    bool trust_cutters;
    tu_machine machine;
    const tu_calibration_touch *touches;
    size_t touch_count;
} tu_calibration_request;

/* Nothing stated, no touches. */
tu_calibration_request tu_calibration_request_start(void);

typedef enum tu_calibrated_kind {
    TU_CALIBRATED_THICKNESS,
    TU_CALIBRATED_WALL,        /* offset of wall index */
    TU_CALIBRATED_BORE_CENTRE, /* centre[index] */
    TU_CALIBRATED_BORE_DIAMETER,
    TU_CALIBRATED_CUTTER,   /* effective diameter of cutter index */
    TU_CALIBRATED_SUM,      /* offset of wall index plus facing times radius of cutter */
    TU_CALIBRATED_CLEARANCE /* the bore's diameter less the effective diameter of cutter */
} tu_calibrated_kind;

/*
 * One figure: value NaN and determined false where what was given does not settle it.
 *   cutter         for TU_CALIBRATED_SUM and _CLEARANCE; else -1.
 *   needed         false for a cutter's diameter that nothing undetermined of the plate waits for.
 *   spread_known   how well touches repeat is known along every axis that the value draws on.
 *   suspect        differs from the shop file by so much that a slip is likelier; said in a
 *                  warning.
 *   old_mm         by the shop file; NaN: none. For a cutter: its effective diameter there, the
 *                  mean loss of its flutes taken off.
 *   old_tolerance_mm  NaN: none.
 *   shop_mm, shop_standard_mm  what the shop file has to hold so that zero works with value_mm: the
 *                  same, but for a fluted cutter, whose diameter there is that of its edges.
 */
typedef struct tu_calibrated {
    tu_calibrated_kind kind;
    int index;
    int cutter;
    bool determined;
    bool needed;
    bool spread_known;
    bool suspect;
    double value_mm;
    double old_mm;
    double old_tolerance_mm;
    double shop_mm;
    double shop_standard_mm;
    tu_uncertainty uncertainty;
} tu_calibrated;

enum { TU_CALIBRATED_MAX = 32, TU_ADVICE_SIZE = 1000, TU_ADVICE_MAX = 8, TU_ADVICE_TOUCHES = 2 };

/*
 * The fewest further touches that settle a figure, given the touches that were made and the
 * advice that stands before it.
 *   figure       index of the figure; settles has bit k set for each figure k it settles.
 *   touch        what to touch; position_mm is NaN.
 *   width_axis   0 or 1: also state the width of the block or the slot (width_of_slot); -1: no.
 *   trust        the figure would also be settled by trusting the cutters' stored diameters.
 *   text         the same in words; where nothing was found it says so and touch_count is 0.
 */
typedef struct tu_advice {
    size_t figure;
    unsigned settles;
    size_t touch_count;
    tu_calibration_touch touch[TU_ADVICE_TOUCHES];
    int width_axis;
    bool width_of_slot;
    bool trust;
    char text[TU_ADVICE_SIZE];
} tu_advice;

typedef struct tu_calibration_result {
    size_t count;
    tu_calibrated figure[TU_CALIBRATED_MAX];
    bool determined; /* every needed figure that the touches bear on is settled */
    size_t advice_count;
    tu_advice advice[TU_ADVICE_MAX];
    double touch_sd_mm[TU_AXIS_COUNT]; /* pooled, of one touch; NaN: not known */
    double touch_dof[TU_AXIS_COUNT];
    double misfit; /* chi-square of redundant touches; NaN: none redundant, or spread not known */
    double misfit_dof;
    double misfit_p; /* by F, whose other degrees of freedom are those of the touches' spread */
    tu_warnings warnings;
} tu_calibration_result;

/*
 * Least squares over the means of the groups (singular value decomposition; figures outside the
 * row space of the design are undetermined, not guessed).
 *   result  out; on failure only result->warnings is meaningful.
 * Returns TU_OK, also when some figure is undetermined (result->determined is then false);
 * TU_USAGE (no touches, a touch that names no cutter or an edge that cannot be), TU_DATA_RANGE,
 * TU_DATA_MISSING, TU_DATA_CONFLICT (repeats or redundant touches that disagree grossly, edges
 * or face and seat swapped), TU_NUMERIC.
 * Source: GUM (JCGM 100:2008) 4.2.4 pooling, 5.1.2 and G.4.1 uncertainty of each figure.
 */
tu_status tu_calibrate_solve(const tu_calibration_request *request, tu_calibration_result *result,
                             tu_error *error);

/* "left", "right", "front", "back" for X or Y and the edge's outward sign. */
const char *tu_calibration_edge_name(tu_axis axis, int outward);

enum { TU_TOUCH_NAME_SIZE = 112 };
/* The group of a touch as the command line names it: "left/a/quarter", "face". Always fits. */
void tu_calibration_touch_name(char text[TU_TOUCH_NAME_SIZE], const tu_calibration_request *request,
                               const tu_calibration_touch *touch);

enum { TU_FIGURE_NAME_SIZE = 200 };
/* A figure in words: "offset of wall a", "effective diameter of quarter". Always fits. */
void tu_calibrated_name(char text[TU_FIGURE_NAME_SIZE], const tu_calibration_request *request,
                        const tu_calibrated *figure);

TU_END_DECLS

#endif
