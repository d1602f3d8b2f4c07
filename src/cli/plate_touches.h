/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_touches.h - the --touch arguments of `trueup plate`, and their series in a hit log.
 */
#ifndef TU_CLI_PLATE_TOUCHES_H
#define TU_CLI_PLATE_TOUCHES_H

#include "cli/plate_options.h"
#include "trueup/calibrate.h"
#include "trueup/shop.h"

#include <stddef.h>

/* Starts as {0}; owns its touches. */
typedef struct tu_plate_touches {
    tu_calibration_touch *touch;
    size_t count, room;
    const tu_cutter *cutter[TU_CALIBRATION_CUTTERS]; /* in the order of their first touch */
    size_t cutter_count;
    tu_warnings warnings;
} tu_plate_touches;

/*
 * Reads every --touch.
 *   plate  for the way that a hit of the log must have moved.
 * Returns TU_OK; TU_USAGE (a word that is none); TU_DATA_SYNTAX, TU_DATA_RANGE (a value);
 * TU_DATA_UNKNOWN, TU_DATA_MISSING (cutter, series); TU_DATA_CONFLICT (a hit of another axis or the
 * other way); what reading the log returned; TU_SYSTEM_MEMORY.
 */
tu_status tu_plate_touches_read(tu_plate_touches *touches, const tu_plate_options *options,
                                const tu_shop *shop, const tu_plate *plate, tu_error *error);
void tu_plate_touches_destroy(tu_plate_touches *touches);

#endif
