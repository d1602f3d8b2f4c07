/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_options.h - the command line of `trueup zero`, read into a struct.
 */
#ifndef TU_CLI_ZERO_OPTIONS_H
#define TU_CLI_ZERO_OPTIONS_H

#include "cli/options.h"
#include "task/touch_list.h"
#include "task/typed_length.h"
#include "trueup/zero.h"

#include <stdbool.h>

/*
 * What the command line said. Text lives as long as argv.
 *   request  its target, wall, seat, depth, stock thickness, active offset, angles, baselines and
 *            job are filled in; plate, cutter, machine, stock and touches are not.
 */
typedef struct tu_zero_options {
    tu_command_line common;
    tu_zero_request request;
    tu_unit unit;
    const char *shop_path;
    const char *plate_name;
    const char *cutter_name;
    tu_touch_list touches[TU_AXIS_COUNT];
    const char
        *bed_map_path; /* with where the plate sat and where the zero is; x NaN: not stated */
    const char *map_series;
    tu_machine_plane_point plate_at, zero_at;
    const char *log_path;
    const char *series;
    const char *svg_path;
    int slot;
    bool json;
    bool budget;
    bool explain;
} tu_zero_options;

extern const tu_syntax tu_zero_syntax_table;

void tu_zero_options_start(tu_zero_options *options);
void tu_zero_options_destroy(tu_zero_options *options);

/* Refuses what contradicts itself or misses a part: TU_USAGE. */
tu_status tu_zero_options_check(const tu_zero_options *options, tu_error *error);

#endif
