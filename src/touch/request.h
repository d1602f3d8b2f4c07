/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * request.h - whether a request for a zero makes sense before any number is looked at.
 */
#ifndef TRUEUP_TOUCH_REQUEST_H
#define TRUEUP_TOUCH_REQUEST_H

#include "trueup/zero.h"

/* "{touches.x}", as messages name the touches of an axis. */
const char *tu_touches_field(tu_axis axis);

/* Whether the axis has touches of any kind. */
bool tu_request_asks(const tu_zero_request *request, tu_axis axis);

/* Refuses a step, a travel or a stored repeatability that cannot be: TU_DATA_RANGE. */
tu_status tu_machine_check(const tu_machine *machine, tu_error *error);

/* Refuses things that cannot be: sizes that are not finite, tolerances below zero, and the like.
 * Returns TU_OK, TU_DATA_MISSING or TU_DATA_RANGE. */
tu_status tu_request_check_things(const tu_zero_request *request, tu_error *error);

/*
 * Refuses contradictions: axes that the target does not have, a wall named at a corner, sides on a
 * plate without a bore, a baseline without X and Y, and numbers that are not finite.
 * Returns TU_OK, TU_USAGE, TU_DATA_MISSING or TU_DATA_RANGE.
 */
tu_status tu_request_check(const tu_zero_request *request, tu_error *error);

#endif
