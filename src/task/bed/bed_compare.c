/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_compare.c - two maps of one bed, point by point: what has changed.
 */
#include "task/bed/bed_judge.h"

#include "trueup/moments.h"

#include <math.h>
#include <stdlib.h>

static const double same_place_mm = 0.5; /* a machine comes back nearer than that */

/* The places of this map with the earlier height under each; NaN where that map does not reach. */
static size_t pair_up(const tu_bed_run *run, tu_bed_point *now, tu_bed_point *then)
{
    size_t pairs = 0;
    for (size_t i = 0; i < run->answer.judged_count; i++) {
        tu_bed_point p = run->answer.judged[i];
        double z = tu_bed_model_height(&run->before.model, p.x_mm, p.y_mm);
        if (isnan(z))
            continue;
        now[pairs] = p;
        then[pairs++] = (tu_bed_point){p.x_mm, p.y_mm, z};
    }
    return pairs;
}

/* The index of the line nearest to a coordinate, when it is near enough to be the same. */
static bool find_line(const double *lines, size_t count, double at, size_t *index)
{
    size_t low = 0, high = count;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (lines[middle] <= at)
            low = middle;
        else
            high = middle;
    }
    if (low + 1 < count && lines[low + 1] - at < at - lines[low])
        low++;
    *index = low;
    return fabs(lines[low] - at) <= same_place_mm;
}

/* Places that both maps touched, of the job where there is one; known of grids only. */
static size_t count_matched(const tu_bed_run *run)
{
    size_t matched = 0, column, row;
    const tu_bed_model *model = &run->before.model;
    const size_t touched = run->answer.judged_count - run->answer.border;
    for (size_t i = 0; model->kind == TU_BED_GRID && i < touched; i++) {
        const tu_bed_point *p = &run->answer.judged[i];
        matched += find_line(model->column_x_mm, model->columns, p->x_mm, &column) &&
                   find_line(model->row_y_mm, model->rows, p->y_mm, &row) &&
                   model->point_at[row * model->columns + column] != TU_BED_NONE;
    }
    return matched;
}

tu_status tu_bed_compare(tu_bed_run *run, tu_error *error)
{
    tu_bed_comparison *comparison = &run->answer.comparison;
    if (!run->request.against)
        return TU_OK;
    size_t room = run->answer.judged_count;
    tu_bed_point *now = malloc(2 * room * sizeof *now), *then = now ? now + room : NULL;
    if (!now)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for this map");
    size_t pairs = pair_up(run, now, then);
    tu_status status = TU_OK;
    if (pairs < 3)
        status =
            tu_fail(error, TU_UNDETERMINED, "{against}",
                    "the two maps have %zu places in common, and three are the least: are they "
                    "of the same bed, in the same coordinates?",
                    pairs);
    tu_moments moments = tu_moments_start(), before = tu_moments_start(),
               after = tu_moments_start();
    for (size_t i = 0; i < pairs; i++) {
        tu_bed_point difference = {now[i].x_mm, now[i].y_mm, now[i].z_mm - then[i].z_mm};
        tu_moments_add(&moments, difference.z_mm);
        tu_moments_add(&before, then[i].z_mm);
        tu_moments_add(&after, now[i].z_mm);
        if (i == 0 || difference.z_mm > comparison->rise.z_mm)
            comparison->rise = difference;
        if (i == 0 || difference.z_mm < comparison->fall.z_mm)
            comparison->fall = difference;
    }
    comparison->points = pairs;
    comparison->matched = count_matched(run);
    comparison->mean_mm = moments.mean;
    comparison->sd_mm = tu_moments_sd(&moments);
    comparison->range_now_mm = after.maximum - after.minimum;
    comparison->range_before_mm = before.maximum - before.minimum;
    tu_bed_zone zone;
    if (!status)
        status = tu_bed_find_zone(then, pairs, run->zone_room, &zone, error);
    if (!status)
        comparison->zone_before_mm = zone.FLTt_mm;
    free(now);
    return status;
}
