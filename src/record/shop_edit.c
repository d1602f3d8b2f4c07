/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shop_edit.c - surgical changes of a shop file: the scanner says which bytes a value has, and only
 * those are replaced; what is added copies the spacing of its neighbours.
 */
#include "record/shop_edit.h"
#include "record/atomic_file.h"
#include "record/file_text.h"
#include "record/shop_form.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { KEY_SIZE = sizeof(((tu_shop_edit *)0)->path), SPACE_SIZE = 256, REST_SIZE = 3 * SPACE_SIZE };

/* One step of a path: a key, or an index (key empty). */
typedef struct step {
    char key[KEY_SIZE];
    size_t index;
} step;

/* The text under change. */
typedef struct draft {
    tu_json_document document;
    char *text;
    size_t length;
    const char *name;
    const tu_shop_edit *edit;
    tu_error *error;
} draft;

/* Where a change goes: a node that is there, or (node TU_JSON_NONE) a last step below parent, and
 * in it the rest of the path, which has to be made. */
typedef struct place {
    size_t parent, node;
    step last;
    const char *rest;
} place;

/* Adds the path of the change to the place of a failure, which the result's line can't show. */
static tu_status fail_edit(const draft *d, tu_status status, const char *message)
{
    char where[TU_ERROR_WHERE_SIZE + KEY_SIZE];
    snprintf(where, sizeof where, "%.*s: %s", (int)sizeof where - KEY_SIZE - 3, d->name,
             d->edit->path);
    return tu_fail(d->error, status, where, "%s", message);
}

static bool is_key_character(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

/* Reads one step and moves path behind it; false when it is malformed. */
static bool take_step(const char **path, bool first, step *out)
{
    const char *at = *path;
    *out = (step){{0}, 0};
    if (*at == '[') {
        const char *digits = ++at;
        for (; *at >= '0' && *at <= '9' && at - digits < 9; at++)
            out->index = 10 * out->index + (size_t)(*at - '0');
        if (at == digits || *at != ']')
            return false;
        *path = at + 1;
        return true;
    }
    if (!first && *at++ != '.')
        return false;
    size_t length = 0;
    for (; is_key_character(*at) && length < KEY_SIZE - 1; at++)
        out->key[length++] = *at;
    *path = at;
    return length > 0;
}

static size_t find_child(const tu_json_document *document, size_t parent, const step *s)
{
    const tu_json_node *nodes = document->nodes;
    if (s->key[0])
        return tu_json_member(document, parent, s->key);
    if (nodes[parent].kind != TU_JSON_ARRAY)
        return TU_JSON_NONE;
    size_t child = nodes[parent].first;
    while (child != TU_JSON_NONE && nodes[child].index != s->index)
        child = nodes[child].next;
    return child;
}

static tu_status find_place(const draft *d, place *found)
{
    const tu_json_node *nodes = d->document.nodes;
    const char *path = d->edit->path;
    *found = (place){TU_JSON_NONE, 0, {{0}, 0}, ""};
    if (!memchr(path, '\0', KEY_SIZE) || *path == '\0')
        return tu_fail(d->error, TU_USAGE, d->name, "the change names no place");
    for (bool first = true; *path; first = false) {
        if (found->node == TU_JSON_NONE) {
            found->rest = path;
            break;
        }
        found->parent = found->node;
        if (!take_step(&path, first, &found->last))
            return fail_edit(d, TU_USAGE, "a path looks like plates[0].walls.a.offset");
        found->node = find_child(&d->document, found->parent, &found->last);
    }
    tu_json_kind kind = nodes[found->parent].kind;
    bool fits = found->last.key[0]
                    ? kind == TU_JSON_OBJECT
                    : kind == TU_JSON_ARRAY && found->last.index <= nodes[found->parent].count;
    return fits ? TU_OK : fail_edit(d, TU_DATA_MISSING, "the file has no such place to change");
}

/* Replaces bytes [start, end) of the draft by a few pieces of text, and reads the result again. */
static tu_status splice(draft *d, size_t start, size_t end, const char *const *pieces, size_t count)
{
    size_t added = 0;
    for (size_t i = 0; i < count; i++)
        added += strlen(pieces[i]);
    size_t length = d->length - (end - start) + added;
    char *text = malloc(length + 1);
    if (!text)
        return tu_fail(d->error, TU_SYSTEM_MEMORY, d->name, "no memory left to change this file");
    memcpy(text, d->text, start);
    size_t at = start;
    for (size_t i = 0; i < count; i++) {
        memcpy(text + at, pieces[i], strlen(pieces[i]));
        at += strlen(pieces[i]);
    }
    memcpy(text + at, d->text + end, d->length - end);
    text[length] = '\0';
    free(d->text);
    d->text = text;
    d->length = length;
    return tu_json_read(&d->document, d->name, 1, text, length, d->error);
}

static bool is_space(char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static void copy_text(const draft *d, size_t start, size_t end, char out[SPACE_SIZE])
{
    size_t length = end - start < SPACE_SIZE ? end - start : 0; /* absurd spacing is not copied */
    memcpy(out, d->text + start, length);
    out[length] = '\0';
}

/* A line break and the blanks that bring the next character under the one at `at`. */
static void write_indent(const draft *d, size_t at, bool own_line, char out[SPACE_SIZE])
{
    size_t line = at, used = 0;
    while (line > 0 && d->text[line - 1] != '\n')
        line--;
    const char *end = memchr(d->text, '\n', d->length);
    if (end && end > d->text && end[-1] == '\r')
        out[used++] = '\r';
    out[used++] = '\n';
    for (size_t i = line; i < at && used < SPACE_SIZE - 4; i++) {
        char c = d->text[i];
        if (own_line && !is_space(c))
            break;
        out[used++] = c == '\t' ? '\t' : ' ';
    }
    out[used] = '\0';
}

/* Whether the file has blanks where it needs none. */
static bool is_airy(const draft *d)
{
    size_t first = d->document.nodes[0].first;
    return first == TU_JSON_NONE || is_space(d->text[d->document.nodes[first].start - 1]);
}

/* The spacing before a new member that follows others. */
static void write_gap(const draft *d, size_t parent, char out[SPACE_SIZE])
{
    const tu_json_node *p = &d->document.nodes[parent];
    const tu_json_node *last = &d->document.nodes[p->last];
    size_t end = last->key_end ? last->key_start : last->start;
    size_t start = end;
    while (start > 0 && is_space(d->text[start - 1]))
        start--;
    copy_text(d, start, end, out);
    /* a single member right behind the bracket says nothing; a long one wants its own line */
    if (p->count == 1 && start == end &&
        memchr(d->text + last->start, '\n', last->end - last->start))
        write_indent(d, end, false, out);
    else if (p->count == 1 && start == end && is_airy(d))
        snprintf(out, SPACE_SIZE, " ");
}

/* What stands between a key and its value in this object, or else where the file starts. */
static void write_colon(const draft *d, size_t parent, char out[SPACE_SIZE])
{
    const tu_json_node *nodes = d->document.nodes;
    size_t model = nodes[parent].last != TU_JSON_NONE ? nodes[parent].last : nodes[0].first;
    if (model == TU_JSON_NONE || !nodes[model].key_end)
        snprintf(out, SPACE_SIZE, ": ");
    else
        copy_text(d, nodes[model].key_end, nodes[model].start, out);
    if (!strchr(out, ':'))
        snprintf(out, SPACE_SIZE, ": ");
}

/* What stands around a value whose path goes on where the file ends: brackets and keys. Where the
 * file has a line for each key, the first array has one for each entry. */
static tu_status write_rest(const draft *d, const char *rest, const char *gap, char open[REST_SIZE],
                            char close[REST_SIZE])
{
    char brackets[KEY_SIZE] = "";
    size_t depth = 0, used = 0, lined = strchr(gap, '\n') ? 0 : KEY_SIZE;
    const char *colon = is_airy(d) ? ": " : ":";
    while (*rest) {
        step s;
        if (!take_step(&rest, false, &s))
            return fail_edit(d, TU_USAGE, "a path looks like plates[0].walls.a.offset");
        if (!s.key[0] && s.index)
            return fail_edit(d, TU_DATA_MISSING, "the file has no such place to change");
        bool line = !s.key[0] && !strchr(brackets, ']') && !lined;
        used += (size_t)snprintf(open + used, REST_SIZE - used, s.key[0] ? "{\"%s\"%s" : "[%s%s",
                                 s.key[0] ? s.key
                                 : line   ? gap
                                          : "",
                                 s.key[0] ? colon
                                 : line   ? "  "
                                          : "");
        lined = line ? depth + 1 : lined;
        brackets[depth++] = s.key[0] ? '}' : ']';
    }
    for (used = 0; depth > 0; depth--)
        used += (size_t)snprintf(close + used, REST_SIZE - used, "%s%c", depth == lined ? gap : "",
                                 brackets[depth - 1]);
    return TU_OK;
}

static tu_status add_value(draft *d, const place *at, const char *value)
{
    const tu_json_node *p = &d->document.nodes[at->parent];
    char gap[SPACE_SIZE] = "", colon[SPACE_SIZE] = "", key[KEY_SIZE + 3] = "";
    char open[REST_SIZE] = "", close[REST_SIZE] = "";
    if (at->last.key[0]) {
        snprintf(key, sizeof key, "\"%s\"", at->last.key);
        write_colon(d, at->parent, colon);
    }
    bool follows = p->count > 0;
    bool lines = !follows && memchr(d->text + p->start, '\n', p->end - p->start);
    size_t where = follows ? d->document.nodes[p->last].end : p->start + 1;
    if (follows)
        write_gap(d, at->parent, gap);
    else if (lines)
        write_indent(d, p->start, true, gap);
    tu_status status = *at->rest ? write_rest(d, at->rest, gap, open, close) : TU_OK;
    const char *const pieces[] = {
        follows ? "," : "", gap, lines ? "  " : "", key, colon, open, value, close};
    return status ? status : splice(d, where, where, pieces, sizeof pieces / sizeof pieces[0]);
}

/* Takes a value out, with its key and the comma that parted it from a neighbour. */
static tu_status take_out(draft *d, size_t node)
{
    const tu_json_node *nodes = d->document.nodes, *n = &nodes[node], *p = &nodes[n->parent];
    if (p->count == 1)
        return splice(d, p->start + 1, p->end - 1, NULL, 0);
    if (n->next != TU_JSON_NONE) {
        const tu_json_node *next = &nodes[n->next];
        return splice(d, n->key_end ? n->key_start : n->start,
                      next->key_end ? next->key_start : next->start, NULL, 0);
    }
    size_t before = p->first;
    while (nodes[before].next != node)
        before = nodes[before].next;
    return splice(d, nodes[before].end, n->end, NULL, 0);
}

/* The new value without blanks around it, if it is one JSON value. */
static tu_status check_value(const draft *d, char value[sizeof d->edit->new_json])
{
    const char *json = d->edit->new_json;
    const char *end = memchr(json, '\0', sizeof d->edit->new_json);
    tu_json_document document = {.name = "the new value",
                                 .text = json,
                                 .length = end ? (size_t)(end - json) : 0,
                                 .first_line = 1};
    tu_error inner = {0};
    tu_status status = tu_json_scan(&document, &inner);
    if (!status) {
        size_t length = document.nodes[0].end - document.nodes[0].start;
        memcpy(value, json + document.nodes[0].start, length);
        value[length] = '\0';
    } else {
        char message[TU_ERROR_MESSAGE_SIZE + 40];
        snprintf(message, sizeof message, "the new value can't be used: %s", inner.message);
        fail_edit(d, status, message);
    }
    tu_json_close(&document);
    return status;
}

static tu_status apply(draft *d)
{
    char value[sizeof d->edit->new_json];
    place at;
    bool out = !strncmp(d->edit->new_json, TU_SHOP_TAKE_OUT, sizeof TU_SHOP_TAKE_OUT);
    tu_status status = out ? TU_OK : check_value(d, value);
    if (!status)
        status = find_place(d, &at);
    if (status)
        return status;
    if (out)
        return at.node == TU_JSON_NONE
                   ? fail_edit(d, TU_DATA_MISSING, "the file has no such place to change")
                   : take_out(d, at.node);
    if (at.node == TU_JSON_NONE)
        return add_value(d, &at, value);
    const tu_json_node *node = &d->document.nodes[at.node];
    return splice(d, node->start, node->end, (const char *[]){value}, 1);
}

/* What was changed must still be a shop file, or still a draft of one. */
static tu_status check_result(const draft *d, bool partial)
{
    tu_shop *result;
    tu_error inner = {0};
    tu_status status = (partial ? tu_shop_parse_part : tu_shop_parse)(d->name, d->text, d->length,
                                                                      &result, &inner);
    tu_shop_destroy(result);
    return status ? tu_fail(d->error, status, inner.where, "%s%s",
                            partial ? "" : "the change was not made: ", inner.message)
                  : TU_OK;
}

tu_status tu_shop_edit_text(const tu_shop *shop, const tu_shop_edit *edits, size_t count,
                            char **text, size_t *length, tu_error *error)
{
    draft d = {.name = shop->name, .error = error};
    *text = NULL;
    *length = 0;
    d.text = malloc(shop->length + 1);
    if (!d.text)
        return tu_fail(error, TU_SYSTEM_MEMORY, shop->name, "no memory left to change this file");
    memcpy(d.text, shop->text, shop->length + 1);
    d.length = shop->length;
    tu_status status = tu_json_read(&d.document, d.name, 1, d.text, d.length, error);
    for (size_t i = 0; !status && i < count; i++) {
        d.edit = &edits[i];
        status = apply(&d);
    }
    if (!status)
        status = check_result(&d, shop->partial);
    tu_json_close(&d.document);
    if (status) {
        free(d.text);
        return status;
    }
    *text = d.text;
    *length = d.length;
    return TU_OK;
}

static tu_status check_unchanged(const tu_shop *shop, const char *path, tu_error *error)
{
    char *text;
    size_t length;
    tu_status status = tu_file_text_read(path, TU_SHOP_TEXT_MAX, &text, &length, error);
    if (status)
        return status;
    bool same = length == shop->length && !memcmp(text, shop->text, length);
    free(text);
    return same ? TU_OK
                : tu_fail(error, TU_DATA_CONFLICT, path,
                          "another program changed this file meanwhile; nothing was written, run "
                          "the command again");
}

tu_status tu_shop_write_edits(const tu_shop *shop, const char *path, const tu_shop_edit *edits,
                              size_t count, tu_error *error)
{
    tu_atomic_file *file = NULL;
    char *text = NULL;
    size_t length;
    tu_status status = tu_shop_edit_text(shop, edits, count, &text, &length, error);
    if (!status)
        status = tu_atomic_open(path, &file, error);
    if (!status)
        status = tu_atomic_lock(file, error);
    if (!status)
        status = tu_atomic_write(file, text, length, error);
    if (!status)
        status = check_unchanged(shop, path, error);
    free(text);
    if (status) {
        tu_atomic_abort(file);
        return status;
    }
    return tu_atomic_commit(file, error);
}

tu_status tu_shop_write_new(const char *path, const char *text, size_t length, tu_error *error)
{
    tu_atomic_file *file = NULL;
    tu_shop *shop;
    tu_status status = tu_shop_parse(path, text, length, &shop, error);
    tu_shop_destroy(shop);
    if (!status)
        status = tu_atomic_open(path, &file, error);
    if (!status)
        status = tu_atomic_write(file, text, length, error);
    if (status) {
        tu_atomic_abort(file);
        return status;
    }
    return tu_atomic_commit_new(file, error);
}
