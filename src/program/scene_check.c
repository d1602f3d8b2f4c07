/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scene_check.c - which scenes cannot be.
 */
#include "program/scene_solids.h"

#include "base/started.h"

#include <math.h>

/* Further away than any router's table: a slip of units, or worse. */
static const double far_mm = 1e5;

typedef enum number_kind { ANY, NOT_NEGATIVE, ABOVE_ZERO } number_kind;

typedef struct checked_number {
    const char *name;
    double value;
    number_kind kind;
} checked_number;

static tu_status check_number(const char *where, checked_number number, tu_error *error)
{
    if (isnan(number.value))
        return tu_fail(error, TU_DATA_MISSING, where, "%s is missing; state it", number.name);
    if (!(fabs(number.value) <= far_mm))
        return tu_fail(error, TU_DATA_RANGE, where, "%s is %g; nothing on a table is beyond %g",
                       number.name, number.value, far_mm);
    if (number.kind == ABOVE_ZERO && !(number.value > 0.0))
        return tu_fail(error, TU_DATA_RANGE, where, "%s is %g; it must be above zero", number.name,
                       number.value);
    if (number.kind == NOT_NEGATIVE && number.value < 0.0)
        return tu_fail(error, TU_DATA_RANGE, where, "%s is %g; it cannot be below zero",
                       number.name, number.value);
    return TU_OK;
}

static tu_status check_numbers(const char *where, const checked_number *number, size_t count,
                               tu_error *error)
{
    tu_status status = TU_OK;
    for (size_t i = 0; i < count && !status; i++)
        status = check_number(where, number[i], error);
    return status;
}

#define CHECK_NUMBERS(where, list, error)                                                          \
    check_numbers((where), (list), sizeof(list) / sizeof(list)[0], (error))

static tu_status check_machine(const tu_scene *scene, tu_error *error)
{
    const tu_machine *machine = &scene->machine;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double low = machine->travel_low_mm[axis], high = machine->travel_high_mm[axis];
        if (isnan(low) != isnan(high) || low >= high || isinf(low) || isinf(high))
            return tu_fail(error, TU_DATA_RANGE, "machine",
                           "the travel of %c must run from a lower to a higher coordinate",
                           tu_axis_letter((tu_axis)axis));
    }
    const checked_number numbers[] = {
        {"the step", isnan(machine->step_mm) ? 1.0 : machine->step_mm, ABOVE_ZERO},
        {"the traverse rate in mm/min", scene->rapid_mm_per_min, ABOVE_ZERO},
        {"the noise in mm", scene->noise_mm, NOT_NEGATIVE},
        {"the latch delay in seconds", scene->latch_delay_s, NOT_NEGATIVE},
        {"the bounce in seconds", scene->bounce_s, NOT_NEGATIVE},
        {"the angle within which the operator turns an edge",
         isnan(scene->turned_within_rad) ? 0.0 : scene->turned_within_rad, NOT_NEGATIVE},
    };
    tu_status status = CHECK_NUMBERS("machine", numbers, error);
    for (size_t slot = 0; slot < 9 && !status; slot++) {
        const double *offset = scene->slot_mm[slot];
        const checked_number offsets[] = {{"an X offset", offset[0], ANY},
                                          {"a Y offset", offset[1], ANY},
                                          {"a Z offset", offset[2], ANY}};
        status = CHECK_NUMBERS("work offsets", offsets, error);
    }
    return status;
}

/* Faster than that nothing wanders as it warms; it moves. */
static tu_status check_wander(const tu_scene *scene, tu_error *error)
{
    const double fastest_mm_per_s = 0.02, most_mm = 1.0;
    bool warms = false;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double drift = scene->drift_mm_per_s[axis], rise = scene->warm_up_mm[axis];
        warms = warms || rise != 0.0;
        if (!(fabs(drift) <= fastest_mm_per_s && fabs(rise) <= most_mm))
            return tu_fail(error, TU_DATA_RANGE, "contact",
                           "%c drifts by at most %g mm in a second and warms up by at most %g mm",
                           tu_axis_letter((tu_axis)axis), fastest_mm_per_s, most_mm);
    }
    double tau = scene->warm_up_tau_s;
    if (warms && !(tau > 0.0 && tau <= 1e6))
        return tu_fail(error, TU_DATA_RANGE, "contact",
                       "warming up has a time constant above 0 and at most 1000000 s");
    return TU_OK;
}

static tu_status check_bed(const tu_bed_surface *bed, tu_error *error)
{
    const checked_number numbers[] = {{"the height", bed->height_mm, ANY},
                                      {"the slope along X", bed->slope_x, ANY},
                                      {"the slope along Y", bed->slope_y, ANY}};
    tu_status status = CHECK_NUMBERS("bed", numbers, error);
    if (status)
        return status;
    /* Beyond this it is a ramp and no bed, and the search for contacts relies on it. */
    if (hypot(bed->slope_x, bed->slope_y) > 1.0)
        return tu_fail(error, TU_DATA_RANGE, "bed",
                       "the slopes are in mm per mm: a bed steeper than 45 degrees cannot be");
    if (bed->columns == 0 && bed->rows == 0)
        return TU_OK;
    if (bed->columns < 2 || bed->rows < 2 || bed->columns > TU_BED_MAP_MAX ||
        bed->rows > TU_BED_MAP_MAX || bed->columns * bed->rows > TU_BED_MAP_MAX)
        return tu_fail(error, TU_DATA_RANGE, "bed",
                       "a map has at least 2 columns and 2 rows, and at most %d points",
                       TU_BED_MAP_MAX);
    const checked_number map[] = {{"the map's first x", bed->map_x0_mm, ANY},
                                  {"the map's first y", bed->map_y0_mm, ANY},
                                  {"the distance of the map's columns", bed->map_dx_mm, ABOVE_ZERO},
                                  {"the distance of the map's rows", bed->map_dy_mm, ABOVE_ZERO}};
    status = CHECK_NUMBERS("bed", map, error);
    for (size_t i = 0; i < bed->columns * bed->rows && !status; i++)
        status = check_number("bed", (checked_number){"a height of the map", bed->map_mm[i], ANY},
                              error);
    return status;
}

static tu_status check_stock(const tu_scene *scene, tu_error *error)
{
    const checked_number place[] = {{"the corner's x", scene->stock_corner.x, ANY},
                                    {"the corner's y", scene->stock_corner.y, ANY},
                                    {"the angle", scene->stock_angle_rad, ANY}};
    tu_status status = CHECK_NUMBERS("stock", place, error);
    if (status || !scene->stock_present)
        return status;
    const checked_number size[] = {{"the size along X", scene->stock_size_mm[0], ABOVE_ZERO},
                                   {"the size along Y", scene->stock_size_mm[1], ABOVE_ZERO},
                                   {"the thickness", scene->stock_size_mm[2], ABOVE_ZERO}};
    return CHECK_NUMBERS("stock", size, error);
}

static tu_status check_cutter(const tu_cutter *cutter, tu_error *error)
{
    double diameter = cutter->diameter.value_mm;
    double radius = diameter / 2.0;
    bool vee = cutter->shape == TU_CUTTER_VEE;
    double core = cutter->core.value_mm, tip = cutter->tip.value_mm;
    const checked_number numbers[] = {
        {"the diameter", diameter, ABOVE_ZERO},
        {"the corner radius",
         cutter->shape == TU_CUTTER_BULL ? cutter->corner_radius.value_mm : 1.0, ABOVE_ZERO},
        {"the included angle", vee ? cutter->included_rad : 1.0, ABOVE_ZERO},
        {"the tip", isnan(tip) ? 0.0 : tip, NOT_NEGATIVE},
        {"the core", isnan(core) ? 0.0 : core, NOT_NEGATIVE},
        {"the helix angle", isnan(cutter->helix_rad) ? 0.0 : cutter->helix_rad, NOT_NEGATIVE},
        {"the run-out", isnan(cutter->run_out.value_mm) ? 0.0 : cutter->run_out.value_mm,
         NOT_NEGATIVE},
        {"the number of flutes", cutter->flutes, NOT_NEGATIVE},
    };
    tu_status status = CHECK_NUMBERS("cutter", numbers, error);
    if (status)
        return status;
    if (cutter->shape == TU_CUTTER_BULL && cutter->corner_radius.value_mm > radius)
        return tu_fail(error, TU_DATA_RANGE, "cutter",
                       "the corner radius is more than half the diameter");
    if (vee && (cutter->included_rad >= M_PI || tip > diameter))
        return tu_fail(error, TU_DATA_RANGE, "cutter",
                       "the included angle must be below 180 degrees, and the tip not wider than "
                       "the cutter");
    if (core > diameter || cutter->helix_rad >= 1.5 || cutter->flutes > 100)
        return tu_fail(error, TU_DATA_RANGE, "cutter",
                       "the core cannot be wider than the cutter, the helix angle is below 85 "
                       "degrees, and there are at most 100 flutes");
    return TU_OK;
}

static tu_status check_bore(const tu_plate *plate, const tu_plate_body *body, tu_error *error)
{
    const checked_number numbers[] = {
        {"the bore's diameter", plate->bore.diameter.value_mm, ABOVE_ZERO},
        {"the bore's centre from edge a", plate->bore.centre[0].value_mm, ANY},
        {"the bore's centre from edge b", plate->bore.centre[1].value_mm, ANY}};
    tu_status status = CHECK_NUMBERS("plate", numbers, error);
    for (int edge = 0; edge < 2 && !status; edge++) {
        double centre = plate->bore.centre[edge].value_mm;
        double radius = plate->bore.diameter.value_mm / 2.0;
        if (!(centre - radius > body->reach_mm[edge][0] &&
              centre + radius < body->reach_mm[edge][1]))
            status =
                tu_fail(error, TU_DATA_CONFLICT, "plate",
                        "the bore does not lie within the plate's extent along %c", 'a' + edge);
    }
    return status;
}

static tu_status check_wall(const tu_plate *plate, const tu_plate_body *body, int edge,
                            tu_error *error)
{
    const tu_wall *wall = &plate->wall[edge];
    double rise = wall->rise.value_mm;
    const checked_number numbers[] = {{"a wall's offset", wall->offset.value_mm, ANY},
                                      {"a wall's rise", isnan(rise) ? 0.0 : rise, NOT_NEGATIVE}};
    tu_status status = CHECK_NUMBERS("plate", numbers, error);
    bool is_side = !(rise > 0.0) && wall->facing == TU_FACES_OUTWARD;
    if (!status && is_side && fabs(body->reach_mm[edge][1] - wall->offset.value_mm) > 1e-3)
        status = tu_fail(error, TU_DATA_CONFLICT, "plate",
                         "wall %c does not rise above the plate's face, so it is the plate's own "
                         "side: its offset is %g, but the plate's extent ends at %g",
                         'a' + edge, wall->offset.value_mm, body->reach_mm[edge][1]);
    return status;
}

/* Whether a line along an edge of one polygon parts it from the other. */
static bool parts(const tu_polygon *one, const tu_polygon *other)
{
    for (int i = 0; i < TU_PRISM_CORNERS; i++) {
        double least = INFINITY;
        for (int j = 0; j < TU_PRISM_CORNERS; j++)
            least = fmin(least, one->normal[i].x * other->corner[j].x +
                                    one->normal[i].y * other->corner[j].y - one->reach_mm[i]);
        if (least > -1e-6)
            return true;
    }
    return false;
}

static tu_status check_plate_place(const tu_scene *scene, tu_error *error)
{
    if (scene->plate_corner.outward[TU_AXIS_X] == 0 || scene->plate_corner.outward[TU_AXIS_Y] == 0)
        return tu_fail(error, TU_DATA_MISSING, "plate",
                       "a plate lies on one of the corners, such as front-left-top: say which");
    if (scene->seat == TU_SEAT_STOCK && !scene->stock_present)
        return tu_fail(error, TU_DATA_CONFLICT, "plate",
                       "the plate lies on the stock, but there is none: seat it on the bed");
    if (scene->seat == TU_SEAT_STOCK || !scene->stock_present)
        return TU_OK;
    tu_solids solids;
    tu_scene_build_solids(scene, &solids);
    for (size_t i = 2; i < solids.count - scene->block_count; i++) {
        const tu_polygon *stock = &solids.solid[1].prism.outline;
        const tu_polygon *part = &solids.solid[i].prism.outline;
        if (!parts(stock, part) && !parts(part, stock))
            return tu_fail(error, TU_DATA_CONFLICT, "plate",
                           "the plate lies on the bed and reaches into the stock: state its "
                           "extent, or seat it on the stock");
    }
    return TU_OK;
}

static tu_status check_plate(const tu_scene *scene, tu_error *error)
{
    const tu_plate *plate = &scene->plate;
    if (!plate->started)
        return tu_fail_not_started(error, "plate", "tu_plate_start");
    tu_plate_body body = tu_plate_body_start(plate, scene->seat);
    tu_status status = check_number(
        "plate", (checked_number){"the thickness", plate->thickness.value_mm, ABOVE_ZERO}, error);
    if (!status && plate->bore.present)
        status = check_bore(plate, &body, error);
    for (int edge = 0; edge < 2 && !status; edge++) {
        if (plate->wall[edge].present && !plate->bore.present)
            status = check_wall(plate, &body, edge, error);
        const double *reach = body.reach_mm[edge];
        const checked_number numbers[] = {{"the extent", reach[0], ANY},
                                          {"the extent", reach[1], ANY}};
        if (!status)
            status = CHECK_NUMBERS("plate", numbers, error);
        if (!status && !(reach[0] < reach[1]))
            status = tu_fail(error, TU_DATA_RANGE, "plate",
                             "the extent along %c must run from a lower to a higher distance",
                             'a' + edge);
    }
    return !status ? check_plate_place(scene, error) : status;
}

static tu_status check_block(const tu_scene_block *block, tu_error *error)
{
    const double low[] = {block->low.x, block->low.y, block->low.z};
    const double high[] = {block->high.x, block->high.y, block->high.z};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (!(low[axis] < high[axis] && fabs(low[axis]) <= far_mm && fabs(high[axis]) <= far_mm))
            return tu_fail(error, TU_DATA_RANGE, block->name,
                           "a block runs from a lower to a higher %c, both within %g mm",
                           tu_axis_letter((tu_axis)axis), far_mm);
    }
    return TU_OK;
}

static tu_status check_start(const tu_scene *scene, tu_error *error)
{
    const double start[] = {scene->start.x, scene->start.y, scene->start.z};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        tu_status status = check_number(
            "start", (checked_number){"a coordinate of the start", start[axis], ANY}, error);
        if (status)
            return status;
        if (start[axis] < scene->machine.travel_low_mm[axis] ||
            start[axis] > scene->machine.travel_high_mm[axis])
            return tu_fail(error, TU_DATA_RANGE, "start", "%c is %.3f, outside the travel %g to %g",
                           tu_axis_letter((tu_axis)axis), start[axis],
                           scene->machine.travel_low_mm[axis], scene->machine.travel_high_mm[axis]);
    }
    return TU_OK;
}

tu_status tu_scene_check(const tu_scene *scene, tu_error *error)
{
    tu_status status = check_machine(scene, error);
    if (!status)
        status = check_wander(scene, error);
    if (!status)
        status = check_bed(&scene->bed, error);
    if (!status)
        status = check_stock(scene, error);
    if (!status && scene->plate_present)
        status = check_plate(scene, error);
    if (!status)
        status = check_cutter(&scene->cutter, error);
    if (!status)
        status = check_number("cutter", (checked_number){"the angle", scene->cutter_angle_rad, ANY},
                              error);
    if (!status && scene->block_count > TU_SCENE_BLOCKS)
        status = tu_fail(error, TU_DATA_RANGE, "blocks", "at most %d blocks can lie there",
                         TU_SCENE_BLOCKS);
    for (size_t i = 0; i < scene->block_count && !status; i++)
        status = check_block(&scene->block[i], error);
    return !status ? check_start(scene, error) : status;
}
