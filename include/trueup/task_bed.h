/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_bed.h - how flat the bed is and what to do about it, from touches in files.
 *
 *     tu_task_bed_request request = tu_task_bed_request_start();
 *     tu_task_bed_story story;
 *     request.path[0] = "bed.hits.jsonl";
 *     request.path_count = 1;
 *     if (!tu_task_bed(&request, &story, &error))
 *         tu_report_bed_text(stdout, story.answer, &style, &error);
 *     tu_task_bed_end(&story);
 */
#ifndef TRUEUP_TASK_BED_H
#define TRUEUP_TASK_BED_H

#include "trueup/bed.h"
#include "trueup/plan.h"
#include "trueup/report_bed.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/task.h"

TU_BEGIN_DECLS

enum { TU_BED_FILES_MAX = 32 };

/*
 * Texts are borrowed. A length, a place or a rectangle that is not stated is NaN, a text NULL; all
 * in machine coordinates.
 *   path, path_count  hit logs, or CSVs with the columns x, y and z; "-": standard input.
 *   series        only the touches of this one.
 *   shop          the shop file: travel, repeatability, tolerance of the stock's thickness.
 *   against       an earlier map of the same bed.
 *   re_touch      the name that the touch program for suspects is going to have: one is worked
 *                 out. It takes the cutter (NULL: the shop file's only one), the slot's zero
 *                 (active_mm), the slot (1 for G54) and what to keep out of.
 *   job           only this part of the bed.
 *   zeroed_at     where on the bed the stock was zeroed; NaN: in the middle of the job.
 *   depth_of_cut_mm to feed_mm_per_min  of surfacing.
 *   overcut_mm    how far below the stock's underside a through cut is programmed.
 *   within_mm     the highest and the lowest place may differ by that much.
 *   support       where the bed can be shimmed: none (its corners then) or three and more.
 *   unit, typed   of bare numbers in a CSV and in the request, and of the answer.
 */
typedef struct tu_task_bed_request {
    const tu_face *face;
    const char *path[TU_BED_FILES_MAX];
    size_t path_count;
    const char *series, *shop, *against, *re_touch, *cutter;
    double active_mm[TU_AXIS_COUNT];
    int slot;
    tu_rectangle keep_out[TU_KEEP_OUT_MAX];
    size_t keep_outs;
    tu_bed_rectangle job;
    tu_machine_plane_point zeroed_at;
    double depth_of_cut_mm, allowance_mm, surfacer_mm, step_over_mm, feed_mm_per_min;
    double overcut_mm, stock_tolerance_mm;
    double within_mm;
    tu_machine_plane_point support[TU_BED_SUPPORTS_MAX];
    size_t supports;
    tu_unit unit;
    tu_typed_unit typed;
} tu_task_bed_request;

/*
 *   answer   for tu_report_bed_text, _json and _svg.
 *   program  the touch program for the suspects; NULL: none was asked for, or there are none.
 *   run      what both stand in.
 */
typedef struct tu_task_bed_story {
    tu_bed_answer *answer;
    const char *program;
    size_t program_length;
    struct tu_bed_run *run;
} tu_task_bed_story;

/* Nothing stated, slot G54, an allowance of 0.05 mm (common practice, no source). */
tu_task_bed_request tu_task_bed_request_start(void);

/*
 * Reads the files and works out the answer.
 *   story  out: to be given to tu_task_bed_end in every case; request and its texts must live as
 *          long.
 * Returns TU_OK; TU_USAGE for what contradicts itself; as tu_touch_table_read, tu_bed_merge_touches
 * and the figures of bed.h: TU_DATA_..., TU_UNDETERMINED, TU_SYSTEM_....
 */
tu_status tu_task_bed(const tu_task_bed_request *request, tu_task_bed_story *story,
                      tu_error *error);

/* TU_LIMIT_EXCEEDED where the bed is beyond within_mm; TU_UNDETERMINED where a part of the job was
 * not touched, so that nobody can tell; else TU_OK. */
tu_status tu_task_bed_verdict(const tu_task_bed_story *story, tu_error *error);

void tu_task_bed_end(tu_task_bed_story *story);

TU_END_DECLS

#endif
