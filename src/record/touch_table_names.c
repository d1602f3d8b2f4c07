/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_table_names.c - the names of series and levels, each kept once.
 */
#include "record/touch_table_parts.h"

#include <stdlib.h>
#include <string.h>

/* FNV-1a (G. Fowler, L. C. Noll, K.-P. Vo). */
static uint32_t hash(const char *name, size_t length)
{
    uint32_t h = UINT32_C(2166136261);
    for (size_t i = 0; i < length; i++)
        h = (h ^ (unsigned char)name[i]) * UINT32_C(16777619);
    return h;
}

/* The slot of the name, or the free one where it belongs. */
static size_t find_slot(const tu_name_list *list, const char *name, size_t length)
{
    size_t at = hash(name, length) & (list->slots - 1);
    for (; list->slot[at]; at = (at + 1) & (list->slots - 1)) {
        const char *there = list->name[list->slot[at] - 1];
        if (memcmp(there, name, length) == 0 && there[length] == '\0')
            break;
    }
    return at;
}

static bool grow(tu_name_list *list)
{
    size_t capacity = list->capacity ? 2 * list->capacity : 16;
    void *names = realloc(list->name, capacity * sizeof *list->name);
    if (!names)
        return false;
    list->name = names;
    uint32_t *slot = calloc(2 * capacity, sizeof *slot);
    if (!slot)
        return false;
    free(list->slot);
    list->slot = slot;
    list->slots = 2 * capacity;
    list->capacity = capacity;
    for (size_t i = 0; i < list->count; i++)
        slot[find_slot(list, list->name[i], strlen(list->name[i]))] = (uint32_t)i + 1;
    return true;
}

bool tu_name_list_find(tu_name_list *list, const char *name, size_t length, uint32_t *index)
{
    if (list->count == list->capacity && !grow(list))
        return false;
    size_t at = find_slot(list, name, length);
    if (!list->slot[at]) {
        memset(list->name[list->count], 0, TU_NAME_SIZE);
        memcpy(list->name[list->count], name, length);
        list->slot[at] = (uint32_t)++list->count;
    }
    *index = list->last = list->slot[at] - 1;
    return true;
}

bool tu_name_list_is_last(const tu_name_list *list, const char *name, size_t length)
{
    if (list->count == 0)
        return false;
    const char *last = list->name[list->last];
    return strlen(last) == length && memcmp(last, name, length) == 0;
}

void tu_name_list_free(tu_name_list *list)
{
    free(list->name);
    free(list->slot);
}
