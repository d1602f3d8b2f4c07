/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_reach.c - how deep the tip goes beside a wall or into a bore, and how far the cutter reaches
 * there.
 */
#include "program/plan_place.h"

#include "trueup/cutter.h"

#include <math.h>

/* Common practice, no source: a depth where none is stated, and how well an edge is turned. */
static const double usual_depth_mm = 5.0, usual_share = 0.6;
static const double usual_within_rad = 10.0 * M_PI / 180.0;

/* The least depth that is sure to be a touch of the wall. Edges are broken by a few tenths of a
 * millimetre, and a tip stands as deep as it should only to the overrun of the touch before.
 * Common practice, no source; it also keeps a depth above the shortest probe move that NISTIR 6556,
 * 3.5.9, allows, 0.254 mm. */
static const double least_depth_mm = 0.5;

/* --- Depth --- */

/* The height over which the tip can stand beside what is touched: how deep it may go, less what
 * must be left below it. */
static double room_mm(const tu_plan_table *table, const tu_plan_side *side)
{
    if (side->kind == TU_PLAN_RISING)
        return side->top_mm - TU_PLAN_GAP_MM;
    return table->plate->thickness.value_mm - TU_PLAN_MARGIN_MM;
}

static tu_status refuse_depth(const tu_plan_table *table, const tu_plan_side *side, double depth,
                              tu_error *error)
{
    const char *plate = table->plate->name;
    if (side->kind == TU_PLAN_RISING)
        return tu_fail(error, TU_DATA_CONFLICT, "{depth}",
                       "wall %c of plate %s rises %.2f mm above the face: a tip %.2f mm below its "
                       "top edge would not clear the face by %.1f mm; touch less deep",
                       'a' + side->index, plate, side->top_mm, depth, TU_PLAN_GAP_MM);
    return tu_fail(error, TU_DATA_CONFLICT, "{depth}",
                   "plate %s is %.2f mm thick: a tip %.2f mm below its face would not stay %.1f mm "
                   "above the %s; touch less deep",
                   plate, table->plate->thickness.value_mm, depth, TU_PLAN_MARGIN_MM,
                   table->plan->seat == TU_SEAT_BED ? "bed" : "stock");
}

static double tolerance_of(tu_quantity quantity)
{
    return isnan(quantity.tolerance_mm) ? 0.0 : quantity.tolerance_mm;
}

/* Whether the tip is below the wall's top edge, and its broken edge, whatever the sizes are off. */
static tu_status check_least_depth(const tu_plan_table *table, const tu_plan_side *side,
                                   tu_quantity depth, tu_error *error)
{
    double least = least_depth_mm + TU_PLAN_ALLOWANCE_MM + tolerance_of(depth);
    if (side->kind == TU_PLAN_RISING)
        least += tolerance_of(table->plate->wall[side->index].rise);
    if (!(depth.value_mm < least))
        return TU_OK;
    return tu_fail(
        error, TU_DATA_CONFLICT, "{depth}",
        "a tip %.2f mm below the edge of plate %s might meet its broken edge, or nothing, "
        "instead of the wall: touch at least %.2f mm deep",
        depth.value_mm, table->plate->name, least);
}

static tu_status take_depth(const tu_plan_table *table, tu_plan_side *side, tu_warnings *warnings,
                            tu_error *error)
{
    tu_quantity stated = table->plan->depth;
    if (!tu_quantity_is_stated(stated))
        stated = table->bore ? table->plate->bore.touch_depth
                             : table->plate->wall[side->index].touch_depth;
    double room = room_mm(table, side), depth = stated.value_mm;
    if (isnan(depth)) {
        if (table->cutter->shape != TU_CUTTER_FLAT)
            return tu_fail(error, TU_DATA_MISSING, "{depth}",
                           "the reach of cutter %s depends on how deep it stands beside the wall: "
                           "give {depth}, or touch_depth in the shop file",
                           table->cutter->name);
        double whole =
            side->kind == TU_PLAN_RISING ? side->top_mm : table->plate->thickness.value_mm;
        depth = fmin(usual_depth_mm, usual_share * whole);
        if (depth <= room)
            tu_warn(warnings,
                    "no touch depth is stated: the tip goes %.2f mm below the wall's top edge.",
                    depth);
    }
    if (!(depth <= room))
        return refuse_depth(table, side, depth, error);
    tu_status status = check_least_depth(
        table, side, (tu_quantity){.value_mm = depth, .tolerance_mm = stated.tolerance_mm}, error);
    if (status)
        return status;
    side->depth_mm = depth;
    side->tip_mm = side->top_mm - depth;
    return TU_OK;
}

/* --- Reach --- */

static tu_status take_reach(const tu_plan_table *table, tu_plan_side *side, tu_warnings *warnings,
                            tu_error *error)
{
    tu_cutter cutter = *table->cutter;
    if (!isnan(table->plan->turned_within_rad))
        cutter.turned_within_rad = table->plan->turned_within_rad;
    bool stated = !isnan(cutter.turned_within_rad);
    tu_status status =
        tu_cutter_profile_radius(&cutter, side->depth_mm, &side->radius_mm, NULL, error);
    if (status)
        return status;
    if (!stated)
        cutter.turned_within_rad = usual_within_rad;
    tu_flute_loss flutes = tu_cutter_flute_loss(&cutter, side->radius_mm, side->depth_mm);
    side->turn = cutter.flutes > 0 && flutes.gap_rad > 0.0;
    side->reach_mm = flutes.mean_reach_mm;
    side->loss_mm = flutes.worst_loss_mm;
    if (tu_quantity_is_stated(cutter.run_out))
        side->spread_mm += cutter.run_out.value_mm / 2.0;
    if (!isnan(cutter.diameter.tolerance_mm))
        side->spread_mm += cutter.diameter.tolerance_mm / 2.0;
    if (!side->turn || stated)
        return TU_OK;
    if (table->style->set && !table->bore)
        return tu_fail(error, TU_DATA_MISSING, "{turned_within}",
                       "the pauses ask for an edge of cutter %s to be turned to the wall, and how "
                       "well that is done is part of the offset: give {turned_within}, as in 5deg, "
                       "or turned_within_deg in the shop file",
                       cutter.name);
    tu_warn(warnings,
            "cutter %s states no turned_within_deg; the pauses ask for an edge to be turned to the "
            "wall, so give zero {turned_within}, as in 5deg.",
            cutter.name);
    return TU_OK;
}

static tu_status check_bore(const tu_plan_table *table, tu_error *error)
{
    const tu_bore *bore = &table->plate->bore;
    double diameter = 2.0 * table->radius_mm;
    if (!(diameter + 2.0 * TU_PLAN_GAP_MM < bore->diameter.value_mm))
        return tu_fail(
            error, TU_DATA_CONFLICT, "{cutter}",
            "cutter %s, %.3f mm, does not go into the %.3f mm bore of plate %s with room "
            "to touch",
            table->cutter->name, diameter, bore->diameter.value_mm, table->plate->name);
    double room = (bore->diameter.value_mm - diameter) / 2.0 - TU_PLAN_GAP_MM;
    if (table->style->back_off_mm > room)
        return tu_fail(error, TU_DATA_CONFLICT, "{back_off}",
                       "backing off %.2f mm would take cutter %s towards the other side of the "
                       "bore: it has %.2f mm of room; use a smaller {back_off}",
                       table->style->back_off_mm, table->cutter->name, fmax(room, 0.0));
    return TU_OK;
}

tu_status tu_plan_place_tip(const tu_plan_table *table, tu_plan_side *side, tu_warnings *warnings,
                            tu_error *error)
{
    tu_status status = table->bore ? check_bore(table, error) : TU_OK;
    if (!status)
        status = take_depth(table, side, warnings, error);
    return !status ? take_reach(table, side, warnings, error) : status;
}
