/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_options.h - the command line of `trueup rehearse`.
 */
#ifndef TU_CLI_REHEARSE_OPTIONS_H
#define TU_CLI_REHEARSE_OPTIONS_H

#include "cli/options.h"
#include "trueup/task_rehearse.h"

#include <stdbool.h>

/* What the command line says. */
typedef struct tu_rehearse_options {
    tu_command_line common;
    tu_task_rehearse_request task;
    const char *svg_path;
    tu_unit unit;
    bool json;
} tu_rehearse_options;

void tu_rehearse_options_start(tu_rehearse_options *options);

extern const tu_syntax tu_rehearse_syntax_table;

#endif
