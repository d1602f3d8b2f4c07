/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_keep.c - into the log first, then to the face.
 */
#include "task/log/log_keep.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ITEMS_MAX = 100000 };
static const double retry_every_s = 1.0;

/* Room for one more item; NULL without memory, which is noted as the failure. */
static tu_log_item *add_item(tu_log_work *work, tu_log_event_kind kind)
{
    if (work->items == work->room) {
        size_t room = work->room ? 2 * work->room : 64;
        tu_log_item *item = realloc(work->item, room * sizeof *item);
        if (!item) {
            work->failure = tu_fail(&work->error, TU_SYSTEM_MEMORY, NULL,
                                    "no memory left for more touches that wait for the disk");
            return NULL;
        }
        work->item = item;
        work->room = room;
    }
    if (work->items == 0)
        work->queued_s = tu_log_now_s();
    tu_log_item *item = &work->item[work->items++];
    item->kind = kind;
    item->text[0] = '\0';
    return item;
}

tu_status tu_log_note(tu_log_work *work, const char *kind, uint64_t count, const char *text,
                      const char *bytes, size_t length)
{
    char utc[TU_LOG_UTC_SIZE];
    tu_log_utc(utc);
    if (!work->failure)
        work->failure =
            tu_hitlog_note(work->log, kind, utc, count, text, bytes, length, &work->error);
    return work->failure;
}

tu_status tu_log_queue_hit(tu_log_work *work, const tu_hit *hit)
{
    if (work->failure)
        return work->failure;
    uint64_t sequence;
    tu_status status = tu_hitlog_append(work->log, hit, &sequence, &work->error);
    tu_log_item *item = status ? NULL : add_item(work, TU_LOG_HIT);
    if (item) {
        item->hit = *hit;
        item->hit.sequence = sequence;
    }
    if (status)
        work->failure = status;
    return work->failure;
}

tu_status tu_log_withdraw(tu_log_work *work, bool all)
{
    char utc[TU_LOG_UTC_SIZE];
    uint64_t count = all ? work->story->hits : work->since_landing;
    if (work->failure || count == 0 || (!all && !work->landed_counts))
        return work->failure;
    tu_log_utc(utc);
    work->failure = tu_hitlog_withdraw(work->log, utc, count, &work->error);
    if (!work->failure)
        add_item(work, all ? TU_LOG_WITHDREW_ALL : TU_LOG_WITHDREW_LAST);
    work->story->counted = all ? 0 : work->story->counted - 1;
    work->landed_counts = false;
    return work->failure;
}

void tu_log_queue(tu_log_work *work, tu_log_event_kind kind, const char *format, ...)
{
    tu_log_item *item = work->failure ? NULL : add_item(work, kind);
    if (!item)
        return;
    tu_error tidy; /* made fit for one line as an error is */
    char text[TU_LOG_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    tu_fail(&tidy, TU_OK, NULL, "%s", text);
    snprintf(item->text, sizeof item->text, "%.*s", TU_LOG_TEXT_SIZE - 1, tidy.message);
}

static tu_status tell_items(tu_log_work *work, tu_error *error)
{
    for (size_t i = 0; i < work->items; i++) {
        const tu_log_item *item = &work->item[i];
        const tu_hit *hit = item->kind == TU_LOG_HIT ? &item->hit : NULL;
        const char *text = *item->text ? item->text : NULL;
        tu_log_tell(work, (tu_log_event){.kind = item->kind, .hit = hit, .text = text}, NULL);
    }
    work->items = 0;
    tu_status status = tu_log_tell(work, (tu_log_event){.kind = TU_LOG_FLUSH}, error);
    tu_log_tell(work, (tu_log_event){.kind = TU_LOG_TICK}, NULL);
    return status;
}

/* The disk may be full: the touches wait in memory, and the user may make room. */
static void stall(tu_log_work *work, const tu_error *why)
{
    char text[TU_ERROR_MESSAGE_SIZE + TU_ERROR_WHERE_SIZE + 120];
    work->retry_s = tu_log_now_s() + retry_every_s;
    if (work->stalled)
        return;
    work->stalled = true;
    snprintf(text, sizeof text,
             "%s: %s; touches wait in memory, not recorded yet, and writing is tried again every "
             "second",
             why->where, why->message);
    tu_log_tell_text(work, TU_LOG_WARNING, text);
    tu_log_tell_text(work, TU_LOG_STALLED, NULL);
}

tu_status tu_log_commit(tu_log_work *work, bool final, tu_error *error)
{
    tu_error why = {0};
    if (work->items == 0 && tu_hitlog_queued(work->log) == 0)
        return TU_OK;
    tu_status status = tu_hitlog_commit(work->log, &why);
    if (status) {
        if (!final && tu_hitlog_may_retry(work->log) && work->items < ITEMS_MAX) {
            stall(work, &why);
            return TU_OK;
        }
        if (error)
            *error = why;
        return status;
    }
    if (work->stalled) {
        work->stalled = false;
        tu_log_tell_text(work, TU_LOG_GOES_ON, NULL);
        tu_log_tell_text(work, TU_LOG_WARNING, "writing works again; nothing was lost");
    }
    return tell_items(work, error);
}

void tu_log_tell_unrecorded(const tu_log_work *work)
{
    for (size_t i = 0; i < work->items; i++)
        if (work->item[i].kind == TU_LOG_HIT)
            tu_log_tell(work, (tu_log_event){.kind = TU_LOG_UNRECORDED, .hit = &work->item[i].hit},
                        NULL);
}
