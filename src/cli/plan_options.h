/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_options.h - the command line of `trueup plan`, read into a struct.
 */
#ifndef TU_CLI_PLAN_OPTIONS_H
#define TU_CLI_PLAN_OPTIONS_H

#include "cli/options.h"
#include "trueup/task_plan.h"

#include <stdbool.h>

/* What the command line said; text lives as long as argv. */
typedef struct tu_plan_options {
    tu_command_line common;
    tu_task_plan_request task;
    const char *out_path;
    bool json;
} tu_plan_options;

extern const tu_syntax tu_plan_syntax_table;

void tu_plan_options_start(tu_plan_options *options);
/* Refuses options that are not for what is planned: TU_USAGE. */
tu_status tu_plan_options_check(const tu_plan_options *options, tu_error *error);

#endif
