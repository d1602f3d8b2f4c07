/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_tour.h - the order in which the points of a grid are touched (internal).
 */
#ifndef TRUEUP_PROGRAM_PLAN_TOUR_H
#define TRUEUP_PROGRAM_PLAN_TOUR_H

#include "program/plan_route.h"

enum { TU_TOUR_MAX = TU_GRID_MAX * TU_GRID_MAX };

/*
 * An open tour over spots that ways join.
 *   length_mm[i]  of the way from spot i to the next; filled in by tu_plan_tour_measure.
 *   way           scratch.
 */
typedef struct tu_plan_tour {
    const tu_plan_routes *routes;
    size_t count;
    tu_plan_spot spot[TU_TOUR_MAX];
    double length_mm[TU_TOUR_MAX];
    tu_plan_way way;
} tu_plan_tour;

/* The length of the whole; fills in those of its ways. */
double tu_plan_tour_measure(tu_plan_tour *tour);

/*
 * Shortens a measured tour by turning parts of it round as long as that gains (2-opt; Croes,
 * Operations Research 6 (1958) 791-812). The first spot stays the first. The same spots in the same
 * order give the same tour; how much work it is put to is limited, so it need not be the shortest.
 * Returns its length, never more than before.
 */
double tu_plan_tour_shorten(tu_plan_tour *tour);

#endif
