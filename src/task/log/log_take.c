/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_take.c - what the decoder finds becomes touches and records of the log.
 */
#include "task/log/log_take.h"

#include "record/hits_form.h"
#include "task/log/log_keep.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { UNREAD_SHOWN = 10, BYTES_SHOWN = 60 };

/* Larger ones are not the same in every reader of JSON (RFC 7493, 2.2). */
static const uint64_t clock_max = (UINT64_C(1) << 53) - 1;

/* Bytes as a person may read them: printable ASCII, others as \xHH. */
static void show_bytes(char *text, size_t size, const char *bytes, size_t length)
{
    size_t used = 0;
    size_t shown = length < BYTES_SHOWN ? length : BYTES_SHOWN;
    for (size_t i = 0; i < shown && used + 8 < size; i++) {
        unsigned char byte = (unsigned char)bytes[i];
        used += (size_t)snprintf(text + used, size - used,
                                 byte >= 0x20 && byte <= 0x7E ? "%c" : "\\x%02x", byte);
    }
    snprintf(text + used, size - used, "%s", shown < length ? "..." : "");
}

static void take_unread(tu_log_work *work, const tu_decoded *decoded, const char *reason)
{
    char shown[5 * BYTES_SHOWN];
    work->story->unread++;
    if (work->story->unread <= TU_LOG_UNREAD_KEPT)
        tu_log_note(work, "unread", 0, reason, decoded->bytes ? decoded->bytes : "",
                    decoded->bytes ? decoded->length : 0);
    if (work->story->unread > UNREAD_SHOWN)
        return;
    show_bytes(shown, sizeof shown, decoded->bytes ? decoded->bytes : "", decoded->length);
    tu_log_queue(work, TU_LOG_WARNING, "not read: %s: \"%s\"%s", reason, shown,
                 work->story->unread == UNREAD_SHOWN ? "; more such lines are only counted" : "");
}

static void take_place(tu_log_work *work, tu_hit *hit)
{
    char text[TU_LOG_STRAY_SIZE];
    tu_log_landing landing = tu_log_plan_take(work->plan, hit, work->unit, text);
    if (landing == TU_LOG_REPEATED || landing == TU_LOG_STARTED)
        tu_log_withdraw(work, landing == TU_LOG_STARTED);
    tu_log_queue_hit(work, hit);
    work->since_landing =
        landing == TU_LOG_STRAY ? work->since_landing + (work->since_landing > 0) : 1;
    work->landed_counts = landing == TU_LOG_STRAY ? work->landed_counts : hit->ok;
    if (landing == TU_LOG_LANDED)
        return;
    tu_log_note(work, "astray", 0, text, NULL, 0);
    tu_log_queue(work, TU_LOG_WARNING, "%s", text);
}

static void take_hit(tu_log_work *work, const tu_decoded *decoded)
{
    tu_hit hit = {.device_us = decoded->device_us <= clock_max ? decoded->device_us : 0,
                  .position = {decoded->position_mm[TU_AXIS_X], decoded->position_mm[TU_AXIS_Y],
                               decoded->position_mm[TU_AXIS_Z]},
                  .axis = decoded->axis,
                  .direction = decoded->direction,
                  .ok = true};
    tu_log_utc(hit.utc);
    memcpy(hit.series, decoded->series, sizeof hit.series);
    if (!work->plan && decoded->axis == TU_AXIS_COUNT) {
        char reason[120];
        tu_face_say(work->request->face,
                    "which axis moved is not known; state it with {touches_axis}", reason,
                    sizeof reason);
        take_unread(work, decoded, reason);
        return;
    }
    if (!tu_hits_is_series(hit.series)) {
        take_unread(work, decoded, "the series has characters that can't be shown");
        return;
    }
    if (!hit.series[0] && work->request->series)
        snprintf(hit.series, sizeof hit.series, "%s", work->request->series);
    if (work->plan)
        take_place(work, &hit);
    else
        tu_log_queue_hit(work, &hit);
    work->story->hits++;
    work->story->counted += hit.ok;
    if (work->plan && tu_log_plan_is_done(work->plan))
        work->story->ended = "all touches of the program came";
    else if (work->request->count && work->story->counted >= work->request->count)
        work->story->ended = "the number of touches asked for was reached";
}

static void take_lost(tu_log_work *work, uint64_t count)
{
    work->story->lost += count;
    tu_log_note(work, "lost", count, NULL, NULL, 0);
    tu_log_queue(work, TU_LOG_WARNING,
                 "%" PRIu64 " line%s of the device %s lost before the next touch", count,
                 count == 1 ? "" : "s", count == 1 ? "was" : "were");
    if (!work->plan)
        return;
    tu_log_plan_skip(work->plan, count);
    if (tu_log_plan_is_done(work->plan))
        work->story->ended = "all touches of the program came, or were lost";
}

static void take_flood(tu_log_work *work, uint64_t count)
{
    int baud = work->request->baud ? work->request->baud : 115200;
    tu_log_note(work, "flood", count, "nearly all bytes are garbage", NULL, 0);
    if (strcmp(work->request->port, "-") == 0)
        tu_log_queue(work, TU_LOG_WARNING,
                     "nearly all bytes are garbage: is this the right source?");
    else
        tu_log_queue(work, TU_LOG_WARNING,
                     "nearly all bytes are garbage: does the device send at %d bits a "
                     "second? try %s with its own rate",
                     baud, tu_face_word(work->request->face, "baud"));
}

void tu_log_take(void *context, const tu_decoded *decoded)
{
    tu_log_work *work = context;
    if (work->story->ended || work->failure)
        return;
    switch (decoded->kind) {
    case TU_DECODED_HIT:
        take_hit(work, decoded);
        break;
    case TU_DECODED_HELLO:
        tu_log_note(work, "hello", 0, decoded->device, NULL, 0);
        break;
    case TU_DECODED_LOST:
        take_lost(work, decoded->count);
        break;
    case TU_DECODED_RESTART:
        tu_log_note(work, "restart", 0, NULL, NULL, 0);
        tu_log_queue(work, TU_LOG_WARNING,
                     "the device started anew; touches before that may be missing");
        break;
    case TU_DECODED_UNREAD:
        take_unread(work, decoded, decoded->reason);
        break;
    case TU_DECODED_FLOOD:
        take_flood(work, decoded->count);
        break;
    }
}
