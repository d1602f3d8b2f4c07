/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * contact_world.h - a small solid world for tests: a bed, a block of stock, a plate and a cutter,
 * moved against each other until they touch.
 *
 * It knows nothing of offsets, signs or effective radii. Walls are slabs of material, the plate is
 * built once as it lies on a front-left corner and is then turned (or mirrored) bodily onto the
 * other corners; which wall stands across which axis is read off the turned body. The cutter is
 * the outline of a solid of revolution; it is moved until it shares a point with something, and
 * the last clear position is the contact. So a test that gets the stock's corner back from these
 * contacts checks the formulas of docs/geometry.md against the thing itself.
 *
 * Lengths in millimetres, angles in radians, machine frame (X+ right, Y+ back, Z+ up).
 */
#ifndef CONTACT_WORLD_H
#define CONTACT_WORLD_H

#include <stdbool.h>
#include <stddef.h>

typedef struct cw_plane {
    double x, y;
} cw_plane;

typedef struct cw_place {
    double x, y, z;
} cw_place;

/*
 * The outline of a cutter, from the tip's centre outwards and up: pieces of straight line and
 * circle in the (radius, height) half plane. A line runs from (r0, z0) to (r1, z1); an arc stands
 * about (r0, z0) with radius arc, from its lowest point to its widest.
 */
typedef struct cw_piece {
    double r0, z0, r1, z1;
    double arc; /* 0: a line */
} cw_piece;

enum { CW_PIECES = 3 };

typedef struct cw_cutter {
    size_t count;
    cw_piece piece[CW_PIECES];
} cw_cutter;

cw_cutter cw_flat(double diameter);
cw_cutter cw_ball(double diameter);
cw_cutter cw_bull(double diameter, double corner_radius);
cw_cutter cw_vee(double diameter, double included, double tip);
/* The widest radius of the outline between two heights above the tip; below 0: nothing there. */
double cw_widest(const cw_cutter *cutter, double low, double high);

typedef struct cw_wall {
    double offset; /* of the touched face from the stock's edge, outwards */
    bool outward;  /* the touched face looks away from the stock: the material is behind it */
} cw_wall;

/*
 * A plate as it lies on a front-left corner: wall 0 on the left edge, wall 1 on the front edge.
 *   bodily  true: turned about the vertical to other corners; false: there is one for each corner,
 *           made in the mirror, so that wall 0 always stands on a left or a right edge.
 *   bore_sides  0: a round bore; else a polygon of so many corners on the circle.
 */
typedef struct cw_plate {
    double thickness;
    bool bodily;
    bool bored;
    cw_wall wall[2];
    double bore_diameter;
    double bore_out[2]; /* bore's centre outside the left edge, outside the front edge */
    int bore_sides;
} cw_plate;

enum { CW_EDGES = 2048, CW_SOLIDS = 6 };

/* An upright prism; hole: a round hole (radius above 0) or a polygonal one (hole_count above 0). */
typedef struct cw_solid {
    size_t count;
    cw_plane corner[8];
    double low, high;
    double hole_radius;
    cw_plane hole_centre;
    size_t hole_count;
    cw_plane hole[CW_EDGES];
} cw_solid;

/*
 * What lies on the table.
 *   front_left  the stock's front-left corner; angle turns the stock about it, towards Y+.
 *   right, back the corner that carries the plate: false false is front-left.
 *   on_bed      the plate rests on the bed beside the stock, else on the stock.
 */
typedef struct cw_setup {
    cw_plane front_left;
    double angle;
    double size_x, size_y, size_z;
    double bed;
    bool right, back;
    bool on_bed;
    bool plate_away; /* the plate was taken off */
    cw_plate plate;
} cw_setup;

typedef struct cw_world {
    cw_setup setup;
    size_t count;
    cw_solid solid[CW_SOLIDS];
} cw_world;

enum { CW_WALL_HEIGHT = 14 }; /* walls and bores stand this high over the stock's top */

void cw_build(cw_world *world, const cw_setup *setup);
/* The truth: the corner that carries the plate, in the machine's plane. */
cw_plane cw_corner(const cw_setup *setup);
/* A point of the plate's own (front-left) frame, where it lies now. */
cw_plane cw_plate_point(const cw_setup *setup, double x, double y);
/* A point of the stock's own frame, where it lies now. */
cw_plane cw_stock_point(const cw_setup *setup, double x, double y);
/* Whether the cutter with its tip at this place shares a point with anything. */
bool cw_overlaps(const cw_world *world, const cw_cutter *cutter, cw_place tip);

/*
 * Moves the cutter along one axis (0, 1, 2) from a clear place until it touches.
 *   contact  the last clear place, to 1e-10 mm.
 * False when the start is not clear or nothing is met within 200 mm.
 */
bool cw_move(const cw_world *world, const cw_cutter *cutter, cw_place from, int axis, int direction,
             cw_place *contact);

/* The wall that stands across an axis (0 X, 1 Y) where the plate lies now: 0 or 1. */
int cw_wall_across(const cw_setup *setup, int axis);

/*
 * Touches the wall that stands across an axis, at a place along it (-15 to 15 from its middle),
 * with the tip depth below the wall's top edge. direction out: the way the cutter travelled.
 */
bool cw_touch_wall(const cw_world *world, const cw_cutter *cutter, int axis, double along,
                   double depth, cw_place *contact, int *direction);
/* Touches a bore from its inside, starting off its centre by (dx, dy). */
bool cw_touch_bore(const cw_world *world, const cw_cutter *cutter, int axis, int direction,
                   cw_plane off, double depth, cw_place *contact);
/* Lowers the cutter onto the plate's face. */
bool cw_touch_plate(const cw_world *world, const cw_cutter *cutter, cw_place *contact);
/*
 * Touches the stock's bare side across an axis at its low or high edge, `along` from the stock's
 * own low corner of that edge, tip below the stock's top.
 */
bool cw_touch_bare(const cw_world *world, const cw_cutter *cutter, int axis, bool high,
                   double along, double below, cw_place *contact);

#endif
