/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_template.h - how to read the lines that a controller prints at a touch.
 */
#ifndef TRUEUP_TASK_TEMPLATE_H
#define TRUEUP_TASK_TEMPLATE_H

#include "trueup/decode.h"
#include "trueup/quantity.h"
#include "trueup/status.h"
#include "trueup/task.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

enum { TU_TEMPLATE_LINES_MAX = 16 };

/*
 * Where lines come from when the request holds none.
 *   name   what failures call it.
 *   next   gives one, with or without its end; *text stays until the next call; NULL: no more.
 */
typedef struct tu_template_source {
    const char *name;
    void *context;
    tu_status (*next)(void *context, const char **text, size_t *length, tu_error *error);
} tu_template_source;

/*
 * Texts are borrowed; NULL: not stated.
 *   line      the first one gives the template, the others are read by it.
 *   more      asked for lines, after all else was checked, where line_count is 0.
 *   shown_mm  X, Y and Z as the controller showed them with the first line; NaN: not stated.
 *   text      a template to try instead.
 *   shop      the shop file: travel, and where save writes.
 *   save      the template's name in the shop file.
 *   unit      of the line's positions; stated, it goes into the template.
 */
typedef struct tu_task_template_request {
    const char *line[TU_TEMPLATE_LINES_MAX];
    size_t line_count;
    tu_template_source more;
    double shown_mm[TU_AXIS_COUNT];
    const char *text, *shop, *save;
    tu_unit unit;
    tu_typed_unit typed;
} tu_task_template_request;

/* A line without its end; decoded has the hit, or why it was not read. */
typedef struct tu_template_line {
    char *text;
    bool read;
    tu_decoded decoded;
} tu_template_line;

/*
 *   found      the template.
 *   line       those of the request or its source, in their order.
 *   shop_unit  of bare numbers in the shop file; mm without one.
 *   warnings   of the shop file's other templates.
 */
typedef struct tu_task_template_story {
    const tu_template *found;
    const tu_template_line *line;
    size_t line_count;
    tu_unit shop_unit;
    tu_warnings *warnings;
    struct tu_template_run *run;
} tu_task_template_story;

/* Nothing stated. */
tu_task_template_request tu_task_template_request_start(void);

/*
 * Works the template out, or takes it apart; reads the lines by it; saves it.
 *   story  out: to be given to tu_task_template_end in every case.
 * Returns TU_OK; TU_USAGE for what contradicts itself or misses a part; TU_DATA_SYNTAX for what is
 * no line of text, or where the first line is not read; TU_DATA_CONFLICT where the shop file has
 * another template of that name; as tu_template_parse, tu_template_work_out, tu_shop_read and
 * tu_shop_write_edits; what the source returned.
 */
tu_status tu_task_template(const tu_task_template_request *request, tu_task_template_story *story,
                           tu_error *error);

void tu_task_template_end(tu_task_template_story *story);

TU_END_DECLS

#endif
