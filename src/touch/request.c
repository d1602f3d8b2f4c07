/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * request.c - whether a request for a zero makes sense before any number is looked at.
 */
#include "touch/request.h"

#include "touch/sideways.h"

#include <math.h>

tu_zero_request tu_zero_request_start(void)
{
    return (tu_zero_request){.machine = tu_machine_start(),
                             .stock = tu_stock_start(),
                             .seat = TU_SEAT_STOCK,
                             .wall = -1,
                             .depth = tu_quantity_none(),
                             .stock_thickness = tu_quantity_none(),
                             .active_mm = {NAN, NAN, NAN},
                             .turned_within_rad = NAN,
                             .feared_angle_rad = NAN,
                             .job_mm = {NAN, NAN},
                             .bed_rise = {NAN, NAN, INFINITY},
                             .read_unit = TU_UNIT_MM};
}

tu_touch tu_touch_start(double position_mm, double across_mm, int direction)
{
    return (tu_touch){position_mm, across_mm, direction, .started = true};
}

const char *tu_touches_field(tu_axis axis)
{
    static const char *const fields[] = {"{touches.x}", "{touches.y}", "{touches.z}"};
    return fields[axis];
}

bool tu_request_asks(const tu_zero_request *request, tu_axis axis)
{
    const tu_axis_touches *touches = &request->touches[axis];
    return touches->single_count + touches->low_count + touches->high_count > 0;
}

static tu_status check_axis(const tu_zero_request *request, tu_axis axis, tu_error *error)
{
    const tu_axis_touches *touches = &request->touches[axis];
    const char *where = tu_touches_field(axis);
    char letter = tu_axis_letter(axis);
    bool sides = touches->low_count + touches->high_count > 0;
    if (!tu_request_asks(request, axis))
        return TU_OK;
    if (!tu_target_asks(request->target, axis))
        return tu_fail(error, TU_USAGE, where, "%s has no %c: name a corner, or leave %c out",
                       tu_target_name(request->target), letter, letter);
    if (axis == TU_AXIS_Z && sides)
        return tu_fail(error, TU_USAGE, where, "Z is touched from above only: give one number");
    if (axis == TU_AXIS_Z)
        return TU_OK;
    if (sides && touches->single_count > 0)
        return tu_fail(
            error, TU_USAGE, where,
            "single touches and LOW:HIGH contradict each other: a wall is touched on one "
            "side, a bore on both");
    if (sides && !request->plate->bore.present)
        return tu_fail(error, TU_USAGE, where, "LOW:HIGH is for a bore, and plate %s has none",
                       request->plate->name);
    if (!sides && request->plate->bore.present)
        return tu_fail(error, TU_USAGE, where,
                       "plate %s has a bore: touch both of its sides and give LOW:HIGH",
                       request->plate->name);
    return TU_OK;
}

static tu_status check_finite(const tu_zero_request *request, tu_error *error)
{
    struct {
        const char *where;
        double value;
        bool above_zero;
    } numbers[] = {{"{active}", request->active_mm[0], false},
                   {"{active}", request->active_mm[1], false},
                   {"{active}", request->active_mm[2], false},
                   {"{job}", request->job_mm[0], true},
                   {"{job}", request->job_mm[1], true}};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        if (isinf(numbers[i].value))
            return tu_fail(error, TU_DATA_RANGE, numbers[i].where, "must be a finite number");
        if (numbers[i].above_zero && numbers[i].value <= 0.0)
            return tu_fail(error, TU_DATA_RANGE, numbers[i].where, "must be above zero");
    }
    double turned = request->turned_within_rad;
    if (!isnan(turned) && !(turned > 0.0 && turned <= M_PI_2))
        return tu_fail(error, TU_DATA_RANGE, "{turned_within}",
                       "must lie above 0 and at most at 90 degrees");
    return TU_OK;
}

static tu_status check_baselines(const tu_zero_request *request, tu_error *error)
{
    if (request->baseline_count == 0)
        return TU_OK;
    if (request->baseline_count > TU_BASELINES_MAX)
        return tu_fail(error, TU_USAGE, "{skew_from}", "may be given at most %d times",
                       TU_BASELINES_MAX);
    if (!tu_request_asks(request, TU_AXIS_X) || !tu_request_asks(request, TU_AXIS_Y))
        return tu_fail(error, TU_USAGE, "{skew_from}",
                       "the corner of a turned stock needs touches of both X and Y: name a corner "
                       "and give both, or leave {skew_from} out");
    for (size_t i = 0; i < request->baseline_count; i++) {
        const tu_baseline *line = &request->baseline[i];
        const double ends[2][2] = {{line->from.x, line->from.y}, {line->to.x, line->to.y}};
        for (int end = 0; end < 2; end++) {
            for (int axis = 0; axis < 2; axis++) {
                double value = tu_to_machine(request, (tu_axis)axis, ends[end][axis]);
                tu_status status =
                    tu_travel_check(request, (tu_axis)axis, value, "{skew_from}", error);
                if (status)
                    return status;
            }
        }
    }
    return TU_OK;
}

tu_status tu_request_check(const tu_zero_request *request, tu_error *error)
{
    bool any = false;
    tu_status status = tu_target_check(request->target, error);
    if (status)
        return status;
    if (request->plate == NULL)
        return tu_fail(error, TU_DATA_MISSING, "{plate}", "no plate was named");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        any = any || tu_request_asks(request, (tu_axis)axis);
        status = check_axis(request, (tu_axis)axis, error);
        if (status)
            return status;
    }
    if (!any)
        return tu_fail(
            error, TU_USAGE, NULL,
            "nothing was touched: give at least one of {touches.x}, {touches.y} and {touches.z}");
    if (request->wall >= 0 && !tu_target_is_face(request->target))
        return tu_fail(error, TU_USAGE, "{wall}",
                       "is for a single face: at a corner the plate's turning tells which wall "
                       "serves which axis");
    if (request->wall < -1 || request->wall > 1)
        return tu_fail(error, TU_USAGE, "{wall}", "is a or b");
    if (!isnan(request->job_mm[0]) && isnan(request->feared_angle_rad))
        return tu_fail(error, TU_USAGE, "{job}",
                       "needs {feared_angle}: the border is for an angle");
    status = tu_request_check_things(request, error);
    if (!status)
        status = check_finite(request, error);
    return !status ? check_baselines(request, error) : status;
}
