/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_shop_text.c - a shop file as rows, each in the words by which it can be changed.
 */
#include "record/shop_walk.h"
#include "report/word_rows.h"
#include "trueup/number.h"
#include "trueup/report_shop.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { DEPTH_MAX = 17, PATH_SIZE = 200, TEXT_COLUMN = 15, LENGTH_DECIMALS = 6 };

/* One value of the file, as text: "cutters[1].diameter", "6±0.01". A list of lengths is one. */
typedef struct entry {
    char path[PATH_SIZE];
    char *value;
} entry;

/* All of them, as the walk finds them. path: of the object or list that is walked. */
typedef struct entries {
    entry *list;
    size_t count, capacity;
    tu_unit unit;
    char path[PATH_SIZE];
    size_t depth;
    size_t end[DEPTH_MAX], children[DEPTH_MAX];
    bool in_list[DEPTH_MAX];
} entries;

/* A number as it is typed: in the file's unit, without zeros at its end. */
static void format_length(tu_unit unit, double value_mm, char text[TU_NUMBER_TEXT_SIZE])
{
    size_t length = tu_number_format(text, TU_NUMBER_TEXT_SIZE, tu_unit_from_mm(unit, value_mm),
                                     LENGTH_DECIMALS);
    while (length > 1 && strchr(text, '.') && text[length - 1] == '0')
        text[--length] = '\0';
    if (length > 1 && text[length - 1] == '.')
        text[length - 1] = '\0';
}

/* For free(); NULL without memory. */
static char *format_step(tu_unit unit, const tu_shop_step *step)
{
    char value[TU_NUMBER_TEXT_SIZE], tolerance[TU_NUMBER_TEXT_SIZE];
    char text[2 * TU_NUMBER_TEXT_SIZE + 8];
    if (step->text && step->mark == TU_MARK_TEXT)
        return strdup(step->text);
    if (step->mark == TU_MARK_FLAG)
        return strdup(step->number != 0 ? "true" : "false");
    if (step->mark == TU_MARK_NUMBER)
        tu_number_format_exact(value, sizeof value, step->number);
    else
        format_length(unit, step->length.value_mm, value);
    bool exact = step->mark != TU_MARK_QUANTITY || isnan(step->length.tolerance_mm);
    if (!exact)
        format_length(unit, step->length.tolerance_mm, tolerance);
    snprintf(text, sizeof text, "%s%s%s", value, exact ? "" : "±", exact ? "" : tolerance);
    return strdup(text);
}

/* Takes value, which may be NULL. false without memory. */
static bool add_entry(entries *e, const char *path, char *value)
{
    if (value && e->count == e->capacity) {
        size_t capacity = e->capacity ? 2 * e->capacity : 64;
        entry *list = realloc(e->list, capacity * sizeof *list);
        if (list) {
            e->list = list;
            e->capacity = capacity;
        }
    }
    if (!value || e->count == e->capacity) {
        free(value);
        return false;
    }
    snprintf(e->list[e->count].path, PATH_SIZE, "%s", path);
    e->list[e->count++].value = value;
    return true;
}

/* One more length of the list that the last entry stands for. */
static bool join(entries *e, char *more)
{
    char **value = &e->list[e->count - 1].value;
    size_t used = strlen(*value), added = more ? strlen(more) : 0;
    char *both = more ? realloc(*value, used + added + 3) : NULL;
    if (both) {
        snprintf(both + used, added + 3, ",%s", more);
        *value = both;
    }
    free(more);
    return both != NULL;
}

static bool visit(void *context, const tu_shop_step *step)
{
    entries *e = context;
    char path[PATH_SIZE];
    bool in_list = e->depth && e->in_list[e->depth - 1];
    size_t *children = e->depth ? &e->children[e->depth - 1] : &(size_t){0};
    if (step->mark == TU_MARK_END) {
        bool empty = in_list && !*children;
        bool goes_on = !empty || add_entry(e, e->path, strdup("none"));
        e->path[e->end[--e->depth]] = '\0';
        return goes_on;
    }
    size_t index = (*children)++;
    bool opens = step->mark == TU_MARK_OBJECT || step->mark == TU_MARK_LIST;
    if (in_list && !opens) /* lengths */
        return index ? join(e, format_step(e->unit, step))
                     : add_entry(e, e->path, format_step(e->unit, step));
    int used = in_list
                   ? snprintf(path, sizeof path, "%s[%zu]", e->path, index)
                   : snprintf(path, sizeof path, "%s%s%s", e->path, *e->path ? "." : "", step->key);
    if (!opens)
        return !strcmp(step->key, "notes") || add_entry(e, path, format_step(e->unit, step));
    e->end[e->depth] = strlen(e->path);
    e->children[e->depth] = 0;
    e->in_list[e->depth++] = step->mark == TU_MARK_LIST;
    memcpy(e->path, path, used < PATH_SIZE ? (size_t)used + 1 : PATH_SIZE);
    return true;
}

static void close_entries(entries *e)
{
    for (size_t i = 0; i < e->count; i++)
        free(e->list[i].value);
    free(e->list);
}

/* The entry's key below a base; NULL: it stands elsewhere, or in the heading. What stands on the
 * table is no key. */
static const char *key_below(const entry *found, const char *base)
{
    size_t length = strlen(base);
    bool below = !strncmp(found->path, base, length) && (!length || found->path[length] == '.');
    const char *key = found->path + length + (length > 0);
    bool heading = !strcmp(key, "name") || !strcmp(key, "unit");
    bool elsewhere = !below || heading || (*base != '\0' && !strncmp(key, "things[", 7)) ||
                     (*base == '\0' && strpbrk(key, ".["));
    return elsewhere ? NULL : key;
}

/* As it may be typed: key=value. */
static void write_word(FILE *row, const char *before, const char *key, const char *value)
{
    const char *quote = strchr(value, ' ') ? "\"" : "";
    fprintf(row, "%s%s=%s%s%s", before, key, quote, value, quote);
}

/* What is stated below a base as words, in rows behind the name. */
static tu_status write_row(FILE *out, const entries *e, const char *base, const char *name,
                           int indent, tu_error *error)
{
    char *text = NULL;
    size_t length, written = 0;
    FILE *row = open_memstream(&text, &length);
    for (size_t i = 0; row && i < e->count; i++) {
        const char *key = key_below(&e->list[i], base);
        if (key)
            write_word(row, written++ ? " " : "", key, e->list[i].value);
    }
    if (!row || fclose(row) || !text) {
        free(text);
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    }
    int used = fprintf(out, "%*s%s", indent, "", name);
    used -= (int)strlen(name) - tu_word_rows_columns(name);
    if (used < TEXT_COLUMN)
        used += fprintf(out, "%*s", TEXT_COLUMN - used, "");
    else
        used += fprintf(out, "  ");
    if (written)
        tu_word_rows_write(out, text, used, TEXT_COLUMN);
    else
        fputs("not stated\n", out);
    free(text);
    return TU_OK;
}

static bool is_stated(const entries *e, const char *base)
{
    for (size_t i = 0; i < e->count; i++)
        if (key_below(&e->list[i], base))
            return true;
    return false;
}

/* The rows of one kind, under a heading where there may be several. */
static tu_status write_kind(FILE *out, const entries *e, const tu_shop *shop, tu_shop_kind kind,
                            tu_error *error)
{
    char base[PATH_SIZE];
    tu_status status = TU_OK;
    size_t count = tu_shop_count(shop, kind);
    tu_shop_kind_path(kind, 0, base, sizeof base);
    if (!tu_shop_kind_is_named(kind))
        return kind == TU_SHOP_FILE && !is_stated(e, base)
                   ? TU_OK
                   : write_row(out, e, base, tu_shop_kind_name(kind), 0, error);
    if (count)
        fprintf(out, "%ss\n", tu_shop_kind_name(kind));
    for (size_t i = 0; !status && i < count; i++) {
        tu_shop_kind_path(kind, i, base, sizeof base);
        status = write_row(out, e, base, tu_shop_name_at(shop, kind, i), 2, error);
    }
    return status;
}

static tu_status gather(const tu_shop *shop, entries *e, tu_error *error)
{
    *e = (entries){.unit = tu_shop_unit(shop)};
    return tu_shop_walk(shop, visit, e, error);
}

tu_status tu_report_shop_text(FILE *out, const tu_shop *shop, tu_shop_place place, tu_error *error)
{
    static const tu_shop_kind order[] = {TU_SHOP_MACHINE, TU_SHOP_PLATE, TU_SHOP_CUTTER,
                                         TU_SHOP_STOCK,   TU_SHOP_TABLE, TU_SHOP_THING,
                                         TU_SHOP_FILE};
    static const char *const origins[] = {[TU_SHOP_NOWHERE] = "",
                                          [TU_SHOP_STATED] = "",
                                          [TU_SHOP_ENVIRONMENT] = " (by TRUEUP_SHOP)",
                                          [TU_SHOP_FOLDER] = " (in this folder)"};
    entries e;
    tu_status status = gather(shop, &e, error);
    if (!status)
        fprintf(out, "%s%s, lengths in %s\n\n", place.path, origins[place.origin],
                tu_shop_unit(shop) == TU_UNIT_INCH ? "inches" : "mm");
    for (size_t i = 0; !status && i < sizeof order / sizeof order[0]; i++)
        status = write_kind(out, &e, shop, order[i], error);
    close_entries(&e);
    return status;
}

tu_status tu_report_shop_row(FILE *out, const tu_shop *shop, tu_shop_kind kind, size_t index,
                             tu_error *error)
{
    char base[PATH_SIZE], name[TU_NAME_SIZE + 16];
    entries e;
    const char *own = tu_shop_kind_is_named(kind) ? tu_shop_name_at(shop, kind, index) : NULL;
    snprintf(name, sizeof name, "%s%s%s", tu_shop_kind_name(kind), own ? " " : "", own ? own : "");
    tu_shop_kind_path(kind, index, base, sizeof base);
    tu_status status = gather(shop, &e, error);
    if (!status)
        status = write_row(out, &e, base, name, 0, error);
    close_entries(&e);
    return status;
}

/* --- What is missing --- */

static const char *const purposes[] = {[TU_PURPOSE_ZERO] = "a zero",
                                       [TU_PURPOSE_PLAN] = "a touch program",
                                       [TU_PURPOSE_JOB] = "the check of a cutting program"};

/* Several that lack the same for the same reason stand in one row. */
static bool is_alike(const tu_shop_lack *a, const tu_shop_lack *b)
{
    return a->purpose == b->purpose && a->needed == b->needed && a->kind == b->kind &&
           !strcmp(a->key, b->key) && !strcmp(a->why, b->why);
}

static void write_lack(FILE *out, const tu_shop_lack *lack, size_t alike)
{
    enum { NAMES_MOST = 4 };
    char text[700];
    size_t used = (size_t)snprintf(text, sizeof text, "%s%s%s%s%s", tu_shop_kind_name(lack->kind),
                                   alike == 1 ? " " : "", alike == 1 ? lack->name : "",
                                   *lack->key ? " " : "", lack->key);
    for (size_t i = 0; alike > 1 && i < alike && i < NAMES_MOST; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%s%s", i ? ", " : " (",
                                 lack[i].name);
    if (alike > NAMES_MOST)
        used +=
            (size_t)snprintf(text + used, sizeof text - used, " and %zu more", alike - NAMES_MOST);
    snprintf(text + used, sizeof text - used, "%s: %s", alike > 1 ? ")" : "", lack->why);
    tu_word_rows_write(out, text, fprintf(out, "  "), 4);
}

void tu_report_shop_lacks(FILE *out, const tu_shop_lacks *lacks)
{
    size_t alike = 1;
    for (size_t i = 0; i < lacks->count; i += alike) {
        const tu_shop_lack *lack = &lacks->lack[i], *before = i ? lack - 1 : NULL;
        if (!before || before->purpose != lack->purpose || before->needed != lack->needed)
            fprintf(out, "%s%s %s\n", i ? "\n" : "",
                    lack->needed ? "Missing for" : "Worth stating for", purposes[lack->purpose]);
        for (alike = 1; i + alike < lacks->count && is_alike(lack, lack + alike);)
            alike++;
        write_lack(out, lack, *lack->name ? alike : 0);
    }
    if (lacks->more)
        fprintf(out, "  and %zu more\n", lacks->more);
}
