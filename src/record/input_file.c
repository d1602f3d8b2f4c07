/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * input_file.c - see input_file.h.
 */
#define _GNU_SOURCE /* tee */
#include "record/input_file.h"

#include <errno.h>
#include <fcntl.h>
#include <linux/magic.h>
#include <poll.h>
#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/vfs.h>
#include <unistd.h>

const char *tu_input_name(const char *path)
{
    return strcmp(path, "-") == 0 ? "standard input" : path;
}

static tu_status fail_open(const char *path, tu_error *error)
{
    int reason = errno;
    return tu_fail(error, TU_SYSTEM_IO, path, "can't open it: %s%s", strerror(reason),
                   reason == ENOENT ? "; check the name and the folder" : "");
}

/* What no file's contents can be read from. */
static tu_status check_kind(const char *path, mode_t mode, tu_error *error)
{
    if (S_ISDIR(mode))
        return tu_fail(error, TU_SYSTEM_IO, path, "is a folder; name the file in it");
    if (S_ISCHR(mode) || S_ISBLK(mode))
        return tu_fail(error, TU_SYSTEM_IO, path,
                       "is a device and no file; what comes through a pipe is standard input, -");
    if (S_ISSOCK(mode))
        return tu_fail(error, TU_SYSTEM_IO, path, "is a socket and no file");
    return TU_OK;
}

/*
 * Whether somebody writes to a pipe, or has. poll tells of data and of a writer that left; of one
 * that is there and says nothing only a read would, and that could take a byte. tee takes none.
 */
static bool has_writer(int fd, int spare)
{
    struct pollfd ready = {.fd = fd, .events = POLLIN};
    if (poll(&ready, 1, 0) != 0)
        return true;
    return tee(fd, spare, 1, SPLICE_F_NONBLOCK) != 0;
}

static tu_status wait_for_writer(const char *path, int fd, tu_error *error)
{
    enum { STEP_MS = 20 };
    int spare[2];
    if (pipe2(spare, O_CLOEXEC | O_NONBLOCK))
        return fail_open(path, error);
    bool written = has_writer(fd, spare[1]);
    for (int waited = 0; !written && waited < TU_INPUT_WAIT_MS; waited += STEP_MS) {
        poll(NULL, 0, STEP_MS);
        written = has_writer(fd, spare[1]);
    }
    close(spare[0]);
    close(spare[1]);
    return written ? TU_OK
                   : tu_fail(error, TU_SYSTEM_IO, path,
                             "is a pipe, and nobody wrote to it for %d s: first start what writes "
                             "to it, or name a file",
                             TU_INPUT_WAIT_MS / 1000);
}

/* A pipe of the shell has no name, and no writer any more once all is written. */
static bool is_named_pipe(int fd, mode_t mode)
{
    struct statfs where;
    return S_ISFIFO(mode) && (fstatfs(fd, &where) || where.f_type != PIPEFS_MAGIC);
}

/* Opened without waiting, so that a named pipe can be asked for its writer first. */
static tu_status prepare(const char *path, int fd, tu_error *error)
{
    struct stat info;
    if (fstat(fd, &info))
        return fail_open(path, error);
    tu_status status = check_kind(path, info.st_mode, error);
    if (!status && is_named_pipe(fd, info.st_mode))
        status = wait_for_writer(path, fd, error);
    int flags = status ? 0 : fcntl(fd, F_GETFL);
    if (!status && (flags < 0 || fcntl(fd, F_SETFL, flags & ~O_NONBLOCK) < 0))
        status = fail_open(path, error);
    return status;
}

tu_status tu_input_open(const char *path, int *fd, tu_error *error)
{
    struct stat info;
    *fd = strcmp(path, "-") == 0 ? STDIN_FILENO : -1;
    if (*fd >= 0)
        return TU_OK;
    if (stat(path, &info))
        return fail_open(path, error);
    tu_status status = check_kind(path, info.st_mode, error);
    if (status)
        return status;
    *fd = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
    if (*fd < 0)
        return fail_open(path, error);
    status = prepare(path, *fd, error);
    if (status) {
        close(*fd);
        *fd = -1;
    }
    return status;
}

void tu_input_close(const char *path, int fd)
{
    if (fd >= 0 && strcmp(path, "-") != 0)
        close(fd); /* only read from: nothing can be lost here */
}
