/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_place.c - which part of the plate serves which side of the stock.
 */
#include "program/plan_place.h"

#include "base/started.h"
#include "trueup/zero.h"

#include <math.h>

static double tolerance_of(tu_quantity quantity)
{
    return isnan(quantity.tolerance_mm) ? 0.0 : quantity.tolerance_mm;
}

/* --- The corner --- */

/*
 * The corner that the plate lies on. Of a single side face it is the one that brings the wanted
 * wall to that face: a turned plate has walls a and b on the axes of front-left and back-right, and
 * the other way round on the other two.
 */
static tu_status find_corner(const tu_plan_corner *plan, tu_target *corner, tu_error *error)
{
    *corner = plan->target;
    bool x = corner->outward[TU_AXIS_X] != 0, y = corner->outward[TU_AXIS_Y] != 0;
    if (x == y) {
        if (plan->wall >= 0)
            return tu_fail(error, TU_USAGE, "{wall}", "is for a single side face");
        return TU_OK;
    }
    tu_axis axis = x ? TU_AXIS_X : TU_AXIS_Y;
    tu_axis other = x ? TU_AXIS_Y : TU_AXIS_X;
    int wall = plan->wall >= 0 ? plan->wall : 0;
    for (int sign = -1; sign <= 1; sign += 2) {
        corner->outward[other] = sign;
        if (tu_plate_wall_for(plan->plate, *corner, axis) == wall)
            return TU_OK;
    }
    return tu_fail(error, TU_DATA_CONFLICT, "{wall}",
                   "plate %s is not turned, so its wall %c does not serve %c; name "
                   "{wall} %c",
                   plan->plate->name, 'a' + wall, tu_axis_letter(axis), 'a' + (1 - wall));
}

/* --- Sides --- */

static tu_status place_wall(const tu_plan_table *table, tu_plan_side *side, tu_error *error)
{
    const tu_wall *wall = &table->plate->wall[side->index];
    if (!wall->present)
        return TU_OK;
    double rise = wall->rise.value_mm;
    side->kind = rise > 0.0 ? TU_PLAN_RISING : TU_PLAN_SIDE;
    side->top_mm = rise > 0.0 ? rise : 0.0;
    side->face_mm = side->outward * wall->offset.value_mm;
    side->direction = -side->outward * (int)wall->facing;
    side->spread_mm = tolerance_of(wall->offset);
    if (side->kind != TU_PLAN_SIDE || wall->facing == TU_FACES_OUTWARD)
        return TU_OK;
    side->kind = TU_PLAN_NO_WALL;
    if (side->touched)
        return tu_fail(error, TU_DATA_CONFLICT, "{plate}",
                       "wall %c of plate %s faces inward and does not rise above the plate's face, "
                       "so the cutter cannot come to it: state its rise in the shop file, if it "
                       "does",
                       'a' + side->index, table->plate->name);
    return TU_OK;
}

static void place_bore(const tu_plan_table *table, tu_plan_side *side)
{
    const tu_bore *bore = &table->plate->bore;
    side->face_mm = side->outward * bore->centre[side->index].value_mm;
    side->spread_mm = tolerance_of(bore->centre[side->index]);
}

static tu_status place_side(tu_plan_table *table, tu_axis axis, tu_warnings *warnings,
                            tu_error *error)
{
    tu_plan_side *side = &table->side[axis];
    side->index = tu_plate_wall_for(table->plate, table->corner, axis);
    side->outward = table->corner.outward[axis];
    side->touched = tu_target_asks(table->plan->target, axis);
    tu_status status = TU_OK;
    if (table->bore)
        place_bore(table, side);
    else
        status = place_wall(table, side, error);
    /* In a bore the other axis is brought to its middle, too. */
    if (status || !(side->touched || table->bore))
        return status;
    if (!table->bore && side->kind == TU_PLAN_NO_WALL)
        return tu_fail(error, TU_DATA_MISSING, "{plate}",
                       "plate %s has no wall %c, which would serve %c at %s: name another plate, "
                       "or a face alone",
                       table->plate->name, 'a' + side->index, tu_axis_letter(axis),
                       tu_target_name(table->plan->target));
    if (table->cutter == NULL)
        return tu_fail(error, TU_DATA_MISSING, "{cutter}",
                       "%c needs the cutter that touches: its radius decides where it can go",
                       tu_axis_letter(axis));
    return tu_plan_place_tip(table, side, warnings, error);
}

static void place_lift(tu_plan_table *table)
{
    const tu_plan_style *style = table->style;
    double top = 0.0;
    for (int axis = 0; axis < 2 && table->plate != NULL; axis++) {
        const tu_wall *wall = &table->plate->wall[axis];
        if (wall->present && wall->rise.value_mm > 0.0)
            top = fmax(top, wall->rise.value_mm);
    }
    table->lift_mm = fmax(top + style->clearance_mm, style->height_mm[1]);
}

/* --- The whole --- */

/* Sizes that no file would have let through, from a caller of the library. */
static tu_status check_plate(const tu_plate *plate, tu_error *error)
{
    if (!plate->started)
        return tu_fail_not_started(error, "{plate}", "tu_plate_start");
    bool good = isfinite(plate->thickness.value_mm) && plate->thickness.value_mm > 0.0;
    for (int w = 0; w < 2; w++) {
        const tu_wall *wall = &plate->wall[w];
        if (wall->present)
            good = good && isfinite(wall->offset.value_mm) && !isinf(wall->rise.value_mm) &&
                   !isinf(wall->touch_depth.value_mm);
        if (plate->bore.present)
            good = good && isfinite(plate->bore.centre[w].value_mm) &&
                   isfinite(plate->bore.diameter.value_mm);
    }
    return good ? TU_OK
                : tu_fail(error, TU_DATA_RANGE, "{plate}",
                          "a size of plate %s is missing or is no finite number", plate->name);
}

static tu_status check_plan(const tu_plan_corner *plan, tu_error *error)
{
    tu_status status = tu_target_check(plan->target, error);
    if (status)
        return status;
    if (plan->wall > 1)
        return tu_fail(error, TU_USAGE, "{wall}", "is a or b");
    double within = plan->turned_within_rad;
    if (isnan(within) && plan->cutter != NULL)
        within = plan->cutter->turned_within_rad;
    if (!isnan(within) && !(within > 0.0 && within <= M_PI_2))
        return tu_fail(error, TU_DATA_RANGE, "{turned_within}",
                       "must lie above 0 and at most at 90 degrees");
    if (tu_quantity_is_stated(plan->depth) &&
        !(plan->depth.value_mm > 0.0 && plan->depth.value_mm <= 100.0))
        return tu_fail(error, TU_DATA_RANGE, "{depth}", "must lie above 0 and at most at 100 mm");
    if (plan->plate == NULL)
        return tu_fail(error, TU_DATA_MISSING, "{plate}", "no plate was named");
    double diameter = plan->cutter != NULL ? plan->cutter->diameter.value_mm : 1.0;
    if (!(diameter > 0.0 && isfinite(diameter)))
        return tu_fail(error, TU_DATA_RANGE, "{cutter}", "its diameter must be above zero");
    return check_plate(plan->plate, error);
}

tu_status tu_plan_place(const tu_plan_corner *plan, const tu_plan_style *style,
                        tu_plan_table *table, tu_warnings *warnings, tu_error *error)
{
    *table = (tu_plan_table){.plan = plan,
                             .plate = plan->plate,
                             .cutter = plan->cutter,
                             .touches_z = tu_target_asks(plan->target, TU_AXIS_Z),
                             .style = style};
    tu_status status = check_plan(plan, error);
    if (!status)
        status = find_corner(plan, &table->corner, error);
    if (status)
        return status;
    table->bore = plan->plate->bore.present;
    table->radius_mm = plan->cutter != NULL ? plan->cutter->diameter.value_mm / 2.0 : 0.0;
    place_lift(table);
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y && !status; axis++)
        if (table->corner.outward[axis] != 0)
            status = place_side(table, (tu_axis)axis, warnings, error);
    return !status ? tu_plan_place_start(table, warnings, error) : status;
}
