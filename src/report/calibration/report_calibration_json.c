/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_calibration_json.c - a calibration as JSON (docs/plate.md lists the keys): millimetres,
 * what is not known absent or null.
 */
#include "report/json.h"
#include "trueup/report.h"

#include <math.h>

static const char *kind_name(tu_calibrated_kind kind)
{
    static const char *const names[] = {"thickness", "wall", "bore_centre", "bore_diameter",
                                        "cutter",    "sum",  "clearance"};
    return names[kind];
}

static void put_figure(tu_json *json, const tu_calibration_request *request,
                       const tu_calibrated *figure)
{
    bool side = figure->kind == TU_CALIBRATED_WALL || figure->kind == TU_CALIBRATED_SUM ||
                figure->kind == TU_CALIBRATED_BORE_CENTRE;
    int cutter = figure->kind == TU_CALIBRATED_CUTTER ? figure->index : figure->cutter;
    char name[TU_FIGURE_NAME_SIZE];
    tu_calibrated_name(name, request, figure);
    tu_json_object(json, NULL);
    tu_json_text(json, "kind", kind_name(figure->kind));
    if (side)
        tu_json_text(json, "wall", figure->index == 0 ? "a" : "b");
    if (cutter >= 0)
        tu_json_text(json, "cutter", request->cutters[cutter]->name);
    tu_json_text(json, "name", name);
    tu_json_bool(json, "determined", figure->determined);
    tu_json_bool(json, "needed", figure->needed);
    TU_JSON_NUMBERS(json, {"value", figure->value_mm});
    TU_JSON_KNOWN(json, {"old", figure->old_mm}, {"old_tolerance", figure->old_tolerance_mm});
    if (figure->determined)
        tu_json_uncertainty(json, "uncertainty", &figure->uncertainty);
    tu_json_end(json);
}

static void put_advice(tu_json *json, const tu_calibration_request *request,
                       const tu_advice *advice)
{
    tu_json_object(json, NULL);
    tu_json_count(json, "figure", advice->figure);
    tu_json_array(json, "settles");
    for (unsigned k = 0; k < TU_CALIBRATED_MAX; k++)
        if (advice->settles >> k & 1u)
            tu_json_count(json, NULL, k);
    tu_json_end(json);
    tu_json_array(json, "touches");
    for (size_t k = 0; k < advice->touch_count; k++) {
        char name[TU_TOUCH_NAME_SIZE];
        tu_calibration_touch_name(name, request, &advice->touch[k]);
        tu_json_text(json, NULL, name);
    }
    tu_json_end(json);
    if (advice->width_axis >= 0) {
        char width[] = "block-x";
        snprintf(width, sizeof width, "%s-%c", advice->width_of_slot ? "slot" : "block",
                 advice->width_axis == 0 ? 'x' : 'y');
        tu_json_text(json, "width", width);
    }
    tu_json_bool(json, "trust_cutters", advice->trust);
    tu_json_text(json, "text", advice->text);
    tu_json_end(json);
}

static void put_agreement(tu_json *json, const tu_calibration_result *result)
{
    tu_json_object(json, "spread");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (!isnan(result->touch_sd_mm[axis]))
            TU_JSON_OBJECT(json, tu_json_axis[axis], {"sd", result->touch_sd_mm[axis]},
                           {"dof", result->touch_dof[axis]});
    tu_json_end(json);
    if (!isnan(result->misfit))
        TU_JSON_OBJECT(json, "misfit", {"chi_square", result->misfit}, {"dof", result->misfit_dof},
                       {"p", result->misfit_p});
}

static void put_saved(tu_json *json, const tu_calibration_style *style)
{
    if (style->saved_count == 0)
        return;
    tu_json_array(json, "saved");
    for (size_t k = 0; k < style->saved_count; k++) {
        tu_json_object(json, NULL);
        tu_json_count(json, "figure", style->saved[k].figure);
        tu_json_text(json, "path", style->saved[k].path);
        tu_json_text(json, "text", style->saved[k].text);
        tu_json_end(json);
    }
    tu_json_end(json);
}

tu_status tu_report_calibration_json(FILE *out, const tu_calibration_request *request,
                                     const tu_calibration_result *result,
                                     const tu_calibration_style *style, tu_error *error)
{
    tu_json json = tu_json_begin(out);
    TU_JSON_NUMBERS(&json, {"schema", 1});
    tu_json_text(&json, "unit", "mm");
    tu_json_text(&json, "plate", request->plate->name);
    tu_json_bool(&json, "determined", result->determined);
    tu_json_array(&json, "figures");
    for (size_t k = 0; k < result->count; k++)
        put_figure(&json, request, &result->figure[k]);
    tu_json_end(&json);
    tu_json_array(&json, "advice");
    for (size_t k = 0; k < result->advice_count; k++)
        put_advice(&json, request, &result->advice[k]);
    tu_json_end(&json);
    put_agreement(&json, result);
    put_saved(&json, style);
    tu_json_warnings(&json, &result->warnings);
    return tu_json_finish(&json, error);
}
