/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_read.c - the touches of a bed from files, as points.
 */
#include "task/bed/bed_read.h"

#include "trueup/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static tu_status find_series(const tu_touch_table *table, const char *name, uint32_t *index,
                             tu_error *error)
{
    char list[300] = "";
    size_t used = 0;
    for (size_t i = 0; i < table->series_count; i++) {
        if (strcmp(table->series_name[i], name) == 0) {
            *index = (uint32_t)i;
            return TU_OK;
        }
        int wrote =
            snprintf(list + used, sizeof list - used, "%s%s", i ? ", " : "", table->series_name[i]);
        used += wrote > 0 && used + (size_t)wrote < sizeof list ? (size_t)wrote : 0;
    }
    if (table->series_count == 0)
        return tu_fail(error, TU_DATA_UNKNOWN, "{series_name}",
                       "nothing here names a series; leave {series_name} out");
    return tu_fail(error, TU_DATA_UNKNOWN, "{series_name}", "no series %s; there are %s", name,
                   list);
}

static tu_status fail_row(const tu_touch_table *table, const char *const *path, size_t row,
                          char axis, tu_error *error)
{
    char where[TU_ERROR_WHERE_SIZE];
    const char *name = path[table->file[row]];
    snprintf(where, sizeof where, "%s:%u", strcmp(name, "-") ? name : "standard input",
             (unsigned)table->line[row]);
    return tu_fail(error, TU_DATA_MISSING, where,
                   "a map of the bed needs x, y and z of each touch; %c is missing", axis);
}

static bool is_again(const tu_touch_table *table, size_t row)
{
    return table->series && table->series[row] != TU_TABLE_UNSTATED &&
           strcmp(table->series_name[table->series[row]], TU_BED_AGAIN_SERIES) == 0;
}

static bool is_wanted(const tu_touch_table *table, size_t row, const char *series, uint32_t wanted)
{
    if (series && (!table->series || table->series[row] != wanted) && !is_again(table, row))
        return false;
    return !table->axis || table->axis[row] == TU_AXIS_Z || table->axis[row] == TU_TABLE_NO_AXIS;
}

static tu_status take_rows(tu_bed_reading *reading, const char *const *path, const char *series,
                           uint32_t wanted, tu_error *error)
{
    const tu_touch_table *table = reading->table;
    for (size_t row = 0; row < table->count; row++) {
        if (!is_wanted(table, row, series, wanted))
            continue;
        double place[TU_AXIS_COUNT];
        for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
            place[axis] = table->position_mm[axis] ? table->position_mm[axis][row] : NAN;
            if (isnan(place[axis]))
                return fail_row(table, path, row, "xyz"[axis], error);
        }
        uint32_t number = table->series ? table->series[row] : TU_TABLE_UNSTATED;
        reading->series[reading->count] =
            number == TU_TABLE_UNSTATED ? table->series_count : (size_t)number;
        reading->round[reading->count] = is_again(table, row) ? table->file[row] + 1 : 0;
        reading->file[reading->count] = table->file[row];
        reading->line[reading->count] = table->line[row];
        reading->point[reading->count++] =
            (tu_bed_point){place[TU_AXIS_X], place[TU_AXIS_Y], place[TU_AXIS_Z]};
    }
    return TU_OK;
}

static tu_status make_room(tu_bed_reading *reading, tu_error *error)
{
    const tu_touch_table *table = reading->table;
    reading->point = malloc((table->count + 1) * sizeof *reading->point);
    reading->series = malloc((table->count + 1) * sizeof *reading->series);
    reading->series_name = malloc((table->series_count + 1) * sizeof *reading->series_name);
    reading->round = malloc((table->count + 1) * sizeof *reading->round);
    reading->file = malloc((table->count + 1) * sizeof *reading->file);
    reading->line = malloc((table->count + 1) * sizeof *reading->line);
    if (!reading->point || !reading->series || !reading->series_name || !reading->round ||
        !reading->file || !reading->line)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory left for %zu touches",
                       table->count);
    for (size_t i = 0; i < table->series_count; i++)
        reading->series_name[i] = table->series_name[i];
    reading->series_name[table->series_count] = "without a name";
    return TU_OK;
}

tu_status tu_bed_read(const char *const *path, size_t path_count, tu_unit unit, const char *series,
                      tu_bed_reading *reading, tu_error *error)
{
    const tu_touch_table_request request = {path, path_count, unit, NULL};
    uint32_t wanted = 0;
    tu_status status = tu_touch_table_read(&request, &reading->table, error);
    if (!status)
        status = make_room(reading, error);
    if (!status && series)
        status = find_series(reading->table, series, &wanted, error);
    if (!status)
        status = take_rows(reading, path, series, wanted, error);
    if (!status && reading->count == 0)
        status = tu_fail(error, TU_DATA_MISSING, path[0], "no touch of axis z in it");
    return status;
}

void tu_bed_reading_destroy(tu_bed_reading *reading)
{
    if (!reading)
        return;
    tu_touch_table_destroy(reading->table);
    free(reading->point);
    free(reading->series);
    free(reading->series_name);
    free(reading->round);
    free(reading->file);
    free(reading->line);
    *reading = (tu_bed_reading){0};
}
