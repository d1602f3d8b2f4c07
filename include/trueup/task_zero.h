/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_zero.h - touches, typed or logged, to a work offset, with what lies on the table from the
 * shop file.
 *
 *     tu_task_zero_request request = tu_task_zero_request_start();
 *     tu_task_zero_story story;
 *     request.shop = "shop.json";
 *     request.log = "today.hits.jsonl";
 *     tu_target_parse("front-left-top", &request.setup.target);
 *     if (!tu_task_zero(&request, &story, &error))
 *         tu_report_zero_text(stdout, story.result, &style, &error);
 *     tu_task_zero_end(&story);
 */
#ifndef TRUEUP_TASK_ZERO_H
#define TRUEUP_TASK_ZERO_H

#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/task.h"
#include "trueup/zero.h"

TU_BEGIN_DECLS

/*
 * Texts are borrowed; NULL: not stated.
 *   shop         the shop file; NULL: as tu_shop_locate finds it.
 *   plate, cutter  by name; not stated: what lies on the file's table, else the only one there is.
 *   log, series  take the touches from a hit log; series NULL: the only one that it has.
 *   bed_map, map_series  touches over the bed, to carry the height of a plate that sat on the bed
 *                at plate_at to zero_at (x NaN: the corner's own X and Y); machine coordinates.
 *   setup        the target, and what was stated beside it (zero.h): touches, wall, depth,
 *                thickness, offset, angles, baselines, job. Its seat, plate, cutter, machine, stock
 *                and bed_rise come from the shop file and the map.
 *   seat, slot   a tu_seat, below 0: not stated; 1 for G54, 0: not stated. Those, and a target of
 *                which nothing is stated, come from the file's table; else the stock, and G54.
 *   unit, typed  of numbers that were typed, and of the answer.
 */
typedef struct tu_task_zero_request {
    const char *shop, *plate, *cutter, *log, *series, *bed_map, *map_series;
    tu_machine_plane_point plate_at, zero_at;
    tu_zero_request setup;
    int seat, slot;
    tu_unit unit;
    tu_typed_unit typed;
} tu_task_zero_request;

/*
 *   result  for tu_report_zero_text, _json and _svg.
 *   slot    that it is for.
 *   used    what it rests on.
 *   last    how far it is from the last zero of that slot and target in the shop file's journal;
 *           "" where there is none.
 *   run     what it stands in.
 */
typedef struct tu_task_zero_story {
    tu_zero_result *result;
    int slot;
    char used[TU_USED_SIZE];
    char last[TU_USED_SIZE];
    struct tu_zero_run *run;
} tu_task_zero_story;

/* Nothing stated. */
tu_task_zero_request tu_task_zero_request_start(void);

/*
 * Reads the files and works out the zero.
 *   story  out: to be given to tu_task_zero_end in every case; request and its texts must live as
 *          long.
 * Returns TU_OK; TU_USAGE for what contradicts itself or misses a part; as tu_shop_read,
 * tu_hits_next, tu_zero_solve; TU_UNDETERMINED where the map does not settle a height;
 * TU_DATA_CONFLICT where recordings of one place lie apart.
 */
tu_status tu_task_zero(const tu_task_zero_request *request, tu_task_zero_story *story,
                       tu_error *error);

/* Adds the zero to the journal that the shop file names, if it does; what tu_journal_add returned.
 */
tu_status tu_task_zero_keep(const tu_task_zero_story *story, tu_error *error);

void tu_task_zero_end(tu_task_zero_story *story);

TU_END_DECLS

#endif
