/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rs274.h - reading RS274/NGC: text in, one checked block at a time out. Pure.
 *
 * Source: T. R. Kramer, F. M. Proctor, E. Messina, "The NIST RS274/NGC Interpreter, version 3",
 * NISTIR 6556, 2000: section 3.3 (form of a line), 3.4 (modal groups), 3.5 (G), 3.6 (M).
 *
 * Words taken: G0 G1 G4 G10 G17 G20 G21 G38.2 G54 to G59.3 G80 G90 G91 G94, M0 M2 M5 M9,
 * F L N P X Y Z, parameters and expressions. Every other word is an error that names it.
 */
#ifndef TRUEUP_RS274_H
#define TRUEUP_RS274_H

#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

enum {
    TU_RS274_PARAMETERS = 5401, /* #1 to #5400; element 0 is not used */
    TU_RS274_LINE_MAX = 256,    /* characters in a line (3.3) */
    TU_RS274_MESSAGE_SIZE = 260
};

/* The motion of a block (modal group 1), or none of its own. */
typedef enum tu_rs274_motion {
    TU_MOTION_NONE,
    TU_MOTION_RAPID,  /* G0 */
    TU_MOTION_LINEAR, /* G1 */
    TU_MOTION_PROBE,  /* G38.2 */
    TU_MOTION_CANCEL  /* G80 */
} tu_rs274_motion;

/*
 * One block, its values worked out. A number that the block does not state is NaN, a code 0.
 * Values are as written: units and distance mode are the business of whoever executes.
 */
typedef struct tu_rs274_block {
    size_t line;            /* from 1 */
    bool deleted;           /* starts with "/" (block delete) */
    double number;          /* N */
    tu_rs274_motion motion; /* group 1 */
    bool dwell;             /* G4 (group 0); its seconds are p */
    bool set_offset;        /* G10 (group 0), always with L2 and P 1 to 9 */
    bool plane_xy;          /* G17 (group 2) */
    int units;              /* 20 or 21 (group 6) */
    int distance;           /* 90 or 91 (group 3) */
    bool feed_per_minute;   /* G94 (group 5) */
    int slot;               /* 1 to 9 for G54 to G59.3 (group 12) */
    bool pause;             /* M0 (group 4) */
    bool end;               /* M2 (group 4), or the closing percent sign */
    bool spindle_off;       /* M5 (group 7) */
    bool coolant_off;       /* M9 (group 8) */
    double x, y, z, f, l, p;
    int column[26];       /* where each letter's word stands, from 1; 0: absent; of several G words
                             that of group 1 or 0, else the first; of several M words the first */
    size_t setting_count; /* parameter settings "#n=value", in order of writing */
    struct {
        int index;
        double value;
    } setting[16];
    bool has_message;                    /* a comment that starts with MSG, */
    char message[TU_RS274_MESSAGE_SIZE]; /* its text, or the last comment's */
} tu_rs274_block;

/* Where reading stands; the text is the caller's and must outlive it. */
typedef struct tu_rs274_reader {
    const char *text;
    size_t length;
    size_t position;
    size_t line;
    bool percent; /* the file is delimited by percent signs */
    bool ended;   /* M2 or the closing percent sign was read: the text is whole */
} tu_rs274_reader;

tu_rs274_reader tu_rs274_start(const char *text, size_t length);

/*
 * Reads the next line that is not empty. Lines end with LF, CR or CR LF; columns count characters.
 *   parameters  TU_RS274_PARAMETERS values for "#n"; the settings of a block are not stored here:
 *               by the standard they take effect after the whole block has been read, so whoever
 *               executes the block stores them.
 *   block       out; states nothing where have is false. A deleted block is read and checked like
 *               any other, and an M2 in it does not end the text: whether it counts is for whoever
 *               executes.
 *   have        out; false at the end of the text, and after M2 or the closing percent sign. Where
 *               reader->ended is false then, the text has neither, which the standard asks for.
 *   error       where: "line 12, column 7". Reading may go on after it, with the line behind.
 * Returns TU_OK; TU_DATA_SYNTAX (malformed, unknown word, two words of one modal group, line too
 * long, unclosed comment or bracket, a file that a percent sign opens and none closes);
 * TU_DATA_RANGE (parameter outside 1 to 5400 or without a finite value, a number that is not
 * finite, square root of a negative number, division by zero, F or P below zero, L or P that G10
 * does not take).
 */
tu_status tu_rs274_next(tu_rs274_reader *reader, const double *parameters, tu_rs274_block *block,
                        bool *have, tu_error *error);

TU_END_DECLS

#endif
