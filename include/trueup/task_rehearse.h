/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_rehearse.h - a touch program on the virtual machine.
 */
#ifndef TRUEUP_TASK_REHEARSE_H
#define TRUEUP_TASK_REHEARSE_H

#include "trueup/report_rehearsal.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/task.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

/*
 * Texts are borrowed; NULL: not stated.
 *   program    the touch program, RS274/NGC.
 *   scene      the scene file. One of the two may be "-", standard input.
 *   log        the name that the hit log is going to have, a new file: its text is worked out.
 *   series     in the log, of touches for which the program names none.
 *   target     whose true zero the offsets are compared with; no face at all: the corner that the
 *              scene's plate lies on.
 *   within_mm  how far from the truth an offset may be set; NaN: not asked.
 *   moves      keep them, for tu_report_rehearsal_svg.
 */
typedef struct tu_task_rehearse_request {
    const tu_face *face;
    const char *program, *scene;
    const char *log, *series;
    tu_target target;
    double within_mm;
    bool moves;
} tu_task_rehearse_request;

/*
 *   rehearsal  for tu_report_rehearsal_text, _json and _svg.
 *   log        the touches as a hit log; NULL: none was asked for, or the program did not run clean
 *              (a warning says so). Its header holds the time; where the environment has
 *              SOURCE_DATE_EPOCH, that one, so that the same rehearsal gives the same bytes.
 *   run        what both stand in.
 */
typedef struct tu_task_rehearse_story {
    tu_rehearsal_story *rehearsal;
    const char *log;
    size_t log_length;
    struct tu_rehearse_run *run;
} tu_task_rehearse_story;

/* Nothing stated. */
tu_task_rehearse_request tu_task_rehearse_request_start(void);

/*
 * Runs the program in the scene.
 *   story  out: to be given to tu_task_rehearse_end in every case; the request's face must live as
 *          long.
 * Returns TU_OK, also where the program did not run clean; TU_USAGE for what misses a part, and for
 * a log that is there already; TU_DATA_RANGE where a touch can't stand in a log; as tu_scene_read,
 * tu_scene_truth and tu_rehearse.
 */
tu_status tu_task_rehearse(const tu_task_rehearse_request *request, tu_task_rehearse_story *story,
                           tu_error *error);

/* TU_LIMIT_EXCEEDED for a fault, for what is not as the program's head says, and for an offset
 * farther from the truth than within_mm; TU_DATA_SYNTAX where the text is at fault; else TU_OK. */
tu_status tu_task_rehearse_verdict(const tu_task_rehearse_story *story);

void tu_task_rehearse_end(tu_task_rehearse_story *story);

TU_END_DECLS

#endif
