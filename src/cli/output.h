/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * output.h - what the commands share in writing their answers: nothing is lost silently, and an
 * answer is written whole or not at all.
 */
#ifndef TU_CLI_OUTPUT_H
#define TU_CLI_OUTPUT_H

#include "trueup/status.h"
#include "trueup/warning.h"

#include <stddef.h>
#include <stdio.h>

/*
 * Text that is built in memory before any of it is shown: tu_sheet_open, write to ->stream,
 * tu_sheet_finish, use text and length, tu_sheet_destroy. Starts as {0}.
 */
typedef struct tu_sheet {
    FILE *stream;
    char *text; /* after tu_sheet_finish */
    size_t length;
} tu_sheet;

/* TU_SYSTEM_MEMORY when there is no room. */
tu_status tu_sheet_open(tu_sheet *sheet, tu_error *error);
/* Ends writing: text and length hold what was written. TU_SYSTEM_MEMORY. */
tu_status tu_sheet_finish(tu_sheet *sheet, tu_error *error);
void tu_sheet_destroy(tu_sheet *sheet);

/* Writes bytes to stdout and flushes. TU_SYSTEM_IO. */
tu_status tu_output_write(const char *text, size_t length, tu_error *error);

/* Closes a stream; TU_SYSTEM_IO when anything written to it was lost (a full disk shows only now).
 */
tu_status tu_output_close(FILE *stream, const char *name, tu_error *error);

/* "warning: ..." a line each, to stderr. */
void tu_output_write_warnings(const tu_warnings *warnings);

/* "trueup zero: --x: message" in one line; command NULL: none. Control characters in what the user
 * typed are shown as '?'. */
void tu_output_write_error(FILE *out, const char *command, const tu_error *error);

#endif
