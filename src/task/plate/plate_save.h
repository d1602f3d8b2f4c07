/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_save.h - determined figures of a calibration into the shop file.
 */
#ifndef TU_TASK_PLATE_SAVE_H
#define TU_TASK_PLATE_SAVE_H

#include "trueup/calibrate.h"
#include "trueup/report.h"
#include "trueup/shop.h"
#include "trueup/task_plate.h"

/* What was saved; starts as {0}. Indexes and bits are those of the result's figures. */
typedef struct tu_plate_saved {
    tu_calibration_saved list[TU_CALIBRATED_MAX];
    size_t count;
    unsigned not_saved;
} tu_plate_saved;

/*
 * Writes each determined figure with the tolerance that keeps its standard uncertainty u: the
 * file's
 * "+-a" is read as a/sqrt(3), so a = sqrt(3) u. Undetermined figures, sums and clearances are never
 * written, nor the diameter of a cutter that was trusted, is not flat, or agrees with a stored one
 * that is known better.
 *   how    where to, whether the plate is a new one, whether a touch or a width was typed without
 *          its unit.
 *   saved  out; count 0 on failure.
 * Refuses, with nothing written: touches that disagree, or a figure that differs from the old one
 * like a slip does (TU_DATA_CONFLICT); a figure whose tolerance would leave out how well touches
 * repeat (TU_DATA_MISSING); a figure that only makes sense in the other unit (TU_DATA_RANGE); a
 * fresh plate of which something is missing (TU_UNDETERMINED); nothing to save (TU_UNDETERMINED);
 * what tu_shop_write_edits returned.
 */
tu_status tu_plate_save(const tu_shop *shop, const tu_task_plate_request *how,
                        const tu_calibration_request *request, const tu_calibration_result *result,
                        tu_plate_saved *saved, tu_error *error);

#endif
