/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_walk.c - the text of a shop file by its forms, once it is known to be sound.
 */
#include "record/shop_walk.h"
#include "record/shop_form.h"

#include <string.h>

typedef struct walk {
    tu_json_document document;
    const tu_shop *shop;
    tu_shop_visit *visit;
    void *context;
} walk;

static bool visit_value(const walk *w, size_t node, tu_shop_mark mark);

/* form: of the members, or of a list's entries; NULL where there is none (templates). lengths: they
 * are a list of lengths. */
static bool visit_inside(const walk *w, size_t node, const tu_shop_form *form, bool lengths)
{
    const tu_json_node *nodes = w->document.nodes;
    bool goes_on = true;
    for (size_t child = nodes[node].first; goes_on && child != TU_JSON_NONE;
         child = nodes[child].next) {
        const char *name = tu_json_key(&w->document, child);
        const tu_shop_key *key = name && form ? tu_shop_find_key(form, name) : NULL;
        bool list = nodes[child].kind == TU_JSON_ARRAY;
        tu_shop_step step = {.mark = list ? TU_MARK_LIST : TU_MARK_OBJECT, .key = name};
        if (!list && nodes[child].kind != TU_JSON_OBJECT) {
            bool length = lengths || (key && key->kinds == (TU_JSON_NUMBER | TU_JSON_STRING));
            bool quantity = key && key->take == tu_shop_take_quantity;
            goes_on = visit_value(w, child,
                                  quantity ? TU_MARK_QUANTITY
                                  : length ? TU_MARK_LENGTH
                                           : TU_MARK_TEXT);
            continue;
        }
        /* an array without a form is one of lengths; an entry of a list has the list's form */
        goes_on = w->visit(w->context, &step) &&
                  visit_inside(w, child, key ? key->form : form, list && key && !key->form);
        step = (tu_shop_step){.mark = TU_MARK_END};
        goes_on = goes_on && w->visit(w->context, &step);
    }
    return goes_on;
}

/* mark: TU_MARK_TEXT for what is no length. */
static bool visit_value(const walk *w, size_t node, tu_shop_mark mark)
{
    const tu_json_node *n = &w->document.nodes[node];
    tu_shop_step step = {.mark = mark,
                         .key = tu_json_key(&w->document, node),
                         .text = tu_json_string(&w->document, node)};
    const char *text = step.text ? step.text : w->document.text + n->start;
    if (mark != TU_MARK_TEXT) {
        tu_quantity_parse(text, step.text ? strlen(text) : n->end - n->start, w->shop->unit,
                          &step.length, NULL);
    } else if (n->kind == TU_JSON_NUMBER) {
        step.mark = TU_MARK_NUMBER;
        tu_json_number(&w->document, node, &step.number, NULL);
    } else if (n->kind == TU_JSON_BOOLEAN) {
        step.mark = TU_MARK_FLAG;
        step.number = cJSON_IsTrue(n->item);
    }
    return w->visit(w->context, &step);
}

tu_status tu_shop_walk(const tu_shop *shop, tu_shop_visit *visit, void *context, tu_error *error)
{
    walk w = {.shop = shop, .visit = visit, .context = context};
    tu_status status = tu_json_read(&w.document, shop->name, 1, shop->text, shop->length, error);
    if (!status && !visit_inside(&w, 0, &tu_shop_root_form, false))
        status = tu_fail(error, TU_SYSTEM_MEMORY, shop->name, "no memory left to show this file");
    tu_json_close(&w.document);
    return status;
}
