/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_plan.h - a touch program for what lies on the table.
 */
#ifndef TRUEUP_TASK_PLAN_H
#define TRUEUP_TASK_PLAN_H

#include "trueup/plan.h"
#include "trueup/status.h"
#include "trueup/task.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

/* What is planned; the values are bits, so that a field can say for which it is. */
typedef enum tu_plan_what {
    TU_PLAN_NOTHING = 0,
    TU_PLAN_CORNER = 1,
    TU_PLAN_SURFACE = 2,
    TU_PLAN_GRID = 4,
    TU_PLAN_TRIALS = 8
} tu_plan_what;

/*
 * Texts are borrowed; NULL: not stated.
 *   shop           the shop file; NULL: as tu_shop_locate finds it.
 *   plate, cutter  by name; not stated: what lies on the file's table, else the only one there is.
 *   series         that the touches are announced with.
 *   bare           no plate: the surface conducts.
 *   seat, slot     a tu_seat, below 0: not stated; 1 for G54, 0: not stated. Those, and a target
 *                  that is not stated, come from the table of the file; else the stock, and G54.
 *   place          of a corner and of trials; its target with no face at all: not stated. Its
 *                  plate, cutter, seat, machine and series come from the rest.
 *   grid           its keep_out lies in keep_out; area NaN, columns and rows 0: not stated.
 *   trials         axis TU_AXIS_COUNT: not stated.
 *   style          its unit is that of the program, of bare numbers and of the answer.
 */
typedef struct tu_task_plan_request {
    tu_plan_what what;
    const char *shop, *plate, *cutter, *series;
    bool bare;
    int seat, slot;
    tu_plan_corner place;
    tu_plan_style style;
    tu_plan_grid grid;
    tu_rectangle keep_out[TU_KEEP_OUT_MAX];
    tu_plan_trials trials;
    tu_typed_unit typed;
} tu_task_plan_request;

/*
 *   summary  what to know of the program, for tu_report_plan_text and _json.
 *   program  its text.
 *   used     what it rests on.
 *   run      what both stand in.
 */
typedef struct tu_task_plan_story {
    tu_plan_summary *summary;
    const char *program;
    size_t program_length;
    char used[TU_USED_SIZE];
    struct tu_plan_run *run;
} tu_task_plan_story;

/* Nothing stated; the usual style, variation and number of touches. */
tu_task_plan_request tu_task_plan_request_start(void);

/*
 * Writes the program.
 *   story  out: to be given to tu_task_plan_end in every case.
 * Returns TU_OK; TU_USAGE for what misses a part; as tu_shop_read and the writers of plan.h.
 */
tu_status tu_task_plan(const tu_task_plan_request *request, tu_task_plan_story *story,
                       tu_error *error);

void tu_task_plan_end(tu_task_plan_story *story);

TU_END_DECLS

#endif
