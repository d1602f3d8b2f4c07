/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * warning.c - what a person should know before trusting a result.
 */
#include "trueup/warning.h"

#include "base/c_locale.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void tu_warn(tu_warnings *warnings, const char *format, ...)
{
    if (warnings == NULL)
        return;
    char text[TU_WARNING_SIZE];
    va_list arguments;
    va_start(arguments, format);
    tu_c_locale_format(text, sizeof text, format, arguments);
    va_end(arguments);
    for (size_t i = 0; i < warnings->count; i++)
        if (strcmp(warnings->text[i], text) == 0)
            return;
    if (warnings->count < TU_WARNINGS_MAX) {
        memcpy(warnings->text[warnings->count++], text, sizeof text);
        return;
    }
    warnings->count = TU_WARNINGS_MAX + 1;
    snprintf(warnings->text[TU_WARNINGS_MAX], sizeof text,
             "and %zu more, for which there was no room.", ++warnings->left_out);
}
