/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_options.h - the command line of `trueup template`, read into a struct.
 */
#ifndef TU_CLI_TEMPLATE_OPTIONS_H
#define TU_CLI_TEMPLATE_OPTIONS_H

#include "cli/options.h"
#include "task/typed_length.h"
#include "trueup/setup.h"

#include <stddef.h>

enum { TU_TEMPLATE_LINES_MAX = 16 };

/*
 * What the command line said. Text lives as long as argv.
 *   shown_mm   the position that the controller showed; NaN: not stated.
 *   line       the first one gives the template; none: from standard input.
 */
typedef struct tu_template_options {
    tu_command_line common;
    const char *line[TU_TEMPLATE_LINES_MAX];
    size_t line_count;
    double shown_mm[TU_AXIS_COUNT];
    const char *template_text;
    tu_unit unit;
    const char *shop_path;
    const char *save_name;
} tu_template_options;

extern const tu_syntax tu_template_syntax_table;

void tu_template_options_start(tu_template_options *options);
/* Refuses what contradicts itself or misses a part. */
tu_status tu_template_options_check(const tu_template_options *options, tu_error *error);

#endif
