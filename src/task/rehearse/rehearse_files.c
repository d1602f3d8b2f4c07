/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_files.c - the hit log of a rehearsal.
 */
#include "task/rehearse/rehearse_files.h"

#include "record/clock.h"
#include "trueup/hits.h"

#include <string.h>

enum { LINE_SIZE = 1024 };

static size_t format_header(char *text)
{
    char utc[TU_CLOCK_UTC_SIZE];
    return !tu_clock_utc(tu_clock_now(), utc) ? 0 : tu_hits_format_header(text, LINE_SIZE, utc);
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
