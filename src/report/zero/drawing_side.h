/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_side.h - where everything lies in the side view (internal).
 *
 * Along the page runs u, outward of the face across the view's axis, in millimetres of paper from
 * the zero; up the page runs height, real millimetres above the bed, mapped to paper.
 */
#ifndef TRUEUP_REPORT_DRAWING_SIDE_H
#define TRUEUP_REPORT_DRAWING_SIDE_H

#include "report/drawing/drawing.h"

/*
 *   axis        0: seen from the front; 1: from the right.
 *   z           the Z touch is shown; else the touch on the wall.
 *   broken, stretched  the stock is drawn lower, or higher, than to scale.
 *   stock_known        its thickness is a number.
 *   ..._mm      real, above the bed.
 *   keep_mm     up to here heights are to scale even where the stock is broken.
 */
typedef struct tu_side {
    int axis, sign;
    bool z, edge, bed, bore, wall, inward;
    double scale;
    bool stock_known, broken, stretched;
    double stock_mm, keep_mm, stock_paper;
    double seat_mm, top_mm, tip_mm, zero_mm; /* of the plate's seat and face, the tip, the zero */
    double wall_top_mm, lip_paper;
    double offset, radius, reach, bore_low, bore_high; /* paper */
    double tip_u, slab_in, slab_out, stock_in, stock_out, left, right;
    double stock_u;      /* where the dimension of its thickness stands */
    double depth_mm;     /* NaN: not known */
    tu_svg_point origin; /* the stock's edge at the bed */
} tu_side;

/* The whole view. */
void tu_drawing_side(tu_drawing *drawing, tu_svg_box window);

tu_side tu_side_lay_out(const tu_zero_result *result, tu_svg_box window);
tu_svg_point tu_side_spot(const tu_side *side, double u, double height_mm);

/* The cutter standing with its tip there, up to the page height of top_mm (drawing_cutter.c). */
void tu_drawing_cutter(tu_drawing *drawing, tu_svg_point tip, double radius, double scale,
                       double top);

#endif
