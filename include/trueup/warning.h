/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * warning.h - what a person should know before trusting a result. Warnings are part of a result;
 * nothing in the library prints them.
 */
#ifndef TRUEUP_WARNING_H
#define TRUEUP_WARNING_H

#include "trueup/status.h"

#include <stddef.h>

TU_BEGIN_DECLS

enum { TU_WARNING_SIZE = 420, TU_WARNINGS_MAX = 32 };

/* A list owned by the caller, starts as {0}. The last line of a list that was full says how many
 * more came. */
typedef struct tu_warnings {
    size_t count;
    size_t left_out;
    char text[TU_WARNINGS_MAX + 1][TU_WARNING_SIZE]; /* one sentence or two each, no newline */
} tu_warnings;

/*
 * Adds a warning once: a text that stands there already is dropped; one that finds the list full is
 * counted. Cut and cleaned as by tu_fail. warnings may be NULL.
 */
void tu_warn(tu_warnings *warnings, const char *format, ...) TU_PRINTF(2, 3);

TU_END_DECLS

#endif
