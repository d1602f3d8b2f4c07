/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * json.h - writing JSON for an answer, member by member, straight to a stream (internal).
 *
 * Between tu_json_begin and tu_json_finish stands the root object. A name is a member's; in an
 * array it is NULL. Nothing is checked in between: a stream remembers that a write failed, and
 * tu_json_finish tells of it. Objects have a member a line, arrays go on in theirs.
 * Source of the form: RFC 8259.
 */
#ifndef TU_REPORT_JSON_H
#define TU_REPORT_JSON_H

#include "trueup/budget.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

/* Bit i of arrays: what is open at depth i is an array. empty: nothing stands in it yet. */
typedef struct tu_json {
    FILE *out;
    int depth; /* at most 16 */
    uint32_t arrays;
    bool empty;
} tu_json;

tu_json tu_json_begin(FILE *out);
/* Ends the root object and the line. Returns TU_OK or TU_SYSTEM_IO. */
tu_status tu_json_finish(tu_json *json, tu_error *error);

/* What is opened is ended by tu_json_end, the last opened first. */
void tu_json_object(tu_json *json, const char *name);
void tu_json_array(tu_json *json, const char *name);
void tu_json_end(tu_json *json);

/* Escaped; bytes that are no UTF-8 come out as U+FFFD. */
void tu_json_text(tu_json *json, const char *name, const char *text);
/* The same, where there is none if it is empty. */
void tu_json_text_if_any(tu_json *json, const char *name, const char *text);
void tu_json_bool(tu_json *json, const char *name, bool value);
void tu_json_count(tu_json *json, const char *name, uint64_t count);

typedef struct tu_json_figure {
    const char *name;
    double value;
} tu_json_figure;
/*
 * Numbers: the shortest text that reads back as the same double, in every locale; not finite: null.
 *   TU_JSON_NUMBERS(&json, {"p", fit.p}, {"dof", fit.dof});
 */
#define TU_JSON_NUMBERS(json, ...)                                                                 \
    tu_json_numbers((json), (const tu_json_figure[]){__VA_ARGS__},                                 \
                    sizeof((const tu_json_figure[]){__VA_ARGS__}) / sizeof(tu_json_figure))
/* As above, but NaN is left out. */
#define TU_JSON_KNOWN(json, ...)                                                                   \
    tu_json_known((json), (const tu_json_figure[]){__VA_ARGS__},                                   \
                  sizeof((const tu_json_figure[]){__VA_ARGS__}) / sizeof(tu_json_figure))
/* An object of such members, from its beginning to its end. */
#define TU_JSON_OBJECT(json, name, ...)                                                            \
    (tu_json_object((json), (name)), TU_JSON_NUMBERS(json, __VA_ARGS__), tu_json_end(json))
#define TU_JSON_OBJECT_KNOWN(json, name, ...)                                                      \
    (tu_json_object((json), (name)), TU_JSON_KNOWN(json, __VA_ARGS__), tu_json_end(json))
void tu_json_numbers(tu_json *json, const tu_json_figure *figure, size_t count);
void tu_json_known(tu_json *json, const tu_json_figure *figure, size_t count);

/* --- What several answers hold --- */
/* The members of the axes: "x", "y", "z". */
extern const char *const tu_json_axis[TU_AXIS_COUNT];
/* [low, high]; left out where one of them is NaN. */
void tu_json_interval(tu_json *json, const char *name, double low, double high);
/* An array of texts, from size bytes to size bytes. */
void tu_json_texts(tu_json *json, const char *name, const char *text, size_t size, size_t count);
/* An uncertainty with its budget. */
void tu_json_uncertainty(tu_json *json, const char *name, const tu_uncertainty *uncertainty);
void tu_json_warnings(tu_json *json, const tu_warnings *warnings);

#endif
