/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_rounds.c - whether later rounds of touches stand on the same zero as the first: places that
 * were no suspects have to come out as before.
 */
#include "task/bed/bed_judge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SUSPECTS_ROOM = 1000, COMPARED_MAX = 200, FEWEST_PLACES = 2 };

/* The first round by itself. */
typedef struct first_round {
    tu_bed_point *touch;
    tu_bed_places places;
    bool *is_suspect;
    tu_bed_suspect suspect[SUSPECTS_ROOM];
} first_round;

static tu_status start_first(first_round *first, size_t room, tu_error *error)
{
    first->touch = malloc(2 * room * sizeof *first->touch);
    first->places.point = first->touch ? first->touch + room : NULL;
    first->places.touches = malloc(room * sizeof *first->places.touches);
    first->is_suspect = calloc(room, sizeof *first->is_suspect);
    if (!first->touch || !first->places.touches || !first->is_suspect)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for this map");
    return TU_OK;
}

static void free_first(first_round *first)
{
    if (!first)
        return;
    free(first->touch);
    free(first->places.touches);
    free(first->is_suspect);
    free(first);
}

/* Its places and which of them are suspects. False: it is no map by itself. */
static bool judge_first(tu_bed_run *run, first_round *first, size_t count)
{
    const tu_bed_touches touches = {
        .point = first->touch, .count = count, .same_place_mm = NAN, .agree_mm = NAN};
    tu_bed_suspects found = {.suspect = first->suspect, .room = SUSPECTS_ROOM};
    if (tu_bed_need(run, tu_bed_merge_bytes(count), NULL) ||
        tu_bed_merge_touches(&touches, run->scratch, run->scratch_bytes, &first->places, NULL,
                             NULL) ||
        tu_bed_need(run, tu_bed_suspects_bytes(first->places.count), NULL) ||
        tu_bed_find_suspects(first->places.point, first->places.count, NAN, NAN, run->scratch,
                             run->scratch_bytes, &found, NULL))
        return false;
    for (size_t i = 0; i < found.count && i < found.room; i++)
        first->is_suspect[first->suspect[i].index] = true;
    return true;
}

/* The nearest place that is no suspect; SIZE_MAX: none that near. */
static size_t find_place(const first_round *first, tu_bed_point touch)
{
    double nearest_mm = TU_BED_AGAIN_MM;
    size_t nearest = SIZE_MAX;
    for (size_t i = 0; i < first->places.count; i++) {
        const tu_bed_point *p = &first->places.point[i];
        const double apart = hypot(p->x_mm - touch.x_mm, p->y_mm - touch.y_mm);
        if (apart < nearest_mm) {
            nearest_mm = apart;
            nearest = i;
        }
    }
    return nearest != SIZE_MAX && first->is_suspect[nearest] ? SIZE_MAX : nearest;
}

/* What the clean places of a round, each by its last touch, differ by. */
typedef struct shift {
    size_t place[COMPARED_MAX], count;
    double by_mm[COMPARED_MAX];
} shift;

static void compare(const tu_bed_reading *reading, const first_round *first, uint32_t round,
                    shift *s)
{
    s->count = 0;
    for (size_t i = 0; i < reading->count && s->count < COMPARED_MAX; i++) {
        if (reading->round[i] != round)
            continue;
        const size_t place = find_place(first, reading->point[i]);
        size_t k = 0;
        while (k < s->count && s->place[k] != place)
            k++;
        if (place == SIZE_MAX)
            continue;
        s->place[k] = place;
        s->by_mm[k] = reading->point[i].z_mm - first->places.point[place].z_mm;
        s->count += k == s->count;
    }
}

static tu_status judge_shift(const tu_bed_run *run, const shift *s, uint32_t round, tu_error *error)
{
    double low = INFINITY, high = -INFINITY, sum = 0;
    for (size_t k = 0; k < s->count; k++) {
        low = fmin(low, s->by_mm[k]);
        high = fmax(high, s->by_mm[k]);
        sum += s->by_mm[k];
    }
    const double least = fmin(fabs(low), fabs(high));
    if (s->count < FEWEST_PLACES || low * high < 0 || least <= TU_BED_AGREE_MM ||
        high - low > TU_BED_AGREE_MM)
        return TU_OK;
    const char *path = run->request.path[round - 1];
    return tu_fail(error, TU_DATA_CONFLICT, strcmp(path, "-") ? path : "standard input",
                   "all %zu places touched again that were no suspects come out %.3f mm %s than "
                   "before: another tool length, or homed in between; touch again with the tool as "
                   "it was, or map the bed anew",
                   s->count, fabs(sum) / (double)s->count, sum < 0 ? "lower" : "higher");
}

tu_status tu_bed_check_rounds(tu_bed_run *run, tu_error *error)
{
    const tu_bed_reading *reading = &run->map.reading;
    uint32_t last = 0;
    size_t count = 0;
    for (size_t i = 0; i < reading->count; i++)
        last = reading->round[i] > last ? reading->round[i] : last;
    if (last == 0)
        return TU_OK;
    shift *s = malloc(sizeof *s);
    first_round *first = calloc(1, sizeof *first);
    tu_status status = s && first
                           ? start_first(first, reading->count, error)
                           : tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for this map");
    for (size_t i = 0; !status && i < reading->count; i++)
        if (reading->round[i] == 0)
            first->touch[count++] = reading->point[i];
    if (!status && count > 0 && judge_first(run, first, count)) {
        for (uint32_t round = 1; !status && round <= last; round++) {
            compare(reading, first, round, s);
            status = judge_shift(run, s, round, error);
        }
    }
    free_first(first);
    free(s);
    return status;
}
