/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_parts.h - the parts of the minimum zone; flatness.h has the method as a whole.
 *
 * Inside, points are referred to the middle of their box, and a direction is a unit vector n. The
 * working set is the workspace's index, x, y, z; turned_x, _y, _z are the same points in a frame
 * whose third axis is the direction last turned to.
 */
#ifndef TRUEUP_BED_ZONE_PARTS_H
#define TRUEUP_BED_ZONE_PARTS_H

#include "bed/plane.h"
#include "trueup/flatness.h"

#include <stdbool.h>

enum { TU_ZONE_WORKING_POINTS = 2048, TU_ZONE_WORKING_BOXES = 512, TU_ZONE_WORKING_CAPS = 64 };

struct tu_zone_workspace {
    size_t index[TU_ZONE_WORKING_POINTS];
    double x[TU_ZONE_WORKING_POINTS];
    double y[TU_ZONE_WORKING_POINTS];
    double z[TU_ZONE_WORKING_POINTS];
    double turned_x[TU_ZONE_WORKING_POINTS];
    double turned_y[TU_ZONE_WORKING_POINTS];
    double turned_z[TU_ZONE_WORKING_POINTS];
    double boxes[TU_ZONE_WORKING_BOXES][4];
    double caps[TU_ZONE_WORKING_CAPS][4];
    size_t count;
    size_t cap_count;
};

/*
 * A local optimum of the working set's width.
 *   width, low    extent along normal, and where it begins.
 *   radius        of the largest circle about the origin in the hull of the contacts' differences;
 *                 below zero: how far the contacts are from being an optimum.
 *   highs, lows   positions in the working set.
 */
typedef struct tu_zone_optimum {
    tu_bed_direction normal;
    double width;
    double low;
    double radius;
    tu_zone_criterion criterion;
    size_t highs[TU_ZONE_CONTACTS];
    size_t high_count;
    size_t lows[TU_ZONE_CONTACTS];
    size_t low_count;
} tu_zone_optimum;

/* --- zone_set.c: the working set --- */

/* What one pass over all points along a direction found. */
typedef struct tu_zone_pass {
    double low;
    double high;
    size_t added; /* points that stuck out and joined the working set */
} tu_zone_pass;

/* Takes in points evenly from all over; all of them when they are few. */
void tu_zone_start_set(tu_zone_workspace *set, const tu_bed_point *points, size_t count,
                       const tu_bed_box *box);
/* Returns false when the set is full. */
bool tu_zone_add_point(tu_zone_workspace *set, const tu_bed_point *points, size_t index,
                       const tu_bed_box *box);
/* Fills turned_*; the first two axes are any that go with the third. */
void tu_zone_turn_set(tu_zone_workspace *set, tu_bed_direction normal, tu_bed_direction *u,
                      tu_bed_direction *v);
/*
 * Goes over all points along optimum->normal. Those that stick out of its zone by more than slack
 * join the set, the worst of each region. Returns false when the set is full.
 */
bool tu_zone_pass_points(tu_zone_workspace *set, const tu_bed_point *points, size_t count,
                         const tu_bed_box *box, const tu_zone_optimum *optimum, double slack,
                         tu_zone_pass *pass);

/* A wide triangle of the set: two points far from each other, the third far from their line. */
typedef struct tu_zone_triangle {
    size_t corner[3];
    double height; /* of the third above the line of the others */
    tu_bed_direction normal;
} tu_zone_triangle;

tu_zone_triangle tu_zone_find_triangle(const tu_zone_workspace *set);
/* A lower bound for the width of the outline as seen along the direction last turned to. */
double tu_zone_outline_width(const tu_zone_workspace *set);

/* --- zone_local.c --- */

/* Goes down from a direction to a local optimum of the set's width. slack_mm: mere rounding. */
void tu_zone_descend(tu_zone_workspace *set, tu_bed_direction start, double slack_mm,
                     tu_zone_optimum *optimum);

/* --- zone_contact.c --- */

/*
 * Chooses 3+1 or 2+2 of highs and lows in the turned set: those with the largest radius, if that
 * is larger than what optimum has.
 */
void tu_zone_choose_contacts(const tu_zone_workspace *set, const size_t *highs, size_t high_count,
                             const size_t *lows, size_t low_count, tu_zone_optimum *optimum);

/* --- zone_search.c --- */

/*
 * Searches all directions for one in which the set is narrower than best->width by more than
 * slack_mm, and replaces best by the narrowest local optimum met. Returns false when the search did
 * not end within its allowance.
 */
bool tu_zone_search(tu_zone_workspace *set, double slack_mm, tu_zone_optimum *best);

/* --- zone_hull.c --- */

enum { TU_ZONE_HULL_CONTACTS = 64 };

/* The narrowest direction of all, and points that hold its zone: indices into the caller's. */
typedef struct tu_zone_hull {
    tu_bed_direction normal;
    size_t contact[TU_ZONE_HULL_CONTACTS];
    size_t contacts;
} tu_zone_hull;

/*
 * By all pairs of facet and corner and of edges of the convex hull that can face each other.
 * TU_SYSTEM_MEMORY; TU_NUMERIC: Qhull made no hull of the points.
 */
tu_status tu_zone_search_hull(const tu_bed_point *points, size_t count, const tu_bed_box *box,
                              tu_zone_hull *found, tu_error *error);

tu_bed_direction tu_zone_cross(tu_bed_direction a, tu_bed_direction b);
/* Unit vector from one point of the set to another that is elsewhere. */
tu_bed_direction tu_zone_toward(const tu_zone_workspace *set, size_t from, size_t to);

static inline double tu_zone_dot(tu_bed_direction a, tu_bed_direction b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

#endif
