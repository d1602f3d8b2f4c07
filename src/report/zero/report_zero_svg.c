/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_zero_svg.c - the set-up drawn: one A4 page, a plan, a side view, a title block.
 * docs/drawing.md tells what each line and symbol means.
 */
#include "report/figure.h"
#include "report/zero/drawing_plan.h"

#include <math.h>
#include <stdio.h>

/*
 * The colours of touch and zero are "vermillion" and a darkened "blue" of M. Okabe and K. Ito,
 * "Color Universal Design" (2008), which people with any colour vision tell apart; dot and triangle
 * do so in grey.
 */
const char tu_drawing_css[] =
    ".page,.paper{fill:#fff;stroke:none}\n"
    "text{font-family:sans-serif;fill:#000}\n"
    ".strong{font-weight:bold}\n"
    ".thick,.face,.thin,.hidden,.axis,.travel,.zeroline,.zeroring{fill:none;stroke:#000;"
    "stroke-linejoin:round}\n"
    ".thick{stroke-width:0.5}\n"
    ".face{stroke-width:0.9}\n"
    ".thin{stroke-width:0.25}\n"
    ".hidden{stroke-width:0.25;stroke-dasharray:2 0.9}\n"
    ".axis{stroke-width:0.25;stroke-dasharray:5 0.8 0.4 0.8}\n"
    ".head{fill:#000;stroke:none}\n"
    ".stock{fill:#f1efe9;stroke:none}\n"
    ".plate{fill:#dcdcdc;stroke:#000;stroke-width:0.25}\n"
    ".wall{fill:#b4b4b4;stroke:none}\n"
    ".bore{fill:#fff;stroke-width:0.5}\n"
    ".cutter{fill:#fff;fill-opacity:0.6;stroke:#000;stroke-width:0.5}\n"
    ".touch{fill:#d55e00;stroke:none}\n"
    ".travel{stroke:#d55e00;stroke-width:0.7}\n"
    ".zero{fill:#00507d;stroke:none}\n"
    ".zeroline{stroke:#00507d;stroke-width:0.5}\n"
    ".zeroring{stroke:#00507d;stroke-width:0.8}\n"
    ".zeroframe{fill:#fff;stroke:#00507d;stroke-width:0.5}\n";

/* A4 by ISO 216; frame by ISO 5457: 20 mm for filing on the left, 10 mm elsewhere. */
static const tu_svg_point page = {210, 297};
static const tu_drawing_box frame = {20, 10, 200, 287};
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
    char piece[512], offset[TU_DRAWING_NUMBER_SIZE];
    if (!zero->asked || !isfinite(zero->zero_mm))
        return used;
    tu_figure margin = tu_figure_expanded(unit, zero->uncertainty.expanded_mm);
    snprintf(piece, sizeof piece, " %c %s%s%s.", tu_axis_letter((tu_axis)axis),
             tu_figure_place(unit, zero->zero_mm).text, margin.text[0] ? " plus or minus " : "",
             margin.text);
    used = append(text, size, used, piece);
    if (axis == TU_AXIS_Z || !isfinite(zero->offset_mm))
        return used;
    tu_drawing_format(drawing, fabs(zero->offset_mm), offset, sizeof offset);
    const char *where = zero->offset_mm < 0 ? "over the stock" : "outside of the stock";
    if (zero->bore)
        snprintf(piece, sizeof piece, " Touched on both sides of the bore, its centre %s %s.",
                 offset, where);
    else
        snprintf(piece, sizeof piece, " Touched on wall %c, its face %s %s, looking %s.",
                 zero->wall == 1 ? 'b' : 'a', offset, where,
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
    tu_svg_point corners[4] = {{frame.left, frame.top},
                               {frame.right, frame.top},
                               {frame.right, frame.bottom},
                               {frame.left, frame.bottom}};
    tu_svg_polygon(svg, "frame", "thick", corners, 4);
    tu_svg_line(svg, NULL, "thin", (tu_svg_point){frame.left, SIDE_TOP_MM},
                (tu_svg_point){frame.right, SIDE_TOP_MM});
    tu_svg_line(svg, NULL, "thick", (tu_svg_point){frame.left, TITLE_TOP_MM},
                (tu_svg_point){frame.right, TITLE_TOP_MM});
    tu_svg_line(svg, NULL, "thin", (tu_svg_point){KEY_LEFT_MM, SIDE_TOP_MM},
                (tu_svg_point){KEY_LEFT_MM, TITLE_TOP_MM});
}

tu_status tu_report_zero_svg(FILE *out, const tu_zero_result *result, const tu_zero_style *style,
                             tu_error *error)
{
    tu_drawing drawing = {.result = result, .style = style};
    char title[128], desc[2048];
    snprintf(title, sizeof title, "Work zero %s, %s", tu_target_name(result->target),
             tu_slot_name(style->slot));
    describe(&drawing, desc, sizeof desc);
    tu_svg_open(&drawing.svg, out, page, tu_drawing_css, title, desc);
    draw_frame(&drawing.svg);
    tu_drawing_box plan_window = {frame.left + 2, frame.top + 2, frame.right - 2, SIDE_TOP_MM - 1};
    tu_plan plan = tu_drawing_plan(&drawing, plan_window);
    tu_drawing_side(&drawing, (tu_drawing_box){frame.left + 2, SIDE_TOP_MM + 1.5, KEY_LEFT_MM - 2,
                                               TITLE_TOP_MM - 1});
    tu_drawing_box key = {KEY_LEFT_MM + 2, SIDE_TOP_MM + 1.5, frame.right - 2, TITLE_TOP_MM - 1};
    tu_drawing_details(&drawing, key, &plan);
    tu_drawing_legend(&drawing, key);
    tu_drawing_title_block(&drawing,
                           (tu_drawing_box){frame.left, TITLE_TOP_MM, frame.right, frame.bottom});
    return tu_svg_close(&drawing.svg, error);
}
