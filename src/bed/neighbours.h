/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * neighbours.h - the nearest points of a point, seen from above (internal).
 */
#ifndef TRUEUP_BED_NEIGHBOURS_H
#define TRUEUP_BED_NEIGHBOURS_H

#include "bed/bed_memory.h"
#include "trueup/bed.h"

enum { TU_BED_NEIGHBOURS_MAX = 12 };

/* Points sorted into squares, about two a square; Y counts y_scale times. */
typedef struct tu_bed_squares {
    const tu_bed_point *point;
    size_t count;
    double x_low_mm, y_low_mm, side_mm, y_scale;
    size_t columns, rows;
    uint32_t *start; /* of each square, into item; one more at the end */
    uint32_t *item;
} tu_bed_squares;

size_t tu_bed_squares_bytes(size_t count);
/* count at least 1; finite points. y_scale is 1. */
void tu_bed_squares_start(tu_bed_squares *squares, const tu_bed_point *points, size_t count,
                          tu_bed_memory *memory);
/* Chooses y_scale (a power of two) so that neighbours lie about as far along X as along Y: where
 * rows lie ten times as far apart as the places in them, the nearest would all be of one row. */
void tu_bed_squares_balance(tu_bed_squares *squares);
/* The `wanted` (up to TU_BED_NEIGHBOURS_MAX) nearest others of point i, nearest first; returns how
 * many there are. */
size_t tu_bed_squares_nearest(const tu_bed_squares *squares, size_t i, size_t wanted,
                              size_t nearest[TU_BED_NEIGHBOURS_MAX]);

/* --- suspects.c --- */

/* The median of FEWEST_NEIGHBOURS (8) to TU_BED_NEIGHBOURS_MAX values. */
double tu_bed_small_median(const double *values, size_t count);
/* The median of 1 or more values, which are put in another order. */
double tu_bed_median(double *values, size_t count);
/* The standard deviation of normal values over the median of their sizes. */
#define TU_BED_MAD_SCALE 1.4826

#endif
