/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_plate.h - what a homemade plate really measures, from touches by contact or in a hit log.
 *
 *     tu_task_plate_request request = tu_task_plate_request_start();
 *     tu_task_plate_story story;
 *     request.shop = "shop.json";
 *     request.contact = contacts;
 *     request.contact_count = 5;
 *     if (!tu_task_plate(&request, &story, &error))
 *         tu_report_calibration_text(stdout, story.asked, story.result, &style, &error);
 *     tu_task_plate_end(&story);
 */
#ifndef TRUEUP_TASK_PLATE_H
#define TRUEUP_TASK_PLATE_H

#include "trueup/calibrate.h"
#include "trueup/report.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/task.h"

TU_BEGIN_DECLS

/*
 * Repeats of one contact; all texts and numbers are borrowed.
 *   touch        what was touched; its cutter and position_mm are not read. In a bore it is
 *                TU_CONTACT_BORE_LOW, for both sides.
 *   name         what messages call it: "left/a/quarter".
 *   cutter       its name in the shop file; "": the only one. Not read for Z.
 *   position_mm  count of them, machine coordinates; in a bore the low and the high side in turn.
 *   series       NULL, or a series of the log instead of positions.
 */
typedef struct tu_plate_contact {
    tu_calibration_touch touch;
    char name[TU_TOUCH_NAME_SIZE];
    char cutter[TU_NAME_SIZE];
    const double *position_mm;
    size_t count;
    const char *series;
} tu_plate_contact;

/*
 * Texts are borrowed; NULL: not stated.
 *   shop        the shop file: machine, plates, cutters.
 *   plate       its name there; NULL: the only one.
 *   new_plate   the name of a plate that the shop file does not have yet, instead. It has walls
 *               (facing[0] of wall a, [1] of b; 0: no such wall) or a bore, touched at depth;
 *               not_turned: turning it does not exchange its walls.
 *   log         the hit log that series are in.
 *   block, slot  known widths along X and Y; none: not stated.
 *   trust_cutters  take the stored diameters as known.
 *   save        tu_task_plate_save is going to be called: what it cannot write to is refused before
 *               the touches are read.
 *   unit, typed  of bare numbers in the request, and of the answer.
 */
typedef struct tu_task_plate_request {
    const tu_face *face;
    const char *shop, *plate, *new_plate, *log;
    int facing[2];
    bool bore, not_turned, trust_cutters, save;
    tu_quantity depth, block[2], slot[2];
    const tu_plate_contact *contact;
    size_t contact_count;
    tu_unit unit;
    tu_typed_unit typed;
} tu_task_plate_request;

/*
 *   asked, result  for tu_report_calibration_text and _json.
 *   saved, saved_count, not_saved  as tu_calibration_style wants them.
 *   run            what they stand in.
 */
typedef struct tu_task_plate_story {
    const tu_calibration_request *asked;
    tu_calibration_result *result;
    const tu_calibration_saved *saved;
    size_t saved_count;
    unsigned not_saved;
    struct tu_plate_run *run;
} tu_task_plate_story;

/* Nothing stated. */
tu_task_plate_request tu_task_plate_request_start(void);

/*
 * Reads shop file and log, and works the figures out.
 *   story  out: to be given to tu_task_plate_end in every case; request must live as long.
 * Returns TU_OK, also where a figure is not determined (tu_task_plate_verdict); TU_USAGE for what
 * contradicts itself or misses a part; TU_DATA_UNKNOWN, TU_DATA_MISSING (plate, cutter, series);
 * TU_DATA_CONFLICT (a hit of another axis or the other way); as tu_shop_read, tu_hits_open and
 * tu_calibrate_solve.
 */
tu_status tu_task_plate(const tu_task_plate_request *request, tu_task_plate_story *story,
                        tu_error *error);

/*
 * Writes each determined figure into the shop file, with the tolerance that keeps its standard
 * uncertainty; a new plate only when all of it is determined. Refuses, with nothing written, what
 * would say more than is known (src/task/plate/plate_save.h has the list).
 *   story  of a tu_task_plate that succeeded, with save; saved to not_saved out.
 * Returns TU_OK; TU_DATA_CONFLICT, TU_DATA_MISSING, TU_DATA_RANGE, TU_UNDETERMINED; as
 * tu_shop_write_edits.
 */
tu_status tu_task_plate_save(tu_task_plate_story *story, tu_error *error);

/* TU_UNDETERMINED where something that the touches bear on is open; else TU_OK. */
tu_status tu_task_plate_verdict(const tu_task_plate_story *story, tu_error *error);

void tu_task_plate_end(tu_task_plate_story *story);

TU_END_DECLS

#endif
