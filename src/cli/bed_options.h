/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_options.h - the command line of `trueup bed`, read into a struct.
 */
#ifndef TU_CLI_BED_OPTIONS_H
#define TU_CLI_BED_OPTIONS_H

#include "cli/options.h"
#include "cli/typed_length.h"
#include "trueup/bed.h"
#include "trueup/plan.h"

#include <stdbool.h>

enum { TU_BED_FILES_MAX = 32 };

/* What the command line said. Text lives as long as argv; a length or a place that was not
 * given is NaN. */
typedef struct tu_bed_options {
    tu_command_line common;
    const char *path[TU_BED_FILES_MAX];
    size_t path_count;
    const char *series;
    const char *shop_path;
    const char *against;
    const char *svg_path;
    const char *again_path;
    const char *cutter_name;
    double active_mm[TU_AXIS_COUNT];
    int slot;
    tu_rectangle keep_out[TU_KEEP_OUT_MAX]; /* machine coordinates */
    size_t keep_outs;
    tu_bed_rectangle job;
    tu_machine_plane_point reference;
    double depth_of_cut_mm, allowance_mm, cutter_mm, step_over_mm, feed_mm_per_min;
    double overcut_mm, stock_tolerance_mm;
    double limit_mm;
    tu_machine_plane_point support[TU_BED_SUPPORTS_MAX];
    size_t supports;
    tu_unit unit;
    bool without_tilt;
    bool json;
} tu_bed_options;

extern const tu_syntax tu_bed_syntax_table;

void tu_bed_options_start(tu_bed_options *options);
/* Refuses what contradicts itself: TU_USAGE; sizes that cannot be: TU_DATA_RANGE. */
tu_status tu_bed_options_check(const tu_bed_options *options, tu_error *error);

#endif
