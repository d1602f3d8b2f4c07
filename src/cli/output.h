/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * output.h - what the commands share in writing their answers: nothing is lost silently, and an
 * answer is written whole or not at all.
 */
#ifndef TU_CLI_OUTPUT_H
#define TU_CLI_OUTPUT_H

#include "base/sheet.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stddef.h>
#include <stdio.h>

/* Writes bytes to stdout and flushes. TU_SYSTEM_IO. */
tu_status tu_output_write(const char *text, size_t length, tu_error *error);

/* Closes a stream; TU_SYSTEM_IO when anything written to it was lost (a full disk shows only now).
 */
tu_status tu_output_close(FILE *stream, const char *name, tu_error *error);

/* The head of an answer: what it rests on, and a sentence behind it ("": none). */
void tu_output_write_used(FILE *out, const char *used, const char *more);

/* "warning: ..." a line each, to stderr. */
void tu_output_write_warnings(const tu_warnings *warnings);

/* "trueup zero: --x: message" in one line; command NULL: none. Control characters in what the user
 * typed are shown as '?'. */
void tu_output_write_error(FILE *out, const char *command, const tu_error *error);

#endif
