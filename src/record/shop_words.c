/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_words.c - what people type to change a shop file: kinds, "key=value" words, and where the
 * file is. The forms of shop_form.c say what a key holds, so there is one vocabulary.
 */
#include "record/shop_form.h"
#include "trueup/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const struct {
    const char *name, *path; /* path: of an entry, where there are several */
    bool named;
    const tu_shop_form *form;
    const char *example;
} kinds[] = {
    [TU_SHOP_PLATE] = {"plate", "plates", true, &tu_shop_plate_form, "thickness=9.5+-0.02"},
    [TU_SHOP_CUTTER] = {"cutter", "cutters", true, &tu_shop_cutter_form, "diameter=6+-0.01"},
    [TU_SHOP_THING] = {"thing", "table.things", true, &tu_shop_thing_form, "top=24"},
    [TU_SHOP_STOCK] = {"stock", "stock", false, &tu_shop_stock_form, "x=300"},
    [TU_SHOP_MACHINE] = {"machine", "machine", false, &tu_shop_machine_form, "step=0.01"},
    [TU_SHOP_TABLE] = {"table", "table", false, &tu_shop_table_form, "slot=G55"},
    [TU_SHOP_FILE] = {"file", "", false, &tu_shop_root_form, "unit=mm"},
};

const char *tu_shop_kind_name(tu_shop_kind kind)
{
    return kinds[kind].name;
}

bool tu_shop_kind_is_named(tu_shop_kind kind)
{
    return kinds[kind].named;
}

void tu_shop_kind_path(tu_shop_kind kind, size_t index, char *path, size_t size)
{
    if (kinds[kind].named)
        snprintf(path, size, "%s[%zu]", kinds[kind].path, index);
    else
        snprintf(path, size, "%s", kinds[kind].path);
}

tu_status tu_shop_kind_parse(const char *name, tu_shop_kind *kind, tu_error *error)
{
    const char *names[TU_SHOP_KIND_COUNT];
    char show[TU_JSON_SHOW_SIZE];
    for (int i = 0; i < TU_SHOP_KIND_COUNT; i++) {
        names[i] = kinds[i].name;
        *kind = (tu_shop_kind)i;
        if (!strcmp(name, names[i]))
            return TU_OK;
    }
    const char *nearest = tu_text_nearest(name, names, TU_SHOP_KIND_COUNT);
    return tu_fail(error, TU_USAGE, NULL,
                   "there is no %s in a shop file%s%s%s; there are plate, cutter, thing, stock, "
                   "machine, table, file",
                   tu_json_quote(show, name, strlen(name)), nearest ? ", did you mean " : "",
                   nearest ? nearest : "", nearest ? "?" : "");
}

tu_shop_place tu_shop_locate(const char *stated)
{
    static const char here[] = "shop.json";
    const char *named = getenv("TRUEUP_SHOP");
    if (stated)
        return (tu_shop_place){stated, TU_SHOP_STATED};
    if (named && *named)
        return (tu_shop_place){named, TU_SHOP_ENVIRONMENT};
    return (tu_shop_place){here, access(here, F_OK) ? TU_SHOP_NOWHERE : TU_SHOP_FOLDER};
}

/* --- A word --- */

/* Whether text is a number as JSON writes it (RFC 8259, 6): "0.5", "-3e2"; not ".5", "+3", "05". */
static bool is_json_number(const char *text)
{
    static const char digits[] = "0123456789";
    text += *text == '-';
    size_t whole = strspn(text, digits);
    if (!whole || (whole > 1 && *text == '0'))
        return false;
    text += whole;
    if (*text == '.') {
        size_t fraction = strspn(++text, digits);
        if (!fraction)
            return false;
        text += fraction;
    }
    if (*text == 'e' || *text == 'E') {
        text += 1 + (text[1] == '+' || text[1] == '-');
        size_t exponent = strspn(text, digits);
        if (!exponent)
            return false;
        text += exponent;
    }
    return *text == '\0';
}

/* A part of a value: a number as it is, else in quotes. Its length; 0 when it does not fit. */
static size_t write_part(char *out, size_t size, const char *text, size_t length, bool number)
{
    char part[sizeof(((tu_shop_edit *)0)->new_json)];
    if (length >= sizeof part || length >= size)
        return 0;
    memcpy(part, text, length);
    part[length] = '\0';
    if (!number || !is_json_number(part))
        return tu_text_to_json(out, size, part);
    memcpy(out, part, length + 1);
    return length;
}

/* "0,720" or "[0, 720]" as an array. */
static size_t write_array(char *out, size_t size, const char *text)
{
    size_t used = 0, length = strlen(text);
    if (length >= 2 && text[0] == '[' && text[length - 1] == ']') {
        text++;
        length -= 2;
    }
    const char *end = text + length;
    for (const char *at = text; at <= end; at++) {
        const char *next = memchr(at, ',', (size_t)(end - at));
        const char *stop = next ? next : end;
        while (at < stop && *at == ' ')
            at++;
        while (stop > at && stop[-1] == ' ')
            stop--;
        used += (size_t)snprintf(out + used, size - used, used ? ", " : "[");
        size_t part =
            used < size ? write_part(out + used, size - used, at, (size_t)(stop - at), true) : 0;
        if (!part || used + part + 4 > size)
            return 0;
        used += part;
        at = next ? next : end;
    }
    return used + (size_t)snprintf(out + used, size - used, "]");
}

static size_t write_value(const tu_shop_key *key, const char *text, char *out, size_t size)
{
    bool literal =
        key->kinds & TU_JSON_BOOLEAN && (!strcmp(text, "true") || !strcmp(text, "false"));
    if (key->kinds & TU_JSON_ARRAY)
        return write_array(out, size, text);
    if (literal)
        return (size_t)snprintf(out, size, "%s", text);
    return write_part(out, size, text, strlen(text), key->kinds & TU_JSON_NUMBER);
}

/* The key at the end of a path with dots, below a form. */
static tu_status find_key(const tu_shop_form *form, const char *path, const tu_shop_key **found,
                          tu_error *error)
{
    char part[TU_NAME_SIZE];
    const char *at = path;
    *found = NULL;
    while (*at) {
        size_t length = strcspn(at, ".");
        snprintf(part, sizeof part, "%.*s", (int)(length < sizeof part ? length : sizeof part - 1),
                 at);
        const tu_shop_key *key = tu_shop_find_key(form, part);
        if (!key)
            return tu_shop_fail_key(form, path, part, error);
        at += length + (at[length] == '.');
        *found = key;
        if (!(key->kinds & TU_JSON_OBJECT) || !key->form) {
            if (*at)
                return tu_fail(error, TU_DATA_SYNTAX, path, "\"%s\" holds %s: no key stands in it",
                               part, key->expected);
            break;
        }
        form = key->form;
    }
    return *found ? TU_OK : tu_fail(error, TU_USAGE, NULL, "a key is missing before the =");
}

/* Objects and lists are filled key by key, entry by entry; a list can be stated to be empty. */
static bool holds_many(const tu_shop_key *key)
{
    return key->kinds == TU_JSON_OBJECT || key->form;
}

tu_status tu_shop_edit_word(tu_shop_kind kind, const char *base, const char *word,
                            tu_shop_edit *edit, tu_error *error)
{
    char show[TU_JSON_SHOW_SIZE];
    const char *equals = strchr(word, '=');
    size_t length = equals ? (size_t)(equals - word) : 0, used = strlen(base);
    const tu_shop_key *found;
    if (!length)
        return tu_fail(error, TU_USAGE, NULL, "expected KEY=VALUE, as in %s; found %s",
                       kinds[kind].example, tu_json_quote(show, word, strlen(word)));
    if (used + 1 + length >= sizeof edit->path)
        return tu_fail(error, TU_DATA_UNKNOWN, NULL, "there is no key of such a length");
    bool out = equals[1] == '\0';
    *edit = (tu_shop_edit){.new_json = TU_SHOP_TAKE_OUT};
    memcpy(edit->path, base, used);
    if (used)
        edit->path[used++] = '.';
    memcpy(edit->path + used, word, length);
    const char *key = edit->path + used;
    tu_status status = find_key(kinds[kind].form, key, &found, error);
    if (status)
        return status;
    bool none = found->kinds == TU_JSON_ARRAY && found->form &&
                (!strcmp(equals + 1, "none") || !strcmp(equals + 1, "[]"));
    if (none)
        snprintf(edit->new_json, sizeof edit->new_json, "[]");
    else if (holds_many(found) && !out)
        return tu_fail(error, TU_DATA_SYNTAX, key,
                       "one value is not enough for it, it is %s; change what is in it",
                       found->expected);
    if (none || out || write_value(found, equals + 1, edit->new_json, sizeof edit->new_json))
        return TU_OK;
    return tu_fail(error, TU_DATA_RANGE, key, "this value is too long");
}
