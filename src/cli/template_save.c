/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_save.c - a template into the shop file.
 */
#include "cli/template_save.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* A text that holds no control character but the tab, as a JSON string; 0: it does not fit. */
static size_t write_json_text(char *out, size_t size, const char *text)
{
    size_t used = 0;
    out[used++] = '"';
    for (; *text; text++) {
        if (used + 4 > size)
            return 0;
        if (*text == '"' || *text == '\\' || *text == '\t')
            out[used++] = '\\';
        out[used++] = *text == '\t' ? 't' : *text;
    }
    out[used++] = '"';
    out[used] = '\0';
    return used;
}

/* The index of the template of this name; the count when there is none. */
static size_t find(const tu_shop *shop, const char *name)
{
    size_t index = 0;
    const char *there;
    while ((there = tu_shop_template_name_at(shop, index)) != NULL && strcmp(there, name) != 0)
        index++;
    return index;
}

tu_status tu_template_save(const tu_shop *shop, const char *path, const char *name,
                           const char *text, tu_error *error)
{
    tu_shop_edit edit = {{0}, {0}};
    size_t count, index = find(shop, name);
    const tu_template *templates = tu_shop_templates(shop, &count);
    if (index < count && strcmp(templates[index].text, text) == 0)
        return TU_OK;
    if (index < count)
        return tu_fail(error, TU_DATA_CONFLICT, "--save",
                       "%s has another template of that name already, \"%s\"; use another name, or "
                       "take that one out first",
                       path, templates[index].text);
    size_t length = write_json_text(edit.new_json, sizeof edit.new_json, text);
    snprintf(edit.path, sizeof edit.path, "templates.%s", name);
    tu_status status =
        length > 0 ? tu_shop_write_edits(shop, path, &edit, 1, error) : TU_DATA_RANGE;
    if (status == TU_DATA_MISSING && count == 0) {
        /* the file has no templates at all yet */
        char value[sizeof edit.new_json];
        memcpy(value, edit.new_json, sizeof value);
        int whole = snprintf(edit.new_json, sizeof edit.new_json, "{\"%s\": %.*s}", name,
                             (int)length, value);
        snprintf(edit.path, sizeof edit.path, "templates");
        length = whole > 0 && (size_t)whole < sizeof edit.new_json ? (size_t)whole : 0;
        status = length > 0 ? tu_shop_write_edits(shop, path, &edit, 1, error) : TU_DATA_RANGE;
    }
    return length > 0 ? status
                      : tu_fail(error, TU_DATA_RANGE, "--save",
                                "the template is too long to be saved; write {_} for a part that "
                                "does not matter");
}
