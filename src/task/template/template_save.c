/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_save.c - a template into the shop file.
 */
#include "task/template/template_save.h"

#include "trueup/text.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* The index of the template of this name; the count when there is none. */
static size_t find(const tu_shop *shop, const char *name)
{
    size_t index = 0;
    const char *there;
    while ((there = tu_shop_template_name_at(shop, index)) != NULL && strcmp(there, name) != 0)
        index++;
    return index;
}

/* The template as a JSON value: its text, or an object that holds the unit too. */
static size_t write_value(char *out, size_t size, const tu_template *template)
{
    char text[2 * TU_TEMPLATE_MAX + 3];
    if (!tu_text_to_json(text, sizeof text, template->text))
        return 0;
    int length = template->unit_stated ? snprintf(out, size, "{\"text\": %s, \"unit\": \"%s\"}",
                                                  text, tu_unit_name(template->unit))
                                       : snprintf(out, size, "%s", text);
    return length > 0 && (size_t)length < size ? (size_t)length : 0;
}

static tu_status fail_taken(const char *path, const tu_template *there, const tu_template *new,
                            tu_error *error)
{
    const char *unit = there->unit_stated ? tu_unit_name(there->unit) : "no unit";
    if (strcmp(there->text, new->text) == 0)
        return tu_fail(error, TU_DATA_CONFLICT, "{save}",
                       "%s has the same template of that name with %s; use another name, or take "
                       "that one out first",
                       path, unit);
    return tu_fail(error, TU_DATA_CONFLICT, "{save}",
                   "%s has another template of that name already, \"%s\"; use another name, or "
                   "take that one out first",
                   path, there->text);
}

static bool is_same(const tu_template *a, const tu_template *b)
{
    return strcmp(a->text, b->text) == 0 && a->unit_stated == b->unit_stated &&
           (!a->unit_stated || a->unit == b->unit);
}

tu_status tu_template_save(const tu_shop *shop, const char *path, const char *name,
                           const tu_template *template, tu_error *error)
{
    tu_shop_edit edit = {{0}, {0}};
    size_t count, index = find(shop, name);
    const tu_template *templates = tu_shop_templates(shop, &count);
    if (index < count)
        return is_same(&templates[index], template)
                   ? TU_OK
                   : fail_taken(path, &templates[index], template, error);
    size_t length = write_value(edit.new_json, sizeof edit.new_json, template);
    snprintf(edit.path, sizeof edit.path, "templates.%s", name);
    tu_status status =
        length > 0 ? tu_shop_write_edits(shop, path, &edit, 1, error) : TU_DATA_RANGE;
    return length > 0 ? status
                      : tu_fail(error, TU_DATA_RANGE, "{save}",
                                "the template is too long to be saved; write {_} for a part that "
                                "does not matter");
}
