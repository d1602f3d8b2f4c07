/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_lines.c - sample lines from standard input, and what was read of them.
 */
#define _POSIX_C_SOURCE 200809L
#include "cli/template_lines.h"

#include "trueup/number.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

tu_status tu_template_input_next(void *context, const char **text, size_t *length, tu_error *error)
{
    tu_template_input *input = context;
    bool terminal = isatty(STDIN_FILENO), blank;
    if (terminal && input->text)
        return TU_OK; /* one is enough */
    if (terminal)
        fputs("Paste the line that the controller printed, then press Enter:\n", stderr);
    do {
        errno = 0;
        ssize_t got = getline(&input->text, &input->size, stdin);
        if (got < 0)
            return ferror(stdin) || errno
                       ? tu_fail(error, TU_SYSTEM_IO, TU_TEMPLATE_INPUT, "%s", strerror(errno))
                       : TU_OK;
        *length = (size_t)got;
        blank = input->text[strspn(input->text, " \t\r\n")] == '\0';
    } while (blank);
    *text = input->text;
    return TU_OK;
}

static void write_hit(FILE *out, const tu_decoded *hit, tu_unit unit)
{
    char text[TU_NUMBER_TEXT_SIZE];
    fputs("   ", out);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        tu_number_format(text, sizeof text, tu_unit_from_mm(unit, hit->position_mm[axis]),
                         unit == TU_UNIT_MM ? 4 : 5);
        fprintf(out, " %c %s %s%s", tu_axis_letter((tu_axis)axis), text, tu_unit_name(unit),
                axis < TU_AXIS_Z ? "  " : "");
    }
    if (hit->axis < TU_AXIS_COUNT)
        fprintf(out, "   moved along %c", tu_axis_letter(hit->axis));
    if (hit->direction)
        fprintf(out, "   direction %c", hit->direction > 0 ? '+' : '-');
    if (hit->has_sequence)
        fprintf(out, "   number %llu", (unsigned long long)hit->sequence);
    if (hit->device_us) {
        tu_number_format(text, sizeof text, (double)hit->device_us * 1e-6, 6);
        fprintf(out, "   time %s s", text);
    }
    if (*hit->series)
        fprintf(out, "   series %s", hit->series);
    fputc('\n', out);
}

void tu_template_lines_write(FILE *out, const tu_task_template_story *story, tu_unit unit)
{
    for (size_t i = 0; i < story->line_count; i++) {
        fprintf(out, "\n%s\n", story->line[i].text);
        if (story->line[i].read)
            write_hit(out, &story->line[i].decoded, unit);
        else
            fprintf(out, "    not read: %s\n", story->line[i].decoded.reason);
    }
}
