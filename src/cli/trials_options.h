/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_options.h - the command line of `trueup trials`.
 */
#ifndef TU_CLI_TRIALS_OPTIONS_H
#define TU_CLI_TRIALS_OPTIONS_H

#include "cli/options.h"
#include "trueup/task_trials.h"

typedef struct tu_trials_options {
    tu_command_line common;
    tu_task_trials_request task;
    const char *svg_path;
    bool chart, json;
} tu_trials_options;

extern const tu_syntax tu_trials_syntax_table;

void tu_trials_options_start(tu_trials_options *options);

#endif
