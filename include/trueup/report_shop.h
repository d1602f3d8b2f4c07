/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_shop.h - a shop file for people and for programs: text, JSON, and the table drawn.
 */
#ifndef TRUEUP_REPORT_SHOP_H
#define TRUEUP_REPORT_SHOP_H

#include "trueup/shop.h"
#include "trueup/shop_lacks.h"

#include <stdio.h>

TU_BEGIN_DECLS

/* Statuses of all: TU_OK, TU_SYSTEM_MEMORY, TU_SYSTEM_IO. Text is in the file's unit. */

/* Everything but remarks, a row for each plate, cutter and thing, with the keys of the file. */
tu_status tu_report_shop_text(FILE *out, const tu_shop *shop, tu_shop_place place, tu_error *error);

/* The row of one thing: kind and, of a named kind, its index. */
tu_status tu_report_shop_row(FILE *out, const tu_shop *shop, tu_shop_kind kind, size_t index,
                             tu_error *error);

/* What is missing for what. needed: is anything missing that is needed. */
void tu_report_shop_lacks(FILE *out, const tu_shop_lacks *lacks);

/*
 * {"schema":1,"path":..,"origin":"stated|environment|folder","unit":"mm", then the keys of the
 * file, "lacks":[{"for":"zero","needed":true,"what":"plate","name":"bracket","key":"thickness",
 * "why":..}]}. Lengths in mm, rates in mm/min, accelerations in mm/s2; a length that may have a
 * tolerance is {"value":..,"tolerance":..}, the latter absent where none is stated. A key that ends
 * in _deg is in degrees.
 */
tu_status tu_report_shop_json(FILE *out, const tu_shop *shop, tu_shop_place place,
                              const tu_shop_lacks *lacks, tu_error *error);

/* The table from above on an A4 page: the stock with what stands in the way, the travel, the corner
 * that the zero is wanted at (docs/drawing.md). */
tu_status tu_report_shop_svg(FILE *out, const tu_shop *shop, tu_error *error);

TU_END_DECLS

#endif
