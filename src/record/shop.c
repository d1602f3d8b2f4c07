/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop.c - the shop file as an object: reading, finding plates and cutters by name.
 */
#include "trueup/shop.h"
#include "record/file_text.h"
#include "record/input_file.h"
#include "record/shop_edit.h"
#include "record/shop_form.h"
#include "trueup/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* An empty shop that owns copies of the name and the text; NULL without memory. */
static tu_shop *create_shop(const char *name, const char *text, size_t length)
{
    tu_shop *shop = calloc(1, sizeof *shop);
    if (!shop)
        return NULL;
    shop->name = strdup(name);
    shop->text = malloc(length + 1);
    if (!shop->name || !shop->text) {
        tu_shop_destroy(shop);
        return NULL;
    }
    memcpy(shop->text, text, length);
    shop->text[length] = '\0';
    shop->length = length;
    shop->machine = tu_machine_start();
    shop->stock = tu_stock_start();
    return shop;
}

void tu_shop_destroy(tu_shop *shop)
{
    if (!shop)
        return;
    free(shop->name);
    free(shop->text);
    free(shop->journal);
    free(shop->things);
    free(shop->plates);
    free(shop->cutters);
    free(shop->templates);
    free(shop->template_names);
    free(shop);
}

static tu_status parse(const char *name, const char *text, size_t length, bool partial,
                       tu_shop **shop, tu_error *error)
{
    *shop = NULL;
    if (length > TU_SHOP_TEXT_MAX)
        return tu_fail(error, TU_DATA_RANGE, name,
                       "larger than %d bytes, which no shop file should be", TU_SHOP_TEXT_MAX);
    tu_shop_reader reader = {
        .shop = create_shop(name, text, length), .error = error, .partial = partial};
    if (!reader.shop)
        return tu_fail(error, TU_SYSTEM_MEMORY, name, "no memory left to read this file");
    reader.shop->partial = partial;
    tu_status status =
        tu_json_read(&reader.document, reader.shop->name, 1, reader.shop->text, length, error);
    if (!status)
        status = tu_shop_read_root(&reader, &tu_shop_root_form, reader.shop);
    tu_json_close(&reader.document);
    if (status)
        tu_shop_destroy(reader.shop);
    else
        *shop = reader.shop;
    return status;
}

tu_status tu_shop_parse(const char *name, const char *text, size_t length, tu_shop **shop,
                        tu_error *error)
{
    return parse(name, text, length, false, shop, error);
}

tu_status tu_shop_parse_part(const char *name, const char *text, size_t length, tu_shop **shop,
                             tu_error *error)
{
    return parse(name, text, length, true, shop, error);
}

const char *tu_shop_text(const tu_shop *shop, size_t *length)
{
    *length = shop->length;
    return shop->text;
}

tu_status tu_shop_read(const char *path, tu_shop **shop, tu_error *error)
{
    char *text;
    size_t length;
    *shop = NULL;
    tu_status status = tu_file_text_read(path, TU_SHOP_TEXT_MAX, &text, &length, error);
    if (!status)
        status = tu_shop_parse(tu_input_name(path), text, length, shop, error);
    free(text);
    return status;
}

tu_unit tu_shop_unit(const tu_shop *shop)
{
    return shop->unit;
}

tu_machine tu_shop_machine(const tu_shop *shop)
{
    return shop->machine;
}

tu_stock tu_shop_stock(const tu_shop *shop)
{
    return shop->stock;
}

const tu_table *tu_shop_table(const tu_shop *shop)
{
    return &shop->table;
}

const char *tu_shop_journal(const tu_shop *shop)
{
    return shop->journal;
}

size_t tu_shop_plate_count(const tu_shop *shop)
{
    return shop->plate_count;
}

size_t tu_shop_cutter_count(const tu_shop *shop)
{
    return shop->cutter_count;
}

const tu_plate *tu_shop_plate_at(const tu_shop *shop, size_t index)
{
    return index < shop->plate_count ? &shop->plates[index] : NULL;
}

const tu_cutter *tu_shop_cutter_at(const tu_shop *shop, size_t index)
{
    return index < shop->cutter_count ? &shop->cutters[index] : NULL;
}

/* A list of named things: each starts with its name. */
typedef struct named_list {
    const tu_shop *shop;
    const char *what;
    const char *items;
    size_t size, count;
} named_list;

static named_list list_of(const tu_shop *shop, tu_shop_kind kind)
{
    const char *what = tu_shop_kind_name(kind);
    switch (kind) {
    case TU_SHOP_PLATE:
        return (named_list){shop, what, (const char *)shop->plates, sizeof *shop->plates,
                            shop->plate_count};
    case TU_SHOP_CUTTER:
        return (named_list){shop, what, (const char *)shop->cutters, sizeof *shop->cutters,
                            shop->cutter_count};
    case TU_SHOP_THING:
        return (named_list){shop, what, (const char *)shop->things, sizeof *shop->things,
                            shop->table.thing_count};
    default:
        return (named_list){shop, what, NULL, 1, 0};
    }
}

static const char *name_at(const named_list *list, size_t index)
{
    return list->items + index * list->size;
}

/* "\"offcut\", \"ring\"", cut with dots where it is long. */
static void write_names(const named_list *list, char *text, size_t size)
{
    text[0] = '\0';
    for (size_t i = 0; i < list->count; i++) {
        size_t used = strlen(text);
        if (used + TU_NAME_SIZE + 12 > size) {
            snprintf(text + used, size - used, ", ...");
            return;
        }
        snprintf(text + used, size - used, "%s\"%s\"", i ? ", " : "", name_at(list, i));
    }
}

static tu_status fail_unknown_name(const named_list *list, const char *name, tu_error *error)
{
    const char *names[TU_SHOP_LIST_MAX];
    char known[300], hint[TU_NAME_SIZE + 24] = "";
    char show[TU_JSON_SHOW_SIZE];
    for (size_t i = 0; i < list->count; i++)
        names[i] = name_at(list, i);
    const char *nearest = tu_text_nearest(name, names, list->count);
    if (nearest)
        snprintf(hint, sizeof hint, "; did you mean \"%s\"?", nearest);
    write_names(list, known, sizeof known);
    return tu_fail(error, TU_DATA_UNKNOWN, list->shop->name,
                   "no %s is named %s%s%s The file has %s", list->what,
                   tu_json_quote(show, name, strlen(name)), hint, nearest ? "" : ".", known);
}

static tu_status find_named(const named_list *list, const char *name, size_t *index,
                            tu_error *error)
{
    char known[300];
    if (!list->count)
        return tu_fail(error, TU_DATA_MISSING, list->shop->name,
                       "the file has no %s; add one under \"%ss\"", list->what, list->what);
    if (!name && list->count == 1) {
        *index = 0;
        return TU_OK;
    }
    if (!name) {
        write_names(list, known, sizeof known);
        return tu_fail(error, TU_DATA_MISSING, list->shop->name,
                       "the file has several %ss; say which: %s", list->what, known);
    }
    for (size_t i = 0; i < list->count; i++) {
        if (!strcmp(name_at(list, i), name)) {
            *index = i;
            return TU_OK;
        }
    }
    return fail_unknown_name(list, name, error);
}

tu_status tu_shop_find_index(const tu_shop *shop, tu_shop_kind kind, const char *name,
                             size_t *index, tu_error *error)
{
    named_list list = list_of(shop, kind);
    return find_named(&list, name, index, error);
}

size_t tu_shop_count(const tu_shop *shop, tu_shop_kind kind)
{
    return list_of(shop, kind).count;
}

const char *tu_shop_name_at(const tu_shop *shop, tu_shop_kind kind, size_t index)
{
    named_list list = list_of(shop, kind);
    return index < list.count ? name_at(&list, index) : NULL;
}

tu_status tu_shop_find_plate(const tu_shop *shop, const char *name, const tu_plate **plate,
                             tu_error *error)
{
    size_t index;
    tu_status status = tu_shop_find_index(shop, TU_SHOP_PLATE, name, &index, error);
    *plate = status ? NULL : &shop->plates[index];
    return status;
}

tu_status tu_shop_find_cutter(const tu_shop *shop, const char *name, const tu_cutter **cutter,
                              tu_error *error)
{
    size_t index;
    tu_status status = tu_shop_find_index(shop, TU_SHOP_CUTTER, name, &index, error);
    *cutter = status ? NULL : &shop->cutters[index];
    return status;
}

tu_status tu_shop_peek_unit(const char *path, tu_unit *unit, bool *known, tu_error *error)
{
    struct stat found;
    tu_shop *shop;
    *known = false;
    if (strcmp(path, "-") == 0 || stat(path, &found) != 0 || !S_ISREG(found.st_mode))
        return TU_OK;
    tu_status status = tu_shop_read(path, &shop, error);
    if (status)
        return status;
    *unit = tu_shop_unit(shop);
    *known = true;
    tu_shop_destroy(shop);
    return TU_OK;
}
