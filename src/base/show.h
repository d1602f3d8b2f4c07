/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * show.h - foreign text inside a message (internal; text.c).
 */
#ifndef TRUEUP_BASE_SHOW_H
#define TRUEUP_BASE_SHOW_H

#include <stddef.h>

typedef struct tu_shown {
    char text[64];
} tu_shown;

/*
 * text[0..length) as it can stand in a message: control characters and bytes that are no UTF-8 as
 * \xNN, cut at a character boundary with "..." where it is long.
 *     tu_fail(error, TU_DATA_SYNTAX, NULL, "found \"%s\"", tu_show(text, length).text);
 */
tu_shown tu_show(const char *text, size_t length);

#endif
