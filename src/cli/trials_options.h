/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_options.h - the command line of `trueup trials`.
 */
#ifndef TU_CLI_TRIALS_OPTIONS_H
#define TU_CLI_TRIALS_OPTIONS_H

#include "cli/options.h"
#include "trueup/setup.h"

enum { TU_TRIALS_FILES_MAX = 64 };

/* axis: TU_AXIS_COUNT where it is to be found. Lengths NaN: not given. */
typedef struct tu_trials_options {
    tu_command_line common;
    const char *path[TU_TRIALS_FILES_MAX + 1]; /* one more for --against */
    size_t path_count;
    const char *series, *against, *by, *svg_path, *shop_path;
    int axis;
    double within_mm, step_mm, wanted_mm;
    bool warm_up, feed, json, chart, keep, despite, one_pass;
    tu_unit unit;
} tu_trials_options;

extern const tu_syntax tu_trials_syntax_table;

void tu_trials_options_start(tu_trials_options *options);
/* Contradictions and what is missing: TU_USAGE. */
tu_status tu_trials_options_check(const tu_trials_options *options, tu_error *error);

#endif
