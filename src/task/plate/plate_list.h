/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_list.h - the touches of a calibration while they are gathered, and the cutters that made
 * them.
 */
#ifndef TU_TASK_PLATE_LIST_H
#define TU_TASK_PLATE_LIST_H

#include "trueup/calibrate.h"
#include "trueup/shop.h"

#include <stddef.h>

/* Starts as {0}; owns its touches. */
typedef struct tu_plate_list {
    tu_calibration_touch *touch;
    size_t count, room;
    const tu_cutter *cutter[TU_CALIBRATION_CUTTERS]; /* in the order of their first touch */
    size_t cutter_count;
    tu_warnings warnings;
} tu_plate_list;

/* Adds a touch; TU_DATA_RANGE when there are too many, TU_SYSTEM_MEMORY. */
tu_status tu_plate_list_add(tu_plate_list *list, tu_calibration_touch touch, tu_error *error);
/*
 * The index of a cutter among those that touched; it may be new there.
 *   name   NULL: the shop file's only one.
 *   where  stands in messages.
 * TU_USAGE for more than TU_CALIBRATION_CUTTERS; as tu_shop_find_cutter.
 */
tu_status tu_plate_list_cutter(tu_plate_list *list, const tu_shop *shop, const char *name,
                               const char *where, size_t *index, tu_error *error);
void tu_plate_list_destroy(tu_plate_list *list);

#endif
