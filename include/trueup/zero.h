/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero.h - from touches to a work offset, with its uncertainty. Pure: no I/O, no allocation.
 *
 * docs/geometry.md holds the derivation and the drawings of every sign used here.
 *
 * GSL computes quantiles and fits in here. Its own error handler, which ends the process, is not
 * reached: what GSL would refuse is refused before.
 */
#ifndef TRUEUP_ZERO_H
#define TRUEUP_ZERO_H

#include "trueup/budget.h"
#include "trueup/cutter.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

enum { TU_TOUCHES_MAX = 1000, TU_BASELINES_MAX = 4 };

/*
 * The touches of one axis, in millimetres, in the coordinates that were read. A touch begins with
 * tu_touch_start(); one that was made otherwise is refused, since its other coordinate would be 0.
 *   position   the touched axis, count of them (0: axis not asked for).
 *   across     the other horizontal coordinate at contact; NaN where not stated.
 *   direction  which way the cutter moved: -1, +1, 0 not stated.
 *   low, high  for a bore: contacts at the low and the high side instead of position, with their
 *              own across; counts are equal. A request has positions or sides, not both.
 */
typedef struct tu_touch {
    double position_mm;
    double across_mm;
    int direction;
    bool started;
} tu_touch;

/* NaN and 0 for an across and a direction that are not stated. */
tu_touch tu_touch_start(double position_mm, double across_mm, int direction);

typedef struct tu_axis_touches {
    const tu_touch *single;
    size_t single_count;
    const tu_touch *low;
    size_t low_count;
    const tu_touch *high;
    size_t high_count;
} tu_axis_touches;

/* Two contacts along one edge: positions of the cutter's axis, as read. */
typedef struct tu_baseline {
    tu_machine_plane_point from, to;
} tu_baseline;

/* b(B) - b(A) of a map of the bed, the plate at A, the zero at B; its standard uncertainty (NaN:
 * nothing says) and degrees of freedom. */
typedef struct tu_bed_rise {
    double rise_mm, standard_mm, dof;
} tu_bed_rise;

/*
 * What is asked. Start from tu_zero_request_start() and fill in.
 *   cutter      NULL: none named; then X and Y need a bore.
 *   wall        0 or 1 for a single face; -1: by the corner (for a face: wall a).
 *   depth       overrides the plate's touch depth; none: the plate's.
 *   stock_thickness  overrides stock.size[Z]; none: the stock's.
 *   active_mm   touches were read in work coordinates under this offset; NaN: machine coordinates.
 *   turned_within_rad  overrides the cutter's; NaN: the cutter's.
 *   feared_angle_rad   a stock angle to be afraid of; NaN: not asked.
 *   job_mm      length along X and width along Y of a job that must stay inside the stock; NaN.
 *   bed_rise    how much higher the bed is at the zero than where the plate sat on it; with seat
 *               TU_SEAT_BED only. rise_mm NaN: no map of the bed.
 *   read_unit   the unit that touches were typed in; only for naming a likely slip.
 */
typedef struct tu_zero_request {
    tu_target target;
    tu_machine machine;
    const tu_plate *plate;
    const tu_cutter *cutter;
    tu_stock stock;
    tu_axis_touches touches[TU_AXIS_COUNT];
    tu_seat seat;
    int wall;
    tu_quantity depth;
    tu_quantity stock_thickness;
    double active_mm[TU_AXIS_COUNT];
    double turned_within_rad;
    tu_baseline baseline[TU_BASELINES_MAX];
    size_t baseline_count;
    double feared_angle_rad;
    double job_mm[2];
    tu_bed_rise bed_rise;
    tu_unit read_unit;
} tu_zero_request;

tu_zero_request tu_zero_request_start(void);

/*
 * The result for one axis, with what went into it, so that text, JSON and drawing need nothing
 * else. Machine coordinates throughout. NaN where a number does not apply.
 */
typedef struct tu_axis_zero {
    bool asked;
    double zero_mm;
    tu_uncertainty uncertainty;
    int outward; /* s: outward direction of the face, -1 or +1 */
    size_t touch_count;
    double touch_mm;    /* mean of the contacts; of a bore: the midpoint */
    double touch_sd_mm; /* of a single touch, from this series; NaN for one touch */
    double across_mm;   /* mean of the other coordinate at contact; NaN: not stated */
    /* X and Y on a wall */
    int wall; /* 0 a, 1 b, -1 none */
    tu_facing facing;
    double offset_mm;           /* o of the wall, or of the bore's centre */
    double depth_mm;            /* tip below the wall's top edge; NaN: not stated */
    double profile_radius_mm;   /* of the cutter at that depth */
    double effective_radius_mm; /* r: the profile less the mean flute loss */
    tu_flute_loss flutes;
    /* X and Y in a bore */
    bool bore;
    double low_mm, high_mm; /* mean contacts */
    double chord_mm;
    double implied_diameter_mm; /* of the cutter, from the chord; NaN: no check was possible */
    /* Z */
    double thickness_mm; /* t of the plate */
    double stock_mm;     /* what the stock's thickness adds, with its sign; 0: not needed */
    double bed_rise_mm;  /* what the map of the bed adds; 0: none */
} tu_axis_zero;

/* The stock's angle, where baselines were given. */
typedef struct tu_skew {
    bool known;
    double angle_rad; /* of the stock's X edge from the machine's X axis, towards Y+ */
    double standard_rad;
    double baseline_mm; /* length of the baseline it came from */
    int edge_axis;      /* 0: along a front or back edge, 1: along a left or right edge */
} tu_skew;

/* What an unmeasured stock angle would do (docs/geometry.md, "a stock that is not square"). */
typedef struct tu_fear {
    bool asked;
    double angle_rad;
    double error_mm[2];        /* worst error of X and Y zero; NaN: distance from corner unknown */
    double border_mm[2];       /* border that the job needs beside the X edge and the Y edge; NaN */
    double stock_needed_mm[2]; /* least stock size for the job with its borders; NaN */
} tu_fear;

typedef struct tu_zero_result {
    tu_target target;
    tu_seat seat;
    char plate_name[TU_NAME_SIZE];
    char cutter_name[TU_NAME_SIZE]; /* empty: none */
    double cutter_diameter_mm;      /* nominal; NaN: none */
    tu_cutter_shape cutter_shape;
    tu_cutter cutter; /* as it was used, so that its reach can be followed; all zero: none */
    tu_axis_zero axis[TU_AXIS_COUNT];
    tu_skew skew;
    tu_fear fear;
    bool active; /* touches were read under active_mm */
    double active_mm[TU_AXIS_COUNT];
    double stock_size_mm[TU_AXIS_COUNT]; /* NaN: not stated */
    tu_warnings warnings;
} tu_zero_result;

/*
 * Computes the work offset of each axis that has touches.
 *   result  out; on failure only result->warnings is meaningful.
 *   error   where names the axis or the option ("x touches", "--depth").
 * Refuses rather than guesses; every refusal and warning is listed in docs/mistakes.md.
 * Returns TU_OK, TU_USAGE (contradictory request), TU_DATA_RANGE, TU_DATA_MISSING,
 * TU_DATA_CONFLICT.
 * Source of the signs: P = E + s o + n r, docs/geometry.md section 2.
 */
tu_status tu_zero_solve(const tu_zero_request *request, tu_zero_result *result, tu_error *error);

/* Which wall (0 a, 1 b) serves an axis (X or Y) at a corner, by the plate's turning. */
int tu_plate_wall_for(const tu_plate *plate, tu_target target, tu_axis axis);

TU_END_DECLS

#endif
