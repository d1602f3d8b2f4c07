/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * json_tree.c - the scanned text joined with what cJSON decoded; places and paths for messages.
 */
#include "base/utf8.h"
#include "record/json_text.h"
#include "trueup/number.h"
#include "trueup/text.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * Gives every node its item. Both are in the text's order, and node numbers are the order of a walk
 * from the root downwards.
 */
static bool join(tu_json_document *document)
{
    tu_json_node *nodes = document->nodes;
    nodes[0].item = document->root;
    for (size_t i = 0; i < document->count; i++) {
        const cJSON *item = nodes[i].item ? nodes[i].item->child : NULL;
        for (size_t child = nodes[i].first; child != TU_JSON_NONE; child = nodes[child].next) {
            if (!item)
                return false;
            nodes[child].item = item;
            item = item->next;
        }
        if (item)
            return false;
    }
    return true;
}

/*
 * The text as cJSON reads it. Numbers are hidden from it: they are not taken from there, and cJSON
 * 1.7.15 fails on a decimal point under a locale whose own takes more than one byte (ps_AF).
 */
static cJSON *decode(const tu_json_document *document)
{
    char *text = malloc(document->length + 1);
    if (!text)
        return NULL;
    memcpy(text, document->text, document->length);
    for (size_t i = 0; i < document->count; i++) {
        const tu_json_node *node = &document->nodes[i];
        if (node->kind == TU_JSON_NUMBER) {
            memset(text + node->start, ' ', node->end - node->start);
            text[node->start] = '0';
        }
    }
    cJSON *root = cJSON_ParseWithLength(text, document->length);
    free(text);
    return root;
}

static tu_status check_duplicates(const tu_json_document *document, tu_error *error)
{
    const tu_json_node *nodes = document->nodes;
    for (size_t i = 1; i < document->count; i++) {
        if (nodes[nodes[i].parent].kind != TU_JSON_OBJECT)
            continue;
        size_t other = tu_json_member(document, nodes[i].parent, nodes[i].item->string);
        if (other != i)
            return tu_json_fail(document, i, NULL, error, TU_DATA_CONFLICT,
                                "this key stands twice, first on line %zu; take one out",
                                tu_json_line(document, nodes[other].key_start));
    }
    return TU_OK;
}

tu_status tu_json_read(tu_json_document *document, const char *name, size_t first_line,
                       const char *text, size_t length, tu_error *error)
{
    cJSON_Delete(document->root);
    document->root = NULL;
    document->name = name;
    document->first_line = first_line;
    document->text = text;
    document->length = length;
    tu_status status = tu_json_scan(document, error);
    if (status)
        return status;
    document->root = decode(document);
    if (!document->root) /* the text is sound, so this is the only cause left */
        return tu_fail(error, TU_SYSTEM_MEMORY, name, "no memory left to read this file");
    if (!join(document))
        return tu_fail(error, TU_DATA_SYNTAX, name, "the JSON library reads this text differently");
    return check_duplicates(document, error);
}

void tu_json_close(tu_json_document *document)
{
    cJSON_Delete(document->root);
    free(document->nodes);
    *document = (tu_json_document){0};
}

const char *tu_json_key(const tu_json_document *document, size_t node)
{
    return document->nodes[node].key_end ? document->nodes[node].item->string : NULL;
}

const char *tu_json_string(const tu_json_document *document, size_t node)
{
    return document->nodes[node].kind == TU_JSON_STRING ? document->nodes[node].item->valuestring
                                                        : NULL;
}

tu_status tu_json_number(const tu_json_document *document, size_t node, double *value,
                         tu_error *error)
{
    const tu_json_node *n = &document->nodes[node];
    char show[TU_JSON_SHOW_SIZE];
    tu_status status = tu_number_parse(document->text + n->start, n->end - n->start, value, NULL);
    if (status || !isfinite(*value)) {
        *value = NAN;
        return tu_json_fail(document, node, NULL, error, TU_DATA_RANGE,
                            "the number %s is too large to be held; write a smaller one",
                            tu_json_found(document, node, show));
    }
    return TU_OK;
}

size_t tu_json_member(const tu_json_document *document, size_t object, const char *key)
{
    const tu_json_node *nodes = document->nodes;
    if (nodes[object].kind != TU_JSON_OBJECT)
        return TU_JSON_NONE;
    size_t child = nodes[object].first;
    while (child != TU_JSON_NONE && strcmp(nodes[child].item->string, key) != 0)
        child = nodes[child].next;
    return child;
}

size_t tu_json_line(const tu_json_document *document, size_t byte)
{
    size_t line = document->first_line;
    for (size_t i = 0; i < byte && i < document->length; i++)
        line += document->text[i] == '\n';
    return line;
}

size_t tu_json_column(const tu_json_document *document, size_t byte)
{
    size_t column = 1;
    for (size_t i = 0; i < byte && i < document->length; i++)
        if (document->text[i] == '\n')
            column = 1;
        else if ((document->text[i] & 0xC0) != 0x80)
            column++;
    return column;
}

/* The name's tail where the whole is too long: a path's end says more than its start. */
static const char *short_name(const char *name, size_t room, const char **mark)
{
    size_t length = strlen(name);
    *mark = length > room ? "..." : "";
    if (length <= room)
        return name;
    const char *tail = name + length - room + 3;
    while ((*tail & 0xC0) == 0x80)
        tail++;
    return tail;
}

void tu_json_place(const tu_json_document *document, size_t byte, char place[TU_ERROR_WHERE_SIZE])
{
    const char *mark;
    const char *name = short_name(document->name, TU_ERROR_WHERE_SIZE - 50, &mark);
    snprintf(place, TU_ERROR_WHERE_SIZE, "%s%s:%zu:%zu", mark, name, tu_json_line(document, byte),
             tu_json_column(document, byte));
}

static bool is_plain_key(const char *key)
{
    for (const char *c = key; *c; c++) {
        bool plain = (*c >= 'a' && *c <= 'z') || (*c >= 'A' && *c <= 'Z') ||
                     (*c >= '0' && *c <= '9') || *c == '_';
        if (!plain)
            return false;
    }
    return *key != '\0';
}

/* Appends one step of a path. */
static void append_step(char *path, size_t size, const char *key, size_t index)
{
    char show[TU_JSON_SHOW_SIZE];
    size_t used = strlen(path);
    if (!key)
        snprintf(path + used, size - used, "[%zu]", index);
    else if (is_plain_key(key))
        snprintf(path + used, size - used, "%s%s", used ? "." : "", key);
    else
        snprintf(path + used, size - used, "[%s]", tu_json_quote(show, key, strlen(key)));
}

static void write_path(const tu_json_document *document, size_t node, char *path, size_t size)
{
    size_t chain[TU_JSON_DEPTH + 2];
    size_t depth = 0;
    path[0] = '\0';
    for (size_t n = node; n != 0 && depth < TU_JSON_DEPTH + 2; n = document->nodes[n].parent)
        chain[depth++] = n;
    while (depth > 0) {
        size_t n = chain[--depth];
        append_step(path, size, tu_json_key(document, n), document->nodes[n].index);
    }
}

tu_status tu_json_fail(const tu_json_document *document, size_t node, const char *key,
                       tu_error *error, tu_status status, const char *format, ...)
{
    const tu_json_node *n = &document->nodes[node];
    char message[TU_ERROR_MESSAGE_SIZE];
    char path[TU_JSON_PATH_SIZE];
    char where[TU_ERROR_WHERE_SIZE + TU_JSON_PATH_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    write_path(document, node, path, sizeof path);
    if (key)
        append_step(path, sizeof path, key, 0);
    /* what the reader needs first is the line and the path: the name gives way */
    size_t tail = strlen(path) + 24;
    const char *mark;
    const char *name = short_name(
        document->name, tail + 40 < TU_ERROR_WHERE_SIZE ? TU_ERROR_WHERE_SIZE - tail : 40, &mark);
    snprintf(where, sizeof where, "%s%s:%zu%s%s", mark, name,
             tu_json_line(document, n->key_end && !key ? n->key_start : n->start),
             path[0] ? ": " : "", path);
    return tu_fail(error, status, where, "%s", message);
}

const char *tu_json_quote(char show[TU_JSON_SHOW_SIZE], const char *text, size_t length)
{
    size_t used = 0;
    size_t room = TU_JSON_SHOW_SIZE - 16; /* one more character, the dots and the quote */
    show[used++] = '"';
    size_t i = 0;
    while (i < length && used < room) {
        uint32_t code = ' ';
        size_t n = tu_utf8_next(text + i, length - i, &code);
        if (tu_utf8_is_control(code)) {
            used +=
                (size_t)snprintf(show + used, TU_JSON_SHOW_SIZE - used, "\\u%04x", (unsigned)code);
            i += n;
            continue;
        }
        show[used++] = text[i++];
        while (i < length && (text[i] & 0xC0) == 0x80 && used < room + 3)
            show[used++] = text[i++];
    }
    snprintf(show + used, TU_JSON_SHOW_SIZE - used, "%s\"", i < length ? "..." : "");
    return show;
}

const char *tu_json_found(const tu_json_document *document, size_t node,
                          char show[TU_JSON_SHOW_SIZE])
{
    const tu_json_node *n = &document->nodes[node];
    if (n->kind == TU_JSON_OBJECT)
        return n->count ? "an object {...}" : "an empty object {}";
    if (n->kind == TU_JSON_ARRAY)
        return n->count ? "an array [...]" : "an empty array []";
    if (n->kind == TU_JSON_STRING)
        return tu_json_quote(show, n->item->valuestring, strlen(n->item->valuestring));
    snprintf(show, TU_JSON_SHOW_SIZE, "%.*s", (int)(n->end - n->start), document->text + n->start);
    return show;
}
