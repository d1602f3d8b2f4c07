/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_options.h - the command line of `trueup plate`, read into a struct.
 */
#ifndef TU_CLI_PLATE_OPTIONS_H
#define TU_CLI_PLATE_OPTIONS_H

#include "cli/options.h"
#include "task/typed_length.h"
#include "trueup/calibrate.h"

#include <stdbool.h>
#include <stddef.h>

enum { TU_PLATE_TOUCH_OPTIONS = 200 };

/*
 * What the command line said. Text lives as long as argv.
 *   touch      the --touch arguments as typed; plate_touches.c reads them.
 *   fresh      the plate of --new: walls and bore without figures.
 */
typedef struct tu_plate_options {
    tu_command_line common;
    tu_unit unit;
    const char *shop_path;
    const char *plate_name;
    const char *new_name;
    const char *walls;
    bool bore;
    bool not_turned;
    tu_quantity depth;
    tu_plate fresh;
    const char *touch[TU_PLATE_TOUCH_OPTIONS];
    size_t touch_count;
    const char *log_path;
    tu_quantity block[2];
    tu_quantity slot[2];
    bool trust_cutters;
    bool json;
    bool budget;
    bool save;
} tu_plate_options;

extern const tu_syntax tu_plate_syntax_table;

void tu_plate_options_start(tu_plate_options *options);
/* Refuses what contradicts itself or misses a part, and makes the fresh plate. TU_USAGE. */
tu_status tu_plate_options_check(tu_plate_options *options, tu_error *error);

#endif
