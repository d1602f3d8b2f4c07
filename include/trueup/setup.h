/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * setup.h - what lies on the table: machine, plate, cutter, stock; and the names of corners.
 *
 * Begin each struct with its start function, which leaves nothing stated, and fill in what is
 * known: a number that an initialiser leaves out is 0, and 0 is a statement. Where such a 0 can be
 * told from one that was meant it is refused; a plate carries a mark.
 *
 * Frame (docs/geometry.md): right handed, seen by a person at the front of the machine. X+ to the
 * right, Y+ to the back, Z+ up. Lengths in millimetres, angles in radians.
 */
#ifndef TRUEUP_SETUP_H
#define TRUEUP_SETUP_H

#include "trueup/quantity.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

enum { TU_NAME_SIZE = 64 }; /* bytes, with the closing NUL */

typedef enum tu_axis { TU_AXIS_X, TU_AXIS_Y, TU_AXIS_Z, TU_AXIS_COUNT } tu_axis;

/* 'X', 'Y', 'Z'. */
char tu_axis_letter(tu_axis axis);

/* A place in machine coordinates, millimetres. */
typedef struct tu_machine_point {
    double x, y, z;
} tu_machine_point;

/* A place in the plane of the bed, machine coordinates, millimetres. */
typedef struct tu_machine_plane_point {
    double x, y;
} tu_machine_plane_point;

/* What the zero along an axis is taken from. */
typedef enum tu_target_kind {
    TU_TARGET_FACE,   /* the face that outward says; outward 0: the axis is left alone */
    TU_TARGET_MIDDLE, /* half way between the two faces across the axis */
    TU_TARGET_HOLE,   /* the centre of a round, touched from inside */
    TU_TARGET_BOSS    /* likewise from outside */
} tu_target_kind;

/*
 * Where the zero is wanted: one of the eight corners of the stock, one of its six faces, the middle
 * of an edge, of the top or the bottom, or the centre of a round.
 *   outward  the outward direction (-1 or +1) of the face across that axis; 0 where there is none:
 *            the target leaves the axis alone (a face has one sign, a corner three), or kind says
 *            what else is asked. Ask by tu_target_asks.
 *   kind     all TU_TARGET_FACE for a corner and for a face.
 */
typedef struct tu_target {
    int outward[TU_AXIS_COUNT];
    tu_target_kind kind[TU_AXIS_COUNT];
} tu_target;

enum {
    TU_TARGET_COUNT = 14,     /* corners and faces */
    TU_TARGET_NAME_COUNT = 30 /* and all others */
};

/* The eight corners, then the six faces: "front-left-top", ..., "left", "right", ..., then middles
 * and rounds. "" beyond the last. */
const char *tu_target_name_at(size_t index);
/* Reads a target's name. TU_DATA_UNKNOWN with what may be meant: the words in their order, the
 * corners that begin so, or the nearest name; *target is then all zero. */
tu_status tu_target_parse(const char *name, tu_target *target, tu_error *error);
/* The name of a target; "" when it has none. */
const char *tu_target_name(tu_target target);
/* True for a face: one sign only, and nothing else. */
bool tu_target_is_face(tu_target target);
/* Whether the target says where the zero along an axis is. */
bool tu_target_asks(tu_target target, tu_axis axis);
/* Refuses what is no target, and the middles and rounds, which are not worked out yet: TU_USAGE. */
tu_status tu_target_check(tu_target target, tu_error *error);

/* What a touch series said of one axis: standard deviation of a single touch, degrees of freedom.
 * sd_mm NaN: nothing stored. */
typedef struct tu_repeatability {
    double sd_mm;
    double dof;
} tu_repeatability;

/*
 * A machine; NaN: not stated.
 *   travel_low_mm, travel_high_mm  machine coordinates.
 *   step_mm               the smallest step of the position.
 *   steps_per_mm          of STEP pulses.
 *   rate_mm_per_min, acceleration_mm_per_s2  the most that an axis does.
 *   reversal_mm           how far an axis stays behind after it turned round.
 *   shoe_diameter_mm, shoe_height_mm  a dust shoe, round about the spindle.
 *   drives_mm             from one side of the gantry's drive to the other.
 */
typedef struct tu_machine {
    double travel_low_mm[TU_AXIS_COUNT];
    double travel_high_mm[TU_AXIS_COUNT];
    double step_mm;
    tu_repeatability repeatability[TU_AXIS_COUNT];
    double steps_per_mm[TU_AXIS_COUNT];
    double rate_mm_per_min[TU_AXIS_COUNT];
    double acceleration_mm_per_s2[TU_AXIS_COUNT];
    double reversal_mm[TU_AXIS_COUNT];
    double shoe_diameter_mm, shoe_height_mm;
    double drives_mm;
} tu_machine;

/* A machine of which nothing is stated. */
tu_machine tu_machine_start(void);

/* Which way a wall's touched face looks: away from the stock, or back over it. */
typedef enum tu_facing { TU_FACES_INWARD = -1, TU_FACES_OUTWARD = +1 } tu_facing;

/*
 * A wall of a plate.
 *   offset       signed distance from the stock's edge to the touched face, along the outward
 *                direction of that edge: above 0 outside the stock, below 0 over it.
 *   touch_depth  how far the tip is below the wall's top edge at contact; none: not stated.
 *   rise         how far the wall's top edge stands above the plate's face: the cutter then touches
 *                it while it stays over the plate. 0 or none: the wall is the plate's own side, and
 *                the cutter goes round and down to touch it.
 */
typedef struct tu_wall {
    bool present;
    tu_quantity offset;
    tu_facing facing;
    tu_quantity touch_depth;
    tu_quantity rise;
} tu_wall;

/* Where the plate is laid: on the stock, or on the bed beside it. */
typedef enum tu_seat { TU_SEAT_STOCK, TU_SEAT_BED } tu_seat;

/* A bore: its diameter, and its centre from the stock's corner along the outward directions. */
typedef struct tu_bore {
    bool present;
    tu_quantity diameter;
    tu_quantity centre[2]; /* [0] as wall a, [1] as wall b */
    tu_quantity touch_depth;
} tu_bore;

/*
 * A touch plate. It has walls (one or two), or a bore, or neither (a slab for Z only).
 *   thickness  from the seat up to the face that the tip touches.
 *   turned     true: the plate is turned to serve other corners, so its walls change axes; false:
 *              wall a serves X and wall b serves Y at every corner, for the plate has each on both
 *              sides, or is flipped over instead of turned.
 *   wall[0], wall[1]  walls a and b, as they stand with the plate on a front-left corner: a on the
 *              left edge (X), b on the front edge (Y).
 *   extent     how far the plate's body reaches along the outward directions of the edges that
 *              walls a and b stand on: [0] from, over the stock and so below 0, to [1]; none: not
 *              stated.
 *   started    tu_plate_start() made it; one that was made otherwise is refused.
 */
typedef struct tu_plate {
    char name[TU_NAME_SIZE];
    tu_quantity thickness;
    bool turned;
    tu_wall wall[2];
    tu_bore bore;
    tu_quantity extent[2][2];
    bool started;
} tu_plate;

/* A plate of which nothing is stated: no wall, no bore, turned. */
tu_plate tu_plate_start(void);

typedef enum tu_cutter_shape {
    TU_CUTTER_FLAT,
    TU_CUTTER_BALL,
    TU_CUTTER_BULL,
    TU_CUTTER_VEE
} tu_cutter_shape;

/*
 * A cutter.
 *   corner_radius      bull nose only.
 *   included_rad, tip  vee only: the full angle of the point, the diameter of its flat.
 *   flutes             0: not stated, the cutter then counts as a full circle (a pin).
 *   helix_rad          NaN: not stated, counts as straight flutes.
 *   turned_within_rad  an edge was turned to the wall by hand to within this angle, above 0; NaN:
 *                      it was not.
 *   core               the diameter of the body between the flutes; none: not stated.
 *   run_out            total indicated reading at the side; none: not stated.
 *   number             the T word that calls it; 0: not stated.
 *   flute_length, shank, stick_out, nut  length that cuts, diameter of the shank, how far the tip
 *                      stands out of the nut, diameter of the nut; none: not stated.
 *   length             what the controller adds for it (G43); none: not stated.
 */
typedef struct tu_cutter {
    char name[TU_NAME_SIZE];
    tu_cutter_shape shape;
    tu_quantity diameter;
    tu_quantity corner_radius;
    double included_rad;
    tu_quantity tip;
    int flutes;
    double helix_rad;
    double turned_within_rad;
    tu_quantity core;
    tu_quantity run_out;
    int number;
    tu_quantity flute_length, shank, stick_out, nut, length;
} tu_cutter;

/* A cutter of which nothing is stated; flat until something else is. */
tu_cutter tu_cutter_start(void);

typedef struct tu_stock {
    tu_quantity size[TU_AXIS_COUNT]; /* none: not stated */
} tu_stock;

tu_stock tu_stock_start(void);

enum { TU_SLOT_COUNT = 9 };

/*
 * Reads the name of a work offset, G54 to G59 and G59.1 to G59.3, in capitals or not.
 *   p  out: P of G10 L2 (1 to 9); 0 on failure.
 * TU_USAGE with the nearest name. name is cut in the message.
 */
tu_status tu_slot_parse(const char *name, int *p, tu_error *error);
/* "G54" for 1, up to 9; "" beyond. */
const char *tu_slot_name(int p);

/* What the coordinates of a thing are measured from: the stock's front left bottom corner, or the
 * machine's zero. */
typedef enum tu_frame { TU_FRAME_STOCK, TU_FRAME_MACHINE } tu_frame;

/* A place in a thing's own frame, millimetres. */
typedef struct tu_thing_point {
    double x, y, z;
} tu_thing_point;

/*
 * Something that stands in the way of a cutter: a clamp, a screw.
 *   round     false: a block from `from` to `to`. true: a screw at `at` (z is its top), diameter_mm
 *             across; `from` and `to` are then the block around it, from.z NaN.
 */
typedef struct tu_thing {
    char name[TU_NAME_SIZE];
    tu_frame frame;
    bool round;
    tu_thing_point from, to;
    tu_thing_point at;
    double diameter_mm;
} tu_thing;

/*
 * What lies on the table. Everything may be missing.
 *   plate, cutter  names, NULL: not stated.
 *   target         all zero: not stated.
 *   slot           P of G10 L2, 1 to 9; 0: not stated.
 *   things         NULL: nobody said; with thing_count 0: there are none.
 */
typedef struct tu_table {
    const char *plate, *cutter;
    tu_target target;
    int slot;
    bool seat_stated;
    tu_seat seat;
    const tu_thing *things;
    size_t thing_count;
} tu_table;

TU_END_DECLS

#endif
