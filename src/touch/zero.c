/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero.c - from touches to a work offset, with its uncertainty.
 */
#include "trueup/zero.h"

#include "touch/request.h"
#include "touch/shown.h"
#include "touch/sideways.h"
#include "touch/skew.h"

#include <math.h>
#include <string.h>

#define COVERAGE 0.95

static tu_axis_zero axis_start(tu_target target, tu_axis axis)
{
    return (tu_axis_zero){.zero_mm = NAN,
                          .outward = target.outward[axis],
                          .touch_mm = NAN,
                          .touch_sd_mm = NAN,
                          .across_mm = NAN,
                          .wall = -1,
                          .facing = TU_FACES_OUTWARD,
                          .offset_mm = NAN,
                          .depth_mm = NAN,
                          .profile_radius_mm = NAN,
                          .effective_radius_mm = NAN,
                          .low_mm = NAN,
                          .high_mm = NAN,
                          .chord_mm = NAN,
                          .implied_diameter_mm = NAN,
                          .thickness_mm = NAN,
                          .stock_mm = NAN};
}

static void result_start(const tu_zero_request *request, tu_zero_result *result)
{
    memset(result, 0, sizeof *result);
    result->target = request->target;
    result->seat = request->seat;
    result->cutter_diameter_mm = NAN;
    if (request->plate != NULL)
        memcpy(result->plate_name, request->plate->name, sizeof result->plate_name);
    if (request->cutter != NULL) {
        memcpy(result->cutter_name, request->cutter->name, sizeof result->cutter_name);
        result->cutter_diameter_mm = request->cutter->diameter.value_mm;
        result->cutter_shape = request->cutter->shape;
        result->cutter = tu_request_cutter(request);
    }
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        result->axis[axis] = axis_start(request->target, (tu_axis)axis);
        result->active_mm[axis] = request->active_mm[axis];
        result->active = result->active || !isnan(request->active_mm[axis]);
        result->stock_size_mm[axis] = request->stock.size[axis].value_mm;
    }
    if (tu_quantity_is_stated(request->stock_thickness))
        result->stock_size_mm[TU_AXIS_Z] = request->stock_thickness.value_mm;
}

/* What the stock's thickness adds to the seat's height: needed where the plate sits on one face of
 * the stock and the zero is wanted at the other. */
static tu_status add_stock_thickness(const tu_zero_request *request, tu_axis_zero *zero,
                                     tu_untoleranced *untoleranced, tu_warnings *warnings,
                                     tu_error *error)
{
    bool top = request->target.outward[TU_AXIS_Z] > 0;
    bool stated = tu_quantity_is_stated(request->stock_thickness);
    zero->stock_mm = 0.0;
    if (top == (request->seat == TU_SEAT_STOCK)) {
        if (stated)
            tu_warn(warnings, "{stock_thickness} is not used: the plate sits where the zero is.");
        return TU_OK;
    }
    tu_quantity thickness = stated ? request->stock_thickness : request->stock.size[TU_AXIS_Z];
    if (!tu_quantity_is_stated(thickness))
        return tu_fail(error, TU_DATA_MISSING, "{stock_thickness}",
                       "the plate sits on the %s and the zero is wanted at the %s: measure the "
                       "stock's thickness and give it, as in {stock_thickness} 18.0mm+-0.1mm",
                       request->seat == TU_SEAT_STOCK ? "stock" : "bed", top ? "top" : "bottom");
    zero->stock_mm = (top ? 1.0 : -1.0) * thickness.value_mm;
    tu_untoleranced_note(untoleranced, thickness, "the stock's thickness");
    tu_budget_add(&zero->uncertainty, "stock thickness",
                  tu_standard_of_tolerance(thickness.tolerance_mm), INFINITY);
    return TU_OK;
}

/* The plate sat on the bed at one place, and the zero is wanted where the bed is that much higher.
 */
static tu_status add_bed_rise(const tu_zero_request *request, tu_axis_zero *zero, tu_error *error)
{
    const tu_bed_rise *rise = &request->bed_rise;
    if (isnan(rise->rise_mm))
        return TU_OK;
    if (request->seat != TU_SEAT_BED)
        return tu_fail(error, TU_USAGE, "{bed_map}",
                       "carries the height of a plate that sat on the bed; this one sits on the "
                       "stock: leave it out, or say {seat} bed");
    if (!isfinite(rise->rise_mm) || rise->standard_mm < 0)
        return tu_fail(error, TU_DATA_RANGE, "{bed_map}",
                       "no height of the bed can be had from it");
    zero->bed_rise_mm = rise->rise_mm;
    if (!isnan(rise->standard_mm))
        tu_budget_add(&zero->uncertainty, "bed map", rise->standard_mm, rise->dof);
    return TU_OK;
}

static tu_status solve_z(const tu_zero_request *request, tu_axis_zero *zero,
                         tu_untoleranced *untoleranced, tu_warnings *warnings, tu_error *error)
{
    const tu_axis_touches *touches = &request->touches[TU_AXIS_Z];
    const tu_quantity thickness = request->plate->thickness;
    tu_series series;
    tu_sideways position = {0};
    for (size_t i = 0; i < touches->single_count; i++) {
        if (touches->single[i].direction > 0)
            return tu_fail(error, TU_DATA_CONFLICT, tu_touches_field(TU_AXIS_Z),
                           "number %zu moved Z+: the plate is touched from above, moving Z-",
                           i + 1);
    }
    tu_status status = tu_series_collect(request, TU_AXIS_Z, touches->single, touches->single_count,
                                         "", 0.0, &series, warnings, error);
    if (status)
        return status;
    zero->touch_count = series.count;
    zero->touch_mm = series.mean_mm;
    zero->touch_sd_mm = series.sd_mm;
    zero->thickness_mm = thickness.value_mm;
    tu_repeatability pooled = tu_axis_repeatability(request, TU_AXIS_Z, zero);
    tu_warn_single_touch(TU_AXIS_Z, series.count, pooled, warnings);
    tu_sideways_add_position(&position, pooled, 1.0 / sqrt((double)series.count),
                             request->machine.step_mm);
    for (size_t i = 0; i < position.count; i++)
        tu_budget_add(&zero->uncertainty, position.part[i].source, position.part[i].effect_mm,
                      position.part[i].dof);
    tu_untoleranced_note(untoleranced, thickness, "the plate's thickness");
    tu_budget_add(&zero->uncertainty, "plate thickness",
                  tu_standard_of_tolerance(thickness.tolerance_mm), INFINITY);
    status = add_stock_thickness(request, zero, untoleranced, warnings, error);
    if (!status)
        status = add_bed_rise(request, zero, error);
    zero->zero_mm = series.mean_mm - thickness.value_mm + zero->stock_mm + zero->bed_rise_mm;
    return status;
}

static void solve_square(tu_axis_zero *zero, const tu_sideways *side)
{
    zero->zero_mm = zero->touch_mm - side->stand_off_mm;
    for (size_t i = 0; i < side->count; i++)
        tu_budget_add(&zero->uncertainty, side->part[i].source, fabs(side->part[i].effect_mm),
                      side->part[i].dof);
}

static tu_status check_bore(const tu_zero_request *request, tu_zero_result *result, tu_error *error)
{
    tu_axis_zero *zero = result->axis;
    for (int i = 0; i < 2; i++) {
        if (!zero[i].bore)
            continue;
        tu_status status = tu_bore_check(request, (tu_axis)i, zero[1 - i].touch_mm, &zero[i],
                                         &result->warnings, error);
        if (status)
            return status;
    }
    return request->cutter == NULL ? TU_OK : tu_bore_compare(request, zero, error);
}

static tu_status measure_sideways(const tu_zero_request *request, tu_zero_result *result,
                                  tu_sideways side[2], tu_untoleranced *untoleranced,
                                  tu_error *error)
{
    tu_axis_zero *zero = result->axis;
    double angle = result->skew.known ? result->skew.angle_rad : 0.0;
    for (int i = 0; i < 2; i++) {
        tu_axis axis = (tu_axis)i;
        if (!zero[i].asked)
            continue;
        tu_status status = request->plate->bore.present
                               ? tu_bore_measure(request, axis, &zero[i], &side[i], untoleranced,
                                                 &result->warnings, error)
                               : tu_wall_measure(request, axis, angle, &zero[i], &side[i],
                                                 untoleranced, &result->warnings, error);
        if (status)
            return status;
    }
    return check_bore(request, result, error);
}

static tu_status solve_sideways(const tu_zero_request *request, tu_zero_result *result,
                                tu_untoleranced *untoleranced, tu_error *error)
{
    tu_sideways side[2] = {0};
    tu_status status = tu_skew_measure(request, &result->skew, &result->warnings, error);
    if (!status)
        status = measure_sideways(request, result, side, untoleranced, error);
    if (status)
        return status;
    if (result->skew.known) {
        status = tu_skew_solve_corner(request, &result->skew, result->axis, side, error);
    } else {
        for (int axis = 0; axis < 2; axis++)
            if (result->axis[axis].asked)
                solve_square(&result->axis[axis], &side[axis]);
    }
    return !status ? tu_fear_estimate(request, result->axis, side, &result->fear, error) : status;
}

/* Whether the place that the stock would take along an axis lies within the travel. */
static void warn_out_of_reach(const tu_zero_request *request, tu_zero_result *result, tu_axis axis)
{
    const tu_axis_zero *zero = &result->axis[axis];
    tu_unit unit = request->read_unit;
    double low = request->machine.travel_low_mm[axis];
    double high = request->machine.travel_high_mm[axis];
    double size = result->stock_size_mm[axis];
    /* Below the bed nothing is cut: along Z only the zero itself must be in reach. */
    bool sized = axis != TU_AXIS_Z && !isnan(size);
    double far_side = zero->zero_mm - zero->outward * (sized ? size : 0.0);
    double least = fmin(zero->zero_mm, far_side);
    double most = fmax(zero->zero_mm, far_side);
    if (!zero->asked || isnan(low) || isnan(high) || (least >= low && most <= high))
        return;
    tu_warn(&result->warnings,
            sized ? "with this zero the stock lies from %c %s to %s, and the machine travels from "
                    "%s to %s: is it the right corner, and the right unit?"
                  : "with this zero the work lies at %c %s, %s, and the machine travels from %s to "
                    "%s: is it the right corner, and the right unit?",
            tu_axis_letter(axis), tu_show_short(unit, least).text,
            sized ? tu_show_short(unit, most).text : "out of reach", tu_show_short(unit, low).text,
            tu_show_short(unit, high).text);
}

static void warn_reach(const tu_zero_request *request, tu_zero_result *result)
{
    bool unknown = false;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        warn_out_of_reach(request, result, (tu_axis)axis);
        unknown =
            unknown || (result->axis[axis].asked && isnan(request->machine.travel_low_mm[axis]));
    }
    if (unknown)
        tu_warn(&result->warnings,
                "the shop file states no travel for each axis that was touched: a slip of sign or "
                "unit could not be seen.");
}

static void finish(const tu_zero_request *request, tu_zero_result *result,
                   const tu_untoleranced *untoleranced)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        tu_budget_close(&result->axis[axis].uncertainty, COVERAGE);
    if (untoleranced->names[0] != '\0')
        tu_warn(&result->warnings,
                "no tolerance is stated for %s: counted as exact, so the zero is less certain than "
                "it says.",
                untoleranced->names);
    warn_reach(request, result);
}

tu_status tu_zero_solve(const tu_zero_request *request, tu_zero_result *result, tu_error *error)
{
    tu_untoleranced untoleranced = {""};
    result_start(request, result);
    tu_status status = tu_request_check(request, error);
    if (status)
        return status;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        result->axis[axis].asked = tu_request_asks(request, (tu_axis)axis);
    status = solve_sideways(request, result, &untoleranced, error);
    if (!status && result->axis[TU_AXIS_Z].asked)
        status =
            solve_z(request, &result->axis[TU_AXIS_Z], &untoleranced, &result->warnings, error);
    if (!status)
        finish(request, result, &untoleranced);
    return status;
}
