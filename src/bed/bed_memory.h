/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_memory.h - the caller's block of memory, handed out piece by piece (internal).
 */
#ifndef TRUEUP_BED_BED_MEMORY_H
#define TRUEUP_BED_BED_MEMORY_H

#include "trueup/status.h"

#include <stddef.h>

enum { TU_BED_ALIGNMENT = 16 };

typedef struct tu_bed_memory {
    char *at;
    size_t left;
} tu_bed_memory;

/* The size that `count` items of `size` bytes take in a block. */
static inline size_t tu_bed_memory_size(size_t count, size_t size)
{
    return (count * size + TU_BED_ALIGNMENT - 1) / TU_BED_ALIGNMENT * TU_BED_ALIGNMENT;
}

/* NULL when it is used up: a defect of the function that states the size. */
static inline void *tu_bed_memory_take(tu_bed_memory *memory, size_t count, size_t size)
{
    const size_t bytes = tu_bed_memory_size(count, size);
    void *piece = memory->at;

    if (bytes > memory->left)
        return NULL;
    memory->at += bytes;
    memory->left -= bytes;
    return piece;
}

/* Starts on a block; TU_USAGE when it is NULL or smaller than needed. */
static inline tu_status tu_bed_memory_start(tu_bed_memory *memory, void *block, size_t bytes,
                                            size_t needed, tu_error *error)
{
    *memory = (tu_bed_memory){block, bytes};
    if (!block || bytes < needed)
        return tu_fail(error, TU_USAGE, NULL, "work space of %zu bytes is needed, not %zu", needed,
                       block ? bytes : 0);
    return TU_OK;
}

#endif
