/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * things.c - whether the machine, the plate, the cutter and the stock of a request can be.
 *
 * The shop file's reader refuses the same and names the line; this is for callers who fill in the
 * structs themselves: a NaN in a size would come out as a zero that is no number.
 */
#include "touch/request.h"

#include "base/started.h"

#include <math.h>

/* What a size may be; a size that is not stated passes where it need not be. */
typedef struct size_rule {
    const char *where;
    const char *what;
    tu_quantity quantity;
    bool applies;    /* the thing has it */
    bool needed;     /* and it must be stated */
    bool signed_too; /* may be zero or negative */
} size_rule;

static tu_status check_size(const size_rule *rule, tu_error *error)
{
    double value = rule->quantity.value_mm;
    double tolerance = rule->quantity.tolerance_mm;
    if (!rule->applies)
        return TU_OK;
    if (isnan(value))
        return rule->needed
                   ? tu_fail(error, TU_DATA_MISSING, rule->where, "%s is not stated", rule->what)
                   : TU_OK;
    if (isinf(value) || (!rule->signed_too && !(value > 0.0)))
        return tu_fail(error, TU_DATA_RANGE, rule->where, "%s must be a finite number%s",
                       rule->what, rule->signed_too ? "" : " above zero");
    if (isinf(tolerance) || tolerance < 0.0)
        return tu_fail(error, TU_DATA_RANGE, rule->where,
                       "the tolerance of %s must be a finite number, zero or above", rule->what);
    return TU_OK;
}

static tu_status check_sizes(const size_rule *rules, size_t count, tu_error *error)
{
    for (size_t i = 0; i < count; i++) {
        tu_status status = check_size(&rules[i], error);
        if (status)
            return status;
    }
    return TU_OK;
}

static tu_status check_plate(const tu_zero_request *request, tu_error *error)
{
    const tu_plate *plate = request->plate;
    const tu_bore *bore = &plate->bore;
    bool z = tu_request_asks(request, TU_AXIS_Z);
    bool wall_a = plate->wall[0].present;
    bool wall_b = plate->wall[1].present;
    bool hole = bore->present;
    const size_rule rules[] = {
        {"plate", "the thickness", plate->thickness, z, true, false},
        {"plate", "the offset of wall a", plate->wall[0].offset, wall_a, true, true},
        {"plate", "the offset of wall b", plate->wall[1].offset, wall_b, true, true},
        {"plate", "the touch depth of wall a", plate->wall[0].touch_depth, wall_a, false, false},
        {"plate", "the touch depth of wall b", plate->wall[1].touch_depth, wall_b, false, false},
        {"plate", "the bore's diameter", bore->diameter, hole, true, false},
        {"plate", "the bore's distance a", bore->centre[0], hole, true, true},
        {"plate", "the bore's distance b", bore->centre[1], hole, true, true},
        {"plate", "the touch depth in the bore", bore->touch_depth, hole, false, false}};
    if (!plate->started)
        return tu_fail_not_started(error, "{plate}", "tu_plate_start");
    for (int i = 0; i < 2; i++) {
        int facing = (int)plate->wall[i].facing;
        if (plate->wall[i].present && facing != 1 && facing != -1)
            return tu_fail(error, TU_DATA_RANGE, "plate",
                           "wall %c faces neither outward nor inward", "ab"[i]);
    }
    return check_sizes(rules, sizeof rules / sizeof rules[0], error);
}

static tu_status check_cutter(const tu_cutter *cutter, tu_error *error)
{
    bool bull = cutter->shape == TU_CUTTER_BULL;
    bool vee = cutter->shape == TU_CUTTER_VEE;
    const size_rule rules[] = {
        {"cutter", "the diameter", cutter->diameter, true, true, false},
        {"cutter", "the corner radius", cutter->corner_radius, bull, true, false},
        {"cutter", "the tip's diameter", cutter->tip, vee, false, true},
        {"cutter", "the core's diameter", cutter->core, cutter->flutes > 0, false, false},
        {"cutter", "the run-out", cutter->run_out, true, false, true}};
    double helix = cutter->helix_rad;
    double turned = cutter->turned_within_rad;
    if (cutter->flutes < 0 || cutter->run_out.value_mm < 0.0 || (vee && cutter->tip.value_mm < 0.0))
        return tu_fail(error, TU_DATA_RANGE, "cutter",
                       "flutes, run-out and tip must be zero or above");
    if (!isnan(helix) && !(helix >= 0.0 && helix < M_PI_2))
        return tu_fail(error, TU_DATA_RANGE, "cutter",
                       "the helix angle must be at least 0 and below 90 degrees");
    if (!isnan(turned) && !(turned > 0.0 && turned <= M_PI_2))
        return tu_fail(error, TU_DATA_RANGE, "cutter",
                       "the angle that an edge was turned within must be above 0 and at most 90 "
                       "degrees; it is not stated in a cutter begun with tu_cutter_start()");
    return check_sizes(rules, sizeof rules / sizeof rules[0], error);
}

tu_status tu_machine_check(const tu_machine *machine, tu_error *error)
{
    if (!isnan(machine->step_mm) && !(machine->step_mm > 0.0 && isfinite(machine->step_mm)))
        return tu_fail(error, TU_DATA_RANGE, "machine",
                       "the step must be a finite number above zero");
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const tu_repeatability *stored = &machine->repeatability[axis];
        if (!isnan(stored->sd_mm) &&
            !(stored->sd_mm > 0.0 && isfinite(stored->sd_mm) && stored->dof > 0.0))
            return tu_fail(
                error, TU_DATA_RANGE, "machine",
                "the stored repeatability of %c needs a standard deviation and degrees of "
                "freedom above zero",
                tu_axis_letter((tu_axis)axis));
        if (machine->travel_low_mm[axis] >= machine->travel_high_mm[axis])
            return tu_fail(error, TU_DATA_RANGE, "machine",
                           "the travel of %c ends below where it starts",
                           tu_axis_letter((tu_axis)axis));
    }
    return TU_OK;
}

tu_status tu_request_check_things(const tu_zero_request *request, tu_error *error)
{
    const size_rule stock[] = {
        {"{stock_thickness}", "the stock's thickness", request->stock_thickness, true, false,
         false},
        {"stock", "the stock's size along X", request->stock.size[0], true, false, false},
        {"stock", "the stock's size along Y", request->stock.size[1], true, false, false},
        {"stock", "the stock's thickness", request->stock.size[2], true, false, false},
        {"{depth}", "the depth", request->depth, true, false, false}};
    tu_status status = tu_machine_check(&request->machine, error);
    if (!status)
        status = check_plate(request, error);
    if (!status && request->cutter != NULL)
        status = check_cutter(request->cutter, error);
    return !status ? check_sizes(stock, sizeof stock / sizeof stock[0], error) : status;
}
