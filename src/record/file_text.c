/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * file_text.c - see file_text.h.
 */
#include "record/file_text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static tu_status fail_errno(const char *path, const char *what, tu_error *error)
{
    int reason = errno;
    bool absent = reason == ENOENT;
    return tu_fail(error, TU_SYSTEM_IO, strcmp(path, "-") ? path : "standard input", "%s: %s%s",
                   what, strerror(reason), absent ? "; check the name and the folder" : "");
}

/* Makes room for at least one more byte and the closing NUL. */
static bool grow(char **text, size_t length, size_t *room)
{
    if (length + 1 < *room)
        return true;
    size_t larger = *room ? 2 * *room : 8192;
    char *grown = realloc(*text, larger);
    if (!grown)
        return false;
    *text = grown;
    *room = larger;
    return true;
}

static tu_status read_all(int fd, const char *path, size_t limit, char **text, size_t *length,
                          tu_error *error)
{
    size_t room = 0;
    for (;;) {
        if (!grow(text, *length, &room))
            return tu_fail(error, TU_SYSTEM_MEMORY, path, "no memory left to read this file");
        ssize_t got = read(fd, *text + *length, room - *length - 1);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return fail_errno(path, "can't read it", error);
        if (got == 0)
            break;
        *length += (size_t)got;
        if (*length > limit)
            return tu_fail(error, TU_DATA_RANGE, path,
                           "larger than %zu bytes, which no such file should be; is it the right "
                           "file?",
                           limit);
    }
    (*text)[*length] = '\0';
    return TU_OK;
}

tu_status tu_file_text_read(const char *path, size_t limit, char **text, size_t *length,
                            tu_error *error)
{
    bool standard = !strcmp(path, "-");
    *text = NULL;
    *length = 0;
    int fd = standard ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC);
    if (fd < 0)
        return fail_errno(path, "can't open it", error);
    tu_status status = read_all(fd, path, limit, text, length, error);
    if (!standard)
        close(fd); /* only read from: nothing can be lost here */
    if (status) {
        free(*text);
        *text = NULL;
        *length = 0;
    }
    return status;
}
