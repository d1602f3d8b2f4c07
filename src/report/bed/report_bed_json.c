/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_bed_json.c - a bed as JSON: millimetres, slopes in mm/m, seconds. What was not asked for
 * or is not known is absent.
 */
#include "report/json.h"
#include "trueup/report_bed.h"

#include <math.h>

static void put_point(tu_json *json, const char *name, tu_bed_point point)
{
    TU_JSON_OBJECT(json, name, {"x", point.x_mm}, {"y", point.y_mm}, {"z", point.z_mm});
}

static void put_plane(tu_json *json, const tu_bed_answer *answer)
{
    const tu_plane_fit *plane = &answer->plane;
    TU_JSON_OBJECT(json, "plane", {"slope_x", 1000 * plane->slope_x},
                   {"slope_y", 1000 * plane->slope_y},
                   {"height_at_centre", plane->height_at_centre_mm});
}

static void put_contacts(tu_json *json, const char *name, const tu_bed_answer *answer,
                         const size_t *index, size_t count)
{
    tu_json_array(json, name);
    for (size_t i = 0; i < count; i++)
        put_point(json, NULL, answer->judged[index[i]]);
    tu_json_end(json);
}

static void put_zone(tu_json *json, const tu_bed_answer *answer)
{
    /* which side has the three is told by the lists */
    static const char *const criterion[] = {"3-1", "3-1", "2-2", "flat"};
    const tu_bed_zone *zone = &answer->zone;
    tu_json_object(json, "minimum_zone");
    TU_JSON_NUMBERS(json, {"FLTt", zone->FLTt_mm});
    tu_json_array(json, "normal");
    TU_JSON_NUMBERS(json, {NULL, zone->normal.x}, {NULL, zone->normal.y}, {NULL, zone->normal.z});
    tu_json_end(json);
    tu_json_text(json, "criterion", criterion[zone->criterion]);
    put_contacts(json, "high", answer, zone->high, zone->high_count);
    put_contacts(json, "low", answer, zone->low, zone->low_count);
    tu_json_end(json);
}

static void put_flatness(tu_json *json, const tu_bed_answer *answer)
{
    const tu_plane_fit *plane = &answer->plane;
    tu_json_object(json, "flatness");
    TU_JSON_OBJECT(json, "least_squares", {"FLTt", plane->FLTt_mm}, {"FLTp", plane->FLTp_mm},
                   {"FLTv", plane->FLTv_mm}, {"FLTq", plane->FLTq_mm});
    put_zone(json, answer);
    tu_json_end(json);
}

static void put_shape(tu_json *json, const tu_bed_answer *answer)
{
    const tu_bed_shape *shape = &answer->shape;
    TU_JSON_OBJECT_KNOWN(json, "shape", {"twist", shape->twist_mm}, {"bow_x", shape->bow_x_mm},
                         {"bow_y", shape->bow_y_mm}, {"residual_sd", shape->rest_sd_mm});
}

static void put_lines(tu_json *json, const char *name, const tu_bed_straightness *line,
                      const double *at, size_t count)
{
    tu_json_array(json, name);
    for (size_t i = 0; line && i < count; i++) {
        if (isnan(line[i].STRt_mm))
            continue;
        tu_json_object(json, NULL);
        TU_JSON_NUMBERS(json, {"at", at[i]}, {"STRt", line[i].STRt_mm});
        tu_json_count(json, "points", line[i].points);
        tu_json_end(json);
    }
    tu_json_end(json);
}

static void put_straightness(tu_json *json, const tu_bed_answer *answer)
{
    if (!answer->row && !answer->column)
        return;
    const tu_bed_model *model = &answer->model;
    tu_json_object(json, "straightness");
    put_lines(json, "rows", answer->row, model->row_y_mm, model->rows);
    put_lines(json, "columns", answer->column, model->column_x_mm, model->columns);
    tu_json_end(json);
}

static void put_noise(tu_json *json, const tu_bed_answer *answer)
{
    if (isnan(answer->sd_mm))
        return;
    const tu_inflation *inflation = &answer->inflation;
    tu_json_object(json, "noise");
    TU_JSON_NUMBERS(json, {"repeatability", answer->sd_mm}, {"dof", answer->sd_dof});
    if (answer->inflated) {
        TU_JSON_NUMBERS(json, {"inflation", inflation->inflation_mm}, {"best", inflation->best_mm});
        tu_json_interval(json, "true_interval", inflation->low_mm, inflation->high_mm);
    }
    tu_json_end(json);
}

static void put_surface(tu_json *json, const tu_bed_answer *answer)
{
    const tu_bed_model *model = &answer->model;
    bool grid = model->kind == TU_BED_GRID;
    tu_json_object(json, "surface");
    tu_json_text(json, "kind", grid ? "grid" : "triangles");
    tu_json_count(json, grid ? "filled" : "bridges", grid ? model->filled : model->bridges);
    if (grid)
        tu_json_count(json, "missing", model->missing);
    if (grid && model->wide_gap_mm > 0)
        TU_JSON_NUMBERS(json, {"wide_gap", model->wide_gap_mm});
    if (!grid && isfinite(model->longest_edge_mm))
        TU_JSON_NUMBERS(json, {"longest_edge", model->longest_edge_mm});
    tu_json_end(json);
}

static void put_surfacing(tu_json *json, const tu_bed_answer *answer)
{
    const tu_surfacing *surfacing = &answer->surfacing;
    if (!answer->surfaced)
        return;
    tu_json_object(json, "surfacing");
    TU_JSON_NUMBERS(json, {"depth", surfacing->depth_mm}, {"passes", (double)surfacing->passes},
                    {"volume", surfacing->volume_mm3}, {"level", surfacing->level_mm},
                    {"allowance", answer->allowance_mm}, {"area", surfacing->area_mm2},
                    {"unknown_area", surfacing->unknown_mm2});
    TU_JSON_KNOWN(json, {"time", surfacing->time_s});
    tu_json_array(json, "each");
    for (size_t i = 0; i < surfacing->passes; i++) {
        TU_JSON_OBJECT(json, NULL, {"level", surfacing->pass[i].level_mm},
                       {"uncut_area", surfacing->pass[i].uncut_mm2},
                       {"volume", surfacing->pass[i].volume_mm3});
    }
    tu_json_end(json);
    tu_json_end(json);
}

static void put_through_cut(tu_json *json, const tu_bed_answer *answer)
{
    const tu_through_cut *cut = &answer->through;
    if (!answer->through_asked)
        return;
    tu_json_object(json, "through_cut");
    TU_JSON_NUMBERS(json, {"overcut", answer->overcut_mm}, {"bed_height", cut->b0_mm},
                    {"worst_bite", cut->worst_bite_mm}, {"worst_skin", cut->worst_skin_mm},
                    {"overcut_needed", cut->overcut_needed_mm}, {"bite_then", cut->bite_then_mm});
    put_point(json, "bite_at", cut->bite_at);
    put_point(json, "skin_at", cut->skin_at);
    TU_JSON_NUMBERS(json, {"skin_area", cut->skin_mm2});
    TU_JSON_KNOWN(json, {"reserve", answer->reserve_mm});
    TU_JSON_NUMBERS(json, {"unknown_area", cut->unknown_mm2});
    tu_json_end(json);
}

static void put_levelling(tu_json *json, const tu_bed_answer *answer)
{
    tu_json_array(json, "levelling");
    for (size_t i = 0; !answer->tilt_hidden && i < answer->supports; i++) {
        TU_JSON_OBJECT(json, NULL, {"x", answer->support[i].x}, {"y", answer->support[i].y},
                       {"add", answer->add_mm[i]});
    }
    tu_json_end(json);
}

static void put_comparison(tu_json *json, const tu_bed_answer *answer)
{
    const tu_bed_comparison *change = &answer->comparison;
    if (!answer->against)
        return;
    tu_json_object(json, "comparison");
    tu_json_count(json, "points", change->points);
    tu_json_count(json, "matched", change->matched);
    TU_JSON_NUMBERS(json, {"mean", change->mean_mm});
    TU_JSON_KNOWN(json, {"sd", change->sd_mm});
    put_point(json, "rise", change->rise);
    put_point(json, "fall", change->fall);
    TU_JSON_NUMBERS(json, {"range_now", change->range_now_mm},
                    {"range_before", change->range_before_mm},
                    {"minimum_zone_before", change->zone_before_mm});
    tu_json_end(json);
}

static void put_suspects(tu_json *json, const tu_bed_answer *answer)
{
    const tu_bed_suspects *suspects = &answer->suspects;
    size_t count = suspects->count < suspects->room ? suspects->count : suspects->room;
    tu_json_array(json, "suspects");
    for (size_t i = 0; i < count; i++) {
        const tu_bed_suspect *suspect = &suspects->suspect[i];
        tu_bed_point at = answer->places.point[suspect->index];
        TU_JSON_OBJECT(json, NULL, {"x", at.x_mm}, {"y", at.y_mm}, {"z", at.z_mm},
                       {"residual", suspect->residual_mm}, {"score", suspect->score});
    }
    tu_json_end(json);
}

/* What the figures rest on that may be none of the bed. */
static void put_doubt(tu_json *json, const tu_bed_answer *answer)
{
    const tu_bed_answer *without = answer->without;
    if (answer->suspect)
        put_point(json, "rests_on", *answer->suspect);
    if (answer->reference_suspect)
        put_point(json, "reference_rests_on", *answer->reference_suspect);
    if (answer->seam_mm > 0)
        TU_JSON_NUMBERS(json, {"seam", answer->seam_mm});
    if (answer->parted_mm > 0) {
        TU_JSON_OBJECT(json, "parted", {"gap", answer->parted_mm},
                       {"lower", (double)answer->parted_low},
                       {"upper", (double)answer->parted_high});
    }
    if (!without)
        return;
    tu_json_object(json, "without_suspects");
    TU_JSON_NUMBERS(json, {"range_z", without->range_mm}, {"minimum_zone", without->zone.FLTt_mm},
                    {"surfacing_depth", without->surfacing.depth_mm});
    if (without->through_asked)
        TU_JSON_NUMBERS(json, {"overcut_needed", without->through.overcut_needed_mm});
    tu_json_end(json);
}

static void put_again(tu_json *json, const tu_bed_answer *answer)
{
    const tu_plan_summary *plan = answer->again;
    if (!answer->again_path)
        return;
    tu_json_object(json, "re_touch");
    tu_json_count(json, "points", plan ? plan->points : 0);
    if (plan) {
        TU_JSON_OBJECT(json, "start", {"x", plan->start_mm[TU_AXIS_X]},
                       {"y", plan->start_mm[TU_AXIS_Y]});
        tu_json_text(json, "file", answer->again_path);
        tu_json_count(json, "skipped", plan->skipped);
        tu_json_count(json, "touches", plan->touches);
    }
    tu_json_end(json);
}

static void (*const part[])(tu_json *json, const tu_bed_answer *answer) = {
    put_plane,    put_flatness,  put_shape,       put_straightness, put_noise,
    put_surface,  put_surfacing, put_through_cut, put_levelling,    put_comparison,
    put_suspects, put_doubt,     put_again,
};

tu_status tu_report_bed_json(FILE *out, const tu_bed_answer *answer, tu_error *error)
{
    tu_json json = tu_json_begin(out);
    TU_JSON_NUMBERS(&json, {"schema", 1}, {"points", (double)answer->places.count},
                    {"touches", (double)answer->touches},
                    {"renewed", (double)answer->places.renewed}, {"range_z", answer->range_mm});
    put_point(&json, "highest", answer->judged[answer->highest]);
    put_point(&json, "lowest", answer->judged[answer->lowest]);
    for (size_t i = 0; i < sizeof part / sizeof *part; i++)
        part[i](&json, answer);
    tu_json_warnings(&json, &answer->warnings);
    return tu_json_finish(&json, error);
}
