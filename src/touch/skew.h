/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * skew.h - stock that is not square to the machine: its angle, and the corner under it.
 */
#ifndef TRUEUP_TOUCH_SKEW_H
#define TRUEUP_TOUCH_SKEW_H

#include "touch/sideways.h"
#include "trueup/zero.h"

/* Stock lies within some degrees of square; beyond this it is not clear which edge was touched. */
#define TU_SKEW_MAX_RAD (30.0 * M_PI / 180.0)

/*
 * The stock's angle from the request's baselines; the longest one counts.
 *   skew  out; known is false where there is no baseline; standard_rad is left open (NaN).
 * Refuses baselines that are too short, or that run too far from an axis to tell which edge they
 * are on. Baselines that contradict each other are only warned of: the edges need not be square.
 */
tu_status tu_skew_measure(const tu_zero_request *request, tu_skew *skew, tu_warnings *warnings,
                          tu_error *error);

/*
 * The corner from one line per axis (docs/geometry.md): with u = (cos, sin) and v = (-sin, cos),
 * u . (P - C) = kx and v . (Q - C) = ky. Fills zero_mm and the open budgets of X and Y, and
 * skew->standard_rad from the scatter of the touches.
 * Needs the across coordinates of wall touches: TU_DATA_MISSING.
 */
tu_status tu_skew_solve_corner(const tu_zero_request *request, tu_skew *skew, tu_axis_zero zero[2],
                               const tu_sideways side[2], tu_error *error);

/* What an angle that was not measured would do (see tu_fear). */
tu_status tu_fear_estimate(const tu_zero_request *request, const tu_axis_zero zero[2],
                           const tu_sideways side[2], tu_fear *fear, tu_error *error);

#endif
