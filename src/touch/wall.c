/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * wall.c - a horizontal axis touched on a wall of the plate.
 *
 * P = E + s o + s sigma r: P the cutter's axis, E the stock's edge, s the edge's outward direction,
 * o the wall's offset, sigma its facing, r the cutter's effective radius (docs/geometry.md).
 */
#include "touch/request.h"
#include "touch/shown.h"
#include "touch/sideways.h"

#include <math.h>

/* Whether wall b (or a bore's distance b) would give another zero than a. */
static bool walls_differ(const tu_plate *plate)
{
    if (plate->bore.present)
        return plate->bore.centre[0].value_mm != plate->bore.centre[1].value_mm;
    return plate->wall[0].present && plate->wall[1].present &&
           (plate->wall[0].offset.value_mm != plate->wall[1].offset.value_mm ||
            plate->wall[0].facing != plate->wall[1].facing);
}

tu_status tu_wall_choose(const tu_zero_request *request, tu_axis axis, int *index,
                         tu_warnings *warnings, tu_error *error)
{
    const tu_plate *plate = request->plate;
    int own = tu_plate_wall_for(plate, request->target, axis);
    *index = own;
    if (!tu_target_is_face(request->target))
        return TU_OK;
    if (!plate->turned) {
        if (request->wall >= 0 && request->wall != own)
            return tu_fail(error, TU_USAGE, "{wall}",
                           "plate %s is not turned, so its wall %c serves %c: leave {wall} out",
                           plate->name, "ab"[own], tu_axis_letter(axis));
        return TU_OK;
    }
    *index = request->wall >= 0 ? request->wall : 0;
    if (request->wall < 0 && walls_differ(plate))
        tu_warn(warnings,
                "wall a of plate %s was taken, and wall b would give another zero: say {wall} a or "
                "{wall} b.",
                plate->name);
    return TU_OK;
}

static tu_status find_wall(const tu_zero_request *request, tu_axis axis, int *index,
                           tu_warnings *warnings, tu_error *error)
{
    const tu_plate *plate = request->plate;
    tu_status status = tu_wall_choose(request, axis, index, warnings, error);
    if (!status && !plate->wall[*index].present)
        return tu_fail(
            error, TU_DATA_MISSING, "{plate}",
            "plate %s has no wall %c, which would serve %c at %s: name another plate, or "
            "leave %c out",
            plate->name, "ab"[*index], tu_axis_letter(axis), tu_target_name(request->target),
            tu_axis_letter(axis));
    return status;
}

/* The depth at contact: what was stated for this touch, else the plate's. */
static tu_status find_depth(const tu_zero_request *request, const tu_wall *wall, int index,
                            tu_quantity *depth, tu_error *error)
{
    *depth = tu_quantity_is_stated(request->depth) ? request->depth : wall->touch_depth;
    if (wall->rise.value_mm > 0.0 && depth->value_mm >= wall->rise.value_mm)
        return tu_fail(error, TU_DATA_CONFLICT, "{depth}",
                       "a tip %s below the top of wall %c would stand in the plate: the wall rises "
                       "only %s above the plate's face",
                       tu_show_length(request->read_unit, depth->value_mm).text, "ab"[index],
                       tu_show_length(request->read_unit, wall->rise.value_mm).text);
    return TU_OK;
}

static tu_status check_approach(const tu_zero_request *request, tu_axis axis, int needed,
                                tu_error *error)
{
    const tu_axis_touches *touches = &request->touches[axis];
    const char *where = tu_touches_field(axis);
    for (size_t i = 0; i < touches->single_count; i++) {
        if (touches->single[i].direction == -needed)
            return tu_fail(error, TU_DATA_CONFLICT, where,
                           "number %zu moved %c%c, but the wall that serves %c at this corner is "
                           "touched moving %c%c: another corner, or another way round for the "
                           "plate?",
                           i + 1, tu_axis_letter(axis), needed > 0 ? '-' : '+',
                           tu_axis_letter(axis), tu_axis_letter(axis), needed > 0 ? '+' : '-');
    }
    return TU_OK;
}

/* The cutter's sizes, by how far each tolerance moves the reach. They are common to X and Y. */
static void add_cutter_sizes(tu_cutter *cutter, double depth_mm, double sign, tu_sideways *side)
{
    struct {
        const char *source;
        tu_quantity *quantity;
    } sizes[] = {{"cutter diameter", &cutter->diameter},
                 {"corner radius", &cutter->corner_radius},
                 {"tip diameter", &cutter->tip}};
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        double half_width = tu_radius_half_width(cutter, depth_mm, sizes[i].quantity);
        if (i == 0 || half_width != 0.0)
            tu_sideways_add(side, (tu_part){.source = sizes[i].source,
                                            .effect_mm = sign * half_width / sqrt(3.0),
                                            .dof = INFINITY,
                                            .common = true});
    }
}

/* What differs from one wall to the next: how the flutes stood, where the run-out pointed. */
static void add_cutter_position(const tu_cutter *cutter, const tu_flute_loss *flutes,
                                tu_sideways *side)
{
    if (cutter->flutes > 0)
        tu_sideways_add(side, (tu_part){.source = "flute alignment",
                                        .effect_mm = flutes->standard_mm,
                                        .dof = INFINITY});
    if (tu_quantity_is_stated(cutter->run_out)) {
        /* Total indicated reading e moves the axis by e/2 in a direction that nobody knows. */
        tu_sideways_add(side, (tu_part){.source = "run-out",
                                        .effect_mm = cutter->run_out.value_mm / 2.0 / sqrt(2.0),
                                        .dof = INFINITY});
    }
}

/* The reach of the cutter beside this wall, with its own sources of uncertainty. */
static tu_status measure_radius(const tu_zero_request *request, tu_axis axis, tu_quantity depth,
                                tu_axis_zero *zero, tu_sideways *side,
                                tu_untoleranced *untoleranced, tu_warnings *warnings,
                                tu_error *error)
{
    tu_cutter cutter = tu_request_cutter(request);
    double slope = 0.0;
    tu_status status =
        tu_cutter_profile_radius(&cutter, depth.value_mm, &zero->profile_radius_mm, &slope, error);
    if (status)
        return status;
    zero->depth_mm = depth.value_mm;
    zero->flutes = tu_cutter_flute_loss(&cutter, zero->profile_radius_mm, depth.value_mm);
    zero->effective_radius_mm = zero->flutes.mean_reach_mm;
    tu_warn_flutes(&cutter, &zero->flutes, axis, request->read_unit, warnings);

    double sign =
        zero->outward * (int)zero->facing * (zero->effective_radius_mm / zero->profile_radius_mm);
    add_cutter_sizes(&cutter, depth.value_mm, sign, side);
    add_cutter_position(&cutter, &zero->flutes, side);
    tu_untoleranced_note(untoleranced, cutter.diameter, "the cutter's diameter");
    if (slope > 0.0) {
        tu_untoleranced_note(untoleranced, depth, "the touch depth");
        double standard = slope * tu_standard_of_tolerance(depth.tolerance_mm);
        tu_sideways_add(side, (tu_part){.source = "touch depth",
                                        .effect_mm = sign * standard,
                                        .dof = INFINITY,
                                        .common = tu_quantity_is_stated(request->depth)});
    }
    return TU_OK;
}

tu_status tu_wall_measure(const tu_zero_request *request, tu_axis axis, double angle_rad,
                          tu_axis_zero *zero, tu_sideways *side, tu_untoleranced *untoleranced,
                          tu_warnings *warnings, tu_error *error)
{
    const tu_axis_touches *touches = &request->touches[axis];
    tu_series series;
    int index = 0;
    tu_status status = find_wall(request, axis, &index, warnings, error);
    if (status)
        return status;
    if (request->cutter == NULL)
        return tu_fail(error, TU_DATA_MISSING, "{cutter}",
                       "%c needs the cutter that touched the wall: its radius is part of the zero",
                       tu_axis_letter(axis));
    const tu_wall *wall = &request->plate->wall[index];
    zero->wall = index;
    zero->facing = wall->facing;
    zero->offset_mm = wall->offset.value_mm;
    tu_quantity depth;
    status = find_depth(request, wall, index, &depth, error);
    if (status)
        return status;
    status = check_approach(request, axis, -zero->outward * (int)wall->facing, error);
    if (!status)
        status = tu_series_collect(request, axis, touches->single, touches->single_count, "",
                                   axis == TU_AXIS_X ? -tan(angle_rad) : tan(angle_rad), &series,
                                   warnings, error);
    if (status)
        return status;
    zero->touch_count = series.count;
    zero->touch_mm = series.mean_mm;
    zero->touch_sd_mm = series.sd_mm;
    zero->across_mm = series.across_mm;
    tu_repeatability pooled =
        tu_repeatability_pool(series.count, series.sd_mm, request->machine.repeatability[axis]);
    tu_warn_single_touch(axis, series.count, pooled, warnings);
    tu_sideways_add_position(side, pooled, 1.0 / sqrt((double)series.count),
                             request->machine.step_mm);
    tu_sideways_add(side,
                    (tu_part){.source = "wall offset",
                              .effect_mm = tu_standard_of_tolerance(wall->offset.tolerance_mm),
                              .dof = INFINITY});
    tu_untoleranced_note(untoleranced, wall->offset,
                         index == 0 ? "the offset of wall a" : "the offset of wall b");
    status = measure_radius(request, axis, depth, zero, side, untoleranced, warnings, error);
    side->stand_off_mm =
        zero->outward * (zero->offset_mm + (int)wall->facing * zero->effective_radius_mm);
    return status;
}
