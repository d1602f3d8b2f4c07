/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command.h - what a command of the program is, and the list of them.
 *
 * To add one: write src/cli/command_NAME.c with its `const tu_command tu_command_NAME`, declare it
 * here, and add a line to the table in main.c.
 */
#ifndef TU_CLI_COMMAND_H
#define TU_CLI_COMMAND_H

#include "cli/options.h"
#include "trueup/status.h"

#include <stddef.h>

typedef struct tu_command tu_command;

/*
 *   name      as typed.
 *   summary   a few words, for `trueup --help`.
 *   about     what it does, for `trueup NAME --help`; paragraphs are parted by "\n\n".
 *   example   one or more command lines, each with its newline.
 *   syntax    its options and its operand.
 *   run       does it; argv[0] is the command's name. A failure is reported and turned into an exit
 *             code by main: run writes its answer to stdout and warnings to stderr, nothing else.
 */
struct tu_command {
    const char *name;
    const char *summary;
    const char *about;
    const char *example;
    const tu_syntax *syntax;
    tu_status (*run)(const tu_command *command, int argc, char **argv, tu_error *error);
};

/*
 * Reads the command line into request (see tu_options_parse). After --help the help was written to
 * stdout, and *help is true: the command then returns TU_OK at once.
 */
tu_status tu_command_parse(const tu_command *command, int argc, char **argv, void *request,
                           bool *help, tu_error *error);

extern const tu_command tu_command_zero;
extern const tu_command tu_command_plate;
extern const tu_command tu_command_log;
extern const tu_command tu_command_template;
extern const tu_command tu_command_plan;
extern const tu_command tu_command_rehearse;
extern const tu_command tu_command_bed;
extern const tu_command tu_command_ports;
extern const tu_command tu_command_trials;

#endif
