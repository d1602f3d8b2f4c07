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

TU_BEGIN_DECLS

enum { TU_HITLOG_BYTES_MAX = 600 }; /* bytes of a line that was not read, kept in its record */

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
 * aside (behind what PATH.torn holds already) and goes on behind the last good line. Holds a lock
 * until closed.
 *   utc    the time now, for the header.
 *   found  out.
 * Returns TU_OK; TU_DATA_SYNTAX and other TU_DATA_... (not a hit log, or damaged in the middle: the
 * line's number; nothing was changed); TU_DATA_CONFLICT (another process writes it); TU_USAGE for
 * "-"; TU_SYSTEM_IO; TU_SYSTEM_MEMORY. *log NULL then; a file that was made is gone again.
 */
tu_status tu_hitlog_open(const char *path, const char *utc, tu_hitlog **log, tu_hitlog_found *found,
                         tu_error *error);

/* Queues a hit; its sequence number is set by the log (out: *sequence, may be NULL). Not durable
 * yet. TU_DATA_RANGE for a hit that no line can hold: a number that is not finite, a bad name. */
tu_status tu_hitlog_append(tu_hitlog *log, const tu_hit *hit, uint64_t *sequence, tu_error *error);

/*
 * Queues a record of another kind: "start", "lost", "restart", "unread", "gone", "back", "hello",
 * "end" and others of docs/hit-log.md.
 *   kind   lower-case letters.
 *   count  0: left out.
 *   text   a remark; NULL or "": left out.
 *   bytes  (may be NULL) are kept as they came, in a form that is text whatever they are; of more
 *          than TU_HITLOG_BYTES_MAX the first, and how many there were.
 */
tu_status tu_hitlog_note(tu_hitlog *log, const char *kind, const char *utc, uint64_t count,
                         const char *text, const char *bytes, size_t length, tu_error *error);

/* Queues a record that takes the last `count` hits of the log back: readers take them as not to be
 * used. TU_DATA_RANGE when there are not so many. */
tu_status tu_hitlog_withdraw(tu_hitlog *log, const char *utc, uint64_t count, tu_error *error);

/*
 * Writes what is queued and makes it durable (fdatasync). After TU_OK it may be shown. On failure
 * the log on disk holds what was committed before and nothing of the queue: what was written of it
 * is cut off again. The queue stays, and after a failed write (a full disk) committing may be
 * tried again; after a failed fdatasync it may not, because the system then forgets what it did not
 * write (every later call fails).
 * Returns TU_OK; TU_SYSTEM_IO; TU_DATA_CONFLICT when another program changed the file meanwhile.
 */
tu_status tu_hitlog_commit(tu_hitlog *log, tu_error *error);
/* Bytes that are queued. */
size_t tu_hitlog_queued(const tu_hitlog *log);

/* Whether the open file is this log: reading it while it is written would never end. */
bool tu_hitlog_is_file(const tu_hitlog *log, int fd);
/* Whether the log is no longer found under its path: it was renamed, and goes on under its new
 * name. */
bool tu_hitlog_has_moved(const tu_hitlog *log);

/* Whether committing again after a failure may work. */
bool tu_hitlog_may_retry(const tu_hitlog *log);

/* Commits and closes, in every case; NULL is fine. */
tu_status tu_hitlog_close(tu_hitlog *log, tu_error *error);
/* Closes; what is queued is dropped. NULL is fine. */
void tu_hitlog_abandon(tu_hitlog *log);

/*
 * What a log holds.
 *   damaged        lines that no reader takes; the header is one of them.
 *   lost           sum of the counts of "lost" records.
 *   torn_bytes     of a last line without its newline.
 *   sequence_gaps  places where the numbers of the hits do not go on by one; damaged lines in
 *                  between excuse as many missing numbers.
 *   ended          the last record says that recording ended.
 */
typedef struct tu_hitlog_report {
    uint64_t lines, hits, other, damaged;
    uint64_t lost;
    size_t torn_bytes;
    uint64_t sequence_gaps;
    bool ended;
} tu_hitlog_report;

/* Told of each fault: its line, and what is wrong there. */
typedef void tu_hitlog_fault_sink(void *context, uint64_t line, const char *message);

/*
 * Reads a whole log in constant memory and says what is wrong where. TU_OK also when damaged: the
 * report tells. Else TU_DATA_SYNTAX (not a hit log at all), TU_SYSTEM_IO, TU_SYSTEM_MEMORY.
 * path may be "-"; sink may be NULL.
 */
tu_status tu_hitlog_verify(const char *path, tu_hitlog_report *report, tu_hitlog_fault_sink *sink,
                           void *context, tu_error *error);

TU_END_DECLS

#endif
