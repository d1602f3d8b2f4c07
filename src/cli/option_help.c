/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * option_help.c - the help text of a command from its table.
 */
#include "cli/options.h"

#include <string.h>

enum { HELP_WIDTH = 80, HELP_COLUMN = 28 };

size_t tu_options_format_usage(char *text, size_t size, const tu_syntax *syntax)
{
    const tu_option *operand = &syntax->operand;
    int length = 0;
    if (operand->take)
        length = snprintf(text, size, "%s%s%s%s [options]", syntax->operand_required ? "" : "[",
                          operand->argument,
                          operand->repeatable && !strchr(operand->argument, ' ') ? "..." : "",
                          syntax->operand_required ? "" : "]");
    else
        length = snprintf(text, size, "[options]");
    return length > 0 && (size_t)length < size ? (size_t)length : 0;
}

/* The number of columns of UTF-8 text: bytes that do not continue a character. */
static int columns(const char *text, size_t length)
{
    int count = 0;
    for (size_t i = 0; i < length; i++)
        count += (text[i] & 0xc0) != 0x80;
    return count;
}

void tu_options_write_wrapped(FILE *out, const char *text, int indent, int used)
{
    int column = used;
    bool line_empty = true;
    while (*text) {
        if (*text == '\n') {
            fputc('\n', out);
            column = 0;
            line_empty = true;
            text++;
            continue;
        }
        size_t length = strcspn(text, " \n");
        int width = columns(text, length);
        if (!line_empty && column + 1 + width > HELP_WIDTH) {
            fputc('\n', out);
            column = 0;
            line_empty = true;
        }
        if (line_empty)
            column += fprintf(out, "%*s", column < indent ? indent - column : 0, "");
        else
            column += fprintf(out, " ");
        fwrite(text, 1, length, out);
        column += width;
        line_empty = false;
        text += length;
        text += *text == ' ';
    }
    fputc('\n', out);
}

static void write_option(FILE *out, const tu_option *option)
{
    int used = option->argument ? fprintf(out, "  --%s %s", option->name, option->argument)
                                : fprintf(out, "  --%s", option->name);
    if (used + 2 > HELP_COLUMN) {
        fputc('\n', out);
        used = 0;
    }
    tu_options_write_wrapped(out, option->help, HELP_COLUMN, used);
}

void tu_options_write_help(FILE *out, const tu_syntax *syntax)
{
    for (size_t i = 0; i < syntax->count; i++)
        write_option(out, &syntax->options[i]);
    static const tu_option help = {.name = "help", .help = "this help"};
    write_option(out, &help);
}
