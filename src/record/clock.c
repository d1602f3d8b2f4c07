/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * clock.c - the time of day.
 */
#include "record/clock.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

int64_t tu_clock_now(void)
{
    const char *epoch = getenv("SOURCE_DATE_EPOCH");
    if (epoch && *epoch && strlen(epoch) <= 10 && strspn(epoch, "0123456789") == strlen(epoch))
        return strtoll(epoch, NULL, 10);
    return time(NULL);
}

bool tu_clock_utc(int64_t time_s, char utc[TU_CLOCK_UTC_SIZE])
{
    time_t now = (time_t)time_s;
    struct tm parts;
    return gmtime_r(&now, &parts) && strftime(utc, TU_CLOCK_UTC_SIZE, "%Y-%m-%dT%H:%M:%SZ", &parts);
}
