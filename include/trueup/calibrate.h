/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * calibrate.h - what a homemade plate really measures, from touches on it and on a block of known
 * size. Pure: no I/O, no allocation beyond the caller's structs.
 *
 * Model, one edge of the block at a time (docs/geometry.md section 4):
 *     touch on a wall       P = E + s o + s sigma r
 *     touch in a bore       P = E + s c + d (D/2 - r)       d = -1 low side, +1 high side
 *     bare touch, outside   P = E + s r
 *     bare touch, in a slot P = E - s r
 *     plate face, seat      Pz = H + t,  Pz = H
 * with E the block's edge (unknown), W = E_high - E_low its known width, s the outward sign of the
 * edge, sigma the wall's facing. Unknown: o of each wall, c and D of the bore, r of each cutter, t.
 */
#ifndef TRUEUP_CALIBRATE_H
#define TRUEUP_CALIBRATE_H

#include "trueup/budget.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stddef.h>

enum {
    TU_CALIBRATION_CUTTERS = 6,
    TU_CALIBRATION_GROUPS = 64, /* distinct combinations of edge, contact and cutter */
    TU_CALIBRATION_UNKNOWNS = 18
};

typedef enum tu_contact {
    TU_CONTACT_WALL,     /* a wall of the plate */
    TU_CONTACT_BORE_LOW, /* the bore's side at lower coordinates */
    TU_CONTACT_BORE_HIGH,
    TU_CONTACT_BARE, /* the block itself, from outside */
    TU_CONTACT_SLOT, /* the side of a slot in the block, from inside */
    TU_CONTACT_FACE, /* Z: the plate's face */
    TU_CONTACT_SEAT  /* Z: what the plate rests on, without it */
} tu_contact;

/* One touch. cutter indexes the request's cutters; wall is 0 (a) or 1 (b), for walls and bores. */
typedef struct tu_calibration_touch {
    tu_contact contact;
    tu_axis axis;
    int outward; /* s of the block's edge, -1 or +1; 0 for Z */
    int wall;
    size_t cutter;
    double position_mm;
} tu_calibration_touch;

/*
 *   plate        as the shop file has it now: facings, old values.
 *   cutters      as the shop file has them; old values, and known ones if trust_cutters.
 *   block        known widths along X and Y, with tolerances; none: not stated.
 *   trust_cutters  take the stored diameters (with their tolerances) as known.
 *   repeatability  stored, per axis; pooled as in zero.
 */
typedef struct tu_calibration_request {
    const tu_plate *plate;
    const tu_cutter *cutters[TU_CALIBRATION_CUTTERS];
    size_t cutter_count;
    tu_quantity block[2];
    bool trust_cutters;
    tu_repeatability repeatability[TU_AXIS_COUNT];
    double step_mm;
    const tu_calibration_touch *touches;
    size_t touch_count;
} tu_calibration_request;

typedef enum tu_calibrated_kind {
    TU_CALIBRATED_THICKNESS,
    TU_CALIBRATED_WALL,        /* offset of wall index */
    TU_CALIBRATED_BORE_CENTRE, /* centre[index] */
    TU_CALIBRATED_BORE_DIAMETER,
    TU_CALIBRATED_CUTTER, /* effective diameter of cutter index */
    TU_CALIBRATED_SUM     /* offset of wall index plus facing times radius of cutter */
} tu_calibrated_kind;

/* One figure: value NaN and determined false where what was given does not settle it. */
typedef struct tu_calibrated {
    tu_calibrated_kind kind;
    int index;
    int cutter; /* for TU_CALIBRATED_SUM; else -1 */
    bool determined;
    double value_mm;
    double old_mm; /* the shop file's; NaN: none */
    tu_uncertainty uncertainty;
} tu_calibrated;

enum { TU_CALIBRATED_MAX = 32, TU_ADVICE_SIZE = 300, TU_ADVICE_MAX = 8 };

typedef struct tu_calibration_result {
    size_t count;
    tu_calibrated figure[TU_CALIBRATED_MAX];
    bool determined;     /* every figure that the touches bear on is settled */
    size_t advice_count; /* for what is not: the touch that would settle it */
    char advice[TU_ADVICE_MAX][TU_ADVICE_SIZE];
    double touch_sd_mm[TU_AXIS_COUNT]; /* pooled, of one touch; NaN: not known */
    double touch_dof[TU_AXIS_COUNT];
    double misfit; /* chi-square of redundant touches; NaN: none redundant */
    double misfit_dof;
    double misfit_p;
    tu_warnings warnings;
} tu_calibration_result;

/*
 * Least squares over all touches (singular value decomposition; figures outside its row space are
 * undetermined, not guessed).
 * Returns TU_OK, also when some figure is undetermined (result->determined is then false);
 * TU_USAGE, TU_DATA_RANGE, TU_DATA_MISSING, TU_DATA_CONFLICT, TU_NUMERIC.
 */
tu_status tu_calibrate_solve(const tu_calibration_request *request, tu_calibration_result *result,
                             tu_error *error);

#endif
