/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_drawing.c - the drawing of a zero as a file.
 */
#include "cli/zero_drawing.h"

#include "cli/output.h"

#include <errno.h>
#include <string.h>

tu_status tu_zero_drawing_write(const char *path, const tu_zero_result *result,
                                const tu_zero_style *style, tu_error *error)
{
    FILE *file = fopen(path, "w");
    if (!file)
        return tu_fail(error, TU_SYSTEM_IO, path, "cannot be written: %s", strerror(errno));
    tu_status status = tu_report_zero_svg(file, result, style, error);
    tu_status closed = tu_output_close(file, path, status ? NULL : error);
    return status ? status : closed;
}
