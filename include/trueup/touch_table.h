/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_table.h - touches from a hit log or from a CSV file, as columns; for trials and bed.
 *
 * A file is a hit log when its first line is a hit log's header, else a CSV with a header row: the
 * columns x y z t series axis dir feed in any order (x y z need only those that are there), and
 * further columns by name. Separator: comma, semicolon or tab, told from the header row. x y z are
 * lengths in the file's unit or with a unit of their own; t seconds; feed length a minute; dir -1,
 * +1, - or +; axis x, y or z. A decimal comma, a NaN, a column that is missing in a row are errors
 * that name the line, the column and the fix: never a wrong number. Hits that were marked not ok
 * are counted and left out.
 */
#ifndef TRUEUP_TOUCH_TABLE_H
#define TRUEUP_TOUCH_TABLE_H

#include "trueup/setup.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

TU_BEGIN_DECLS

enum { TU_TABLE_NO_AXIS = TU_AXIS_COUNT, TU_TABLE_UNSTATED = UINT32_MAX };

/*
 * Columns of count rows each, in the order of the files; NULL: no file has the column.
 *   position_mm[axis]  NaN where a row has none.
 *   time_s     a hit log's times come from the device's clock where it has one, else from the UTC
 *              times; from the first hit of the file. NaN: none.
 *   feed_mm_s  NaN: not stated. direction 0: not stated. axis TU_TABLE_NO_AXIS: not stated.
 *   series     index into series_name; TU_TABLE_UNSTATED: none.
 *   level      index into level_name, of the column asked for with by; NULL: not asked.
 *   line       the line in its file; file the index of the path.
 */
typedef struct tu_touch_table {
    size_t count;
    double *position_mm[TU_AXIS_COUNT];
    double *time_s, *feed_mm_s;
    signed char *direction;
    unsigned char *axis;
    uint32_t *series;
    char (*series_name)[TU_NAME_SIZE];
    size_t series_count;
    uint32_t *level;
    char (*level_name)[TU_NAME_SIZE];
    size_t level_count;
    uint32_t *line, *file;
    size_t not_ok;     /* hits left out because they are marked so */
    size_t torn_bytes; /* at the end of a hit log */
} tu_touch_table;

/*
 *   unit  of bare lengths in a CSV (a hit log is millimetres).
 *   by    the further column to take as levels; NULL: none. "series" and "file" work too.
 */
typedef struct tu_touch_table_request {
    const char *const *path; /* "-": standard input */
    size_t path_count;
    tu_unit unit;
    const char *by;
} tu_touch_table_request;

/*
 * table out, NULL on failure; tu_touch_table_destroy takes NULL.
 * Returns TU_OK, TU_DATA_... with file and line, TU_SYSTEM_IO, TU_SYSTEM_MEMORY.
 */
tu_status tu_touch_table_read(const tu_touch_table_request *request, tu_touch_table **table,
                              tu_error *error);

/* Takes some rows in their order. They are the reader's and stay until it returns; series_name
 * holds the names met so far. What it returns other than TU_OK ends the reading. */
typedef tu_status (*tu_touch_rows_take)(void *context, const tu_touch_table *rows, tu_error *error);

/*
 * Reads as tu_touch_table_read does, by NULL, and hands the rows on in pieces instead of keeping
 * them: memory grows with the names of series, not with the rows. time_s of a hit log is NaN, since
 * only its end tells which clock is good. table out: without rows; names and counts. An error may
 * come after rows were taken: they are good only when TU_OK is returned.
 */
tu_status tu_touch_table_stream(const tu_touch_table_request *request, tu_touch_rows_take take,
                                void *context, tu_touch_table **table, tu_error *error);
void tu_touch_table_destroy(tu_touch_table *table);

TU_END_DECLS

#endif
