/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_work.h - the state of a recording, its clocks, and how it tells the face.
 */
#ifndef TU_TASK_LOG_WORK_H
#define TU_TASK_LOG_WORK_H

#include "program/log_plan.h"
#include "trueup/decode.h"
#include "trueup/hitlog.h"
#include "trueup/port.h"
#include "trueup/task_log.h"

enum { TU_LOG_TEXT_SIZE = 480, TU_LOG_UTC_SIZE = 32, TU_LOG_UNREAD_KEPT = 10000 };

/* What waits for a commit and is told then. */
typedef struct tu_log_item {
    tu_log_event_kind kind;
    tu_hit hit;
    char text[TU_LOG_TEXT_SIZE];
} tu_log_item;

/*
 *   plan      NULL: none.
 *   queued_s  when the first of the items was queued.
 *   stalled   a commit failed and is tried again at retry_s.
 *   since_landing  touches from the last one that was taken for one of the program; 0: none yet.
 *   landed_counts  it counts.
 *   failure   of a step inside the decoder's calls; its detail is in error.
 * Recording goes on while the story's ended is NULL.
 */
typedef struct tu_log_work {
    const tu_task_log_request *request;
    const tu_log_sink *sink;
    tu_task_log_story *story;
    tu_unit unit;
    tu_log_plan *plan;
    tu_decoder decoder;
    tu_port *port;
    tu_hitlog *log;
    tu_log_item *item;
    size_t items, room;
    double started_s, queued_s, retry_s;
    bool stalled;
    uint64_t since_landing;
    bool landed_counts;
    tu_status failure;
    tu_error error;
} tu_log_work;

/* Seconds on a clock that only goes forward; the time in UTC, with milliseconds. */
double tu_log_now_s(void);
void tu_log_utc(char utc[TU_LOG_UTC_SIZE]);

/* Tells the face: kind and what belongs to it; the rest of the event is filled in. */
tu_status tu_log_tell(const tu_log_work *work, tu_log_event event, tu_error *error);
void tu_log_tell_text(const tu_log_work *work, tu_log_event_kind kind, const char *text);

#endif
