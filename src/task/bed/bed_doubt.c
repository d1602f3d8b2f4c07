/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_doubt.c - whether the answer about a bed rests on a place that its neighbours contradict,
 * what it is without such places, and heights that are hardly those of one bed.
 */
#include "task/bed/bed_judge.h"

#include <math.h>
#include <stdlib.h>

static const double changes_mm = 0.02;    /* a figure that suspects change by more rests on them */
static const double reference_mm = 0.005; /* the same of the height under the zero */
static const double parted_mm = 3;        /* no bed has such a step; common practice, no source */

static size_t listed(const tu_bed_suspects *suspects)
{
    return suspects->count < suspects->room ? suspects->count : suspects->room;
}

static const tu_bed_point *suspect_at(const tu_bed_answer *answer, size_t judged)
{
    const tu_bed_point *at = &answer->judged[judged];
    for (size_t i = 0; i < listed(&answer->suspects); i++) {
        const tu_bed_point *p = &answer->places.point[answer->suspects.suspect[i].index];
        if (p->x_mm == at->x_mm && p->y_mm == at->y_mm)
            return p;
    }
    return NULL;
}

static const tu_bed_point *nearest_suspect(const tu_bed_answer *answer, double x_mm, double y_mm)
{
    const tu_bed_point *nearest = NULL;
    double least = INFINITY;
    for (size_t i = 0; i < listed(&answer->suspects); i++) {
        const tu_bed_point *p = &answer->places.point[answer->suspects.suspect[i].index];
        double distance = hypot(p->x_mm - x_mm, p->y_mm - y_mm);
        if (distance < least) {
            least = distance;
            nearest = p;
        }
    }
    return nearest;
}

/* One that is the highest or lowest place, or holds the minimum zone. */
static const tu_bed_point *find_deciding(const tu_bed_answer *answer)
{
    const tu_bed_zone *zone = &answer->zone;
    const tu_bed_point *found = suspect_at(answer, answer->highest);
    if (!found)
        found = suspect_at(answer, answer->lowest);
    for (size_t i = 0; !found && i < zone->high_count; i++)
        found = suspect_at(answer, zone->high[i]);
    for (size_t i = 0; !found && i < zone->low_count; i++)
        found = suspect_at(answer, zone->low[i]);
    return found;
}

static tu_status fail_memory(tu_error *error)
{
    return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for this map");
}

static int compare_heights(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static tu_status find_groups(tu_bed_answer *answer, tu_error *error)
{
    if (answer->range_mm < parted_mm)
        return TU_OK;
    double *height = malloc(answer->judged_count * sizeof *height);
    if (!height)
        return fail_memory(error);
    for (size_t i = 0; i < answer->judged_count; i++)
        height[i] = answer->judged[i].z_mm;
    qsort(height, answer->judged_count, sizeof *height, compare_heights);
    for (size_t i = 1; i < answer->judged_count; i++) {
        const double gap = height[i] - height[i - 1];
        if (gap >= parted_mm && gap > answer->parted_mm) {
            answer->parted_mm = gap;
            answer->parted_low = i;
            answer->parted_high = answer->judged_count - i;
        }
    }
    free(height);
    return TU_OK;
}

/* The places that are no suspects. */
static tu_status leave_out(const tu_bed_run *run, tu_bed_run *part, tu_error *error)
{
    const tu_bed_places *all = &run->map.places;
    const tu_bed_suspects *suspects = &run->answer.suspects;
    tu_bed_places *places = &part->map.places;
    bool *out = calloc(all->count, sizeof *out);
    *places = (tu_bed_places){.point = malloc(all->count * sizeof *places->point),
                              .touches = malloc(all->count * sizeof *places->touches)};
    if (!out || !places->point || !places->touches) {
        free(out);
        return fail_memory(error);
    }
    for (size_t i = 0; i < listed(suspects); i++)
        out[suspects->suspect[i].index] = true;
    for (size_t i = 0; i < all->count; i++) {
        if (out[i])
            continue;
        places->point[places->count] = all->point[i];
        places->touches[places->count++] = all->touches[i];
    }
    free(out);
    return TU_OK;
}

/* The answer's figures from the places of the part. */
static tu_status judge_part(tu_bed_run *part, tu_error *error)
{
    const tu_bed_places *places = &part->map.places;
    size_t bytes = tu_bed_model_bytes(places->count);
    part->map.model_memory = malloc(bytes);
    if (!part->map.model_memory)
        return fail_memory(error);
    part->answer.places = *places;
    tu_status status = tu_bed_model_start(places->point, places->count, false,
                                          part->map.model_memory, bytes, &part->map.model, error);
    part->answer.model = part->map.model;
    if (!status)
        status = tu_bed_choose_points(part, error);
    if (!status)
        status = tu_bed_find_planes(part, error);
    if (!status)
        status = find_groups(&part->answer, error);
    if (!status)
        status = tu_bed_decide(part, error);
    if (status == TU_UNDETERMINED && part->answer.surfaced && part->answer.through_asked) {
        part->answer.through_asked = false; /* the zero stood where only suspects reach */
        status = TU_OK;
    }
    return status;
}

static tu_status judge_without(tu_bed_run *run, tu_error *error)
{
    tu_bed_run *part = calloc(1, sizeof *part);
    if (!part)
        return fail_memory(error);
    run->without = part;
    part->part = true;
    part->request = run->request;
    part->shop = run->shop;
    part->machine = run->machine;
    part->answer.limit_mm = run->answer.limit_mm;
    part->answer.sd_mm = run->answer.sd_mm;
    part->answer.suspects = run->answer.suspects; /* the scatter; none of them is left */
    part->answer.suspects.count = 0;
    tu_error reason = {0};
    tu_status status = leave_out(run, part, &reason);
    if (!status)
        status = judge_part(part, &reason);
    if (!status)
        run->answer.without = &part->answer;
    if (status == TU_SYSTEM_MEMORY)
        return tu_fail(error, status, NULL, "%s", reason.message);
    return TU_OK; /* too little is left: the answer says so */
}

static void find_reference_suspect(tu_bed_answer *answer)
{
    const tu_bed_answer *without = answer->without;
    if (!answer->through_asked || !without)
        return;
    if (without->through_asked &&
        fabs(without->through.b0_mm - answer->through.b0_mm) < reference_mm)
        return;
    answer->reference_suspect = nearest_suspect(answer, answer->reference.x, answer->reference.y);
}

/* A suspect beside the job can raise its border. */
static void find_border_suspect(tu_bed_answer *answer)
{
    const tu_bed_answer *without = answer->without;
    if (answer->suspect || !without || fabs(without->range_mm - answer->range_mm) < changes_mm)
        return;
    const tu_bed_point *high = &answer->judged[answer->highest];
    const tu_bed_point *low = &answer->judged[answer->lowest];
    const bool above = high->z_mm - without->judged[without->highest].z_mm >
                       without->judged[without->lowest].z_mm - low->z_mm;
    const tu_bed_point *at = above ? high : low;
    answer->suspect = nearest_suspect(answer, at->x_mm, at->y_mm);
}

tu_status tu_bed_doubt(tu_bed_run *run, tu_error *error)
{
    tu_bed_answer *answer = &run->answer;
    tu_status status = find_groups(answer, error);
    if (status || answer->suspects.count == 0)
        return status;
    answer->suspect = find_deciding(answer);
    if (!answer->suspect && !answer->job && !answer->through_asked)
        return TU_OK;
    status = judge_without(run, error);
    if (status)
        return status;
    find_border_suspect(answer);
    find_reference_suspect(answer);
    if (!answer->suspect && !answer->reference_suspect)
        answer->without = NULL;
    return TU_OK;
}
