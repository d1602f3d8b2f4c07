/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_trials.h - how well touches of one place repeat, from touches in files.
 *
 *     tu_task_trials_request request = tu_task_trials_request_start();
 *     tu_task_trials_story story;
 *     request.path[0] = "seat.hits.jsonl";
 *     request.path_count = 1;
 *     if (!tu_task_trials(&request, &story, &error))
 *         tu_report_trials_text(stdout, story.answer, &error);
 *     tu_task_trials_end(&story);
 */
#ifndef TRUEUP_TASK_TRIALS_H
#define TRUEUP_TASK_TRIALS_H

#include "trueup/report_trials.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/task.h"

TU_BEGIN_DECLS

enum { TU_TRIALS_FILES_MAX = 64 };

/*
 * Texts are borrowed. A length that is not stated is NaN, a text NULL.
 *   path, path_count  hit logs, or CSVs with a header row (touch_table.h); "-": standard input.
 *   series     judge this one only; NULL: each by itself.
 *   axis       judge touches along this one only; TU_AXIS_COUNT: all.
 *   against    compare with before: the name of a series, or another file.
 *   by         gauge study: the column that names the groups; "series", "file", "dir" work too.
 *   warm_up    fit a drift that dies out. feed: fit position against feed. Not both.
 *   one_pass   keep no touches, for logs of any length; what needs them is left out, and nothing
 *              else can be asked for.
 *   within_mm  the repeatability allowed.
 *   step_mm    the smallest step of the position; NaN: the shop file's, or not known.
 *   wanted_mm  the uncertainty of a mean for which the touches that it takes are counted.
 *   shop       the shop file: for the step, and to keep the repeatability in.
 *   keep       tu_task_trials_keep is going to be called: what it cannot write to is refused before
 *              the touches are read.
 *   despite    keep also what drifts, has outliers or is beyond within_mm.
 *   unit           of bare numbers in a CSV, and of the answer.
 *   warnings_unit  of the lengths that warnings name: that of the answer beside them.
 */
typedef struct tu_task_trials_request {
    const tu_face *face;
    const char *path[TU_TRIALS_FILES_MAX];
    size_t path_count;
    const char *series, *against, *by, *shop;
    int axis;
    double within_mm, step_mm, wanted_mm;
    bool warm_up, feed, one_pass, keep, despite;
    tu_unit unit, warnings_unit;
} tu_task_trials_request;

/*
 *   answer  for tu_report_trials_text, _json and _svg; chart and columns are the caller's to set.
 *   run     what it stands in.
 */
typedef struct tu_task_trials_story {
    tu_trials_story *answer;
    struct tu_trials_run *run;
} tu_task_trials_story;

/* Nothing stated, every axis, millimetres. */
tu_task_trials_request tu_task_trials_request_start(void);

/*
 * Reads the files and judges their touches.
 *   story  out: to be given to tu_task_trials_end in every case; the texts of request must live as
 *          long. There is an answer also where a fit that was asked for failed
 *          (answer->is_judged); answer is NULL without memory.
 * Returns TU_OK; TU_USAGE for what contradicts itself; TU_DATA_UNKNOWN for a series that is not
 * there; TU_DATA_MISSING when no touch is left, or no axis is named; as tu_shop_read,
 * tu_touch_table_read and the figures of trials.h and trial_models.h.
 */
tu_status tu_task_trials(const tu_task_trials_request *request, tu_task_trials_story *story,
                         tu_error *error);

/*
 * Writes machine.repeatability of each axis that was judged into the shop file; zero pools it with
 * its own repeats. Touches of a series from both sides are pooled (GUM 4.2.4). Refuses, with
 * nothing written, what would not hold for the next touch: a drift, outliers, a spread beyond
 * within_mm (unless despite; TU_LIMIT_EXCEEDED), fewer than five touches, touches that are all
 * equal, several series.
 *   story  of a tu_task_trials that succeeded, with a shop file and keep; answer->kept out.
 * Returns TU_OK; TU_DATA_CONFLICT, TU_DATA_MISSING, TU_DATA_RANGE, TU_USAGE; as
 * tu_shop_write_edits.
 */
tu_status tu_task_trials_keep(const tu_task_trials_story *story, tu_error *error);

/* TU_LIMIT_EXCEEDED where some series does not repeat within within_mm: the answer says which. */
tu_status tu_task_trials_verdict(const tu_task_trials_story *story);

void tu_task_trials_end(tu_task_trials_story *story);

TU_END_DECLS

#endif
