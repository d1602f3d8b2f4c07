/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_plan.h - where everything lies in the plan (internal).
 *
 * The frame is the stock's: the origin at the zero, for each axis a coordinate u along the outward
 * direction of its face and v along that of the other axis. First measured in real millimetres
 * from the result's numbers, then laid out in millimetres of paper; what the result does not tell
 * (where the plate ends, how far the stock goes on) is paper from the start.
 */
#ifndef TRUEUP_REPORT_DRAWING_PLAN_H
#define TRUEUP_REPORT_DRAWING_PLAN_H

#include "report/drawing/drawing.h"

#define TU_PLAN_ROWS_MM 5.0 /* from the part to the first dimension line */
#define TU_PLAN_ROW_MM  6.5 /* from one dimension line to the next */
#define TU_PLAN_WALL_MM 5.0 /* drawn thickness of a wall */

/* The cutter's axis at a contact; v NaN: not known. */
typedef struct tu_plan_contact {
    double u, v;
} tu_plan_contact;

/*
 *   drawn    the axis was touched.
 *   edge     the target has a face across this axis; else sign is a stand-in.
 *   contact  [0] on a wall; [0] and [1] at the low and the high side of a bore.
 *   centre   of the bore, by the plate's numbers.
 *   radius, bore_radius  NaN: not known.
 *   slab_in, slab_out    the plate, from over the stock to outside.
 *   stock_in, stock_out  the stock: from where it is broken off to its face.
 *   out      beyond this lie only dimensions; rows_end: and there they end.
 *   text_in  so far over the stock reach the texts of its dimensions.
 */
typedef struct tu_plan_axis {
    bool drawn, edge, bore, inward;
    int sign, wall;
    tu_plan_contact contact[2];
    double offset, radius, bore_radius, centre;
    double slab_in, slab_out, stock_in, stock_out, out, rows_end, text_in;
} tu_plan_axis;

typedef struct tu_plan {
    double scale;
    double turn_rad; /* as drawn */
    double turn_factor;
    bool skewed;
    bool along_free; /* a contact is not drawn where along its wall it was, or that is not known */
    bool bed;        /* the plate sits on the bed */
    double tip_radius;   /* of the cutter, where only Z was touched; NaN */
    tu_plan_contact tip; /* and where it is drawn, along the outward directions of X and Y */
    tu_plan_axis axis[2];
    tu_svg_point origin; /* the zero, on paper */
} tu_plan;

/* Everything at the largest scale that fits the window. */
tu_plan tu_plan_lay_out(const tu_zero_result *result, tu_svg_box window);

/* A place of the stock's frame on paper, and the direction of an axis's u. */
tu_svg_point tu_plan_spot(const tu_plan *plan, int axis, double u, double v);
tu_svg_point tu_plan_outward(const tu_plan *plan, int axis);
/* The turn of level text, as SVG counts it. */
double tu_plan_turn_deg(const tu_plan *plan);
bool tu_plan_is_z_only(const tu_plan *plan);

/* The contacts and their dimensions (drawing_contact.c). */
void tu_plan_draw_contacts(tu_drawing *drawing, const tu_plan *plan);
void tu_plan_draw_dimensions(tu_drawing *drawing, const tu_plan *plan);
void tu_plan_draw_angle(tu_drawing *drawing, const tu_plan *plan);

/* --- The parts of the sheet, each in its window --- */
/* Returns the plan as laid out, for the details. */
tu_plan tu_drawing_plan(tu_drawing *drawing, tu_svg_box window);
/* Enlarged details of the contacts that came out too small in the plan; returns their number. */
size_t tu_drawing_details(tu_drawing *drawing, tu_svg_box window, const tu_plan *plan);
void tu_drawing_legend(tu_drawing *drawing, tu_svg_box window);
void tu_drawing_title_block(tu_drawing *drawing, tu_svg_box window);

#endif
