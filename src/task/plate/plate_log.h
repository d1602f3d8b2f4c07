/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_log.h - touches of a calibration out of a series of a hit log.
 */
#ifndef TU_TASK_PLATE_LOG_H
#define TU_TASK_PLATE_LOG_H

#include "task/plate/plate_list.h"

/*
 * Adds the hits of a series as touches like `touch`; in a bore the way that each hit moved tells
 * its side. A hit that moved along another axis, or the other way than this surface allows, is
 * refused: it is not what the touch says.
 *   where  stands in messages.
 */
tu_status tu_plate_log_read(tu_plate_list *to, const char *path, const char *series,
                            const tu_plate *plate, tu_calibration_touch touch, const char *where,
                            tu_error *error);

#endif
