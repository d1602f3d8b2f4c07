/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * path_label.c - the short name of a file among several.
 */
#include "record/path_label.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* Whether path is end, or ends with it behind a slash. */
static bool ends_with(const char *path, const char *end)
{
    size_t length = strlen(path), part = strlen(end);
    return length >= part && strcmp(path + length - part, end) == 0 &&
           (length == part || path[length - part - 1] == '/');
}

static bool is_shared(const char *const *path, size_t count, size_t index, const char *end)
{
    for (size_t i = 0; i < count; i++)
        if (i != index && ends_with(path[i], end))
            return true;
    return false;
}

/* One folder more; NULL: there is none. */
static const char *one_more(const char *path, const char *end)
{
    if (end == path)
        return NULL;
    const char *at = end - 1; /* a slash, unless nothing was taken yet */
    while (at > path && (at[-1] != '/' || at[0] == '/'))
        at--;
    return at;
}

void tu_path_label(const char *const *path, size_t count, size_t index, char *label, size_t size)
{
    const char *whole = path[index], *end = one_more(whole, whole + strlen(whole));
    end = end ? end : whole;
    while (is_shared(path, count, index, end)) {
        const char *more = one_more(whole, end);
        if (!more)
            break; /* all of it is the end of another, which is longer */
        end = more;
    }
    if (strlen(end) < size) {
        snprintf(label, size, "%s", end);
        return;
    }
    size_t used = (size_t)snprintf(label, size, "#%zu ...", index + 1);
    end += strlen(end) - (size - 1 - used);
    while (((unsigned char)*end & 0xC0) == 0x80) /* no half letter of UTF-8 */
        end++;
    snprintf(label + used, size - used, "%s", end);
}
