/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * calibrate_parts.h - the steps of a calibration, shared by the calibrate_*.c files only:
 * rows (calibrate_rows.c) -> fit (calibrate_fit.c) -> figures (calibrate_figures.c) -> judgement
 * (calibrate_judge.c) and advice (calibrate_advice.c).
 */
#ifndef TU_TOUCH_CALIBRATE_PARTS_H
#define TU_TOUCH_CALIBRATE_PARTS_H

#include "trueup/calibrate.h"
#include "trueup/moments.h"

/* Columns of the design. An edge's column is the first plus 2 axis + (outward > 0). */
enum {
    TU_COLUMN_EDGE = 0,
    TU_COLUMN_SLOT = 4,
    TU_COLUMN_SEAT = 8,
    TU_COLUMN_THICKNESS = 9,
    TU_COLUMN_OFFSET = 10,
    TU_COLUMN_CENTRE = 12,
    TU_COLUMN_BORE = 14, /* the diameter */
    TU_COLUMN_RADIUS = 15
};

enum { TU_CALIBRATION_ROWS = TU_CALIBRATION_GROUPS + 4 + TU_CALIBRATION_CUTTERS };

typedef enum tu_row_kind {
    TU_ROW_TOUCHES,
    TU_ROW_BLOCK, /* the known width of the block; index: axis */
    TU_ROW_SLOT,
    TU_ROW_CUTTER /* a trusted radius; index: cutter */
} tu_row_kind;

/* The standard uncertainties of a row's right side, by source. */
typedef enum tu_row_source {
    TU_SOURCE_REPEAT, /* s/sqrt(n); 0 where s is not known */
    TU_SOURCE_STEP,
    TU_SOURCE_FLUTES,
    TU_SOURCE_RUN_OUT,
    TU_SOURCE_STATED, /* of a known width or a trusted radius */
    TU_SOURCE_COUNT
} tu_row_source;

/*
 * One observation: the mean of a group of touches, or a stated length.
 *   weight_sd_mm  by which the row is weighed; never 0, so that exact lengths stay solvable.
 */
typedef struct tu_calibration_row {
    tu_row_kind kind;
    int index;
    tu_calibration_touch touch;
    tu_moments moments;
    double coefficient[TU_CALIBRATION_UNKNOWNS];
    double y_mm;
    double source_mm[TU_SOURCE_COUNT];
    double weight_sd_mm;
} tu_calibration_row;

typedef struct tu_calibration_design {
    size_t count;
    tu_calibration_row row[TU_CALIBRATION_ROWS];
    tu_repeatability
        spread[TU_AXIS_COUNT]; /* of one touch, pooled; sd NaN: not known or not touched */
} tu_calibration_design;

/* What a cutter of the shop file should reach at a side contact, as zero computes it. */
typedef struct tu_calibration_reach {
    double radius_mm;   /* mean reach; NaN: not known (shape needs a depth that nobody stated) */
    double factor;      /* mean reach by profile radius; 1 without flutes */
    double standard_mm; /* spread by the flutes */
    double worst_loss_mm;
    bool turned;
} tu_calibration_reach;
tu_calibration_reach tu_calibration_reach_of(const tu_calibration_request *request, size_t cutter);

/* The coefficients of one touch; all zero first. */
void tu_calibration_touch_row(const tu_plate *plate, const tu_calibration_touch *touch,
                              double coefficient[TU_CALIBRATION_UNKNOWNS]);
/* The row of a known width: +1 at the high side, -1 at the low side. */
void tu_calibration_width_row(int axis, bool slot, double coefficient[TU_CALIBRATION_UNKNOWNS]);
/* Sorts the touches into groups, adds what is stated, finds the spread. */
tu_status tu_calibration_build(const tu_calibration_request *request, tu_calibration_design *design,
                               tu_warnings *warnings, tu_error *error);
bool tu_calibration_uses_cutter(const tu_calibration_design *design, size_t cutter);
bool tu_contact_is_plate(tu_contact contact);
bool tu_contact_is_bore(tu_contact contact);

/* An orthonormal basis of the design's row space: rank columns of length TU_CALIBRATION_UNKNOWNS.
 */
typedef struct tu_row_space {
    size_t rank;
    double basis[TU_CALIBRATION_UNKNOWNS][TU_CALIBRATION_UNKNOWNS];
} tu_row_space;
/* Takes one more row in; false when it was in the space already. */
bool tu_row_space_add(tu_row_space *space, const double row[TU_CALIBRATION_UNKNOWNS]);
/* What of the vector lies outside the space, in place; returns its length. */
double tu_row_space_reject(const tu_row_space *space, double vector[TU_CALIBRATION_UNKNOWNS]);
/* Whether the combination of unknowns is settled by the rows. */
bool tu_row_space_holds(const tu_row_space *space, const double vector[TU_CALIBRATION_UNKNOWNS]);

typedef struct tu_calibration_fit {
    tu_row_space space;
    double left[TU_CALIBRATION_ROWS][TU_CALIBRATION_UNKNOWNS];
    double right[TU_CALIBRATION_UNKNOWNS][TU_CALIBRATION_UNKNOWNS];
    double singular[TU_CALIBRATION_UNKNOWNS];
    double residual_mm[TU_CALIBRATION_ROWS];
    double spare[TU_CALIBRATION_ROWS]; /* 1 less the leverage: how far others check this row */
} tu_calibration_fit;
tu_status tu_calibration_fit_solve(const tu_calibration_design *design, tu_calibration_fit *fit,
                                   tu_error *error);
/* The combination's derivative by each row's right side; false: not settled, all NaN. */
bool tu_calibration_sensitivities(const tu_calibration_design *design,
                                  const tu_calibration_fit *fit,
                                  const double combination[TU_CALIBRATION_UNKNOWNS],
                                  double sensitivity[TU_CALIBRATION_ROWS]);

/* The combination of unknowns that a figure is. */
void tu_calibrated_combination(const tu_plate *plate, const tu_calibrated *figure,
                               double combination[TU_CALIBRATION_UNKNOWNS]);
/* Lists the figures that the touches bear on and evaluates each. */
void tu_calibration_list_figures(const tu_calibration_request *request,
                                 const tu_calibration_design *design, const tu_calibration_fit *fit,
                                 tu_calibration_result *result);

/* Do the redundant touches agree, and are the figures such as can be? */
tu_status tu_calibration_judge(const tu_calibration_request *request,
                               const tu_calibration_design *design, const tu_calibration_fit *fit,
                               tu_calibration_result *result, tu_error *error);

/* Finds the touches that would settle what is not. */
void tu_calibration_advise(const tu_calibration_request *request,
                           const tu_calibration_design *design, tu_calibration_result *result);

#endif
