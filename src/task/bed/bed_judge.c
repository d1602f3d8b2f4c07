/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_judge.c - from the touches of a bed to the answer about it: one step after the other.
 */
#include "task/bed/bed_judge.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double support_outside_share = 0.25; /* of the touched extent */

enum { SEED = 20261125, SUSPECTS_ROOM = 1000 };

static tu_status fail_memory(tu_error *error)
{
    return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for this map");
}

tu_status tu_bed_need(tu_bed_run *run, size_t bytes, tu_error *error)
{
    if (bytes <= run->scratch_bytes)
        return TU_OK;
    free(run->scratch);
    run->scratch = malloc(bytes);
    run->scratch_bytes = run->scratch ? bytes : 0;
    return run->scratch ? TU_OK : fail_memory(error);
}

/* --- Reading a map --- */

static tu_status merge(tu_bed_run *run, tu_bed_map *map, const char *const *path, size_t path_count,
                       tu_error *error)
{
    const tu_bed_reading *reading = &map->reading;
    size_t count = reading->count;
    tu_bed_places *places = &map->places;
    places->point = malloc(count * sizeof *places->point);
    places->touches = malloc(count * sizeof *places->touches);
    places->first = malloc(count * sizeof *places->first);
    if (!places->point || !places->touches || !places->first)
        return fail_memory(error);
    const tu_bed_touches touches = {.point = reading->point,
                                    .count = count,
                                    .series = reading->series,
                                    .series_name = reading->series_name,
                                    .round = reading->round,
                                    .file_name = path,
                                    .file = reading->file,
                                    .line = reading->line,
                                    .same_place_mm = NAN,
                                    .agree_mm = NAN,
                                    .machine = &run->machine};
    tu_status status = tu_bed_need(run, tu_bed_merge_bytes(count), error);
    if (!status)
        status = tu_bed_merge_touches(&touches, run->scratch, run->scratch_bytes, places,
                                      &run->answer.warnings, error);
    if (status == TU_UNDETERMINED && path_count == 1)
        tu_fail_at(error, strcmp(path[0], "-") ? path[0] : "standard input");
    return status;
}

static tu_status read_map(tu_bed_run *run, tu_bed_map *map, const char *const *path,
                          size_t path_count, const char *series, tu_error *error)
{
    tu_status status =
        tu_bed_read(path, path_count, run->request.unit, series, &map->reading, error);
    if (!status)
        status = merge(run, map, path, path_count, error);
    if (status)
        return status;
    size_t bytes = tu_bed_model_bytes(map->places.count);
    map->model_memory = malloc(bytes);
    if (!map->model_memory)
        return fail_memory(error);
    return tu_bed_model_start(map->places.point, map->places.count, false, map->model_memory, bytes,
                              &map->model, error);
}

/* --- Which points are judged --- */

tu_status tu_bed_choose_points(tu_bed_run *run, tu_error *error)
{
    tu_bed_answer *answer = &run->answer;
    const tu_bed_places *places = &run->map.places;
    const tu_bed_rectangle *job = &run->request.job;
    if (isnan(job->x_low_mm)) {
        answer->judged = places->point;
        answer->judged_count = places->count;
        return TU_OK;
    }
    size_t touched, count = tu_bed_list_surface(&run->map.model, job, NULL, 0, &touched);
    run->judged = malloc((count + 1) * sizeof *run->judged);
    if (!run->judged)
        return fail_memory(error);
    answer->judged_count = tu_bed_list_surface(&run->map.model, job, run->judged, count, &touched);
    answer->border = answer->judged_count - touched;
    answer->judged = run->judged;
    answer->job = job;
    if (answer->judged_count < 3)
        return tu_fail(
            error, TU_UNDETERMINED, "{job}",
            "the bed was touched from X %.3f to %.3f and from Y %.3f to %.3f mm; the job lies "
            "outside of that, or in a hole of it: touch the bed there, or correct {job}",
            run->map.model.extent.x_low_mm, run->map.model.extent.x_high_mm,
            run->map.model.extent.y_low_mm, run->map.model.extent.y_high_mm);
    return TU_OK;
}

/* --- Figures --- */

tu_status tu_bed_find_planes(tu_bed_run *run, tu_error *error)
{
    tu_bed_answer *answer = &run->answer;
    const tu_bed_point *point = answer->judged;
    for (size_t i = 1; i < answer->judged_count; i++) {
        if (point[i].z_mm > point[answer->highest].z_mm)
            answer->highest = i;
        if (point[i].z_mm < point[answer->lowest].z_mm)
            answer->lowest = i;
    }
    answer->range_mm = point[answer->highest].z_mm - point[answer->lowest].z_mm;
    run->zone_room = malloc(tu_zone_workspace_bytes());
    if (!run->zone_room)
        return fail_memory(error);
    tu_status status = tu_bed_fit_plane(point, answer->judged_count, &answer->plane, error);
    if (!status)
        status =
            tu_bed_find_zone(point, answer->judged_count, run->zone_room, &answer->zone, error);
    if (!status)
        status = tu_bed_fit_shape(point, answer->judged_count, &answer->shape, error);
    return status;
}

static tu_status find_lines(tu_bed_run *run, tu_error *error)
{
    tu_bed_answer *answer = &run->answer;
    const tu_bed_model *model = &run->map.model;
    answer->worst_row = answer->worst_column = TU_BED_NONE;
    if (model->kind != TU_BED_GRID)
        return TU_OK;
    run->lines = calloc(model->rows + model->columns, sizeof *run->lines);
    if (!run->lines)
        return fail_memory(error);
    tu_status status = tu_bed_need(run, tu_bed_straightness_bytes(model->points), error);
    if (!status)
        status = tu_bed_find_straightness(model, run->scratch, run->scratch_bytes, run->lines,
                                          run->lines + model->rows, &answer->worst_row,
                                          &answer->worst_column, error);
    answer->row = status ? NULL : run->lines;
    answer->column = status ? NULL : run->lines + model->rows;
    return status;
}

/* Repeatability in Z: from places touched more than once, and what the shop file holds, pooled
 * (GUM 4.2.4). */
static void find_repeatability(tu_bed_run *run)
{
    tu_bed_answer *answer = &run->answer;
    const tu_bed_places *places = &run->map.places;
    const tu_repeatability *stored = &run->machine.repeatability[TU_AXIS_Z];
    bool repeats = places->repeat_dof > 0, kept = run->shop && !isnan(stored->sd_mm);
    answer->sd_mm = NAN;
    if (!repeats && !kept)
        return;
    double own = repeats ? places->repeat_dof : 0, theirs = kept ? stored->dof : 0;
    double squares = (repeats ? own * places->repeat_sd_mm * places->repeat_sd_mm : 0) +
                     (kept ? theirs * stored->sd_mm * stored->sd_mm : 0);
    answer->sd_dof = own + theirs;
    answer->sd_mm = sqrt(squares / answer->sd_dof);
    answer->sd_source = !kept      ? "the places touched more than once"
                        : !repeats ? "the shop file"
                                   : "the places touched more than once and the shop file";
}

static tu_status find_suspects(tu_bed_run *run, tu_error *error)
{
    tu_bed_answer *answer = &run->answer;
    const tu_bed_places *places = &run->map.places;
    run->suspects = malloc(SUSPECTS_ROOM * sizeof *run->suspects);
    if (!run->suspects)
        return fail_memory(error);
    answer->suspects = (tu_bed_suspects){.suspect = run->suspects, .room = SUSPECTS_ROOM};
    double step = run->machine.step_mm;
    tu_status status = tu_bed_need(run, tu_bed_suspects_bytes(places->count), error);
    if (!status)
        status =
            tu_bed_find_suspects(places->point, places->count, NAN, isnan(step) ? NAN : 2 * step,
                                 run->scratch, run->scratch_bytes, &answer->suspects, error);
    return status;
}

static tu_status find_inflation(tu_bed_run *run, tu_error *error)
{
    tu_bed_answer *answer = &run->answer;
    if (isnan(answer->sd_mm) || answer->judged_count < 4 || /* three make a plane, noise or not */
        answer->judged_count > TU_INFLATION_POINTS_MAX)
        return TU_OK;
    const tu_inflation_request request = {.figure = TU_FIGURE_MINIMUM_ZONE,
                                          .sd_mm = tu_bed_place_sd(run),
                                          .dof = answer->sd_dof >= 1 ? answer->sd_dof : NAN,
                                          .seed = SEED};
    tu_status status = tu_bed_need(run, tu_bed_inflation_bytes(answer->judged_count), error);
    if (!status)
        status = tu_bed_find_inflation(answer->judged, answer->judged_count, &request, run->scratch,
                                       run->scratch_bytes, &answer->inflation, error);
    answer->inflated = !status;
    return status;
}

/* --- Warnings --- */

/* Shims under a support far outside rest on a plane that nobody touched there. */
static void warn_of_supports(tu_bed_run *run)
{
    tu_bed_answer *answer = &run->answer;
    const tu_bed_rectangle *box = &run->map.model.extent;
    const double x = support_outside_share * (box->x_high_mm - box->x_low_mm);
    const double y = support_outside_share * (box->y_high_mm - box->y_low_mm);
    for (size_t i = 0; i < answer->supports; i++) {
        const tu_machine_plane_point *p = &answer->support[i];
        if (p->x < box->x_low_mm - x || p->x > box->x_high_mm + x || p->y < box->y_low_mm - y ||
            p->y > box->y_high_mm + y)
            tu_warn(&answer->warnings,
                    "the support at X %.3f Y %.3f lies far beside what was touched, X %.3f to %.3f "
                    "and Y %.3f to %.3f: is it under the bed, and in machine coordinates?",
                    p->x, p->y, box->x_low_mm, box->x_high_mm, box->y_low_mm, box->y_high_mm);
    }
}

/* What was left out of the file. */
static void warn_of_reading(tu_bed_run *run)
{
    tu_bed_answer *answer = &run->answer;
    const tu_touch_table *table = run->map.reading.table;
    if (table->not_ok >
        answer->touches) /* one fast touch before the slow ones goes without saying */
        tu_warn(&answer->warnings, "%zu touches are marked as not ok and were left out",
                table->not_ok);
    if (table->torn_bytes)
        tu_warn(&answer->warnings, "the log ends in the middle of a line: %zu bytes were left out",
                table->torn_bytes);
    if (answer->places.strays && answer->places.strays < answer->places.count)
        tu_warn(&answer->warnings,
                "of the series " TU_BED_AGAIN_SERIES ", %zu place%s further than %g mm from all "
                "that were touched before, so nothing is replaced there: is it the same bed, and "
                "was the machine homed alike?",
                answer->places.strays, answer->places.strays == 1 ? " lies" : "s lie",
                TU_BED_AGAIN_MM);
}

static void warn(tu_bed_run *run)
{
    tu_bed_answer *answer = &run->answer;
    if (isnan(answer->sd_mm))
        tu_warn(
            &answer->warnings,
            "nothing says how well a touch repeats, so nobody can say how much of the flatness "
            "figure is noise: touch some places twice, or keep a trial series in the shop file");
    if (answer->surfaced && answer->surfacing.unknown_mm2 > 0.001 * answer->surfacing.area_mm2)
        tu_warn(&answer->warnings,
                "%.0f %% of the %s was not touched: the bed may be higher or lower there",
                fmin(99, 100 * answer->surfacing.unknown_mm2 /
                             (answer->surfacing.unknown_mm2 + answer->surfacing.area_mm2)),
                answer->job ? "job" : "rectangle around the touches");
    if (run->map.model.wide_gap_mm > 0)
        tu_warn(&answer->warnings,
                "two lines of touches are %.3f mm apart, more than four times as far as usual: "
                "between them the bed is taken as straight; if lines are missing there, touch them",
                run->map.model.wide_gap_mm);
    warn_of_supports(run);
}

static tu_status set_up(tu_bed_run *run, tu_error *error)
{
    const tu_task_bed_request *request = &run->request;
    run->machine = run->known_machine ? *run->known_machine : tu_machine_start();
    if (!request->shop)
        return TU_OK;
    tu_status status = tu_shop_read(request->shop, &run->shop, error);
    if (!status)
        status =
            tu_typed_unit_check(&request->typed, request->unit, run->shop, request->shop, error);
    if (!status)
        run->machine = tu_shop_machine(run->shop);
    return status;
}

tu_status tu_bed_prepare(tu_bed_run *run, tu_error *error)
{
    const tu_task_bed_request *request = &run->request;
    tu_status status = set_up(run, error);
    if (!status)
        status =
            read_map(run, &run->map, request->path, request->path_count, request->series, error);
    if (!status)
        status = tu_bed_check_rounds(run, error);
    if (status)
        return status;
    run->answer.name = request->path[0];
    run->answer.face = run->request.face;
    run->answer.touches = run->map.reading.count;
    run->answer.places = run->map.places;
    run->answer.model = run->map.model;
    warn_of_reading(run);
    find_repeatability(run);
    status = tu_bed_check_series(run, error);
    return status ? status : find_suspects(run, error);
}

tu_status tu_bed_judge(tu_bed_run *run, tu_error *error)
{
    static tu_status (*const steps[])(tu_bed_run *, tu_error *) = {
        tu_bed_choose_points, tu_bed_find_planes, find_lines,     find_inflation,
        tu_bed_decide,        tu_bed_doubt,       tu_bed_compare, tu_bed_plan_again};
    const tu_task_bed_request *request = &run->request;
    tu_status status = tu_bed_prepare(run, error);
    if (!status && request->against)
        status = read_map(run, &run->before, &request->against, 1, NULL, error);
    run->answer.limit_mm = request->within_mm;
    run->answer.against = request->against;
    for (size_t i = 0; !status && i < sizeof steps / sizeof *steps; i++)
        status = steps[i](run, error);
    if (!status)
        warn(run);
    return status;
}

static void destroy_map(tu_bed_map *map)
{
    tu_bed_reading_destroy(&map->reading);
    free(map->places.point);
    free(map->places.touches);
    free(map->places.first);
    free(map->model_memory);
}

void tu_bed_run_destroy(tu_bed_run *run)
{
    if (!run)
        return;
    destroy_map(&run->map);
    destroy_map(&run->before);
    if (!run->part)
        tu_shop_destroy(run->shop);
    free(run->scratch);
    free(run->zone_room);
    free(run->judged);
    free(run->lines);
    free(run->suspects);
    tu_bed_run_destroy(run->without);
    free(run->without);
    tu_sheet_destroy(&run->again_program);
}
