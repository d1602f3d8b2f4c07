/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_zero_json.c - a zero as JSON: millimetres and radians, every number so that it reads back
 * as the same double; what is not known is absent, infinite degrees of freedom are null.
 */
#include "report/json_build.h"
#include "trueup/report.h"

#include <math.h>

static const char *axis_name(int axis)
{
    static const char *const names[TU_AXIS_COUNT] = {"x", "y", "z"};
    return names[axis];
}

static bool add_setup(cJSON *root, const tu_zero_result *result, const tu_zero_style *style)
{
    return tu_json_add_number(root, "schema", 1) &&
           tu_json_add_text(root, "target", tu_target_name(result->target)) &&
           tu_json_add_text(root, "slot", tu_slot_name(style->slot)) &&
           tu_json_add_text(root, "unit", "mm") &&
           tu_json_add_text(root, "plate", result->plate_name) &&
           (!*result->cutter_name || tu_json_add_text(root, "cutter", result->cutter_name)) &&
           tu_json_add_text(root, "seat", result->seat == TU_SEAT_BED ? "bed" : "stock");
}

static bool add_zero(cJSON *root, const tu_zero_result *result)
{
    cJSON *zero = tu_json_add(root, "zero", cJSON_CreateObject());
    bool ok = zero != NULL;
    for (int axis = 0; ok && axis < TU_AXIS_COUNT; axis++)
        if (result->axis[axis].asked)
            ok = tu_json_add_number(zero, axis_name(axis), result->axis[axis].zero_mm);
    return ok;
}

static bool add_uncertainty(cJSON *root, const tu_zero_result *result)
{
    cJSON *all = tu_json_add(root, "uncertainty", cJSON_CreateObject());
    bool ok = all != NULL;
    for (int axis = 0; ok && axis < TU_AXIS_COUNT; axis++)
        if (result->axis[axis].asked)
            ok = tu_json_add_uncertainty(all, axis_name(axis), &result->axis[axis].uncertainty);
    return ok;
}

/* Of the axes that were touched on a wall; without one there is no such member. */
static bool add_radius(cJSON *root, const tu_zero_result *result)
{
    cJSON *radius = NULL;
    bool ok = true;
    for (int axis = 0; ok && axis < 2; axis++) {
        const tu_axis_zero *zero = &result->axis[axis];
        if (!zero->asked || zero->bore)
            continue;
        if (!radius)
            radius = tu_json_add(root, "effective_radius", cJSON_CreateObject());
        ok = radius && tu_json_add_number(radius, axis_name(axis), zero->effective_radius_mm);
    }
    return ok;
}

/* What the map of the bed adds; without one there is no such member. */
static bool add_bed_map(cJSON *root, const tu_zero_result *result)
{
    double rise = result->axis[TU_AXIS_Z].bed_rise_mm;
    return rise == 0 || tu_json_add_number(root, "bed_rise", rise);
}

/* Of the axes that were touched in a bore; without one there is no such member. */
static bool add_chord(cJSON *root, const tu_zero_result *result)
{
    cJSON *chord = NULL, *diameter = NULL;
    bool ok = true;
    for (int axis = 0; ok && axis < 2; axis++) {
        const tu_axis_zero *zero = &result->axis[axis];
        if (!zero->asked || !zero->bore)
            continue;
        if (!chord)
            chord = tu_json_add(root, "chord", cJSON_CreateObject());
        ok = chord && tu_json_add_number(chord, axis_name(axis), zero->chord_mm);
        if (!ok || isnan(zero->implied_diameter_mm))
            continue;
        if (!diameter)
            diameter = tu_json_add(root, "implied_diameter", cJSON_CreateObject());
        ok = diameter && tu_json_add_number(diameter, axis_name(axis), zero->implied_diameter_mm);
    }
    return ok;
}

static bool add_pair(cJSON *parent, const char *name, const double value_mm[2])
{
    if (isnan(value_mm[0]) && isnan(value_mm[1]))
        return true;
    cJSON *pair = tu_json_add(parent, name, cJSON_CreateObject());
    return pair && tu_json_add_known(pair, "x", value_mm[0]) &&
           tu_json_add_known(pair, "y", value_mm[1]);
}

static bool add_fear(cJSON *root, const tu_fear *fear)
{
    if (!fear->asked)
        return true;
    cJSON *item = tu_json_add(root, "fear", cJSON_CreateObject());
    return item && tu_json_add_number(item, "angle", fear->angle_rad) &&
           add_pair(item, "error", fear->error_mm) && add_pair(item, "border", fear->border_mm) &&
           add_pair(item, "stock_needed", fear->stock_needed_mm);
}

static bool add_program(cJSON *root, const tu_zero_result *result, const tu_zero_style *style)
{
    char line[TU_PROGRAM_LINE_SIZE];
    cJSON *program = tu_json_add(root, "program", cJSON_CreateArray());
    if (!program || !tu_report_program_line(line, sizeof line, result, style))
        return program != NULL;
    return tu_json_append(program, cJSON_CreateString(line)) != NULL;
}

tu_status tu_report_zero_json(FILE *out, const tu_zero_result *result, const tu_zero_style *style,
                              tu_error *error)
{
    cJSON *root = cJSON_CreateObject();
    bool ok = root && add_setup(root, result, style) && add_zero(root, result) &&
              add_uncertainty(root, result) && add_radius(root, result) &&
              add_chord(root, result) && add_bed_map(root, result) &&
              (!result->skew.known || tu_json_add_number(root, "skew", result->skew.angle_rad)) &&
              add_fear(root, &result->fear) && add_program(root, result, style) &&
              tu_json_add_warnings(root, &result->warnings);
    return tu_json_write(out, root, ok, error);
}
