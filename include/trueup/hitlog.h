/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hitlog.h - writing the hit log so that nothing that was shown is ever lost, and checking one.
 *
 * docs/hit-log.md describes the form; hits.h reads it.
 */
#ifndef TRUEUP_HITLOG_H
#define TRUEUP_HITLOG_H

#include "trueup/hits.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct tu_hitlog tu_hitlog;

/* What was found in a log that existed. */
typedef struct tu_hitlog_found {
    bool existed;
    uint64_t hits;
    uint64_t last_sequence; /* of the log's own numbering */
    size_t torn_bytes;      /* of a torn last line; kept aside in torn_path */
    char torn_path[512];
} tu_hitlog_found;

/*
 * Opens path for appending: creates it with a header, or checks what stands, keeps a torn tail
 * aside and goes on behind the last good line. Holds a lock until closed. utc  the time now, for
 * the header. Returns TU_OK; TU_DATA_SYNTAX (not a hit log, or damaged in the middle: line number);
 * TU_DATA_CONFLICT (another process writes it); TU_SYSTEM_IO; TU_SYSTEM_MEMORY. *log NULL then.
 */
tu_status tu_hitlog_open(const char *path, const char *utc, tu_hitlog **log, tu_hitlog_found *found,
                         tu_error *error);

/* Queues a hit; its sequence number is set by the log (out: *sequence). Not durable yet. */
tu_status tu_hitlog_append(tu_hitlog *log, const tu_hit *hit, uint64_t *sequence, tu_error *error);

/* Queues a record of another kind: "lost", "restart", "unread", "gone", "back", "hello", "end".
 * bytes (may be NULL) are kept as they came, in a form that is text whatever they are. */
tu_status tu_hitlog_note(tu_hitlog *log, const char *kind, const char *utc, uint64_t count,
                         const char *text, const char *bytes, size_t length, tu_error *error);

/* Writes what is queued and makes it durable (fdatasync). After TU_OK it may be shown. On failure
 * the log on disk holds whole lines only, and what was committed before. */
tu_status tu_hitlog_commit(tu_hitlog *log, tu_error *error);
size_t tu_hitlog_queued(const tu_hitlog *log);

/* Commits and closes; NULL is fine. */
tu_status tu_hitlog_close(tu_hitlog *log, tu_error *error);

typedef struct tu_hitlog_report {
    uint64_t lines, hits, other, damaged;
    uint64_t lost; /* sum of the lost records */
    size_t torn_bytes;
    uint64_t sequence_gaps; /* in the log's own numbering */
    uint64_t first_damaged_line;
    char first_damage[200];
} tu_hitlog_report;

/* Reads a whole log in constant memory and says what is wrong where. TU_OK also when damaged. */
tu_status tu_hitlog_verify(const char *path, tu_hitlog_report *report, tu_error *error);

#endif
