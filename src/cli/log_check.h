/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_check.h - `trueup log --verify`.
 */
#ifndef TU_CLI_LOG_CHECK_H
#define TU_CLI_LOG_CHECK_H

#include "trueup/status.h"

#include <stdbool.h>

/*
 * Checks a hit log and writes the report. Returns TU_OK for a sound log; TU_DATA_SYNTAX for one
 * that is damaged, torn or has gaps, after the report; what reading returned.
 */
tu_status tu_log_check(const char *path, bool json, tu_error *error);

#endif
