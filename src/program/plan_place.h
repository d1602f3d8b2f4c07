/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_place.h - how a plate is touched at a corner: which walls, from where, how deep (internal).
 *
 * Coordinates: X and Y from the stock's corner along the machine's axes, Z from the plate's face.
 */
#ifndef TRUEUP_PROGRAM_PLAN_PLACE_H
#define TRUEUP_PROGRAM_PLAN_PLACE_H

#include "program/plan_write.h"

/* Least gap between the tip and the face that it moves over, and between the tip and the plane that
 * the plate lies on. Common practice, no source. */
#define TU_PLAN_GAP_MM    0.5
#define TU_PLAN_MARGIN_MM 1.0
/* The start lies this far within a rim, at least. Common practice, no source. */
#define TU_PLAN_INSIDE_MM 4.0
#define TU_PLAN_RIM_MM    1.0

typedef enum tu_plan_wall_kind {
    TU_PLAN_NO_WALL,
    TU_PLAN_SIDE,  /* the plate's own side: the cutter goes round and down */
    TU_PLAN_RISING /* stands above the face: the cutter stays over the plate */
} tu_plan_wall_kind;

/*
 * A side of the stock and what of the plate serves it.
 *   outward      direction of the stock's edge, -1 or +1.
 *   direction    the way the cutter moves to touch.
 *   face_mm      the touched face's coordinate; of a bore its centre's.
 *   tip_mm       of the tip at contact, above the plate's face (below 0: below it).
 *   radius_mm    of the cutter's profile at that depth; reach_mm: less the mean flute loss;
 *                loss_mm: the most that flutes take.
 *   spread_mm    how far the face may be from where it should be, either way.
 *   start_mm     middle of the start window.
 */
typedef struct tu_plan_side {
    bool touched;
    tu_plan_wall_kind kind;
    int index; /* 0 wall a, 1 wall b */
    int outward;
    int direction;
    double face_mm;
    double top_mm;
    double depth_mm;
    double tip_mm;
    double radius_mm, reach_mm, loss_mm;
    double spread_mm;
    double start_mm;
    bool turn; /* an edge must be turned to it */
} tu_plan_side;

/*
 * All that a program at a corner, a face or a plain surface follows.
 *   plate, cutter  NULL: none.
 *   corner     of the stock that the plate lies on; X and Y 0: anywhere.
 *   bore       low and high sides are touched instead of walls.
 *   lift_mm    height above the face that is clear of everything.
 */
typedef struct tu_plan_table {
    const tu_plan_corner *plan;
    const tu_plate *plate;
    const tu_cutter *cutter;
    tu_target corner;
    tu_plan_side side[2]; /* X, Y */
    bool touches_z;       /* Z counts */
    bool bore;
    double radius_mm; /* of the whole cutter */
    double lift_mm;
    const tu_plan_style *style;
} tu_plan_table;

/* plan_place.c. Refuses a plate that cannot be touched so; adds warnings. */
tu_status tu_plan_place(const tu_plan_corner *plan, const tu_plan_style *style,
                        tu_plan_table *table, tu_warnings *warnings, tu_error *error);
/* plan_reach.c: depth, radius and flutes at a side, or in a bore. */
tu_status tu_plan_place_tip(const tu_plan_table *table, tu_plan_side *side, tu_warnings *warnings,
                            tu_error *error);
/* plan_start.c: where the start is, and whether there is room for it. */
tu_status tu_plan_place_start(tu_plan_table *table, tu_warnings *warnings, tu_error *error);
/* Title, start in words, ranges and series for the writer. what: "corner". */
tu_status tu_plan_place_writer(const tu_plan_table *table, const char *what, const char *series,
                               tu_plan_writer *writer);

/* --- plan_corner.c --- */

/* Touches the face of the plate, or the surface, and lifts. */
void tu_plan_touch_face(tu_plan_writer *writer, const tu_plan_table *table, bool counts);
/* Up from wherever the tip is, clear of everything. */
void tu_plan_lift(tu_plan_writer *writer, const tu_plan_table *table);

/* --- plan_wall.c --- */

void tu_plan_touch_wall(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis);
/* The parts of it: to the start of the touch; the contact; away, up and back over the face. */
void tu_plan_approach_wall(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis);
tu_plan_contact tu_plan_wall_contact(const tu_plan_writer *writer, const tu_plan_table *table,
                                     tu_axis axis);
void tu_plan_leave_wall(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis);

/* --- plan_bore.c --- */

void tu_plan_touch_bore(tu_plan_writer *writer, const tu_plan_table *table);
/* From the lifted start into the bore, to its middle. */
void tu_plan_enter_bore(tu_plan_writer *writer, const tu_plan_table *table);
/* Low and high side along an axis, then to the middle between; repeats 0: fast touches only. */
void tu_plan_touch_bore_pair(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis,
                             int repeats);
tu_plan_contact tu_plan_bore_contact(const tu_plan_writer *writer, const tu_plan_table *table,
                                     tu_axis axis, int direction);
/* Up, a pause that asks for an edge to be turned, and down again. */
void tu_plan_turn_in_bore(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis,
                          int direction);
/* How far the tip may move away from a contact in the bore without coming near the other side. */
double tu_plan_bore_room(const tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis);
/* From a contact back to the middle. */
void tu_plan_cross_bore(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis,
                        int direction);

/* --- plan_set.c --- */

/* Checks that the offset can be set; writes the block that sets it. */
tu_status tu_plan_check_set(const tu_plan_table *table, tu_error *error);
void tu_plan_set_offset(tu_plan_writer *writer, const tu_plan_table *table);

#endif
