/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_dimension.c - dimensions after ISO 129-1: thin lines, filled arrow heads, the number
 * above the line or, where the arrows leave no room, beside it; read from below or from the right.
 */
#include "report/drawing/drawing.h"

#include <math.h>

#define HEAD_MM  2.5
#define TAIL_MM  5.0  /* of an arrow that points inward from outside */
#define LEAST_MM 0.02 /* a shorter one is no dimension */
#define GAP_MM   1.0  /* between the part and its extension line, and past the dimension line */

static double aside_length(const char *text)
{
    return TAIL_MM + 1 + tu_svg_text_width(text, TU_DRAWING_TEXT_MM);
}

static void draw_extension(tu_drawing *drawing, tu_svg_point from, tu_svg_point end)
{
    double length = tu_drawing_distance(from, end);
    if (length < 2 * GAP_MM)
        return;
    tu_svg_point along = tu_drawing_direction(from, end, (tu_svg_point){0, 0});
    tu_svg_line(&drawing->svg, NULL, "thin", from, tu_drawing_add(end, along, GAP_MM));
}

/* Reading direction: left to right, or upwards for a line that stands upright. */
static tu_svg_point reading(tu_svg_point along)
{
    bool back = along.x_mm < -0.26 || (along.x_mm < 0.26 && along.y_mm > 0);
    return back ? (tu_svg_point){-along.x_mm, -along.y_mm} : along;
}

/* Whether the number stands beside the dimension line's end; from then on the line carries it. */
static bool is_beside(const tu_drawing_dimension *d)
{
    double width = tu_svg_text_width(d->text, TU_DRAWING_TEXT_MM);
    return d->level || tu_drawing_distance(d->a, d->b) < width + 1;
}

void tu_drawing_dimension_lines(tu_drawing *drawing, const tu_drawing_dimension *d)
{
    double length = tu_drawing_distance(d->a, d->b);
    tu_svg_point along = tu_drawing_direction(d->a, d->b, (tu_svg_point){0, 0});
    tu_svg_point back = {-along.x_mm, -along.y_mm};
    if (!(length > LEAST_MM))
        return;
    draw_extension(drawing, d->from_a, d->a);
    draw_extension(drawing, d->from_b, d->b);
    bool inside = length >= 2 * HEAD_MM + 1;
    double tail_a = inside ? 0 : TAIL_MM;
    double tail_b = inside ? 0 : TAIL_MM;
    if (is_beside(d) && !d->level)
        *(d->aside == TU_ASIDE_A ? &tail_a : &tail_b) = aside_length(d->text);
    tu_svg_line(&drawing->svg, NULL, "thin", tu_drawing_add(d->a, along, -tail_a),
                tu_drawing_add(d->b, along, tail_b));
    tu_drawing_head(drawing, d->a, inside ? back : along);
    tu_drawing_head(drawing, d->b, inside ? along : back);
}

/* The middle of the number, on the dimension line or, for a level one, to its left or right. */
static tu_svg_point text_place(const tu_drawing_dimension *d, double width)
{
    double length = tu_drawing_distance(d->a, d->b);
    tu_svg_point along = tu_drawing_direction(d->a, d->b, (tu_svg_point){0, 0});
    tu_svg_point middle = tu_drawing_add(d->a, along, length / 2);
    if (d->level)
        middle = (tu_svg_point){
            middle.x_mm + (d->aside == TU_ASIDE_A ? -1 : 1) * (width / 2 + 1.5),
            fmin(middle.y_mm, fmax(d->a.y_mm, d->b.y_mm) - 2.6)}; /* clear of the line below */
    else if (is_beside(d))
        middle = d->aside == TU_ASIDE_A ? tu_drawing_add(d->a, along, -TAIL_MM - width / 2)
                                        : tu_drawing_add(d->b, along, TAIL_MM + width / 2);
    return middle;
}

void tu_drawing_dimension_text(tu_drawing *drawing, const tu_drawing_dimension *d)
{
    double width = tu_svg_text_width(d->text, TU_DRAWING_TEXT_MM);
    if (!(tu_drawing_distance(d->a, d->b) > LEAST_MM))
        return;
    tu_svg_point along = tu_drawing_direction(d->a, d->b, (tu_svg_point){0, 0});
    tu_svg_point read = d->level ? (tu_svg_point){1, 0} : reading(along);
    tu_svg_point down = tu_drawing_normal(read);
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, TU_SVG_MIDDLE,
                               atan2(read.y_mm, read.x_mm) * 180 / M_PI, NULL};
    tu_svg_point centre = tu_drawing_add(text_place(d, width), down, d->level ? 0 : -2.3);
    tu_drawing_label(drawing, centre, style, d->text);
    if (d->not_to_scale) {
        tu_svg_point under = tu_drawing_add(centre, down, 1.9);
        tu_svg_line(&drawing->svg, NULL, "thin", tu_drawing_add(under, read, -width / 2),
                    tu_drawing_add(under, read, width / 2));
    }
}
