/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_table_csv.c - a CSV with a header row into the table of touches.
 *
 * A row is a line: a quoted field (RFC 4180, 2.5 to 2.7) may hold separators and doubled quotes but
 * no line end, so that one lost quote can't swallow the rest of the file.
 */
#include "record/touch_table_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

/* What a column of the file is for. */
typedef enum use {
    USE_X,
    USE_Y,
    USE_Z,
    USE_T,
    USE_FEED,
    USE_DIR,
    USE_AXIS,
    USE_SERIES,
    USE_OK,
    USE_COUNT,
    USE_NONE = USE_COUNT
} use;

static const struct {
    const char *name;
    tu_column column;
} known[USE_COUNT] = {
    {"x", TU_COLUMN_X},       {"y", TU_COLUMN_Y},           {"z", TU_COLUMN_Z},
    {"t", TU_COLUMN_TIME},    {"feed", TU_COLUMN_FEED},     {"dir", TU_COLUMN_DIRECTION},
    {"axis", TU_COLUMN_AXIS}, {"series", TU_COLUMN_SERIES}, {"ok", TU_COLUMN_COUNT},
};

typedef struct field {
    char *text;
    size_t length;
    bool quoted;
} field;

typedef struct csv {
    tu_table_build *build;
    tu_table_source *source;
    char separator;
    size_t line;
    field field[TU_TABLE_FIELDS_MAX];
    size_t fields, columns;
    use purpose[TU_TABLE_FIELDS_MAX];
    char name[TU_TABLE_FIELDS_MAX][TU_NAME_SIZE];
    size_t by;             /* index of the column asked for with by; columns: none */
    size_t has[USE_COUNT]; /* index of the column; columns: none */
    size_t with_unit[TU_AXIS_COUNT], without_unit[TU_AXIS_COUNT]; /* lines; 0: none yet */
} csv;

static tu_status fail(const csv *c, const char *column, tu_error *error, const char *message)
{
    return tu_table_fail(c->build, c->line, column, error, TU_DATA_SYNTAX, "%s", message);
}

/* --- Lines and fields --- */

/* The next line, without its end; *text NULL at the end of the file. */
static tu_status next_line(csv *c, char **text, size_t *length, tu_error *error)
{
    tu_table_source *source = c->source;
    size_t searched = 0;
    *text = NULL;
    c->line++;
    for (;;) {
        size_t there = source->end - source->start;
        char *from = source->block + source->start;
        char *newline = memchr(from + searched, '\n', there - searched);
        if (newline || (source->ended && there > 0)) {
            *text = from;
            *length = newline ? (size_t)(newline - from) : there;
            source->start += *length + (newline != NULL);
            *length -= *length > 0 && from[*length - 1] == '\r';
            return TU_OK;
        }
        if (source->ended)
            return TU_OK;
        if (there > TU_TABLE_LINE_MAX)
            return fail(c, NULL, error,
                        "a line of more than 65536 bytes; this is no CSV of touches");
        searched = there;
        tu_status status = tu_table_fill(c->build, source, error);
        if (status)
            return status;
    }
}

/* Takes the quotes off the field that starts at text; where it ends, or NULL: not closed. */
static char *take_quoted(char *text, char *end, field *into)
{
    char *to = text + 1, *at = text + 1;
    into->text = to;
    into->quoted = true;
    for (; at < end; *to++ = *at++) {
        if (*at != '"')
            continue;
        if (at + 1 == end || at[1] != '"') {
            into->length = (size_t)(to - into->text);
            return at + 1;
        }
        at++;
    }
    return NULL;
}

static void trim(field *f)
{
    for (; f->length > 0 && (*f->text == ' ' || *f->text == '\t'); f->length--)
        f->text++;
    while (f->length > 0 && (f->text[f->length - 1] == ' ' || f->text[f->length - 1] == '\t'))
        f->length--;
}

static tu_status split(csv *c, char *text, size_t length, tu_error *error)
{
    char *at = text, *end = text + length;
    c->fields = 0;
    for (;;) {
        if (c->fields == TU_TABLE_FIELDS_MAX)
            return fail(c, NULL, error, "more than 64 columns; this is no CSV of touches");
        field *f = &c->field[c->fields++];
        while (at < end && *at == ' ')
            at++;
        if (at < end && *at == '"') {
            at = take_quoted(at, end, f);
            if (!at)
                return fail(c, NULL, error,
                            "a quote is opened and not closed in this line; close it, or double a "
                            "quote that belongs to the text");
            while (at < end && *at == ' ')
                at++;
            if (at < end && *at != c->separator)
                return fail(c, NULL, error,
                            "text behind a closing quote; double a quote that belongs to the text");
        } else {
            char *stop = at < end ? memchr(at, c->separator, (size_t)(end - at)) : NULL;
            *f = (field){at, (size_t)((stop ? stop : end) - at), false};
            at = stop ? stop : end;
        }
        trim(f);
        if (at == end)
            return TU_OK;
        at++;
    }
}

/* --- The header row --- */

static tu_status find_separator(csv *c, const char *text, size_t length, tu_error *error)
{
    static const char candidates[] = ",;\t";
    size_t kinds = 0;
    bool quoted = false;
    bool seen[3] = {false};
    for (size_t i = 0; i < length; i++) {
        quoted ^= text[i] == '"';
        const char *found = quoted || !text[i] ? NULL : strchr(candidates, text[i]);
        if (found && !seen[found - candidates]) {
            seen[found - candidates] = true;
            kinds++;
            c->separator = *found;
        }
    }
    if (kinds > 1)
        return fail(c, NULL, error,
                    "the header row has more than one of comma, semicolon and tab outside of "
                    "quotes, so the separator is not clear; use one throughout");
    return TU_OK;
}

static tu_status check_bytes(csv *c, char **text, size_t *length, tu_error *error)
{
    if (*length >= 3 && memcmp(*text, "\xEF\xBB\xBF", 3) == 0) {
        *text += 3;
        *length -= 3;
    }
    if (*length >= 2 && (!memcmp(*text, "\xFF\xFE", 2) || !memcmp(*text, "\xFE\xFF", 2)))
        return fail(c, NULL, error, "the file is UTF-16; save it as UTF-8");
    if (memchr(*text, '\0', *length))
        return fail(c, NULL, error, "the file holds bytes of zero; it is no CSV text");
    if (memchr(*text, '\r', *length))
        return fail(c, NULL, error, "a line ends with CR alone; save the file with LF or CR LF");
    return TU_OK;
}

/* A name that means a known one, but is not it: nothing is guessed from it. */
static const char *meant(const char *name)
{
    static const char *const slip[][2] = {
        {"time", "t"},         {"time_s", "t"},       {"seconds", "t"},
        {"t_s", "t"},          {"direction", "dir"},  {"feedrate", "feed"},
        {"feed_rate", "feed"}, {"feed rate", "feed"}, {"serie", "series"},
    };
    for (size_t i = 0; i < sizeof slip / sizeof *slip; i++)
        if (strcasecmp(name, slip[i][0]) == 0)
            return slip[i][1];
    for (size_t i = 0; i <= USE_FEED; i++) {
        size_t length = strlen(known[i].name);
        if (strncasecmp(name, known[i].name, length) == 0 && name[length] &&
            strchr(" _([/", name[length]))
            return known[i].name;
    }
    return NULL;
}

/* What groups touches: not the measured value, nor its time. */
static bool can_group(use purpose)
{
    return purpose != USE_X && purpose != USE_Y && purpose != USE_Z && purpose != USE_T;
}

static tu_status take_heading(csv *c, size_t i, tu_error *error)
{
    const field *f = &c->field[i];
    char *name = c->name[i];
    tu_name_list scratch = {0};
    uint32_t ignored;
    const tu_table_cell cell = {c->build, c->line, NULL, f->text, f->length};
    tu_status status = tu_cell_name(&cell, &scratch, &ignored, error);
    tu_name_list_free(&scratch);
    if (status)
        return status;
    memcpy(name, f->text, f->length);
    name[f->length] = '\0';
    c->purpose[i] = USE_NONE;
    for (size_t k = 0; k < USE_COUNT; k++)
        if (strcasecmp(name, known[k].name) == 0)
            c->purpose[i] = (use)k;
    if (!*name && c->fields > 1)
        return fail(c, NULL, error, "a column of the header row has no name; give it one");
    for (size_t k = 0; k < i; k++)
        if (strcasecmp(c->name[k], name) == 0)
            return fail(c, name, error,
                        "the header row names this column twice; rename or remove one");
    const char *by = c->build->request->by, *right = meant(name);
    uint32_t index;
    if (by && can_group(c->purpose[i]) &&
        !tu_name_list_find(&c->build->headings, name, strlen(name), &index))
        return tu_table_fail_memory(c->build, error);
    if (by && strcasecmp(by, name) == 0)
        c->by = i;
    else if (c->purpose[i] == USE_NONE && right)
        return tu_table_fail(c->build, c->line, name, error, TU_DATA_UNKNOWN,
                             "if this is column %s, name it \"%s\" (lengths in the unit of the "
                             "file or with their own, t in seconds); if not, name it otherwise",
                             right, right);
    return TU_OK;
}

static tu_status take_header(csv *c, tu_error *error)
{
    c->columns = c->by = c->fields;
    for (size_t i = 0; i < c->fields; i++) {
        tu_status status = take_heading(c, i, error);
        if (status)
            return status;
    }
    for (size_t k = 0; k < USE_COUNT; k++)
        c->has[k] = c->columns;
    for (size_t i = 0; i < c->columns; i++)
        if (c->purpose[i] != USE_NONE)
            c->has[c->purpose[i]] = i;
    if (c->has[USE_X] == c->columns && c->has[USE_Y] == c->columns && c->has[USE_Z] == c->columns)
        return tu_table_fail(c->build, c->line, NULL, error, TU_DATA_MISSING,
                             "the first row names none of the columns x, y, z; a file of touches "
                             "starts with a header row such as t,z,series, or is a hit log");
    for (size_t k = 0; k < USE_COUNT; k++) {
        tu_status status = c->has[k] < c->columns && known[k].column < TU_COLUMN_COUNT
                               ? tu_table_want(c->build, known[k].column, error)
                               : TU_OK;
        if (status)
            return status;
    }
    const char *by = c->build->request->by;
    c->build->by_found |= c->by < c->columns;
    if (by && strcmp(by, "file") == 0)
        c->by = c->columns; /* the file's name, whatever a column of that name holds */
    return TU_OK;
}

/* --- A row --- */

static tu_table_cell cell_at(const csv *c, size_t column)
{
    const field *f = &c->field[column];
    return (tu_table_cell){c->build, c->line, c->name[column], f->text, f->length};
}

/* An empty cell is none where the row says that another axis was touched. */
static tu_status take_position(csv *c, int axis, unsigned char touched, size_t row, tu_error *error)
{
    bool stated;
    size_t *with = &c->with_unit[axis], *without = &c->without_unit[axis];
    tu_table_cell cell = cell_at(c, c->has[axis]);
    if (cell.length == 0 && touched != TU_TABLE_NO_AXIS && touched != axis)
        return TU_OK;
    double *position = c->build->column[TU_COLUMN_X + axis];
    tu_status status = tu_cell_length(&cell, &position[row], &stated, error);
    if (status)
        return status;
    if (!*(stated ? with : without))
        *(stated ? with : without) = c->line;
    if (*with && *without)
        return tu_table_fail(c->build, c->line, cell.column, error, TU_DATA_CONFLICT,
                             "line %zu states its unit and line %zu does not; write the unit at "
                             "every value of a column, or at none",
                             *with, *without);
    return TU_OK;
}

static tu_status take_words(csv *c, size_t row, tu_error *error)
{
    tu_table_build *build = c->build;
    tu_status status = TU_OK;
    if (c->has[USE_DIR] < c->columns) {
        tu_table_cell cell = cell_at(c, c->has[USE_DIR]);
        signed char *direction = build->column[TU_COLUMN_DIRECTION];
        status = tu_cell_direction(&cell, &direction[row], error);
    }
    if (!status && c->has[USE_SERIES] < c->columns) {
        tu_table_cell cell = cell_at(c, c->has[USE_SERIES]);
        uint32_t *series = build->column[TU_COLUMN_SERIES];
        if (cell.length > 0)
            status = tu_cell_name(&cell, &build->series, &series[row], error);
    }
    if (!status && c->by < c->columns) {
        tu_table_cell cell = cell_at(c, c->by);
        uint32_t *level = build->column[TU_COLUMN_LEVEL];
        if (cell.length == 0)
            return tu_table_fail(build, c->line, cell.column, error, TU_DATA_MISSING,
                                 "the cell is empty, expected the touch's group; fill it in, or "
                                 "take the row out");
        status = tu_cell_name(&cell, &build->levels, &level[row], error);
    }
    return status;
}

static tu_status take_numbers(csv *c, size_t row, unsigned char touched, tu_error *error)
{
    tu_table_build *build = c->build;
    tu_status status = TU_OK;
    for (int axis = 0; !status && axis < TU_AXIS_COUNT; axis++)
        if (c->has[axis] < c->columns)
            status = take_position(c, axis, touched, row, error);
    if (!status && c->has[USE_T] < c->columns) {
        tu_table_cell cell = cell_at(c, c->has[USE_T]);
        status = tu_cell_number(&cell, (double *)build->column[TU_COLUMN_TIME] + row, error);
    }
    if (!status && c->has[USE_FEED] < c->columns) {
        tu_table_cell cell = cell_at(c, c->has[USE_FEED]);
        status = tu_cell_feed(&cell, (double *)build->column[TU_COLUMN_FEED] + row, error);
    }
    return status;
}

static tu_status fail_cells(const csv *c, tu_error *error)
{
    return tu_table_fail(c->build, c->line, NULL, error, TU_DATA_SYNTAX,
                         "the row has %zu cell%s, the header row %zu; %s", c->fields,
                         c->fields == 1 ? "" : "s", c->columns,
                         c->fields > c->columns && c->separator == ','
                             ? "if these are decimal commas, write points, as in 6.35; if it is a "
                               "comma in a text, put the text in quotes"
                             : "each row needs a cell for each column");
}

static tu_status take_row(csv *c, tu_error *error)
{
    tu_table_build *build = c->build;
    unsigned char touched = TU_TABLE_NO_AXIS;
    bool ok = true;
    tu_status status = TU_OK;
    if (c->fields != c->columns)
        return fail_cells(c, error);
    if (c->has[USE_OK] < c->columns) {
        tu_table_cell cell = cell_at(c, c->has[USE_OK]);
        status = tu_cell_ok(&cell, &ok, error);
    }
    if (!status && !ok) {
        build->not_ok++;
        return TU_OK;
    }
    if (!status && c->has[USE_AXIS] < c->columns) {
        tu_table_cell cell = cell_at(c, c->has[USE_AXIS]);
        status = tu_cell_axis(&cell, &touched, error);
    }
    if (!status)
        status = tu_table_add_row(build, c->line, error);
    if (status)
        return status;
    size_t row = build->count - 1;
    if (c->has[USE_AXIS] < c->columns)
        ((unsigned char *)build->column[TU_COLUMN_AXIS])[row] = touched;
    status = take_numbers(c, row, touched, error);
    return status ? status : take_words(c, row, error);
}

tu_status tu_table_read_csv(tu_table_build *build, tu_table_source *source, tu_error *error)
{
    csv c = {.build = build, .source = source, .separator = ','};
    char *text;
    size_t length = 0;
    tu_status status = next_line(&c, &text, &length, error);
    if (!status && !text)
        return tu_fail(error, TU_DATA_MISSING, build->name,
                       "the file is empty; it should be a hit log, or a CSV with a header row");
    if (!status)
        status = check_bytes(&c, &text, &length, error);
    if (!status)
        status = find_separator(&c, text, length, error);
    if (!status)
        status = split(&c, text, length, error);
    if (!status)
        status = take_header(&c, error);
    while (!status) {
        status = next_line(&c, &text, &length, error);
        if (status || !text)
            break;
        if (length == 0)
            continue;
        status = split(&c, text, length, error);
        if (!status)
            status = take_row(&c, error);
    }
    return status;
}
