/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * status.c - how a call says that it failed.
 */
#include "trueup/status.h"

#include "base/c_locale.h"
#include "base/utf8.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* The field that the place starts with. */
static void keep_field(tu_error *error)
{
    size_t length = strcspn(error->where, "}");
    if (*error->where == '{' && error->where[length] == '}' && length < sizeof error->field)
        memcpy(error->field, error->where + 1, length - 1);
}

tu_status tu_fail(tu_error *error, tu_status status, const char *where, const char *format, ...)
{
    if (error == NULL)
        return status;
    /* Written beside the error first: where and the arguments may point into *error itself. */
    tu_error fresh = {.status = status};
    if (where != NULL)
        snprintf(fresh.where, sizeof fresh.where, "%s", where);
    tu_utf8_tidy(fresh.where);
    keep_field(&fresh);
    va_list arguments;
    va_start(arguments, format);
    tu_c_locale_format(fresh.message, sizeof fresh.message, format, arguments);
    va_end(arguments);
    *error = fresh;
    return status;
}

void tu_fail_at(tu_error *error, const char *where)
{
    if (error == NULL || *error->where)
        return;
    snprintf(error->where, sizeof error->where, "%s", where);
    keep_field(error);
}

int tu_status_exit_code(tu_status status)
{
    return (int)status / 10;
}

const char *tu_status_text(tu_status status)
{
    switch (status) {
    case TU_OK:
        return "done";
    case TU_LIMIT_EXCEEDED:
        return "a stated limit is exceeded";
    case TU_USAGE:
        return "usage";
    case TU_DATA_SYNTAX:
        return "bad data: not in the form it should have";
    case TU_DATA_RANGE:
        return "bad data: value out of range";
    case TU_DATA_UNKNOWN:
        return "bad data: unknown name";
    case TU_DATA_MISSING:
        return "bad data: something is missing";
    case TU_DATA_CONFLICT:
        return "bad data: the data contradict each other";
    case TU_SYSTEM_IO:
        return "system: reading or writing failed";
    case TU_SYSTEM_MEMORY:
        return "system: no memory";
    case TU_UNDETERMINED:
        return "no solution: what was given does not settle it";
    case TU_NUMERIC:
        return "no solution: the computation did not converge";
    }
    return "unknown status";
}
