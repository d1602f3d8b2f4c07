/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_files.c - the drawing and the hit log of a rehearsal as files.
 */
#include "cli/rehearse_files.h"

#include "record/atomic_file.h"
#include "trueup/hits.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { LINE_SIZE = 1024 };

tu_status tu_rehearse_write_drawing(const char *path, const tu_rehearsal_story *story, tu_unit unit,
                                    tu_error *error)
{
    tu_atomic_file *file;
    FILE *stream;
    tu_status status = tu_atomic_open(path, &file, error);
    if (status)
        return status;
    status = tu_atomic_stream(file, &stream, error);
    if (!status)
        status = tu_report_rehearsal_svg(stream, story, unit, error);
    if (status) {
        tu_atomic_abort(file);
        return status;
    }
    return tu_atomic_commit(file, error);
}

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

static tu_status write_lines(tu_atomic_file *file, const tu_rehearsal_story *story,
                             const char *series, tu_error *error)
{
    char text[LINE_SIZE];
    FILE *stream;
    tu_status status = tu_atomic_stream(file, &stream, error);
    if (status)
        return status;
    size_t length = format_header(text);
    for (size_t i = 0; length; i++) {
        fwrite(text, 1, length, stream); /* tu_atomic_commit sees what was lost */
        if (i == story->touch_count)
            return TU_OK;
        length = format_hit(text, &story->touches[i].hit, series);
    }
    return tu_fail(error, TU_DATA_RANGE, "--log", "a touch of this program can't stand in a log");
}

tu_status tu_rehearse_write_log(const char *path, const tu_rehearsal_story *story,
                                const char *series, tu_error *error)
{
    tu_atomic_file *file;
    tu_status status = tu_atomic_open(path, &file, error);
    if (status)
        return status;
    status = write_lines(file, story, series, error);
    if (status) {
        tu_atomic_abort(file);
        return status;
    }
    return tu_atomic_commit(file, error);
}
