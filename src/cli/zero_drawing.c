/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_drawing.c - the drawing of a zero as a file.
 */
#include "cli/zero_drawing.h"

tu_status tu_zero_drawing_write(const char *path, const tu_zero_result *result,
                                const tu_zero_style *style, tu_atomic_file **drawing,
                                tu_error *error)
{
    tu_atomic_file *file;
    *drawing = NULL;
    FILE *stream;
    tu_status status = tu_atomic_open(path, &file, error);
    if (status)
        return status;
    status = tu_atomic_stream(file, &stream, error);
    if (!status)
        status = tu_report_zero_svg(stream, result, style, error);
    if (status) {
        tu_atomic_abort(file);
        return status;
    }
    status = tu_atomic_commit_undoable(file, error);
    if (!status)
        *drawing = file;
    return status;
}
