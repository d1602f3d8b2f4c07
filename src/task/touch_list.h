/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_list.h - the touches of one axis while they are gathered from options or a log.
 */
#ifndef TU_TASK_TOUCH_LIST_H
#define TU_TASK_TOUCH_LIST_H

#include "trueup/status.h"
#include "trueup/zero.h"

#include <stddef.h>

typedef enum tu_touch_kind {
    TU_TOUCH_SINGLE, /* on a wall or on the plate's face */
    TU_TOUCH_LOW,    /* in a bore, at the low side */
    TU_TOUCH_HIGH,
    TU_TOUCH_KINDS
} tu_touch_kind;

/* Starts as {0}; owns its memory. */
typedef struct tu_touch_list {
    tu_touch *touch[TU_TOUCH_KINDS];
    size_t count[TU_TOUCH_KINDS];
    size_t room[TU_TOUCH_KINDS];
} tu_touch_list;

/* TU_DATA_RANGE for more than TU_TOUCHES_MAX, TU_SYSTEM_MEMORY. */
tu_status tu_touch_list_add(tu_touch_list *list, tu_touch_kind kind, tu_touch touch,
                            tu_error *error);
/* The list as a request takes it; valid while the list lives and does not grow. */
tu_axis_touches tu_touch_list_view(const tu_touch_list *list);
void tu_touch_list_destroy(tu_touch_list *list);

/*
 * Reads "VALUE", "VALUE@ACROSS", "LOW:HIGH" or "LOW:HIGH@ACROSS", or several parted by commas, and
 * adds what it says.
 *   unit  of numbers that name none.
 *   axis  of the touches: its letter may stand before a number, as controllers show it.
 * Returns TU_OK; TU_DATA_SYNTAX; TU_DATA_RANGE (a tolerance, LOW not below HIGH);
 * TU_DATA_CONFLICT for a single contact beside a pair; as tu_touch_list_add. Nothing is
 * added then.
 */
tu_status tu_touch_list_parse(tu_touch_list *list, const char *text, tu_unit unit, tu_axis axis,
                              tu_error *error);
/*
 * Whether the commas in text part touches: "1,5" is one number to whoever writes decimal commas, so
 * each number must have a point and all as many decimals; those behind an at sign among themselves.
 * TU_DATA_SYNTAX.
 */
tu_status tu_touch_commas_check(const char *text, tu_error *error);

/* Steps over an axis' letter before a number; TU_DATA_SYNTAX for that of another. TU_AXIS_COUNT:
 * there is none to step over. */
tu_status tu_axis_letter_skip(const char **text, size_t *length, tu_axis axis, tu_error *error);
/* Reads a length that has no tolerance: a place, not a size; the axis' letter may stand before it.
 * NaN on failure. */
tu_status tu_place_parse(const char *text, size_t length, tu_unit unit, tu_axis axis,
                         double *place_mm, tu_error *error);
/* Reads as many places as form has, parted as they are there: "X,Y,Z", "X1,Y1:X2,Y2". */
tu_status tu_places_parse(const char *text, tu_unit unit, double *places_mm, const char *form,
                          tu_error *error);

#endif
