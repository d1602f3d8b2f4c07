/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_options.h - the command line of `trueup plan`, read into a struct.
 */
#ifndef TU_CLI_PLAN_OPTIONS_H
#define TU_CLI_PLAN_OPTIONS_H

#include "cli/options.h"
#include "task/typed_length.h"
#include "trueup/plan.h"

#include <stdbool.h>

/* What is planned; the values are bits, so that an option can say for which it is. */
typedef enum tu_plan_what {
    TU_PLAN_NOTHING = 0,
    TU_PLAN_CORNER = 1,
    TU_PLAN_SURFACE = 2,
    TU_PLAN_GRID = 4,
    TU_PLAN_TRIALS = 8
} tu_plan_what;

/*
 * What the command line said. Text lives as long as argv.
 *   what       and target_stated, place.target: the words before the options.
 *   place      of a corner and of trials; plate, cutter, machine are not filled in.
 *   bare       no plate: the surface conducts.
 */
typedef struct tu_plan_options {
    tu_command_line common;
    tu_plan_what what;
    bool target_stated;
    tu_plan_corner place;
    tu_plan_style style;
    tu_plan_grid grid;
    tu_rectangle keep_out[TU_KEEP_OUT_MAX];
    tu_plan_trials trials;
    const char *shop_path;
    const char *plate_name;
    const char *cutter_name;
    const char *series;
    const char *out_path;
    bool bare;
    bool json;
} tu_plan_options;

extern const tu_syntax tu_plan_syntax_table;

void tu_plan_options_start(tu_plan_options *options);
/* Refuses what contradicts itself or misses a part: TU_USAGE. */
tu_status tu_plan_options_check(tu_plan_options *options, tu_error *error);

#endif
