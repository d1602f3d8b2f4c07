/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * solids.h - upright prisms, a bed and a cutter moved along a line until they touch (internal).
 *
 * solids.c has the prisms, the bed and the march along a line; cutter_solid.c has the cutter. Known
 * here are shapes and distances only: neither offsets nor effective radii. Machine frame,
 * millimetres, radians.
 */
#ifndef TRUEUP_PROGRAM_SOLIDS_H
#define TRUEUP_PROGRAM_SOLIDS_H

#include "trueup/scene.h"

#include <stdbool.h>
#include <stddef.h>

enum { TU_PRISM_CORNERS = 4 };

/* A convex polygon in the plane of the bed, anticlockwise. Edge i runs from corner i to the next:
 * its outward normal, and the line's distance from the origin along that. */
typedef struct tu_polygon {
    tu_machine_plane_point corner[TU_PRISM_CORNERS];
    tu_machine_plane_point normal[TU_PRISM_CORNERS];
    double reach_mm[TU_PRISM_CORNERS];
} tu_polygon;

/* The polygon of these corners, in either sense of rotation. */
tu_polygon tu_polygon_start(const tu_machine_plane_point corner[TU_PRISM_CORNERS]);

/* An upright prism; with a hole all through it where hole_radius_mm is above 0, wholly inside. */
typedef struct tu_prism {
    tu_polygon outline;
    double low_mm, high_mm;
    tu_machine_plane_point hole;
    double hole_radius_mm;
} tu_prism;

/* Something on the table: a prism, or the bed (bed not NULL, prism then unused). */
typedef struct tu_solid {
    const char *name;
    bool conducts;
    const tu_bed_surface *bed;
    double bed_rise_mm; /* the greatest value of the bed's map, at least 0 */
    double bed_slope;   /* the steepest slope of the bed anywhere but at a map's border */
    tu_prism prism;
} tu_solid;

tu_solid tu_solid_start_bed(const tu_bed_surface *bed, bool conducts);

/*
 * The cutter: a solid of revolution about its axis, as high as need be. With flutes, only its
 * edges lie on that surface: lines on it that climb with the helix (right-handed: anticlockwise
 * on the way up, seen from above), and along its flat end straight to the middle. Between them
 * there is a core, a cylinder cut off by the same surface at its end.
 */
typedef struct tu_cutter_solid {
    tu_cutter_shape shape;
    double radius_mm;
    double corner_mm;        /* ball and bull nose: radius of the round */
    double flat_mm;          /* radius of the flat end */
    double flank, flank_cos; /* vee: tangent and cosine of half the angle */
    double full_mm;          /* height above the tip where the full radius begins */
    int flutes;              /* 0: the whole surface of revolution */
    double climb_rad_per_mm;
    double core_mm;     /* radius */
    double angle_rad;   /* of the first edge at the tip's height */
    double run_out_mm;  /* of the axis of the cutter from that of the spindle */
    double run_out_rad; /* which way that is, from the first edge */
} tu_cutter_solid;

/* The share of the diameter that the core takes where the cutter does not state its core. Common
 * practice, no source. */
#define TU_CUTTER_CORE_SHARE 0.5

/* A cutter that can be (tu_scene_check), its first edge at angle_rad. */
tu_cutter_solid tu_cutter_solid_start(const tu_cutter *cutter, double angle_rad);

/* The radius at a height above the tip; the height, from the tip, of the surface over a radius
 * (infinite beyond the full radius). */
double tu_cutter_solid_radius(const tu_cutter_solid *cutter, double height_mm);
double tu_cutter_solid_height(const tu_cutter_solid *cutter, double radius_mm);

/*
 * How far the surface of revolution can be moved before it meets something that fills all below a
 * level and all nearer than a distance from its outline: a lower limit; below 0 when they overlap.
 *   aside_mm  from the axis to the outline; below 0: the axis is inside it.
 *   above_mm  from the level up to the tip.
 */
double tu_cutter_solid_gap(const tu_cutter_solid *cutter, double aside_mm, double above_mm);

/* From a point to a prism's outline or its hole, seen from above: 0 on it, below 0 in the material.
 * The quick one is a lower limit near a corner, exact in its sign. */
double tu_prism_gap(const tu_prism *prism, double x_mm, double y_mm);
double tu_prism_gap_quick(const tu_prism *prism, double x_mm, double y_mm);

/* As tu_solid_clearance, of a fluted cutter that overlaps the prism with its surface of revolution
 * by envelope_mm (below 0). axis is the cutter's own, shrink_mm as below. */
double tu_cutter_solid_gap_of_edges(const tu_cutter_solid *cutter, const tu_prism *prism,
                                    tu_machine_point axis, double shrink_mm, double envelope_mm);

/*
 * A lower limit for how far the cutter, its tip at that place, can be moved in any direction
 * before it touches the solid; below 0 when they overlap.
 *   shrink_mm  takes that much off the solid all round.
 * Against the bed the cutter counts as a solid of revolution, whatever its flutes.
 */
double tu_solid_clearance(const tu_solid *solid, const tu_cutter_solid *cutter,
                          tu_machine_point tip, double shrink_mm);

/* A straight path of the tip; the direction has length 1. */
typedef struct tu_path {
    tu_machine_point from;
    double x, y, z;
    double length_mm;
} tu_path;

tu_path tu_path_between(tu_machine_point from, tu_machine_point to);
tu_machine_point tu_path_point(const tu_path *path, double travel_mm);

/* Steps where two solids all but touch: an overlap shorter than this along the path may be missed,
 * which on the sharpest corner is half as deep. */
#define TU_MARCH_STEP_MM 0.005
/* Contacts are found to this, on the side where the solids overlap. */
#define TU_CONTACT_MM 1e-9

/*
 * The travel along the path at which the cutter first overlaps the solid; INFINITY: nowhere.
 *   tolerated_mm  0, or how deep the cutter may stand in the solid at the start because it has just
 *                 touched it. Such an overlap must not get deeper than that and must have ended
 *                 after a travel of twice that and TU_DRAG_MM, or that is where it is found.
 * By conservative advancement: each step is as long as the clearance allows.
 */
double tu_solid_first_contact(const tu_solid *solid, const tu_cutter_solid *cutter,
                              const tu_path *path, double tolerated_mm);
#define TU_DRAG_MM 0.1

#endif
