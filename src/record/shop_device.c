/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_device.c - what a shop file says of the device that sends touches: the steps per millimetre
 * of its counts, the templates of its lines.
 */
#include "record/shop_form.h"

#include <stdlib.h>
#include <string.h>

tu_status tu_shop_take_steps(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                             void *member)
{
    (void)key;
    const double most = 100000; /* a step of 10 nm; common practice is 40 to 4000, no source */
    char show[TU_JSON_SHOW_SIZE];
    double steps;
    tu_status status = tu_json_number(&reader->document, node, &steps, reader->error);
    if (status)
        return status;
    if (!(steps > 0 && steps <= most))
        return tu_json_fail(&reader->document, node, NULL, reader->error, TU_DATA_RANGE,
                            "the steps per millimetre lie above 0, up to %.0f; found %s", most,
                            tu_json_found(&reader->document, node, show));
    *(double *)member = steps;
    return TU_OK;
}

static tu_status take_text(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                           void *member)
{
    (void)key;
    tu_template *template = member;
    const tu_template before = *template; /* the unit may come first */
    tu_error inner = {0};
    tu_status status = tu_template_parse(tu_json_string(&reader->document, node), template, &inner);
    template->unit_stated = before.unit_stated;
    template->unit = before.unit;
    return status ? tu_json_fail(&reader->document, node, NULL, reader->error, status, "%s",
                                 inner.message)
                  : TU_OK;
}

static tu_status take_unit(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                           void *member)
{
    tu_template *template = member;
    template->unit_stated = true;
    return tu_shop_take_word(reader, node, key, &template->unit);
}

static const tu_shop_key template_keys[] = {
    {"text", true, TU_JSON_STRING, take_text, 0, 0, NULL,
     "a line template, as in \"touch x={x} y={y} z={z}\""},
    {"unit", true, TU_JSON_STRING, take_unit, 0, TU_WORDS_UNIT, NULL,
     "\"mm\" or \"in\", the unit of the lines' positions"},
};
static const tu_shop_form template_form = {"a template in braces", template_keys, 2, NULL};

/* A text alone has no unit. */
static tu_status take_template(tu_shop_reader *reader, size_t node, size_t index)
{
    const tu_json_document *document = &reader->document;
    const char *key = tu_json_key(document, node);
    char show[TU_JSON_SHOW_SIZE];
    tu_template *template = &reader->shop->templates[index];
    tu_json_kind kind = document->nodes[node].kind;
    if (kind != TU_JSON_STRING && kind != TU_JSON_OBJECT)
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_SYNTAX,
                            "expected a line template, a text in quotes, or an object with "
                            "\"text\" and \"unit\"; found %s",
                            tu_json_found(document, node, show));
    if (strlen(key) >= TU_NAME_SIZE)
        return tu_json_fail(document, node, NULL, reader->error, TU_DATA_RANGE,
                            "a template's name of more than %d bytes; shorten it",
                            TU_NAME_SIZE - 1);
    memcpy(reader->shop->template_names[index], key, strlen(key) + 1);
    return kind == TU_JSON_STRING ? take_text(reader, node, NULL, template)
                                  : tu_shop_read_form(reader, node, &template_form, template);
}

tu_status tu_shop_take_templates(tu_shop_reader *reader, size_t node, const tu_shop_key *key,
                                 void *member)
{
    (void)key, (void)member;
    const tu_json_node *nodes = reader->document.nodes;
    tu_shop *shop = reader->shop;
    size_t count = nodes[node].count, index = 0;
    if (count == 0)
        return TU_OK;
    shop->templates = calloc(count, sizeof *shop->templates);
    shop->template_names = calloc(count, sizeof *shop->template_names);
    if (!shop->templates || !shop->template_names)
        return tu_fail(reader->error, TU_SYSTEM_MEMORY, reader->document.name,
                       "no memory left to read this file");
    shop->template_count = count;
    tu_status status = TU_OK;
    for (size_t child = nodes[node].first; !status && child != TU_JSON_NONE;
         child = nodes[child].next)
        status = take_template(reader, child, index++);
    return status;
}

const tu_template *tu_shop_templates(const tu_shop *shop, size_t *count)
{
    *count = shop->template_count;
    return shop->templates;
}

const char *tu_shop_template_name_at(const tu_shop *shop, size_t index)
{
    return index < shop->template_count ? shop->template_names[index] : NULL;
}
