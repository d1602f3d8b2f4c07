/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_sample.h - a zero as a result struct, made by hand, for tests of the reports.
 */
#ifndef TRUEUP_TESTS_ZERO_SAMPLE_H
#define TRUEUP_TESTS_ZERO_SAMPLE_H

#include "trueup/report.h"

/*
 * Front-left-top, plate "offcut" on the stock, cutter "quarter" (6.35 mm, a full circle). X: three
 * touches of mean 100.000, wall a 6.35 outside, zero 109.525 (the worked example of
 * docs/geometry.md). Y not asked for. Z: touched at -40.12, plate 9.53, zero -49.65.
 */
tu_zero_result zero_sample(void);
/* Millimetres, G54, nothing extra. */
tu_zero_style zero_sample_style(void);

typedef tu_status zero_writer(FILE *, const tu_zero_result *, const tu_zero_style *, tu_error *);
/* What a report writes; free it. Fails the test when the report fails. */
char *zero_written(zero_writer *writer, const tu_zero_result *result, const tu_zero_style *style);

#endif
