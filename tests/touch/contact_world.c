/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * contact_world.c - solids moved against each other; see contact_world.h.
 */
#include "contact_world.h"

#include <math.h>
#include <string.h>

enum { SLAB_NEAR = 80, SLAB_FAR = 120, WALL_NEAR = 30, WALL_FAR = 74 };

static const double wall_breadth_mm = 7.0;
static const double shank_top_mm = 80.0;
static const double clear_mm = 6.0;
static const double pi = 3.14159265358979323846;

/* ---- the cutter's outline ---- */

static void add_line(cw_cutter *cutter, double r0, double z0, double r1, double z1)
{
    cutter->piece[cutter->count++] = (cw_piece){r0, z0, r1, z1, 0.0};
}

cw_cutter cw_flat(double diameter)
{
    cw_cutter cutter = {0};
    add_line(&cutter, 0.0, 0.0, diameter / 2, 0.0);
    add_line(&cutter, diameter / 2, 0.0, diameter / 2, shank_top_mm);
    return cutter;
}

cw_cutter cw_ball(double diameter)
{
    return cw_bull(diameter, diameter / 2);
}

cw_cutter cw_bull(double diameter, double corner_radius)
{
    cw_cutter cutter = {0};
    double flat = diameter / 2 - corner_radius;

    add_line(&cutter, 0.0, 0.0, flat, 0.0);
    cutter.piece[cutter.count++] = (cw_piece){flat, corner_radius, 0.0, 0.0, corner_radius};
    add_line(&cutter, diameter / 2, corner_radius, diameter / 2, shank_top_mm);
    return cutter;
}

cw_cutter cw_vee(double diameter, double included, double tip)
{
    cw_cutter cutter = {0};
    double flank_top = (diameter - tip) / 2 / tan(included / 2);

    add_line(&cutter, 0.0, 0.0, tip / 2, 0.0);
    add_line(&cutter, tip / 2, 0.0, diameter / 2, flank_top);
    add_line(&cutter, diameter / 2, flank_top, diameter / 2, shank_top_mm);
    return cutter;
}

static double line_radius(const cw_piece *piece, double z)
{
    if (piece->z1 == piece->z0)
        return fmax(piece->r0, piece->r1);
    return piece->r0 + (piece->r1 - piece->r0) * (z - piece->z0) / (piece->z1 - piece->z0);
}

static double arc_radius(const cw_piece *piece, double z)
{
    double up = z - piece->z0;

    return piece->r0 + sqrt(fmax(0.0, piece->arc * piece->arc - up * up));
}

double cw_widest(const cw_cutter *cutter, double low, double high)
{
    double widest = -1.0;

    for (size_t i = 0; i < cutter->count; i++) {
        const cw_piece *piece = &cutter->piece[i];
        double bottom = piece->arc > 0.0 ? piece->z0 - piece->arc : piece->z0;
        double top = piece->arc > 0.0 ? piece->z0 : piece->z1;
        double from = fmax(low, bottom), to = fmin(high, top);

        if (from > to)
            continue;
        if (piece->arc > 0.0)
            widest = fmax(widest, fmax(arc_radius(piece, from), arc_radius(piece, to)));
        else
            widest = fmax(widest, fmax(line_radius(piece, from), line_radius(piece, to)));
    }
    return widest;
}

/* ---- solids ---- */

static double distance_to_segment(cw_plane p, cw_plane a, cw_plane b)
{
    double ux = b.x - a.x, uy = b.y - a.y;
    double along = ((p.x - a.x) * ux + (p.y - a.y) * uy) / (ux * ux + uy * uy);

    along = fmin(1.0, fmax(0.0, along));
    return hypot(p.x - a.x - along * ux, p.y - a.y - along * uy);
}

/* Distance from a point to a polygon's outline; inside: by counting crossings. */
static double distance_to_outline(const cw_plane *corner, size_t count, cw_plane p, bool *inside)
{
    double nearest = INFINITY;

    *inside = false;
    for (size_t i = 0; i < count; i++) {
        cw_plane a = corner[i], b = corner[(i + 1) % count];

        nearest = fmin(nearest, distance_to_segment(p, a, b));
        if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
            *inside = !*inside;
    }
    return nearest;
}

/* Whether a disc shares a point with a solid's plan. A disc inside a hole meets only its side. */
static bool disc_overlaps(const cw_solid *solid, cw_plane centre, double radius)
{
    bool inside, in_hole;
    double outline = distance_to_outline(solid->corner, solid->count, centre, &inside);
    double rim;

    if (!inside)
        return outline < radius;
    if (solid->hole_count > 0) {
        rim = distance_to_outline(solid->hole, solid->hole_count, centre, &in_hole);
        return !in_hole || rim < radius;
    }
    if (solid->hole_radius > 0.0)
        return hypot(centre.x - solid->hole_centre.x, centre.y - solid->hole_centre.y) + radius >
               solid->hole_radius;
    return true;
}

bool cw_overlaps(const cw_world *world, const cw_cutter *cutter, cw_place tip)
{
    for (size_t i = 0; i < world->count; i++) {
        const cw_solid *solid = &world->solid[i];
        double radius;

        if (tip.z >= solid->high)
            continue;
        radius = cw_widest(cutter, fmax(0.0, solid->low - tip.z), solid->high - tip.z);
        if (radius >= 0.0 && disc_overlaps(solid, (cw_plane){tip.x, tip.y}, radius))
            return true;
    }
    return false;
}

static cw_place stepped(cw_place from, int axis, double step)
{
    cw_place to = from;

    if (axis == 0)
        to.x += step;
    else if (axis == 1)
        to.y += step;
    else
        to.z += step;
    return to;
}

bool cw_move(const cw_world *world, const cw_cutter *cutter, cw_place from, int axis, int direction,
             cw_place *contact)
{
    const double step = 0.5;
    double clear = 0.0, blocked = NAN;

    *contact = (cw_place){NAN, NAN, NAN};
    if (cw_overlaps(world, cutter, from))
        return false;
    for (double travel = step; travel < 200.0; travel += step) {
        if (cw_overlaps(world, cutter, stepped(from, axis, direction * travel))) {
            blocked = travel;
            break;
        }
        clear = travel;
    }
    if (isnan(blocked))
        return false;
    while (blocked - clear > 1e-10) {
        double middle = (clear + blocked) / 2;

        if (cw_overlaps(world, cutter, stepped(from, axis, direction * middle)))
            blocked = middle;
        else
            clear = middle;
    }
    *contact = stepped(from, axis, direction * clear);
    return true;
}

/* ---- building the set-up ---- */

cw_plane cw_stock_point(const cw_setup *setup, double x, double y)
{
    double c = cos(setup->angle), s = sin(setup->angle);

    return (cw_plane){setup->front_left.x + c * x - s * y, setup->front_left.y + s * x + c * y};
}

cw_plane cw_corner(const cw_setup *setup)
{
    return cw_stock_point(setup, setup->right ? setup->size_x : 0.0,
                          setup->back ? setup->size_y : 0.0);
}

/* How the plate comes from the front-left corner to its own: in quarter turns, or in the mirror. */
static cw_plane carried(const cw_setup *setup, cw_plane p)
{
    int quarters = setup->back ? (setup->right ? 2 : 3) : (setup->right ? 1 : 0);

    if (!setup->plate.bodily)
        return (cw_plane){setup->right ? -p.x : p.x, setup->back ? -p.y : p.y};
    for (int i = 0; i < quarters; i++)
        p = (cw_plane){-p.y, p.x};
    return p;
}

cw_plane cw_plate_point(const cw_setup *setup, double x, double y)
{
    cw_plane p = carried(setup, (cw_plane){x, y});

    return cw_stock_point(setup, p.x + (setup->right ? setup->size_x : 0.0),
                          p.y + (setup->back ? setup->size_y : 0.0));
}

static cw_solid *add_solid(cw_world *world, double low, double high)
{
    cw_solid *solid = &world->solid[world->count++];

    solid->count = 0;
    solid->low = low;
    solid->high = high;
    solid->hole_radius = 0.0;
    solid->hole_count = 0;
    return solid;
}

/* A box given by two opposite corners in the plate's own frame. */
static cw_solid *add_plate_box(cw_world *world, double x0, double y0, double x1, double y1,
                               double low, double high)
{
    cw_solid *solid = add_solid(world, low, high);

    solid->count = 4;
    solid->corner[0] = cw_plate_point(&world->setup, x0, y0);
    solid->corner[1] = cw_plate_point(&world->setup, x1, y0);
    solid->corner[2] = cw_plate_point(&world->setup, x1, y1);
    solid->corner[3] = cw_plate_point(&world->setup, x0, y1);
    return solid;
}

/*
 * On a front-left corner the stock lies towards +x, +y. A face `offset` outside the left edge is
 * at x = -offset; looking outward it looks to -x and has its material on the +x side of it.
 */
static double face_at(const cw_wall *wall)
{
    return -wall->offset;
}

static double behind(const cw_wall *wall)
{
    return face_at(wall) + (wall->outward ? wall_breadth_mm : -wall_breadth_mm);
}

static void add_bore(cw_world *world, double low, double high)
{
    const cw_plate *plate = &world->setup.plate;
    double x = -plate->bore_out[0], y = -plate->bore_out[1];
    double half = plate->bore_diameter / 2 + 12.0;
    cw_solid *solid = add_plate_box(world, x - half, y - half, x + half, y + half, low, high);

    if (plate->bore_sides == 0) {
        solid->hole_radius = plate->bore_diameter / 2;
        solid->hole_centre = cw_plate_point(&world->setup, x, y);
        return;
    }
    solid->hole_count = (size_t)plate->bore_sides;
    for (int i = 0; i < plate->bore_sides; i++) {
        double angle = 2 * pi * i / plate->bore_sides;

        solid->hole[i] = cw_plate_point(&world->setup, x + plate->bore_diameter / 2 * cos(angle),
                                        y + plate->bore_diameter / 2 * sin(angle));
    }
}

static void add_plate(cw_world *world)
{
    const cw_setup *setup = &world->setup;
    const cw_wall *wall = setup->plate.wall;
    double top = setup->bed + setup->size_z;
    double seat = setup->on_bed ? setup->bed : top;
    double sign = setup->on_bed ? -1.0 : 1.0; /* beside the stock, or over it */

    add_plate_box(world, sign * SLAB_NEAR, sign * SLAB_NEAR, sign * SLAB_FAR, sign * SLAB_FAR, seat,
                  seat + setup->plate.thickness);
    if (setup->plate.bored) {
        add_bore(world, top, top + CW_WALL_HEIGHT);
        return;
    }
    add_plate_box(world, face_at(&wall[0]), WALL_NEAR, behind(&wall[0]), WALL_FAR, top,
                  top + CW_WALL_HEIGHT);
    add_plate_box(world, WALL_NEAR, face_at(&wall[1]), WALL_FAR, behind(&wall[1]), top,
                  top + CW_WALL_HEIGHT);
}

void cw_build(cw_world *world, const cw_setup *setup)
{
    const double far = 1e5;
    cw_solid *solid;

    world->setup = *setup;
    world->count = 0;
    solid = add_solid(world, setup->bed - 100.0, setup->bed);
    solid->count = 4;
    solid->corner[0] = (cw_plane){-far, -far};
    solid->corner[1] = (cw_plane){far, -far};
    solid->corner[2] = (cw_plane){far, far};
    solid->corner[3] = (cw_plane){-far, far};
    solid = add_solid(world, setup->bed, setup->bed + setup->size_z);
    solid->count = 4;
    solid->corner[0] = cw_stock_point(setup, 0.0, 0.0);
    solid->corner[1] = cw_stock_point(setup, setup->size_x, 0.0);
    solid->corner[2] = cw_stock_point(setup, setup->size_x, setup->size_y);
    solid->corner[3] = cw_stock_point(setup, 0.0, setup->size_y);
    if (!setup->plate_away)
        add_plate(world);
}

/* ---- touching ---- */

/* A point of a wall's touched face, and one straight in front of it. */
static cw_plane before_face(const cw_setup *setup, int wall, double along, double distance)
{
    const cw_wall *w = &setup->plate.wall[wall];
    double across = face_at(w) + (w->outward ? -distance : distance);
    double middle = (WALL_NEAR + WALL_FAR) / 2.0 + along;

    return wall == 0 ? cw_plate_point(setup, across, middle)
                     : cw_plate_point(setup, middle, across);
}

int cw_wall_across(const cw_setup *setup, int axis)
{
    cw_plane face = before_face(setup, 0, 0.0, 0.0), front = before_face(setup, 0, 0.0, 1.0);
    bool first_is_across_x = fabs(front.x - face.x) > fabs(front.y - face.y);

    return first_is_across_x == (axis == 0) ? 0 : 1;
}

bool cw_touch_wall(const cw_world *world, const cw_cutter *cutter, int axis, double along,
                   double depth, cw_place *contact, int *direction)
{
    const cw_setup *setup = &world->setup;
    int wall = cw_wall_across(setup, axis);
    double room = cw_widest(cutter, 0.0, depth) + clear_mm;
    cw_plane face = before_face(setup, wall, along, 0.0);
    cw_plane start = before_face(setup, wall, along, room);
    double towards = axis == 0 ? face.x - start.x : face.y - start.y;
    double tip = setup->bed + setup->size_z + CW_WALL_HEIGHT - depth;

    *direction = towards > 0.0 ? 1 : -1;
    return cw_move(world, cutter, (cw_place){start.x, start.y, tip}, axis, *direction, contact);
}

bool cw_touch_bore(const cw_world *world, const cw_cutter *cutter, int axis, int direction,
                   cw_plane off, double depth, cw_place *contact)
{
    const cw_setup *setup = &world->setup;
    cw_plane centre = cw_plate_point(setup, -setup->plate.bore_out[0], -setup->plate.bore_out[1]);
    double tip = setup->bed + setup->size_z + CW_WALL_HEIGHT - depth;

    return cw_move(world, cutter, (cw_place){centre.x + off.x, centre.y + off.y, tip}, axis,
                   direction, contact);
}

bool cw_touch_plate(const cw_world *world, const cw_cutter *cutter, cw_place *contact)
{
    const cw_setup *setup = &world->setup;
    double middle = (setup->on_bed ? -1.0 : 1.0) * (SLAB_NEAR + SLAB_FAR) / 2.0;
    cw_plane over = cw_plate_point(setup, middle, middle);
    double above = setup->bed + setup->size_z + setup->plate.thickness + 20.0;

    return cw_move(world, cutter, (cw_place){over.x, over.y, above}, 2, -1, contact);
}

bool cw_touch_bare(const cw_world *world, const cw_cutter *cutter, int axis, bool high,
                   double along, double below, cw_place *contact)
{
    const cw_setup *setup = &world->setup;
    double size = axis == 0 ? setup->size_x : setup->size_y;
    double room = cw_widest(cutter, 0.0, below) + clear_mm;
    double across = high ? size + room : -room;
    cw_plane start =
        axis == 0 ? cw_stock_point(setup, across, along) : cw_stock_point(setup, along, across);
    double tip = setup->bed + setup->size_z - below;

    return cw_move(world, cutter, (cw_place){start.x, start.y, tip}, axis, high ? -1 : 1, contact);
}
