/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_tour.c - see plan_tour.h.
 */
#include "program/plan_tour.h"

#include <math.h>

/* How long a part that is turned round may be, how often the whole is gone through, and how many
 * ways round keep-outs are looked for, each of which costs as much as many straight ones. */
enum { PART_MAX = 400, ROUNDS_MAX = 50, DETOURS_MAX = 4000 };

/* A gain below what a program's numbers show is none. */
static const double least_gain_mm = 0.001;

static double way_length(tu_plan_tour *tour, size_t from, size_t to)
{
    if (!tu_plan_routes_find(tour->routes, tour->spot[from], tour->spot[to], &tour->way))
        return (double)INFINITY;
    return tour->way.length_mm;
}

static double sum_of(const tu_plan_tour *tour)
{
    double sum = 0.0;
    for (size_t i = 0; i + 1 < tour->count; i++)
        sum += tour->length_mm[i];
    return sum;
}

double tu_plan_tour_measure(tu_plan_tour *tour)
{
    for (size_t i = 0; i + 1 < tour->count; i++)
        tour->length_mm[i] = way_length(tour, i, i + 1);
    return sum_of(tour);
}

static double straight(const tu_plan_tour *tour, size_t from, size_t to)
{
    return hypot(tour->spot[to].x - tour->spot[from].x, tour->spot[to].y - tour->spot[from].y);
}

static void turn_round(tu_plan_tour *tour, size_t first, size_t last)
{
    for (size_t low = first, high = last; low < high; low++, high--) {
        tu_plan_spot spot = tour->spot[low];
        tour->spot[low] = tour->spot[high];
        tour->spot[high] = spot;
    }
    /* The ways between them, one less than the spots. */
    for (size_t low = first, high = last - 1; low < high; low++, high--) {
        double length = tour->length_mm[low];
        tour->length_mm[low] = tour->length_mm[high];
        tour->length_mm[high] = length;
    }
}

/* Turns round the part from after spot i to spot j where that gains. */
static bool try_part(tu_plan_tour *tour, size_t i, size_t j, int *detours)
{
    bool end = j + 1 == tour->count;
    double now = tour->length_mm[i] + (end ? 0.0 : tour->length_mm[j]);
    double least = straight(tour, i, j) + (end ? 0.0 : straight(tour, i + 1, j + 1));
    if (!(least < now - least_gain_mm) || *detours <= 0)
        return false;
    double to_last = way_length(tour, i, j);
    *detours -= tour->way.count > 1;
    if (!(to_last < now - least_gain_mm))
        return false;
    double from_first = 0.0;
    if (!end) {
        from_first = way_length(tour, i + 1, j + 1);
        *detours -= tour->way.count > 1;
    }
    if (!(to_last + from_first < now - least_gain_mm))
        return false;
    turn_round(tour, i + 1, j);
    tour->length_mm[i] = to_last;
    if (!end)
        tour->length_mm[j] = from_first;
    return true;
}

double tu_plan_tour_shorten(tu_plan_tour *tour)
{
    int detours = DETOURS_MAX;
    bool gained = true;
    for (int round = 0; round < ROUNDS_MAX && gained; round++) {
        gained = false;
        for (size_t i = 0; i + 2 < tour->count; i++)
            for (size_t j = i + 2; j < tour->count && j - i <= PART_MAX; j++)
                gained = try_part(tour, i, j, &detours) || gained;
    }
    return sum_of(tour);
}
