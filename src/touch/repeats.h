/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * repeats.h - repeated touches of one place: their mean, their spread, and whether they are repeats
 * of one place at all.
 */
#ifndef TRUEUP_TOUCH_REPEATS_H
#define TRUEUP_TOUCH_REPEATS_H

#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stddef.h>

/* Touches of one place that differ by this much are not repeats of it: a hobby router with loose
 * belts still repeats to some hundredths. (Common practice, no source.) */
#define TU_REPEATS_RANGE_MAX_MM 0.5

/*
 * Checks that values[0..count) are repeats of one place.
 *   where   names the touches in messages ("x touches", "x touches, low side").
 *   unit    that the touches were typed in, for messages.
 *   stored  the repeatability that is known from a series; sd NaN: none.
 * Refuses (TU_DATA_CONFLICT) a range above TU_REPEATS_RANGE_MAX_MM, naming the touch that stands
 * out, and an inch among millimetres as the cause where that fits. Warns of a Grubbs outlier at the
 * 1 % level (two-sided; F. E. Grubbs, Technometrics 11 (1969) 1-21) and of a spread that a stored
 * repeatability makes unlikely at 0.1 % (F test).
 */
tu_status tu_repeats_check(const double *values, size_t count, const char *where,
                           tu_repeatability stored, double step_mm, tu_unit unit,
                           tu_warnings *warnings, tu_error *error);

/* Grubbs' two-sided critical value of max|x - mean|/s for n values at level alpha; NaN below 3. */
double tu_repeats_grubbs_critical(size_t n, double alpha);

#endif
