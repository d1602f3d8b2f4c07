/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * atomic_file.c - see atomic_file.h.
 */
#include "record/atomic_file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum { ATTEMPTS = 100 };

struct tu_atomic_file {
    char *path;      /* as given, for messages */
    char *target;    /* what is replaced: links followed */
    char *folder;    /* of the target */
    char *temporary; /* NULL: not made, or gone */
    char *old;       /* second name of the old text; NULL: none */
    int lock;        /* the target, held against others that lock it; -1: none */
    int fd;
    FILE *stream; /* owns fd when it is there */
    bool replaces;
    mode_t mode;
};

static tu_status fail_errno(const char *path, const char *what, tu_error *error)
{
    int reason = errno;
    return tu_fail(error, TU_SYSTEM_IO, path, "%s: %s; nothing was changed", what,
                   strerror(reason));
}

static tu_status fail_memory(const char *path, tu_error *error)
{
    return tu_fail(error, TU_SYSTEM_MEMORY, path,
                   "no memory left to write this file; nothing was changed");
}

/* Finds what the path names, and whether it is there. */
static tu_status find_target(tu_atomic_file *file, tu_error *error)
{
    struct stat info;
    if (lstat(file->path, &info)) {
        if (errno != ENOENT)
            return fail_errno(file->path, "can't look at it", error);
        file->target = strdup(file->path);
        return file->target ? TU_OK : fail_memory(file->path, error);
    }
    file->target = realpath(file->path, NULL);
    if (!file->target && errno == ENOMEM)
        return fail_memory(file->path, error);
    if (!file->target || stat(file->target, &info))
        return fail_errno(file->path, "can't follow this link", error);
    if (!S_ISREG(info.st_mode))
        return tu_fail(error, TU_SYSTEM_IO, file->path,
                       "not a regular file, so it can't be replaced; name a file");
    if (access(file->target, W_OK))
        return fail_errno(file->path, "can't write to it", error);
    file->replaces = true;
    file->mode = info.st_mode & 07777;
    return TU_OK;
}

static char *folder_of(const char *path)
{
    const char *slash = strrchr(path, '/');
    if (!slash)
        return strdup(".");
    return slash == path ? strdup("/") : strndup(path, (size_t)(slash - path));
}

static tu_status make_temporary(tu_atomic_file *file, tu_error *error)
{
    size_t size = strlen(file->folder) + 64;
    char *name = malloc(size);
    if (!name)
        return fail_memory(file->path, error);
    for (int i = 0; i < ATTEMPTS; i++) {
        snprintf(name, size, "%s/.trueup-%ld-%d.tmp", file->folder, (long)getpid(), i);
        /* a new file gets the usual permissions, one that stands in for another none but its own */
        file->fd =
            open(name, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, file->replaces ? 0600 : 0666);
        if (file->fd >= 0) {
            file->temporary = name;
            if (file->replaces && fchmod(file->fd, file->mode))
                return fail_errno(file->path, "can't keep its permissions", error);
            return TU_OK;
        }
        if (errno != EEXIST)
            break;
    }
    free(name);
    return fail_errno(file->path, "can't make a temporary file beside it", error);
}

tu_status tu_atomic_open(const char *path, tu_atomic_file **file, tu_error *error)
{
    *file = NULL;
    if (!strcmp(path, "-"))
        return tu_fail(error, TU_USAGE, path,
                       "standard input can't be changed; name the file instead");
    tu_atomic_file *made = calloc(1, sizeof *made);
    if (!made)
        return fail_memory(path, error);
    made->fd = made->lock = -1;
    tu_status status = TU_OK;
    made->path = strdup(path);
    if (!made->path) {
        status = fail_memory(path, error);
        goto cleanup;
    }
    status = find_target(made, error);
    if (status)
        goto cleanup;
    made->folder = folder_of(made->target);
    status = made->folder ? make_temporary(made, error) : fail_memory(path, error);
cleanup:
    if (status)
        tu_atomic_abort(made);
    else
        *file = made;
    return status;
}

/* Whether the locked file is still the one that has the name. */
static bool is_target(const tu_atomic_file *file)
{
    struct stat held, there;
    return !fstat(file->lock, &held) && !stat(file->target, &there) &&
           held.st_ino == there.st_ino && held.st_dev == there.st_dev;
}

tu_status tu_atomic_lock(tu_atomic_file *file, tu_error *error)
{
    const struct timespec pause = {0, 20 * 1000 * 1000};
    for (int i = 0; i < ATTEMPTS; i++) {
        file->lock = open(file->target, O_RDONLY | O_CLOEXEC);
        if (file->lock < 0)
            return fail_errno(file->path, "can't open it", error);
        bool taken = flock(file->lock, LOCK_EX | LOCK_NB) && errno == EWOULDBLOCK;
        if (!taken && is_target(file)) /* a file system without locks is as good as unlocked */
            return TU_OK;
        close(file->lock);
        file->lock = -1;
        if (taken)
            nanosleep(&pause, NULL);
    }
    return tu_fail(error, TU_SYSTEM_IO, file->path,
                   "another program has been changing it for 2 seconds; nothing was changed, try "
                   "again");
}

tu_status tu_atomic_write(tu_atomic_file *file, const char *bytes, size_t length, tu_error *error)
{
    while (length > 0) {
        ssize_t written = write(file->fd, bytes, length);
        if (written < 0 && errno == EINTR)
            continue;
        if (written == 0)
            errno = EIO; /* no progress and no reason */
        if (written <= 0)
            return fail_errno(file->path, "can't write the new text", error);
        bytes += written;
        length -= (size_t)written;
    }
    return TU_OK;
}

tu_status tu_atomic_stream(tu_atomic_file *file, FILE **stream, tu_error *error)
{
    if (!file->stream)
        file->stream = fdopen(file->fd, "w");
    *stream = file->stream;
    return file->stream ? TU_OK : fail_errno(file->path, "can't open a stream to it", error);
}

/* Closes what is open; false with errno when the system reports a late failure. */
static bool close_file(tu_atomic_file *file)
{
    int failed = 0;
    if (file->stream)
        failed = fclose(file->stream);
    else if (file->fd >= 0)
        failed = close(file->fd);
    file->stream = NULL;
    file->fd = -1;
    return failed == 0;
}

/* The new text onto the disk, under the temporary name. */
static tu_status settle(tu_atomic_file *file, tu_error *error)
{
    if (file->stream && (fflush(file->stream) || ferror(file->stream)))
        return fail_errno(file->path, "can't write the new text", error);
    if (fsync(file->fd))
        return fail_errno(file->path, "can't bring the new text to the disk", error);
    if (!close_file(file))
        return fail_errno(file->path, "can't close the new text", error);
    return TU_OK;
}

/* A second name for the old text; none where the file system refuses. */
static tu_status save_old(tu_atomic_file *file, tu_error *error)
{
    size_t size = strlen(file->temporary) + 24;
    char *name = malloc(size);
    if (!name)
        return fail_memory(file->path, error);
    /* The temporary name is free again once another file took its own, so it is no number. */
    for (int i = 0; i < ATTEMPTS; i++) {
        snprintf(name, size, "%.*s.old%d.tmp", (int)(strlen(file->temporary) - strlen(".tmp")),
                 file->temporary, i);
        if (!link(file->target, name)) {
            file->old = name;
            return TU_OK;
        }
        if (errno != EEXIST)
            break;
    }
    free(name);
    return TU_OK;
}

/* A name that is free for certain: a link fails where the name was taken meanwhile, which a rename
 * would not; it is the second best, for file systems that have no links. */
static int take_free_name(const tu_atomic_file *file)
{
    if (!link(file->temporary, file->target))
        return unlink(file->temporary);
    if (errno == EEXIST || !access(file->target, F_OK)) {
        errno = EEXIST;
        return -1;
    }
    return rename(file->temporary, file->target);
}

/* Gives the settled text the file's name. */
static tu_status put_in_place(tu_atomic_file *file, bool new, tu_error *error)
{
    int folder = open(file->folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder < 0)
        return fail_errno(file->path, "can't open its folder", error);
    tu_status status = TU_OK;
    if (new ? take_free_name(file) : rename(file->temporary, file->target)) {
        status = fail_errno(file->path, "can't put the new text in its place", error);
    } else {
        free(file->temporary);
        file->temporary = NULL;
        /* some file systems can't; the new text stands, so this must not read as a failure */
        (void)!fsync(folder);
    }
    close(folder);
    return status;
}

static tu_status commit(tu_atomic_file *file, bool new, tu_error *error)
{
    tu_status status = settle(file, error);
    if (!status)
        status = put_in_place(file, new, error);
    tu_atomic_abort(file);
    return status;
}

tu_status tu_atomic_commit(tu_atomic_file *file, tu_error *error)
{
    return commit(file, false, error);
}

tu_status tu_atomic_commit_new(tu_atomic_file *file, tu_error *error)
{
    if (!file->replaces)
        return commit(file, true, error);
    tu_fail(error, TU_DATA_CONFLICT, file->path, "there is such a file already; it stays as it is");
    tu_atomic_abort(file);
    return TU_DATA_CONFLICT;
}

tu_status tu_atomic_commit_undoable(tu_atomic_file *file, tu_error *error)
{
    tu_status status = settle(file, error);
    if (!status && file->replaces)
        status = save_old(file, error);
    if (!status)
        status = put_in_place(file, false, error);
    if (status)
        tu_atomic_abort(file);
    return status;
}

void tu_atomic_keep(tu_atomic_file *file)
{
    tu_atomic_abort(file); /* only the old text's second name is left to remove */
}

void tu_atomic_undo(tu_atomic_file *file)
{
    if (!file)
        return;
    if (!file->replaces)
        unlink(file->target);
    else if (file->old && !rename(file->old, file->target)) {
        free(file->old);
        file->old = NULL;
    }
    tu_atomic_abort(file);
}

void tu_atomic_abort(tu_atomic_file *file)
{
    if (!file)
        return;
    close_file(file);
    if (file->lock >= 0)
        close(file->lock); /* only read from, and never written */
    if (file->temporary)
        unlink(file->temporary);
    if (file->old)
        unlink(file->old);
    free(file->old);
    free(file->temporary);
    free(file->folder);
    free(file->target);
    free(file->path);
    free(file);
}

tu_status tu_atomic_make(const char *path, tu_text_writer *write, const void *context,
                         tu_atomic_file **made, tu_error *error)
{
    tu_atomic_file *file;
    FILE *stream;
    *made = NULL;
    tu_status status = tu_atomic_open(path, &file, error);
    if (status)
        return status;
    status = tu_atomic_stream(file, &stream, error);
    if (!status)
        status = write(stream, context, error);
    if (status) {
        tu_atomic_abort(file);
        return status;
    }
    status = tu_atomic_commit_undoable(file, error);
    if (!status)
        *made = file;
    return status;
}
