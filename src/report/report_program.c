/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_program.c - the RS274/NGC block that sets a work offset.
 *
 * G10 L2 Pn sets the origin of coordinate system n, given in absolute machine coordinates (NISTIR
 * 6556, 3.5.5). G21 or G20 in the same block takes effect first (table 8), so that the numbers are
 * read in the unit they were written in.
 */
#include "report/figure.h"
#include "trueup/report.h"

#include <stdio.h>

size_t tu_report_program_line(char *text, size_t size, const tu_zero_result *result,
                              const tu_zero_style *style)
{
    char line[TU_PROGRAM_LINE_SIZE + 64];
    int used = snprintf(line, sizeof line, "%s G10 L2 P%d",
                        style->unit == TU_UNIT_INCH ? "G20" : "G21", style->slot);
    int bare = used;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (result->axis[axis].asked)
            used += snprintf(line + used, sizeof line - (size_t)used, " %c%s",
                             tu_axis_letter((tu_axis)axis),
                             tu_figure_fine(style->unit, result->axis[axis].zero_mm).text);
    if (size)
        *text = '\0';
    if (used == bare || (size_t)used >= size)
        return 0;
    snprintf(text, size, "%s", line);
    return (size_t)used;
}
