/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_sheet.c - around the views of a set-up: the title block in words, and the key to the
 * symbols.
 */
#include "report/figure.h"
#include "report/zero/drawing_plan.h"

#include <math.h>
#include <stdio.h>

#define ROW_MM 4.8
#define PAD_MM 2.0

static const char *const column_names[] = {
    "", "work zero", "± (95 %)", "touched at", "offset; plate", "cutter radius", "stock adds"};
static const double column_ends[] = {8, 36, 58, 86, 114, 144, 174};
enum { COLUMNS = sizeof column_ends / sizeof column_ends[0] };

static void axis_row(tu_drawing *drawing, tu_svg_box box, double y, int axis)
{
    const tu_axis_zero *zero = &drawing->result->axis[axis];
    tu_unit unit = drawing->style->unit;
    bool z = axis == TU_AXIS_Z;
    double values[COLUMNS] = {NAN,
                              zero->zero_mm,
                              zero->uncertainty.expanded_mm,
                              zero->touch_mm,
                              z ? zero->thickness_mm : zero->offset_mm,
                              z || zero->bore ? NAN : zero->effective_radius_mm,
                              z ? zero->stock_mm : NAN};
    char letter[2] = {tu_axis_letter((tu_axis)axis), '\0'};
    tu_drawing_note(drawing, box.left + PAD_MM, y, TU_SVG_START, "strong", letter);
    if (!zero->asked) {
        tu_drawing_note(drawing, box.left + column_ends[0] + 2, y, TU_SVG_START, NULL,
                        "not asked for");
        return;
    }
    for (int i = 1; i < COLUMNS; i++) {
        bool expanded = i == 2, known = expanded ? values[i] > 0 : isfinite(values[i]);
        tu_figure figure = (expanded ? tu_figure_expanded : tu_figure_place)(unit, values[i]);
        tu_drawing_note(drawing, box.left + column_ends[i], y, TU_SVG_END, i == 1 ? "strong" : NULL,
                        known      ? figure.text
                        : expanded ? "unknown"
                                   : "–");
    }
}

static double zero_table(tu_drawing *drawing, tu_svg_box box, double y)
{
    for (int i = 1; i < COLUMNS; i++)
        tu_drawing_note(drawing, box.left + column_ends[i], y, TU_SVG_END, NULL, column_names[i]);
    tu_svg_stroke(&drawing->svg, "thin", box.left, y + 1.5, box.right, y + 1.5);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        axis_row(drawing, box, y + ROW_MM * (axis + 1), axis);
    y += ROW_MM * TU_AXIS_COUNT + 1.5;
    tu_svg_stroke(&drawing->svg, "thin", box.left, y, box.right, y);
    return y;
}

static const char *const shape_words[] = {"flat", "ball", "bull nose", "vee"};

static void cutter_words(const tu_drawing *drawing, char *text, size_t size)
{
    const tu_zero_result *result = drawing->result;
    if (result->cutter_name[0] == '\0' && !isfinite(result->cutter_diameter_mm)) {
        snprintf(text, size, "none named");
        return;
    }
    snprintf(text, size, "%s, %s, diameter %s", result->cutter_name,
             shape_words[result->cutter_shape],
             tu_drawing_length(drawing, result->cutter_diameter_mm).text);
}

static void setting_words(const tu_drawing *drawing, char *text, size_t size)
{
    const tu_zero_result *result = drawing->result;
    char skew[TU_DRAWING_TEXT_SIZE] = "";
    if (result->skew.known)
        snprintf(skew, sizeof skew, "; the stock is turned by %s, its X edge towards Y%s",
                 tu_drawing_degrees(fabs(result->skew.angle_rad)).text,
                 result->skew.angle_rad < 0 ? "-" : "+");
    int z = result->target.outward[TU_AXIS_Z];
    snprintf(text, size, "the plate sits on the %s%s%s",
             result->seat == TU_SEAT_BED ? "bed" : "stock",
             z > 0   ? "; Z zero at the top of the stock"
             : z < 0 ? "; Z zero at the bottom, on the bed"
                     : "",
             skew);
}

void tu_drawing_title_block(tu_drawing *drawing, tu_svg_box box)
{
    char text[256];
    tu_svg *svg = &drawing->svg;
    tu_svg_group_open(svg, "title-block");
    snprintf(text, sizeof text, "work zero %s", tu_target_name(drawing->result->target));
    tu_svg_write(svg, box.left + PAD_MM, box.top + 6, 5, TU_SVG_START, "strong", text);
    tu_svg_write(svg, box.right - PAD_MM, box.top + 6, 5, TU_SVG_END, "strong",
                 tu_slot_name(drawing->style->slot));
    tu_drawing_note(drawing, box.left + 136, box.top + 6, TU_SVG_END, NULL,
                    drawing->style->unit == TU_UNIT_INCH ? "all lengths in inches"
                                                         : "all lengths in mm");
    tu_svg_stroke(&drawing->svg, "thin", box.left, box.top + 8.5, box.right, box.top + 8.5);
    double y = zero_table(drawing, box, box.top + 12.4) + 4;
    tu_drawing_named_row(drawing, box, y, "plate", drawing->result->plate_name);
    cutter_words(drawing, text, sizeof text);
    tu_drawing_named_row(drawing, box, y + ROW_MM, "cutter", text);
    setting_words(drawing, text, sizeof text);
    tu_drawing_named_row(drawing, box, y + 2 * ROW_MM, "set-up", text);
    size_t warnings = drawing->result->warnings.count;
    if (warnings > 0)
        snprintf(text, sizeof text, "%zu, read %s in the text report before trusting this zero",
                 warnings, warnings == 1 ? "it" : "them");
    tu_drawing_named_row(drawing, box, y + 3 * ROW_MM, "warnings", warnings > 0 ? text : "none");
    tu_drawing_named_row(
        drawing, box, y + 4 * ROW_MM, "before cutting",
        "spindle off, plate and clip away: go to the zero above the stock and look; the "
        "machine's manual comes first");
    tu_svg_group_close(svg);
}

/* --- The key --- */

static void key_zero(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_point triangle[3] = {{x + 2, y + 1.4}, {x + 5.6, y + 1.4}, {x + 3.8, y - 1.6}};
    tu_svg_polygon(&drawing->svg, NULL, "zero", triangle, 3);
    tu_svg_circle(&drawing->svg, NULL, css, (tu_svg_point){x + 8.4, y}, 1.4);
}

static void key_plate(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_rectangle(&drawing->svg, NULL, css, (tu_svg_box){x, y - 1.4, x + 10, y + 1.4});
}

void tu_drawing_legend(tu_drawing *drawing, tu_svg_box window)
{
    static const tu_drawing_key keys[] = {
        {tu_drawing_key_dot, "touch", "touch: cutter meets plate"},
        {tu_drawing_key_travel, "travel", "way to the touch"},
        {key_zero, "zeroring", "work zero"},
        {tu_drawing_key_line, "face", "touched face"},
        {tu_drawing_key_edge, "thick", "stock's edge; hidden"},
        {tu_drawing_key_line, "axis", "centre line"},
        {key_plate, "plate", "plate; its size is not known"},
    };
    enum { KEYS = sizeof keys / sizeof keys[0] };
    tu_svg_group_open(&drawing->svg, "key");
    tu_drawing_keys(
        drawing,
        (tu_drawing_key_rows){window.left, window.bottom - 3 - 4.3 * (KEYS - 1), 4.3, 2.7, 1}, keys,
        KEYS);
    tu_svg_group_close(&drawing->svg);
}
