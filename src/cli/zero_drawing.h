/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_drawing.h - the drawing of a zero as a file.
 */
#ifndef TU_CLI_ZERO_DRAWING_H
#define TU_CLI_ZERO_DRAWING_H

#include "record/atomic_file.h"
#include "trueup/report.h"
#include "trueup/status.h"
#include "trueup/zero.h"

/*
 * Writes the drawing to path in one step: on failure the file is as it was.
 *   drawing  out: to be given to tu_atomic_keep, or to tu_atomic_undo where the answer that goes
 *            with it cannot be written; NULL on failure.
 * TU_SYSTEM_IO, TU_SYSTEM_MEMORY.
 */
tu_status tu_zero_drawing_write(const char *path, const tu_zero_result *result,
                                const tu_zero_style *style, tu_atomic_file **drawing,
                                tu_error *error);

#endif
