/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_options.h - the command line of `trueup log`, read into a struct.
 */
#ifndef TU_CLI_LOG_OPTIONS_H
#define TU_CLI_LOG_OPTIONS_H

#include "cli/options.h"
#include "trueup/decode.h"

#include <stdbool.h>
#include <stdint.h>

/*
 * What the command line said. Text lives as long as argv.
 *   axis, direction  for lines that do not say; TU_AXIS_COUNT and 0: not stated.
 *   count            touches that count, after which recording ends; 0: no end.
 *   for_s            seconds after which it ends; NaN: no end.
 */
typedef struct tu_log_options {
    tu_command_line common;
    const char *port;
    const char *frame;
    int baud;
    const char *out_path;
    const char *series;
    tu_axis axis;
    int direction;
    const char *shop_path;
    const char *template_text;
    tu_template template;
    tu_unit unit;
    uint64_t count;
    double for_s;
    const char *plan_path;
    const char *verify_path;
    bool quiet;
    bool json;
} tu_log_options;

extern const tu_syntax tu_log_syntax_table;

void tu_log_options_start(tu_log_options *options);
/* Refuses what contradicts itself or misses a part, and takes the template apart. TU_USAGE, or what
 * tu_template_parse returned. */
tu_status tu_log_options_check(tu_log_options *options, tu_error *error);

#endif
