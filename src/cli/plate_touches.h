/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_touches.h - the --touch arguments of `trueup plate`.
 */
#ifndef TU_CLI_PLATE_TOUCHES_H
#define TU_CLI_PLATE_TOUCHES_H

#include "cli/options.h"
#include "trueup/task_plate.h"

/* tu_plate_contact, whose positions are to be freed; numbers are noted as typed. TU_USAGE (a word
 * that is none); TU_DATA_SYNTAX, TU_DATA_RANGE (a value); TU_SYSTEM_MEMORY. */
tu_option_take tu_plate_take_touch;

#endif
