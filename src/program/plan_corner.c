/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_corner.c - a corner or a face: the plate's face first, then its walls or its bore.
 */
#include "program/plan_place.h"

#include "trueup/zero.h"

#include <math.h>

void tu_plan_touch_face(tu_plan_writer *writer, const tu_plan_table *table, bool counts)
{
    const tu_plan_contact contact = {.axis = TU_AXIS_Z,
                                     .direction = -1,
                                     .repeats = counts ? writer->style->repeats : 1,
                                     .counts = counts,
                                     .feed_mm_per_min = NAN};
    tu_plan_touch(writer, &contact);
    tu_plan_lift(writer, table);
}

void tu_plan_lift(tu_plan_writer *writer, const tu_plan_table *table)
{
    tu_plan_move_to(writer, TU_AXIS_Z, table->lift_mm);
}

static void write_corner(tu_plan_writer *writer, const void *context)
{
    const tu_plan_table *table = context;
    tu_plan_touch_face(writer, table, table->touches_z);
    if (table->bore && (table->side[0].touched || table->side[1].touched))
        tu_plan_touch_bore(writer, table);
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y && !table->bore; axis++)
        if (table->side[axis].touched)
            tu_plan_touch_wall(writer, table, (tu_axis)axis);
    tu_plan_set_offset(writer, table);
}

tu_status tu_plan_write_corner(FILE *out, const tu_plan_corner *plan, const tu_plan_style *style,
                               tu_plan_summary *summary, tu_error *error)
{
    *summary = (tu_plan_summary){.path_mm = NAN, .naive_mm = NAN};
    tu_plan_writer writer = {.style = style, .summary = summary, .error = error};
    tu_plan_table table;
    tu_status status = tu_plan_check_style(style, error);
    if (!status)
        status = tu_plan_place(plan, style, &table, &summary->warnings, error);
    if (!status)
        status = tu_plan_check_set(&table, error);
    if (status)
        return status;
    const char *name = tu_target_name(plan->target);
    status =
        tu_plan_place_writer(&table, name, *plan->series != '\0' ? plan->series : name, &writer);
    return !status ? tu_plan_run(out, &writer, plan->machine, write_corner, &table) : status;
}
