/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hitlog.c - adds lines to a hit log: queued, then written and made durable together.
 */
#include "trueup/hitlog.h"
#include "record/hitlog_parts.h"
#include "record/hits_form.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

tu_status tu_hitlog_fail(const tu_hitlog *log, const char *what, tu_error *error)
{
    int reason = errno;
    return tu_fail(error, TU_SYSTEM_IO, log->path, "%s: %s", what, strerror(reason));
}

bool tu_hitlog_write_all(int fd, const char *bytes, size_t length)
{
    while (length > 0) {
        ssize_t written = write(fd, bytes, length);
        if (written < 0 && errno == EINTR)
            continue;
        if (written == 0)
            errno = EIO; /* no progress and no reason */
        if (written <= 0)
            return false;
        bytes += written;
        length -= (size_t)written;
    }
    return true;
}

tu_status tu_hitlog_reserve(tu_hitlog *log, tu_error *error)
{
    if (log->capacity - log->length >= TU_HITS_LINE_MAX)
        return TU_OK;
    size_t capacity = log->capacity ? 2 * log->capacity : 4 * (size_t)TU_HITS_LINE_MAX;
    char *queue = realloc(log->queue, capacity);
    if (!queue)
        return tu_fail(error, TU_SYSTEM_MEMORY, log->path, "no memory left for another line");
    log->queue = queue;
    log->capacity = capacity;
    return TU_OK;
}

tu_status tu_hitlog_append(tu_hitlog *log, const tu_hit *hit, uint64_t *sequence, tu_error *error)
{
    tu_hit numbered = *hit;
    numbered.sequence = log->next_sequence;
    tu_status status = tu_hitlog_reserve(log, error);
    if (status)
        return status;
    size_t added = tu_hits_format(log->queue + log->length, TU_HITS_LINE_MAX, &numbered);
    if (!added)
        return tu_fail(error, TU_DATA_RANGE, log->path,
                       "a hit that no line of a log can hold: a number that is not finite, or a "
                       "name that is too long");
    log->length += added;
    log->next_sequence++;
    if (sequence)
        *sequence = numbered.sequence;
    return TU_OK;
}

static tu_status add_note(tu_hitlog *log, const tu_hits_note *note, tu_error *error)
{
    tu_status status = tu_hitlog_reserve(log, error);
    if (status)
        return status;
    size_t added = tu_hits_format_note(log->queue + log->length, TU_HITS_LINE_MAX, note);
    if (!added)
        return tu_fail(error, TU_DATA_RANGE, log->path, "a record that no line of a log can hold");
    log->length += added;
    return TU_OK;
}

tu_status tu_hitlog_note(tu_hitlog *log, const char *kind, const char *utc, uint64_t count,
                         const char *text, const char *bytes, size_t length, tu_error *error)
{
    const tu_hits_note note = {
        .kind = kind, .utc = utc, .count = count, .text = text, .bytes = bytes, .length = length};
    return add_note(log, &note, error);
}

tu_status tu_hitlog_withdraw(tu_hitlog *log, const char *utc, uint64_t count, tu_error *error)
{
    const tu_hits_note note = {
        .kind = "withdrawn", .utc = utc, .count = count, .before = log->next_sequence};
    if (count == 0 || count >= log->next_sequence)
        return tu_fail(error, TU_DATA_RANGE, log->path, "no such hits, to be withdrawn");
    return add_note(log, &note, error);
}

size_t tu_hitlog_queued(const tu_hitlog *log)
{
    return log->length;
}

/* The file is still there, and as long as it was left: nobody else wrote to it. */
static tu_status check_file(tu_hitlog *log, tu_error *error)
{
    struct stat info;
    if (fstat(log->fd, &info))
        return tu_hitlog_fail(log, "can't look at it", error);
    if (info.st_nlink > 0 && (uint64_t)info.st_size == log->committed)
        return TU_OK;
    log->broken = true;
    if (info.st_nlink == 0)
        return tu_fail(error, TU_DATA_CONFLICT, log->path,
                       "the file was removed or replaced while it was being written; what it held "
                       "goes when this program ends, so copy /proc/%ld/fd/%d first if you can",
                       (long)getpid(), log->fd);
    return tu_fail(error, TU_DATA_CONFLICT, log->path,
                   "another program changed the file while it was being written: it has %lld "
                   "bytes, %" PRIu64 " were written; log to a new file",
                   (long long)info.st_size, log->committed);
}

/* Cuts off what stands behind the last commit. Keeps errno. */
static tu_status undo(tu_hitlog *log, const char *what, bool may_retry, tu_error *error)
{
    int reason = errno;
    int failed = ftruncate(log->fd, (off_t)log->committed);
    log->broken = failed || !may_retry;
    return tu_fail(error, TU_SYSTEM_IO, log->path, "%s: %s; %s", what, strerror(reason),
                   failed ? "its end could not be cut off again and may be torn; opening the log "
                            "again keeps that aside"
                          : "it holds every hit that was shown, and no part of a line");
}

tu_status tu_hitlog_commit(tu_hitlog *log, tu_error *error)
{
    if (log->length == 0)
        return TU_OK;
    if (log->broken)
        return tu_fail(error, TU_SYSTEM_IO, log->path,
                       "a write failed before, so nothing more is added; log to a new file");
    tu_status status = check_file(log, error);
    if (status)
        return status;
    if (lseek(log->fd, (off_t)log->committed, SEEK_SET) < 0)
        return tu_hitlog_fail(log, "can't go to its end", error);
    if (!tu_hitlog_write_all(log->fd, log->queue, log->length))
        return undo(log, "can't write to it", true, error);
    /* After a failure the system counts its pages as clean: a second call would lie. */
    if (fdatasync(log->fd))
        return undo(log, "can't bring it to the disk", false, error);
    log->committed += log->length;
    log->length = 0;
    return TU_OK;
}

static bool are_same(const struct stat *a, const struct stat *b)
{
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

bool tu_hitlog_is_file(const tu_hitlog *log, int fd)
{
    struct stat here, there;
    return !fstat(log->fd, &here) && !fstat(fd, &there) && are_same(&here, &there);
}

bool tu_hitlog_has_moved(const tu_hitlog *log)
{
    struct stat here, there;
    return !fstat(log->fd, &here) && (stat(log->path, &there) || !are_same(&here, &there));
}

bool tu_hitlog_may_retry(const tu_hitlog *log)
{
    return !log->broken;
}

void tu_hitlog_abandon(tu_hitlog *log)
{
    if (!log)
        return;
    if (log->fd >= 0)
        close(log->fd);
    free(log->queue);
    free(log->path);
    free(log);
}

tu_status tu_hitlog_close(tu_hitlog *log, tu_error *error)
{
    tu_status status = log ? tu_hitlog_commit(log, error) : TU_OK;
    tu_hitlog_abandon(log); /* what was committed is on the disk: closing can't lose it */
    return status;
}
