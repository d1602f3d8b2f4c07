/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * number.h - numbers to and from text, the same in every locale.
 *
 * The C library's strtod and printf follow LC_NUMERIC; these do not, whatever setlocale was given.
 */
#ifndef TRUEUP_NUMBER_H
#define TRUEUP_NUMBER_H

#include "trueup/status.h"

#include <stddef.h>

TU_BEGIN_DECLS

enum { TU_NUMBER_TEXT_SIZE = 40 }; /* holds what tu_number_format writes for |value| < 1e15 */

/*
 * Reads the whole of text[0..length) as one plain decimal number: optional sign, digits with an
 * optional point, optional exponent, up to 1000 characters. No spaces, no hexadecimal, no "nan" or
 * "inf", no comma.
 *   value    out; NaN on failure.
 * Returns TU_OK; TU_DATA_SYNTAX (says what is wrong; a decimal comma is named as such);
 * TU_DATA_RANGE when the number overflows a double. The result is the nearest double.
 */
tu_status tu_number_parse(const char *text, size_t length, double *value, tu_error *error);

/*
 * Writes value with a fixed number of decimals (0 to 15) and a point, "-0.000" as "0.000"; NaN as
 * "nan", infinity as "inf" or "-inf". Returns the text's length, or 0 (and an empty text) when it
 * does not fit.
 */
size_t tu_number_format(char *text, size_t size, double value, int decimals);

/*
 * Writes the fewest digits that read back as the same double, plain from 1e-5 to below 1e15
 * ("0.00001", "25400") and with an exponent beyond ("1e-6"). NaN and length as tu_number_format.
 */
size_t tu_number_format_exact(char *text, size_t size, double value);

TU_END_DECLS

#endif
