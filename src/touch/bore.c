/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bore.c - a horizontal axis touched on both sides of a plate's bore.
 *
 * The bore's centre is the midpoint of the two contacts, whatever the cutter's radius and wherever
 * across the bore the chord lies. The chord's length is a free check: bore_check.c.
 */
#include "touch/request.h"
#include "touch/shown.h"
#include "touch/sideways.h"

#include <math.h>

static tu_status collect_sides(const tu_zero_request *request, tu_axis axis, tu_series *low,
                               tu_series *high, tu_warnings *warnings, tu_error *error)
{
    const tu_axis_touches *touches = &request->touches[axis];
    const char *where = tu_touches_field(axis);
    if (touches->low_count == 0 || touches->high_count == 0)
        return tu_fail(error, TU_DATA_MISSING, where,
                       "a bore needs a contact on either side: give LOW:HIGH, as in %s "
                       "92.100:110.750",
                       where);
    tu_status status = tu_series_collect(request, axis, touches->low, touches->low_count,
                                         ", low side", 0.0, low, warnings, error);
    if (!status)
        status = tu_series_collect(request, axis, touches->high, touches->high_count, ", high side",
                                   0.0, high, warnings, error);
    if (!status && !(low->mean_mm < high->mean_mm))
        status = tu_fail(error, TU_DATA_CONFLICT, where,
                         "the low contact, %s, must lie below the high one, %s: give them "
                         "as LOW:HIGH",
                         tu_show_length(request->read_unit, low->mean_mm).text,
                         tu_show_length(request->read_unit, high->mean_mm).text);
    return status;
}

/* Both sides scatter alike, so their repeats are pooled. */
static double pool_sides(const tu_series *low, const tu_series *high)
{
    double dof_low = (double)low->count - 1.0;
    double dof_high = (double)high->count - 1.0;
    double sum = (dof_low > 0.0 ? dof_low * low->sd_mm * low->sd_mm : 0.0) +
                 (dof_high > 0.0 ? dof_high * high->sd_mm * high->sd_mm : 0.0);
    return dof_low + dof_high > 0.0 ? sqrt(sum / (dof_low + dof_high)) : NAN;
}

static void add_parts(const tu_zero_request *request, tu_axis axis, const tu_series *low,
                      const tu_series *high, tu_axis_zero *zero, tu_sideways *side,
                      tu_warnings *warnings)
{
    size_t contacts = low->count + high->count;
    zero->touch_sd_mm = pool_sides(low, high);
    tu_repeatability pooled = tu_axis_repeatability(request, axis, zero);
    tu_warn_single_touch(axis, contacts / 2, pooled, warnings);
    double factor = sqrt(1.0 / (double)low->count + 1.0 / (double)high->count) / 2.0;
    tu_sideways_add_position(side, pooled, factor, request->machine.step_mm);
    tu_sideways_add(side, (tu_part){.source = "bore centre",
                                    .effect_mm = tu_standard_of_tolerance(
                                        request->plate->bore.centre[zero->wall].tolerance_mm),
                                    .dof = INFINITY});
    /* An even number of flutes stands alike at both sides, and its loss cancels. */
    if (request->cutter != NULL && request->cutter->flutes % 2 != 0)
        tu_sideways_add(side, (tu_part){.source = "flute alignment",
                                        .effect_mm = zero->flutes.standard_mm / sqrt(2.0),
                                        .dof = INFINITY});
}

/* The radius is wanted for the check only: a depth that is not known just leaves it out. */
static void measure_radius(const tu_zero_request *request, tu_axis axis, tu_axis_zero *zero,
                           tu_warnings *warnings)
{
    if (request->cutter == NULL) {
        tu_warn(warnings, "no cutter is named: the chord across the bore could not be checked.");
        return;
    }
    tu_cutter cutter = tu_request_cutter(request);
    tu_quantity depth =
        tu_quantity_is_stated(request->depth) ? request->depth : request->plate->bore.touch_depth;
    if (tu_cutter_profile_radius(&cutter, depth.value_mm, &zero->profile_radius_mm, NULL, NULL)) {
        tu_warn(warnings,
                "the reach of cutter %s at an unknown depth is not known: the chord across the "
                "bore could not be checked. Give {depth}.",
                cutter.name);
        return;
    }
    zero->depth_mm = depth.value_mm;
    zero->flutes = tu_cutter_flute_loss(&cutter, zero->profile_radius_mm, depth.value_mm);
    zero->effective_radius_mm = zero->flutes.mean_reach_mm;
    if (cutter.flutes % 2 != 0)
        tu_warn_flutes(&cutter, &zero->flutes, axis, request->read_unit, warnings);
}

tu_status tu_bore_measure(const tu_zero_request *request, tu_axis axis, tu_axis_zero *zero,
                          tu_sideways *side, tu_untoleranced *untoleranced, tu_warnings *warnings,
                          tu_error *error)
{
    tu_series low;
    tu_series high;
    tu_status status = tu_wall_choose(request, axis, &zero->wall, warnings, error);
    if (!status)
        status = collect_sides(request, axis, &low, &high, warnings, error);
    if (status)
        return status;
    const tu_bore *bore = &request->plate->bore;
    zero->bore = true;
    zero->offset_mm = bore->centre[zero->wall].value_mm;
    zero->touch_count = low.count + high.count;
    zero->low_mm = low.mean_mm;
    zero->high_mm = high.mean_mm;
    zero->touch_mm = (low.mean_mm + high.mean_mm) / 2.0;
    zero->chord_mm = high.mean_mm - low.mean_mm;
    zero->across_mm = (low.across_mm + high.across_mm) / 2.0;
    measure_radius(request, axis, zero, warnings);
    add_parts(request, axis, &low, &high, zero, side, warnings);
    tu_untoleranced_note(untoleranced, bore->centre[zero->wall],
                         zero->wall == 0 ? "the bore's distance a" : "the bore's distance b");
    side->stand_off_mm = zero->outward * zero->offset_mm;
    return TU_OK;
}
