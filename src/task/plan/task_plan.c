/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_plan.c - the use case "plan": from a request to a touch program.
 */
#include "trueup/task_plan.h"

#include "base/sheet.h"
#include "task/typed_length.h"
#include "task/used.h"
#include "trueup/task_shop.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct tu_plan_run tu_plan_run;

struct tu_plan_run {
    tu_task_plan_request request;
    tu_shop *shop;
    tu_machine machine;
    tu_plan_summary summary;
    tu_sheet program;
};

tu_task_plan_request tu_task_plan_request_start(void)
{
    tu_task_plan_request request = {.place = tu_plan_corner_start(),
                                    .style = tu_plan_style_start()};
    request.seat = -1;
    request.grid.area = (tu_rectangle){NAN, NAN, NAN, NAN};
    request.grid.variation_mm = 2.0; /* common practice, no source */
    request.trials.axis = (tu_axis)TU_AXIS_COUNT;
    request.trials.touches = 30; /* common practice, no source */
    return request;
}

static tu_status check(const tu_task_plan_request *request, tu_error *error)
{
    const bool no_target = !*tu_target_name(request->place.target);
    const tu_plan_what what = request->what;
    if (what == TU_PLAN_CORNER && no_target)
        return tu_fail(error, TU_USAGE, "{target}",
                       "missing: the corner or face of the stock, as in front-left-top");
    if (what == TU_PLAN_TRIALS && (int)request->trials.axis == TU_AXIS_COUNT)
        return tu_fail(error, TU_USAGE, "{touches_axis}", "missing: x, y or z");
    if (what == TU_PLAN_TRIALS && request->trials.axis != TU_AXIS_Z && no_target)
        return tu_fail(error, TU_USAGE, "{target}",
                       "missing: the corner or face at which the plate lies, as in front-left-top");
    if (what == TU_PLAN_GRID && isnan(request->grid.area.x0_mm))
        return tu_fail(error, TU_USAGE, "{area}", "missing: X0,Y0,X1,Y1 in work coordinates");
    if (what == TU_PLAN_GRID && !request->grid.columns)
        return tu_fail(error, TU_USAGE, "{columns}", "missing: points along X");
    if (what == TU_PLAN_GRID && !request->grid.rows)
        return tu_fail(error, TU_USAGE, "{rows}", "missing: points along Y");
    return TU_OK;
}

static bool touches_side(const tu_task_plan_request *request)
{
    const tu_target *target = &request->place.target;
    if (request->what == TU_PLAN_TRIALS)
        return request->trials.axis != TU_AXIS_Z;
    return tu_target_asks(*target, TU_AXIS_X) || tu_target_asks(*target, TU_AXIS_Y);
}

/* The set-up from the shop file: a plate and a cutter where the plan needs one. */
static tu_status look_up(tu_plan_run *run, tu_task_plan_story *story, tu_error *error)
{
    tu_task_plan_request *request = &run->request;
    tu_plan_corner *place = &request->place;
    tu_shop_place found;
    tu_status status = tu_task_shop_open(request->shop, &found, &run->shop, error);
    if (!status)
        status =
            tu_typed_unit_check(&request->typed, request->style.unit, run->shop, found.path, error);
    if (status)
        return status;
    const bool plated = request->what != TU_PLAN_GRID && !request->bare;
    const bool placed = request->what == TU_PLAN_CORNER || request->what == TU_PLAN_TRIALS;
    if (plated)
        request->plate = tu_used_name(story->used, run->shop, TU_SHOP_PLATE, request->plate);
    if (request->what != TU_PLAN_SURFACE)
        request->cutter = tu_used_name(story->used, run->shop, TU_SHOP_CUTTER, request->cutter);
    if (placed)
        place->seat = tu_used_seat(story->used, run->shop, request->seat);
    if (request->what == TU_PLAN_CORNER || (placed && request->trials.axis != TU_AXIS_Z))
        place->target = tu_used_target(story->used, run->shop, place->target);
    request->style.slot = tu_used_slot(story->used, run->shop, request->slot);
    tu_used_unit(story->used, request->style.unit, &request->typed);
    tu_used_place(story->used, found);
    status = check(request, error);
    if (status)
        return status;
    run->machine = tu_shop_machine(run->shop);
    if (!tu_quantity_is_stated(place->stock_thickness))
        place->stock_thickness = tu_shop_stock(run->shop).size[TU_AXIS_Z];
    if (plated)
        status = tu_shop_find_plate(run->shop, request->plate, &place->plate, error);
    bool needs_cutter = request->what == TU_PLAN_GRID ||
                        (request->what != TU_PLAN_SURFACE && touches_side(request));
    if (!status && (needs_cutter || request->cutter))
        status = tu_shop_find_cutter(run->shop, request->cutter, &place->cutter, error);
    return status;
}

static tu_status write_program(tu_plan_run *run, tu_error *error)
{
    tu_task_plan_request *request = &run->request;
    const tu_plan_style *style = &request->style;
    FILE *out = run->program.stream;
    request->place.machine = &run->machine;
    char *series = request->place.series;
    if (request->series && strlen(request->series) >= TU_NAME_SIZE)
        return tu_fail(error, TU_DATA_RANGE, "{series_name}", "is longer than %d characters",
                       TU_NAME_SIZE - 1);
    snprintf(series, TU_NAME_SIZE, "%s", request->series ? request->series : "");
    switch (request->what) {
    case TU_PLAN_SURFACE: {
        tu_plan_surface plan = {.machine = &run->machine, .plate = request->place.plate};
        memcpy(plan.series, series, TU_NAME_SIZE);
        return tu_plan_write_surface(out, &plan, style, &run->summary, error);
    }
    case TU_PLAN_GRID:
        request->grid.machine = &run->machine;
        request->grid.cutter = request->place.cutter;
        memcpy(request->grid.series, series, TU_NAME_SIZE);
        return tu_plan_write_grid(out, &request->grid, style, &run->summary, error);
    case TU_PLAN_TRIALS:
        request->trials.place = request->place;
        return tu_plan_write_trials(out, &request->trials, style, &run->summary, error);
    case TU_PLAN_CORNER:
    case TU_PLAN_NOTHING:
        break;
    }
    return tu_plan_write_corner(out, &request->place, style, &run->summary, error);
}

tu_status tu_task_plan(const tu_task_plan_request *request, tu_task_plan_story *story,
                       tu_error *error)
{
    *story = (tu_task_plan_story){0};
    tu_plan_run *run = story->run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    run->request = *request;
    run->request.grid.keep_out = run->request.keep_out;
    story->summary = &run->summary;
    tu_status status = look_up(run, story, error);
    if (!status)
        status = tu_sheet_open(&run->program, error);
    if (!status)
        status = write_program(run, error);
    if (!status)
        status = tu_sheet_finish(&run->program, error);
    story->program = run->program.text;
    story->program_length = run->program.length;
    return status;
}

void tu_task_plan_end(tu_task_plan_story *story)
{
    if (story->run) {
        tu_sheet_destroy(&story->run->program);
        tu_shop_destroy(story->run->shop);
    }
    free(story->run);
    *story = (tu_task_plan_story){0};
}
