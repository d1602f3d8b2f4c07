/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_bed_json.c - a bed as JSON: millimetres, slopes in mm/m, seconds. What was not asked for
 * or is not known is absent.
 */
#include "report/json_build.h"
#include "trueup/report_bed.h"

#include <math.h>

static bool add_point(cJSON *parent, const char *name, tu_bed_point point)
{
    cJSON *item = tu_json_add(parent, name, cJSON_CreateObject());
    return item && tu_json_add_number(item, "x", point.x_mm) &&
           tu_json_add_number(item, "y", point.y_mm) && tu_json_add_number(item, "z", point.z_mm);
}

static bool append_point(cJSON *array, tu_bed_point point)
{
    cJSON *item = tu_json_append(array, cJSON_CreateObject());
    return item && tu_json_add_number(item, "x", point.x_mm) &&
           tu_json_add_number(item, "y", point.y_mm) && tu_json_add_number(item, "z", point.z_mm);
}

static bool add_plane(cJSON *root, const tu_bed_answer *answer)
{
    const tu_plane_fit *plane = &answer->plane;
    cJSON *item = tu_json_add(root, "plane", cJSON_CreateObject());
    return item && tu_json_add_number(item, "slope_x", 1000 * plane->slope_x) &&
           tu_json_add_number(item, "slope_y", 1000 * plane->slope_y) &&
           tu_json_add_number(item, "height_at_centre", plane->height_at_centre_mm);
}

static bool add_least_squares(cJSON *flatness, const tu_plane_fit *plane)
{
    cJSON *item = tu_json_add(flatness, "least_squares", cJSON_CreateObject());
    return item && tu_json_add_number(item, "FLTt", plane->FLTt_mm) &&
           tu_json_add_number(item, "FLTp", plane->FLTp_mm) &&
           tu_json_add_number(item, "FLTv", plane->FLTv_mm) &&
           tu_json_add_number(item, "FLTq", plane->FLTq_mm);
}

static bool add_contacts(cJSON *zone, const char *name, const tu_bed_answer *answer,
                         const size_t *index, size_t count)
{
    cJSON *array = tu_json_add(zone, name, cJSON_CreateArray());
    bool ok = array != NULL;
    for (size_t i = 0; ok && i < count; i++)
        ok = append_point(array, answer->judged[index[i]]);
    return ok;
}

static bool add_zone(cJSON *flatness, const tu_bed_answer *answer)
{
    /* which side has the three is told by the lists */
    static const char *const criterion[] = {"3-1", "3-1", "2-2", "flat"};
    const tu_bed_zone *zone = &answer->zone;
    cJSON *item = tu_json_add(flatness, "minimum_zone", cJSON_CreateObject());
    bool ok = item && tu_json_add_number(item, "FLTt", zone->FLTt_mm);
    cJSON *normal = ok ? tu_json_add(item, "normal", cJSON_CreateArray()) : NULL;
    ok = normal && tu_json_append(normal, tu_json_create_number(zone->normal.x)) &&
         tu_json_append(normal, tu_json_create_number(zone->normal.y)) &&
         tu_json_append(normal, tu_json_create_number(zone->normal.z));
    ok = ok && tu_json_add_text(item, "criterion", criterion[zone->criterion]);
    return ok && add_contacts(item, "high", answer, zone->high, zone->high_count) &&
           add_contacts(item, "low", answer, zone->low, zone->low_count);
}

static bool add_flatness(cJSON *root, const tu_bed_answer *answer)
{
    cJSON *flatness = tu_json_add(root, "flatness", cJSON_CreateObject());
    return flatness && add_least_squares(flatness, &answer->plane) && add_zone(flatness, answer);
}

static bool add_shape(cJSON *root, const tu_bed_answer *answer)
{
    const tu_bed_shape *shape = &answer->shape;
    cJSON *item = tu_json_add(root, "shape", cJSON_CreateObject());
    return item && tu_json_add_known(item, "twist", shape->twist_mm) &&
           tu_json_add_known(item, "bow_x", shape->bow_x_mm) &&
           tu_json_add_known(item, "bow_y", shape->bow_y_mm) &&
           tu_json_add_known(item, "residual_sd", shape->rest_sd_mm);
}

static bool add_lines(cJSON *parent, const char *name, const tu_bed_straightness *line,
                      const double *at, size_t count)
{
    cJSON *array = tu_json_add(parent, name, cJSON_CreateArray());
    bool ok = array != NULL;
    for (size_t i = 0; ok && line && i < count; i++) {
        if (isnan(line[i].STRt_mm))
            continue;
        cJSON *item = tu_json_append(array, cJSON_CreateObject());
        ok = item && tu_json_add_number(item, "at", at[i]) &&
             tu_json_add_number(item, "STRt", line[i].STRt_mm) &&
             tu_json_add_number(item, "points", (double)line[i].points);
    }
    return ok;
}

static bool add_straightness(cJSON *root, const tu_bed_answer *answer)
{
    if (!answer->row && !answer->column)
        return true;
    const tu_bed_model *model = &answer->model;
    cJSON *item = tu_json_add(root, "straightness", cJSON_CreateObject());
    return item && add_lines(item, "rows", answer->row, model->row_y_mm, model->rows) &&
           add_lines(item, "columns", answer->column, model->column_x_mm, model->columns);
}

static bool add_noise(cJSON *root, const tu_bed_answer *answer)
{
    if (isnan(answer->sd_mm))
        return true;
    const tu_inflation *inflation = &answer->inflation;
    cJSON *item = tu_json_add(root, "noise", cJSON_CreateObject());
    bool ok = item && tu_json_add_number(item, "repeatability", answer->sd_mm) &&
              tu_json_add_number(item, "dof", answer->sd_dof);
    if (!ok || !answer->inflated)
        return ok;
    cJSON *interval = tu_json_add(item, "true_interval", cJSON_CreateArray());
    return interval && tu_json_add_number(item, "inflation", inflation->inflation_mm) &&
           tu_json_add_number(item, "best", inflation->best_mm) &&
           tu_json_append(interval, tu_json_create_number(inflation->low_mm)) &&
           tu_json_append(interval, tu_json_create_number(inflation->high_mm));
}

static bool add_passes(cJSON *item, const tu_surfacing *surfacing)
{
    cJSON *array = tu_json_add(item, "each", cJSON_CreateArray());
    bool ok = array != NULL;
    for (size_t i = 0; ok && i < surfacing->passes; i++) {
        cJSON *pass = tu_json_append(array, cJSON_CreateObject());
        ok = pass && tu_json_add_number(pass, "level", surfacing->pass[i].level_mm) &&
             tu_json_add_number(pass, "uncut_area", surfacing->pass[i].uncut_mm2) &&
             tu_json_add_number(pass, "volume", surfacing->pass[i].volume_mm3);
    }
    return ok;
}

static bool add_surface(cJSON *root, const tu_bed_answer *answer)
{
    const tu_bed_model *model = &answer->model;
    bool grid = model->kind == TU_BED_GRID;
    cJSON *item = tu_json_add(root, "surface", cJSON_CreateObject());
    if (!item || !tu_json_add_text(item, "kind", grid ? "grid" : "triangles"))
        return false;
    if (grid)
        return tu_json_add_number(item, "filled", (double)model->filled) &&
               tu_json_add_number(item, "missing", (double)model->missing) &&
               (!(model->wide_gap_mm > 0) ||
                tu_json_add_number(item, "wide_gap", model->wide_gap_mm));
    bool finite = isfinite(model->longest_edge_mm);
    return tu_json_add_number(item, "bridges", (double)model->bridges) &&
           (!finite || tu_json_add_number(item, "longest_edge", model->longest_edge_mm));
}

static bool add_surfacing(cJSON *root, const tu_bed_answer *answer)
{
    const tu_surfacing *surfacing = &answer->surfacing;
    if (!answer->surfaced)
        return true;
    cJSON *item = tu_json_add(root, "surfacing", cJSON_CreateObject());
    return item && tu_json_add_number(item, "depth", surfacing->depth_mm) &&
           tu_json_add_number(item, "passes", (double)surfacing->passes) &&
           tu_json_add_number(item, "volume", surfacing->volume_mm3) &&
           tu_json_add_number(item, "level", surfacing->level_mm) &&
           tu_json_add_number(item, "allowance", answer->allowance_mm) &&
           tu_json_add_number(item, "area", surfacing->area_mm2) &&
           tu_json_add_number(item, "unknown_area", surfacing->unknown_mm2) &&
           tu_json_add_known(item, "time", surfacing->time_s) && add_passes(item, surfacing);
}

static bool add_through_cut(cJSON *root, const tu_bed_answer *answer)
{
    const tu_through_cut *cut = &answer->through;
    if (!answer->through_asked)
        return true;
    cJSON *item = tu_json_add(root, "through_cut", cJSON_CreateObject());
    return item && tu_json_add_number(item, "overcut", answer->overcut_mm) &&
           tu_json_add_number(item, "bed_height", cut->b0_mm) &&
           tu_json_add_number(item, "worst_bite", cut->worst_bite_mm) &&
           tu_json_add_number(item, "worst_skin", cut->worst_skin_mm) &&
           tu_json_add_number(item, "overcut_needed", cut->overcut_needed_mm) &&
           tu_json_add_number(item, "bite_then", cut->bite_then_mm) &&
           add_point(item, "bite_at", cut->bite_at) && add_point(item, "skin_at", cut->skin_at) &&
           tu_json_add_number(item, "skin_area", cut->skin_mm2) &&
           tu_json_add_known(item, "reserve", answer->reserve_mm) &&
           tu_json_add_number(item, "unknown_area", cut->unknown_mm2);
}

static bool add_levelling(cJSON *root, const tu_bed_answer *answer)
{
    cJSON *array = tu_json_add(root, "levelling", cJSON_CreateArray());
    bool ok = array != NULL;
    for (size_t i = 0; ok && !answer->tilt_hidden && i < answer->supports; i++) {
        cJSON *item = tu_json_append(array, cJSON_CreateObject());
        ok = item && tu_json_add_number(item, "x", answer->support[i].x) &&
             tu_json_add_number(item, "y", answer->support[i].y) &&
             tu_json_add_number(item, "add", answer->add_mm[i]);
    }
    return ok;
}

static bool add_comparison(cJSON *root, const tu_bed_answer *answer)
{
    const tu_bed_comparison *change = &answer->comparison;
    if (!answer->against)
        return true;
    cJSON *item = tu_json_add(root, "comparison", cJSON_CreateObject());
    return item && tu_json_add_number(item, "points", (double)change->points) &&
           tu_json_add_number(item, "matched", (double)change->matched) &&
           tu_json_add_number(item, "mean", change->mean_mm) &&
           tu_json_add_known(item, "sd", change->sd_mm) && add_point(item, "rise", change->rise) &&
           add_point(item, "fall", change->fall) &&
           tu_json_add_number(item, "range_now", change->range_now_mm) &&
           tu_json_add_number(item, "range_before", change->range_before_mm) &&
           tu_json_add_number(item, "minimum_zone_before", change->zone_before_mm);
}

static bool add_suspects(cJSON *root, const tu_bed_answer *answer)
{
    const tu_bed_suspects *suspects = &answer->suspects;
    cJSON *array = tu_json_add(root, "suspects", cJSON_CreateArray());
    bool ok = array != NULL;
    size_t count = suspects->count < suspects->room ? suspects->count : suspects->room;
    for (size_t i = 0; ok && i < count; i++) {
        const tu_bed_suspect *suspect = &suspects->suspect[i];
        ok = append_point(array, answer->places.point[suspect->index]);
        cJSON *item = ok ? cJSON_GetArrayItem(array, (int)i) : NULL;
        ok = item && tu_json_add_number(item, "residual", suspect->residual_mm) &&
             tu_json_add_number(item, "score", suspect->score);
    }
    return ok;
}

/* What the figures rest on that may be none of the bed. */
static bool add_doubt(cJSON *root, const tu_bed_answer *answer)
{
    const tu_bed_answer *without = answer->without;
    bool ok = !answer->suspect || add_point(root, "rests_on", *answer->suspect);
    if (ok && answer->reference_suspect)
        ok = add_point(root, "reference_rests_on", *answer->reference_suspect);
    if (ok && answer->seam_mm > 0)
        ok = tu_json_add_number(root, "seam", answer->seam_mm);
    if (ok && answer->parted_mm > 0) {
        cJSON *item = tu_json_add(root, "parted", cJSON_CreateObject());
        ok = item && tu_json_add_number(item, "gap", answer->parted_mm) &&
             tu_json_add_number(item, "lower", (double)answer->parted_low) &&
             tu_json_add_number(item, "upper", (double)answer->parted_high);
    }
    if (!ok || !without)
        return ok;
    cJSON *item = tu_json_add(root, "without_suspects", cJSON_CreateObject());
    ok = item && tu_json_add_number(item, "range_z", without->range_mm) &&
         tu_json_add_number(item, "minimum_zone", without->zone.FLTt_mm) &&
         tu_json_add_number(item, "surfacing_depth", without->surfacing.depth_mm);
    return ok && (!without->through_asked ||
                  tu_json_add_number(item, "overcut_needed", without->through.overcut_needed_mm));
}

static bool add_again(cJSON *root, const tu_bed_answer *answer)
{
    const tu_plan_summary *plan = answer->again;
    if (!answer->again_path)
        return true;
    cJSON *item = tu_json_add(root, "re_touch", cJSON_CreateObject());
    bool ok = item && tu_json_add_number(item, "points", plan ? (double)plan->points : 0);
    if (!ok || !plan)
        return ok;
    cJSON *start = tu_json_add(item, "start", cJSON_CreateObject());
    return start && tu_json_add_text(item, "file", answer->again_path) &&
           tu_json_add_number(item, "skipped", (double)plan->skipped) &&
           tu_json_add_number(item, "touches", (double)plan->touches) &&
           tu_json_add_number(start, "x", plan->start_mm[TU_AXIS_X]) &&
           tu_json_add_number(start, "y", plan->start_mm[TU_AXIS_Y]);
}

tu_status tu_report_bed_json(FILE *out, const tu_bed_answer *answer, tu_error *error)
{
    cJSON *root = cJSON_CreateObject();
    bool ok =
        tu_json_add_number(root, "schema", 1) &&
        tu_json_add_number(root, "points", (double)answer->places.count) &&
        tu_json_add_number(root, "touches", (double)answer->touches) &&
        tu_json_add_number(root, "renewed", (double)answer->places.renewed) &&
        tu_json_add_number(root, "range_z", answer->range_mm) &&
        add_point(root, "highest", answer->judged[answer->highest]) &&
        add_point(root, "lowest", answer->judged[answer->lowest]) && add_plane(root, answer) &&
        add_flatness(root, answer) && add_shape(root, answer) && add_straightness(root, answer) &&
        add_noise(root, answer) && add_surface(root, answer) && add_surfacing(root, answer) &&
        add_through_cut(root, answer) && add_levelling(root, answer) &&
        add_comparison(root, answer) && add_suspects(root, answer) && add_doubt(root, answer) &&
        add_again(root, answer) && tu_json_add_warnings(root, &answer->warnings);
    return tu_json_write(out, root, ok, error);
}
