/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_gather.c - which touches of a table make which series.
 *
 * One series is one name in one file, one axis and one direction: what differs in one of these was
 * not meant to repeat.
 */
#include "task/trials/trials_gather.h"

#include "record/path_label.h"
#include "trueup/text.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static tu_status fail_memory(tu_error *error)
{
    return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
}

/* --- Names --- */

static uint32_t find_series(const tu_touch_table *table, const char *name)
{
    for (size_t i = 0; i < table->series_count; i++)
        if (strcmp(table->series_name[i], name) == 0)
            return (uint32_t)i;
    return TU_TABLE_UNSTATED;
}

/* NAME itself; and with --feed NAME-f50, too, as a plan of trials at several feeds names them. */
static bool is_named(const tu_task_trials_request *request, const char *series)
{
    size_t length = strlen(request->series);
    if (strncmp(series, request->series, length) != 0)
        return false;
    return !series[length] || (request->feed && strncmp(series + length, "-f", 2) == 0 &&
                               series[length + 2] >= '0' && series[length + 2] <= '9');
}

/* "cold, warm": as many names as fit. */
static void list_names(const tu_touch_table *table, char *list, size_t size)
{
    size_t used = 0;
    *list = '\0';
    for (size_t i = 0; i < table->series_count; i++) {
        if (used + TU_NAME_SIZE + 8 > size) {
            snprintf(list + used, size - used, ", ...");
            return;
        }
        used += (size_t)snprintf(list + used, size - used, "%s%s", i ? ", " : "",
                                 table->series_name[i]);
    }
}

/* file: what the name would be otherwise: "" or ", and no file: No such file or directory". */
static tu_status fail_series(const tu_touch_table *table, const char *option, const char *name,
                             const char *file, tu_error *error)
{
    char list[300];
    const char **names = calloc(table->series_count + 1, sizeof *names);
    if (!names)
        return fail_memory(error);
    for (size_t i = 0; i < table->series_count; i++)
        names[i] = table->series_name[i];
    list_names(table, list, sizeof list);
    const char *nearest = tu_text_nearest(name, names, table->series_count);
    tu_status status =
        nearest ? tu_fail(error, TU_DATA_UNKNOWN, option,
                          "no series \"%s\"%s; did you mean %s? There is: %s", name, file, nearest,
                          list)
        : table->series_count
            ? tu_fail(error, TU_DATA_UNKNOWN, option, "no series \"%s\"%s; there is: %s", name,
                      file, list)
            : tu_fail(error, TU_DATA_UNKNOWN, option,
                      "no series \"%s\"%s: the touches name no series at all", name, file);
    free(names);
    return status;
}

tu_status tu_trials_check_names(tu_trials_data *data, const tu_task_trials_request *request,
                                tu_error *error)
{
    const tu_touch_table *table = data->table;
    bool found = !request->series;
    for (size_t i = 0; !found && i < table->series_count; i++)
        found = is_named(request, table->series_name[i]);
    if (!found)
        return fail_series(table, "{series_name}", request->series, "", error);
    if (!request->against)
        return TU_OK;
    uint32_t series = find_series(table, request->against);
    bool file = data->before_file != TU_TABLE_UNSTATED;
    if (series != TU_TABLE_UNSTATED && file)
        return tu_fail(error, TU_USAGE, "{against}",
                       "\"%s\" is a series and a file as well; write ./%s for the file",
                       request->against, request->against);
    if (!file && series == TU_TABLE_UNSTATED) {
        char reason[160];
        int number = access(request->against, R_OK) != 0 ? errno : EACCES;
        snprintf(reason, sizeof reason, " and no file of that name (%s)", strerror(number));
        return fail_series(table, "{against}", request->against, reason, error);
    }
    data->before_series = series;
    return TU_OK;
}

/* --- Rows to entries --- */

/* The only position that the table has; TU_AXIS_COUNT where there are several. */
int tu_trials_only_axis(const tu_touch_table *table)
{
    int found = TU_AXIS_COUNT;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (!table->position_mm[axis])
            continue;
        if (found != TU_AXIS_COUNT)
            return TU_AXIS_COUNT;
        found = axis;
    }
    return found;
}

static bool is_wanted(const tu_trials_data *data, const tu_task_trials_request *request, size_t row)
{
    const tu_touch_table *table = data->rows;
    uint32_t series = table->series ? table->series[row] : TU_TABLE_UNSTATED;
    if (data->before_file != TU_TABLE_UNSTATED && table->file[row] == data->before_file &&
        (series == TU_TABLE_UNSTATED || !request->series))
        return true;
    if (data->before_series != TU_TABLE_UNSTATED && series == data->before_series)
        return true;
    return !request->series ||
           (series != TU_TABLE_UNSTATED && is_named(request, table->series_name[series]));
}

static tu_status find_entry(tu_trials_data *data, const tu_trials_key *key, size_t *last,
                            tu_error *error)
{
    for (size_t i = 0; i <= data->entry_count; i++) {
        size_t at = i == 0 ? *last : i - 1; /* touches of a series mostly follow one another */
        const tu_trials_key *there = &data->key[at];
        if (at < data->entry_count && there->file == key->file && there->series == key->series &&
            there->axis == key->axis && there->direction == key->direction) {
            *last = at;
            data->key[at].count++;
            return TU_OK;
        }
    }
    if (data->entry_count == TU_TRIALS_ENTRIES_MAX)
        return tu_fail(error, TU_DATA_RANGE, "FILE",
                       "more than %d series; choose one with {series_name}, or give fewer files",
                       TU_TRIALS_ENTRIES_MAX);
    *last = data->entry_count++;
    data->key[*last] = *key;
    data->key[*last].count = 1;
    return TU_OK;
}

/* The axis of a row; TU_AXIS_COUNT: not one that is asked for. */
static tu_status find_axis(const tu_trials_data *data, const tu_task_trials_request *request,
                           int only, size_t row, int *axis, tu_error *error)
{
    const tu_touch_table *table = data->rows;
    int stated = table->axis ? table->axis[row] : TU_TABLE_NO_AXIS;
    *axis = stated != TU_TABLE_NO_AXIS      ? stated
            : request->axis < TU_AXIS_COUNT ? request->axis
                                            : only;
    if (*axis == TU_AXIS_COUNT)
        return tu_fail(error, TU_DATA_MISSING, "{touches_axis}",
                       "the file has more than one position and does not say which axis moved "
                       "(column axis); choose one, as in {touches_axis} z");
    if (request->axis < TU_AXIS_COUNT && *axis != request->axis)
        *axis = TU_AXIS_COUNT;
    else if (!table->position_mm[*axis] || isnan(table->position_mm[*axis][row])) {
        if (stated != TU_TABLE_NO_AXIS)
            return tu_fail(error, TU_DATA_MISSING, data->path[table->file[row]],
                           "line %u touched along %c and has no position there",
                           (unsigned)table->line[row], "xyz"[*axis]);
        *axis = TU_AXIS_COUNT;
    }
    return TU_OK;
}

tu_status tu_trials_place_row(tu_trials_data *data, const tu_task_trials_request *request, int only,
                              size_t row, size_t *entry, tu_error *error)
{
    const tu_touch_table *rows = data->rows;
    int axis;
    *entry = TU_TRIALS_ENTRIES_MAX;
    if (!is_wanted(data, request, row))
        return TU_OK;
    tu_status status = find_axis(data, request, only, row, &axis, error);
    if (status || axis == TU_AXIS_COUNT)
        return status;
    const tu_trials_key key = {.file = rows->file[row],
                               .series = rows->series ? rows->series[row] : TU_TABLE_UNSTATED,
                               .axis = (tu_axis)axis,
                               .direction = rows->direction ? rows->direction[row] : 0};
    status = find_entry(data, &key, &data->last, error);
    if (status)
        return status;
    *entry = data->last;
    data->count++;
    return TU_OK;
}

tu_status tu_trials_check_count(const tu_trials_data *data, const tu_task_trials_request *request,
                                tu_error *error)
{
    if (data->count)
        return TU_OK;
    char marked[64] = "";
    if (data->table->not_ok)
        snprintf(marked, sizeof marked, "; %zu are marked as not to be used", data->table->not_ok);
    return tu_fail(error, TU_DATA_MISSING, data->path_count == 1 ? data->path[0] : "FILE",
                   "no touches to judge%s%s",
                   request->axis < TU_AXIS_COUNT ? " along this axis" : "", marked);
}

static tu_status part_rows(tu_trials_data *data, const tu_task_trials_request *request,
                           tu_error *error)
{
    const tu_touch_table *table = data->table;
    int only = tu_trials_only_axis(table);
    data->owner = calloc(table->count + 1, sizeof *data->owner);
    if (!data->owner)
        return fail_memory(error);
    for (size_t row = 0; row < table->count; row++) {
        size_t entry;
        tu_status status = tu_trials_place_row(data, request, only, row, &entry, error);
        if (status)
            return status;
        data->owner[row] = entry < TU_TRIALS_ENTRIES_MAX ? (uint16_t)(entry + 1) : 0;
    }
    return tu_trials_check_count(data, request, error);
}

/* --- The columns of each entry --- */

static bool make_room(tu_trials_data *data, const tu_task_trials_request *request)
{
    size_t n = data->count;
    const tu_touch_table *table = data->table;
    data->value_mm = malloc(n * sizeof *data->value_mm);
    data->work = malloc(4 * n * sizeof *data->work);
    data->line = malloc(n * sizeof *data->line);
    if (table->time_s)
        data->time_s = malloc(n * sizeof *data->time_s);
    if (table->feed_mm_s)
        data->feed_mm_s = malloc(n * sizeof *data->feed_mm_s);
    if (table->direction)
        data->direction = malloc(n);
    if (request->by)
        data->group = malloc(n * sizeof *data->group);
    return data->value_mm && data->work && data->line && (!table->time_s || data->time_s) &&
           (!table->feed_mm_s || data->feed_mm_s) && (!table->direction || data->direction) &&
           (!request->by || data->group);
}

static void copy_row(tu_trials_data *data, size_t row, size_t to)
{
    const tu_touch_table *table = data->table;
    data->value_mm[to] = table->position_mm[data->key[data->owner[row] - 1].axis][row];
    data->line[to] = table->line[row];
    if (data->time_s)
        data->time_s[to] = table->time_s[row];
    if (data->feed_mm_s)
        data->feed_mm_s[to] = table->feed_mm_s[row];
    if (data->direction)
        data->direction[to] = table->direction[row];
    if (data->group)
        data->group[to] = table->level[row];
}

const char *tu_trials_file_name(const tu_trials_data *data, uint32_t file)
{
    return strcmp(data->path[file], "-") == 0 ? "standard input" : data->path[file];
}

void tu_trials_name_entry(tu_trials_data *data, size_t i)
{
    const tu_trials_key *key = &data->key[i];
    tu_trials_entry *entry = &data->entry[i];
    const char *series =
        key->series == TU_TABLE_UNSTATED ? "" : data->rows->series_name[key->series];
    char file[TU_PATH_LABEL_SIZE] = "";
    if (data->path_count > 1)
        tu_path_label(data->path, data->path_count, key->file, file, sizeof file);
    snprintf(entry->name, sizeof entry->name, "%.63s%s%.60s%s", series,
             *file && *series ? " (" : "", file, *file && *series ? ")" : "");
    entry->direction = key->direction;
}

/* A column of which a touch states nothing is none. */
static const double *known(const double *column, size_t from, size_t count)
{
    for (size_t i = 0; column && i < count; i++)
        if (isnan(column[from + i]))
            return NULL;
    return column ? column + from : NULL;
}

static void lay_out(tu_trials_data *data, double step_mm)
{
    size_t start[TU_TRIALS_ENTRIES_MAX], next = 0;
    for (size_t i = 0; i < data->entry_count; i++) {
        start[i] = next;
        next += data->key[i].count;
    }
    for (size_t row = 0; row < data->table->count; row++)
        if (data->owner[row])
            copy_row(data, row, start[data->owner[row] - 1]++);
    for (size_t i = 0; i < data->entry_count; i++) {
        size_t count = data->key[i].count, from = start[i] - count;
        tu_trials_name_entry(data, i);
        data->entry[i].line = data->line + from;
        data->entry[i].series =
            (tu_trial_series){.name = data->entry[i].name,
                              .axis = data->key[i].axis,
                              .count = count,
                              .value_mm = data->value_mm + from,
                              .time_s = known(data->time_s, from, count),
                              .direction = data->direction ? data->direction + from : NULL,
                              .feed_mm_s = known(data->feed_mm_s, from, count),
                              .step_mm = step_mm};
    }
}

/* Groups that have touches are numbered anew: levels of rows that were not chosen have none. */
static tu_status number_groups(tu_trials_data *data, tu_error *error)
{
    const tu_touch_table *table = data->table;
    size_t *number = calloc(table->level_count + 1, sizeof *number);
    data->group_name = calloc(table->level_count + 1, sizeof *data->group_name);
    data->group_figure = calloc(table->level_count + 1, sizeof *data->group_figure);
    tu_status status =
        number && data->group_name && data->group_figure ? TU_OK : fail_memory(error);
    for (size_t i = 0; !status && i < data->count; i++) {
        size_t level = data->group[i];
        if (level >= table->level_count) {
            status = tu_fail(error, TU_DATA_MISSING, "{by}",
                             "the touch of line %u is in no group; use files that all have the "
                             "column",
                             (unsigned)data->line[i]);
            break;
        }
        if (!number[level]) {
            number[level] = ++data->group_count;
            memcpy(data->group_name[data->group_count - 1], table->level_name[level], TU_NAME_SIZE);
        }
        data->group[i] = number[level] - 1;
    }
    free(number);
    return status;
}

bool tu_trials_is_before(const tu_trials_data *data, size_t entry)
{
    const tu_trials_key *key = &data->key[entry];
    return (data->before_file != TU_TABLE_UNSTATED && key->file == data->before_file) ||
           (data->before_series != TU_TABLE_UNSTATED && key->series == data->before_series);
}

tu_status tu_trials_gather(tu_trials_data *data, const tu_task_trials_request *request,
                           double step_mm, tu_error *error)
{
    memcpy(data->path, request->path, sizeof request->path);
    data->path_count = request->path_count;
    data->before_file = data->before_series = TU_TABLE_UNSTATED;
    if (request->against && access(request->against, R_OK) == 0) {
        data->before_file = (uint32_t)data->path_count;
        data->path[data->path_count++] = request->against;
    }
    const tu_touch_table_request files = {data->path, data->path_count, request->unit, request->by};
    tu_status status = tu_touch_table_read(&files, &data->table, error);
    data->rows = data->table;
    if (!status)
        status = tu_trials_check_names(data, request, error);
    if (!status)
        status = part_rows(data, request, error);
    if (!status && !make_room(data, request))
        status = fail_memory(error);
    if (status)
        return status;
    lay_out(data, step_mm);
    return request->by ? number_groups(data, error) : TU_OK;
}

void tu_trials_data_destroy(tu_trials_data *data)
{
    tu_touch_table_destroy(data->table);
    free(data->owner);
    free(data->value_mm);
    free(data->time_s);
    free(data->feed_mm_s);
    free(data->work);
    free(data->direction);
    free(data->line);
    free(data->group);
    free(data->group_name);
    free(data->group_figure);
}
