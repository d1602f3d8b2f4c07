/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_surface.c - touches straight down at one place, on a plate or on what conducts.
 */
#include "program/plan_place.h"

#include <math.h>

static void write_surface(tu_plan_writer *writer, const void *context)
{
    const tu_plan_table *table = context;
    tu_plan_touch_face(writer, table, true);
    tu_plan_set_offset(writer, table);
}

tu_status tu_plan_write_surface(FILE *out, const tu_plan_surface *plan, const tu_plan_style *style,
                                tu_plan_summary *summary, tu_error *error)
{
    *summary = (tu_plan_summary){.path_mm = NAN, .naive_mm = NAN};
    tu_plan_writer writer = {.style = style, .summary = summary, .error = error};
    tu_plan_corner place = tu_plan_corner_start();
    place.plate = plan->plate;
    place.target.outward[TU_AXIS_Z] = 1;
    tu_plan_table table = {.plan = &place,
                           .plate = plan->plate,
                           .touches_z = true,
                           .lift_mm = style->height_mm[1],
                           .style = style};
    table.side[0].start_mm = table.side[1].start_mm = NAN;
    tu_status status = tu_plan_check_style(style, error);
    if (!status && plan->plate != NULL)
        status = tu_plan_place(&place, style, &table, &summary->warnings, error);
    if (!status)
        status = tu_plan_place_writer(&table, "a surface",
                                      *plan->series != '\0' ? plan->series : "surface", &writer);
    return !status ? tu_plan_run(out, &writer, plan->machine, write_surface, &table) : status;
}
