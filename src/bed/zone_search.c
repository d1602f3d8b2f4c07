/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_search.c - all directions, searched for one in which the working set is narrower.
 *
 * Directions are points of three sides of a block about the origin; the other three are their
 * opposites. Its edges go as one over the set's extents, which gives a thin set's narrow directions
 * as much room as the others. A box is a part of a side. Two bounds dispose of a box:
 *   - two points that differ by d keep the width at or above d.n in every direction n. Where this
 *     is t > 0 or more in the corners of a box, it is so all over it, since the directions with
 *     d.n >= t are a cone about d.
 *   - about a local optimum of width W and radius r nothing is below W as far as an angle t with
 *     tan(t/2) = r/W (flatness.h): a cap. A box with all its corners in a cap is in the cap.
 * What neither disposes of is cut in four. Where the middle of a box is a better direction than the
 * best so far, or nearly as good, the way down from there leads to another local optimum and its
 * cap.
 */
#include "bed/zone_parts.h"

#include <math.h>

/* What a search may cost: boxes looked at, times points of the set. */
enum { ALLOWANCE = 1 << 27, SIDES = 3 };
static const double nearly = 1.1;
static const double least_extent = 1e-9;

typedef struct box {
    double side;
    double a;
    double b;
    double half;
} box;

typedef struct search {
    tu_zone_workspace *set;
    tu_bed_direction axis[3];
    double stretch[3]; /* of the axes: one over the set's extent */
    tu_zone_optimum *best;
    double slack_mm;
    size_t stacked;
} search;

static void push(search *s, double side, double a, double b, double half)
{
    double *slot = s->set->boxes[s->stacked++];

    slot[0] = side;
    slot[1] = a;
    slot[2] = b;
    slot[3] = half;
}

/* A point of a side as a unit vector along the axes of the search. */
static tu_bed_direction on_side(const search *s, double side, double a, double b)
{
    const double place[3] = {a, b, 1.0};
    const int first = (int)side;
    const double x = place[(3 - first) % 3] * s->stretch[0];
    const double y = place[(4 - first) % 3] * s->stretch[1];
    const double z = place[(5 - first) % 3] * s->stretch[2];
    const double length = sqrt(x * x + y * y + z * z);

    return (tu_bed_direction){x / length, y / length, z / length};
}

static tu_bed_direction to_axes(const search *s, tu_bed_direction d)
{
    return (tu_bed_direction){tu_zone_dot(d, s->axis[0]), tu_zone_dot(d, s->axis[1]),
                              tu_zone_dot(d, s->axis[2])};
}

static tu_bed_direction from_axes(const search *s, tu_bed_direction d)
{
    return (tu_bed_direction){d.x * s->axis[0].x + d.y * s->axis[1].x + d.z * s->axis[2].x,
                              d.x * s->axis[0].y + d.y * s->axis[1].y + d.z * s->axis[2].y,
                              d.x * s->axis[0].z + d.y * s->axis[1].z + d.z * s->axis[2].z};
}

/* The width of the set along n, and the difference of the two points that make it. */
static double width_along(const tu_zone_workspace *set, tu_bed_direction n, tu_bed_direction *apart)
{
    double highest = -INFINITY;
    double lowest = INFINITY;
    size_t high = 0;
    size_t low = 0;

    for (size_t i = 0; i < set->count; i++) {
        const double value = n.x * set->x[i] + n.y * set->y[i] + n.z * set->z[i];

        if (value > highest) {
            highest = value;
            high = i;
        }
        if (value < lowest) {
            lowest = value;
            low = i;
        }
    }
    *apart = (tu_bed_direction){set->x[high] - set->x[low], set->y[high] - set->y[low],
                                set->z[high] - set->z[low]};
    return highest - lowest;
}

/* 1 or -1: on which side of the ball b is, as seen from a cap's middle. */
static double side_of(const double cap[4], tu_bed_direction b)
{
    return cap[0] * b.x + cap[1] * b.y + cap[2] * b.z < 0.0 ? -1.0 : 1.0;
}

/* Of the line from a cap's middle, or its opposite, to b: exact for small angles too. */
static double chord_squared(const double cap[4], double side, tu_bed_direction b)
{
    const double x = side * cap[0] - b.x;
    const double y = side * cap[1] - b.y;
    const double z = side * cap[2] - b.z;

    return x * x + y * y + z * z;
}

/* A cap as its middle and the square of the chord from there to its rim, 2 sin(t/2). */
static void add_cap(search *s, const tu_zone_optimum *optimum)
{
    const double ratio = fmin(optimum->radius / optimum->width, 1.0);
    const tu_bed_direction n = to_axes(s, optimum->normal);
    const double rim = (1.0 - 1e-9) * 4.0 * ratio * ratio / (1.0 + ratio * ratio);
    size_t k = 0;

    if (!(ratio > 0.0))
        return;
    while (k < s->set->cap_count &&
           chord_squared(s->set->caps[k], side_of(s->set->caps[k], n), n) > 1e-24)
        k++;
    if (k == TU_ZONE_WORKING_CAPS || (k < s->set->cap_count && s->set->caps[k][3] >= rim))
        return;
    s->set->cap_count += k == s->set->cap_count;
    double *slot = s->set->caps[k];
    slot[0] = n.x;
    slot[1] = n.y;
    slot[2] = n.z;
    slot[3] = rim;
}

static bool in_a_cap(const search *s, const tu_bed_direction corner[4])
{
    for (size_t k = 0; k < s->set->cap_count; k++) {
        const double *cap = s->set->caps[k];
        const double side = side_of(cap, corner[0]);
        int inside = 0;

        while (inside < 4 && chord_squared(cap, side, corner[inside]) <= cap[3])
            inside++;
        if (inside == 4)
            return true;
    }
    return false;
}

static void go_down(search *s, tu_bed_direction from)
{
    tu_zone_optimum found;

    tu_zone_descend(s->set, from, s->slack_mm, &found);
    add_cap(s, &found);
    if (found.width < s->best->width)
        *s->best = found;
}

/* Whether nothing in the box is better than the best. */
static bool dispose(search *s, const box *b, size_t *descents)
{
    tu_bed_direction corner[4];
    tu_bed_direction apart;
    double bound = INFINITY;

    for (int i = 0; i < 4; i++)
        corner[i] = on_side(s, b->side, b->a + (i & 1 ? b->half : -b->half),
                            b->b + (i & 2 ? b->half : -b->half));
    if (in_a_cap(s, corner))
        return true;
    const tu_bed_direction middle = from_axes(s, on_side(s, b->side, b->a, b->b));
    const double width = width_along(s->set, middle, &apart);
    const tu_bed_direction d = to_axes(s, apart);
    for (int i = 0; i < 4; i++)
        bound = fmin(bound, tu_zone_dot(d, corner[i]));
    if (bound >= s->best->width - s->slack_mm)
        return true;
    if (width < s->best->width ||
        (width < nearly * s->best->width && *descents < 2 * TU_ZONE_WORKING_CAPS)) {
        ++*descents;
        go_down(s, middle);
        return bound >= s->best->width - s->slack_mm || in_a_cap(s, corner);
    }
    return false;
}

/* The longest way through the set, the one across it, and the one square to both. */
static void lay_axes(search *s)
{
    const tu_zone_triangle t = tu_zone_find_triangle(s->set);
    tu_bed_direction apart;
    double extent[3];

    s->axis[2] = t.normal;
    s->axis[0] = tu_zone_toward(s->set, t.corner[0], t.corner[1]);
    s->axis[1] = tu_zone_cross(t.normal, s->axis[0]);
    for (int k = 0; k < 3; k++)
        extent[k] = width_along(s->set, s->axis[k], &apart);
    for (int k = 0; k < 3; k++)
        s->stretch[k] = extent[0] / fmax(extent[k], least_extent * extent[0]);
}

bool tu_zone_search(tu_zone_workspace *set, double slack_mm, tu_zone_optimum *best)
{
    search s = {.set = set, .best = best, .slack_mm = slack_mm};
    size_t descents = 0;

    lay_axes(&s);
    set->cap_count = 0;
    add_cap(&s, best);
    for (int side = 0; side < SIDES; side++)
        push(&s, side, 0.0, 0.0, 1.0);
    for (size_t cost = 0; s.stacked > 0; cost += set->count) {
        const double *top = set->boxes[--s.stacked];
        const box b = {top[0], top[1], top[2], top[3]};

        if (dispose(&s, &b, &descents))
            continue;
        if (cost >= ALLOWANCE || s.stacked + 4 > TU_ZONE_WORKING_BOXES)
            return false;
        const double half = b.half / 2.0;
        for (int i = 0; i < 4; i++)
            push(&s, b.side, b.a + (i & 1 ? half : -half), b.b + (i & 2 ? half : -half), half);
    }
    return true;
}
