/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plane.h - what the least-squares plane and the minimum zone share: the check of the points.
 */
#ifndef TRUEUP_BED_PLANE_H
#define TRUEUP_BED_PLANE_H

#include "trueup/flatness.h"

/* The box that holds all points, and its size: the longest side. */
typedef struct tu_bed_box {
    tu_bed_point low;
    tu_bed_point high;
    tu_bed_point middle;
    double size_mm;
    double largest_mm; /* of all coordinates, without their sign */
} tu_bed_box;

/* TU_DATA_RANGE with the first bad point, TU_UNDETERMINED for fewer than 3 or all in one place. */
tu_status tu_bed_box_of(const tu_bed_point *points, size_t count, tu_bed_box *box, tu_error *error);

#endif
