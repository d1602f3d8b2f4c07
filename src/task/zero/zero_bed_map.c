/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_bed_map.c - how much higher the bed is at the zero than where the plate sat on it.
 */
#include "task/zero/zero_bed_map.h"

#include "task/bed/bed_judge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a map's own series is called here. */
static const tu_field_word map_word[] = {{"series_name", "{map_series}"}};
static const tu_face map_words = {map_word, 1, NULL};

static const double one_place_mm = 1e-6;

/* One of the two places, for messages. */
typedef struct map_place {
    const char *what, *option;
    tu_machine_plane_point at;
} map_place;

static tu_status fail_outside(const tu_bed_model *model, const map_place *place, tu_error *error)
{
    const tu_bed_rectangle *extent = &model->extent;
    return tu_fail(error, TU_UNDETERMINED, place->option,
                   "%s, X %.3f Y %.3f mm, is not on the map of the bed, which was touched from X "
                   "%.3f to %.3f and Y %.3f to %.3f mm: map the bed there, too",
                   place->what, place->at.x, place->at.y, extent->x_low_mm, extent->x_high_mm,
                   extent->y_low_mm, extent->y_high_mm);
}

static tu_status fail_hole(const tu_bed_model *model, const map_place *place,
                           tu_bed_point untouched, tu_error *error)
{
    if (model->kind == TU_BED_MESH)
        return tu_fail(
            error, TU_UNDETERMINED, place->option,
            "%s, X %.3f Y %.3f mm, lies between places of the map that are further "
            "apart than %.3f mm, four times the usual distance: touch the bed there, too",
            place->what, place->at.x, place->at.y, model->longest_edge_mm);
    return tu_fail(error, TU_UNDETERMINED, place->option,
                   "%s, X %.3f Y %.3f mm, lies in a hole of the map of the bed: X %.3f Y %.3f was "
                   "not touched; touch it, too",
                   place->what, place->at.x, place->at.y, untouched.x_mm, untouched.y_mm);
}

static tu_status fail_suspect(const map_place *place, tu_bed_point point,
                              const tu_bed_suspect *suspect, tu_error *error)
{
    return tu_fail(
        error, TU_UNDETERMINED, place->option,
        "the height at %s, X %.3f Y %.3f mm, rests on the touch at X %.3f Y %.3f, which "
        "is %.3f mm %s than its neighbours say: a chip, a hole or a bad touch? Look, and "
        "touch it again (trueup bed {re_touch})",
        place->what, place->at.x, place->at.y, point.x_mm, point.y_mm, fabs(suspect->residual_mm),
        suspect->residual_mm > 0 ? "higher" : "lower");
}

/* The height of a place is good where each of the corners around it was touched, and well. */
static tu_status check_place(const tu_bed_run *run, const map_place *place, tu_error *error)
{
    const tu_bed_model *model = &run->map.model;
    const tu_bed_suspects *suspects = &run->answer.suspects;
    tu_bed_corner corner[4];
    size_t count = tu_bed_model_corners(model, place->at.x, place->at.y, corner);
    if (count == 0)
        return fail_outside(model, place, error);
    for (size_t k = 0; k < count; k++) {
        if (corner[k].index == TU_BED_NONE)
            return fail_hole(model, place, corner[k].point, error);
        for (size_t i = 0; i < suspects->count && i < suspects->room; i++)
            if (suspects->suspect[i].index == (size_t)corner[k].index)
                return fail_suspect(place, corner[k].point, &suspects->suspect[i], error);
    }
    double gap_mm = tu_bed_model_wide_gap(model, place->at.x, place->at.y);
    if (gap_mm > 0)
        return tu_fail(error, TU_UNDETERMINED, place->option,
                       "%s, X %.3f Y %.3f mm, lies between two lines of touches that are %.3f mm "
                       "apart, more than four times as far as usual: touch the bed in between, too",
                       place->what, place->at.x, place->at.y, gap_mm);
    if (isnan(tu_bed_model_height(model, place->at.x, place->at.y)))
        return fail_outside(model, place, error);
    return TU_OK;
}

/* Touches of several series are several maps, or none of the bed: a guess would be a wrong zero. */
static tu_status check_series(const tu_bed_run *run, tu_error *error)
{
    const tu_bed_reading *reading = &run->map.reading;
    const char *first = NULL;
    if (run->request.series)
        return TU_OK;
    for (size_t i = 0; i < reading->count; i++) {
        const char *name = reading->series_name[reading->series[i]];
        if (strcmp(name, TU_BED_AGAIN_SERIES) == 0)
            continue;
        if (!first)
            first = name;
        if (strcmp(name, first) != 0)
            return tu_fail(error, TU_USAGE, "{map_series}",
                           "%s has several series, %s and %s among them; name the one that maps "
                           "the bed",
                           run->request.path[0], first, name);
    }
    return TU_OK;
}

static tu_status find_zero(const tu_task_zero_request *request, const tu_zero_result *zero,
                           tu_machine_plane_point *place, tu_error *error)
{
    *place = request->zero_at;
    if (!isnan(place->x))
        return TU_OK;
    const tu_axis_zero *axis = zero->axis;
    if (!axis[TU_AXIS_X].asked || !axis[TU_AXIS_Y].asked)
        return tu_fail(error, TU_DATA_MISSING, "{zero_at}",
                       "X and Y of the corner are not worked out here: say where on the bed the "
                       "zero is wanted, as in {zero_at} 120,80");
    *place = (tu_machine_plane_point){axis[TU_AXIS_X].zero_mm, axis[TU_AXIS_Y].zero_mm};
    return TU_OK;
}

/*
 * How well the map foretells a height between its touches: the scatter of each touch from what its
 * neighbours say holds both noise and roughness. Twice, for two heights.
 */
static tu_status judge(const tu_bed_run *run, tu_bed_rise *rise, tu_error *error)
{
    const tu_bed_suspects *suspects = &run->answer.suspects;
    if (suspects->judged == 0 || !isfinite(suspects->scatter_mm))
        return tu_fail(error, TU_UNDETERMINED, "{bed_map}",
                       "%zu places are too few to tell how well the map foretells a height between "
                       "them: touch the bed at 9 places or more",
                       run->map.places.count);
    if (suspects->count > suspects->room)
        return tu_fail(error, TU_UNDETERMINED, "{bed_map}",
                       "%zu places contradict their neighbours: no height can be taken from such a "
                       "map; look at trueup bed, and touch the bed again",
                       suspects->count);
    rise->standard_mm = sqrt(2) * suspects->scatter_mm;
    return TU_OK;
}

static void pass_warnings(const tu_bed_run *run, tu_warnings *warnings)
{
    const tu_bed_suspects *suspects = &run->answer.suspects;
    for (size_t i = 0; i < run->answer.warnings.count; i++)
        tu_warn(warnings, "map of the bed: %s", run->answer.warnings.text[i]);
    if (suspects->count > 0)
        tu_warn(warnings,
                "the map of the bed has %zu suspect place%s elsewhere: look at trueup bed before "
                "you trust it.",
                suspects->count, suspects->count == 1 ? "" : "s");
}

/* Both places, and the rise from one to the other; where both are one there is none. */
static tu_status find_rise(const tu_bed_run *run, const map_place *from, const map_place *to,
                           tu_bed_rise *rise, tu_error *error)
{
    const tu_bed_model *model = &run->map.model;
    tu_bed_corner corner[4];
    *rise = (tu_bed_rise){.rise_mm = 0, .standard_mm = 0, .dof = INFINITY};
    if (hypot(to->at.x - from->at.x, to->at.y - from->at.y) < one_place_mm)
        return tu_bed_model_corners(model, to->at.x, to->at.y, corner) > 0
                   ? TU_OK
                   : fail_outside(model, from, error);
    tu_status status = check_place(run, from, error);
    if (!status)
        status = check_place(run, to, error);
    if (!status)
        status = judge(run, rise, error);
    rise->rise_mm = tu_bed_model_height(model, to->at.x, to->at.y) -
                    tu_bed_model_height(model, from->at.x, from->at.y);
    return status;
}

tu_status tu_zero_bed_map_read(const tu_task_zero_request *request, const tu_machine *machine,
                               const tu_zero_result *zero, tu_bed_rise *rise, tu_warnings *warnings,
                               tu_error *error)
{
    map_place to = {"the zero", isnan(request->zero_at.x) ? "{bed_map}" : "{zero_at}", {NAN, NAN}};
    const map_place from = {"where the plate sat", "{plate_at}", request->plate_at};
    tu_status status = find_zero(request, zero, &to.at, error);
    if (status)
        return status;
    tu_bed_run *run = calloc(1, sizeof *run);
    if (!run)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    run->request = tu_task_bed_request_start();
    run->request.path[0] = request->bed_map;
    run->request.path_count = 1;
    run->request.series = request->map_series;
    run->request.unit = request->unit;
    run->known_machine = machine;
    status = tu_bed_prepare(run, error);
    if (!status)
        status = check_series(run, error);
    if (!status)
        status = find_rise(run, &from, &to, rise, error);
    if (!status)
        pass_warnings(run, warnings);
    if (status && error && strcmp(error->field, "series_name") == 0)
        tu_face_say_error(&map_words, error);
    tu_bed_run_destroy(run);
    free(run);
    return status;
}
