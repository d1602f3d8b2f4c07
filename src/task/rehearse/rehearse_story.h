/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_story.h - runs a program and keeps what happened.
 */
#ifndef TU_TASK_REHEARSE_STORY_H
#define TU_TASK_REHEARSE_STORY_H

#include "trueup/report_rehearsal.h"

enum { TU_STORY_MOVES_MAX = 20000 }; /* more than a sheet can show */

/*
 * Rehearses program[0..length) in the scene.
 *   moves  whether to keep them, for the drawing.
 *   story  starts as {0} with its scene, names and target; release with tu_story_destroy.
 * Without a target the corner that the scene's plate lies on is taken. Statuses as tu_rehearse and
 * tu_scene_truth; TU_SYSTEM_MEMORY.
 */
tu_status tu_story_run(tu_rehearsal_story *story, const char *program, size_t length, bool moves,
                       tu_error *error);
void tu_story_destroy(tu_rehearsal_story *story);

#endif
