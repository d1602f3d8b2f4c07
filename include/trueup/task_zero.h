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
 *   shop         the shop file.
 *   plate, cutter  by name; not stated: the only one of the file.
 *   log, series  take the touches from a hit log; series NULL: the only one that it has.
 *   bed_map, map_series  touches over the bed, to carry the height of a plate that sat on the bed
 *                at plate_at to zero_at (x NaN: the corner's own X and Y); machine coordinates.
 *   setup        the target, and what was stated beside it (zero.h): touches, wall, seat, depth,
 *                thickness, offset, angles, baselines, job. Its plate, cutter, machine, stock and
 *                bed_rise come from the shop file and the map.
 *   slot         1 for G54.
 *   unit, typed  of numbers that were typed, and of the answer.
 */
typedef struct tu_task_zero_request {
    const char *shop, *plate, *cutter, *log, *series, *bed_map, *map_series;
    tu_machine_plane_point plate_at, zero_at;
    tu_zero_request setup;
    int slot;
    tu_unit unit;
    tu_typed_unit typed;
} tu_task_zero_request;

/*
 *   result  for tu_report_zero_text, _json and _svg.
 *   run     what it stands in.
 */
typedef struct tu_task_zero_story {
    tu_zero_result *result;
    struct tu_zero_run *run;
} tu_task_zero_story;

/* Nothing stated, slot G54. */
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

void tu_task_zero_end(tu_task_zero_story *story);

TU_END_DECLS

#endif
