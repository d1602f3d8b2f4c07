/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * file_text.c - see file_text.h.
 */
#include "record/file_text.h"

#include "record/input_file.h"

#include <errno.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

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
            return tu_fail(error, TU_SYSTEM_IO, tu_input_name(path), "can't read it: %s",
                           strerror(errno));
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
    int fd;
    *text = NULL;
    *length = 0;
    tu_status status = tu_input_open(path, &fd, error);
    if (status)
        return status;
    status = read_all(fd, path, limit, text, length, error);
    tu_input_close(path, fd);
    if (status) {
        free(*text);
        *text = NULL;
        *length = 0;
    }
    return status;
}
