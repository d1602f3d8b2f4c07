/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_shop_json.c - a shop file as JSON in one unit, with what it leaves open.
 */
#include "record/shop_walk.h"
#include "report/json.h"
#include "trueup/report_shop.h"

#include <math.h>

enum { DEPTH_MAX = 15 }; /* one less than the writer takes */

static bool visit(void *context, const tu_shop_step *step)
{
    tu_json *json = context;
    switch (step->mark) {
    case TU_MARK_END:
        tu_json_end(json);
        return true;
    case TU_MARK_OBJECT:
    case TU_MARK_LIST:
        if (json->depth == DEPTH_MAX)
            return false;
        (step->mark == TU_MARK_LIST ? tu_json_array : tu_json_object)(json, step->key);
        return true;
    case TU_MARK_QUANTITY:
        tu_json_object(json, step->key);
        TU_JSON_NUMBERS(json, {"value", step->length.value_mm});
        TU_JSON_KNOWN(json, {"tolerance", step->length.tolerance_mm});
        tu_json_end(json);
        return true;
    case TU_MARK_LENGTH:
        TU_JSON_NUMBERS(json, {step->key, step->length.value_mm});
        return true;
    case TU_MARK_NUMBER:
        TU_JSON_NUMBERS(json, {step->key, step->number});
        return true;
    case TU_MARK_FLAG:
        tu_json_bool(json, step->key, step->number != 0);
        return true;
    case TU_MARK_TEXT:
        break;
    }
    if (step->text)
        tu_json_text(json, step->key, step->text);
    else
        TU_JSON_NUMBERS(json, {step->key, NAN});
    return true;
}

static void put_lacks(tu_json *json, const tu_shop_lacks *lacks)
{
    tu_json_array(json, "lacks");
    for (size_t i = 0; i < lacks->count; i++) {
        const tu_shop_lack *lack = &lacks->lack[i];
        tu_json_object(json, NULL);
        tu_json_text(json, "for", tu_shop_purpose_name(lack->purpose));
        tu_json_bool(json, "needed", lack->needed);
        tu_json_text(json, "what", tu_shop_kind_name(lack->kind));
        tu_json_text_if_any(json, "name", lack->name);
        tu_json_text_if_any(json, "key", lack->key);
        tu_json_text(json, "why", lack->why);
        tu_json_end(json);
    }
    tu_json_end(json);
}

tu_status tu_report_shop_json(FILE *out, const tu_shop *shop, tu_shop_place place,
                              const tu_shop_lacks *lacks, tu_error *error)
{
    static const char *const origins[] = {[TU_SHOP_NOWHERE] = "nowhere",
                                          [TU_SHOP_STATED] = "stated",
                                          [TU_SHOP_ENVIRONMENT] = "environment",
                                          [TU_SHOP_FOLDER] = "folder"};
    tu_json json = tu_json_begin(out);
    TU_JSON_NUMBERS(&json, {"schema", 1});
    tu_json_text(&json, "path", place.path);
    tu_json_text(&json, "origin", origins[place.origin]);
    tu_status status = tu_shop_walk(shop, visit, &json, error);
    if (status)
        return status;
    put_lacks(&json, lacks);
    return tu_json_finish(&json, error);
}
