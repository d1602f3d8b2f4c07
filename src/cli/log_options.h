/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_options.h - the command line of `trueup log`, read into a struct.
 */
#ifndef TU_CLI_LOG_OPTIONS_H
#define TU_CLI_LOG_OPTIONS_H

#include "cli/options.h"
#include "trueup/task_log.h"

#include <stdbool.h>

/* What the command line said. Text lives as long as argv. */
typedef struct tu_log_options {
    tu_command_line common;
    tu_task_log_request task;
    const char *verify_path;
    bool quiet;
    bool json;
} tu_log_options;

extern const tu_syntax tu_log_syntax_table;

void tu_log_options_start(tu_log_options *options);

#endif
