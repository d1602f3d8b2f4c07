/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * smooth_shape.h - the smooth shape of a bed, as far as its places show one (internal).
 */
#ifndef TRUEUP_BED_SMOOTH_SHAPE_H
#define TRUEUP_BED_SMOOTH_SHAPE_H

#include "bed/bed_memory.h"
#include "trueup/bed.h"

size_t tu_bed_smooth_bytes(size_t count);
/*
 * Writes the heights above the smooth shape into rest[count].
 *
 * The shape is a polynomial over the extent: tilt, twist and bow always, further terms of a total
 * degree up to 8 one by one, the one first that explains most, as long as it stands out of the
 * noise. A single place competes with the terms: where it explains more than any of them does, it
 * is a chip and left out, so that the shape does not bend towards it.
 *   floor_mm  noise is taken to be at least a share of that.
 * Of more than 1500 places a part settles the shape.
 * Returns how many terms beyond tilt, twist and bow it took.
 */
size_t tu_bed_smooth_take_off(const tu_bed_point *points, size_t count, double floor_mm,
                              tu_bed_memory *memory, double *rest);

#endif
