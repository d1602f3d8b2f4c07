/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_zero_svg.c - the set-up drawn: one A4 page, a plan, a side view, a title block.
 * docs/drawing.md tells what each line and symbol means.
 */
#include "report/drawing/page.h"
#include "report/figure.h"
#include "report/zero/drawing_plan.h"
#include "report/zero/drawing_side.h"

#include <math.h>
#include <stdio.h>

static const tu_svg_box frame = TU_PAGE_FRAME;
#define SIDE_TOP_MM  164.0
#define TITLE_TOP_MM 232.0
#define KEY_LEFT_MM  146.0

static size_t append(char *text, size_t size, size_t used, const char *piece)
{
    int written = snprintf(text + used, size - used, "%s", piece);
    return written < 0 || (size_t)written >= size - used ? size - 1 : used + (size_t)written;
}

/* One axis of the description: "X 109.525 plus or minus 0.012". */
static size_t describe_axis(const tu_drawing *drawing, int axis, char *text, size_t size,
                            size_t used)
{
    const tu_axis_zero *zero = &drawing->result->axis[axis];
    tu_unit unit = drawing->style->unit;
    char piece[512];
    if (!zero->asked || !isfinite(zero->zero_mm))
        return used;
    tu_figure margin = tu_figure_expanded(unit, zero->uncertainty.expanded_mm);
    snprintf(piece, sizeof piece, " %c %s%s%s.", tu_axis_letter((tu_axis)axis),
             tu_figure_place(unit, zero->zero_mm).text, margin.text[0] ? " plus or minus " : "",
             margin.text);
    used = append(text, size, used, piece);
    if (axis == TU_AXIS_Z || !isfinite(zero->offset_mm))
        return used;
    tu_figure offset = tu_drawing_length(drawing, fabs(zero->offset_mm));
    const char *where = zero->offset_mm < 0 ? "over the stock" : "outside of the stock";
    if (zero->bore)
        snprintf(piece, sizeof piece, " Touched on both sides of the bore, its centre %s %s.",
                 offset.text, where);
    else
        snprintf(piece, sizeof piece, " Touched on wall %c, its face %s %s, looking %s.",
                 zero->wall == 1 ? 'b' : 'a', offset.text, where,
                 zero->facing == TU_FACES_INWARD ? "back over the stock" : "away from the stock");
    return append(text, size, used, piece);
}

static void describe(const tu_drawing *drawing, char *text, size_t size)
{
    const tu_zero_result *result = drawing->result;
    char piece[512];
    snprintf(piece, sizeof piece,
             "Workshop drawing of a set-up: a plan from above, with the front of the machine at "
             "the bottom of the page, and a side view. Plate %s sits on the %s. Work zero %s in "
             "%s, in %s:",
             result->plate_name, result->seat == TU_SEAT_BED ? "bed" : "stock",
             tu_target_name(result->target), tu_slot_name(drawing->style->slot),
             tu_unit_name(drawing->style->unit));
    size_t used = append(text, size, 0, piece);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        used = describe_axis(drawing, axis, text, size, used);
}

static void draw_frame(tu_svg *svg)
{
    tu_svg_rectangle(svg, "frame", "thick", frame);
    tu_svg_stroke(svg, "thin", frame.left, SIDE_TOP_MM, frame.right, SIDE_TOP_MM);
    tu_svg_stroke(svg, "thick", frame.left, TITLE_TOP_MM, frame.right, TITLE_TOP_MM);
    tu_svg_stroke(svg, "thin", KEY_LEFT_MM, SIDE_TOP_MM, KEY_LEFT_MM, TITLE_TOP_MM);
}

tu_status tu_report_zero_svg(FILE *out, const tu_zero_result *result, const tu_zero_style *style,
                             tu_error *error)
{
    tu_drawing drawing = {.result = result, .style = style};
    char title[128], desc[2048];
    snprintf(title, sizeof title, "Work zero %s, %s", tu_target_name(result->target),
             tu_slot_name(style->slot));
    describe(&drawing, desc, sizeof desc);
    tu_svg_open(&drawing.svg, out, (tu_svg_point)TU_PAGE_A4, tu_drawing_css, title, desc);
    draw_frame(&drawing.svg);
    tu_svg_box plan_window = {frame.left + 2, frame.top + 2, frame.right - 2, SIDE_TOP_MM - 1};
    tu_plan plan = tu_drawing_plan(&drawing, plan_window);
    tu_drawing_side(&drawing, (tu_svg_box){frame.left + 2, SIDE_TOP_MM + 1.5, KEY_LEFT_MM - 2,
                                           TITLE_TOP_MM - 1});
    tu_svg_box key = {KEY_LEFT_MM + 2, SIDE_TOP_MM + 1.5, frame.right - 2, TITLE_TOP_MM - 1};
    tu_drawing_details(&drawing, key, &plan);
    tu_drawing_legend(&drawing, key);
    tu_drawing_title_block(&drawing,
                           (tu_svg_box){frame.left, TITLE_TOP_MM, frame.right, frame.bottom});
    return tu_svg_close(&drawing.svg, error);
}
