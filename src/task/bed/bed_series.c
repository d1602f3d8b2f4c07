/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_series.c - several series of touches as one map: says so, and compares them where they
 * adjoin.
 */
#include "task/bed/bed_judge.h"

#include "trueup/bed_seams.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NAME_SIZE = 60, SERIES_MAX = 256, NAMED = 4 };

static const double least_step_mm = 0.02; /* thinner than any shim */

/* A series is told by its file and its name: each run of a program names its touches alike. */
typedef struct listed {
    uint32_t file;
    size_t series;
} listed;

typedef struct list {
    listed item[SERIES_MAX];
    size_t count;
} list;

static size_t number_of(list *l, uint32_t file, size_t series)
{
    for (size_t i = 0; i < l->count; i++)
        if (l->item[i].file == file && l->item[i].series == series)
            return i;
    if (l->count == SERIES_MAX)
        return TU_BED_NO_SERIES;
    l->item[l->count] = (listed){file, series};
    return l->count++;
}

/* Of each place; what was touched again counts for none. */
static void number_places(const tu_bed_run *run, list *l, size_t *series)
{
    const tu_bed_reading *reading = &run->map.reading;
    for (size_t i = 0; i < run->map.places.count; i++) {
        const size_t touch = run->map.places.first[i];
        series[i] = reading->round[touch] > 0
                        ? TU_BED_NO_SERIES
                        : number_of(l, reading->file[touch], reading->series[touch]);
    }
}

static const char *path_of(const tu_bed_run *run, uint32_t file)
{
    const char *path = run->request.path[file];
    const char *base = strrchr(path, '/');
    return strcmp(path, "-") == 0 ? "standard input" : base ? base + 1 : path;
}

static void name_series(const tu_bed_run *run, const list *l, size_t number, char name[NAME_SIZE])
{
    const tu_bed_reading *reading = &run->map.reading;
    const listed *item = &l->item[number];
    const bool named = item->series < reading->table->series_count;
    if (run->request.path_count == 1)
        snprintf(name, NAME_SIZE, "%.50s", reading->series_name[item->series]);
    else if (named)
        snprintf(name, NAME_SIZE, "%.20s of %.30s", reading->series_name[item->series],
                 path_of(run, item->file));
    else
        snprintf(name, NAME_SIZE, "%.50s", path_of(run, item->file));
}

static void warn_of_series(tu_bed_run *run, const list *l)
{
    char names[NAMED * (NAME_SIZE + 2) + 40] = "", name[NAME_SIZE];
    size_t used = 0;
    for (size_t i = 0; i < l->count && i < NAMED; i++) {
        name_series(run, l, i, name);
        used += (size_t)snprintf(names + used, sizeof names - used, "%s%s", i ? ", " : "", name);
    }
    if (l->count > NAMED)
        snprintf(names + used, sizeof names - used, " and %zu more", l->count - NAMED);
    tu_warn(&run->answer.warnings, "%zu series were put together as one map: %s", l->count, names);
}

static void warn_of_seam(tu_bed_run *run, const list *l, const tu_bed_seam *seam)
{
    char low[NAME_SIZE], high[NAME_SIZE];
    if (seam->pairs == 0)
        return;
    run->answer.seam_mm = seam->step_mm;
    name_series(run, l, seam->low, low);
    name_series(run, l, seam->high, high);
    tu_warn(
        &run->answer.warnings,
        "where they adjoin, series %s lies %.3f mm higher than %s, and heights there scatter by "
        "%.3f mm: was the machine homed or the cutter changed between them? Take one series at "
        "a time, or touch all of it in one go",
        high, seam->step_mm, low, seam->scatter_mm);
}

tu_status tu_bed_check_series(tu_bed_run *run, tu_error *error)
{
    const tu_bed_places *places = &run->map.places;
    list *l = calloc(1, sizeof *l);
    size_t *series = malloc(places->count * sizeof *series);
    tu_status status = TU_OK;
    if (!l || !series) {
        status = tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for this map");
        goto cleanup;
    }
    number_places(run, l, series);
    if (l->count < 2)
        goto cleanup;
    warn_of_series(run, l);
    const double sd = run->answer.sd_mm;
    const double floor_mm = isnan(sd) ? least_step_mm : fmax(least_step_mm, 2 * sd);
    tu_bed_seam seam;
    status = tu_bed_need(run, tu_bed_seam_bytes(places->count), error);
    if (!status)
        status = tu_bed_find_seam(places->point, series, places->count, floor_mm, run->scratch,
                                  run->scratch_bytes, &seam, error);
    if (!status)
        warn_of_seam(run, l, &seam);
cleanup:
    free(l);
    free(series);
    return status;
}
