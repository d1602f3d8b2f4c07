/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command.h - what a command of the program is, the frame that runs each, and the list of them.
 *
 * To add one: write src/cli/command_NAME.c with its `const tu_command tu_command_NAME`, declare it
 * here, and add a line to the table in main.c.
 */
#ifndef TU_CLI_COMMAND_H
#define TU_CLI_COMMAND_H

#include "cli/options.h"
#include "record/atomic_file.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stddef.h>

typedef struct tu_command tu_command;

/* A file that is written with the answer; path NULL: none. */
typedef struct tu_output_file {
    const char *path;
    tu_text_writer *write; /* of the run */
} tu_output_file;

enum { TU_OUTPUT_FILES = 2 };

/*
 *   name      as typed.
 *   summary   a few words, for `trueup --help`.
 *   about     what it does, for `trueup NAME --help`; paragraphs are parted by "\n\n".
 *   example   one or more command lines, each with its newline.
 *   syntax    its options and its operand.
 *
 * A run is a struct of the command's own, of size bytes and zeroed, that starts with its options.
 * The frame calls these in turn; each may be NULL but work.
 *   start     fills in what the options are where none is given.
 *   work      after the options were taken: checks them, does it. What fails is reported by main.
 *   files     the files that go with the answer: they and the answer stand or fall together.
 *   answer    text or JSON, to stdout.
 *   warnings  of the result: said in the words of the command line, written to stderr.
 *   kept      what stays though the answer was lost ("; the figures were kept all the same").
 *   verdict   after the answer was shown: the exit status, and what failed beside it.
 *   end       releases what the run holds, whatever became of it.
 */
struct tu_command {
    const char *name;
    const char *summary;
    const char *about;
    const char *example;
    const tu_syntax *syntax;
    size_t size;
    void (*start)(void *run);
    tu_status (*work)(void *run, tu_error *error);
    void (*files)(const void *run, tu_output_file files[TU_OUTPUT_FILES]);
    tu_text_writer *answer;
    tu_warnings *(*warnings)(void *run);
    const char *(*kept)(const void *run);
    tu_status (*verdict)(const void *run, tu_error *error);
    void (*end)(void *run);
};

/* Runs a command; argv[0] is its name. After --help its help stands on stdout, and nothing ran. */
tu_status tu_command_run(const tu_command *command, int argc, char **argv, tu_error *error);

/* What `trueup NAME --help` prints. */
void tu_command_write_help(FILE *out, const tu_command *command);

extern const tu_command tu_command_zero;
extern const tu_command tu_command_plate;
extern const tu_command tu_command_log;
extern const tu_command tu_command_template;
extern const tu_command tu_command_plan;
extern const tu_command tu_command_rehearse;
extern const tu_command tu_command_bed;
extern const tu_command tu_command_ports;
extern const tu_command tu_command_trials;
extern const tu_command tu_command_shop;

#endif
