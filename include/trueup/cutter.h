/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * cutter.h - how far a cutter reaches sideways when it touches a wall.
 *
 * docs/geometry.md derives each formula and draws it.
 */
#ifndef TRUEUP_CUTTER_H
#define TRUEUP_CUTTER_H

#include "trueup/setup.h"
#include "trueup/status.h"

TU_BEGIN_DECLS

/*
 * The effective radius of the bare profile, as if the cutter were spinning.
 *   depth_mm  how far the tip is below the wall's top edge: above 0; NaN allowed for a flat cutter.
 *   radius_mm out; NaN on failure.
 *   slope     out, may be NULL: d(radius)/d(depth), for the uncertainty of the depth; 0 where the
 *             full radius touches. Infinite at a ball's very tip is refused instead.
 * Returns TU_OK; TU_DATA_MISSING (depth needed and NaN); TU_DATA_RANGE (depth not above 0, or a
 * cutter that cannot be: corner radius above half the diameter, angle outside 0 to pi).
 */
tu_status tu_cutter_profile_radius(const tu_cutter *cutter, double depth_mm, double *radius_mm,
                                   double *slope, tu_error *error);

/* What the flutes take away from the profile's radius. */
typedef struct tu_flute_loss {
    double gap_rad;       /* angle without an edge; 0 or below: none */
    double within_rad;    /* the contact lies within this of an edge, either way */
    double mean_reach_mm; /* the expected reach, which is corrected for */
    double standard_mm;   /* its standard deviation */
    double worst_loss_mm; /* profile radius minus the least possible reach */
    bool turned;          /* an edge was turned to the wall */
} tu_flute_loss;

/*
 * The reach of a fluted cutter put against a wall without turning the spindle.
 *   profile_mm  the effective radius of the profile at this depth.
 *   depth_mm    as above; NaN: unknown, the edges then count as straight.
 * With no flutes stated, or edges that overlap all round: reach = profile, nothing lost.
 */
tu_flute_loss tu_cutter_flute_loss(const tu_cutter *cutter, double profile_mm, double depth_mm);

TU_END_DECLS

#endif
