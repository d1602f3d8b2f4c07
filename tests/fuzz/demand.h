/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * demand.h - what the fuzz targets share: a demand that ends the run at its line, and the demand
 * that each text to be shown must meet.
 */
#ifndef TRUEUP_TESTS_DEMAND_H
#define TRUEUP_TESTS_DEMAND_H

#include "trueup/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DEMAND(condition)                                                                          \
    do {                                                                                           \
        if (!(condition)) {                                                                        \
            fprintf(stderr, "%s, line %d: demand failed: %s\n", __FILE__, __LINE__, #condition);   \
            abort();                                                                               \
        }                                                                                          \
    } while (0)

/* UTF-8 without a control character: a line of its own on any terminal. May be empty. */
static inline void demand_line_of_text(const char *text)
{
    DEMAND(tu_text_is_utf8(text, strlen(text)));
    for (const char *at = text; *at != '\0'; at++)
        DEMAND((unsigned char)*at >= 0x20 && *at != 0x7F);
}

/* The same, and it says something. */
static inline void demand_words(const char *text)
{
    DEMAND(text[0] != '\0');
    demand_line_of_text(text);
}

#endif
