/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sideways.c - parts that a wall and a bore share: the cutter as used, its flutes, its tolerances.
 */
#include "touch/sideways.h"

#include "touch/shown.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void tu_sideways_add(tu_sideways *side, tu_part part)
{
    if (side->count < TU_PARTS_MAX)
        side->part[side->count++] = part;
}

void tu_sideways_add_position(tu_sideways *side, tu_repeatability single, double sd_of_mean_factor,
                              double step_mm)
{
    if (single.dof > 0.0)
        tu_sideways_add(side, (tu_part){.source = "touches",
                                        .effect_mm = single.sd_mm * sd_of_mean_factor,
                                        .dof = single.dof,
                                        .of_position = true});
    if (!isnan(step_mm))
        tu_sideways_add(side, (tu_part){.source = "machine step",
                                        .effect_mm = tu_standard_of_step(step_mm),
                                        .dof = INFINITY,
                                        .of_position = true});
}

tu_repeatability tu_axis_repeatability(const tu_zero_request *request, tu_axis axis,
                                       const tu_axis_zero *zero)
{
    /* A bore's contacts have a mean at either side, so one degree of freedom less. */
    size_t count = zero->touch_count - (zero->bore ? 1 : 0);
    return tu_repeatability_pool(count, zero->touch_sd_mm, request->machine.repeatability[axis]);
}

void tu_untoleranced_note(tu_untoleranced *list, tu_quantity quantity, const char *name)
{
    if (isnan(quantity.value_mm) || !isnan(quantity.tolerance_mm) ||
        strstr(list->names, name) != NULL)
        return;
    size_t used = strlen(list->names);
    snprintf(list->names + used, sizeof list->names - used, "%s%s", used > 0 ? ", " : "", name);
}

void tu_warn_single_touch(tu_axis axis, size_t count, tu_repeatability pooled,
                          tu_warnings *warnings)
{
    char letter = tu_axis_letter(axis);
    if (pooled.dof <= 0.0) {
        tu_warn(warnings,
                "%c was touched once and no repeatability is stored for it: repeatability is left "
                "out of its uncertainty. Touch at least three times.",
                letter);
    } else if (count == 1) {
        tu_warn(warnings,
                "%c was touched once: a chip or a slip would not show. Touch at least three times.",
                letter);
    }
}

tu_cutter tu_request_cutter(const tu_zero_request *request)
{
    tu_cutter cutter = *request->cutter;
    if (!isnan(request->turned_within_rad))
        cutter.turned_within_rad = request->turned_within_rad;
    return cutter;
}

void tu_warn_flutes(const tu_cutter *cutter, const tu_flute_loss *loss, tu_axis axis, tu_unit unit,
                    tu_warnings *warnings)
{
    if (cutter->flutes <= 0) {
        tu_warn(warnings,
                "cutter %s states no flutes: it counts as a full circle, as a pin or a dowel is.",
                cutter->name);
        return;
    }
    if (loss->gap_rad <= 0.0 || loss->turned)
        return;
    tu_warn(warnings,
            "%c: no edge of the %d-flute cutter %s was turned to the wall: it may reach up to %s "
            "less than its radius. Turn an edge to the wall, touch again, and say "
            "{turned_within} 5deg.",
            tu_axis_letter(axis), cutter->flutes, cutter->name,
            tu_show_length(unit, loss->worst_loss_mm).text);
}

double tu_radius_half_width(tu_cutter *cutter, double depth_mm, tu_quantity *quantity)
{
    double value = quantity->value_mm;
    double tolerance = quantity->tolerance_mm;
    double low = NAN;
    double high = NAN;
    if (isnan(value) || !(tolerance > 0.0))
        return 0.0;
    quantity->value_mm = value - tolerance;
    tu_status below = tu_cutter_profile_radius(cutter, depth_mm, &low, NULL, NULL);
    quantity->value_mm = value + tolerance;
    tu_status above = tu_cutter_profile_radius(cutter, depth_mm, &high, NULL, NULL);
    quantity->value_mm = value;
    /* A tolerance as large as the shape allows has one usable side only; the other is taken alike.
     */
    double at = NAN;
    if (below || above) {
        tu_cutter_profile_radius(cutter, depth_mm, &at, NULL, NULL);
        low = below ? 2.0 * at - high : low;
        high = above ? 2.0 * at - low : high;
    }
    return (high - low) / 2.0;
}
