/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_side.c - the side view: bed, stock, plate on its seat, the tip on the plate's face; or,
 * where Z was not touched, the cutter beside the wall.
 */
#include "report/zero/drawing_side.h"

#include <math.h>
#include <stdio.h>

static const tu_svg_point up = {0, -1};

static void fill(tu_drawing *drawing, const char *id, const char *css, tu_svg_point a,
                 tu_svg_point b)
{
    tu_svg_rectangle(&drawing->svg, id, css, (tu_svg_box){a.x_mm, a.y_mm, b.x_mm, b.y_mm});
}

/* The bed: a thick line with strokes under it, as ground is drawn. */
static void draw_bed(tu_drawing *drawing, const tu_side *side)
{
    tu_svg_point a = tu_side_spot(side, side->left, 0);
    tu_svg_point b = tu_side_spot(side, side->right, 0);
    /* Sizes beyond every scale would run off the page: no more strokes than it holds. */
    double left = fmax(fmin(a.x_mm, b.x_mm), 0), right = fmin(fmax(a.x_mm, b.x_mm), 210);
    tu_svg_line(&drawing->svg, "bed", "thick", a, b);
    for (double x = left + 3; x <= right; x += 3)
        tu_svg_stroke(&drawing->svg, "thin", x, a.y_mm, x - 2.5, a.y_mm + 2.5);
    tu_svg_text_style style = {TU_DRAWING_NOTE_MM, TU_SVG_MIDDLE, 0, NULL};
    tu_svg_text(&drawing->svg, (tu_svg_point){(left + right) / 2, a.y_mm + 5.8}, &style, "bed");
}

static void draw_stock(tu_drawing *drawing, const tu_side *side)
{
    tu_svg_point low = tu_side_spot(side, side->stock_in, 0);
    tu_svg_point high = tu_side_spot(side, side->stock_out, side->stock_mm);
    fill(drawing, NULL, "stock", low, high);
    tu_drawing_break(drawing, low, (tu_svg_point){low.x_mm, high.y_mm});
    tu_svg_line(&drawing->svg, "stock-top", "thick", (tu_svg_point){low.x_mm, high.y_mm}, high);
    if (side->edge)
        tu_svg_line(&drawing->svg, NULL, "thick", high, (tu_svg_point){high.x_mm, low.y_mm});
    else
        tu_drawing_break(drawing, (tu_svg_point){high.x_mm, low.y_mm}, high);
    if (side->broken) { /* a band left out, at half of what is shown above the plate */
        double kept = side->keep_mm * side->scale;
        double middle = low.y_mm - (kept + side->stock_paper) / 2;
        for (int i = 0; i < 2; i++)
            tu_drawing_break(drawing, (tu_svg_point){low.x_mm, middle + 0.8 - 1.6 * i},
                             (tu_svg_point){high.x_mm, middle + 0.8 - 1.6 * i});
    }
}

static void draw_slab(tu_drawing *drawing, const tu_side *side)
{
    double seat = side->seat_mm;
    tu_svg_point top_in = tu_side_spot(side, side->slab_in, side->top_mm);
    tu_svg_point top_out = tu_side_spot(side, side->slab_out, side->top_mm);
    tu_svg_point seat_out = tu_side_spot(side, side->slab_out, seat);
    tu_svg_point seat_edge = tu_side_spot(side, 0, seat);
    bool lip = !side->bed && side->edge && side->slab_out > 0.5;
    double drop = lip ? side->lip_paper : 0;
    if (!lip)
        seat_edge = seat_out;
    tu_svg_point outline[6] = {top_in,
                               top_out,
                               tu_drawing_add(seat_out, up, -drop),
                               tu_drawing_add(seat_edge, up, -drop),
                               seat_edge,
                               tu_side_spot(side, side->slab_in, seat)};
    tu_svg_polygon(&drawing->svg, "side-plate", "plate", outline, 6);
    if (side->inward) {
        tu_svg_point foot = tu_side_spot(side, side->offset, side->top_mm);
        tu_svg_point head = tu_side_spot(side, side->slab_out, side->wall_top_mm);
        fill(drawing, NULL, "wall", foot, head);
        tu_svg_point fence[4] = {foot, {foot.x_mm, head.y_mm}, head, {head.x_mm, foot.y_mm}};
        tu_svg_polyline(&drawing->svg, NULL, "thin", fence, 4);
        tu_svg_line(&drawing->svg, NULL, "thick", foot, fence[1]);
    } else if (side->wall) {
        tu_svg_line(&drawing->svg, NULL, "thick", top_out, tu_drawing_add(seat_out, up, -drop));
    }
    tu_svg_line(&drawing->svg, "plate-face", side->z ? "face" : "thick", top_in,
                side->inward ? tu_side_spot(side, side->offset, side->top_mm) : top_out);
    for (int i = 0; i < 2 && side->bore; i++) {
        double u = i == 0 ? side->bore_low : side->bore_high;
        tu_svg_line(&drawing->svg, NULL, "hidden", tu_side_spot(side, u, side->top_mm),
                    tu_side_spot(side, u, seat));
    }
}

static void draw_dimension(tu_drawing *drawing, const tu_side *side, double u, double from_u,
                           const double heights_mm[2], const char *word, double real_mm,
                           bool outward, bool broken)
{
    char text[TU_DRAWING_TEXT_SIZE];
    snprintf(text, sizeof text, "%s %s", word, tu_drawing_length(drawing, real_mm).text);
    bool right = outward == (side->sign > 0);
    tu_drawing_dimension d = {.a = tu_side_spot(side, u, heights_mm[0]),
                              .b = tu_side_spot(side, u, heights_mm[1]),
                              .from_a = tu_side_spot(side, from_u, heights_mm[0]),
                              .from_b = tu_side_spot(side, from_u, heights_mm[1]),
                              .aside = right ? TU_ASIDE_B : TU_ASIDE_A,
                              .level = true,
                              .not_to_scale = broken,
                              .text = text};
    tu_drawing_dimension_lines(drawing, &d);
    tu_drawing_dimension_text(drawing, &d);
}

static void draw_heights(tu_drawing *drawing, const tu_side *side)
{
    const tu_axis_zero *z = &drawing->result->axis[TU_AXIS_Z];
    double end = side->bed ? fmax(side->slab_out, side->tip_u + side->radius + 8) : side->slab_in;
    double gap = side->bed ? 1 : -1;
    if (side->z)
        draw_dimension(
            drawing, side, end + 6 * gap, (side->bed ? side->slab_out : side->slab_in) + gap,
            (double[2]){side->seat_mm, side->top_mm}, "plate", z->thickness_mm, side->bed, false);
    if (side->stock_known)
        draw_dimension(drawing, side, side->stock_u, side->stock_u, (double[2]){0, side->stock_mm},
                       "stock", side->stock_mm, false, side->broken || side->stretched);
}

static void draw_zero(tu_drawing *drawing, const tu_side *side)
{
    bool top = side->zero_mm > 0;
    double u = fmax(side->slab_out, 0) + 12;
    if (side->bed)
        u = top ? -14 : side->right - 8;
    else if (!side->edge)
        u = top ? side->slab_out + 11 : side->stock_out + 11;
    tu_svg_point foot = tu_side_spot(side, u, side->zero_mm);
    if (top && !side->bed && side->edge)
        tu_svg_line(&drawing->svg, NULL, "thin",
                    tu_side_spot(side, fmax(side->slab_out, 0) + 1, side->zero_mm),
                    tu_drawing_add(foot, (tu_svg_point){side->sign, 0}, 4));
    tu_drawing_datum(drawing, "datum-z", foot, up, "Z0");
}

static void draw_tip(tu_drawing *drawing, const tu_side *side, double window_top)
{
    tu_svg_point tip = tu_side_spot(side, side->tip_u, side->tip_mm);
    bool outside = side->bed && !side->inward;
    double arrow_u = side->tip_u + (side->radius + 5) * (outside ? 1 : -1);
    double under = arrow_u < 0 ? fmax(side->top_mm, side->stock_mm) : side->top_mm;
    tu_svg_point arrow = tu_side_spot(side, arrow_u, under);
    tu_drawing_cutter(drawing, tip, side->radius, side->scale, window_top + 4);
    tu_svg_line(&drawing->svg, "tip", "thick", tu_drawing_add(tip, (tu_svg_point){-1, 0}, 0.4),
                tu_drawing_add(tip, (tu_svg_point){1, 0}, 0.4));
    tu_drawing_touch(drawing, "contact-z", tip, NAN);
    tu_drawing_travel(drawing, tu_drawing_add(arrow, up, 1.5), (tu_svg_point){0, 1}, "Z-");
}

/* How far the tip reaches below the wall's top edge; normal: of the wall's face, along u. */
static void draw_depth(tu_drawing *drawing, const tu_side *side, int normal)
{
    double u = side->tip_u + normal * (side->radius + 3.5);
    tu_svg_line(&drawing->svg, NULL, "thin", tu_side_spot(side, side->tip_u, side->tip_mm),
                tu_side_spot(side, u + normal, side->tip_mm));
    tu_svg_line(&drawing->svg, NULL, "thin", tu_side_spot(side, side->offset, side->wall_top_mm),
                tu_side_spot(side, u + normal, side->wall_top_mm));
    draw_dimension(drawing, side, u, u, (double[2]){side->tip_mm, side->wall_top_mm}, "depth",
                   side->depth_mm, normal > 0, false);
}

/* The cutter beside the wall, where Z was not touched. */
static void draw_beside(tu_drawing *drawing, const tu_side *side, double window_top)
{
    tu_svg_point tip = tu_side_spot(side, side->tip_u, side->tip_mm);
    tu_svg_point wall_top = tu_side_spot(side, side->offset, side->wall_top_mm);
    bool flat = drawing->result->cutter_shape == TU_CUTTER_FLAT;
    int normal = side->inward ? -1 : 1; /* along u */
    if (side->bore) /* the low side: the wall stands at lower machine coordinates */
        normal = side->sign;
    double reach = isfinite(side->reach) ? side->reach : side->radius;
    tu_svg_point contact = {tip.x_mm - side->sign * normal * reach,
                            flat ? (tip.y_mm + wall_top.y_mm) / 2 : wall_top.y_mm};
    tu_drawing_cutter(drawing, tip, side->radius, side->scale, window_top + 4);
    tu_drawing_touch(drawing, NULL, contact, NAN);
    if (!isnan(side->depth_mm) && !side->bore)
        draw_depth(drawing, side, normal);
    char label[3] = {"XY"[side->axis], side -> sign *normal > 0 ? '-' : '+', '\0'};
    tu_svg_point way = {-side->sign * normal, 0};
    tu_svg_point behind = {tip.x_mm + side->sign * normal * (side->radius + 1.5),
                           fmax(wall_top.y_mm - 7, window_top + 8)};
    tu_drawing_travel(drawing, behind, way, label);
}

void tu_drawing_side(tu_drawing *drawing, tu_svg_box window)
{
    tu_side side = tu_side_lay_out(drawing->result, window);
    char text[TU_DRAWING_TEXT_SIZE];
    bool beside = drawing->result->axis[side.axis].asked;
    tu_svg_group_open(&drawing->svg, "side");
    snprintf(text, sizeof text, "view from the %s, scale %s", side.axis == 1 ? "right" : "front",
             tu_drawing_scale(side.scale).text);
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, TU_SVG_START, 0, "strong"};
    tu_svg_text(&drawing->svg, (tu_svg_point){window.left, window.top + 3}, &style, text);
    window.top += 5;
    draw_bed(drawing, &side);
    draw_stock(drawing, &side);
    draw_slab(drawing, &side);
    draw_heights(drawing, &side);
    if (side.z) {
        draw_tip(drawing, &side, window.top);
        draw_zero(drawing, &side);
    } else if (beside) {
        draw_beside(drawing, &side, window.top);
    }
    tu_svg_group_close(&drawing->svg);
}
