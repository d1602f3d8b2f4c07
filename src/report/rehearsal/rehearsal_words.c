/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearsal_words.c - what text, JSON and drawing of a rehearsal ask of its story.
 */
#include "report/rehearsal/rehearsal_words.h"

#include <math.h>
#include <string.h>

const char *tu_fault_name(tu_fault fault)
{
    static const char *const names[] = {
        [TU_FAULT_NONE] = "none",
        [TU_FAULT_BLOCK] = "block",
        [TU_FAULT_COLLISION] = "collision",
        [TU_FAULT_NO_CONTACT] = "no_contact",
        [TU_FAULT_ALREADY_TOUCHING] = "already_touching",
        [TU_FAULT_PRESSED] = "pressed",
        [TU_FAULT_TRAVEL] = "travel",
        [TU_FAULT_NO_FEED] = "no_feed",
        [TU_FAULT_PROBE_SHORT] = "probe_short",
        [TU_FAULT_NO_END] = "no_end",
    };
    size_t index = (size_t)fault;
    return index < sizeof names / sizeof names[0] ? names[index] : "";
}

bool tu_fault_is_of_text(tu_fault fault)
{
    return fault == TU_FAULT_BLOCK || fault == TU_FAULT_NO_END;
}

size_t tu_story_searches(const tu_rehearsal_story *story)
{
    size_t count = 0;
    for (size_t i = 0; i < story->touch_count; i++)
        count += !story->touches[i].hit.ok;
    return count;
}

bool tu_story_sets_slot(const tu_rehearsal_story *story, int slot)
{
    const bool *set = story->result.slot_set[slot];
    return set[TU_AXIS_X] || set[TU_AXIS_Y] || set[TU_AXIS_Z];
}

bool tu_story_sets_offset(const tu_rehearsal_story *story)
{
    bool any = false;
    for (int slot = 0; slot < 9; slot++)
        any = any || tu_story_sets_slot(story, slot);
    return any;
}

double tu_story_difference(const tu_rehearsal_story *story, int slot, tu_axis axis)
{
    const double truth[] = {story->truth.x, story->truth.y, story->truth.z};
    return story->result.slot_set[slot][axis] ? story->result.slot_mm[slot][axis] - truth[axis]
                                              : NAN;
}

bool tu_story_axis_is_off(const tu_rehearsal_story *story, int slot, tu_axis axis)
{
    /* a whisker for the last bits: what is set to the very limit is within it */
    return fabs(tu_story_difference(story, slot, axis)) > story->within_mm + 1e-9;
}

bool tu_story_is_off(const tu_rehearsal_story *story)
{
    bool any = false;
    for (int slot = 0; slot < 9; slot++)
        for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
            any = any || tu_story_axis_is_off(story, slot, (tu_axis)axis);
    return any;
}

bool tu_story_is_mismatched(const tu_rehearsal_story *story)
{
    return story->result.fault == TU_FAULT_NONE && story->result.mismatch_count > 0;
}

/* Farther apart than repeats of a place ever are. */
static const double same_place_mm = 0.5;

static bool belongs(const tu_story_group *group, const tu_hit *hit)
{
    const tu_machine_point *a = &group->hit->position, *b = &hit->position;
    return group->hit->axis == hit->axis && group->hit->direction == hit->direction &&
           strcmp(group->hit->series, hit->series) == 0 &&
           hypot(hypot(b->x - a->x, b->y - a->y), b->z - a->z) < same_place_mm;
}

/* The mean of so many becomes that of one more. */
static void add_to_mean(tu_machine_point *mean, const tu_machine_point *at, size_t count)
{
    mean->x += (at->x - mean->x) / (double)count;
    mean->y += (at->y - mean->y) / (double)count;
    mean->z += (at->z - mean->z) / (double)count;
}

size_t tu_story_groups(const tu_rehearsal_story *story, tu_story_group *groups, size_t most)
{
    tu_story_group now = {0};
    size_t count = 0, number = 0;
    for (size_t i = 0; i < story->touch_count; i++) {
        const tu_hit *hit = &story->touches[i].hit;
        if (!hit->ok)
            continue;
        number++;
        if (count > 0 && belongs(&now, hit)) {
            now.last = number;
            add_to_mean(&now.mean, &hit->position, number - now.first + 1);
        } else {
            now = (tu_story_group){number, number, hit, hit->position};
            count++;
        }
        if (count <= most)
            groups[count - 1] = now;
    }
    return count;
}

tu_duration_text tu_story_duration(double seconds)
{
    tu_duration_text text;
    double whole = round(seconds);
    if (whole >= 3600)
        snprintf(text.text, sizeof text.text, "%.0f h %.0f min", floor(whole / 3600),
                 floor(fmod(whole, 3600) / 60));
    else if (whole >= 60)
        snprintf(text.text, sizeof text.text, "%.0f min %.0f s", floor(whole / 60),
                 fmod(whole, 60));
    else
        snprintf(text.text, sizeof text.text, "%.0f s", whole);
    return text;
}
