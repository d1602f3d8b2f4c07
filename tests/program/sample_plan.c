/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sample_plan.c - see sample_plan.h.
 */
#include "check.h"

#include "sample_plan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void start_plate(tu_plate *plate)
{
    *plate = tu_plate_start();
    snprintf(plate->name, sizeof plate->name, "offcut");
    plate->thickness = tu_quantity_exact(9.53);
    for (int w = 0; w < 2; w++)
        plate->wall[w] = (tu_wall){.present = true,
                                   .offset = tu_quantity_exact(w == 0 ? 6.35 : 6.40),
                                   .facing = TU_FACES_OUTWARD,
                                   .touch_depth = tu_quantity_exact(5.0),
                                   .rise = tu_quantity_none()};
}

static void start_cutter(tu_cutter *cutter)
{
    *cutter = tu_cutter_start();
    snprintf(cutter->name, sizeof cutter->name, "pin");
    cutter->diameter = tu_quantity_exact(6.35);
}

void sample_plan_start(sample_plan *p)
{
    static const double travel[] = {1200.0, 800.0, 120.0};
    memset(p, 0, sizeof *p);
    p->machine = tu_machine_start();
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        p->machine.travel_low_mm[axis] = 0.0;
        p->machine.travel_high_mm[axis] = travel[axis];
    }
    start_plate(&p->plate);
    start_cutter(&p->cutter);
    p->style = tu_plan_style_start();
    p->corner = tu_plan_corner_start();
    p->corner.machine = &p->machine;
    p->corner.plate = &p->plate;
    p->corner.cutter = &p->cutter;
    sample_plan_target(p, "front-left-top");
    p->surface.machine = &p->machine;
    p->surface.plate = &p->plate;
    p->grid = (tu_plan_grid){.machine = &p->machine,
                             .cutter = &p->cutter,
                             .area = {0.0, 0.0, 400.0, 300.0},
                             .columns = 5,
                             .rows = 4,
                             .keep_out = p->keep_out,
                             .variation_mm = 2.0};
    p->trials = (tu_plan_trials){.place = p->corner, .axis = TU_AXIS_Z, .touches = 10};
}

void sample_plan_end(sample_plan *p)
{
    free(p->program);
    p->program = NULL;
}

void sample_plan_rising(sample_plan *p, double rise_mm, double depth_mm)
{
    for (int w = 0; w < 2; w++) {
        tu_wall *wall = &p->plate.wall[w];
        wall->offset = tu_quantity_exact(18.0);
        wall->facing = TU_FACES_INWARD;
        wall->rise = tu_quantity_exact(rise_mm);
        wall->touch_depth = tu_quantity_exact(depth_mm);
    }
}

void sample_plan_bore(sample_plan *p, double diameter_mm)
{
    p->plate.wall[0].present = p->plate.wall[1].present = false;
    p->plate.bore = (tu_bore){.present = true,
                              .diameter = tu_quantity_exact(diameter_mm),
                              .centre = {tu_quantity_exact(-20.0), tu_quantity_exact(-20.0)},
                              .touch_depth = tu_quantity_exact(5.0)};
}

void sample_plan_flutes(sample_plan *p, int flutes, double turned_within_rad)
{
    p->cutter.flutes = flutes;
    p->cutter.turned_within_rad = turned_within_rad;
}

void sample_plan_target(sample_plan *p, const char *name)
{
    check_status(tu_target_parse(name, &p->corner.target, NULL), TU_OK, NULL);
    p->trials.place.target = p->corner.target;
}

void sample_plan_add_keep_out(sample_plan *p, double x0, double y0, double x1, double y1)
{
    p->keep_out[p->grid.keep_out_count++] = (tu_rectangle){x0, y0, x1, y1};
}

tu_status sample_plan_write(sample_plan *p, sample_kind kind)
{
    sample_plan_end(p);
    memset(&p->error, 0, sizeof p->error);
    FILE *out = open_memstream(&p->program, &p->length);
    assert_non_null(out);
    tu_status status = TU_USAGE;
    switch (kind) {
    case SAMPLE_CORNER:
        status = tu_plan_write_corner(out, &p->corner, &p->style, &p->summary, &p->error);
        break;
    case SAMPLE_SURFACE:
        status = tu_plan_write_surface(out, &p->surface, &p->style, &p->summary, &p->error);
        break;
    case SAMPLE_GRID:
        status = tu_plan_write_grid(out, &p->grid, &p->style, &p->summary, &p->error);
        break;
    case SAMPLE_TRIALS:
        status = tu_plan_write_trials(out, &p->trials, &p->style, &p->summary, &p->error);
        break;
    }
    fclose(out);
    return status;
}

void sample_plan_good(sample_plan *p, sample_kind kind)
{
    check_status(sample_plan_write(p, kind), TU_OK, &p->error);
}

void sample_plan_refused(sample_plan *p, sample_kind kind, tu_status status, const char *where,
                         const char *part)
{
    check_status(sample_plan_write(p, kind), status, &p->error);
    assert_string_equal(p->error.where, where);
    check_contains(p->error.message, part);
    assert_int_equal(p->length, 0);
}

double sample_plan_probe_length(const char *program, size_t line, tu_unit unit)
{
    for (size_t i = 1; i < line; i++)
        program = strchr(program, '\n') + 1;
    assert_int_equal(strncmp(program, "G38.2 ", 6), 0);
    return fabs(strtod(program + 7, NULL)) * (unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1.0);
}

size_t sample_plan_count(const sample_plan *p, const char *part)
{
    size_t count = 0;
    for (const char *at = p->program; (at = strstr(at, part)) != NULL; at++)
        count++;
    return count;
}
