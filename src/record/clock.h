/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * clock.h - the time of day (internal).
 */
#ifndef TU_RECORD_CLOCK_H
#define TU_RECORD_CLOCK_H

#include <stdbool.h>
#include <stdint.h>

enum { TU_CLOCK_UTC_SIZE = 32 };

/* Seconds since 1970. Where the environment has SOURCE_DATE_EPOCH, that one, so that the same run
 * gives the same bytes (specification 1.1, reproducible-builds.org). */
int64_t tu_clock_now(void);
/* "2026-11-25T18:00:00Z"; false where the year does not fit. */
bool tu_clock_utc(int64_t time_s, char utc[TU_CLOCK_UTC_SIZE]);

#endif
