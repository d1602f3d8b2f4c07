/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_contact.c - which contact points prove a minimum zone: 3+1 or 2+2.
 *
 * Both criteria say the same: seen along the normal, the hull of the differences "high minus low"
 * of the chosen contacts holds the origin. For 3+1 that hull is a triangle, for 2+2 a
 * parallelogram.
 */
#include "bed/zone_parts.h"

#include <math.h>

typedef struct spot {
    double x;
    double y;
} spot;

static spot difference(const tu_zone_workspace *set, size_t high, size_t low)
{
    return (spot){set->turned_x[high] - set->turned_x[low],
                  set->turned_y[high] - set->turned_y[low]};
}

/* Of the largest circle about the origin in a convex polygon; below zero: the origin is outside. */
static double radius_in(const spot *corner, int count)
{
    double area2 = 0.0;
    double radius = INFINITY;

    for (int k = 1; k + 1 < count; k++)
        area2 += (corner[k].x - corner[0].x) * (corner[k + 1].y - corner[0].y) -
                 (corner[k].y - corner[0].y) * (corner[k + 1].x - corner[0].x);
    if (area2 == 0.0)
        return -INFINITY;
    for (int k = 0; k < count; k++) {
        const spot a = corner[k];
        const spot b = corner[(k + 1) % count];
        const double length = hypot(b.x - a.x, b.y - a.y);

        if (!(length > 0.0))
            return -INFINITY;
        radius =
            fmin(radius, (a.x * (b.y - a.y) - a.y * (b.x - a.x)) / length * copysign(1.0, area2));
    }
    return radius;
}

static void keep(tu_zone_optimum *optimum, double radius, tu_zone_criterion criterion,
                 const size_t high[3], const size_t low[3])
{
    if (!(radius > optimum->radius))
        return;
    optimum->radius = radius;
    optimum->criterion = criterion;
    optimum->high_count = criterion == TU_ZONE_3_1 ? 3 : criterion == TU_ZONE_2_2 ? 2 : 1;
    optimum->low_count = 4 - optimum->high_count;
    for (size_t k = 0; k < optimum->high_count; k++)
        optimum->highs[k] = high[k];
    for (size_t k = 0; k < optimum->low_count; k++)
        optimum->lows[k] = low[k];
}

/* A triangle of three against each of the others. */
static void try_triangles(const tu_zone_workspace *set, const size_t *three, size_t three_count,
                          const size_t *one, size_t one_count, bool three_high,
                          tu_zone_optimum *optimum)
{
    for (size_t i = 0; i < three_count; i++)
        for (size_t j = 0; j < i; j++)
            for (size_t k = 0; k < j; k++)
                for (size_t m = 0; m < one_count; m++) {
                    const size_t corner[3] = {three[i], three[j], three[k]};
                    const size_t alone[3] = {one[m]};
                    const spot triangle[3] = {difference(set, corner[0], one[m]),
                                              difference(set, corner[1], one[m]),
                                              difference(set, corner[2], one[m])};

                    keep(optimum, radius_in(triangle, 3), three_high ? TU_ZONE_3_1 : TU_ZONE_1_3,
                         three_high ? corner : alone, three_high ? alone : corner);
                }
}

static void try_crossings(const tu_zone_workspace *set, const size_t *highs, size_t high_count,
                          const size_t *lows, size_t low_count, tu_zone_optimum *optimum)
{
    for (size_t i = 0; i < high_count; i++)
        for (size_t j = 0; j < i; j++)
            for (size_t k = 0; k < low_count; k++)
                for (size_t m = 0; m < k; m++) {
                    const size_t high[3] = {highs[i], highs[j]};
                    const size_t low[3] = {lows[k], lows[m]};
                    const spot corner[4] = {
                        difference(set, high[0], low[0]), difference(set, high[0], low[1]),
                        difference(set, high[1], low[1]), difference(set, high[1], low[0])};

                    keep(optimum, radius_in(corner, 4), TU_ZONE_2_2, high, low);
                }
}

void tu_zone_choose_contacts(const tu_zone_workspace *set, const size_t *highs, size_t high_count,
                             const size_t *lows, size_t low_count, tu_zone_optimum *optimum)
{
    try_triangles(set, highs, high_count, lows, low_count, true, optimum);
    try_triangles(set, lows, low_count, highs, high_count, false, optimum);
    try_crossings(set, highs, high_count, lows, low_count, optimum);
}
