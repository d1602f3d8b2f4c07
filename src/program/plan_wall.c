/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_wall.c - touching a wall from the side: over the plate where the wall rises above its face,
 * round and down where it is the plate's own side.
 */
#include "program/plan_place.h"

#include <math.h>

tu_plan_contact tu_plan_wall_contact(const tu_plan_writer *writer, const tu_plan_table *table,
                                     tu_axis axis)
{
    const tu_plan_side *side = &table->side[axis];
    int direction = side->direction;
    /* P = face - direction r, r from the reach between two edges to that of the whole profile. */
    double nearest = side->face_mm - direction * side->radius_mm;
    double farthest = nearest + direction * side->loss_mm;
    tu_range place = {fmin(nearest, farthest) - side->spread_mm,
                      fmax(nearest, farthest) + side->spread_mm};
    return (tu_plan_contact){.axis = axis,
                             .direction = direction,
                             .place = place,
                             .repeats = writer->style->repeats,
                             .counts = true,
                             .feed_mm_per_min = NAN};
}

static void pause_to_turn(tu_plan_writer *writer, const tu_plan_side *side, tu_axis axis)
{
    const char *wall = axis == TU_AXIS_X ? (side->direction > 0 ? "right" : "left")
                                         : (side->direction > 0 ? "back" : "front");
    if (side->turn)
        tu_plan_pause(writer, "turn a cutting edge to the %s, towards the wall, then continue",
                      wall);
}

/* Outside the plate, so far that the cutter is clear wherever it started. */
static void go_round(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis)
{
    const tu_plan_side *side = &table->side[axis];
    double clear = table->radius_mm + writer->style->clearance_mm + side->spread_mm;
    double outside = side->face_mm - side->direction * clear;
    tu_range at = writer->at[axis];
    tu_plan_move(writer, axis, outside - (side->direction > 0 ? at.high : at.low));
}

void tu_plan_approach_wall(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis)
{
    const tu_plan_side *side = &table->side[axis];
    pause_to_turn(writer, side, axis);
    if (side->kind == TU_PLAN_SIDE)
        go_round(writer, table, axis);
    tu_plan_move_to(writer, TU_AXIS_Z, side->tip_mm);
}

void tu_plan_leave_wall(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis)
{
    const tu_plan_side *side = &table->side[axis];
    tu_plan_move(writer, axis, -side->direction * writer->style->clearance_mm);
    tu_plan_lift(writer, table);
    tu_plan_move_to(writer, axis, side->start_mm);
}

void tu_plan_touch_wall(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis)
{
    tu_plan_approach_wall(writer, table, axis);
    tu_plan_contact contact = tu_plan_wall_contact(writer, table, axis);
    tu_plan_touch(writer, &contact);
    tu_plan_leave_wall(writer, table, axis);
}
