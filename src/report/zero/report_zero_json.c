/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_zero_json.c - a zero as JSON: millimetres and radians, every number so that it reads back
 * as the same double; what is not known is absent, infinite degrees of freedom are null.
 */
#include "report/json.h"
#include "trueup/report.h"

#include <math.h>

static void put_setup(tu_json *json, const tu_zero_result *result, const tu_zero_style *style)
{
    TU_JSON_NUMBERS(json, {"schema", 1});
    tu_json_text(json, "target", tu_target_name(result->target));
    tu_json_text(json, "slot", tu_slot_name(style->slot));
    tu_json_text(json, "unit", "mm");
    tu_json_text(json, "plate", result->plate_name);
    tu_json_text_if_any(json, "cutter", result->cutter_name);
    tu_json_text(json, "seat", result->seat == TU_SEAT_BED ? "bed" : "stock");
}

static void put_zero(tu_json *json, const tu_zero_result *result)
{
    tu_json_object(json, "zero");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (result->axis[axis].asked)
            TU_JSON_NUMBERS(json, {tu_json_axis[axis], result->axis[axis].zero_mm});
    tu_json_end(json);
    tu_json_object(json, "uncertainty");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (result->axis[axis].asked)
            tu_json_uncertainty(json, tu_json_axis[axis], &result->axis[axis].uncertainty);
    tu_json_end(json);
}

/* What is known of the two axes; without one there is no such member. */
static void put_pair(tu_json *json, const char *name, double x, double y)
{
    if (!isnan(x) || !isnan(y))
        TU_JSON_OBJECT_KNOWN(json, name, {"x", x}, {"y", y});
}

/* Radii of the axes that were touched on a wall, chords of those in a bore. */
static void put_contacts(tu_json *json, const tu_axis_zero *zero)
{
    double radius[2], chord[2], diameter[2];
    for (int axis = 0; axis < 2; axis++) {
        bool wall = zero[axis].asked && !zero[axis].bore;
        bool bore = zero[axis].asked && zero[axis].bore;
        radius[axis] = wall ? zero[axis].effective_radius_mm : (double)NAN;
        chord[axis] = bore ? zero[axis].chord_mm : (double)NAN;
        diameter[axis] = bore ? zero[axis].implied_diameter_mm : (double)NAN;
    }
    put_pair(json, "effective_radius", radius[0], radius[1]);
    put_pair(json, "chord", chord[0], chord[1]);
    put_pair(json, "implied_diameter", diameter[0], diameter[1]);
}

static void put_fear(tu_json *json, const tu_fear *fear)
{
    if (!fear->asked)
        return;
    tu_json_object(json, "fear");
    TU_JSON_NUMBERS(json, {"angle", fear->angle_rad});
    put_pair(json, "error", fear->error_mm[0], fear->error_mm[1]);
    put_pair(json, "border", fear->border_mm[0], fear->border_mm[1]);
    put_pair(json, "stock_needed", fear->stock_needed_mm[0], fear->stock_needed_mm[1]);
    tu_json_end(json);
}

tu_status tu_report_zero_json(FILE *out, const tu_zero_result *result, const tu_zero_style *style,
                              tu_error *error)
{
    char line[TU_PROGRAM_LINE_SIZE];
    double rise = result->axis[TU_AXIS_Z].bed_rise_mm;
    tu_json json = tu_json_begin(out);
    put_setup(&json, result, style);
    put_zero(&json, result);
    put_contacts(&json, result->axis);
    if (rise != 0) /* what the map of the bed adds */
        TU_JSON_NUMBERS(&json, {"bed_rise", rise});
    if (result->skew.known)
        TU_JSON_NUMBERS(&json, {"skew", result->skew.angle_rad});
    put_fear(&json, &result->fear);
    bool programmed = tu_report_program_line(line, sizeof line, result, style);
    tu_json_texts(&json, "program", line, sizeof line, programmed);
    tu_json_warnings(&json, &result->warnings);
    return tu_json_finish(&json, error);
}
