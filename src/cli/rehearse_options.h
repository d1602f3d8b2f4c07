/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_options.h - the command line of `trueup rehearse`.
 */
#ifndef TU_CLI_REHEARSE_OPTIONS_H
#define TU_CLI_REHEARSE_OPTIONS_H

#include "cli/options.h"
#include "trueup/setup.h"

/* What the command line says. Pointers point into argv; NULL: not given. target all zero: not
 * given. */
typedef struct tu_rehearse_options {
    tu_command_line common;
    const char *program_path;
    const char *scene_path;
    const char *svg_path;
    const char *log_path;
    const char *series;
    tu_target target;
    tu_unit unit;
    double within_mm; /* NaN: not given */
    bool json;
} tu_rehearse_options;

void tu_rehearse_options_start(tu_rehearse_options *options);

extern const tu_syntax tu_rehearse_syntax_table;

/* What no single option can say: a scene is there, and no file is read and written. */
tu_status tu_rehearse_options_check(const tu_rehearse_options *options, tu_error *error);

#endif
