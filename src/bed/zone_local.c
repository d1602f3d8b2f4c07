/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_local.c - from a direction down to a local optimum of the working set's width.
 *
 * In a frame whose third axis is the direction, let V(a, b) be the extent of the points along (a,
 * b, 1), that is their width in that direction times sqrt(1 + a*a + b*b). V is convex, and its
 * smallest value is a linear programme: the height at which the vertical through the origin leaves
 * the convex hull of all differences of two points. It is solved by exchange: three differences,
 * whose triangle the vertical pierces, are a portal; the difference that lies farthest beyond the
 * portal's plane takes the place of one of the three, so that the vertical pierces the new portal
 * too; each exchange lifts the height, until nothing lies beyond. (The simplex method on the dual;
 * E. Stiefel, Numerische Mathematik 1 (1959) 1-28, for one function of two parameters.) The width
 * at the direction found is no larger than before. The frame is turned to it and all is done again
 * until the direction stays: then the portal's points are the contacts.
 */
#include "bed/zone_parts.h"

#include <float.h>
#include <math.h>

enum { TURNS = 60, EXCHANGES = 400, NOBODY = -1, TIES = 10 };

/* A difference of two points of the set; nobody's: one of those that start the exchange. */
typedef struct vertex {
    double x;
    double y;
    double z;
    int high;
    int low;
} vertex;

typedef struct portal {
    vertex corner[3];
    double weight[3]; /* of the corners, with which they make the point under the vertical */
    double a;         /* a*x + b*y + z is height at each corner */
    double b;
    double height;
} portal;

/* The extent of the turned set along (a, b, 1). */
static vertex support(const tu_zone_workspace *set, double a, double b, double *extent)
{
    double highest = -INFINITY;
    double lowest = INFINITY;
    int high = 0;
    int low = 0;

    for (int i = 0; i < (int)set->count; i++) {
        const double value = a * set->turned_x[i] + b * set->turned_y[i] + set->turned_z[i];

        if (value > highest) {
            highest = value;
            high = i;
        }
        if (value < lowest) {
            lowest = value;
            low = i;
        }
    }
    *extent = highest - lowest;
    return (vertex){set->turned_x[high] - set->turned_x[low],
                    set->turned_y[high] - set->turned_y[low],
                    set->turned_z[high] - set->turned_z[low], high, low};
}

static double area2(double ax, double ay, double bx, double by)
{
    return ax * by - ay * bx;
}

/* The plane of the corners; false when they are on one line seen from above. */
static bool lay_plane(portal *p)
{
    const vertex *c = p->corner;
    const double x1 = c[1].x - c[0].x;
    const double y1 = c[1].y - c[0].y;
    const double z1 = c[1].z - c[0].z;
    const double x2 = c[2].x - c[0].x;
    const double y2 = c[2].y - c[0].y;
    const double z2 = c[2].z - c[0].z;
    const double area = area2(x1, y1, x2, y2);

    if (area == 0.0)
        return false;
    p->a = -area2(z1, y1, z2, y2) / area;
    p->b = -area2(x1, z1, x2, z2) / area;
    p->weight[0] = area2(c[1].x, c[1].y, c[2].x, c[2].y) / area;
    p->weight[1] = area2(c[2].x, c[2].y, c[0].x, c[0].y) / area;
    p->weight[2] = area2(c[0].x, c[0].y, c[1].x, c[1].y) / area;
    p->height = p->weight[0] * c[0].z + p->weight[1] * c[1].z + p->weight[2] * c[2].z;
    return isfinite(p->a) && isfinite(p->b);
}

/* Which corner the newcomer replaces so that the vertical stays inside: the ratio test of the
 * simplex. */
static int leaving(const portal *p, const vertex *d)
{
    const vertex *c = p->corner;
    const double area = area2(c[1].x - c[0].x, c[1].y - c[0].y, c[2].x - c[0].x, c[2].y - c[0].y);
    int best = NOBODY;
    double best_ratio = INFINITY;
    double best_share = 0.0;

    for (int k = 0; k < 3; k++) {
        const vertex *f = &c[(k + 1) % 3];
        const vertex *g = &c[(k + 2) % 3];
        const double share = area2(f->x - d->x, f->y - d->y, g->x - d->x, g->y - d->y) / area;

        if (!(share > 1e-13))
            continue;
        const double ratio = fmax(p->weight[k], 0.0) / share;
        if (ratio < best_ratio || (ratio == best_ratio && share > best_share)) {
            best = k;
            best_ratio = ratio;
            best_share = share;
        }
    }
    return best;
}

/* Three corners far out and far down: they keep the slopes below about one, and give way to any
 * other. */
static portal first_portal(double reach)
{
    const double far = 8.0 * reach;
    portal p = {.corner = {{far, 0.0, -far, NOBODY, NOBODY},
                           {-0.5 * far, 0.9 * far, -far, NOBODY, NOBODY},
                           {-0.5 * far, -0.9 * far, -far, NOBODY, NOBODY}}};

    lay_plane(&p);
    return p;
}

static double reach_of(const tu_zone_workspace *set)
{
    double reach = 0.0;

    for (size_t i = 0; i < set->count; i++)
        reach = fmax(reach, fmax(fmax(fabs(set->turned_x[i]), fabs(set->turned_y[i])),
                                 fabs(set->turned_z[i])));
    return reach;
}

/* The direction of the smallest V found; best gets the portal that goes with it. */
static void solve_portal(const tu_zone_workspace *set, double slack_mm, portal *best)
{
    portal p = first_portal(reach_of(set));
    double best_extent = INFINITY;

    *best = p;
    for (int k = 0; k < EXCHANGES; k++) {
        double extent;
        const vertex d = support(set, p.a, p.b, &extent);

        if (extent < best_extent || extent <= p.height + slack_mm) {
            best_extent = extent;
            *best = p;
        }
        if (extent <= p.height + slack_mm)
            return;
        const int corner = leaving(&p, &d);
        if (corner == NOBODY)
            return;
        p.corner[corner] = d;
        if (!lay_plane(&p))
            return;
    }
}

static void add_once(size_t *list, size_t *count, size_t limit, int value)
{
    if (value == NOBODY || *count == limit)
        return;
    for (size_t k = 0; k < *count; k++)
        if (list[k] == (size_t)value)
            return;
    list[(*count)++] = (size_t)value;
}

/* Width, and the contacts that prove it: the portal's, and if those do not, all that touch. */
static void judge(const tu_zone_workspace *set, const portal *p, double slack_mm,
                  tu_zone_optimum *optimum)
{
    size_t highs[TIES];
    size_t lows[TIES];
    size_t high_count = 0;
    size_t low_count = 0;

    support(set, 0.0, 0.0, &optimum->width);
    optimum->low = INFINITY;
    for (size_t i = 0; i < set->count; i++)
        optimum->low = fmin(optimum->low, set->turned_z[i]);
    optimum->radius = -INFINITY;
    optimum->high_count = optimum->low_count = 0;
    for (int k = 0; k < 3; k++) {
        add_once(highs, &high_count, TIES, p->corner[k].high);
        add_once(lows, &low_count, TIES, p->corner[k].low);
    }
    tu_zone_choose_contacts(set, highs, high_count, lows, low_count, optimum);
    if (optimum->radius > slack_mm)
        return;
    for (size_t i = 0; i < set->count; i++) {
        const double above = set->turned_z[i] - optimum->low;

        if (above >= optimum->width - 2.0 * slack_mm)
            add_once(highs, &high_count, TIES, (int)i);
        if (above <= 2.0 * slack_mm)
            add_once(lows, &low_count, TIES, (int)i);
    }
    tu_zone_choose_contacts(set, highs, high_count, lows, low_count, optimum);
}

static bool same_points(const portal *p, const portal *q)
{
    for (int k = 0; k < 3; k++) {
        bool found = false;

        for (int m = 0; m < 3; m++)
            found |= p->corner[k].high == q->corner[m].high && p->corner[k].low == q->corner[m].low;
        if (!found)
            return false;
    }
    return true;
}

void tu_zone_descend(tu_zone_workspace *set, tu_bed_direction start, double slack_mm,
                     tu_zone_optimum *optimum)
{
    tu_bed_direction u;
    tu_bed_direction v;
    portal before = {0};
    portal p = {0};
    tu_bed_direction n = start;

    for (int turn = 0; turn < TURNS; turn++) {
        tu_zone_turn_set(set, n, &u, &v);
        solve_portal(set, slack_mm, &p);
        const double length = sqrt(1.0 + p.a * p.a + p.b * p.b);

        n = (tu_bed_direction){(p.a * u.x + p.b * v.x + n.x) / length,
                               (p.a * u.y + p.b * v.y + n.y) / length,
                               (p.a * u.z + p.b * v.z + n.z) / length};
        if (turn > 0 && same_points(&p, &before))
            break;
        before = p;
    }
    optimum->normal = n;
    tu_zone_turn_set(set, n, &u, &v);
    judge(set, &p, slack_mm, optimum);
}
