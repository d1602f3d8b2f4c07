/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * option_checks.h - which options go together, and which files.
 */
#ifndef TU_CLI_OPTION_CHECKS_H
#define TU_CLI_OPTION_CHECKS_H

#include "cli/options.h"

/* An option or an operand of the command line. */
typedef struct tu_found {
    const tu_option *option;
    const char *argument;
} tu_found;

/*
 * Refuses an option without the one that it needs or beside one that it excludes; a file that is
 * written and also read or written otherwise; standard input that is to be two files. TU_USAGE.
 *   list  what was met.
 */
tu_status tu_options_check(const tu_found *list, size_t count, tu_error *error);

#endif
