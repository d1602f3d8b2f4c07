/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * flatness.h - how flat a set of touched points is: least-squares plane and minimum zone.
 *
 * Two reference planes, both after ISO 12781-1. The least-squares plane (LSPL) has the smallest sum
 * of squared distances. The minimum zone (MZPL) is the pair of parallel planes, nearest together,
 * that holds every point. All deviations are measured normal to the plane, in mm; for a bed that is
 * tilted by a slope s this differs from a vertical deviation by s*s/2 of its value.
 *
 * Pure: no I/O, no allocation but where tu_bed_find_zone says so; the same points in the same order
 * give the same bits.
 *
 * What no evaluation of these points can tell: they were touched with the machine's own axes, so
 * sag of a beam and a warped board look alike without a straightedge. And noise of the touches
 * makes every peak-to-valley figure too large, the more so the more points there are.
 */
#ifndef TRUEUP_FLATNESS_H
#define TRUEUP_FLATNESS_H

#include "trueup/status.h"

#include <stddef.h>

TU_BEGIN_DECLS

/* A touched point of the bed, machine frame. Any order; duplicates are allowed. */
typedef struct tu_bed_point {
    double x_mm;
    double y_mm;
    double z_mm;
} tu_bed_point;

/* A unit vector in the machine frame. */
typedef struct tu_bed_direction {
    double x;
    double y;
    double z;
} tu_bed_direction;

/* The steepest slope (rise over run) that is taken for a bed's. */
#define TU_BED_STEEPEST_SLOPE 1.0

/*
 * A least-squares plane and the deviations from it (ISO 12781-1).
 *   count             points that were fitted.
 *   normal            unit, z above zero.
 *   centroid          the mean of the points; the plane goes through it.
 *   slope_x, slope_y  dz/dx and dz/dy of the plane, dimensionless (times 1000: mm per m).
 *   centre_x_mm, _y   the middle of the points' extent in X and Y.
 *   height_at_centre_mm  z of the plane there.
 *   FLTt_mm           peak to valley = FLTp + FLTv.
 *   FLTp_mm, FLTv_mm  highest point above and lowest point below the plane, both at least 0.
 *   FLTq_mm           root mean square of the deviations (divisor: count).
 *   highest, lowest   indices of those points; of equal ones the first.
 */
typedef struct tu_plane_fit {
    size_t count;
    tu_bed_direction normal;
    tu_bed_point centroid;
    double slope_x;
    double slope_y;
    double centre_x_mm;
    double centre_y_mm;
    double height_at_centre_mm;
    double FLTt_mm;
    double FLTp_mm;
    double FLTv_mm;
    double FLTq_mm;
    size_t highest;
    size_t lowest;
} tu_plane_fit;

/*
 * Fits the plane with the smallest sum of squared normal distances (total least squares). The
 * points are first referred to their mean, so an offset costs no more digits than it took in the
 * input.
 *   points, count  3 to 1e7 points.
 *   fit            out; undefined after a failure.
 * Returns TU_OK;
 *   TU_USAGE         an argument is NULL;
 *   TU_DATA_RANGE    a coordinate is NaN, infinite or beyond 1e9 mm; the message has the point's
 *                    number, counted from 1;
 *   TU_UNDETERMINED  fewer than 3 points; all in one place; all on one line in space (within a
 *                    ten-millionth of its length); all on one line seen from above, or for another
 *                    reason a plane steeper than TU_BED_STEEPEST_SLOPE, which is no bed.
 */
tu_status tu_bed_fit_plane(const tu_bed_point *points, size_t count, tu_plane_fit *fit,
                           tu_error *error);

/* The same without the limit on the slope: only a plane that stands upright (normal z under 1e-6)
 * is refused, since it has no slopes. For points that are not a bed's. */
tu_status tu_bed_fit_any_plane(const tu_bed_point *points, size_t count, tu_plane_fit *fit,
                               tu_error *error);

/* Distance of a point from the fitted plane, normal to it, in mm; above the plane is positive. */
double tu_plane_deviation_mm(const tu_plane_fit *fit, tu_bed_point point);

/* z of the fitted plane above (x, y), in mm. */
double tu_plane_height_mm(const tu_plane_fit *fit, double x_mm, double y_mm);

/* Which points hold the two planes of a minimum zone, and so prove that it can't be narrower. */
typedef enum tu_zone_criterion {
    TU_ZONE_3_1, /* three high, one low: its projection lies in the triangle of the high */
    TU_ZONE_1_3, /* one high, three low */
    TU_ZONE_2_2, /* two high, two low: the projections of the two lines cross */
    TU_ZONE_FLAT /* all points in one plane, up to the rounding of their coordinates */
} tu_zone_criterion;

/* How it was shown that no zone in any other direction is narrower; see tu_bed_find_zone. */
typedef enum tu_zone_proof {
    TU_ZONE_PROOF_SPREAD, /* the points spread widely enough beside the zone's width */
    TU_ZONE_PROOF_SEARCH, /* all directions were searched */
    TU_ZONE_PROOF_FLAT,   /* nothing is narrower than nothing */
    TU_ZONE_PROOF_HULL    /* all that can face each other of the convex hull was gone over */
} tu_zone_proof;

enum { TU_ZONE_CONTACTS = 3 };

/*
 * A minimum zone: 0 <= normal * (p - base) <= FLTt_mm for every point p.
 *   FLTt_mm           its width: the peak-to-valley flatness deviation (ISO 12781-1, MZPL).
 *   normal            unit, z at least 0, common to both planes.
 *   base              a point on the lower plane.
 *   slope_x, slope_y  of the planes; NaN when they stand upright.
 *   high, low         indices of the contact points, the certificate: those of high lie on the
 *                     upper plane, those of low on the lower. high_count and low_count are 3 and 1,
 *                     1 and 3, or 2 and 2; for TU_ZONE_FLAT 3 and 0, three points that span the
 *                     plane. Other points may touch as well.
 *   passes            how often all points were gone over.
 */
typedef struct tu_bed_zone {
    double FLTt_mm;
    tu_bed_direction normal;
    tu_bed_point base;
    double slope_x;
    double slope_y;
    tu_zone_criterion criterion;
    tu_zone_proof proof;
    size_t high[TU_ZONE_CONTACTS];
    size_t high_count;
    size_t low[TU_ZONE_CONTACTS];
    size_t low_count;
    size_t passes;
} tu_bed_zone;

/*
 * Room for tu_bed_find_zone, provided by the caller: tu_zone_workspace_bytes() bytes, about 130 kB,
 * aligned as malloc does. What is in it before the call and after it means nothing. One per thread.
 */
typedef struct tu_zone_workspace tu_zone_workspace;
size_t tu_zone_workspace_bytes(void);

/*
 * Finds the minimum zone: the narrowest over all directions, not only near some first plane.
 *
 * Method. A few of the points, the working set, are kept at hand. Their own narrowest zone is
 * found; it is no wider than that of all points. If all points lie in it, it is theirs, and that is
 * the proof. If not, those that stick out the most join the working set. That ends, since each
 * round adds a corner of the convex hull; on a bed of a million touches it takes a handful of
 * rounds.
 *
 * The narrowest zone of the working set starts from a local optimum: points of contact as in
 * tu_zone_criterion, normal n, width W. Seen along n, let r be the radius of the largest circle
 * about the origin in the convex hull of all differences "high contact minus low contact" (r > 0
 * says that the optimum is a strict one), and D the smallest width of the points' outline. Tilt the
 * direction by an angle t. The contact points alone then need a width of W cos t + r sin t at
 * least, which is W or more as long as tan(t/2) <= r/W. The outline alone needs at least D sin t -
 * W cos t, which is W or more as soon as tan(t/2) >= W/D. So if W*W <= r*D, the two ranges meet and
 * no direction is better: the optimum is the global one (TU_ZONE_PROOF_SPREAD). A bed of 500 mm and
 * 0.5 mm needs r >= 0.0005 mm: nearly always so. For points thick enough to fail this, the rest of
 * the directions are searched by halving boxes of directions, each with a lower bound of the width,
 * until none is left (TU_ZONE_PROOF_SEARCH).
 *
 * That gives up, within a second, on something like a ball, where more than 2048
 * points matter or too many directions are nearly as good. Then the convex hull of all points is
 * made, and all of its facets against corners and edges against edges are gone over
 * (TU_ZONE_PROOF_HULL). The Qhull library takes memory for that, and gives it back: some hundreds
 * of bytes for each corner of the hull, besides 24 for each point. A million points, all of them on
 * a ball: 11 s and 650 MB; a bed of as many takes some milliseconds and nothing.
 *
 *   points, count  3 to 1e7 points.
 *   workspace      see there.
 *   zone           out; undefined after a failure. Of several equally narrow zones, one. Which one
 *                  may depend on the order of the points, FLTt_mm does not beyond rounding.
 * The width is exact up to rounding: some 1e-14 of the points' extent, plus as much as the
 * coordinates' offset from zero costs in the input.
 * Returns TU_OK;
 *   TU_USAGE         an argument is NULL;
 *   TU_DATA_RANGE    as tu_bed_fit_plane;
 *   TU_UNDETERMINED  fewer than 3 points; all on one line in space (within a thousand-millionth of
 *                    its length); or the narrowest zone is steeper than TU_BED_STEEPEST_SLOPE: the
 *                    points are a narrow strip that is thinner sideways than up and down, which
 *                    is no bed;
 *   TU_SYSTEM_MEMORY, TU_NUMERIC   of the hull: no memory, or Qhull could not make it.
 */
tu_status tu_bed_find_zone(const tu_bed_point *points, size_t count, tu_zone_workspace *workspace,
                           tu_bed_zone *zone, tu_error *error);

/* The same without the limit on the slope, for points that are not a bed's. */
tu_status tu_bed_find_any_zone(const tu_bed_point *points, size_t count,
                               tu_zone_workspace *workspace, tu_bed_zone *zone, tu_error *error);

/*
 * The certificate of a zone, gone over by its definition, without trust in how the zone was found.
 * All in mm, none negative; 0 or of the size of rounding for a good one.
 *   outside_mm     how far the worst point lies outside the two planes.
 *   contact_mm     how far the worst contact point lies from its plane.
 *   projection_mm  3+1: how far the single point's projection lies outside the triangle; 2+2: how
 *                  far the projections of the two segments pass each other. 0 for TU_ZONE_FLAT.
 */
typedef struct tu_zone_check {
    double outside_mm;
    double contact_mm;
    double projection_mm;
} tu_zone_check;

/*
 * Checks that a zone holds every point and that its contact points satisfy the criterion.
 *   tolerance_mm  what each figure of check may be; 0 or less: 64 roundings (2^-52) of the largest
 *                 coordinate in size. A projection that misses by m lets a zone tilted by t be
 *                 narrower by m*sin t, no more.
 *   check         out, may be NULL; NaN in it when the zone's form is wrong.
 * Returns TU_OK;
 *   TU_USAGE          points or zone is NULL;
 *   TU_DATA_RANGE, TU_UNDETERMINED   of the points, as tu_bed_fit_plane;
 *   TU_DATA_CONFLICT  the form is wrong (normal not unit, counts that do not fit the criterion, an
 *                     index beyond count, a contact point twice), or a figure exceeds the
 *                     tolerance.
 * This shows a local optimum; that it is the global one is shown by tu_bed_find_zone.
 */
tu_status tu_bed_check_zone(const tu_bed_point *points, size_t count, const tu_bed_zone *zone,
                            double tolerance_mm, tu_zone_check *check, tu_error *error);

TU_END_DECLS

#endif
