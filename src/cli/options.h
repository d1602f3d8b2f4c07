/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * options.h - command lines from tables.
 *
 * Each command has one table of options. It drives the parser (getopt_long underneath) and the text
 * of --help, so that the two cannot drift apart. The parser never guesses: names are not
 * abbreviated, and an option that is given twice is an error unless its table says "repeatable".
 */
#ifndef TU_CLI_OPTIONS_H
#define TU_CLI_OPTIONS_H

#include "trueup/quantity.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { TU_OPTIONS_MAX = 48 }; /* in one table */

typedef struct tu_option tu_option;

/*
 * Takes one argument into the command's request. argument is NULL for a flag. error->where may stay
 * empty: the parser then puts the option's name there.
 */
typedef tu_status tu_option_take(void *request, const tu_option *option, const char *argument,
                                 tu_error *error);

/*
 * One option, or the operand.
 *   name        without the dashes; NULL for the operand.
 *   argument    the word that stands for its argument in the help; NULL: a flag.
 *   repeatable  may be given more than once.
 *   early       taken before all others, wherever it stands: --unit decides how the others read.
 *   help        a line for the help; it is wrapped to fit.
 *   take        what to do with the argument.
 *   offset      for the ready-made takes below: where in the request the value goes, by offsetof.
 */
struct tu_option {
    const char *name;
    const char *argument;
    bool repeatable;
    bool early;
    const char *help;
    tu_option_take *take;
    size_t offset;
};

/* The options of a command and its operand (take NULL: it has none). --help is always there and
 * stands in no table. */
typedef struct tu_syntax {
    const tu_option *options;
    size_t count;
    tu_option operand;
    bool operand_required;
} tu_syntax;

/* Ready-made takes, for values that need no check beyond their form. */
tu_option_take tu_option_take_flag;  /* bool: true */
tu_option_take tu_option_take_text;  /* const char *: the argument, which lives as long as argv;
                                        empty text is refused */
tu_option_take tu_option_take_unit;  /* tu_unit */
tu_option_take tu_option_take_angle; /* double, radians */

/*
 * Reads argv[1..argc) by the syntax.
 *   request  what the takes fill in.
 *   help     out: --help was met; nothing was taken then.
 * Negative numbers may follow an option ("--z -40.12"); a word that starts with "--" may only as
 * "--option=--word". After "--" everything is an operand.
 * Returns TU_OK; TU_USAGE (unknown option with the nearest name, missing argument, argument of a
 * flag, option given twice, operand too many or missing); TU_SYSTEM_MEMORY; what a take returned.
 */
tu_status tu_options_parse(const tu_syntax *syntax, int argc, char **argv, void *request,
                           bool *help, tu_error *error);

/* "TARGET [options]": what stands after the command's name in its usage line. A repeatable operand
 * is followed by dots, unless its argument has several words, which then say what may come. */
size_t tu_options_format_usage(char *text, size_t size, const tu_syntax *syntax);

/* Writes text in paragraphs ("\n\n" between them) of at most 80 columns, each line indented; the
 * first line of all continues a line that has `used` columns already. */
void tu_options_write_wrapped(FILE *out, const char *text, int indent, int used);

/* Writes a line or more for each option, and for --help. */
void tu_options_write_help(FILE *out, const tu_syntax *syntax);

#endif
