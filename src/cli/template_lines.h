/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_lines.h - lines to try a template on, and what it makes of them.
 */
#ifndef TU_CLI_TEMPLATE_LINES_H
#define TU_CLI_TEMPLATE_LINES_H

#include "cli/template_options.h"
#include "trueup/decode.h"

#include <stdbool.h>
#include <stdio.h>

/* Lines with what was read of each. Starts as {0}; release with tu_template_lines_destroy. */
typedef struct tu_template_lines {
    size_t count;
    struct {
        char *text; /* without its end */
        bool read;
        tu_decoded decoded; /* the hit, or why not */
    } line[TU_TEMPLATE_LINES_MAX];
} tu_template_lines;

/* Takes the lines of the command line, else of standard input (one of them from a terminal).
 * TU_USAGE for none; TU_DATA_SYNTAX for what is no line of text; TU_SYSTEM_IO; TU_SYSTEM_MEMORY. */
tu_status tu_template_lines_take(tu_template_lines *lines, const tu_template_options *options,
                                 tu_error *error);
void tu_template_lines_destroy(tu_template_lines *lines);

/* Reads every line as a logger would. */
void tu_template_lines_read(tu_template_lines *lines, const tu_decode_setup *setup);

/* Writes each line with what was read of it. */
void tu_template_lines_write(FILE *out, const tu_template_lines *lines, tu_unit unit);

#endif
