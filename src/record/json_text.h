/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * json_text.h - strict JSON with the place of every value in the text.
 *
 * cJSON reads leniently: it takes leading zeros, duplicate keys, bad UTF-8 and trailing text, and
 * it does not say where a value stood. A scanner walks the text first, holds it to RFC 8259 (and to
 * RFC 7493 section 2.3: no duplicate names) and notes the bytes of each key and value; cJSON then
 * supplies the decoded strings. Numbers are read from their bytes by tu_number_parse, because cJSON
 * turns 1e999 into infinity and asks the locale for the decimal point; the numbers in item are 0.
 */
#ifndef RECORD_JSON_TEXT_H
#define RECORD_JSON_TEXT_H

#include "trueup/status.h"

#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stddef.h>

enum {
    TU_JSON_DEPTH = 16,       /* arrays and objects inside each other */
    TU_JSON_MEMBERS = 256,    /* of one object: the search for duplicates is quadratic */
    TU_JSON_NUMBER_SIZE = 60, /* bytes of a number; cJSON 1.7.15 holds 63 */
    TU_JSON_PATH_SIZE = 200,
    TU_JSON_SHOW_SIZE = 80
};

#define TU_JSON_NONE ((size_t)-1)

/* Bits, so that a set of kinds is an int. */
typedef enum tu_json_kind {
    TU_JSON_NULL = 1,
    TU_JSON_BOOLEAN = 2,
    TU_JSON_NUMBER = 4,
    TU_JSON_STRING = 8,
    TU_JSON_ARRAY = 16,
    TU_JSON_OBJECT = 32
} tu_json_kind;

/* A value: its bytes, its key's bytes (with the quotes; both 0: none), its place in the tree. */
typedef struct tu_json_node {
    tu_json_kind kind;
    size_t start, end;
    size_t key_start, key_end;
    size_t parent, next, first, last; /* nodes; TU_JSON_NONE: none */
    size_t index;                     /* among its parent's children */
    size_t count;                     /* children */
    const cJSON *item;
} tu_json_node;

/* The text is borrowed and must outlive the document. Node 0 is the root. */
typedef struct tu_json_document {
    const char *name;
    const char *text;
    size_t length;
    size_t first_line; /* the number of the text's first line, for a line out of a file */
    tu_json_node *nodes;
    size_t count, capacity;
    cJSON *root;
} tu_json_document;

/*
 * Reads text[0..length) as one JSON value. document starts as {0}, or as one that was used and is
 * then used again; release with tu_json_close in every case.
 *   error  where: "NAME:LINE:COLUMN" for text that is not JSON, "NAME:LINE: path" for a duplicate.
 * Returns TU_OK, TU_DATA_SYNTAX, TU_DATA_CONFLICT (duplicate key), TU_SYSTEM_MEMORY.
 */
tu_status tu_json_read(tu_json_document *document, const char *name, size_t first_line,
                       const char *text, size_t length, tu_error *error);
void tu_json_close(tu_json_document *document);

/* The scanner alone: fills document->nodes without their items. Statuses as above. */
tu_status tu_json_scan(tu_json_document *document, tu_error *error);

/* The decoded key of a node (NULL: none), and the decoded text of a string. */
const char *tu_json_key(const tu_json_document *document, size_t node);
const char *tu_json_string(const tu_json_document *document, size_t node);
/* Reads a number node; TU_DATA_RANGE beyond a double (error's where is then the node's place). */
tu_status tu_json_number(const tu_json_document *document, size_t node, double *value,
                         tu_error *error);
/* The member of an object by its decoded key; TU_JSON_NONE: none. */
size_t tu_json_member(const tu_json_document *document, size_t object, const char *key);

/* The line of a byte, from 1, and its column in characters. */
size_t tu_json_line(const tu_json_document *document, size_t byte);
size_t tu_json_column(const tu_json_document *document, size_t byte);

/*
 * Fails at a node: where is "NAME:LINE: path", or of the missing member `key` when key is given.
 * A name too long for the space is cut at its front.
 */
tu_status tu_json_fail(const tu_json_document *document, size_t node, const char *key,
                       tu_error *error, tu_status status, const char *format, ...) TU_PRINTF(6, 7);

/* Writes text into show in double quotes, cut where long, control characters escaped. */
const char *tu_json_quote(char show[TU_JSON_SHOW_SIZE], const char *text, size_t length);
/* What stands at a node, for a message: a short value as it is, an array or object in words. */
const char *tu_json_found(const tu_json_document *document, size_t node,
                          char show[TU_JSON_SHOW_SIZE]);
/* "NAME:LINE:COLUMN" of a byte, for faults of the text itself. */
void tu_json_place(const tu_json_document *document, size_t byte, char place[TU_ERROR_WHERE_SIZE]);

#endif
