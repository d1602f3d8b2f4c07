/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hitlog_open.c - opens a hit log for writing: makes it, or finds where it may go on.
 */
#define _GNU_SOURCE /* F_OFD_SETLK */
#include "record/hitlog_parts.h"
#include "record/hits_form.h"
#include "record/hits_read.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Opens the file, or makes it (*made). */
static tu_status open_file(tu_hitlog *log, bool *made, tu_error *error)
{
    struct stat info;
    log->fd = open(log->path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC | O_NOCTTY, 0666);
    *made = log->fd >= 0;
    if (log->fd < 0 && errno == EEXIST)
        log->fd = open(log->path, O_RDWR | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
    if (log->fd < 0)
        return tu_hitlog_fail(log, "can't open it for writing", error);
    if (fstat(log->fd, &info))
        return tu_hitlog_fail(log, "can't look at it", error);
    if (!S_ISREG(info.st_mode))
        return tu_fail(error, TU_SYSTEM_IO, log->path,
                       "not a regular file, so no hit in it would be safe; name a file");
    return TU_OK;
}

/* The lock is the open file's, not the process's: it goes when the descriptor does. */
static tu_status lock_file(tu_hitlog *log, tu_error *error)
{
    struct flock lock = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    struct stat info;
    if (fcntl(log->fd, F_OFD_SETLK, &lock)) {
        if (errno == EAGAIN || errno == EACCES)
            return tu_fail(error, TU_DATA_CONFLICT, log->path,
                           "another program is writing this log; end that one, or log to another "
                           "file");
        return tu_hitlog_fail(log, "can't lock it; log to a file on a disk of this computer",
                              error);
    }
    if (fstat(log->fd, &info))
        return tu_hitlog_fail(log, "can't look at it", error);
    if (info.st_nlink == 0)
        return tu_fail(error, TU_DATA_CONFLICT, log->path,
                       "another program removed it just now; try again");
    log->committed = (uint64_t)info.st_size;
    return TU_OK;
}

/* Makes the name of a new file durable, where the file system can. */
static tu_status sync_folder(const tu_hitlog *log, tu_error *error)
{
    const char *slash = strrchr(log->path, '/');
    char *folder = !slash               ? strdup(".")
                   : slash == log->path ? strdup("/")
                                        : strndup(log->path, (size_t)(slash - log->path));
    if (!folder)
        return tu_fail(error, TU_SYSTEM_MEMORY, log->path, "no memory left to open this log");
    int fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    free(folder);
    if (fd < 0) /* a folder that may be written but not read */
        return errno == EACCES ? TU_OK : tu_hitlog_fail(log, "can't open its folder", error);
    int failed = fsync(fd), reason = errno;
    close(fd);
    errno = reason;
    if (failed && reason != EINVAL && reason != EBADF && reason != ENOTSUP)
        return tu_hitlog_fail(log, "can't bring its name to the disk", error);
    return TU_OK;
}

static tu_status write_header(tu_hitlog *log, const char *utc, tu_error *error)
{
    tu_status status = tu_hitlog_reserve(log, error);
    if (status)
        return status;
    log->length = tu_hits_format_header(log->queue, TU_HITS_LINE_MAX, utc);
    if (!log->length)
        return tu_fail(error, TU_DATA_SYNTAX, log->path, "\"%s\" is no time in UTC", utc);
    status = tu_hitlog_commit(log, error);
    return status ? status : sync_folder(log, error);
}

/* A file without a whole line may be what is left of a header; else it is someone else's. */
static tu_status check_torn_header(const tu_hitlog *log, tu_error *error)
{
    static const char start[] = "{\"trueup\":\"hits\"";
    static const char zeros[sizeof start];
    char text[sizeof start - 1];
    ssize_t got = pread(log->fd, text, sizeof text, 0);
    if (got < 0)
        return tu_hitlog_fail(log, "can't read it", error);
    if (!memcmp(text, start, (size_t)got) || !memcmp(text, zeros, (size_t)got))
        return TU_OK;
    return tu_fail(
        error, TU_DATA_SYNTAX, log->path,
        "not a hit log: its first line should be {\"trueup\":\"hits\",\"schema\":1,...}; "
        "nothing was changed, log to another file");
}

/* Reads all that stands. *good: where the last whole line ends. */
static tu_status check_lines(tu_hitlog *log, tu_hitlog_found *found, uint64_t *good,
                             tu_error *error)
{
    tu_hits_reader *reader;
    tu_hits_record record;
    tu_hit hit;
    bool have = true;
    tu_status status = tu_hits_start(log->path, log->fd, &reader, error);
    if (status)
        return status;
    status = tu_hits_check_header(reader, error);
    if (status && reader->offset == 0 && reader->torn > 0)
        status = check_torn_header(log, error);
    else
        while (!status && have) {
            status = tu_hits_next_record(reader, &hit, &record, &have, error);
            if (status || !have)
                continue;
            bool is_hit = strcmp(record.kind, "hit") == 0;
            uint64_t sequence = is_hit ? hit.sequence : record.sequence;
            found->hits += is_hit;
            if (sequence != TU_HITS_NO_SEQUENCE && sequence > found->last_sequence)
                found->last_sequence = sequence;
        }
    *good = reader->offset;
    found->torn_bytes = reader->torn;
    tu_hits_close(reader);
    return status;
}

/* Adds the bytes behind `good` to an open file of what was torn, and a line feed. */
static tu_status copy_tail(const tu_hitlog *log, uint64_t good, int to, const char *path,
                           tu_error *error)
{
    char bytes[4096];
    for (uint64_t at = good; at < log->committed;) {
        uint64_t left = log->committed - at;
        ssize_t got =
            pread(log->fd, bytes, left < sizeof bytes ? (size_t)left : sizeof bytes, (off_t)at);
        if (got <= 0)
            return tu_hitlog_fail(log, "can't read its torn end", error);
        if (!tu_hitlog_write_all(to, bytes, (size_t)got))
            return tu_fail(error, TU_SYSTEM_IO, path, "can't keep the torn end of the log here: %s",
                           strerror(errno));
        at += (uint64_t)got;
    }
    if (!tu_hitlog_write_all(to, "\n", 1) || fsync(to))
        return tu_fail(error, TU_SYSTEM_IO, path, "can't keep the torn end of the log here: %s",
                       strerror(errno));
    return TU_OK;
}

/* First the copy becomes durable, then the log is cut: at no moment are the bytes nowhere. */
static tu_status keep_torn(tu_hitlog *log, uint64_t good, tu_hitlog_found *found, tu_error *error)
{
    int length = snprintf(found->torn_path, sizeof found->torn_path, "%s.torn", log->path);
    if (length < 0 || (size_t)length >= sizeof found->torn_path)
        return tu_fail(error, TU_DATA_RANGE, log->path, "a path this long can't be used");
    int to = open(found->torn_path, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC | O_NOCTTY, 0666);
    if (to < 0)
        return tu_fail(error, TU_SYSTEM_IO, found->torn_path,
                       "can't keep the torn end of the log here: %s", strerror(errno));
    tu_status status = copy_tail(log, good, to, found->torn_path, error);
    close(to);
    if (!status)
        status = sync_folder(log, error);
    if (status)
        return status;
    if (ftruncate(log->fd, (off_t)good) || fdatasync(log->fd))
        return tu_hitlog_fail(log, "can't cut off its torn end", error);
    log->committed = good;
    return TU_OK;
}

static tu_status open_standing(tu_hitlog *log, const char *utc, tu_hitlog_found *found,
                               tu_error *error)
{
    uint64_t good = 0;
    tu_status status = check_lines(log, found, &good, error);
    if (!status && found->torn_bytes > 0)
        status = keep_torn(log, good, found, error);
    if (!status && found->last_sequence >= TU_HITS_WHOLE_MAX)
        status = tu_fail(error, TU_DATA_RANGE, log->path,
                         "its hits are numbered up to the end; log to a new file");
    if (!status && log->committed == 0)
        status = write_header(log, utc, error);
    log->next_sequence = found->last_sequence + 1;
    return status;
}

tu_status tu_hitlog_open(const char *path, const char *utc, tu_hitlog **log, tu_hitlog_found *found,
                         tu_error *error)
{
    bool made = false, locked = false;
    *log = NULL;
    *found = (tu_hitlog_found){0};
    if (!strcmp(path, "-"))
        return tu_fail(error, TU_USAGE, path, "a log is added to, so it needs a file's name");
    tu_hitlog *opened = calloc(1, sizeof *opened);
    if (opened)
        opened->path = strdup(path);
    if (!opened || !opened->path) {
        free(opened);
        return tu_fail(error, TU_SYSTEM_MEMORY, path, "no memory left to open this log");
    }
    opened->fd = -1;
    opened->next_sequence = 1;
    tu_status status = open_file(opened, &made, error);
    if (!status)
        status = lock_file(opened, error);
    locked = !status;
    found->existed = !made && opened->committed > 0;
    if (!status)
        status = opened->committed == 0 ? write_header(opened, utc, error)
                                        : open_standing(opened, utc, found, error);
    if (!status) {
        *log = opened;
        return TU_OK;
    }
    if (made && locked)
        unlink(path);
    tu_hitlog_abandon(opened);
    return status;
}
