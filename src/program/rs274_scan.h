/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rs274_scan.h - one line of RS274/NGC under way, and who reads which part of it (internal).
 *
 * rs274_line.c finds the line and its items, rs274_word.c takes words and judges the block,
 * rs274_value.c reads numbers, parameters and expressions, rs274_operation.c calculates.
 */
#ifndef TRUEUP_PROGRAM_RS274_SCAN_H
#define TRUEUP_PROGRAM_RS274_SCAN_H

#include "trueup/rs274.h"

#include <stdbool.h>
#include <stddef.h>

enum { TU_RS274_LINE_END = -1 };

typedef struct tu_rs274_scan {
    const char *text; /* the line without its end */
    size_t length;    /* bytes, at most TU_RS274_LINE_MAX */
    size_t at;        /* the next byte to be read */
    size_t wide;      /* bytes of UTF-8 before at that start no character (in comments only) */
    size_t line;      /* from 1 */
    const double *parameters;
    tu_error *error;
} tu_rs274_scan;

/* The next character that is no blank, not yet taken, or TU_RS274_LINE_END. Blanks may stand
 * anywhere, also inside a number or a name (3.3). */
static inline int tu_rs274_peek(tu_rs274_scan *scan)
{
    while (scan->at < scan->length && (scan->text[scan->at] == ' ' || scan->text[scan->at] == '\t'))
        scan->at++;
    return scan->at < scan->length ? (unsigned char)scan->text[scan->at] : TU_RS274_LINE_END;
}

/* 0 to 25 for a letter of either case, else a number above that. */
static inline unsigned tu_rs274_letter(int character)
{
    return ((unsigned)character | 0x20U) - 'a';
}

/* The column, from 1, of the byte that is read next. */
static inline int tu_rs274_column(const tu_rs274_scan *scan)
{
    return (int)(scan->at - scan->wide) + 1;
}

typedef struct tu_rs274_place {
    char text[64];
} tu_rs274_place;

/* "line 12, column 7", for tu_fail. */
tu_rs274_place tu_rs274_place_of(const tu_rs274_scan *scan, int column);

/* Fails at the character that is read next: says what was found and that expected was expected. */
tu_status tu_rs274_fail_here(tu_rs274_scan *scan, const char *expected);

/* --- rs274_value.c --- */

/* A real value (3.3.2): number, "#" and index, expression or unary operation. Always finite. */
tu_status tu_rs274_read_value(tu_rs274_scan *scan, double *value);

/* A parameter's index, after its "#": a real value that is 1 to 5400. */
tu_status tu_rs274_read_index(tu_rs274_scan *scan, int *index);

/* Whether value is a whole number or within 0.0001 of one (3.3.2.1); *whole is that number. */
bool tu_rs274_is_whole(double value, double *whole);

/* --- rs274_operation.c --- */

/* A binary operation (3.3.2.3). apply returns NULL, or why there is no result. */
typedef struct tu_rs274_binary {
    const char *name;
    int group; /* those of group 3 bind most tightly */
    const char *(*apply)(double left, double right, double *result);
} tu_rs274_binary;

/* A unary operation (3.3.2.4); ATAN, with its two operands, is told by an apply of NULL. */
typedef struct tu_rs274_unary {
    const char *name;
    const char *(*apply)(double operand, double *result);
} tu_rs274_unary;

/* Each takes the operation's name if it comes next, else takes nothing and returns NULL. */
const tu_rs274_binary *tu_rs274_take_binary(tu_rs274_scan *scan);
const tu_rs274_unary *tu_rs274_take_unary(tu_rs274_scan *scan);

/* ATAN[ordinate]/[abscissa] in degrees, -180 to 180. NULL, or why there is no result. */
const char *tu_rs274_arc_tangent(double ordinate, double abscissa, double *result);

/* --- rs274_word.c --- */

enum { TU_RS274_GROUPS = 25 };

/* The G and M codes of a block so far, by modal group. */
typedef struct tu_rs274_codes {
    short tenths[TU_RS274_GROUPS]; /* ten times the code */
    short column[TU_RS274_GROUPS]; /* 0: no word of this group */
} tu_rs274_codes;

/* Takes the word that starts with the letter which is read next. */
tu_status tu_rs274_take_word(tu_rs274_scan *scan, tu_rs274_codes *codes, tu_rs274_block *block);

/* Judges the words of a whole block together. */
tu_status tu_rs274_check_block(const tu_rs274_scan *scan, tu_rs274_block *block);

#endif
