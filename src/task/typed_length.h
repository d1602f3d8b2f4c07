/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * typed_length.h - lengths on a command line, and the unit of those that name none.
 */
#ifndef TU_TASK_TYPED_LENGTH_H
#define TU_TASK_TYPED_LENGTH_H

#include "trueup/quantity.h"
#include "trueup/shop.h"
#include "trueup/status.h"
#include "trueup/task.h"

#include <stdbool.h>

/* Takes note of an argument that was read without error: lengths parted by , : @ */
void tu_typed_unit_note(tu_typed_unit *typed, const char *argument);

/*
 * Refuses bare numbers where nobody said their unit and the shop file has another one: TU_USAGE.
 *   unit  what they were read in.
 *   path  of the shop file, for the message.
 */
tu_status tu_typed_unit_check(const tu_typed_unit *typed, tu_unit unit, const tu_shop *shop,
                              const char *path, tu_error *error);

/*
 * Reads a size: above 0, and where it names no unit not one that only makes sense in the other.
 * Returns TU_OK; TU_DATA_RANGE; as tu_quantity_parse. quantity is none on failure.
 */
tu_status tu_typed_size_parse(const char *argument, tu_unit unit, tu_length_use use,
                              tu_quantity *quantity, tu_error *error);

#endif
