/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_zero_json.c - a zero as JSON (docs/zero.md lists the keys): millimetres and radians, every
 * number so that it reads back as the same double, what is not known absent or null.
 */
#include "trueup/number.h"
#include "trueup/report.h"

#include <cjson/cJSON.h>
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* cJSON prints with the C library's printf, which follows the locale: numbers go in as text. */
static cJSON *number_item(double value)
{
    char text[TU_NUMBER_TEXT_SIZE];
    if (!isfinite(value) || !tu_number_format_exact(text, sizeof text, value))
        return cJSON_CreateNull();
    return cJSON_CreateRaw(text);
}

/* Adds item to parent and gives it back; NULL (and item freed) when there is no memory. */
static cJSON *add(cJSON *parent, const char *name, cJSON *item)
{
    if (!parent || !item || !cJSON_AddItemToObject(parent, name, item)) {
        cJSON_Delete(item);
        return NULL;
    }
    return item;
}

static cJSON *append(cJSON *array, cJSON *item)
{
    if (!array || !item || !cJSON_AddItemToArray(array, item)) {
        cJSON_Delete(item);
        return NULL;
    }
    return item;
}

static bool add_number(cJSON *parent, const char *name, double value)
{
    return add(parent, name, number_item(value)) != NULL;
}

static bool add_text(cJSON *parent, const char *name, const char *text)
{
    return add(parent, name, cJSON_CreateString(text)) != NULL;
}

static bool add_if_known(cJSON *parent, const char *name, double value)
{
    return isnan(value) || add_number(parent, name, value);
}

static const char *axis_name(int axis)
{
    static const char *const names[TU_AXIS_COUNT] = {"x", "y", "z"};
    return names[axis];
}

static bool add_zero(cJSON *root, const tu_zero_result *result)
{
    cJSON *zero = add(root, "zero", cJSON_CreateObject());
    bool ok = zero != NULL;
    for (int axis = 0; ok && axis < TU_AXIS_COUNT; axis++)
        if (result->axis[axis].asked)
            ok = add_number(zero, axis_name(axis), result->axis[axis].zero_mm);
    return ok;
}

static bool add_budget(cJSON *parent, const tu_uncertainty *uncertainty)
{
    cJSON *budget = add(parent, "budget", cJSON_CreateArray());
    bool ok = budget != NULL;
    for (size_t i = 0; ok && i < uncertainty->count; i++) {
        const tu_budget_line *line = &uncertainty->line[i];
        cJSON *item = append(budget, cJSON_CreateObject());
        ok = item && add_text(item, "source", line->source) &&
             add_number(item, "standard", line->standard_mm) &&
             add_number(item, "dof", line->dof) && add_number(item, "share", line->share);
    }
    return ok;
}

static bool add_uncertainty(cJSON *root, const tu_zero_result *result)
{
    cJSON *all = add(root, "uncertainty", cJSON_CreateObject());
    bool ok = all != NULL;
    for (int axis = 0; ok && axis < TU_AXIS_COUNT; axis++) {
        const tu_uncertainty *u = &result->axis[axis].uncertainty;
        if (!result->axis[axis].asked)
            continue;
        cJSON *item = add(all, axis_name(axis), cJSON_CreateObject());
        ok = item && add_number(item, "standard", u->standard_mm) &&
             add_number(item, "dof", u->dof) &&
             add_number(item, "coverage_factor", u->coverage_factor) &&
             add_number(item, "expanded", u->expanded_mm) &&
             add_number(item, "coverage", u->coverage) && add_budget(item, u);
    }
    return ok;
}

static bool add_radius(cJSON *root, const tu_zero_result *result)
{
    cJSON *radius = NULL;
    bool ok = true;
    for (int axis = 0; ok && axis < 2; axis++) {
        if (!result->axis[axis].asked || result->axis[axis].bore)
            continue;
        if (!radius)
            radius = add(root, "effective_radius", cJSON_CreateObject());
        ok = radius && add_number(radius, axis_name(axis), result->axis[axis].effective_radius_mm);
    }
    return ok;
}

static bool add_pair(cJSON *parent, const char *name, const double value_mm[2])
{
    if (isnan(value_mm[0]) && isnan(value_mm[1]))
        return true;
    cJSON *pair = add(parent, name, cJSON_CreateObject());
    return pair && add_if_known(pair, "x", value_mm[0]) && add_if_known(pair, "y", value_mm[1]);
}

static bool add_fear(cJSON *root, const tu_fear *fear)
{
    if (!fear->asked)
        return true;
    cJSON *item = add(root, "fear", cJSON_CreateObject());
    return item && add_number(item, "angle", fear->angle_rad) &&
           add_pair(item, "error", fear->error_mm) && add_pair(item, "border", fear->border_mm) &&
           add_pair(item, "stock_needed", fear->stock_needed_mm);
}

static bool add_program(cJSON *root, const tu_zero_result *result, const tu_zero_style *style)
{
    char line[TU_PROGRAM_LINE_SIZE];
    cJSON *program = add(root, "program", cJSON_CreateArray());
    if (!program || !tu_report_program_line(line, sizeof line, result, style))
        return program != NULL;
    return append(program, cJSON_CreateString(line)) != NULL;
}

static bool add_warnings(cJSON *root, const tu_warnings *warnings)
{
    cJSON *list = add(root, "warnings", cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t i = 0; ok && i < warnings->count; i++)
        ok = append(list, cJSON_CreateString(warnings->text[i])) != NULL;
    return ok;
}

static bool add_setup(cJSON *root, const tu_zero_result *result, const tu_zero_style *style)
{
    return add_number(root, "schema", 1) &&
           add_text(root, "target", tu_target_name(result->target)) &&
           add_text(root, "slot", tu_slot_name(style->slot)) && add_text(root, "unit", "mm") &&
           add_text(root, "plate", result->plate_name) &&
           (!*result->cutter_name || add_text(root, "cutter", result->cutter_name)) &&
           add_text(root, "seat", result->seat == TU_SEAT_BED ? "bed" : "stock");
}

tu_status tu_report_zero_json(FILE *out, const tu_zero_result *result, const tu_zero_style *style,
                              tu_error *error)
{
    tu_status status = TU_OK;
    char *text = NULL;
    cJSON *root = cJSON_CreateObject();
    bool ok = root && add_setup(root, result, style) && add_zero(root, result) &&
              add_uncertainty(root, result) && add_radius(root, result) &&
              (!result->skew.known || add_number(root, "skew", result->skew.angle_rad)) &&
              add_fear(root, &result->fear) && add_program(root, result, style) &&
              add_warnings(root, &result->warnings);
    if (ok)
        text = cJSON_Print(root);
    if (!text) {
        status = tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
        goto cleanup;
    }
    errno = 0;
    if (fprintf(out, "%s\n", text) < 0 || fflush(out) != 0 || ferror(out))
        status = tu_fail(error, TU_SYSTEM_IO, NULL, "the answer cannot be written: %s",
                         strerror(errno ? errno : EIO));
cleanup:
    cJSON_free(text);
    cJSON_Delete(root);
    return status;
}
