/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_bed_map.c - how much higher the bed is at the zero than where the plate sat on it.
 */
#include "cli/zero_bed_map.h"

#include "cli/bed_judge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static tu_status fail_outside(const tu_bed_model *model, const char *what, const char *option,
                              tu_machine_plane_point place, tu_error *error)
{
    const tu_bed_rectangle *extent = &model->extent;
    return tu_fail(error, TU_UNDETERMINED, option,
                   "%s, X %.3f Y %.3f mm, is not on the map of the bed, which was touched from X "
                   "%.3f to %.3f and Y %.3f to %.3f mm: map the bed there, too",
                   what, place.x, place.y, extent->x_low_mm, extent->x_high_mm, extent->y_low_mm,
                   extent->y_high_mm);
}

static tu_status find_zero(const tu_zero_options *options, const tu_zero_result *zero,
                           tu_machine_plane_point *place, tu_error *error)
{
    *place = options->zero_at;
    if (!isnan(place->x))
        return TU_OK;
    const tu_axis_zero *axis = zero->axis;
    if (!axis[TU_AXIS_X].asked || !axis[TU_AXIS_Y].asked)
        return tu_fail(error, TU_DATA_MISSING, "--zero-at",
                       "X and Y of the corner are not worked out here: say where on the bed the "
                       "zero is wanted, as in --zero-at 120,80");
    *place = (tu_machine_plane_point){axis[TU_AXIS_X].zero_mm, axis[TU_AXIS_Y].zero_mm};
    return TU_OK;
}

/*
 * How well the map foretells a height between its touches: the scatter of each touch from what its
 * neighbours say holds both noise and roughness. Twice, for two heights; nothing when both are one.
 */
static void judge(const tu_bed_run *run, double distance_mm, tu_bed_rise *rise,
                  tu_warnings *warnings)
{
    const tu_bed_suspects *suspects = &run->answer.suspects;
    bool judged = suspects->judged > 0 && isfinite(suspects->scatter_mm);
    rise->dof = INFINITY;
    rise->standard_mm = judged ? sqrt(2) * suspects->scatter_mm : NAN;
    if (distance_mm < 1e-6)
        rise->standard_mm = 0;
    else if (!judged)
        tu_warn(warnings, "the map of the bed has too few places to tell how well it foretells a "
                          "height between them; its part is left out of the uncertainty of Z.");
    if (suspects->count > 0)
        tu_warn(
            warnings,
            "the map of the bed has %zu suspect place%s: look at trueup bed before you trust it "
            "here.",
            suspects->count, suspects->count == 1 ? "" : "s");
}

tu_status tu_zero_bed_map_read(const tu_zero_options *options, const tu_zero_result *zero,
                               tu_bed_rise *rise, tu_warnings *warnings, tu_error *error)
{
    tu_machine_plane_point to, from = options->plate_at;
    tu_status status = find_zero(options, zero, &to, error);
    if (status)
        return status;
    tu_bed_run *run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    tu_bed_options_start(&run->options);
    run->options.path[0] = options->bed_map_path;
    run->options.path_count = 1;
    run->options.unit = options->unit;
    status = tu_bed_prepare(run, error);
    if (status)
        goto cleanup;
    const tu_bed_model *model = &run->map.model;
    double low = tu_bed_model_height(model, from.x, from.y);
    double high = tu_bed_model_height(model, to.x, to.y);
    if (isnan(low))
        status = fail_outside(model, "where the plate sat", "--plate-at", from, error);
    else if (isnan(high))
        status = fail_outside(model, "the zero", "--bed-map", to, error);
    rise->rise_mm = high - low;
    judge(run, hypot(to.x - from.x, to.y - from.y), rise, warnings);
cleanup:
    tu_bed_run_destroy(run);
    free(run);
    return status;
}
