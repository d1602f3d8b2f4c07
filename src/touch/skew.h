/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * skew.h - stock that is not square to the machine: its angle, and the corner under it.
 */
#ifndef TRUEUP_TOUCH_SKEW_H
#define TRUEUP_TOUCH_SKEW_H

#include "touch/sideways.h"
#include "trueup/zero.h"

/*
 * The stock's angle from the request's baselines; the longest one counts.
 *   skew  out; known is false where there is no baseline.
 * Refuses baselines that are too short, that run too far from an edge's direction to tell which
 * edge they are on, or that contradict each other is only warned of (the stock's edges need not be
 * square).
 */
tu_status tu_skew_measure(const tu_zero_request *request, tu_skew *skew, double *skew_dof,
                          tu_warnings *warnings, tu_error *error);

/*
 * The corner from one line per axis (docs/geometry.md): with e1 = (cos, sin) and e2 = (-sin, cos),
 * e1 . (P1 - C) = k1 and e2 . (P2 - C) = k2. Fills zero_mm and the open budgets of X and Y.
 * Needs the across coordinates of wall touches: TU_DATA_MISSING.
 */
tu_status tu_skew_solve_corner(const tu_skew *skew, double skew_dof, tu_axis_zero zero[2],
                               const tu_sideways side[2], tu_error *error);

/* What an angle that was not measured would do (see tu_fear). */
tu_status tu_fear_estimate(const tu_zero_request *request, const tu_axis_zero zero[2],
                           const tu_sideways side[2], tu_fear *fear, tu_error *error);

#endif
