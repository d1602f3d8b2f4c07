/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_touch.c - fast and slow touches, each as long as it must be and no longer.
 */
#include "program/plan_write.h"

#include <math.h>

/* 0.254 mm and a little: NISTIR 6556, 3.5.9. */
static const double shortest_mm = 0.26;

static void note_press(tu_plan_writer *writer, tu_axis axis, double press_mm)
{
    double *worst = &writer->summary->worst_press_mm[axis == TU_AXIS_Z];
    *worst = isnan(*worst) ? press_mm : fmax(*worst, press_mm);
}

/* A probe move to meet something that is at least nearest and at most farthest away. */
static void probe(tu_plan_writer *writer, const tu_plan_contact *contact, double nearest_mm,
                  double farthest_mm, double feed)
{
    const tu_plan_style *style = writer->style;
    tu_axis axis = contact->axis;
    double length =
        tu_plan_round_up(style, fmax(fmax(farthest_mm, 0.0) + style->press_mm, shortest_mm));
    if (!(nearest_mm > 0.0)) {
        tu_plan_fail(writer, TU_DATA_CONFLICT, NULL,
                     "a touch of %c could begin in contact: use a smaller {window}, or a larger "
                     "{clearance} or {back_off}",
                     tu_axis_letter(axis));
        return;
    }
    tu_plan_block(writer, "G38.2 %c%s F%s", tu_axis_letter(axis),
                  tu_plan_length(style, contact->direction * length).text,
                  tu_plan_feed(style, feed).text);
    tu_range from = writer->at[axis];
    double dead = contact->direction * length;
    tu_plan_reach(writer, axis,
                  (tu_range){fmin(from.low, from.low + dead), fmax(from.high, from.high + dead)});
    note_press(writer, axis, length - nearest_mm);
    writer->summary->seconds += (nearest_mm + farthest_mm) / 2.0 / feed * 60.0;
}

/* Where the machine stands after the contact: it runs on a little. Even about the contact all the
 * same, so that moves to a depth are counted from there. */
static void stand(tu_plan_writer *writer, const tu_plan_contact *contact)
{
    writer->at[contact->axis] = (tu_range){contact->place.low - TU_PLAN_ALLOWANCE_MM,
                                           contact->place.high + TU_PLAN_ALLOWANCE_MM};
}

static void announce(tu_plan_writer *writer, const tu_plan_contact *contact, bool counts)
{
    tu_axis axis = contact->axis;
    tu_plan_distance(writer, 91);
    tu_plan_block(writer, "(touch %s %c %zu, %s)", writer->series, "xyz"[axis],
                  ++writer->numbers[axis], counts ? "counts" : "search");
    if (counts)
        writer->summary->touches++;
}

static void keep_reading(tu_plan_writer *writer, tu_axis axis)
{
    if (!writer->style->set)
        return;
    if (writer->sums[axis]++ == 0)
        tu_plan_block(writer, "#%d=#%d", axis + 1, 5061 + axis);
    else
        tu_plan_block(writer, "#%d=[#%d+#%d]", axis + 1, axis + 1, 5061 + axis);
}

void tu_plan_touch_again(tu_plan_writer *writer, const tu_plan_contact *contact, double off_mm)
{
    double feed = isnan(contact->feed_mm_per_min) ? writer->style->measure_mm_per_min
                                                  : contact->feed_mm_per_min;
    announce(writer, contact, contact->counts);
    probe(writer, contact, off_mm - TU_PLAN_ALLOWANCE_MM, off_mm + TU_PLAN_ALLOWANCE_MM, feed);
    if (contact->counts)
        keep_reading(writer, contact->axis);
    stand(writer, contact);
}

void tu_plan_touch(tu_plan_writer *writer, const tu_plan_contact *contact)
{
    const tu_plan_style *style = writer->style;
    tu_axis axis = contact->axis;
    tu_range at = writer->at[axis], place = contact->place;
    bool up = contact->direction > 0;
    announce(writer, contact, false);
    probe(writer, contact, up ? place.low - at.high : at.low - place.high,
          up ? place.high - at.low : at.high - place.low, style->search_mm_per_min);
    stand(writer, contact);
    for (int i = 0; i < contact->repeats; i++) {
        tu_plan_move(writer, axis, -contact->direction * style->back_off_mm);
        tu_plan_touch_again(writer, contact, style->back_off_mm);
    }
}
