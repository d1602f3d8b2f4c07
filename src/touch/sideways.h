/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sideways.h - what the touches of X or of Y say, before the stock's angle is taken into account.
 */
#ifndef TRUEUP_TOUCH_SIDEWAYS_H
#define TRUEUP_TOUCH_SIDEWAYS_H

#include "trueup/zero.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * One source of uncertainty.
 *   effect_mm    its standard uncertainty, with the sign by which the source enters the stand-off k
 *                (or the touched position).
 *   of_position  it belongs to the touched position, not to the stand-off.
 *   common       the same source, not another one of its kind, also acts on the other axis.
 */
typedef struct tu_part {
    const char *source;
    double effect_mm;
    double dof;
    bool of_position;
    bool common;
} tu_part;

enum { TU_PARTS_MAX = 10 };

/*
 * One horizontal axis: the cutter's axis at contact stands off the stock's edge by
 * k = s o + s sigma r (geometry.md section 2); in a bore k = s o.
 */
typedef struct tu_sideways {
    double stand_off_mm;
    size_t count;
    tu_part part[TU_PARTS_MAX];
} tu_sideways;

void tu_sideways_add(tu_sideways *side, tu_part part);

/* The names of quantities that state no tolerance, gathered so that one warning tells them all. */
typedef struct tu_untoleranced {
    char names[240];
} tu_untoleranced;

/* Notes the name when the quantity is stated without a tolerance; once. */
void tu_untoleranced_note(tu_untoleranced *list, tu_quantity quantity, const char *name);

/* The touches of one axis as positions in machine coordinates, checked. */
typedef struct tu_series {
    double position_mm[TU_TOUCHES_MAX];
    double across_each_mm[TU_TOUCHES_MAX]; /* NaN: not stated */
    size_t count;
    double mean_mm;
    double sd_mm;     /* NaN for one */
    double across_mm; /* mean of the stated ones; NaN when one or more is not stated */
} tu_series;

/* A coordinate as read, in machine coordinates (the request's active offset added). */
double tu_to_machine(const tu_zero_request *request, tu_axis axis, double read_mm);

/* Refuses (TU_DATA_RANGE) a machine coordinate outside the travel, naming a likely slip of unit. */
tu_status tu_travel_check(const tu_zero_request *request, tu_axis axis, double value_mm,
                          const char *where, tu_error *error);

/*
 * Collects one list of touches (single, low or high side) of an axis: converts from work
 * coordinates, refuses what lies outside the travel, what is not finite, and repeats that are none.
 *   side   "" or ", low side" or ", high side", for messages.
 *   slope  how the touched face leans, d(position)/d(across): touches at several places along it
 *          are brought to their mean place before they are compared. 0: square.
 */
tu_status tu_series_collect(const tu_zero_request *request, tu_axis axis, const tu_touch *touches,
                            size_t count, const char *side, double slope, tu_series *series,
                            tu_warnings *warnings, tu_error *error);

/* The standard deviation of one touch of this axis, from its repeats and what is stored. */
tu_repeatability tu_axis_repeatability(const tu_zero_request *request, tu_axis axis,
                                       const tu_axis_zero *zero);

/*
 * Adds the position's own parts: the touches' mean and the machine's step.
 *   sd_of_mean_factor  standard uncertainty of the position per standard deviation of one touch:
 *                      1/sqrt(n) for a mean.
 */
void tu_sideways_add_position(tu_sideways *side, tu_repeatability single, double sd_of_mean_factor,
                              double step_mm);

/* Warns when one place was touched once only. */
void tu_warn_single_touch(tu_axis axis, size_t count, tu_repeatability pooled,
                          tu_warnings *warnings);

/*
 * Which wall, or which of a bore's distances, serves the axis: by the plate's turning at a corner;
 * at a face the one that was named, else a, which is said where b would give another zero. Refuses
 * (TU_USAGE) a wall that a plate which is not turned does not have there.
 */
tu_status tu_wall_choose(const tu_zero_request *request, tu_axis axis, int *index,
                         tu_warnings *warnings, tu_error *error);

/*
 * Measures X or Y on a wall, or in a bore: fills zero (touch, offset, radius, ...) but not
 * zero->zero_mm and not its uncertainty, and side.
 * For a bore, tu_bore_check must follow once both axes are measured.
 *   angle_rad  of the stock, 0 where it is not known.
 */
tu_status tu_wall_measure(const tu_zero_request *request, tu_axis axis, double angle_rad,
                          tu_axis_zero *zero, tu_sideways *side, tu_untoleranced *untoleranced,
                          tu_warnings *warnings, tu_error *error);
tu_status tu_bore_measure(const tu_zero_request *request, tu_axis axis, tu_axis_zero *zero,
                          tu_sideways *side, tu_untoleranced *untoleranced, tu_warnings *warnings,
                          tu_error *error);

/*
 * Compares the chord along axis with the bore and the cutter that were named.
 *   centre_mm  the bore's centre along the other axis; NaN: not touched.
 */
tu_status tu_bore_check(const tu_zero_request *request, tu_axis axis, double centre_mm,
                        tu_axis_zero *zero, tu_warnings *warnings, tu_error *error);

/* Refuses two chords that both ran short by the same: another cutter, not a place beside the
 * centre. */
tu_status tu_bore_compare(const tu_zero_request *request, const tu_axis_zero zero[2],
                          tu_error *error);

/* The cutter as it was used: the request's turned_within_rad in place of the shop file's. */
tu_cutter tu_request_cutter(const tu_zero_request *request);

/* Tells about flutes: not stated, or not turned to the wall and what that may cost. */
void tu_warn_flutes(const tu_cutter *cutter, const tu_flute_loss *loss, tu_axis axis, tu_unit unit,
                    tu_warnings *warnings);

/* Half the change of the profile radius when one quantity of the cutter moves by plus and minus its
 * tolerance. quantity points into cutter, which is left as it was. */
double tu_radius_half_width(tu_cutter *cutter, double depth_mm, tu_quantity *quantity);

#endif
