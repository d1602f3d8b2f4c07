/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_options.h - the command line of `trueup zero`, read into a struct.
 */
#ifndef TU_CLI_ZERO_OPTIONS_H
#define TU_CLI_ZERO_OPTIONS_H

#include "cli/options.h"
#include "task/touch_list.h"
#include "trueup/task_zero.h"

#include <stdbool.h>

/* What the command line said; text lives as long as argv. touches: those that were typed. */
typedef struct tu_zero_options {
    tu_command_line common;
    tu_task_zero_request task;
    tu_touch_list touches[TU_AXIS_COUNT];
    const char *svg_path;
    bool json;
    bool budget;
    bool explain;
} tu_zero_options;

extern const tu_syntax tu_zero_syntax_table;

void tu_zero_options_start(tu_zero_options *options);
void tu_zero_options_destroy(tu_zero_options *options);

#endif
