/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * track.c - the numbering of lines: gaps, wraps, restarts.
 *
 * Numbers and clocks of 32 bits run over their end, and are compared as in RFC 1982 (serial number
 * arithmetic): what lies less than half the range ahead is later.
 */
#include "decode/track.h"

#include <math.h>

/* How far `to` is ahead of `from`; 0: the same, or back. */
static uint64_t ahead(uint64_t from, uint64_t to)
{
    const uint32_t half = UINT32_C(1) << 31;
    if (to > from)
        return to <= UINT32_MAX && to - from >= half ? 0 : to - from;
    if (from > UINT32_MAX || to == from)
        return 0;
    uint32_t step = (uint32_t)to - (uint32_t)from;
    return step < half ? step : 0;
}

/* A clock that is not stated (0) says nothing. Where a clock of 32 bits may be, half an hour
 * without a line is the most that is told from a restart. */
static bool clock_went_back(uint64_t from_us, uint64_t to_us, bool wraps)
{
    if (from_us == 0 || to_us == 0 || to_us >= from_us)
        return false;
    return !wraps || ahead(from_us, to_us) == 0;
}

static bool is_same_place(const double a[TU_AXIS_COUNT], const double b[TU_AXIS_COUNT])
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (a[axis] != b[axis] && !(isnan(a[axis]) && isnan(b[axis])))
            return false;
    return true;
}

tu_track_step tu_track_judge(const tu_decode_track *track, const tu_decoded *line, bool wraps,
                             bool heard, uint64_t *missing)
{
    *missing = 0;
    bool hello = line->kind == TU_DECODED_HELLO;
    if (hello && heard && (!line->has_sequence || line->sequence == 0))
        return TU_TRACK_RESTART;
    /* Says more than number and clock, which both may have run past where they stood. */
    if (track->has_boot && line->has_boot && line->boot != track->boot)
        return TU_TRACK_RESTART;
    if (clock_went_back(track->device_us, line->device_us, wraps))
        return TU_TRACK_RESTART;
    if (!track->known || !line->has_sequence)
        return TU_TRACK_ON;
    if (line->sequence == track->sequence) {
        bool same = !hello && (line->device_us == 0 || line->device_us == track->device_us) &&
                    is_same_place(line->position_mm, track->position_mm);
        return same ? TU_TRACK_AGAIN : TU_TRACK_RESTART;
    }
    uint64_t step = ahead(track->sequence, line->sequence);
    if (step == 0)
        return TU_TRACK_RESTART;
    *missing = step - 1;
    return TU_TRACK_ON;
}

void tu_track_advance(tu_decode_track *track, const tu_decoded *line)
{
    if (line->has_sequence) {
        track->known = true;
        track->sequence = line->sequence;
    }
    if (line->has_boot) {
        track->has_boot = true;
        track->boot = line->boot;
    }
    if (line->device_us != 0)
        track->device_us = line->device_us;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        track->position_mm[axis] = line->position_mm[axis];
}
