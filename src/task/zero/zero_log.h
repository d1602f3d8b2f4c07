/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_log.h - touches of one series of a hit log, sorted by axis.
 */
#ifndef TU_TASK_ZERO_LOG_H
#define TU_TASK_ZERO_LOG_H

#include "task/touch_list.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>

/*
 * Adds the hits of a series to the touches of their axis, with the way the cutter moved and the
 * other horizontal coordinate. Hits of axes that the target leaves alone are passed over.
 *   path, series  the log; series NULL: the only one that it has.
 *   bore          X and Y were touched in a bore: a hit that moved in the negative direction is the
 *                 low side, in the positive the high side.
 *   warnings      hits that are marked as not to be used, and a torn last line.
 * Returns TU_OK; TU_USAGE (series NULL and the log has several); TU_DATA_UNKNOWN (no such series,
 * with the nearest); TU_DATA_MISSING (no hit to use, or a hit in a bore without its direction);
 * what reading returned.
 */
tu_status tu_zero_log_read(const char *path, const char *series, tu_target target, bool bore,
                           tu_touch_list touches[TU_AXIS_COUNT], tu_warnings *warnings,
                           tu_error *error);

#endif
