/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_lines.h - sample lines from standard input, and what was read of them.
 */
#ifndef TU_CLI_TEMPLATE_LINES_H
#define TU_CLI_TEMPLATE_LINES_H

#include "trueup/task_template.h"

#include <stdio.h>

#define TU_TEMPLATE_INPUT "standard input"

/* Starts as {0}; text is to be freed. */
typedef struct tu_template_input {
    char *text;
    size_t size;
} tu_template_input;

/* The next of a tu_template_source: lines that are not blank, one of them from a terminal. context
 * is a tu_template_input. TU_SYSTEM_IO. */
tu_status tu_template_input_next(void *context, const char **text, size_t *length, tu_error *error);

/* Writes each line with what was read of it. */
void tu_template_lines_write(FILE *out, const tu_task_template_story *story, tu_unit unit);

#endif
