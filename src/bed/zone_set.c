/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_set.c - the working set of the minimum zone, and the passes over all points that feed it.
 */
#include "bed/zone_parts.h"

#include <math.h>

enum { START = 512, CELLS = 8, BLOCK = 256, NOBODY = -1 };

bool tu_zone_add_point(tu_zone_workspace *set, const tu_bed_point *points, size_t index,
                       const tu_bed_box *box)
{
    if (set->count == TU_ZONE_WORKING_POINTS)
        return false;
    set->index[set->count] = index;
    set->x[set->count] = points[index].x_mm - box->middle.x_mm;
    set->y[set->count] = points[index].y_mm - box->middle.y_mm;
    set->z[set->count] = points[index].z_mm - box->middle.z_mm;
    set->count++;
    return true;
}

void tu_zone_start_set(tu_zone_workspace *set, const tu_bed_point *points, size_t count,
                       const tu_bed_box *box)
{
    const size_t wanted = count < START ? count : START;

    set->count = 0;
    set->cap_count = 0;
    for (size_t k = 0; k < wanted; k++)
        tu_zone_add_point(set, points, (size_t)((double)k * ((double)count / (double)wanted)), box);
}

static tu_bed_direction unit(double x, double y, double z)
{
    const double length = hypot(hypot(x, y), z);

    return (tu_bed_direction){x / length, y / length, z / length};
}

tu_bed_direction tu_zone_cross(tu_bed_direction a, tu_bed_direction b)
{
    return (tu_bed_direction){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

tu_bed_direction tu_zone_toward(const tu_zone_workspace *set, size_t from, size_t to)
{
    return unit(set->x[to] - set->x[from], set->y[to] - set->y[from], set->z[to] - set->z[from]);
}

/* Two axes that are square to n and to each other. */
static void complete_frame(tu_bed_direction n, tu_bed_direction *u, tu_bed_direction *v)
{
    /* along the axis that n leans to least, less its part along n */
    const double ax = fabs(n.x);
    const double ay = fabs(n.y);
    const double az = fabs(n.z);
    tu_bed_direction w;

    if (ax <= ay && ax <= az)
        w = (tu_bed_direction){1.0 - n.x * n.x, -n.x * n.y, -n.x * n.z};
    else if (ay <= az)
        w = (tu_bed_direction){-n.y * n.x, 1.0 - n.y * n.y, -n.y * n.z};
    else
        w = (tu_bed_direction){-n.z * n.x, -n.z * n.y, 1.0 - n.z * n.z};
    *u = unit(w.x, w.y, w.z);
    *v = tu_zone_cross(n, *u);
}

void tu_zone_turn_set(tu_zone_workspace *set, tu_bed_direction normal, tu_bed_direction *u,
                      tu_bed_direction *v)
{
    complete_frame(normal, u, v);
    for (size_t i = 0; i < set->count; i++) {
        const double x = set->x[i];
        const double y = set->y[i];
        const double z = set->z[i];

        set->turned_x[i] = u->x * x + u->y * y + u->z * z;
        set->turned_y[i] = v->x * x + v->y * y + v->z * z;
        set->turned_z[i] = normal.x * x + normal.y * y + normal.z * z;
    }
}

/* --- A pass: the worst point of each cell of a grid that is laid over the box --- */

typedef struct cell {
    double value;
    long long index;
} cell;

typedef struct sieve {
    const tu_bed_point *points;
    const tu_bed_box *box;
    tu_bed_direction n;
    double high; /* beyond these a point is of interest */
    double low;
    cell highs[CELLS][CELLS];
    cell lows[CELLS][CELLS];
} sieve;

static double along(const sieve *s, const tu_bed_point *p)
{
    return s->n.x * (p->x_mm - s->box->middle.x_mm) + s->n.y * (p->y_mm - s->box->middle.y_mm) +
           s->n.z * (p->z_mm - s->box->middle.z_mm);
}

static int cell_of(double value, double low, double high)
{
    const double width = high - low;
    const int k = width > 0.0 ? (int)((value - low) / width * CELLS) : 0;

    return k < CELLS ? k : CELLS - 1;
}

/* The two longer sides of the box carry the grid. */
static cell *cell_at(sieve *s, cell cells[CELLS][CELLS], const tu_bed_point *p)
{
    const tu_bed_point l = s->box->low;
    const tu_bed_point h = s->box->high;
    const double dx = h.x_mm - l.x_mm;
    const double dy = h.y_mm - l.y_mm;
    const double dz = h.z_mm - l.z_mm;
    const int ix = cell_of(p->x_mm, l.x_mm, h.x_mm);
    const int iy = cell_of(p->y_mm, l.y_mm, h.y_mm);
    const int iz = cell_of(p->z_mm, l.z_mm, h.z_mm);

    if (dz <= dx && dz <= dy)
        return &cells[ix][iy];
    return dy <= dx ? &cells[ix][iz] : &cells[iy][iz];
}

static void sift(sieve *s, size_t start, size_t end)
{
    for (size_t i = start; i < end; i++) {
        const double value = along(s, &s->points[i]);
        cell *c;

        if (value > s->high) {
            c = cell_at(s, s->highs, &s->points[i]);
            if (c->index == NOBODY || value > c->value)
                *c = (cell){value, (long long)i};
        } else if (value < s->low) {
            c = cell_at(s, s->lows, &s->points[i]);
            if (c->index == NOBODY || value < c->value)
                *c = (cell){value, (long long)i};
        }
    }
}

/* Extent of a block along n. Four of each, since one comparison would wait for the one before it.
 */
static void block_extent(const sieve *s, size_t start, size_t end, double *low, double *high)
{
    double h[4] = {-INFINITY, -INFINITY, -INFINITY, -INFINITY};
    double l[4] = {INFINITY, INFINITY, INFINITY, INFINITY};
    size_t i = start;

    for (; i + 4 <= end; i += 4)
        for (size_t k = 0; k < 4; k++) {
            const double value = along(s, &s->points[i + k]);

            h[k] = value > h[k] ? value : h[k];
            l[k] = value < l[k] ? value : l[k];
        }
    for (; i < end; i++) {
        const double value = along(s, &s->points[i]);

        h[0] = value > h[0] ? value : h[0];
        l[0] = value < l[0] ? value : l[0];
    }
    *high = fmax(fmax(h[0], h[1]), fmax(h[2], h[3]));
    *low = fmin(fmin(l[0], l[1]), fmin(l[2], l[3]));
}

static bool take_cells(tu_zone_workspace *set, const sieve *s, size_t *added)
{
    for (int i = 0; i < CELLS; i++)
        for (int k = 0; k < CELLS; k++) {
            const long long found[2] = {s->highs[i][k].index, s->lows[i][k].index};

            for (int side = 0; side < 2; side++) {
                if (found[side] == NOBODY)
                    continue;
                if (!tu_zone_add_point(set, s->points, (size_t)found[side], s->box))
                    return false;
                ++*added;
            }
        }
    return true;
}

bool tu_zone_pass_points(tu_zone_workspace *set, const tu_bed_point *points, size_t count,
                         const tu_bed_box *box, const tu_zone_optimum *optimum, double slack,
                         tu_zone_pass *pass)
{
    sieve s = {.points = points, .box = box, .n = optimum->normal};

    for (int i = 0; i < CELLS; i++)
        for (int k = 0; k < CELLS; k++)
            s.highs[i][k].index = s.lows[i][k].index = NOBODY;
    s.high = optimum->low + optimum->width + slack;
    s.low = optimum->low - slack;
    *pass = (tu_zone_pass){.low = INFINITY, .high = -INFINITY};
    for (size_t start = 0; start < count; start += BLOCK) {
        const size_t end = count - start < BLOCK ? count : start + BLOCK;
        double low;
        double high;

        block_extent(&s, start, end, &low, &high);
        if (high > s.high || low < s.low)
            sift(&s, start, end);
        pass->high = high > pass->high ? high : pass->high;
        pass->low = low < pass->low ? low : pass->low;
    }
    return take_cells(set, &s, &pass->added);
}

/* --- How wide the set is --- */

static size_t farthest_from(const double *x, const double *y, const double *z, size_t count,
                            size_t from, double *distance)
{
    size_t best = from;

    *distance = 0.0;
    for (size_t i = 0; i < count; i++) {
        const double d = hypot(hypot(x[i] - x[from], y[i] - y[from]), z[i] - z[from]);

        if (d > *distance) {
            *distance = d;
            best = i;
        }
    }
    return best;
}

tu_zone_triangle tu_zone_find_triangle(const tu_zone_workspace *set)
{
    tu_zone_triangle t = {.normal = {0.0, 0.0, 1.0}};
    double length;

    t.corner[0] = farthest_from(set->x, set->y, set->z, set->count, 0, &length);
    t.corner[1] = farthest_from(set->x, set->y, set->z, set->count, t.corner[0], &length);
    const size_t a = t.corner[0];
    const size_t b = t.corner[1];
    const tu_bed_direction line =
        length > 0.0 ? tu_zone_toward(set, a, b) : (tu_bed_direction){1.0, 0.0, 0.0};
    for (size_t i = 0; i < set->count; i++) {
        const tu_bed_direction to = {set->x[i] - set->x[a], set->y[i] - set->y[a],
                                     set->z[i] - set->z[a]};
        const tu_bed_direction square = tu_zone_cross(line, to);
        const double height = hypot(hypot(square.x, square.y), square.z);

        if (height > t.height) {
            t.height = height;
            t.corner[2] = i;
            t.normal = unit(square.x, square.y, square.z);
        }
    }
    return t;
}

/*
 * Any triangle of the points is no wider than they are: its smallest height is a bound. The
 * corners: two far from each other, and the one farthest from their line.
 */
double tu_zone_outline_width(const tu_zone_workspace *set)
{
    const double *x = set->turned_x;
    const double *y = set->turned_y;
    double best = 0.0;
    double length;

    size_t a = 0;
    for (size_t i = 0; i < set->count; i++)
        a = hypot(x[i], y[i]) > hypot(x[a], y[a]) ? i : a;
    size_t b = a;
    length = 0.0;
    for (size_t i = 0; i < set->count; i++)
        if (hypot(x[i] - x[a], y[i] - y[a]) > length) {
            length = hypot(x[i] - x[a], y[i] - y[a]);
            b = i;
        }
    for (size_t i = 0; i < set->count; i++) {
        const double area2 = fabs((x[b] - x[a]) * (y[i] - y[a]) - (y[b] - y[a]) * (x[i] - x[a]));
        const double longest =
            fmax(length, fmax(hypot(x[i] - x[a], y[i] - y[a]), hypot(x[i] - x[b], y[i] - y[b])));

        if (longest > 0.0 && area2 / longest > best)
            best = area2 / longest;
    }
    return best;
}
