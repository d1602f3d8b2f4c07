/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_decide.c - what to do about a bed: surfacing, shims, through cuts.
 */
#include "task/bed/bed_judge.h"

#include <math.h>
#include <string.h>

#define COVERAGE 2.0 /* about 95 % */

/* Many touches of a place are worth more than one; the least count is the cautious one. */
double tu_bed_place_sd(const tu_bed_run *run)
{
    size_t least = SIZE_MAX;
    for (size_t i = 0; i < run->map.places.count; i++)
        least = run->map.places.touches[i] < least ? run->map.places.touches[i] : least;
    return run->answer.sd_mm / sqrt((double)least);
}

/* What is not known of a height of the bed: a touch's scatter, and how far the bed between touches
 * strays from what they foretell, which the suspects' scatter holds beside it. */
static double height_sd(const tu_bed_run *run)
{
    const tu_bed_suspects *suspects = &run->answer.suspects;
    const double between = suspects->judged > 0 ? suspects->scatter_mm : NAN;
    return fmax(tu_bed_place_sd(run), between); /* fmax passes over a NaN */
}

static tu_status plan_surfacing(tu_bed_run *run, tu_error *error)
{
    const tu_task_bed_request *request = &run->request;
    tu_bed_answer *answer = &run->answer;
    const tu_surfacing_request surfacing = {.rectangle = answer->job,
                                            .allowance_mm = request->allowance_mm,
                                            .depth_of_cut_mm = request->depth_of_cut_mm,
                                            .cutter_mm = request->surfacer_mm,
                                            .step_over_mm = request->step_over_mm,
                                            .feed_mm_s = request->feed_mm_per_min / 60};
    answer->depth_of_cut_mm = request->depth_of_cut_mm;
    answer->allowance_mm = request->allowance_mm;
    tu_status status =
        tu_bed_plan_surfacing(&run->map.model, &surfacing, &answer->surfacing, error);
    answer->surfaced = !status;
    return status;
}

/* A slope that scatter alone makes is none: under a support far away it would add that noise many
 * times over. */
static void hide_tilt(tu_bed_run *run)
{
    tu_bed_answer *answer = &run->answer;
    const tu_bed_shape *shape = &answer->shape;
    const double rise = fabs(answer->plane.slope_x) * shape->x_extent_mm +
                        fabs(answer->plane.slope_y) * shape->y_extent_mm;
    /* of n places all over an extent, the slope times the extent has sd sqrt(12 / n) of a height's
     */
    const double places = fmax(1, (double)(answer->judged_count - answer->border));
    const double share = fmin(sqrt(2), sqrt(12 / places));
    answer->tilt_hidden = rise < COVERAGE * share * height_sd(run);
}

static tu_status level(tu_bed_run *run, tu_error *error)
{
    const tu_task_bed_request *request = &run->request;
    tu_bed_answer *answer = &run->answer;
    answer->supports = request->supports;
    memcpy(answer->support, request->support, sizeof answer->support);
    if (answer->supports == 0) {
        const tu_bed_rectangle *box = &run->map.model.extent;
        const tu_machine_plane_point corner[] = {{box->x_low_mm, box->y_low_mm},
                                                 {box->x_high_mm, box->y_low_mm},
                                                 {box->x_low_mm, box->y_high_mm},
                                                 {box->x_high_mm, box->y_high_mm}};
        memcpy(answer->support, corner, sizeof corner);
        answer->supports = 4;
        answer->corners = true;
    }
    tu_status status = tu_bed_level(answer->plane.slope_x, answer->plane.slope_y, answer->support,
                                    answer->supports, answer->add_mm, error);
    if (status && !answer->corners)
        tu_fail_at(error, "{support}");
    hide_tilt(run);
    return status;
}

static tu_status judge_through_cut(tu_bed_run *run, tu_error *error)
{
    const tu_task_bed_request *request = &run->request;
    tu_bed_answer *answer = &run->answer;
    if (isnan(request->overcut_mm))
        return TU_OK;
    const tu_bed_rectangle *box = answer->job ? answer->job : &run->map.model.extent;
    tu_through_cut_request cut = {.job = answer->job,
                                  .reference = request->zeroed_at,
                                  .b0_mm = NAN,
                                  .overcut_mm = request->overcut_mm,
                                  .stock_tolerance_mm = request->stock_tolerance_mm};
    if (isnan(request->zeroed_at.x))
        cut.reference = (tu_machine_plane_point){(box->x_low_mm + box->x_high_mm) / 2,
                                                 (box->y_low_mm + box->y_high_mm) / 2};
    if (isnan(cut.stock_tolerance_mm) && run->shop)
        cut.stock_tolerance_mm = tu_shop_stock(run->shop).size[TU_AXIS_Z].tolerance_mm;
    answer->through_asked = true;
    answer->overcut_mm = request->overcut_mm;
    answer->reference = cut.reference;
    answer->reference_stated = !isnan(request->zeroed_at.x);
    tu_status status = tu_bed_judge_through_cut(&run->map.model, &cut, &answer->through, error);
    if (status == TU_UNDETERMINED && isnan(request->zeroed_at.x))
        return tu_fail(error, status, "{overcut}",
                       "the bed is not known in the middle, around X %.3f Y %.3f, where the stock "
                       "is taken to be zeroed: say with {zeroed_at} X,Y where it is, or touch the "
                       "bed there too",
                       cut.reference.x, cut.reference.y);
    if (status)
        tu_fail_at(error, !isnan(request->zeroed_at.x) ? "{zeroed_at}" : "{overcut}");
    /* of two heights: where the stock was zeroed, and where the bed is lowest */
    answer->reserve_mm = COVERAGE * sqrt(2) * height_sd(run);
    return status;
}

tu_status tu_bed_decide(tu_bed_run *run, tu_error *error)
{
    tu_status status = plan_surfacing(run, error);
    if (!status)
        status = level(run, error);
    return status ? status : judge_through_cut(run, error);
}
