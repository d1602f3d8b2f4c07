/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * c_locale.h - the C library's conversions without the user's locale (internal).
 *
 * strtod and printf follow LC_NUMERIC. uselocale changes it for the calling thread alone, so the
 * program's locale stays what its caller made it. glibc keeps the "C" locale in static storage:
 * nothing is allocated here.
 */
#ifndef TRUEUP_BASE_C_LOCALE_H
#define TRUEUP_BASE_C_LOCALE_H

#include <locale.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

typedef struct tu_c_locale {
    locale_t c;
    locale_t before;
} tu_c_locale;

/* Enters the C locale; false when the system refuses (nothing is then to be left). */
bool tu_c_locale_enter(tu_c_locale *locale);
void tu_c_locale_leave(tu_c_locale *locale);

/*
 * vsnprintf in the C locale. What does not fit is cut at a character boundary of UTF-8, and the
 * text is made fit for one line (tu_utf8_tidy). size is at least 1.
 */
void tu_c_locale_format(char *text, size_t size, const char *format, va_list arguments)
    __attribute__((format(printf, 3, 0)));

#endif
