/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template.c - taking a template apart.
 */
#include "decode/template.h"

#include "base/show.h"
#include "trueup/text.h"

#include <string.h>

static const char *const field_names[] = {
    [TU_FIELD_X] = "x",      [TU_FIELD_Y] = "y",           [TU_FIELD_Z] = "z",
    [TU_FIELD_NUMBER] = "n", [TU_FIELD_TIME] = "t",        [TU_FIELD_AXIS] = "axis",
    [TU_FIELD_WAY] = "dir",  [TU_FIELD_SERIES] = "series", [TU_FIELD_ANY] = "_"};

#define FIELD_LIST "x y z n t axis dir series and _"

tu_field tu_template_field_named(const char *name, size_t length)
{
    for (int i = 0; i < TU_FIELD_COUNT; i++)
        if (strlen(field_names[i]) == length && memcmp(field_names[i], name, length) == 0)
            return (tu_field)i;
    return TU_FIELD_COUNT;
}

tu_field tu_template_field_at(const tu_template *template, size_t index)
{
    const char *name = template->field[index].name;
    return tu_template_field_named(name, strlen(name));
}

bool tu_template_is_clean(const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)text[i];
        unsigned char next = i + 1 < length ? (unsigned char)text[i + 1] : 0;
        if ((c < 0x20 && c != '\t') || c == 0x7F || (c == 0xC2 && next >= 0x80 && next <= 0x9F))
            return false;
    }
    return tu_text_is_utf8(text, length);
}

static tu_status fail_unknown_field(const char *name, size_t length, tu_error *error)
{
    char word[16];
    size_t taken = length < sizeof word ? length : sizeof word - 1;
    memcpy(word, name, taken);
    word[taken] = '\0';
    /* a capital is a likelier slip than any other */
    const char *nearest = tu_text_nearest(word, field_names, TU_FIELD_COUNT);
    if (nearest)
        return tu_fail(error, TU_DATA_UNKNOWN, NULL,
                       "there is no field {%s}; did you mean {%s}? The fields are " FIELD_LIST,
                       tu_show(name, length).text, nearest);
    return tu_fail(error, TU_DATA_UNKNOWN, NULL,
                   "there is no field {%s}; the fields are " FIELD_LIST
                   ". A brace of the line itself is written twice, as {{ or }}",
                   tu_show(name, length).text);
}

static tu_status check_twice(const tu_template *template, tu_field field, tu_error *error)
{
    for (size_t i = 0; field != TU_FIELD_ANY && i < template->field_count; i++)
        if (tu_template_field_at(template, i) == field)
            return tu_fail(error, TU_DATA_CONFLICT, NULL,
                           "the field {%s} stands twice; write {_} for what is not to be read",
                           field_names[field]);
    return TU_OK;
}

/* Takes the field whose opening brace is at `open`; *at is set behind it. literal: where the text
 * in front of it starts. */
static tu_status take_field(tu_template *template, size_t literal, size_t open, size_t *at,
                            tu_error *error)
{
    const char *name = template->text + open + 1;
    size_t length = strcspn(name, "{}");
    if (name[length] != '}')
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "the brace at character %zu is not closed; a field is written {x}, and a "
                       "brace of the line itself twice, {{",
                       open + 1);
    tu_field field = tu_template_field_named(name, length);
    if (field == TU_FIELD_COUNT)
        return fail_unknown_field(name, length, error);
    tu_status status = check_twice(template, field, error);
    if (status)
        return status;
    if (template->field_count == TU_TEMPLATE_FIELDS)
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "a template has at most %d fields",
                       TU_TEMPLATE_FIELDS);
    if (template->field_count > 0 && literal == open)
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "nothing stands between the fields {%s} and {%s}, so nobody can tell where "
                       "one ends; there has to be some text",
                       template->field[template->field_count - 1].name, field_names[field]);
    size_t index = template->field_count++;
    memcpy(template->field[index].name, field_names[field], strlen(field_names[field]) + 1);
    template->field[index].before = literal;
    template->field[index].before_length = open - literal;
    *at = open + length + 2;
    return TU_OK;
}

static tu_status take_fields(tu_template *template, tu_error *error)
{
    const char *text = template->text;
    size_t literal = 0, at = 0;
    while (text[at] != '\0') {
        char c = text[at];
        if (c != '{' && c != '}') {
            at++;
        } else if (text[at + 1] == c) {
            at += 2;
        } else if (c == '}') {
            return tu_fail(error, TU_DATA_SYNTAX, NULL,
                           "the brace at character %zu closes nothing; a brace of the line itself "
                           "is written twice, }}",
                           at + 1);
        } else {
            tu_status status = take_field(template, literal, at, &at, error);
            if (status)
                return status;
            literal = at;
        }
    }
    template->tail = literal;
    template->tail_length = at - literal;
    return TU_OK;
}

static tu_status check_text(const char *text, tu_error *error)
{
    size_t length = strlen(text);
    const char *start = text + strspn(text, " \t");
    if (length >= TU_TEMPLATE_MAX)
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "a template has at most %d bytes, found %zu; write {_} for a part that does "
                       "not matter",
                       TU_TEMPLATE_MAX - 1, length);
    if (!tu_template_is_clean(text, length))
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "a template is one line of text in UTF-8, without control characters");
    if (*start == '$')
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "a line that starts with $ is read as a sentence with a checksum and never "
                       "by a template");
    if (start[0] == '{' && start[1] == '{')
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "a line that starts with a brace is read as JSON and never by a template");
    return TU_OK;
}

static tu_status check_coordinates(const tu_template *template, tu_error *error)
{
    bool there[TU_FIELD_COUNT] = {false};
    for (size_t i = 0; i < template->field_count; i++)
        there[tu_template_field_at(template, i)] = true;
    for (int i = TU_FIELD_X; i <= TU_FIELD_Z; i++)
        if (!there[i])
            return tu_fail(error, TU_DATA_MISSING, NULL,
                           "no position field {%s}; a touch is recorded with x, y and z, as in "
                           "\"touch x={x} y={y} z={z}\"",
                           field_names[i]);
    return TU_OK;
}

tu_status tu_template_parse(const char *text, tu_template *out, tu_error *error)
{
    *out = (tu_template){.field_count = 0};
    tu_status status = check_text(text, error);
    if (!status) {
        memcpy(out->text, text, strlen(text) + 1);
        status = take_fields(out, error);
    }
    if (!status)
        status = check_coordinates(out, error);
    if (status)
        *out = (tu_template){.field_count = 0};
    return status;
}
