/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * c_locale.c - the C library's conversions without the user's locale.
 */
#include "base/c_locale.h"

#include "base/utf8.h"

#include <stdio.h>

bool tu_c_locale_enter(tu_c_locale *locale)
{
    locale->c = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (locale->c == (locale_t)0)
        return false;
    locale->before = uselocale(locale->c);
    return true;
}

void tu_c_locale_leave(tu_c_locale *locale)
{
    uselocale(locale->before);
    freelocale(locale->c);
}

void tu_c_locale_format(char *text, size_t size, const char *format, va_list arguments)
{
    tu_c_locale locale;
    bool entered = tu_c_locale_enter(&locale);
    if (vsnprintf(text, size, format, arguments) < 0)
        text[0] = '\0';
    if (entered)
        tu_c_locale_leave(&locale);
    tu_utf8_tidy(text);
}
