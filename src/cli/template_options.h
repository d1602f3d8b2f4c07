/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_options.h - the command line of `trueup template`, read into a struct.
 */
#ifndef TU_CLI_TEMPLATE_OPTIONS_H
#define TU_CLI_TEMPLATE_OPTIONS_H

#include "cli/options.h"
#include "trueup/task_template.h"

typedef struct tu_template_options {
    tu_command_line common;
    tu_task_template_request task;
} tu_template_options;

extern const tu_syntax tu_template_syntax_table;

void tu_template_options_start(tu_template_options *options);

#endif
