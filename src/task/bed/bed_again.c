/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_again.c - a touch program for the suspects of a bed.
 */
#include "task/bed/bed_judge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double variation_least_mm = 2.0; /* as of a grid; common practice, no source */
static const double variation_spare_mm = 0.5; /* a place may come out higher than it did */

static const double keep_out_room_mm = 25; /* a clean place needs no more: there are others */

enum { CLEAN_MAX = 3 };

/* Row by row from the front left, so that the program does not hang on the order of the touches. */
static int compare_places(const void *a, const void *b)
{
    const double *p = a, *q = b;
    if (p[TU_AXIS_Y] != q[TU_AXIS_Y])
        return p[TU_AXIS_Y] < q[TU_AXIS_Y] ? -1 : 1;
    return (p[TU_AXIS_X] > q[TU_AXIS_X]) - (p[TU_AXIS_X] < q[TU_AXIS_X]);
}

/* The suspect that stands out of its neighbours the furthest, up or down. */
static const tu_bed_suspect *find_worst(const tu_bed_suspects *suspects, size_t count)
{
    const tu_bed_suspect *worst = suspects->suspect;
    for (size_t i = 1; i < count; i++)
        if (fabs(suspects->suspect[i].residual_mm) > fabs(worst->residual_mm))
            worst = &suspects->suspect[i];
    return worst;
}

static tu_status refuse_variation(const tu_bed_run *run, size_t count, double range_mm,
                                  tu_error *error)
{
    const tu_bed_suspect *worst = find_worst(&run->answer.suspects, count);
    const tu_bed_places *places = &run->map.places;
    const tu_bed_point *at = &places->point[worst->index];
    const size_t touch = places->first[worst->index];
    const char *file = run->request.path[run->map.reading.file[touch]];
    return tu_fail(
        error, TU_DATA_RANGE, "{re_touch}",
        "the touched places differ by %.3f mm in height, and the program's cutter goes "
        "over %.1f mm at most: look at X %.3f Y %.3f (%s:%u), %.3f mm %s than its "
        "neighbours say; that is no chip: take what stands there away and map it anew, or "
        "remove those touches from the file",
        range_mm, TU_PLAN_VARIATION_MAX_MM - variation_spare_mm, at->x_mm, at->y_mm,
        strcmp(file, "-") ? file : "standard input", (unsigned)run->map.reading.line[touch],
        fabs(worst->residual_mm), worst->residual_mm > 0 ? "higher" : "lower");
}

/* The cutter goes over all the bed, so its whole range counts, the suspects' too. */
static tu_status find_variation(const tu_bed_run *run, size_t count, double *variation_mm,
                                tu_error *error)
{
    const tu_bed_places *places = &run->map.places;
    double low = places->point[0].z_mm, high = low;
    for (size_t i = 1; i < places->count; i++) {
        low = fmin(low, places->point[i].z_mm);
        high = fmax(high, places->point[i].z_mm);
    }
    *variation_mm = fmax(variation_least_mm, high - low + variation_spare_mm);
    if (*variation_mm > TU_PLAN_VARIATION_MAX_MM)
        return refuse_variation(run, count, high - low, error);
    return TU_OK;
}

static bool is_free(const tu_bed_run *run, size_t index)
{
    const tu_bed_point *p = &run->map.places.point[index];
    for (size_t i = 0; i < run->answer.suspects.count && i < run->answer.suspects.room; i++)
        if (run->suspects[i].index == index)
            return false;
    for (size_t i = 0; i < run->request.keep_outs; i++) {
        const tu_rectangle *r = &run->request.keep_out[i];
        if (p->x_mm > fmin(r->x0_mm, r->x1_mm) - keep_out_room_mm &&
            p->x_mm < fmax(r->x0_mm, r->x1_mm) + keep_out_room_mm &&
            p->y_mm > fmin(r->y0_mm, r->y1_mm) - keep_out_room_mm &&
            p->y_mm < fmax(r->y0_mm, r->y1_mm) + keep_out_room_mm)
            return false;
    }
    return true;
}

/* Clean places, near three corners: where they come out as before, tool and zero are as before. */
static size_t choose_clean(const tu_bed_run *run, size_t chosen[CLEAN_MAX])
{
    const tu_bed_rectangle *box = &run->map.model.extent;
    const double corner[CLEAN_MAX][2] = {{box->x_low_mm, box->y_low_mm},
                                         {box->x_high_mm, box->y_low_mm},
                                         {box->x_low_mm, box->y_high_mm}};
    size_t count = 0;
    for (size_t c = 0; c < CLEAN_MAX; c++) {
        double nearest = INFINITY;
        for (size_t i = 0; i < run->map.places.count; i++) {
            const tu_bed_point *p = &run->map.places.point[i];
            const double apart = hypot(p->x_mm - corner[c][0], p->y_mm - corner[c][1]);
            bool is_taken = false;
            for (size_t k = 0; k < count; k++)
                is_taken = is_taken || chosen[k] == i;
            if (apart < nearest && !is_taken && is_free(run, i)) {
                nearest = apart;
                chosen[count] = i;
            }
        }
        count += nearest < INFINITY;
    }
    return count;
}

/* From machine coordinates to those that the program runs in. */
static void shift_plan(const tu_bed_run *run, tu_plan_grid *plan, tu_rectangle *keep_out,
                       double (*place)[2])
{
    const tu_task_bed_request *request = &run->request;
    const double x = request->active_mm[TU_AXIS_X], y = request->active_mm[TU_AXIS_Y];
    const tu_bed_rectangle *box = &run->map.model.extent;
    plan->area = (tu_rectangle){box->x_low_mm - x, box->y_low_mm - y, box->x_high_mm - x,
                                box->y_high_mm - y};
    for (size_t i = 0; i < request->keep_outs; i++) {
        const tu_rectangle *r = &request->keep_out[i];
        keep_out[i] = (tu_rectangle){r->x0_mm - x, r->y0_mm - y, r->x1_mm - x, r->y1_mm - y};
    }
    size_t clean[CLEAN_MAX];
    const size_t suspects = plan->place_count;
    plan->place_count += choose_clean(run, clean);
    for (size_t i = 0; i < plan->place_count; i++) {
        const size_t index = i < suspects ? run->suspects[i].index : clean[i - suspects];
        const tu_bed_point *p = &run->map.places.point[index];
        place[i][TU_AXIS_X] = p->x_mm - x;
        place[i][TU_AXIS_Y] = p->y_mm - y;
    }
    qsort(place, plan->place_count, sizeof *place, compare_places);
    plan->keep_out = keep_out;
    plan->keep_out_count = request->keep_outs;
    plan->place = (const double(*)[2])place;
}

static tu_status write_program(tu_bed_run *run, const tu_cutter *cutter, double (*place)[2],
                               tu_error *error)
{
    const tu_task_bed_request *request = &run->request;
    const tu_bed_suspects *suspects = &run->answer.suspects;
    tu_rectangle keep_out[TU_KEEP_OUT_MAX];
    tu_plan_grid plan = {.machine = &run->machine,
                         .cutter = cutter,
                         .place_count =
                             suspects->count < suspects->room ? suspects->count : suspects->room,
                         .series = TU_BED_AGAIN_SERIES};
    tu_plan_style style = tu_plan_style_start();
    style.unit = request->unit;
    style.slot = request->slot;
    tu_status status = find_variation(run, plan.place_count, &plan.variation_mm, error);
    shift_plan(run, &plan, keep_out, place);
    if (!status)
        status = tu_sheet_open(&run->again_program, error);
    if (!status)
        status = tu_plan_write_grid(run->again_program.stream, &plan, &style, &run->again, error);
    if (!status)
        status = tu_sheet_finish(&run->again_program, error);
    return status;
}

static void pass_warnings(tu_bed_run *run)
{
    tu_warnings *warnings = &run->answer.warnings;
    for (size_t i = 0; i < run->again.warnings.count; i++)
        tu_warn(warnings, "{re_touch}: %s", run->again.warnings.text[i]);
    if (run->again.skipped)
        tu_warn(warnings, "{re_touch}: %zu of the places are too near a keep-out and left out",
                run->again.skipped);
}

tu_status tu_bed_plan_again(tu_bed_run *run, tu_error *error)
{
    const tu_task_bed_request *request = &run->request;
    const tu_cutter *cutter;
    run->answer.again_path = request->re_touch;
    if (!request->re_touch)
        return TU_OK;
    tu_status status = tu_shop_find_cutter(run->shop, request->cutter, &cutter, error);
    if (status || run->answer.suspects.count == 0)
        return status;
    double(*place)[2] = malloc((run->answer.suspects.room + CLEAN_MAX) * sizeof *place);
    if (!place)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for the touch program");
    status = write_program(run, cutter, place, error);
    free(place);
    if (status)
        return status;
    run->answer.again = &run->again;
    pass_warnings(run);
    return TU_OK;
}
