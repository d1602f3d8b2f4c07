/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_work.h - the state of a recording, shared by its three files (internal): log_session.c runs
 * it, log_take.c takes what the decoder finds, log_keep.c commits and then shows.
 */
#ifndef TU_CLI_LOG_WORK_H
#define TU_CLI_LOG_WORK_H

#include "cli/log_session.h"
#include "cli/log_show.h"
#include "trueup/hitlog.h"
#include "trueup/port.h"

enum { TU_LOG_TEXT_SIZE = 480, TU_LOG_UTC_SIZE = 32, TU_LOG_UNREAD_KEPT = 10000 };

/* What waits for a commit: a touch to be shown, or a warning about it. */
typedef struct tu_log_item {
    bool is_hit;
    bool withdraws_all, withdraws_landed; /* touches shown before count no more: all, the last */
    tu_hit hit;
    char text[TU_LOG_TEXT_SIZE];
} tu_log_item;

/*
 *   queued_s  when the first of the items was queued.
 *   stalled   a commit failed and is tried again at retry_s.
 *   since_landing  touches from the last one that was taken for one of the program; 0: none yet.
 *   landed_counts  it counts.
 *   ended     why recording ends; NULL: it goes on.
 *   failure   of a step inside the decoder's calls; its detail is in error.
 */
typedef struct tu_log_work {
    const tu_log_options *options;
    tu_log_plan *plan;
    tu_decoder decoder;
    tu_port *port;
    tu_hitlog *log;
    tu_log_show show;
    tu_log_item *item;
    size_t items, room;
    double queued_s, retry_s;
    bool stalled;
    uint64_t hits, counted, lost, unread;
    uint64_t since_landing;
    bool landed_counts;
    const char *ended;
    tu_status failure;
    tu_error error;
} tu_log_work;

/* Seconds on a clock that only goes forward; the time in UTC, with milliseconds. */
double tu_log_now_s(void);
void tu_log_utc(char utc[TU_LOG_UTC_SIZE]);

/* --- log_keep.c --- */

/* Queues a record that is no touch. */
tu_status tu_log_note(tu_log_work *work, const char *kind, uint64_t count, const char *text,
                      const char *bytes, size_t length);
tu_status tu_log_queue_hit(tu_log_work *work, const tu_hit *hit);
/*
 * Queues a record that takes touches back: all of this recording, or those from the last one that
 * was taken for one of the program.
 */
tu_status tu_log_withdraw(tu_log_work *work, bool all);
/* Queues a warning, to be shown in its place among the touches. */
void tu_log_queue_warning(tu_log_work *work, const char *format, ...) TU_PRINTF(2, 3);
/*
 * Commits what is queued, then shows it. After a write that may be tried again (a full disk) the
 * items stay, and TU_OK is returned unless final is set.
 */
tu_status tu_log_commit(tu_log_work *work, bool final, tu_error *error);
/* Lists touches that were never committed on stderr. */
void tu_log_tell_unrecorded(const tu_log_work *work);

/* --- log_take.c --- */

/* A tu_decode_sink; context is the work. */
void tu_log_take(void *context, const tu_decoded *decoded);

#endif
