/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_options.h - the command line of `trueup plate`, read into a struct.
 */
#ifndef TU_CLI_PLATE_OPTIONS_H
#define TU_CLI_PLATE_OPTIONS_H

#include "cli/options.h"
#include "trueup/task_plate.h"

#include <stdbool.h>

enum { TU_PLATE_TOUCH_OPTIONS = 200 };

/* contact: where those of task are, task.contact_count of them. */
typedef struct tu_plate_options {
    tu_command_line common;
    tu_task_plate_request task;
    tu_plate_contact contact[TU_PLATE_TOUCH_OPTIONS];
    bool json;
    bool budget;
} tu_plate_options;

extern const tu_syntax tu_plate_syntax_table;

void tu_plate_options_start(tu_plate_options *options);
void tu_plate_options_end(tu_plate_options *options);

#endif
