/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_work.c - the clocks of a recording, and how it tells the face.
 */
#include "task/log/log_work.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

double tu_log_now_s(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

void tu_log_utc(char utc[TU_LOG_UTC_SIZE])
{
    struct timespec now;
    struct tm t;
    char text[TU_LOG_UTC_SIZE];
    clock_gettime(CLOCK_REALTIME, &now);
    gmtime_r(&now.tv_sec, &t);
    size_t length = strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%S", &t);
    snprintf(text + length, sizeof text - length, ".%03ldZ", now.tv_nsec / 1000000);
    memcpy(utc, text, sizeof text);
}

tu_status tu_log_tell(const tu_log_work *work, tu_log_event event, tu_error *error)
{
    if (!work->sink->tell)
        return TU_OK;
    event.unit = work->unit;
    event.seconds = tu_log_now_s() - work->started_s;
    if (work->plan) {
        event.done = work->plan->course.next;
        event.all = work->plan->count;
    }
    return work->sink->tell(work->sink->context, &event, error);
}

void tu_log_tell_text(const tu_log_work *work, tu_log_event_kind kind, const char *text)
{
    tu_log_tell(work, (tu_log_event){.kind = kind, .text = text}, NULL);
}
