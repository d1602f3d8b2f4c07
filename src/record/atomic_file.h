/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * atomic_file.h - replaces or makes a file in one step: all of the new text, or what was there.
 *
 *     tu_atomic_file *file;
 *     FILE *stream;
 *     status = tu_atomic_open(path, &file, error);
 *     if (!status)
 *         status = tu_atomic_stream(file, &stream, error);
 *     if (status) { tu_atomic_abort(file); return status; }
 *     fputs("...", stream);
 *     return tu_atomic_commit(file, error);
 *
 * The text goes to a temporary file in the same folder (".trueup-PID-N.tmp", O_EXCL), is synced,
 * and takes the file's name. Permissions of a file that was there are kept, not its owner; a
 * symbolic link stays and what it points to is replaced; another hard link keeps the old text. Only
 * regular files: a device or a pipe is refused. A process that is killed can leave the temporary
 * file; nothing else can.
 */
#ifndef RECORD_ATOMIC_FILE_H
#define RECORD_ATOMIC_FILE_H

#include "trueup/status.h"

#include <stddef.h>
#include <stdio.h>

typedef struct tu_atomic_file tu_atomic_file;

/*
 * Starts the new text of a file. file out; NULL on failure.
 * Returns TU_OK; TU_USAGE for "-", which has no name to replace; TU_SYSTEM_IO; TU_SYSTEM_MEMORY.
 */
tu_status tu_atomic_open(const char *path, tu_atomic_file **file, tu_error *error);

/*
 * Waits until nobody else holds this lock on the file that is to be replaced, up to two seconds,
 * and holds it until file is released. Who looks at the file after it, and finds what he read
 * before, loses nobody's change. TU_SYSTEM_IO.
 */
tu_status tu_atomic_lock(tu_atomic_file *file, tu_error *error);

/* Writes bytes at once, unbuffered. Not to be mixed with the stream. */
tu_status tu_atomic_write(tu_atomic_file *file, const char *bytes, size_t length, tu_error *error);

/* A stream to write to, owned by file. Its errors may be left to tu_atomic_commit. */
tu_status tu_atomic_stream(tu_atomic_file *file, FILE **stream, tu_error *error);

/*
 * Makes the new text the file's, and releases file in every case. On failure the file is as it was
 * and the temporary file is gone. The folder is synced too; where it refuses, the new text stands
 * already, and that is not a failure.
 */
tu_status tu_atomic_commit(tu_atomic_file *file, tu_error *error);

/* As tu_atomic_commit, but a file that is there stays: TU_DATA_CONFLICT. */
tu_status tu_atomic_commit_new(tu_atomic_file *file, tu_error *error);

/*
 * As tu_atomic_commit, but what was there before can come back: file lives on after success, until
 * tu_atomic_keep or tu_atomic_undo releases it. On failure it is released.
 * The old text waits under a second name, a hard link. Where the file system has none, an old file
 * cannot come back.
 */
tu_status tu_atomic_commit_undoable(tu_atomic_file *file, tu_error *error);

/*
 * The whole of it: opens, has the text written, commits undoably.
 *   write    puts the text of context on the stream.
 *   file     out, for tu_atomic_keep or tu_atomic_undo; NULL on failure.
 * Returns TU_OK, what opening, write or committing returned; the file is then as it was.
 */
typedef tu_status tu_text_writer(FILE *out, const void *context, tu_error *error);
tu_status tu_atomic_make(const char *path, tu_text_writer *write, const void *context,
                         tu_atomic_file **file, tu_error *error);

/* The new text is final. NULL is allowed. */
void tu_atomic_keep(tu_atomic_file *file);

/* The old text is the file's again, or the file is gone where there was none. NULL is allowed. */
void tu_atomic_undo(tu_atomic_file *file);

/* Gives up: removes the temporary file, releases file. NULL is allowed. */
void tu_atomic_abort(tu_atomic_file *file);

#endif
