/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_keep.h - into the log first, then to the face.
 */
#ifndef TU_TASK_LOG_KEEP_H
#define TU_TASK_LOG_KEEP_H

#include "task/log/log_work.h"

/* Queues a record that is no touch. */
tu_status tu_log_note(tu_log_work *work, const char *kind, uint64_t count, const char *text,
                      const char *bytes, size_t length);
tu_status tu_log_queue_hit(tu_log_work *work, const tu_hit *hit);
/*
 * Queues a record that takes touches back: all of this recording, or those from the last one that
 * was taken for one of the program.
 */
tu_status tu_log_withdraw(tu_log_work *work, bool all);
/* Queues a text, to be told in its place among the touches. */
void tu_log_queue(tu_log_work *work, tu_log_event_kind kind, const char *format, ...)
    TU_PRINTF(3, 4);
/*
 * Commits what is queued, then tells it. After a write that may be tried again (a full disk) the
 * items stay, and TU_OK is returned unless final is set.
 */
tu_status tu_log_commit(tu_log_work *work, bool final, tu_error *error);
/* Tells of touches that were never committed. */
void tu_log_tell_unrecorded(const tu_log_work *work);

#endif
