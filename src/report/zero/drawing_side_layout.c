/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_side_layout.c - the side view measured from the result, and laid out on paper.
 *
 * The tip is placed by where it was at contact, the plate's face by the zero, the plate's thickness
 * and the stock's: neither from the other, so that a wrong sign leaves them apart.
 */
#include "report/zero/drawing_side.h"

#include <math.h>

#define STOCK_LEAST_MM    6.0
#define STOCK_MOST_MM     21.0
#define STOCK_UNKNOWN_MM  16.0
#define PLATE_MOST_MM     15.0
#define PLATE_UNKNOWN_MM  11.0
#define DEPTH_MOST_MM     11.0
#define RADIUS_MOST_MM    12.0
#define RADIUS_UNKNOWN_MM 3.0
#define FENCE_MM          5.0
#define PLATE_LEAST_MM    5.0
#define BESIDE_MM         4.0 /* a wall farther out stands beside the stock */
#define TEXT_ROOM_MM      34.0
#define GROUND_MM         7.0 /* below the bed line */

static int choose_axis(const tu_zero_result *result)
{
    bool only_y = !result->axis[TU_AXIS_Z].asked && !result->axis[TU_AXIS_X].asked &&
                  result->axis[TU_AXIS_Y].asked;
    return only_y ? TU_AXIS_Y : TU_AXIS_X;
}

static bool has_wall(const tu_axis_zero *zero)
{
    return zero->asked && !zero->bore && isfinite(zero->offset_mm) && isfinite(zero->touch_mm) &&
           isfinite(zero->zero_mm);
}

/* Paper per real millimetre of heights that the result does not tell. */
static void measure_heights(const tu_zero_result *result, tu_side *side)
{
    const tu_axis_zero *z = &result->axis[TU_AXIS_Z];
    double needed = side->z ? fabs(z->stock_mm) : 0;
    double stated = result->stock_size_mm[TU_AXIS_Z];
    double thickness =
        side->z && z->thickness_mm >= 0 ? z->thickness_mm : PLATE_UNKNOWN_MM / side->scale;
    side->stock_known = needed > 0 || stated > 0;
    side->stock_mm = needed > 0          ? needed
                     : side->stock_known ? stated
                                         : STOCK_UNKNOWN_MM / side->scale;
    side->seat_mm = side->bed ? 0 : side->stock_mm;
    side->top_mm = side->seat_mm + thickness;
    side->zero_mm = result->target.outward[TU_AXIS_Z] > 0 ? side->stock_mm : 0;
    side->keep_mm = side->bed ? side->top_mm : 0;
    side->stock_paper = side->stock_mm * side->scale;
    side->broken = !side->stock_known || side->stock_paper > STOCK_MOST_MM;
    if (side->stock_paper > STOCK_MOST_MM)
        side->stock_paper = fmax(STOCK_MOST_MM, side->keep_mm * side->scale + 8);
    side->stretched = !side->bed && side->stock_paper < STOCK_LEAST_MM;
    if (side->stretched)
        side->stock_paper = STOCK_LEAST_MM;
    side->tip_mm = side->zero_mm + z->touch_mm - z->zero_mm;
}

/* Where the Z touch is not shown: the tip beside the wall, or in the bore. */
static void measure_depth(const tu_zero_result *result, tu_side *side)
{
    const tu_axis_zero *zero = &result->axis[side->axis];
    double nominal = 0.6 * PLATE_UNKNOWN_MM / side->scale;
    double depth = zero->depth_mm > 0 ? zero->depth_mm : nominal;
    double room = 3 / side->scale;
    side->depth_mm = zero->depth_mm > 0 ? zero->depth_mm : NAN;
    side->wall_top_mm = side->inward ? side->top_mm + depth + room : side->top_mm;
    side->tip_mm = side->wall_top_mm - depth;
    double below = (side->seat_mm - side->tip_mm) * side->scale + 3;
    side->lip_paper = fmin(fmax(side->lip_paper, below), side->stock_paper - 1);
}

static void measure(const tu_zero_result *result, double scale, tu_side *side)
{
    const tu_axis_zero *zero = &result->axis[side->axis];
    double diameter = result->cutter_diameter_mm;
    side->scale = scale;
    side->radius = diameter > 0 ? diameter / 2 * scale : RADIUS_UNKNOWN_MM;
    side->offset = side->wall || side->bore ? zero->offset_mm * scale : 0;
    if (side->bore) {
        double r = isfinite(zero->implied_diameter_mm) ? zero->implied_diameter_mm / 2
                                                       : side->radius / scale;
        double half = (zero->chord_mm / 2 + r) * scale;
        side->bore_low = side->offset - half;
        side->bore_high = side->offset + half;
    }
    side->lip_paper = 5;
    measure_heights(result, side);
    side->wall_top_mm = side->top_mm + (side->inward ? FENCE_MM / scale : 0);
    if (!side->z)
        measure_depth(result, side);
}

/* How far the plate reaches outward, and where the tip stands, for a plate on the stock. */
static void lay_on_stock(tu_side *side)
{
    double r = side->radius;
    side->slab_out = side->edge ? 4 : r + 12;
    side->tip_u = side->edge ? -(r + 8) : 0;
    if (side->wall) {
        side->slab_out = side->offset + (side->inward ? FENCE_MM : 0);
        side->tip_u = fmin(side->offset, side->inward ? side->offset : 0) - r - 6;
    } else if (side->bore) {
        side->slab_out = fmax(side->bore_high + 6, 4);
        side->tip_u = side->bore_low - r - 4;
    }
    side->slab_in = side->tip_u - r - 9;
    side->stock_in = fmin(side->slab_in - TEXT_ROOM_MM, -20);
    side->stock_u = side->slab_in - 6;
    side->stock_out = side->edge ? 0 : side->slab_out + (side->zero_mm > 0 ? 20 : 4);
    side->left = side->stock_in - 2;
    side->right = fmax(fmax(side->slab_out, side->stock_out) + 22, 24);
}

static void lay_on_bed(tu_side *side)
{
    double r = side->radius;
    side->slab_in = 0;
    side->slab_out = 2 * r + 16;
    if (side->wall && side->offset + (side->inward ? FENCE_MM : 0) > BESIDE_MM)
        side->slab_out = side->offset + (side->inward ? FENCE_MM : 0);
    if (side->bore && side->bore_high > 0)
        side->slab_out = side->bore_high + 2 * r + 8;
    double middle = side->bore ? side->slab_out - r - 4 : side->slab_out / 2;
    side->tip_u = r + 1 <= side->slab_out ? fmax(middle, r + 1) : middle;
    side->stock_in = -TEXT_ROOM_MM - 6;
    side->stock_u = -8;
    side->stock_out = 0;
    side->left = side->stock_in - 2;
    side->right =
        fmax(side->slab_out, side->tip_u + r + 8) + TEXT_ROOM_MM + (side->zero_mm > 0 ? 0 : 12);
}

static void lay(const tu_zero_result *result, double scale, tu_side *side)
{
    measure(result, scale, side);
    if (side->bed)
        lay_on_bed(side);
    else
        lay_on_stock(side);
    if (side->z)
        return;
    const tu_axis_zero *zero = &result->axis[side->axis];
    double contact = side->bore ? zero->low_mm : zero->touch_mm;
    side->tip_u = side->sign * (contact - zero->zero_mm) * scale;
    side->reach = zero->effective_radius_mm * scale;
    if (!side->bed) {
        double in = fmin(side->offset, side->tip_u - side->radius) - 8;
        side->slab_in = side->bore ? side->bore_low - 8 : fmin(in, -8);
        if (side->inward)
            side->slab_in = fmin(side->slab_in, side->tip_u - side->radius - 20);
        side->stock_in = fmin(side->slab_in - 30, -34);
        side->left = side->stock_in - 2;
    }
    side->right = fmax(side->right, side->tip_u + side->radius + 34);
    side->left = fmin(side->left, side->tip_u - side->radius - 34);
    double behind = side->tip_u - side->radius - (side->inward ? 32 : 4);
    side->stock_u = fmin(behind, fmin(-6, side->bed ? -6 : side->slab_in - 4));
    side->stock_in = fmin(side->stock_in, side->stock_u - TEXT_ROOM_MM + 6);
    side->left = fmin(side->left, side->stock_in - 2);
}

static bool fits(const tu_side *side, double width)
{
    double plate = (side->top_mm - side->seat_mm) * side->scale;
    return side->right - side->left <= width && side->radius <= RADIUS_MOST_MM &&
           plate <= PLATE_MOST_MM + 1e-9 && !(side->depth_mm * side->scale > DEPTH_MOST_MM);
}

tu_svg_point tu_side_spot(const tu_side *side, double u, double height_mm)
{
    double up = height_mm * side->scale;
    if (height_mm > side->keep_mm && (side->broken || side->stretched)) {
        double kept = side->keep_mm * side->scale;
        double part = (side->stock_paper - kept) / (side->stock_mm - side->keep_mm);
        up = height_mm >= side->stock_mm
                 ? side->stock_paper + (height_mm - side->stock_mm) * side->scale
                 : kept + (height_mm - side->keep_mm) * part;
    }
    return (tu_svg_point){side->origin.x_mm + side->sign * u, side->origin.y_mm - up};
}

static tu_side start(const tu_zero_result *result, bool plain)
{
    tu_side side = {.axis = choose_axis(result), .depth_mm = NAN};
    const tu_axis_zero *zero = &result->axis[side.axis];
    int outward = result->target.outward[side.axis];
    side.z = result->axis[TU_AXIS_Z].asked && isfinite(result->axis[TU_AXIS_Z].touch_mm) &&
             isfinite(result->axis[TU_AXIS_Z].zero_mm);
    side.bed = result->seat == TU_SEAT_BED;
    side.sign = outward != 0 ? outward : 1;
    side.edge = outward != 0 || side.bed;
    side.wall = !plain && has_wall(zero);
    side.bore = !plain && zero->asked && zero->bore && isfinite(zero->low_mm + zero->high_mm);
    side.inward = side.wall && zero->facing == TU_FACES_INWARD;
    return side;
}

static void lay_largest(const tu_zero_result *result, double width, tu_side *side)
{
    for (size_t i = 0; i < tu_drawing_scale_count(); i++) {
        lay(result, tu_drawing_scale_at(i), side);
        if (fits(side, width))
            break;
    }
}

/* A wall far away makes all else too small; a wall over the stock does not stand on the bed. */
static bool is_better_plain(const tu_side *side)
{
    double plate = (side->top_mm - side->seat_mm) * side->scale;
    double outer = side->offset + (side->inward ? FENCE_MM : 0);
    return side->z && (side->wall || side->bore) &&
           (plate < PLATE_LEAST_MM || (side->bed && side->wall && outer <= BESIDE_MM));
}

tu_side tu_side_lay_out(const tu_zero_result *result, tu_svg_box window)
{
    double width = window.right - window.left;
    tu_side side = start(result, false);
    lay_largest(result, width, &side);
    if (is_better_plain(&side)) {
        side = start(result, true);
        lay_largest(result, width, &side);
    }
    double middle = (window.left + window.right) / 2;
    side.origin = (tu_svg_point){middle - side.sign * (side.left + side.right) / 2,
                                 window.bottom - GROUND_MM};
    return side;
}
