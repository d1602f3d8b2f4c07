/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_brute.c - the narrowest zone by trying all directions; clouds of points.
 */
#include "zone_brute.h"

#include <math.h>
#include <string.h>

enum { NO_HULL = 10, PAIRS = BRUTE_POINTS * (BRUTE_POINTS - 1) / 2 };

typedef struct vector {
    double x;
    double y;
    double z;
} vector;

static vector from_to(tu_bed_point a, tu_bed_point b)
{
    return (vector){b.x_mm - a.x_mm, b.y_mm - a.y_mm, b.z_mm - a.z_mm};
}

static vector cross(vector a, vector b)
{
    return (vector){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

static double dot(vector a, vector b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static double length(vector a)
{
    return sqrt(dot(a, a));
}

/* The smaller of best and the width along n, which need not be a unit vector. */
static double narrower(const tu_bed_point *points, size_t count, vector n, double best)
{
    const double size = length(n);
    const double enough = best * size;
    double low = 0.0;
    double high = 0.0;

    for (size_t i = 1; i < count; i++) {
        const double value = dot(n, from_to(points[0], points[i]));

        low = fmin(low, value);
        high = fmax(high, value);
        if (high - low >= enough)
            return best;
    }
    return (high - low) / size;
}

static double try_cross(const tu_bed_point *points, size_t count, vector a, vector b, double best)
{
    const vector n = cross(a, b);

    /* lines as good as parallel give no direction; a facet then holds the same optimum */
    if (!(length(n) > 1e-9 * length(a) * length(b)))
        return best;
    return narrower(points, count, n, best);
}

static bool supports(const tu_bed_point *points, size_t count, tu_bed_point from, vector n,
                     double rounding)
{
    bool above = false;
    bool below = false;

    for (size_t i = 0; i < count; i++) {
        const double value = dot(n, from_to(from, points[i]));

        above |= value > rounding;
        below |= value < -rounding;
        if (above && below)
            return false;
    }
    return true;
}

/* Which pairs of points are sides of a facet; pairs within a facet of many points are in too. */
static double try_facets(const tu_bed_point *points, size_t count,
                         bool edge[BRUTE_POINTS][BRUTE_POINTS])
{
    const double size = brute_size(points, count);
    double best = INFINITY;

    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < i; j++)
            for (size_t k = 0; k < j; k++) {
                const vector a = from_to(points[i], points[j]);
                const vector b = from_to(points[i], points[k]);
                const vector n = cross(a, b);

                if (!(length(n) > 1e-9 * length(a) * length(b)) ||
                    !supports(points, count, points[i], n, 1e-13 * size * length(n)))
                    continue;
                best = narrower(points, count, n, best);
                edge[i][j] = edge[j][k] = edge[i][k] = true;
            }
    return best;
}

double brute_width(const tu_bed_point *points, size_t count)
{
    bool edge[BRUTE_POINTS][BRUTE_POINTS] = {{false}};
    vector line[PAIRS];
    size_t lines = 0;
    double best = INFINITY;

    if (count > NO_HULL)
        best = try_facets(points, count, edge);
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < i; j++)
            if (count <= NO_HULL || edge[i][j])
                line[lines++] = from_to(points[i], points[j]);
    for (size_t i = 0; i < lines; i++)
        for (size_t j = 0; j < i; j++)
            best = try_cross(points, count, line[i], line[j], best);
    return best;
}

double brute_largest(const tu_bed_point *points, size_t count)
{
    double most = 0.0;

    for (size_t i = 0; i < count; i++)
        most = fmax(most,
                    fmax(fmax(fabs(points[i].x_mm), fabs(points[i].y_mm)), fabs(points[i].z_mm)));
    return most;
}

double brute_size(const tu_bed_point *points, size_t count)
{
    double most = 0.0;

    for (size_t i = 1; i < count; i++) {
        const vector v = from_to(points[0], points[i]);

        most = fmax(most, fmax(fabs(v.x), fmax(fabs(v.y), fabs(v.z))));
    }
    return most;
}

void brute_move(check_random *random, double offset, tu_bed_point *points, size_t count)
{
    vector axis[3];
    vector shift;

    for (int k = 0; k < 2; k++)
        axis[k] = (vector){check_random_normal(random, 0, 1), check_random_normal(random, 0, 1),
                           check_random_normal(random, 0, 1)};
    axis[2] = cross(axis[0], axis[1]);
    axis[1] = cross(axis[2], axis[0]);
    shift = (vector){check_random_uniform(random, -offset, offset),
                     check_random_uniform(random, -offset, offset),
                     check_random_uniform(random, -offset, offset)};
    for (int k = 0; k < 3; k++) {
        const double l = length(axis[k]);

        axis[k] = (vector){axis[k].x / l, axis[k].y / l, axis[k].z / l};
    }
    for (size_t i = 0; i < count; i++) {
        const vector p = {points[i].x_mm, points[i].y_mm, points[i].z_mm};

        points[i] = (tu_bed_point){dot(axis[0], p) + shift.x, dot(axis[1], p) + shift.y,
                                   dot(axis[2], p) + shift.z};
    }
}

/* --- Clouds: each fills one point --- */

typedef struct cloud {
    check_random *random;
    double height;
    double step;
    double slope_x;
    double slope_y;
    size_t columns;
} cloud;

static double uniform(const cloud *c, double half)
{
    return check_random_uniform(c->random, -half, half);
}

static tu_bed_point fat(const cloud *c, size_t i)
{
    (void)i;
    return (tu_bed_point){uniform(c, 100), uniform(c, 100), uniform(c, 100)};
}

static tu_bed_point bed(const cloud *c, size_t i)
{
    (void)i;
    return (tu_bed_point){uniform(c, 300), uniform(c, 200), uniform(c, c->height)};
}

static tu_bed_point lattice(const cloud *c, size_t i)
{
    (void)i;
    return (tu_bed_point){(double)check_random_below(c->random, 4),
                          (double)check_random_below(c->random, 4),
                          (double)check_random_below(c->random, 3)};
}

static tu_bed_point coplanar(const cloud *c, size_t i)
{
    (void)i;
    const double x = uniform(c, 100);
    const double y = uniform(c, 100);

    return (tu_bed_point){x, y, c->slope_x * x + c->slope_y * y};
}

static tu_bed_point ball(const cloud *c, size_t i)
{
    (void)i;
    const vector v = {check_random_normal(c->random, 0, 1), check_random_normal(c->random, 0, 1),
                      check_random_normal(c->random, 0, 1)};
    const double l = length(v) / 50.0;

    return (tu_bed_point){v.x / l, v.y / l, v.z / l};
}

/* Heights as a machine reports them, in whole steps, on a grid. */
static tu_bed_point stepped(const cloud *c, size_t i)
{
    return (tu_bed_point){50.0 * (double)(i % c->columns), 50.0 * (double)(i / c->columns),
                          c->step * (double)check_random_below(c->random, 5)};
}

static tu_bed_point one_line_and_one(const cloud *c, size_t i)
{
    const double t = uniform(c, 100);

    return i == 0 ? (tu_bed_point){3, 70, 5} : (tu_bed_point){t, 2 * t, 0.5 * t};
}

static tu_bed_point two_lines(const cloud *c, size_t i)
{
    const double t = (double)check_random_below(c->random, 7) - 3.0;

    return i % 2 ? (tu_bed_point){t, 0, c->height} : (tu_bed_point){0, t, 0};
}

static tu_bed_point box(const cloud *c, size_t i)
{
    (void)c;
    return (tu_bed_point){i & 1 ? 30 : 0, i & 2 ? 20 : 0, i & 4 ? 10 : 0};
}

static tu_bed_point strip(const cloud *c, size_t i)
{
    (void)i;
    return (tu_bed_point){uniform(c, 400), uniform(c, c->height), uniform(c, 1.0)};
}

static tu_bed_point saddle(const cloud *c, size_t i)
{
    const double x = (double)(i % c->columns) - 3.0;
    const double y = (double)(i / c->columns) - 3.0;

    return (tu_bed_point){10 * x, 10 * y, c->height * (x * x - y * y)};
}

static tu_bed_point needle(const cloud *c, size_t i)
{
    (void)i;
    return (tu_bed_point){uniform(c, 500), uniform(c, 1), uniform(c, 1)};
}

static const struct {
    const char *name;
    tu_bed_point (*point)(const cloud *, size_t);
    size_t most;
} kinds[BRUTE_KINDS] = {{"fat", fat, 60},
                        {"bed", bed, 60},
                        {"lattice", lattice, 30},
                        {"coplanar", coplanar, 16},
                        {"ball", ball, 50},
                        {"stepped bed", stepped, 30},
                        {"one line and one point", one_line_and_one, 10},
                        {"two lines", two_lines, 16},
                        {"box", box, 8},
                        {"strip", strip, 60},
                        {"saddle", saddle, 36},
                        {"needle", needle, 40}};

const char *brute_kind_name(size_t kind)
{
    return kinds[kind].name;
}

void brute_cloud(check_random *random, size_t kind, tu_bed_point *points, size_t *count)
{
    const cloud c = {.random = random,
                     .height = pow(10.0, check_random_uniform(random, -3, 2)),
                     .step = 0.0125,
                     .slope_x = check_random_uniform(random, -1, 1),
                     .slope_y = check_random_uniform(random, -1, 1),
                     .columns = 4 + check_random_below(random, 3)};

    *count = 4 + check_random_below(random, kinds[kind].most - 3);
    for (size_t i = 0; i < *count; i++) {
        points[i] = kinds[kind].point(&c, i);
        /* now and then a point is touched twice */
        if (i > 0 && check_random_below(random, 20) == 0)
            points[i] = points[check_random_below(random, i)];
    }
}
