/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scan.h - the grammar of a plain decimal number, for those who read more than a number (internal;
 * number.c, quantity.c).
 */
#ifndef TRUEUP_BASE_SCAN_H
#define TRUEUP_BASE_SCAN_H

#include "trueup/status.h"

#include <stddef.h>

/*
 * The length of the longest start of text[0..length) that is a number without a sign: digits with
 * an optional point, at least one digit, and an exponent if a digit follows its "e". 0: none.
 */
size_t tu_number_scan(const char *text, size_t length);

/* The number of digits that text[0..length) starts with. */
size_t tu_digits_scan(const char *text, size_t length);

/*
 * Reads text[0..length), which tu_number_scan took whole, times factor times 10^shift. The result
 * is the double nearest to the exact product, which a product of doubles would miss: 0.1 in is
 * 2.54 mm to the last bit.
 * Returns TU_OK; TU_DATA_RANGE on overflow; TU_DATA_SYNTAX for a number of absurd length.
 * *value is NaN on failure. factor is 1 to 1000.
 */
tu_status tu_number_read_scaled(const char *text, size_t length, unsigned factor, int shift,
                                double *value, tu_error *error);

/*
 * What a person probably meant by text[0..length), where a number should start or go on: a hint
 * that starts with "; " (a decimal comma, "nan", hexadecimal, an inch sign, a typographic minus),
 * or "" when there is none to give.
 */
const char *tu_number_hint(const char *text, size_t length);

/*
 * Writes the quantity that text[0..length) states, without a unit, as it would be with one:
 * "0.375+-0.001" becomes "0.375in+-0.001". For messages; cut off where it does not fit.
 */
void tu_quantity_write_with_unit(char *out, size_t size, const char *text, size_t length,
                                 const char *unit);

#endif
