/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * calibrate.c - the calibration of a homemade plate, step by step, and the names of its parts.
 */
#include "trueup/calibrate.h"

#include "touch/calibrate_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

tu_calibration_request tu_calibration_request_start(void)
{
    tu_calibration_request request = {0};
    for (int k = 0; k < 2; k++) {
        request.block[k] = tu_quantity_none();
        request.slot[k] = tu_quantity_none();
    }
    request.machine = tu_machine_start();
    return request;
}

const char *tu_calibration_edge_name(tu_axis axis, int outward)
{
    if (axis == TU_AXIS_X)
        return outward < 0 ? "left" : "right";
    return outward < 0 ? "front" : "back";
}

void tu_calibration_touch_name(char text[TU_TOUCH_NAME_SIZE], const tu_calibration_request *request,
                               const tu_calibration_touch *touch)
{
    if (touch->axis == TU_AXIS_Z) {
        snprintf(text, TU_TOUCH_NAME_SIZE, "%s",
                 touch->contact == TU_CONTACT_FACE ? "face" : "seat");
        return;
    }
    char surface[16];
    char letter = touch->wall == 0 ? 'a' : 'b';
    if (touch->contact == TU_CONTACT_WALL) {
        snprintf(surface, sizeof surface, "%c", letter);
    } else if (tu_contact_is_bore(touch->contact)) {
        snprintf(surface, sizeof surface, "bore.%c %s", letter,
                 touch->contact == TU_CONTACT_BORE_LOW ? "low" : "high");
    } else {
        snprintf(surface, sizeof surface, "%s",
                 touch->contact == TU_CONTACT_BARE ? "bare" : "slot");
    }
    snprintf(text, TU_TOUCH_NAME_SIZE, "%s/%s/%s",
             tu_calibration_edge_name(touch->axis, touch->outward), surface,
             request->cutters[touch->cutter]->name);
}

int tu_calibration_travel(const tu_plate *plate, const tu_calibration_touch *touch)
{
    switch (touch->contact) {
    case TU_CONTACT_WALL:
        return -touch->outward * (int)plate->wall[touch->wall].facing;
    case TU_CONTACT_BARE:
        return -touch->outward;
    case TU_CONTACT_SLOT:
        return touch->outward;
    case TU_CONTACT_BORE_HIGH:
        return +1;
    case TU_CONTACT_BORE_LOW:
    case TU_CONTACT_FACE:
    case TU_CONTACT_SEAT:
        break;
    }
    return -1;
}

void tu_calibrated_name(char text[TU_FIGURE_NAME_SIZE], const tu_calibration_request *request,
                        const tu_calibrated *figure)
{
    char letter = figure->index == 0 ? 'a' : 'b';
    switch (figure->kind) {
    case TU_CALIBRATED_THICKNESS:
        snprintf(text, TU_FIGURE_NAME_SIZE, "thickness");
        break;
    case TU_CALIBRATED_WALL:
        snprintf(text, TU_FIGURE_NAME_SIZE, "offset of wall %c", letter);
        break;
    case TU_CALIBRATED_BORE_CENTRE:
        snprintf(text, TU_FIGURE_NAME_SIZE, "bore centre %c", letter);
        break;
    case TU_CALIBRATED_BORE_DIAMETER:
        snprintf(text, TU_FIGURE_NAME_SIZE, "bore diameter");
        break;
    case TU_CALIBRATED_CUTTER:
        snprintf(text, TU_FIGURE_NAME_SIZE, "effective diameter of %s",
                 request->cutters[figure->index]->name);
        break;
    case TU_CALIBRATED_SUM:
        snprintf(text, TU_FIGURE_NAME_SIZE, "offset of wall %c %s radius of %s", letter,
                 request->plate->wall[figure->index].facing > 0 ? "plus" : "minus",
                 request->cutters[figure->cutter]->name);
        break;
    case TU_CALIBRATED_CLEARANCE:
        snprintf(text, TU_FIGURE_NAME_SIZE, "bore diameter minus diameter of %s",
                 request->cutters[figure->cutter]->name);
        break;
    }
}

tu_status tu_calibrate_solve(const tu_calibration_request *request, tu_calibration_result *result,
                             tu_error *error)
{
    memset(result, 0, sizeof *result);
    result->misfit = NAN;
    result->misfit_dof = NAN;
    result->misfit_p = NAN;
    tu_calibration_design design;
    tu_status status = tu_calibration_build(request, &design, &result->warnings, error);
    if (status)
        return status;
    for (int k = 0; k < TU_AXIS_COUNT; k++) {
        result->touch_sd_mm[k] = design.spread[k].sd_mm;
        result->touch_dof[k] = design.spread[k].dof;
    }
    tu_calibration_fit fit;
    status = tu_calibration_fit_solve(&design, &fit, error);
    if (status)
        return status;
    tu_calibration_list_figures(request, &design, &fit, result);
    status = tu_calibration_judge(request, &design, &fit, result, error);
    if (status)
        return status;
    tu_calibration_advise(request, &design, result);
    return TU_OK;
}
