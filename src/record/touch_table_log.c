/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_table_log.c - a hit log into the table of touches.
 */
#include "record/hits_read.h"
#include "record/touch_table_parts.h"
#include "trueup/number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Which clock times the touches of this file: the device's, as long as each hit has its time and
 * none runs backwards (a restarted device), else the host's. */
typedef struct clocks {
    bool device, utc;
    uint64_t last_us;
} clocks;

/* Days from 1970-01-01 in the Gregorian calendar. */
static long days_from_epoch(long year, long month, long day)
{
    static const short before[] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334};
    long past = month > 2 ? year : year - 1; /* years whose leap day is behind */
    long leap_days = past / 4 - past / 100 + past / 400 - (1969 / 4 - 1969 / 100 + 1969 / 400);
    return 365 * (year - 1970) + leap_days + before[month - 1] + day - 1;
}

/* "2026-11-25T08:15:30.123Z", which the reader of hits has checked. */
static double utc_seconds(const char *utc)
{
    int part[6], at[6] = {0, 5, 8, 11, 14, 17};
    for (int i = 0; i < 6; i++)
        part[i] = atoi(utc + at[i]);
    double seconds = 86400.0 * (double)days_from_epoch(part[0], part[1], part[2]) +
                     3600.0 * part[3] + 60.0 * part[4] + part[5];
    double place = 0.1;
    for (const char *c = utc + 20; utc[19] == '.' && *c >= '0' && *c <= '9'; c++, place /= 10)
        seconds += place * (*c - '0');
    return seconds;
}

/* A plan of trials at several feeds names its series NAME-f50: what stands behind is mm/min. */
static double feed_of_series(const char *series)
{
    double feed;
    const char *mark = strrchr(series, '-');
    if (!mark || mark[1] != 'f' || mark[2] < '0' || mark[2] > '9' ||
        tu_number_parse(mark + 2, strlen(mark + 2), &feed, NULL))
        return NAN;
    return feed > 0 ? feed / 60.0 : NAN;
}

static void take_times(tu_table_build *build, const tu_hit *hit, clocks *clock)
{
    size_t row = build->count - 1;
    if (build->take)
        return;
    clock->device = clock->device && hit->device_us > 0 && hit->device_us >= clock->last_us;
    clock->last_us = hit->device_us;
    clock->utc = clock->utc && hit->utc[0];
    ((double *)build->column[TU_COLUMN_TIME])[row] = (double)hit->device_us * 1e-6;
    ((double *)build->column[TU_COLUMN_UTC])[row] = hit->utc[0] ? utc_seconds(hit->utc) : NAN;
}

static tu_status take_level(tu_table_build *build, const tu_hit *hit, tu_error *error)
{
    const char *by = build->request->by, *text = hit->series;
    if (!by)
        return TU_OK;
    if (strcmp(by, "dir") == 0)
        text = hit->direction > 0 ? "+" : hit->direction < 0 ? "-" : "";
    else if (strcmp(by, "series") != 0)
        return TU_OK;
    build->by_found = true;
    uint32_t *level = (uint32_t *)build->column[TU_COLUMN_LEVEL] + build->count - 1;
    if (*text && !tu_name_list_find(&build->levels, text, strlen(text), level))
        return tu_table_fail_memory(build, error);
    return TU_OK;
}

static tu_status take_hit(tu_table_build *build, const tu_hit *hit, size_t line, clocks *clock,
                          tu_error *error)
{
    tu_status status = tu_table_add_row(build, line, error);
    if (status)
        return status;
    size_t row = build->count - 1;
    ((double *)build->column[TU_COLUMN_X])[row] = hit->position.x;
    ((double *)build->column[TU_COLUMN_Y])[row] = hit->position.y;
    ((double *)build->column[TU_COLUMN_Z])[row] = hit->position.z;
    ((signed char *)build->column[TU_COLUMN_DIRECTION])[row] = (signed char)hit->direction;
    ((unsigned char *)build->column[TU_COLUMN_AXIS])[row] = (unsigned char)hit->axis;
    take_times(build, hit, clock);
    double feed = feed_of_series(hit->series);
    if (isfinite(feed)) {
        status = tu_table_want(build, TU_COLUMN_FEED, error);
        if (status)
            return status;
    }
    if (build->column[TU_COLUMN_FEED])
        ((double *)build->column[TU_COLUMN_FEED])[row] = feed;
    if (hit->series[0] && !tu_name_list_find(&build->series, hit->series, strlen(hit->series),
                                             (uint32_t *)build->column[TU_COLUMN_SERIES] + row))
        return tu_table_fail_memory(build, error);
    return take_level(build, hit, error);
}

/* Times count from the first touch of the file, by the better clock that timed all of them. */
static void settle_times(tu_table_build *build, size_t from, const clocks *clock)
{
    if (build->take)
        return; /* the rows are gone, without times */
    double *time = build->column[TU_COLUMN_TIME];
    const double *utc = build->column[TU_COLUMN_UTC];
    const double *source = clock->device ? time : clock->utc ? utc : NULL;
    double first = source && from < build->count ? source[from] : NAN;
    for (size_t row = from; row < build->count; row++)
        time[row] = source ? source[row] - first : NAN;
}

static tu_status read_hits(tu_table_build *build, tu_hits_reader *reader, tu_error *error)
{
    size_t from = build->count;
    clocks clock = {true, true, 0};
    tu_hit hit;
    bool have = true;
    tu_status status = tu_hits_check_header(reader, error);
    if (!status)
        status = tu_hits_find_withdrawn(reader, error);
    while (!status && have) {
        status = tu_hits_next(reader, &hit, &have, error);
        if (status || !have)
            break;
        if (hit.ok)
            status = take_hit(build, &hit, reader->line, &clock, error);
        else
            build->not_ok++;
    }
    if (status)
        return status;
    build->torn_bytes += tu_hits_torn(reader);
    settle_times(build, from, &clock);
    return TU_OK;
}

tu_status tu_table_read_log(tu_table_build *build, tu_table_source *source, tu_error *error)
{
    static const tu_column wanted[] = {TU_COLUMN_X,    TU_COLUMN_Y,     TU_COLUMN_Z,
                                       TU_COLUMN_TIME, TU_COLUMN_UTC,   TU_COLUMN_DIRECTION,
                                       TU_COLUMN_AXIS, TU_COLUMN_SERIES};
    tu_hits_reader *reader;
    tu_status status = tu_hits_start(build->name, source->fd, &reader, error);
    for (size_t i = 0; !status && i < sizeof wanted / sizeof *wanted; i++)
        status = tu_table_want(build, wanted[i], error);
    if (!status) {
        /* what was read to tell the kind of file; a block of a log holds no more than one */
        memcpy(reader->block, source->block, source->end);
        reader->end = source->end;
        status = read_hits(build, reader, error);
    }
    tu_hits_close(reader);
    return status;
}
