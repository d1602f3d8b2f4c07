/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_table.c - touches from files as columns: the columns, and which reader a file needs.
 *
 * Files are read as a stream; what stays in memory is the columns that some file has.
 */
#include "record/touch_table_parts.h"

#include "record/input_file.h"
#include "record/path_label.h"
#include "trueup/text.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Columns that a message names. */
enum { BY_LISTED = 12 };

static const size_t column_size[TU_COLUMN_COUNT] = {
    sizeof(double),   sizeof(double),      sizeof(double),        sizeof(double),
    sizeof(double),   sizeof(signed char), sizeof(unsigned char), sizeof(uint32_t),
    sizeof(uint32_t), sizeof(uint32_t),    sizeof(uint32_t),      sizeof(double),
};

tu_status tu_table_fail_memory(const tu_table_build *build, tu_error *error)
{
    return tu_fail(error, TU_SYSTEM_MEMORY, build->name,
                   "no memory left for its touches (%zu so far)", build->count);
}

tu_status tu_table_fail(const tu_table_build *build, size_t line, const char *column,
                        tu_error *error, tu_status status, const char *format, ...)
{
    char place[TU_ERROR_WHERE_SIZE], message[TU_ERROR_MESSAGE_SIZE], number[24] = "";
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    if (line)
        snprintf(number, sizeof number, ":%zu", line);
    snprintf(place, sizeof place, "%.100s%s%s%.60s", build->name, number, column ? ": column " : "",
             column ? column : "");
    return tu_fail(error, status, place, "%s", message);
}

static void set_none(const tu_table_build *build, tu_column column, size_t row)
{
    void *data = build->column[column];
    if (column <= TU_COLUMN_FEED || column == TU_COLUMN_UTC)
        ((double *)data)[row] = NAN;
    else if (column == TU_COLUMN_DIRECTION)
        ((signed char *)data)[row] = 0;
    else if (column == TU_COLUMN_AXIS)
        ((unsigned char *)data)[row] = TU_TABLE_NO_AXIS;
    else
        ((uint32_t *)data)[row] = TU_TABLE_UNSTATED;
}

tu_status tu_table_want(tu_table_build *build, tu_column column, tu_error *error)
{
    if (build->column[column])
        return TU_OK;
    size_t rows = build->capacity ? build->capacity : 1;
    build->column[column] = malloc(rows * column_size[column]);
    if (!build->column[column])
        return tu_table_fail_memory(build, error);
    for (size_t row = 0; row < build->count; row++)
        set_none(build, column, row);
    return TU_OK;
}

static tu_status grow(tu_table_build *build, tu_error *error)
{
    size_t capacity = build->capacity ? build->capacity + build->capacity / 2 : 64;
    if (capacity > UINT32_MAX - 2)
        return tu_fail(error, TU_DATA_RANGE, build->name, "more touches than a table holds");
    for (int column = 0; column < TU_COLUMN_COUNT; column++) {
        if (!build->column[column])
            continue;
        void *larger = realloc(build->column[column], capacity * column_size[column]);
        if (!larger)
            return tu_table_fail_memory(build, error);
        build->column[column] = larger;
    }
    build->capacity = capacity;
    return TU_OK;
}

/* The columns as they stand. */
static tu_touch_table view(const tu_table_build *build)
{
    tu_touch_table table = {.count = build->count};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        table.position_mm[axis] = build->column[TU_COLUMN_X + axis];
    table.time_s = build->column[TU_COLUMN_TIME];
    table.feed_mm_s = build->column[TU_COLUMN_FEED];
    table.direction = build->column[TU_COLUMN_DIRECTION];
    table.axis = build->column[TU_COLUMN_AXIS];
    table.series = build->column[TU_COLUMN_SERIES];
    table.series_name = build->series.name;
    table.series_count = build->series.count;
    table.level = build->column[TU_COLUMN_LEVEL];
    table.level_name = build->levels.name;
    table.level_count = build->levels.count;
    table.line = build->column[TU_COLUMN_LINE];
    table.file = build->column[TU_COLUMN_FILE];
    table.not_ok = build->not_ok;
    table.torn_bytes = build->torn_bytes;
    return table;
}

/* The rows read so far go to the one who takes them, and make room. */
static tu_status hand_on(tu_table_build *build, tu_error *error)
{
    const tu_touch_table rows = view(build);
    build->count = 0;
    return rows.count ? build->take(build->context, &rows, error) : TU_OK;
}

tu_status tu_table_add_row(tu_table_build *build, size_t line, tu_error *error)
{
    tu_status status = TU_OK;
    if (build->take && build->count == TU_TABLE_PIECE)
        status = hand_on(build, error);
    if (!status && build->count == build->capacity)
        status = grow(build, error);
    if (status)
        return status;
    size_t row = build->count++;
    for (int column = 0; column < TU_COLUMN_COUNT; column++)
        if (build->column[column])
            set_none(build, (tu_column)column, row);
    ((uint32_t *)build->column[TU_COLUMN_LINE])[row] = (uint32_t)line;
    ((uint32_t *)build->column[TU_COLUMN_FILE])[row] = build->file;
    return TU_OK;
}

tu_status tu_table_fill(const tu_table_build *build, tu_table_source *source, tu_error *error)
{
    memmove(source->block, source->block + source->start, source->end - source->start);
    source->end -= source->start;
    source->start = 0;
    ssize_t got;
    size_t room = TU_TABLE_BLOCK - source->end;
    do {
        got = read(source->fd, source->block + source->end,
                   room < TU_TABLE_READ_MAX ? room : TU_TABLE_READ_MAX);
    } while (got < 0 && errno == EINTR);
    if (got < 0)
        return tu_fail(error, TU_SYSTEM_IO, build->name, "can't read it: %s", strerror(errno));
    source->ended = got == 0;
    source->end += (size_t)got;
    return TU_OK;
}

/* A hit log says so in its first bytes. */
static tu_status read_source(tu_table_build *build, tu_table_source *source, tu_error *error)
{
    static const char mark[] = "{\"trueup\"";
    size_t length = sizeof mark - 1;
    while (!source->ended && source->end < length) {
        tu_status status = tu_table_fill(build, source, error);
        if (status)
            return status;
    }
    if (source->end >= length && memcmp(source->block, mark, length) == 0)
        return tu_table_read_log(build, source, error);
    return tu_table_read_csv(build, source, error);
}

static tu_status read_file(tu_table_build *build, const char *path, tu_error *error)
{
    tu_table_source source = {.fd = -1};
    build->name = tu_input_name(path);
    source.block = malloc(TU_TABLE_BLOCK);
    if (!source.block)
        return tu_table_fail_memory(build, error);
    tu_status status = tu_input_open(path, &source.fd, error);
    if (!status)
        status = read_source(build, &source, error);
    tu_input_close(path, source.fd);
    free(source.block);
    return status;
}

/* Levels that need no cell: the file, and the series that each row states. */
static tu_status take_level(tu_table_build *build, size_t from, tu_error *error)
{
    const char *by = build->request->by;
    uint32_t index = 0, *level = build->column[TU_COLUMN_LEVEL];
    if (!by || strcmp(by, "file") != 0)
        return TU_OK;
    char name[TU_PATH_LABEL_SIZE];
    tu_path_label(build->request->path, build->request->path_count, build->file, name, sizeof name);
    if (!tu_name_list_find(&build->levels, name, strlen(name), &index))
        return tu_table_fail_memory(build, error);
    build->by_found = true;
    for (size_t row = from; row < build->count; row++)
        level[row] = index;
    return TU_OK;
}

static tu_status fail_by(tu_table_build *build, tu_error *error)
{
    static const char *const always[] = {"series", "file"};
    const char *by = build->request->by, *name[BY_LISTED];
    char list[BY_LISTED * (TU_NAME_SIZE + 2)] = "";
    size_t used = 0, count;
    uint32_t index;
    for (size_t i = 0; i < 2; i++)
        if (!tu_name_list_find(&build->headings, always[i], strlen(always[i]), &index))
            return tu_table_fail_memory(build, error);
    for (count = 0; count < build->headings.count && count < BY_LISTED; count++) {
        name[count] = build->headings.name[count];
        used += (size_t)snprintf(list + used, sizeof list - used, "%s%s", count ? ", " : "",
                                 name[count]);
    }
    const char *nearest = tu_text_nearest(by, name, count);
    return tu_fail(error, TU_DATA_UNKNOWN, "{by}", "no file has a column \"%s\"%s%s%s There is: %s",
                   by, nearest ? "; did you mean " : ".", nearest ? nearest : "",
                   nearest ? "?" : "", list);
}

static tu_status read_all(tu_table_build *build, tu_error *error)
{
    const tu_touch_table_request *request = build->request;
    build->name = "touches";
    tu_status status = tu_table_want(build, TU_COLUMN_LINE, error);
    if (!status)
        status = tu_table_want(build, TU_COLUMN_FILE, error);
    if (!status && request->by)
        status = tu_table_want(build, TU_COLUMN_LEVEL, error);
    for (size_t i = 0; !status && i < request->path_count; i++) {
        size_t from = build->count;
        build->file = (uint32_t)i;
        status = read_file(build, request->path[i], error);
        if (!status)
            status = take_level(build, from, error);
    }
    return status || !request->by || build->by_found ? status : fail_by(build, error);
}

static tu_status read_table(tu_table_build *build, tu_touch_table **table, tu_error *error)
{
    *table = calloc(1, sizeof **table);
    if (!*table)
        return tu_table_fail_memory(build, error);
    tu_status status = read_all(build, error);
    if (!status && build->take)
        status = hand_on(build, error);
    if (!status) {
        **table = view(build); /* the columns are the table's now */
        free(build->column[TU_COLUMN_UTC]);
        free(build->series.slot);
        free(build->levels.slot);
        tu_name_list_free(&build->headings);
        return TU_OK;
    }
    for (int column = 0; column < TU_COLUMN_COUNT; column++)
        free(build->column[column]);
    tu_name_list_free(&build->series);
    tu_name_list_free(&build->levels);
    tu_name_list_free(&build->headings);
    free(*table);
    *table = NULL;
    return status;
}

tu_status tu_touch_table_read(const tu_touch_table_request *request, tu_touch_table **table,
                              tu_error *error)
{
    tu_table_build build = {.request = request, .name = "touches"};
    return read_table(&build, table, error);
}

tu_status tu_touch_table_stream(const tu_touch_table_request *request, tu_touch_rows_take take,
                                void *context, tu_touch_table **table, tu_error *error)
{
    *table = NULL;
    if (request->by)
        return tu_fail(error, TU_USAGE, "by", "groups are not known before all rows are read");
    tu_table_build build = {
        .request = request, .name = "touches", .take = take, .context = context};
    return read_table(&build, table, error);
}

void tu_touch_table_destroy(tu_touch_table *table)
{
    if (!table)
        return;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        free(table->position_mm[axis]);
    free(table->time_s);
    free(table->feed_mm_s);
    free(table->direction);
    free(table->axis);
    free(table->series);
    free(table->series_name);
    free(table->level);
    free(table->level_name);
    free(table->line);
    free(table->file);
    free(table);
}
