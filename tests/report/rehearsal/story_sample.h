/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * story_sample.h - a rehearsal's story made by hand, for tests of its reports.
 */
#ifndef TRUEUP_TESTS_STORY_SAMPLE_H
#define TRUEUP_TESTS_STORY_SAMPLE_H

#include "check.h"

#include "report/rehearsal/rehearsal_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SAMPLE_TOUCHES = 5 };

typedef struct story_sample {
    tu_scene scene;
    tu_rehearsal_touch touches[SAMPLE_TOUCHES];
    tu_rehearsal_pause pauses[1];
    tu_rehearsal_story story;
} story_sample;

static inline tu_rehearsal_touch sample_touch(size_t line, tu_axis axis, double x, double z,
                                              bool counts)
{
    tu_rehearsal_touch touch = {.hit = {.sequence = line,
                                        .device_us = 1000000 * line,
                                        .position = {x, 30, z},
                                        .axis = axis,
                                        .direction = axis == TU_AXIS_X ? 1 : -1,
                                        .series = "corner",
                                        .ok = counts},
                                .line = line};
    return touch;
}

/*
 * Touches: a search and two of Z at -40.1 and -40.2, a search and one of X at 100. G54 X and Z were
 * set to 109.5 and -49.6; the true front-left-top is 109.525, 80, -49.65.
 */
static inline void story_sample_start(story_sample *s)
{
    memset(s, 0, sizeof *s);
    s->scene = tu_scene_start();
    s->scene.cutter.diameter = (tu_quantity){6, NAN, true};
    s->touches[0] = sample_touch(3, TU_AXIS_Z, 90, -40, false);
    s->touches[1] = sample_touch(5, TU_AXIS_Z, 90, -40.1, true);
    s->touches[2] = sample_touch(7, TU_AXIS_Z, 90, -40.2, true);
    s->touches[3] = sample_touch(9, TU_AXIS_X, 100.5, -45, false);
    s->touches[4] = sample_touch(11, TU_AXIS_X, 100, -45, true);
    s->pauses[0] = (tu_rehearsal_pause){8, "turn an edge to the right"};
    s->story = (tu_rehearsal_story){.program_name = "t.ngc",
                                    .scene_name = "t.json",
                                    .scene = &s->scene,
                                    .touches = s->touches,
                                    .touch_count = SAMPLE_TOUCHES,
                                    .pauses = s->pauses,
                                    .pause_count = 1,
                                    .target = {.outward = {-1, -1, +1}},
                                    .truth = {109.525, 80, -49.65},
                                    .within_mm = NAN};
    s->story.result.seconds = 65;
    s->story.result.slot_set[0][TU_AXIS_X] = s->story.result.slot_set[0][TU_AXIS_Z] = true;
    s->story.result.slot_mm[0][TU_AXIS_X] = 109.5;
    s->story.result.slot_mm[0][TU_AXIS_Z] = -49.6;
}

static inline void story_sample_fault(story_sample *s)
{
    tu_rehearsal *result = &s->story.result;
    result->fault = TU_FAULT_COLLISION;
    result->line = 12;
    strcpy(result->text, "line 12: the cutter ran into clamp at X1.000 Y2.000 Z3.000");
    strcpy(result->struck, "clamp");
    result->at = (tu_machine_point){1, 2, 3};
}

#endif
