/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_bore.c - touching both sides of a bore along an axis.
 *
 * In the bore, positions are counted from its true centre: a touch of one side then tells the
 * distance to the other, however far the plate is off. The first pair runs beside the centre by
 * what the start was off, so it is for finding the middle only. What counts runs through it.
 */
#include "program/plan_place.h"

#include <math.h>

/* The circle on which the cutter's axis touches: its largest and least radius. */
static tu_range circle(const tu_plan_table *table, tu_axis axis)
{
    const tu_plan_side *side = &table->side[axis];
    tu_quantity bore = table->plate->bore.diameter;
    double half = bore.value_mm / 2.0 - side->radius_mm;
    double off = (isnan(bore.tolerance_mm) ? 0.0 : bore.tolerance_mm / 2.0) + TU_PLAN_ALLOWANCE_MM;
    if (!isnan(table->cutter->run_out.value_mm))
        off += table->cutter->run_out.value_mm / 2.0;
    return (tu_range){half - off, half + side->loss_mm + off};
}

/* Half the chord along an axis, from where the tip can be on the other one. */
static tu_range half_chord(const tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis)
{
    tu_axis other = axis == TU_AXIS_X ? TU_AXIS_Y : TU_AXIS_X;
    double centre = table->side[other].face_mm;
    double off = fmax(fabs(writer->at[other].low - centre), fabs(writer->at[other].high - centre));
    tu_range radius = circle(table, axis);
    return (tu_range){sqrt(fmax(radius.low * radius.low - off * off, 0.0)), radius.high};
}

double tu_plan_bore_room(const tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis)
{
    return half_chord(writer, table, axis).low;
}

tu_plan_contact tu_plan_bore_contact(const tu_plan_writer *writer, const tu_plan_table *table,
                                     tu_axis axis, int direction)
{
    tu_range half = half_chord(writer, table, axis);
    double centre = table->side[axis].face_mm;
    tu_range place = direction > 0 ? (tu_range){centre + half.low, centre + half.high}
                                   : (tu_range){centre - half.high, centre - half.low};
    return (tu_plan_contact){.axis = axis,
                             .direction = direction,
                             .place = place,
                             .repeats = writer->style->repeats,
                             .counts = true,
                             .feed_mm_per_min = NAN};
}

void tu_plan_turn_in_bore(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis,
                          int direction)
{
    tu_plan_lift(writer, table);
    const char *wall =
        axis == TU_AXIS_X ? (direction > 0 ? "right" : "left") : (direction > 0 ? "back" : "front");
    tu_plan_pause(writer, "turn a cutting edge to the %s, towards the wall, then continue", wall);
    tu_plan_move_to(writer, TU_AXIS_Z, table->side[axis].tip_mm);
}

void tu_plan_cross_bore(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis,
                        int direction)
{
    /* Back to the middle only: from there the search goes on, and finds a cutter that is thicker
     * than it should be without pressing it on. */
    tu_plan_move(writer, axis, -direction * tu_plan_bore_room(writer, table, axis));
}

static void touch_side(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis,
                       int direction, int repeats)
{
    /* An even number of edges stands alike at both sides; an odd one is turned for each. */
    if (table->side[axis].turn && (direction < 0 || table->cutter->flutes % 2 != 0))
        tu_plan_turn_in_bore(writer, table, axis, direction);
    tu_plan_contact contact = tu_plan_bore_contact(writer, table, axis, direction);
    contact.repeats = repeats;
    tu_plan_touch(writer, &contact);
}

void tu_plan_touch_bore_pair(tu_plan_writer *writer, const tu_plan_table *table, tu_axis axis,
                             int repeats)
{
    touch_side(writer, table, axis, -1, repeats);
    tu_plan_cross_bore(writer, table, axis, -1);
    touch_side(writer, table, axis, 1, repeats);
    tu_plan_move_to(writer, axis, table->side[axis].face_mm);
}

void tu_plan_enter_bore(tu_plan_writer *writer, const tu_plan_table *table)
{
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        const tu_plan_side *side = &table->side[axis];
        tu_plan_move_to(writer, (tu_axis)axis, side->face_mm);
        /* From here on counted from the true centre. */
        writer->at[axis].low -= side->spread_mm;
        writer->at[axis].high += side->spread_mm;
        writer->start[axis].low -= side->spread_mm;
        writer->start[axis].high += side->spread_mm;
    }
    const tu_plan_side *first =
        &table->side[table->side[TU_AXIS_X].touched ? TU_AXIS_X : TU_AXIS_Y];
    if (!first->turn) /* else there is a pause first, above the bore */
        tu_plan_move_to(writer, TU_AXIS_Z, first->tip_mm);
}

void tu_plan_touch_bore(tu_plan_writer *writer, const tu_plan_table *table)
{
    bool x = table->side[TU_AXIS_X].touched, y = table->side[TU_AXIS_Y].touched;
    int repeats = writer->style->repeats;
    tu_plan_enter_bore(writer, table);
    if (y)
        tu_plan_touch_bore_pair(writer, table, TU_AXIS_X, 0);
    tu_plan_touch_bore_pair(writer, table, TU_AXIS_Y, y ? repeats : 0);
    if (x)
        tu_plan_touch_bore_pair(writer, table, TU_AXIS_X, repeats);
    tu_plan_lift(writer, table);
}
