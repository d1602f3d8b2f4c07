/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_zero_checks.c - what to check on the table before a zero is trusted, for this set-up.
 */
#include "report/figure.h"
#include "report/zero/zero_words.h"

static bool side_asked(const tu_zero_result *result)
{
    return result->axis[TU_AXIS_X].asked || result->axis[TU_AXIS_Y].asked;
}

/* "wall a on the left edge, touched moving X+": the cutter travels against the face's normal. */
static void write_wall(FILE *out, const tu_zero_result *result, tu_axis axis)
{
    const tu_axis_zero *zero = &result->axis[axis];
    int travel = -zero->outward * (int)zero->facing;
    fprintf(out, "      %c: wall %c at the %s edge, touched moving %c%c\n", tu_axis_letter(axis),
            "ab"[zero->wall == 1], tu_face_name(axis, zero->outward), tu_axis_letter(axis),
            travel > 0 ? '+' : '-');
}

static void write_bore(FILE *out, const tu_zero_result *result, tu_axis axis,
                       const tu_zero_style *style)
{
    const tu_axis_zero *zero = &result->axis[axis];
    double offset_mm = zero->offset_mm;
    fprintf(out, "      %c: bore's centre %s %s %s the %s edge\n", tu_axis_letter(axis),
            tu_figure_place(style->unit, offset_mm < 0 ? -offset_mm : offset_mm).text,
            tu_unit_name(style->unit), offset_mm < 0 ? "inside" : "outside",
            tu_face_name(axis, zero->outward));
}

static void write_plate(FILE *out, const tu_zero_result *result, const tu_zero_style *style)
{
    fprintf(out, "  [ ] Plate %s lay flat on the %s, no chips under it", result->plate_name,
            result->seat == TU_SEAT_BED ? "bed" : "stock");
    if (!side_asked(result)) {
        fputs(".\n", out);
        return;
    }
    fputs(", snug at the edges:\n", out);
    for (int axis = 0; axis < 2; axis++) {
        if (!result->axis[axis].asked)
            continue;
        if (result->axis[axis].bore)
            write_bore(out, result, (tu_axis)axis, style);
        else
            write_wall(out, result, (tu_axis)axis);
    }
}

static void write_cutter(FILE *out, const tu_zero_result *result, const tu_zero_style *style)
{
    bool z = result->axis[TU_AXIS_Z].asked;
    if (side_asked(result) && *result->cutter_name)
        fprintf(out, "  [ ] Cutter %s (%s %s) made every touch%s.\n", result->cutter_name,
                tu_figure_place(style->unit, result->cutter_diameter_mm).text,
                tu_unit_name(style->unit), z ? " and has not moved since" : "");
    else if (z)
        fputs("  [ ] The cutter that touched has not moved in its collet since.\n", out);
}

void tu_zero_write_checks(FILE *out, const tu_zero_result *result, const tu_zero_style *style)
{
    bool inch = style->unit == TU_UNIT_INCH;
    fputs("\nBefore you trust it:\n"
          "  [ ] The spindle is off and cannot start while hands are near.\n",
          out);
    write_plate(out, result, style);
    write_cutter(out, result, style);
    if (result->active)
        fputs("  [ ] The offset given as active was active when you read the touches.\n", out);
    fputs("  [ ] No G92 offset and no tool length offset is active, or you allow for it:\n"
          "      both move the zero as well.\n",
          out);
    fprintf(out, "  [ ] The line leaves the controller in %s (%s); a job in %s must say %s.\n",
            inch ? "inches" : "mm", inch ? "G20" : "G21", inch ? "mm" : "inches",
            inch ? "G21" : "G20");
    fputs("  [ ] Plate and clip are off the machine before anything cuts.\n", out);
    bool x = result->axis[TU_AXIS_X].asked, y = result->axis[TU_AXIS_Y].asked;
    if (x || y)
        fprintf(out, "  [ ] High above the stock, go to %s%s%s of %s: is it the %s?\n",
                x ? "X0" : "", x && y ? " " : "", y ? "Y0" : "", tu_slot_name(style->slot),
                x && y ? "corner you mean" : "edge you mean");
    else
        fprintf(out, "  [ ] Go to Z0 of %s slowly from high above, hand near the stop.\n",
                tu_slot_name(style->slot));
    fputs("Your machine's manual and the people who trained you come first.\n", out);
}
