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

#include "task/typed_length.h"
#include "trueup/quantity.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

enum { TU_OPTIONS_MAX = 48 }; /* in one table */

typedef struct tu_option tu_option;

/*
 * What the parser keeps of a command line: the first member of each request.
 *   given  bit k: option k of the table was met; tu_option_is_given asks by name.
 *   unit   of numbers that name none.
 */
typedef struct tu_command_line {
    uint64_t given;
    tu_unit unit;
    tu_typed_unit typed;
} tu_command_line;

/*
 * One option as it was met.
 *   argument  NULL for a flag.
 *   at        where in the request its value goes; of a list, the next place that is free.
 */
typedef struct tu_met {
    void *request;
    tu_command_line *common;
    const tu_option *option;
    const char *argument;
    void *at;
} tu_met;

/* Takes an argument into the request. error->where may stay empty: the parser then puts the
 * option's name there. */
typedef tu_status tu_option_take(const tu_met *met, tu_error *error);

/* Other options, by name and parted by spaces, and what to say to them. */
typedef struct tu_option_tie {
    const char *names;
    const char *why;
} tu_option_tie;

/* Where zero lies among the lengths that may be typed. */
typedef enum tu_option_sign { TU_ANY_SIGN, TU_ABOVE_ZERO, TU_NOT_BELOW_ZERO } tu_option_sign;

/*
 * One option, or the operand.
 *   name        without the dashes; NULL for the operand.
 *   argument    the word that stands for its argument in the help; NULL: a flag.
 *   repeatable  may be given more than once.
 *   early       taken before all others, wherever it stands: --unit decides how the others read.
 *   of_shop     of --unit: where it is not given, the unit is that of the shop file.
 *   help        a line for the help; it is wrapped to fit.
 *   take        what to do with the argument.
 *   offset, size    where in the request the value goes: TU_AT, or TU_LIST for a list, which also
 *   counter, most   sets where its count is kept and how many it holds (0: no list).
 *   whole       the least and the greatest whole number.
 *   sign        of a length or a feed.
 *   use         of a size.
 *   needs       makes sense beside that option only: WHY; "WHY: give --NAME too".
 *   excludes    makes no sense beside these: "WHY; leave out --NAME or --OWN".
 *   only_for    bits that the command gives a meaning; 0: for all.
 */
struct tu_option {
    const char *name;
    const char *argument;
    bool repeatable;
    bool early;
    bool of_shop;
    const char *help;
    tu_option_take *take;
    size_t offset, size;
    size_t counter, most;
    uint64_t whole[2];
    tu_option_sign sign;
    tu_length_use use;
    tu_option_tie needs, excludes;
    int only_for;
};

#define TU_AT(type, member) .offset = offsetof(type, member), .size = sizeof(((type *)0)->member)
#define TU_LIST(type, array, count_member, limit)                                                  \
    .offset = offsetof(type, array), .size = sizeof(((type *)0)->array[0]),                        \
    .counter = offsetof(type, count_member), .most = (limit), .repeatable = true

/* The options of a command and its operand (take NULL: it has none). --help is always there and
 * stands in no table. */
typedef struct tu_syntax {
    const tu_option *options;
    size_t count;
    tu_option operand;
    bool operand_required;
} tu_syntax;

/*
 * Ready-made kinds. The type of what they fill in stands behind each.
 */
tu_option_take tu_option_take_flag;    /* bool: true */
tu_option_take tu_option_take_text;    /* const char *: the argument, which lives as long as argv;
                                          empty text is refused */
tu_option_take tu_option_take_input;   /* const char *: a file that is read */
tu_option_take tu_option_take_output;  /* const char *: a file that is written, and so none that is
                                          read or written otherwise, nor standard output */
tu_option_take tu_option_take_series;  /* const char *: what a hit log can hold as a name */
tu_option_take tu_option_take_choice;  /* int or enum: the number, from 0, of one of the words that
                                          `argument` holds, as in "x|y|z"; capitals don't count */
tu_option_take tu_option_take_whole;   /* size_t, int or uint64_t: within `whole` */
tu_option_take tu_option_take_unit;    /* tu_unit, and that of the command line */
tu_option_take tu_option_take_angle;   /* double, radians */
tu_option_take tu_option_take_seconds; /* double: 90s, 10min, 1.5h, up to 1000h */
tu_option_take tu_option_take_feed;    /* double, mm/min */
tu_option_take tu_option_take_length;  /* double, mm: no tolerance */
tu_option_take tu_option_take_size;    /* tu_quantity: above 0, and usual for its `use` */
tu_option_take tu_option_take_places;  /* as many doubles as the form `argument` has places, mm */
tu_option_take tu_option_take_slot;    /* int: 1 for G54 */
tu_option_take tu_option_take_target;  /* tu_target */

/* Reads a feed that stands in a list. TU_DATA_SYNTAX, TU_DATA_RANGE. */
tu_status tu_feed_parse(const char *text, size_t length, tu_unit unit, double *feed_mm_per_min,
                        tu_error *error);

/* Whether the option of that name was met. */
bool tu_option_is_given(const tu_syntax *syntax, const tu_command_line *line, const char *name);

/*
 * Reads argv[1..argc) by the syntax.
 *   request  what the takes fill in; it begins with a tu_command_line.
 *   help     out: --help was met; nothing was taken then.
 * Negative numbers may follow an option ("--z -40.12"); a word that starts with "--" may only as
 * "--option=--word". After "--" everything is an operand.
 * Returns TU_OK; TU_USAGE (unknown option with the nearest name, missing argument, argument of a
 * flag, option given twice or too often, operand too many or missing, options that need or exclude
 * others, a file to read that is written, too); TU_SYSTEM_MEMORY; what a take returned.
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
