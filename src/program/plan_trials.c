/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_trials.c - many touches of one place, for its repeatability.
 */
#include "program/plan_place.h"

#include "trueup/zero.h"

#include <math.h>
#include <string.h>

typedef struct trials {
    const tu_plan_trials *plan;
    tu_plan_table table;
    char series[TU_NAME_SIZE];
} trials;

/* The feed of a touch, and the series that it belongs to. */
static double take_feed(tu_plan_writer *writer, const trials *t, size_t number)
{
    const tu_plan_trials *plan = t->plan;
    if (plan->feed_count == 0)
        return NAN;
    double feed = plan->feed_mm_per_min[number % plan->feed_count];
    tu_plan_format(writer->series, sizeof writer->series, "%s-f%.10g", t->series, feed);
    return feed;
}

/* Off by the clearance, back to the back-off, and touched slowly; again and again. */
static void repeat_touch(tu_plan_writer *writer, const trials *t, tu_plan_contact contact)
{
    const tu_plan_style *style = writer->style;
    double off = fmax(style->clearance_mm, style->back_off_mm);
    if (t->table.bore)
        off = fmin(off, tu_plan_bore_room(writer, &t->table, contact.axis));
    contact.repeats = 0;
    tu_plan_touch(writer, &contact);
    for (size_t i = 0; i < t->plan->touches; i++) {
        contact.feed_mm_per_min = take_feed(writer, t, i);
        tu_plan_move(writer, contact.axis, -contact.direction * off);
        tu_plan_move(writer, contact.axis, contact.direction * (off - style->back_off_mm));
        tu_plan_touch_again(writer, &contact, style->back_off_mm);
    }
}

static void alternate(tu_plan_writer *writer, const trials *t)
{
    tu_axis axis = t->plan->axis;
    for (size_t i = 0; i < t->plan->touches; i++) {
        int direction = i % 2 == 0 ? -1 : 1;
        double feed = take_feed(writer, t, i / 2);
        tu_plan_contact contact = tu_plan_bore_contact(writer, &t->table, axis, direction);
        contact.repeats = 1;
        contact.feed_mm_per_min = feed;
        tu_plan_touch(writer, &contact);
        if (i + 1 < t->plan->touches)
            tu_plan_cross_bore(writer, &t->table, axis, direction);
    }
    tu_plan_move_to(writer, axis, t->table.side[axis].face_mm);
}

/* The other axis is brought to its middle first. */
static void touch_in_bore(tu_plan_writer *writer, const trials *t)
{
    tu_axis axis = t->plan->axis, other = axis == TU_AXIS_X ? TU_AXIS_Y : TU_AXIS_X;
    const tu_plan_table *table = &t->table;
    tu_plan_enter_bore(writer, table);
    tu_plan_touch_bore_pair(writer, table, other, 0);
    if (table->side[axis].turn)
        tu_plan_turn_in_bore(writer, table, axis, -1);
    if (t->plan->both_sides)
        alternate(writer, t);
    else {
        repeat_touch(writer, t, tu_plan_bore_contact(writer, table, axis, -1));
        tu_plan_move_to(writer, axis, table->side[axis].face_mm);
    }
    tu_plan_lift(writer, table);
}

static void write_trials(tu_plan_writer *writer, const void *context)
{
    const trials *t = context;
    tu_axis axis = t->plan->axis;
    if (axis == TU_AXIS_Z) {
        const tu_plan_contact face = {
            .axis = TU_AXIS_Z, .direction = -1, .counts = true, .feed_mm_per_min = NAN};
        repeat_touch(writer, t, face);
        tu_plan_lift(writer, &t->table);
        return;
    }
    tu_plan_touch_face(writer, &t->table, false);
    if (t->table.bore) {
        touch_in_bore(writer, t);
        return;
    }
    tu_plan_approach_wall(writer, &t->table, axis);
    repeat_touch(writer, t, tu_plan_wall_contact(writer, &t->table, axis));
    tu_plan_leave_wall(writer, &t->table, axis);
}

/* --- Checks --- */

static tu_status check_trials(const tu_plan_trials *plan, const tu_plan_style *style,
                              tu_error *error)
{
    if (style->set)
        return tu_fail(error, TU_USAGE, "{set}",
                       "trials say how well touches repeat and set nothing: leave {set} out");
    if (plan->touches < 2 || plan->touches > TU_PLAN_TOUCHES_MAX)
        return tu_fail(error, TU_DATA_RANGE, "{touches}", "must be 2 to %d, found %zu",
                       TU_PLAN_TOUCHES_MAX, plan->touches);
    if (plan->feed_count > TU_PLAN_FEEDS_MAX)
        return tu_fail(error, TU_DATA_RANGE, "{feeds}", "takes at most %d", TU_PLAN_FEEDS_MAX);
    for (size_t i = 0; i < plan->feed_count; i++) {
        double feed = plan->feed_mm_per_min[i];
        if (!(feed >= 1.0 && feed <= TU_PLAN_PROBE_FEED_MAX))
            return tu_fail(error, TU_DATA_RANGE, "{feeds}",
                           "a feed here lies from 1 to %g mm/min, found %g", TU_PLAN_PROBE_FEED_MAX,
                           feed);
    }
    if (plan->place.plate == NULL)
        return tu_fail(error, TU_DATA_MISSING, "{plate}", "no plate was named");
    if (plan->both_sides && (plan->axis == TU_AXIS_Z || !plan->place.plate->bore.present))
        return tu_fail(error, TU_USAGE, "{both_sides}",
                       "is for X or Y in a bore: a wall or a face has one side that can be "
                       "touched");
    if (plan->both_sides && plan->place.cutter != NULL && plan->place.cutter->flutes % 2 != 0)
        return tu_fail(error, TU_DATA_CONFLICT, "{both_sides}",
                       "cutter %s has an odd number of flutes: an edge at one side leaves its body "
                       "at the other; take a pin or an even number of flutes",
                       plan->place.cutter->name);
    if (plan->axis != TU_AXIS_Z && !tu_target_asks(plan->place.target, plan->axis))
        return tu_fail(error, TU_USAGE, "{touches_axis}",
                       "%s is not across %c: name a corner, or the face that is touched",
                       tu_target_name(plan->place.target), tu_axis_letter(plan->axis));
    return TU_OK;
}

static tu_status start_series(const tu_plan_trials *plan, trials *t, tu_error *error)
{
    tu_status status = tu_plan_take_series(t->series, plan->place.series, "trial", error);
    if (!status && plan->feed_count > 0 && strlen(t->series) > TU_PLAN_NAME_ROOM - 15)
        status =
            tu_fail(error, TU_DATA_RANGE, "{series_name}", "is too long to take the feeds along");
    return status;
}

tu_status tu_plan_write_trials(FILE *out, const tu_plan_trials *plan, const tu_plan_style *style,
                               tu_plan_summary *summary, tu_error *error)
{
    *summary = (tu_plan_summary){.path_mm = NAN, .naive_mm = NAN};
    tu_plan_writer writer = {.style = style, .summary = summary, .error = error};
    tu_plan_corner place = plan->place;
    place.stock_thickness = tu_quantity_none(); /* of no matter to how well touches repeat */
    trials t = {.plan = plan};
    tu_status status = tu_plan_check_style(style, error);
    if (!status)
        status = check_trials(plan, style, error);
    if (!status)
        status = start_series(plan, &t, error);
    if (plan->axis == TU_AXIS_Z)
        place.target = (tu_target){.outward = {0, 0, 1}};
    if (!status)
        status = tu_plan_place(&place, style, &t.table, &summary->warnings, error);
    if (status)
        return status;
    char what[40];
    tu_plan_format(what, sizeof what, "trials of %c", tu_axis_letter(plan->axis));
    status = tu_plan_place_writer(&t.table, what, t.series, &writer);
    return !status ? tu_plan_run(out, &writer, plan->place.machine, write_trials, &t) : status;
}
