/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * through_cut.c - where a cut through the stock bites into the bed, and where it leaves a skin.
 */
#include "trueup/bed.h"

#include <math.h>

static tu_status find_reference(const tu_bed_model *model, const tu_through_cut_request *request,
                                tu_through_cut *cut, tu_error *error)
{
    if (isnan(request->reference.x)) {
        cut->b0_mm = request->b0_mm;
        if (!isfinite(cut->b0_mm))
            return tu_fail(error, TU_USAGE, NULL,
                           "a through cut needs the place where the stock's height was touched, or "
                           "the height of the bed there");
        return TU_OK;
    }
    cut->b0_mm = tu_bed_model_height(model, request->reference.x, request->reference.y);
    if (isnan(cut->b0_mm))
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "the bed was not touched around X %.3f Y %.3f, where the stock's height "
                       "comes from: touch there too, or name another place",
                       request->reference.x, request->reference.y);
    return TU_OK;
}

tu_status tu_bed_judge_through_cut(const tu_bed_model *model, const tu_through_cut_request *request,
                                   tu_through_cut *cut, tu_error *error)
{
    tu_bed_region region;

    if (!model || !request || !cut)
        return tu_fail(error, TU_USAGE, NULL, "a model, a request and room for the result");
    *cut = (tu_through_cut){0};
    const double tolerance = isnan(request->stock_tolerance_mm) ? 0 : request->stock_tolerance_mm;
    if (!isfinite(request->overcut_mm) || !(tolerance >= 0) || isinf(tolerance))
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "overcut and tolerance have to be finite, the tolerance 0 or more");
    tu_status status = find_reference(model, request, cut, error);
    if (status)
        return status;

    /* where the bed is above this, even the thickest stock is cut through */
    const double through_mm = cut->b0_mm - request->overcut_mm + tolerance;
    status = tu_bed_measure_region(model, request->job, through_mm, &region, error);
    if (status)
        return status;
    cut->worst_bite_mm =
        fmax(0, region.highest.z_mm - cut->b0_mm + request->overcut_mm + tolerance);
    cut->worst_skin_mm = fmax(0, through_mm - region.lowest.z_mm);
    cut->bite_at = region.highest;
    cut->skin_at = region.lowest;
    cut->overcut_needed_mm = cut->b0_mm - region.lowest.z_mm + tolerance;
    cut->bite_then_mm = region.highest.z_mm - region.lowest.z_mm + 2 * tolerance;
    cut->area_mm2 = region.area_mm2;
    cut->unknown_mm2 = region.unknown_mm2;
    cut->skin_mm2 = fmax(0, region.area_mm2 - region.above_mm2);
    return TU_OK;
}
