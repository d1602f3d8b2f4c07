/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_list.c - a list of touches that grows, and the cutters that made them.
 */
#include "task/plate/plate_list.h"

#include <stdlib.h>

enum { TOUCHES_MAX = 20000 };

tu_status tu_plate_list_add(tu_plate_list *list, tu_calibration_touch touch, tu_error *error)
{
    if (list->count == TOUCHES_MAX)
        return tu_fail(error, TU_DATA_RANGE, "{touch}", "more than %d touches", TOUCHES_MAX);
    if (list->count == list->room) {
        size_t room = list->room > 0 ? 2 * list->room : 32;
        tu_calibration_touch *grown = realloc(list->touch, room * sizeof *grown);
        if (!grown)
            return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
        list->touch = grown;
        list->room = room;
    }
    list->touch[list->count++] = touch;
    return TU_OK;
}

tu_status tu_plate_list_cutter(tu_plate_list *list, const tu_shop *shop, const char *name,
                               const char *where, size_t *index, tu_error *error)
{
    const tu_cutter *cutter = NULL;
    tu_status status = tu_shop_find_cutter(shop, name, &cutter, error);
    if (status)
        return status;
    for (*index = 0; *index < list->cutter_count; (*index)++)
        if (list->cutter[*index] == cutter)
            return TU_OK;
    if (list->cutter_count == TU_CALIBRATION_CUTTERS)
        return tu_fail(error, TU_USAGE, where, "more than %d cutters; calibrate in two runs",
                       TU_CALIBRATION_CUTTERS);
    list->cutter[list->cutter_count++] = cutter;
    return TU_OK;
}

void tu_plate_list_destroy(tu_plate_list *list)
{
    free(list->touch);
    *list = (tu_plate_list){0};
}
