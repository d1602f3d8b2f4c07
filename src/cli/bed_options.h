/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_options.h - the command line of `trueup bed`, read into a struct.
 */
#ifndef TU_CLI_BED_OPTIONS_H
#define TU_CLI_BED_OPTIONS_H

#include "cli/options.h"
#include "trueup/task_bed.h"

#include <stdbool.h>

typedef struct tu_bed_options {
    tu_command_line common;
    tu_task_bed_request task;
    const char *svg_path;
    bool without_tilt;
    bool json;
} tu_bed_options;

extern const tu_syntax tu_bed_syntax_table;

void tu_bed_options_start(tu_bed_options *options);

#endif
