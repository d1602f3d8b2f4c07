/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_files.c - the hit log of a rehearsal.
 */
#include "task/rehearse/rehearse_files.h"

#include "trueup/hits.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { LINE_SIZE = 1024 };

/* Source: SOURCE_DATE_EPOCH specification 1.1, reproducible-builds.org: seconds since 1970. */
static time_t log_time(void)
{
    const char *epoch = getenv("SOURCE_DATE_EPOCH");
    if (epoch && *epoch && strlen(epoch) <= 10 && strspn(epoch, "0123456789") == strlen(epoch))
        return (time_t)strtoll(epoch, NULL, 10);
    return time(NULL);
}

static size_t format_header(char *text)
{
    char utc[32];
    time_t now = log_time();
    struct tm parts;
    if (!gmtime_r(&now, &parts) || !strftime(utc, sizeof utc, "%Y-%m-%dT%H:%M:%SZ", &parts))
        return 0;
    return tu_hits_format_header(text, LINE_SIZE, utc);
}

static size_t format_hit(char *text, const tu_hit *hit, const char *series)
{
    tu_hit named = *hit;
    if (!*named.series && series)
        memcpy(named.series, series, strlen(series) + 1);
    return tu_hits_format(text, LINE_SIZE, &named);
}

tu_status tu_rehearse_write_log(FILE *out, const tu_rehearsal_story *story, const char *series,
                                tu_error *error)
{
    char text[LINE_SIZE];
    size_t length = format_header(text);
    for (size_t i = 0; length; i++) {
        fwrite(text, 1, length, out); /* the file sees what was lost */
        if (i == story->touch_count)
            return TU_OK;
        length = format_hit(text, &story->touches[i].hit, series);
    }
    return tu_fail(error, TU_DATA_RANGE, "{log}", "a touch of this program can't stand in a log");
}
