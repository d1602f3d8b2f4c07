/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_rehearsal.h - a rehearsed program as text, JSON and a drawing.
 *
 * docs/rehearse.md describes what each says. Text follows the unit asked for; JSON is always
 * millimetres and seconds.
 */
#ifndef TRUEUP_REPORT_REHEARSAL_H
#define TRUEUP_REPORT_REHEARSAL_H

#include "trueup/face.h"
#include "trueup/quantity.h"
#include "trueup/rehearse.h"
#include "trueup/rs274.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

TU_BEGIN_DECLS

/* A hit, and the line of the program that made it. */
typedef struct tu_rehearsal_touch {
    tu_hit hit;
    size_t line;
} tu_rehearsal_touch;

typedef struct tu_rehearsal_pause {
    size_t line;
    char message[TU_RS274_MESSAGE_SIZE];
} tu_rehearsal_pause;

/*
 * What happened, in order.
 *   face      what sentences call the fields that they name; NULL: the fields' own names.
 *   scene     that it happened in.
 *   moves     as many as were kept; moves_left_out more were made after them.
 *   target    whose true zero the program's offsets are compared with; all zero: none.
 *   truth     of that target; NaN where it says nothing.
 *   within_mm how far from the truth an offset may be set; NaN: not asked.
 */
typedef struct tu_rehearsal_story {
    const char *program_name, *scene_name;
    const tu_face *face;
    const tu_scene *scene;
    tu_rehearsal result;
    tu_rehearsal_touch *touches;
    size_t touch_count;
    tu_rehearsal_move *moves;
    size_t move_count, moves_left_out;
    tu_rehearsal_pause *pauses;
    size_t pause_count;
    tu_target target;
    tu_machine_point truth;
    double within_mm;
    tu_warnings warnings;
} tu_rehearsal_story;

/* A word for a fault, as JSON has it: "collision"; "none". */
const char *tu_fault_name(tu_fault fault);
/* True where the program's text is at fault, not what it does: it cannot be read, or has no end. */
bool tu_fault_is_of_text(tu_fault fault);

/* Whether it ended without a fault, and something in the scene is not what the program is made for.
 */
bool tu_story_is_mismatched(const tu_rehearsal_story *story);

/* Whether an offset was set farther from the truth than within_mm. */
bool tu_story_is_off(const tu_rehearsal_story *story);

/* Each returns TU_OK, TU_SYSTEM_IO when a write failed, TU_SYSTEM_MEMORY. */
tu_status tu_report_rehearsal_text(FILE *out, const tu_rehearsal_story *story, tu_unit unit,
                                   tu_error *error);
tu_status tu_report_rehearsal_json(FILE *out, const tu_rehearsal_story *story, tu_error *error);
/* The path in plan and side views, A4, SVG 1.1. */
tu_status tu_report_rehearsal_svg(FILE *out, const tu_rehearsal_story *story, tu_unit unit,
                                  tu_error *error);

TU_END_DECLS

#endif
