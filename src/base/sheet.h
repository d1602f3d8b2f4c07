/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sheet.h - text that is built in memory before any of it is shown.
 */
#ifndef TU_BASE_SHEET_H
#define TU_BASE_SHEET_H

#include "trueup/status.h"

#include <stddef.h>
#include <stdio.h>

/*
 * tu_sheet_open, write to ->stream,
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

#endif
