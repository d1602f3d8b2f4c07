/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * ring.h - bytes that wait for the transmitter. Pure; filled and emptied by the main loop alone, so
 * no interrupt ever waits for it.
 */
#ifndef FIRMWARE_RING_H
#define FIRMWARE_RING_H

#include <stdbool.h>
#include <stdint.h>

/* 256 bytes less one, so that the indices wrap by themselves. */
typedef struct ring {
    uint8_t head, tail;
    char bytes[256];
} ring;

static inline uint8_t ring_free(const ring *r)
{
    return (uint8_t)(r->tail - r->head - 1);
}

static inline bool ring_empty(const ring *r)
{
    return r->head == r->tail;
}

/* All of it or nothing: half a sentence helps nobody. */
static inline bool ring_put(ring *r, const char *bytes, uint8_t length)
{
    if (ring_free(r) < length)
        return false;
    while (length-- > 0)
        r->bytes[r->head++] = *bytes++;
    return true;
}

/* Only when not empty. */
static inline char ring_take(ring *r)
{
    return r->bytes[r->tail++];
}

#endif
