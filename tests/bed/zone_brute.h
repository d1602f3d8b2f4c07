/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_brute.h - the narrowest zone of few points by trying every direction that could be it, and
 * clouds of points of many kinds. Shares nothing with the code under test.
 */
#ifndef TRUEUP_TESTS_ZONE_BRUTE_H
#define TRUEUP_TESTS_ZONE_BRUTE_H

#include "check.h"

#include "trueup/flatness.h"

enum { BRUTE_POINTS = 60, BRUTE_KINDS = 12 };

/*
 * The smallest width over all hull facets and all pairs of hull edges: one of these is the
 * narrowest zone. For at most 10 points no hull is made: every pair of point pairs is tried. What
 * is tried is measured over all points, so a direction too many cannot make the result too small.
 */
double brute_width(const tu_bed_point *points, size_t count);

/* A cloud of a kind from 0 to BRUTE_KINDS - 1 with at most BRUTE_POINTS points; count out. */
void brute_cloud(check_random *random, size_t kind, tu_bed_point *points, size_t *count);
const char *brute_kind_name(size_t kind);

/* Turns about a random axis, moves by up to offset. */
void brute_move(check_random *random, double offset, tu_bed_point *points, size_t count);

/* Largest difference of two coordinates of an axis, and largest coordinate. */
double brute_size(const tu_bed_point *points, size_t count);
double brute_largest(const tu_bed_point *points, size_t count);

#endif
