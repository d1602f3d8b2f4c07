/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_calibration_json.c - a calibration as JSON (docs/plate.md lists the keys): millimetres,
 * what is not known absent or null.
 */
#include "report/json_build.h"
#include "trueup/report.h"

#include <math.h>

static const char *kind_name(tu_calibrated_kind kind)
{
    static const char *const names[] = {"thickness", "wall", "bore_centre", "bore_diameter",
                                        "cutter",    "sum",  "clearance"};
    return names[kind];
}

static bool add_subject(cJSON *item, const tu_calibration_request *request,
                        const tu_calibrated *figure)
{
    int cutter = figure->kind == TU_CALIBRATED_CUTTER ? figure->index : figure->cutter;
    bool side = figure->kind == TU_CALIBRATED_WALL || figure->kind == TU_CALIBRATED_SUM ||
                figure->kind == TU_CALIBRATED_BORE_CENTRE;
    return (!side || tu_json_add_text(item, "wall", figure->index == 0 ? "a" : "b")) &&
           (cutter < 0 || tu_json_add_text(item, "cutter", request->cutters[cutter]->name));
}

static bool add_figures(cJSON *root, const tu_calibration_request *request,
                        const tu_calibration_result *result)
{
    cJSON *list = tu_json_add(root, "figures", cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t k = 0; ok && k < result->count; k++) {
        const tu_calibrated *figure = &result->figure[k];
        char name[TU_FIGURE_NAME_SIZE];
        tu_calibrated_name(name, request, figure);
        cJSON *item = tu_json_append(list, cJSON_CreateObject());
        ok = tu_json_add_text(item, "kind", kind_name(figure->kind)) &&
             add_subject(item, request, figure) && tu_json_add_text(item, "name", name) &&
             tu_json_add_bool(item, "determined", figure->determined) &&
             tu_json_add_bool(item, "needed", figure->needed) &&
             tu_json_add_number(item, "value", figure->value_mm) &&
             tu_json_add_known(item, "old", figure->old_mm) &&
             tu_json_add_known(item, "old_tolerance", figure->old_tolerance_mm) &&
             (!figure->determined ||
              tu_json_add_uncertainty(item, "uncertainty", &figure->uncertainty));
    }
    return ok;
}

static bool add_advice_detail(cJSON *item, const tu_calibration_request *request,
                              const tu_advice *advice)
{
    cJSON *settles = tu_json_add(item, "settles", cJSON_CreateArray());
    bool ok = settles != NULL;
    for (int k = 0; ok && k < TU_CALIBRATED_MAX; k++)
        if ((advice->settles >> k & 1u) != 0u)
            ok = tu_json_append(settles, tu_json_create_number(k)) != NULL;
    cJSON *touches = ok ? tu_json_add(item, "touches", cJSON_CreateArray()) : NULL;
    ok = touches != NULL;
    for (size_t k = 0; ok && k < advice->touch_count; k++) {
        char name[TU_TOUCH_NAME_SIZE];
        tu_calibration_touch_name(name, request, &advice->touch[k]);
        ok = tu_json_append(touches, cJSON_CreateString(name)) != NULL;
    }
    if (ok && advice->width_axis >= 0) {
        char width[] = "block-x";
        snprintf(width, sizeof width, "%s-%c", advice->width_of_slot ? "slot" : "block",
                 advice->width_axis == 0 ? 'x' : 'y');
        ok = tu_json_add_text(item, "width", width);
    }
    return ok && tu_json_add_bool(item, "trust_cutters", advice->trust);
}

static bool add_advice(cJSON *root, const tu_calibration_request *request,
                       const tu_calibration_result *result)
{
    cJSON *list = tu_json_add(root, "advice", cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t k = 0; ok && k < result->advice_count; k++) {
        cJSON *item = tu_json_append(list, cJSON_CreateObject());
        ok = tu_json_add_number(item, "figure", (double)result->advice[k].figure) &&
             add_advice_detail(item, request, &result->advice[k]) &&
             tu_json_add_text(item, "text", result->advice[k].text);
    }
    return ok;
}

static bool add_spread(cJSON *root, const tu_calibration_result *result)
{
    static const char *const names[TU_AXIS_COUNT] = {"x", "y", "z"};
    cJSON *spread = tu_json_add(root, "spread", cJSON_CreateObject());
    bool ok = spread != NULL;
    for (int axis = 0; ok && axis < TU_AXIS_COUNT; axis++) {
        if (!isnan(result->touch_sd_mm[axis])) {
            cJSON *item = tu_json_add(spread, names[axis], cJSON_CreateObject());
            ok = tu_json_add_number(item, "sd", result->touch_sd_mm[axis]) &&
                 tu_json_add_number(item, "dof", result->touch_dof[axis]);
        }
    }
    return ok;
}

static bool add_misfit(cJSON *root, const tu_calibration_result *result)
{
    if (isnan(result->misfit))
        return true;
    cJSON *misfit = tu_json_add(root, "misfit", cJSON_CreateObject());
    return tu_json_add_number(misfit, "chi_square", result->misfit) &&
           tu_json_add_number(misfit, "dof", result->misfit_dof) &&
           tu_json_add_number(misfit, "p", result->misfit_p);
}

static bool add_saved(cJSON *root, const tu_calibration_style *style)
{
    if (style->saved_count == 0)
        return true;
    cJSON *list = tu_json_add(root, "saved", cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t k = 0; ok && k < style->saved_count; k++) {
        cJSON *item = tu_json_append(list, cJSON_CreateObject());
        ok = tu_json_add_number(item, "figure", (double)style->saved[k].figure) &&
             tu_json_add_text(item, "path", style->saved[k].path) &&
             tu_json_add_text(item, "text", style->saved[k].text);
    }
    return ok;
}

tu_status tu_report_calibration_json(FILE *out, const tu_calibration_request *request,
                                     const tu_calibration_result *result,
                                     const tu_calibration_style *style, tu_error *error)
{
    cJSON *root = cJSON_CreateObject();
    bool ok = tu_json_add_number(root, "schema", 1) && tu_json_add_text(root, "unit", "mm") &&
              tu_json_add_text(root, "plate", request->plate->name) &&
              tu_json_add_bool(root, "determined", result->determined) &&
              add_figures(root, request, result) && add_advice(root, request, result) &&
              add_spread(root, result) && add_misfit(root, result) && add_saved(root, style) &&
              tu_json_add_warnings(root, &result->warnings);
    return tu_json_write(out, root, ok, error);
}
