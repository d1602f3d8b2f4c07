/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * started.h - refusing a struct that no start function made (internal; setup.c).
 */
#ifndef TRUEUP_BASE_STARTED_H
#define TRUEUP_BASE_STARTED_H

#include "trueup/setup.h"

/* TU_DATA_MISSING; start names the function that it should have begun with. */
tu_status tu_fail_not_started(tu_error *error, const char *where, const char *start);

#endif
