/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * figure.h - numbers as the reports print them, the same in every locale.
 *
 * A place is told to 3 decimals of a millimetre or 4 of an inch; what is entered or followed with a
 * pencil has one decimal more, so that rounding it does not add to the error.
 */
#ifndef TU_REPORT_FIGURE_H
#define TU_REPORT_FIGURE_H

#include "trueup/quantity.h"

typedef struct tu_figure {
    char text[48];
} tu_figure;

/* A length in millimetres as a number of that unit: "109.525" or "4.3120". */
tu_figure tu_figure_place(tu_unit unit, double length_mm);
/* With one decimal more. */
tu_figure tu_figure_fine(tu_unit unit, double length_mm);
/*
 * An uncertainty in two significant digits, rounded up (GUM 7.2.6 allows it, and a bound that was
 * rounded down would claim too much), not finer than tu_figure_fine. 0 and NaN give "".
 */
tu_figure tu_figure_expanded(tu_unit unit, double expanded_mm);
/* A plain number with decimals. */
tu_figure tu_figure_number(double value, int decimals);
/* An angle in degrees with decimals. */
tu_figure tu_figure_degrees(double angle_rad, int decimals);

/*
 * A round distance of levels or marks (1, 2 or 5 times a power of ten) with which a range shows
 * at most `wanted` bands, and not much fewer. NaN when the range is not above 0.
 */
double tu_figure_round_step(double range, int wanted);

#endif
