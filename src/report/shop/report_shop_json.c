/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_shop_json.c - a shop file as JSON in one unit, with what it leaves open.
 */
#include "record/shop_walk.h"
#include "report/json_build.h"
#include "trueup/number.h"
#include "trueup/report_shop.h"

#include <string.h>

enum { DEPTH_MAX = 17 };

typedef struct builder {
    cJSON *open[DEPTH_MAX];
    size_t depth;
} builder;

/* Adds to the innermost object or list. */
static cJSON *put(const builder *b, const char *key, cJSON *item)
{
    cJSON *parent = b->open[b->depth];
    return key ? tu_json_add(parent, key, item) : tu_json_append(parent, item);
}

static cJSON *create_number(double value)
{
    char text[64];
    return tu_number_format_exact(text, sizeof text, value) ? cJSON_CreateRaw(text) : NULL;
}

static bool visit(void *context, const tu_shop_step *step)
{
    builder *b = context;
    switch (step->mark) {
    case TU_MARK_END:
        b->depth--;
        return true;
    case TU_MARK_OBJECT:
    case TU_MARK_LIST:
        if (b->depth + 1 == DEPTH_MAX)
            return false;
        b->open[b->depth + 1] = put(
            b, step->key, step->mark == TU_MARK_LIST ? cJSON_CreateArray() : cJSON_CreateObject());
        return b->open[++b->depth] != NULL;
    case TU_MARK_QUANTITY: {
        cJSON *item = put(b, step->key, cJSON_CreateObject());
        return tu_json_add_number(item, "value", step->length.value_mm) &&
               tu_json_add_known(item, "tolerance", step->length.tolerance_mm);
    }
    case TU_MARK_LENGTH:
        return put(b, step->key, create_number(step->length.value_mm)) != NULL;
    case TU_MARK_NUMBER:
        return put(b, step->key, create_number(step->number)) != NULL;
    case TU_MARK_FLAG:
        return put(b, step->key, cJSON_CreateBool(step->number != 0)) != NULL;
    case TU_MARK_TEXT:
        break;
    }
    return put(b, step->key, step->text ? cJSON_CreateString(step->text) : cJSON_CreateNull()) !=
           NULL;
}

static bool add_lacks(cJSON *root, const tu_shop_lacks *lacks)
{
    cJSON *list = tu_json_add(root, "lacks", cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t i = 0; ok && i < lacks->count; i++) {
        const tu_shop_lack *lack = &lacks->lack[i];
        cJSON *item = tu_json_append(list, cJSON_CreateObject());
        ok = tu_json_add_text(item, "for", tu_shop_purpose_name(lack->purpose)) &&
             tu_json_add_bool(item, "needed", lack->needed) &&
             tu_json_add_text(item, "what", tu_shop_kind_name(lack->kind)) &&
             (!*lack->name || tu_json_add_text(item, "name", lack->name)) &&
             (!*lack->key || tu_json_add_text(item, "key", lack->key)) &&
             tu_json_add_text(item, "why", lack->why);
    }
    return ok;
}

tu_status tu_report_shop_json(FILE *out, const tu_shop *shop, tu_shop_place place,
                              const tu_shop_lacks *lacks, tu_error *error)
{
    static const char *const origins[] = {[TU_SHOP_NOWHERE] = "nowhere",
                                          [TU_SHOP_STATED] = "stated",
                                          [TU_SHOP_ENVIRONMENT] = "environment",
                                          [TU_SHOP_FOLDER] = "folder"};
    builder b = {.open = {cJSON_CreateObject()}};
    bool ok = tu_json_add_number(b.open[0], "schema", 1) &&
              tu_json_add_text(b.open[0], "path", place.path) &&
              tu_json_add_text(b.open[0], "origin", origins[place.origin]);
    tu_status status = ok ? tu_shop_walk(shop, visit, &b, error) : TU_OK;
    if (status) {
        cJSON_Delete(b.open[0]);
        return status;
    }
    return tu_json_write(out, b.open[0], ok && add_lacks(b.open[0], lacks), error);
}
