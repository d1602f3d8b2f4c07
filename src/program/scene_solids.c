/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scene_solids.c - bed, stock, plate and blocks as solids.
 *
 * The plate is made as it lies on a front-left corner and is then turned or mirrored bodily: which
 * wall serves which axis is no matter of a rule here.
 */
#include "program/scene_solids.h"

#include "trueup/rehearse.h"

#include <math.h>

/* --- Places --- */

static tu_machine_plane_point turned(tu_machine_plane_point p, double angle_rad)
{
    double c = cos(angle_rad), s = sin(angle_rad);
    return (tu_machine_plane_point){c * p.x - s * p.y, s * p.x + c * p.y};
}

/* A place in the stock's own frame, its front-left corner the origin. */
static tu_machine_plane_point stock_place(const tu_scene *scene, double x, double y)
{
    tu_machine_plane_point p = turned((tu_machine_plane_point){x, y}, scene->stock_angle_rad);
    return (tu_machine_plane_point){scene->stock_corner.x + p.x, scene->stock_corner.y + p.y};
}

static double stock_size(const tu_scene *scene, tu_axis axis)
{
    double size = scene->stock_size_mm[axis];
    return scene->stock_present || isfinite(size) ? size : 0.0;
}

tu_machine_plane_point tu_scene_stock_corner(const tu_scene *scene, tu_target corner)
{
    double x = corner.outward[TU_AXIS_X] > 0 ? stock_size(scene, TU_AXIS_X) : 0.0;
    double y = corner.outward[TU_AXIS_Y] > 0 ? stock_size(scene, TU_AXIS_Y) : 0.0;
    return stock_place(scene, x, y);
}

double tu_scene_stock_seat(const tu_scene *scene)
{
    return tu_bed_surface_height(&scene->bed, scene->stock_corner.x, scene->stock_corner.y);
}

double tu_scene_plate_seat(const tu_scene *scene)
{
    if (scene->seat == TU_SEAT_STOCK && scene->stock_present)
        return tu_scene_stock_seat(scene) + scene->stock_size_mm[TU_AXIS_Z];
    tu_machine_plane_point corner = tu_scene_stock_corner(scene, scene->plate_corner);
    return tu_bed_surface_height(&scene->bed, corner.x, corner.y);
}

/* A place on the plate, given by its distances outwards of the edges that walls a and b stand on:
 * on a front-left corner the left and the front edge. */
static tu_machine_plane_point plate_place(const tu_scene *scene, double out_a, double out_b)
{
    bool right = scene->plate_corner.outward[TU_AXIS_X] > 0;
    bool back = scene->plate_corner.outward[TU_AXIS_Y] > 0;
    tu_machine_plane_point p = {-out_a, -out_b};
    int quarters = scene->wrong_turns;
    if (scene->plate.turned)
        quarters += back ? (right ? 2 : 3) : (right ? 1 : 0);
    else
        p = (tu_machine_plane_point){right ? -p.x : p.x, back ? -p.y : p.y};
    /* Quarter turns without rounding, so that walls stay square to the machine. */
    for (int i = ((quarters % 4) + 4) % 4; i > 0; i--)
        p = (tu_machine_plane_point){-p.y, p.x};
    p = turned(p, scene->stock_angle_rad);
    tu_machine_plane_point corner = tu_scene_stock_corner(scene, scene->plate_corner);
    return (tu_machine_plane_point){corner.x + p.x, corner.y + p.y};
}

/* --- Solids --- */

static tu_solid *add_prism(tu_solids *solids, const char *name, bool conducts, double low_mm,
                           double high_mm, const tu_machine_plane_point corner[TU_PRISM_CORNERS])
{
    tu_solid *solid = &solids->solid[solids->count++];
    *solid = (tu_solid){
        .name = name,
        .conducts = conducts,
        .prism = {.outline = tu_polygon_start(corner), .low_mm = low_mm, .high_mm = high_mm}};
    return solid;
}

static void add_stock(const tu_scene *scene, tu_solids *solids)
{
    double x = scene->stock_size_mm[TU_AXIS_X], y = scene->stock_size_mm[TU_AXIS_Y];
    double low = tu_scene_stock_seat(scene);
    const tu_machine_plane_point corner[] = {stock_place(scene, 0.0, 0.0),
                                             stock_place(scene, x, 0.0), stock_place(scene, x, y),
                                             stock_place(scene, 0.0, y)};
    add_prism(solids, "stock", false, low, low + scene->stock_size_mm[TU_AXIS_Z], corner);
}

static void add_block(const tu_scene_block *block, tu_solids *solids)
{
    const tu_machine_plane_point corner[] = {{block->low.x, block->low.y},
                                             {block->high.x, block->low.y},
                                             {block->high.x, block->high.y},
                                             {block->low.x, block->high.y}};
    add_prism(solids, block->name, false, block->low.z, block->high.z, corner);
}

/* --- The plate --- */

static bool rises(const tu_wall *wall)
{
    return wall->present && wall->rise.value_mm > 0.0;
}

/* Whether the wall is the slab's own side. */
static bool is_side(const tu_wall *wall)
{
    return wall->present && !rises(wall) && wall->facing == TU_FACES_OUTWARD;
}

static void reach_along(const tu_plate *plate, int edge, double reach_mm[2])
{
    const tu_wall *wall = &plate->wall[edge];
    reach_mm[0] = -TU_PLATE_REACH_MM;
    reach_mm[1] = 0.0;
    if (plate->bore.present) {
        double centre = plate->bore.centre[edge].value_mm;
        double half = plate->bore.diameter.value_mm / 2.0 + TU_PLATE_RIM_MM;
        reach_mm[0] = fmin(reach_mm[0], centre - half);
        reach_mm[1] = fmax(reach_mm[1], centre + half);
    } else if (is_side(wall)) {
        reach_mm[1] = wall->offset.value_mm;
    } else if (rises(wall)) {
        reach_mm[1] = fmax(0.0, wall->offset.value_mm) + TU_PLATE_MARGIN_MM;
    }
}

tu_plate_body tu_plate_body_start(const tu_plate *plate, tu_seat seat)
{
    tu_plate_body body;
    bool plain = !plate->bore.present && !plate->wall[0].present && !plate->wall[1].present;
    for (int edge = 0; edge < 2; edge++) {
        double *reach = body.reach_mm[edge];
        reach_along(plate, edge, reach);
        if (plain && seat == TU_SEAT_BED) {
            reach[0] = TU_PLATE_BESIDE_MM;
            reach[1] = TU_PLATE_BESIDE_MM + TU_PLATE_REACH_MM;
        }
        for (int end = 0; end < 2; end++)
            if (tu_quantity_is_stated(plate->extent[edge][end]))
                reach[end] = plate->extent[edge][end].value_mm;
    }
    return body;
}

/* A part of the plate: from and to are distances outwards of edge `edge`, the other edge's range is
 * the body's; heights above the seat. */
static tu_solid *add_part(const tu_scene *scene, tu_solids *solids, const tu_plate_body *body,
                          int edge, double from, double to, double low, double high)
{
    const double *other = body->reach_mm[1 - edge];
    double a0 = edge == 0 ? from : other[0], a1 = edge == 0 ? to : other[1];
    double b0 = edge == 0 ? other[0] : from, b1 = edge == 0 ? other[1] : to;
    double seat = tu_scene_plate_seat(scene);
    const tu_machine_plane_point corner[] = {plate_place(scene, a0, b0), plate_place(scene, a1, b0),
                                             plate_place(scene, a1, b1),
                                             plate_place(scene, a0, b1)};
    return add_prism(solids, "plate", true, seat + low, seat + high, corner);
}

static void add_wall(const tu_scene *scene, tu_solids *solids, const tu_plate_body *body, int edge)
{
    const tu_wall *wall = &scene->plate.wall[edge];
    double offset = wall->offset.value_mm;
    if (rises(wall)) {
        double high = scene->plate.thickness.value_mm + wall->rise.value_mm;
        if (wall->facing == TU_FACES_OUTWARD)
            add_part(scene, solids, body, edge, offset - TU_PLATE_BAR_MM, offset, 0.0, high);
        else
            add_part(scene, solids, body, edge, offset, offset + TU_PLATE_BAR_MM, 0.0, high);
    }
    /* The lip that puts the plate against the stock; turned wrong, there is no room for it. */
    if (is_side(wall) && offset > 0.0 && scene->seat == TU_SEAT_STOCK &&
        scene->wrong_turns % 4 == 0)
        add_part(scene, solids, body, edge, fmax(0.0, offset - TU_PLATE_BAR_MM), offset,
                 -TU_PLATE_LIP_MM, 0.0);
}

static void add_plate(const tu_scene *scene, tu_solids *solids)
{
    const tu_plate *plate = &scene->plate;
    tu_plate_body body = tu_plate_body_start(plate, scene->seat);
    const double *a = body.reach_mm[0];
    tu_solid *slab = add_part(scene, solids, &body, 0, a[0], a[1], 0.0, plate->thickness.value_mm);
    if (plate->bore.present) {
        slab->prism.hole_radius_mm = plate->bore.diameter.value_mm / 2.0;
        slab->prism.hole =
            plate_place(scene, plate->bore.centre[0].value_mm, plate->bore.centre[1].value_mm);
        return;
    }
    for (int edge = 0; edge < 2; edge++)
        add_wall(scene, solids, &body, edge);
}

void tu_scene_build_solids(const tu_scene *scene, tu_solids *solids)
{
    solids->count = 0;
    solids->solid[solids->count++] = tu_solid_start_bed(&scene->bed, scene->bed_conducts);
    if (scene->stock_present)
        add_stock(scene, solids);
    if (scene->plate_present)
        add_plate(scene, solids);
    for (size_t i = 0; i < scene->block_count; i++)
        add_block(&scene->block[i], solids);
}

/* --- The truth --- */

tu_status tu_scene_truth(const tu_scene *scene, tu_target target, tu_machine_point *zero,
                         tu_error *error)
{
    *zero = (tu_machine_point){NAN, NAN, NAN};
    tu_status status = tu_target_check(target, error);
    if (!status)
        status = tu_scene_check(scene, error);
    if (status)
        return status;
    bool asks_sideways = tu_target_asks(target, TU_AXIS_X) || tu_target_asks(target, TU_AXIS_Y);
    bool asks_top = target.outward[TU_AXIS_Z] > 0;
    if (!scene->stock_present && (asks_sideways || asks_top))
        return tu_fail(error, TU_DATA_MISSING, "stock",
                       "only the bed is there: without stock the scene has no %s",
                       tu_target_name(target));
    tu_target nearest = target;
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++)
        if (nearest.outward[axis] == 0)
            nearest.outward[axis] = scene->plate_corner.outward[axis];
    tu_machine_plane_point corner = tu_scene_stock_corner(scene, nearest);
    if (tu_target_asks(target, TU_AXIS_X))
        zero->x = corner.x;
    if (tu_target_asks(target, TU_AXIS_Y))
        zero->y = corner.y;
    if (tu_target_asks(target, TU_AXIS_Z))
        zero->z = tu_scene_stock_seat(scene) + (asks_top ? scene->stock_size_mm[TU_AXIS_Z] : 0.0);
    return TU_OK;
}
