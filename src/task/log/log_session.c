/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_session.c - runs a recording from its first record to its last.
 */
#include "task/log/log_session.h"

#include "task/log/log_keep.h"
#include "task/log/log_take.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { CHUNK = 4096, TICK_MS = 500 };

/* Touches that come faster than the disk are written together, but none waits longer. */
static const double group_s = 0.05;

/* --- Start --- */

static tu_status open_all(tu_log_work *work, tu_error *error)
{
    const tu_task_log_request *request = work->request;
    const tu_port_request from = {request->port, request->baud, request->frame};
    tu_hitlog_found found;
    char utc[TU_LOG_UTC_SIZE];
    tu_log_utc(utc);
    tu_status status = tu_port_open(&from, &work->port, error);
    if (!status)
        status = tu_hitlog_open(request->out, utc, &work->log, &found, error);
    if (!status && strcmp(request->port, "-") == 0 && tu_hitlog_is_file(work->log, STDIN_FILENO)) {
        tu_hitlog_abandon(work->log);
        work->log = NULL;
        status = tu_fail(error, TU_DATA_CONFLICT, request->out,
                         "is the source as well; log to another file");
    }
    if (status)
        return status;
    if (found.torn_bytes) {
        tu_log_note(work, "torn", found.torn_bytes, NULL, NULL, 0);
        tu_log_queue(work, TU_LOG_WARNING,
                     "the last line of %s was torn: its %zu bytes are kept in %s, and the "
                     "log goes on behind touch %" PRIu64,
                     request->out, found.torn_bytes, found.torn_path, found.last_sequence);
    }
    tu_log_note(work, "start", 0, tu_port_description(work->port), NULL, 0);
    tu_log_tell(work,
                (tu_log_event){.kind = TU_LOG_OPENED,
                               .text = tu_port_description(work->port),
                               .existed = found.existed},
                NULL);
    status = work->failure;
    if (status && error)
        *error = work->error;
    return status ? status : tu_log_commit(work, false, error);
}

/* --- The loop --- */

/* How long to wait for bytes; what is queued waits only for bytes that are there already. */
static int timeout_ms(const tu_log_work *work, double now_s)
{
    double wait = -1.0;
    if ((work->items > 0 || tu_hitlog_queued(work->log) > 0) && !work->stalled)
        return 0;
    if (work->stalled)
        wait = work->retry_s - now_s;
    if (!isnan(work->request->for_s)) {
        double left = work->started_s + work->request->for_s - now_s;
        wait = wait < 0.0 ? left : fmin(wait, left);
    }
    if (work->sink->ticks)
        wait = wait < 0.0 ? TICK_MS / 1e3 : fmin(wait, TICK_MS / 1e3);
    if (wait < 0.0 && !work->stalled && isnan(work->request->for_s))
        return -1;
    return wait <= 0.0 ? 0 : wait > 1000.0 ? 1000000 : (int)ceil(wait * 1e3);
}

static tu_status go_gone(tu_log_work *work, tu_error *error)
{
    tu_decoder_finish(&work->decoder, tu_log_take, work);
    tu_log_note(work, "gone", 0, tu_port_description(work->port), NULL, 0);
    tu_log_queue(work, TU_LOG_UNPLUGGED, "%s", tu_port_description(work->port));
    return tu_log_commit(work, false, error);
}

/* Waits until the adapter is back, time is up or a signal comes. */
static tu_status wait_return(tu_log_work *work, int wake_fd, tu_error *error)
{
    tu_port_state state = TU_PORT_QUIET;
    tu_status status = go_gone(work, error);
    if (!status && (status = work->failure) && error)
        *error = work->error;
    char refusal[TU_ERROR_MESSAGE_SIZE] = "";
    while (!status && !work->story->ended && state == TU_PORT_QUIET) {
        double now_s = tu_log_now_s();
        tu_error why = {0};
        status = tu_port_wait_return(work->port, TICK_MS, wake_fd, &state, &why);
        if (status && error)
            *error = why;
        if (state == TU_PORT_INTERRUPTED)
            work->story->ended = "interrupted";
        else if (now_s - work->started_s >= work->request->for_s)
            work->story->ended = "time is up";
        if (!status && state == TU_PORT_QUIET && *why.message &&
            strcmp(refusal, why.message) != 0) { /* said once */
            snprintf(refusal, sizeof refusal, "%s", why.message);
            tu_log_tell_text(work, TU_LOG_WARNING, refusal);
        }
        if (!status && work->stalled && now_s >= work->retry_s)
            status = tu_log_commit(work, false, error);
        tu_log_tell_text(work, TU_LOG_TICK, NULL);
    }
    if (status || state != TU_PORT_BACK)
        return status;
    tu_log_note(work, "back", 0, tu_port_description(work->port), NULL, 0);
    tu_log_queue(work, TU_LOG_BACK, "%s", tu_port_description(work->port));
    return tu_log_commit(work, false, error);
}

static void take_state(tu_log_work *work, tu_port_state state, const char *bytes, size_t got)
{
    if (state == TU_PORT_BYTES)
        tu_decoder_feed(&work->decoder, bytes, got, tu_log_take, work);
    else if (state == TU_PORT_INTERRUPTED)
        work->story->ended = "interrupted";
    else if (state == TU_PORT_END) {
        tu_decoder_finish(&work->decoder, tu_log_take, work);
        if (!work->story->ended)
            work->story->ended = "the source ended";
    }
}

static tu_status step(tu_log_work *work, int wake_fd, tu_error *error)
{
    char bytes[CHUNK];
    size_t got;
    tu_port_state state;
    double now_s = tu_log_now_s();
    tu_status status = tu_port_read(work->port, bytes, sizeof bytes, timeout_ms(work, now_s),
                                    wake_fd, &got, &state, error);
    if (status)
        return status;
    if (state == TU_PORT_GONE)
        return wait_return(work, wake_fd, error);
    take_state(work, state, bytes, got);
    now_s = tu_log_now_s();
    if (!work->story->ended && now_s - work->started_s >= work->request->for_s)
        work->story->ended = "time is up";
    if (work->failure) {
        if (error)
            *error = work->error;
        return work->failure;
    }
    bool due = work->stalled ? now_s >= work->retry_s
                             : state != TU_PORT_BYTES || now_s - work->queued_s >= group_s;
    if (due && !work->story->ended)
        status = tu_log_commit(work, false, error);
    if (state == TU_PORT_QUIET)
        tu_log_tell_text(work, TU_LOG_TICK, NULL);
    return status;
}

/* --- End --- */

/* The last record; also after a failure of the source, so that the log tells of it. */
static tu_status finish(tu_log_work *work, tu_status status, tu_error *error)
{
    tu_error last = {0};
    tu_task_log_story *story = work->story;
    if (!story->ended)
        story->ended = "a failure";
    if (story->unread > TU_LOG_UNREAD_KEPT)
        tu_log_note(work, "unread", story->unread - TU_LOG_UNREAD_KEPT, "more, not kept", NULL, 0);
    tu_log_note(work, "end", 0, story->ended, NULL, 0);
    tu_status closing = tu_log_commit(work, true, &last);
    if (closing)
        tu_log_tell_unrecorded(work);
    if (!closing && tu_hitlog_has_moved(work->log))
        tu_log_tell_text(work, TU_LOG_WARNING,
                         "the log was renamed while it was written: all of it is in the file under "
                         "its new name");
    tu_hitlog_abandon(work->log);
    if (closing && !status) {
        status = closing;
        if (error)
            *error = last;
    }
    return status;
}

tu_status tu_log_session(tu_log_work *work, int wake_fd, tu_error *error)
{
    work->started_s = tu_log_now_s();
    tu_log_tell_text(work, TU_LOG_OPENING, NULL);
    tu_status status = open_all(work, error);
    while (!status && !work->story->ended)
        status = step(work, wake_fd, error);
    tu_log_tell_text(work, TU_LOG_ENDING, NULL);
    if (work->log)
        status = finish(work, status, error);
    if (work->port)
        snprintf(work->story->source, sizeof work->story->source, "%s",
                 tu_port_description(work->port));
    tu_port_close(work->port);
    free(work->item);
    return status;
}
