/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rs274_show.h - what the tests of the RS274/NGC reader share: reading one line, and a block
 * written back in one fixed form, so that a table can state the whole of what a line means.
 *
 * Clause numbers in these tests are those of NISTIR 6556 (2000), from memory, as is the wording of
 * its examples.
 */
#ifndef TRUEUP_TESTS_RS274_SHOW_H
#define TRUEUP_TESTS_RS274_SHOW_H

#include "trueup/rs274.h"

/*
 * The parameters of the tests: #1 = 10, #2 = 4, #3 = 15, #4 = -2.5, #5 = 0.5, #6 = 3.00005,
 * #7 = 38.2, #8 = 7000, #9 = infinity, #5061 = 101.25, #5399 = 11, #5400 = 12; all others are NaN.
 */
const double *rs274_sample_parameters(void);

/*
 * The block in this order, a space between two: "/" N G-codes M-codes X Y Z F L P, "#index=value"
 * for each setting, the comment as "(text)" or a message as "MSG(text)". Numbers as
 * tu_number_format_exact writes them. "" for a block that states nothing.
 */
typedef struct rs274_shown {
    char text[1200];
} rs274_shown;

rs274_shown rs274_show_block(const tu_rs274_block *block);

/* A line that is to be accepted, and what it means, as rs274_show_block writes it. */
typedef struct rs274_accepted {
    const char *clause;
    const char *line;
    const char *meaning;
} rs274_accepted;

/* A line that is to be rejected, in which column, and a part of what is said. */
typedef struct rs274_rejected {
    const char *clause;
    const char *line;
    int column;
    tu_status status;
    const char *said;
} rs274_rejected;

/* Each fails the test after all rows have been tried, naming those that were off. */
void rs274_check_accepted(const rs274_accepted *rows, size_t count);
void rs274_check_rejected(const rs274_rejected *rows, size_t count);

#endif
