/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearsal_words.h - what text, JSON and drawing of a rehearsal ask of its story (internal).
 */
#ifndef TU_REPORT_REHEARSAL_WORDS_H
#define TU_REPORT_REHEARSAL_WORDS_H

#include "trueup/report_rehearsal.h"

/* How many touches only search. */
size_t tu_story_searches(const tu_rehearsal_story *story);
/* Whether the program set that slot (0 to 8), or any, on any axis. */
bool tu_story_sets_slot(const tu_rehearsal_story *story, int slot);
bool tu_story_sets_offset(const tu_rehearsal_story *story);
/* The offset that the program set less the truth; NaN: not set, or no truth to compare with. */
double tu_story_difference(const tu_rehearsal_story *story, int slot, tu_axis axis);

/* Whether that difference is more than the story allows. */
bool tu_story_axis_is_off(const tu_rehearsal_story *story, int slot, tu_axis axis);

/* Touches that count, one after the other, of one series, way and place: their numbers, from 1, and
 * the mean of their positions. */
typedef struct tu_story_group {
    size_t first, last;
    const tu_hit *hit; /* the first of them */
    tu_machine_point mean;
} tu_story_group;

/* Finds up to `most` groups, in order; returns how many there are, which may be more. */
size_t tu_story_groups(const tu_rehearsal_story *story, tu_story_group *groups, size_t most);

typedef struct tu_duration_text {
    char text[48];
} tu_duration_text;

/* "1 h 4 min", "1 min 5 s", "14 s". */
tu_duration_text tu_story_duration(double seconds);

#endif
