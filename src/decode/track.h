/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * track.h - the numbering of lines: gaps, wraps, restarts (internal).
 */
#ifndef DECODE_TRACK_H
#define DECODE_TRACK_H

#include "trueup/decode.h"

#include <stdbool.h>
#include <stdint.h>

typedef enum tu_track_step {
    TU_TRACK_ON,     /* goes on, perhaps behind a gap */
    TU_TRACK_AGAIN,  /* the same line again */
    TU_TRACK_RESTART /* the device started anew */
} tu_track_step;

/*
 * Judges the next line of a form.
 *   wraps    the form's clock may have 32 bits and run over its end.
 *   heard    something was read from this device before, in any form.
 *   missing  out: the lines of the gap before this one; 0 with any other step than TU_TRACK_ON.
 */
tu_track_step tu_track_judge(const tu_decode_track *track, const tu_decoded *line, bool wraps,
                             bool heard, uint64_t *missing);

/* The line is now the last one. */
void tu_track_advance(tu_decode_track *track, const tu_decoded *line);

#endif
