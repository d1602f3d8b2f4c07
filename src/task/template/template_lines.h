/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_lines.h - lines to try a template on, and what it makes of them.
 */
#ifndef TU_TASK_TEMPLATE_LINES_H
#define TU_TASK_TEMPLATE_LINES_H

#include "trueup/task_template.h"

/* Lines with what was read of each. Starts as {0}; release with tu_template_lines_destroy. */
typedef struct tu_template_lines {
    size_t count;
    tu_template_line line[TU_TEMPLATE_LINES_MAX];
} tu_template_lines;

/* Takes the lines of the request, else those of its source. TU_USAGE for none; TU_DATA_SYNTAX for
 * what is no line of text; TU_SYSTEM_MEMORY; what the source returned. */
tu_status tu_template_lines_take(tu_template_lines *lines, const tu_task_template_request *request,
                                 tu_error *error);
void tu_template_lines_destroy(tu_template_lines *lines);

/* Reads every line as a logger would. */
void tu_template_lines_read(tu_template_lines *lines, const tu_decode_setup *setup);

#endif
