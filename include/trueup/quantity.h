/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * quantity.h - lengths and angles as people write them: units, fractions and tolerances.
 *
 * Lengths: 6.35  6.35mm  0.25in  1/4in  1/4"  1-1/2in  1 1/2in  9.53mm+-0.02  9.53mm±0.02
 * 1/4in+-0.01mm
 * 1 in is 25.4 mm exactly. A tolerance takes the value's unit unless it names its own. A unit that
 * stands at the tolerance only must be that of bare numbers: it says nothing about the value.
 */
#ifndef TRUEUP_QUANTITY_H
#define TRUEUP_QUANTITY_H

#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

#define TU_MM_PER_INCH 25.4

typedef enum tu_unit { TU_UNIT_MM, TU_UNIT_INCH } tu_unit;

/*
 * A length with its tolerance.
 *   value_mm      NaN: not stated at all.
 *   tolerance_mm  the half width a of "plus or minus a"; NaN: not stated (counts as exact, said in
 *                 the warnings); 0: stated as exact.
 *   unit_stated   the text named its unit; false for a bare number, whose unit came from elsewhere.
 */
typedef struct tu_quantity {
    double value_mm;
    double tolerance_mm;
    bool unit_stated;
} tu_quantity;

/* A quantity that was not stated: both numbers NaN. */
tu_quantity tu_quantity_none(void);
/* An exactly known length in millimetres: tolerance 0, unit stated. */
tu_quantity tu_quantity_exact(double value_mm);
/* A length with a tolerance, both in millimetres; NaN tolerance: not stated. */
tu_quantity tu_quantity_mm(double value_mm, double tolerance_mm);
bool tu_quantity_is_stated(tu_quantity quantity);

/*
 * Reads the whole of text[0..length) as a length.
 *   bare_unit  the unit of a number that names none.
 *   quantity   out; tu_quantity_none() on failure.
 * Spaces are allowed around the whole, before a unit, around "+-" or "±" (UTF-8) and between a
 * whole number and its fraction. The units are mm, in, inch and the inch's signs: a straight or a
 * closing quotation mark, two apostrophes, a double prime. A fraction is made of whole numbers of
 * up to six digits and names its unit, unless bare_unit is the inch: nobody means a quarter of a
 * millimetre by "1/4". value_mm is the double nearest to the exact length: 0.1in is the same number
 * as 2.54mm. "-0" is 0.
 * Returns TU_OK; TU_DATA_SYNTAX (empty, trailing text, unknown unit, decimal comma, zero
 * denominator, a unit other than bare_unit at the tolerance only; the message shows the right
 * forms); TU_DATA_RANGE (overflow, negative tolerance).
 */
tu_status tu_quantity_parse(const char *text, size_t length, tu_unit bare_unit,
                            tu_quantity *quantity, tu_error *error);

/*
 * Reads an angle: 0.5deg, 0.5°, 0.01rad, 1.2mm/m; a bare number is in degrees.
 *   angle_rad  out; NaN on failure. Statuses as tu_quantity_parse.
 */
tu_status tu_angle_parse(const char *text, size_t length, double *angle_rad, tu_error *error);

/* Reads "mm" or "in" (also "inch"). TU_DATA_UNKNOWN otherwise; *unit is then TU_UNIT_MM. */
tu_status tu_unit_parse(const char *text, tu_unit *unit, tu_error *error);
/* "mm" or "in". */
const char *tu_unit_name(tu_unit unit);
/* A length in millimetres as a number of that unit. */
double tu_unit_from_mm(tu_unit unit, double length_mm);

/*
 * Writes the quantity so that tu_quantity_parse reads it back exactly whatever its bare_unit:
 * "9.53mm+-0.02mm", or without the tolerance where none is stated. Returns the length, 0 when it
 * does not fit.
 */
size_t tu_quantity_format(char *text, size_t size, tu_quantity quantity);

TU_END_DECLS

#endif
