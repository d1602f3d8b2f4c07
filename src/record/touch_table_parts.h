/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_table_parts.h - the table of touches while it is being read (internal).
 */
#ifndef RECORD_TOUCH_TABLE_PARTS_H
#define RECORD_TOUCH_TABLE_PARTS_H

#include "trueup/touch_table.h"

/* Columns that grow together. TU_COLUMN_UTC is for the reading only: seconds by the clock of the
 * host, beside those of the device in TU_COLUMN_TIME. */
typedef enum tu_column {
    TU_COLUMN_X,
    TU_COLUMN_Y,
    TU_COLUMN_Z,
    TU_COLUMN_TIME,
    TU_COLUMN_FEED,
    TU_COLUMN_DIRECTION,
    TU_COLUMN_AXIS,
    TU_COLUMN_SERIES,
    TU_COLUMN_LEVEL,
    TU_COLUMN_LINE,
    TU_COLUMN_FILE,
    TU_COLUMN_UTC,
    TU_COLUMN_COUNT
} tu_column;

/* Names, each once, found by a hash table. */
typedef struct tu_name_list {
    char (*name)[TU_NAME_SIZE];
    size_t count, capacity;
    uint32_t *slot; /* index + 1; 0: free */
    size_t slots;
    uint32_t last; /* that was found; of no meaning while count is 0 */
} tu_name_list;

typedef struct tu_table_build {
    const tu_touch_table_request *request;
    void *column[TU_COLUMN_COUNT];
    size_t count, capacity;
    tu_name_list series, levels;
    tu_name_list headings; /* that by could name; empty where it is not asked */
    size_t not_ok, torn_bytes;
    uint32_t file;           /* index of the path being read */
    const char *name;        /* of the file, for messages */
    bool by_found;           /* some file has the column asked for with by */
    tu_touch_rows_take take; /* NULL: rows are kept */
    void *context;
} tu_table_build;

/* A file being read: what stands in block and is not read yet is [start, end). */
/* One read fits the block of a reader of hit logs, too. */
enum {
    TU_TABLE_BLOCK = 1 << 17,
    TU_TABLE_READ_MAX = 1 << 15,
    TU_TABLE_LINE_MAX = 1 << 16,
    TU_TABLE_FIELDS_MAX = 64,
    TU_TABLE_PIECE = 1024 /* rows that are handed on at once: no more than the caches hold */
};
typedef struct tu_table_source {
    int fd;
    bool ended;
    char *block;
    size_t start, end;
} tu_table_source;

/* --- touch_table.c --- */

tu_status tu_table_fail_memory(const tu_table_build *build, tu_error *error);
/* Fails at a line (0: none), and at a column of that name (NULL: none). */
tu_status tu_table_fail(const tu_table_build *build, size_t line, const char *column,
                        tu_error *error, tu_status status, const char *format, ...) TU_PRINTF(6, 7);
/* Makes the column be there; rows before this one have no value in it. */
tu_status tu_table_want(tu_table_build *build, tu_column column, tu_error *error);
/* A row more, of which nothing is stated but its line and file. */
tu_status tu_table_add_row(tu_table_build *build, size_t line, tu_error *error);
/* Reads more behind what stands in the block. */
tu_status tu_table_fill(const tu_table_build *build, tu_table_source *source, tu_error *error);

/* --- touch_table_names.c --- */

/* Finds or adds a name; *index out. False: no memory. */
bool tu_name_list_find(tu_name_list *list, const char *name, size_t length, uint32_t *index);
/* Whether it is the name that was found last. */
bool tu_name_list_is_last(const tu_name_list *list, const char *name, size_t length);
void tu_name_list_free(tu_name_list *list);

/* --- touch_table_csv.c, touch_table_log.c --- */

tu_status tu_table_read_csv(tu_table_build *build, tu_table_source *source, tu_error *error);
tu_status tu_table_read_log(tu_table_build *build, tu_table_source *source, tu_error *error);

/* --- touch_table_cell.c --- */

/* Where a cell stands, for messages, and its text. */
typedef struct tu_table_cell {
    const tu_table_build *build;
    size_t line;
    const char *column;
    const char *text;
    size_t length;
} tu_table_cell;

/* A length; *stated: with a unit of its own. */
tu_status tu_cell_length(const tu_table_cell *cell, double *value_mm, bool *stated,
                         tu_error *error);
tu_status tu_cell_number(const tu_table_cell *cell, double *value, tu_error *error);
tu_status tu_cell_feed(const tu_table_cell *cell, double *feed_mm_s, tu_error *error);
tu_status tu_cell_direction(const tu_table_cell *cell, signed char *direction, tu_error *error);
tu_status tu_cell_axis(const tu_table_cell *cell, unsigned char *axis, tu_error *error);
tu_status tu_cell_ok(const tu_table_cell *cell, bool *ok, tu_error *error);
tu_status tu_cell_name(const tu_table_cell *cell, tu_name_list *list, uint32_t *index,
                       tu_error *error);

#endif
