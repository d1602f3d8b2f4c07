/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report.h - results as text, JSON and drawings, all written from the same result struct.
 *
 * Text follows the unit asked for; JSON is always millimetres, radians, seconds.
 */
#ifndef TRUEUP_REPORT_H
#define TRUEUP_REPORT_H

#include "trueup/calibrate.h"
#include "trueup/plan.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/zero.h"

#include <stdbool.h>
#include <stdio.h>

TU_BEGIN_DECLS

/*
 * How to write a zero.
 *   unit     of the text and of the RS274/NGC line.
 *   slot     P word, 1 to 9 for G54 to G59.3.
 *   budget   also the uncertainty budget of each axis.
 *   explain  also the arithmetic with every sign and number.
 */
typedef struct tu_zero_style {
    tu_unit unit;
    int slot;
    bool budget;
    bool explain;
} tu_zero_style;

enum { TU_PROGRAM_LINE_SIZE = 128 };

/*
 * The block that sets the offset: "G21 G10 L2 P1 X.. Y.. Z..", or G20 and inches. The unit word
 * stands in the same block because a bare G10 would be read in whatever unit is active. (NISTIR
 * 6556, table 8: units take effect before G10 in a block.)
 * Returns the length, 0 when it does not fit or no axis has a zero.
 */
size_t tu_report_program_line(char *text, size_t size, const tu_zero_result *result,
                              const tu_zero_style *style);

/* Each returns TU_OK, TU_SYSTEM_IO when a write failed, TU_SYSTEM_MEMORY. */
tu_status tu_report_zero_text(FILE *out, const tu_zero_result *result, const tu_zero_style *style,
                              tu_error *error);
tu_status tu_report_zero_json(FILE *out, const tu_zero_result *result, const tu_zero_style *style,
                              tu_error *error);
/* The set-up drawn as a workshop drawing, A4, SVG 1.1 (docs/drawing.md). */
tu_status tu_report_zero_svg(FILE *out, const tu_zero_result *result, const tu_zero_style *style,
                             tu_error *error);

/* A figure that went into the shop file: where, what stood there (none: nothing), what does now. */
typedef struct tu_calibration_saved {
    size_t figure;
    char path[96];
    tu_quantity old;
    char text[96]; /* as it stands in the file */
} tu_calibration_saved;

/*
 * How to write a calibration.
 *   unit    of the text.
 *   budget  also the uncertainty budget of each figure.
 *   saved   what was saved, and the file's name; count 0: nothing.
 *   not_saved  index bits of determined cutter diameters that the shop file did not take: trusted,
 *           not flat (the reach depends on the depth), or known better there and in agreement.
 */
typedef struct tu_calibration_style {
    tu_unit unit;
    bool budget;
    const char *shop_path;
    const tu_calibration_saved *saved;
    size_t saved_count;
    unsigned not_saved;
} tu_calibration_style;

/* A calibration; request names the plate and the cutters that the figures index. */
tu_status tu_report_calibration_text(FILE *out, const tu_calibration_request *request,
                                     const tu_calibration_result *result,
                                     const tu_calibration_style *style, tu_error *error);
tu_status tu_report_calibration_json(FILE *out, const tu_calibration_request *request,
                                     const tu_calibration_result *result,
                                     const tu_calibration_style *style, tu_error *error);

/* What to know of a touch program before it is started. program: its text, for JSON's "program", a
 * line each; NULL: left out. */
tu_status tu_report_plan_text(FILE *out, const tu_plan_summary *summary, tu_unit unit,
                              tu_error *error);
tu_status tu_report_plan_json(FILE *out, const tu_plan_summary *summary, const char *program,
                              tu_error *error);

TU_END_DECLS

#endif
