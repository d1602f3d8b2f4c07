/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * output.c - answers whole or not at all, and no failure of a write unseen.
 */
#include "cli/output.h"

#include "cli/options.h"

#include <errno.h>
#include <string.h>

tu_status tu_output_write(const char *text, size_t length, tu_error *error)
{
    errno = 0;
    if (fwrite(text, 1, length, stdout) != length || fflush(stdout) != 0)
        return tu_fail(error, TU_SYSTEM_IO, "standard output", "cannot be written: %s",
                       strerror(errno ? errno : EIO));
    return TU_OK;
}

tu_status tu_output_close(FILE *stream, const char *name, tu_error *error)
{
    int lost = ferror(stream);
    errno = 0;
    if (fclose(stream) != 0 || lost)
        return tu_fail(error, TU_SYSTEM_IO, name, "cannot be written: %s",
                       strerror(errno ? errno : EIO));
    return TU_OK;
}

void tu_output_write_used(FILE *out, const char *used, const char *more)
{
    fputs("Used: ", out);
    tu_options_write_wrapped(out, used, 6, 6);
    if (*more)
        tu_options_write_wrapped(out, more, 0, 0);
    fputc('\n', out);
}

void tu_output_write_warnings(const tu_warnings *warnings)
{
    for (size_t i = 0; i < warnings->count; i++)
        fprintf(stderr, "warning: %s\n", warnings->text[i]);
}

static void write_clean(FILE *out, const char *text)
{
    for (; *text; text++)
        fputc((unsigned char)*text < 0x20 || *text == 0x7f ? '?' : *text, out);
}

void tu_output_write_error(FILE *out, const char *command, const tu_error *error)
{
    fprintf(out, "trueup%s%s: ", command ? " " : "", command ? command : "");
    if (*error->where) {
        write_clean(out, error->where);
        fputs(": ", out);
    }
    write_clean(out, error->message);
    fputc('\n', out);
}
