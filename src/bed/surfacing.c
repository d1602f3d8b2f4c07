/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * surfacing.c - how deep, in how many passes, and what each pass leaves.
 */
#include "trueup/bed.h"

#include <math.h>

/* What a depth may be over a whole number of passes before it takes one more. */
#define PASS_ROUNDING 1e-9

static tu_status check_request(const tu_surfacing_request *r, tu_error *error)
{
    if (!(r->allowance_mm >= 0) || isinf(r->allowance_mm))
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "the allowance below the lowest point has to be "
                       "0 or more");
    if (r->depth_of_cut_mm <= 0)
        return tu_fail(error, TU_DATA_RANGE, NULL, "the depth of cut has to be above 0");
    if (r->cutter_mm <= 0 || r->step_over_mm <= 0 || r->feed_mm_s <= 0)
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "cutter, step-over and feed of surfacing have to be above 0");
    if (r->step_over_mm > r->cutter_mm)
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "a step-over of %.3f mm leaves ridges beside a cutter of %.3f mm: take less",
                       r->step_over_mm, r->cutter_mm);
    return TU_OK;
}

static tu_status count_passes(const tu_surfacing_request *r, tu_surfacing *s, tu_error *error)
{
    double passes = 1;

    if (s->depth_mm > 0 && !isnan(r->depth_of_cut_mm))
        passes = fmax(1, ceil(s->depth_mm / r->depth_of_cut_mm - PASS_ROUNDING));
    if (passes > TU_SURFACING_PASSES_MAX)
        return tu_fail(
            error, TU_DATA_RANGE, NULL,
            "%.3f mm at a depth of cut of %.3g mm are more than %d passes: take a deeper "
            "cut",
            s->depth_mm, r->depth_of_cut_mm, (int)TU_SURFACING_PASSES_MAX);
    s->passes = (size_t)passes;
    return TU_OK;
}

/* Length of one pass, back and forth along the longer side. */
static double path_of_pass(const tu_bed_rectangle *area, double cutter_mm, double step_over_mm)
{
    const double x = area->x_high_mm - area->x_low_mm, y = area->y_high_mm - area->y_low_mm;
    const double across = fmax(0, fmin(x, y) - cutter_mm);
    const double lanes = 1 + ceil(across / step_over_mm - PASS_ROUNDING);

    return lanes * fmax(x, y) + across;
}

tu_status tu_bed_plan_surfacing(const tu_bed_model *model, const tu_surfacing_request *request,
                                tu_surfacing *surfacing, tu_error *error)
{
    tu_bed_region region;
    double before = 0;

    if (!model || !request || !surfacing)
        return tu_fail(error, TU_USAGE, NULL, "a model, a request and room for the result");
    *surfacing = (tu_surfacing){.path_mm = NAN, .time_s = NAN};
    tu_status status = check_request(request, error);
    if (!status)
        status = tu_bed_measure_region(model, request->rectangle, 0, &region, error);
    if (status)
        return status;
    surfacing->highest = region.highest;
    surfacing->lowest = region.lowest;
    surfacing->area_mm2 = region.area_mm2;
    surfacing->unknown_mm2 = region.unknown_mm2;
    surfacing->level_mm = region.lowest.z_mm - request->allowance_mm;
    surfacing->depth_mm = region.highest.z_mm - surfacing->level_mm;
    status = count_passes(request, surfacing, error);
    for (size_t k = 0; !status && k < surfacing->passes; k++) {
        tu_surfacing_pass *pass = &surfacing->pass[k];
        pass->level_mm = k + 1 == surfacing->passes
                             ? surfacing->level_mm
                             : region.highest.z_mm - (double)(k + 1) * request->depth_of_cut_mm;
        status = tu_bed_measure_region(model, request->rectangle, pass->level_mm, &region, error);
        pass->uncut_mm2 = fmax(0, region.area_mm2 - region.above_mm2);
        pass->volume_mm3 = region.above_mm3 - before;
        before = surfacing->volume_mm3 = region.above_mm3;
    }
    if (status || isnan(request->cutter_mm) || isnan(request->step_over_mm))
        return status;
    const tu_bed_rectangle *area = request->rectangle ? request->rectangle : &model->extent;
    surfacing->path_mm =
        (double)surfacing->passes * path_of_pass(area, request->cutter_mm, request->step_over_mm);
    surfacing->time_s = surfacing->path_mm / request->feed_mm_s;
    return TU_OK;
}
