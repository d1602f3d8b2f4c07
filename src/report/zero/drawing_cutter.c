/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_cutter.c - the cutter from the side: flat, ball, bull nose or vee.
 *
 * The result holds the cutter's diameter and its effective radius at the touch depth, not the
 * corner radius or the angle of its point. Those are drawn as the effective radius implies, or,
 * where the full radius touched, as such a cutter commonly looks.
 */
#include "report/zero/drawing_side.h"

#include <math.h>

enum { ARC_STEPS = 12, PROFILE_MAX = 2 * (ARC_STEPS + 2) };

/* A side contact above the full radius, which tells of the shape; false: there is none. */
static bool find_partial_contact(const tu_zero_result *result, double *depth_mm, double *radius_mm)
{
    for (int axis = 0; axis < 2; axis++) {
        const tu_axis_zero *zero = &result->axis[axis];
        if (zero->asked && zero->depth_mm > 0 && zero->profile_radius_mm > 0 &&
            zero->profile_radius_mm < result->cutter_diameter_mm / 2 - 1e-6) {
            *depth_mm = zero->depth_mm;
            *radius_mm = zero->profile_radius_mm;
            return true;
        }
    }
    return false;
}

/* Paper: the height over which the profile rounds, and for a vee where it reaches full radius. */
static double nose_height(const tu_zero_result *result, double radius, double scale)
{
    double depth = NAN, reach = NAN;
    bool partial = find_partial_contact(result, &depth, &reach);
    switch (result->cutter_shape) {
    case TU_CUTTER_BALL:
        return radius;
    case TU_CUTTER_BULL: {
        if (!partial)
            return radius * 0.35;
        /* From r = R - c + sqrt(h (2 c - h)), the root with c above h. */
        double lost = radius / scale - reach;
        return fmin(radius, (lost + depth + sqrt(2 * lost * depth)) * scale);
    }
    case TU_CUTTER_VEE:
        return partial ? radius * depth / reach : radius * 1.2;
    case TU_CUTTER_FLAT:
        break;
    }
    return 0;
}

static size_t half_profile(const tu_zero_result *result, double radius, double scale,
                           tu_svg_point *points)
{
    double nose = nose_height(result, radius, scale);
    size_t count = 0;
    if (result->cutter_shape == TU_CUTTER_VEE) {
        points[count++] = (tu_svg_point){0, 0};
        points[count++] = (tu_svg_point){radius, nose};
        return count;
    }
    for (int i = 0; i <= (nose > 0 ? ARC_STEPS : 0); i++) {
        double angle = M_PI / 2 * i / ARC_STEPS;
        points[count++] =
            (tu_svg_point){radius - nose + nose * sin(angle), nose * (1 - cos(angle))};
    }
    return count;
}

void tu_drawing_cutter(tu_drawing *drawing, tu_svg_point tip, double radius, double scale,
                       double top)
{
    tu_svg_point half[ARC_STEPS + 2], outline[PROFILE_MAX + 2];
    size_t count = half_profile(drawing->result, radius, scale, half), used = 0;
    outline[used++] = (tu_svg_point){tip.x_mm + radius, top};
    for (size_t i = count; i > 0; i--)
        outline[used++] = (tu_svg_point){tip.x_mm + half[i - 1].x_mm, tip.y_mm - half[i - 1].y_mm};
    for (size_t i = 0; i < count; i++)
        outline[used++] = (tu_svg_point){tip.x_mm - half[i].x_mm, tip.y_mm - half[i].y_mm};
    outline[used++] = (tu_svg_point){tip.x_mm - radius, top};
    tu_svg_polygon(&drawing->svg, NULL, "paper", outline, used);
    tu_svg_polyline(&drawing->svg, "cutter", "thick", outline, used);
    tu_drawing_break(drawing, outline[used - 1], outline[0]);
    tu_svg_stroke(&drawing->svg, "axis", tip.x_mm, top - 3, tip.x_mm, tip.y_mm + 2);
}
