/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * seams.c - whether series of touches that were put together stand at different heights.
 *
 * Where two series adjoin, each foretells by a plane through its own places nearby the height
 * halfway between two neighbours. On one bed the two agree: its slope is in both planes, and its
 * curvature takes them down alike. The median along the seam is the step; chips do not move it.
 */
#include "bed/neighbours.h"

#include "trueup/bed_seams.h"

#include <gsl/gsl_heapsort.h>
#include <gsl/gsl_sort.h>
#include <math.h>

enum { FEWEST_OF_PLANE = 4, FEWEST_PAIRS = 4, SHARE_PLACES = 3 };

#define SD_OF_MAD     1.4826
#define SD_OF_MEDIAN  1.2533 /* over that of a mean, normal */
#define SURE          4.0    /* standard deviations */
#define ALL_ALONG     3.0    /* of a single step's scatter */
#define FLAT_TRIANGLE 1e-3   /* determinant over that of a round heap of places: on one line */

/* Places that are neighbours; low and high are their series by number. */
typedef struct pair {
    size_t low, high;
    uint32_t a, b;
} pair;

typedef struct seams {
    const tu_bed_point *point;
    const size_t *series;
    tu_bed_squares squares;
    pair *pairs;
    size_t count;
} seams;

/* a + b x + c y by least squares about a place, of what was added. */
typedef struct sums {
    double n, x, y, xx, xy, yy, z, xz, yz;
} sums;

static void add(sums *s, tu_bed_point p, double x0, double y0)
{
    const double x = p.x_mm - x0, y = p.y_mm - y0;
    s->n += 1;
    s->x += x;
    s->y += y;
    s->xx += x * x;
    s->xy += x * y;
    s->yy += y * y;
    s->z += p.z_mm;
    s->xz += x * p.z_mm;
    s->yz += y * p.z_mm;
}

/* Height of the plane at the place; NaN where the points do not settle it. */
static double plane_there(const sums *s)
{
    const double mx = s->x / s->n, my = s->y / s->n, mz = s->z / s->n;
    const double xx = s->xx - s->n * mx * mx, yy = s->yy - s->n * my * my;
    const double xy = s->xy - s->n * mx * my;
    const double xz = s->xz - s->n * mx * mz, yz = s->yz - s->n * my * mz;
    const double size = xx + yy, d = xx * yy - xy * xy;
    if (s->n < FEWEST_OF_PLANE || !(d > FLAT_TRIANGLE * size * size))
        return NAN;
    return mz - mx * (xz * yy - yz * xy) / d - my * (yz * xx - xz * xy) / d;
}

/* What the series of place i says of a height, from its neighbours, and from i itself if so. */
static double foretell(const seams *s, size_t i, bool itself, double x_mm, double y_mm)
{
    size_t near[TU_BED_NEIGHBOURS_MAX];
    const size_t found = tu_bed_squares_nearest(&s->squares, i, TU_BED_NEIGHBOURS_MAX, near);
    const double z0 = s->point[i].z_mm; /* differences keep their digits */
    sums all = {0};

    if (itself)
        add(&all, (tu_bed_point){s->point[i].x_mm, s->point[i].y_mm, 0}, x_mm, y_mm);
    for (size_t k = 0; k < found; k++) {
        tu_bed_point p = s->point[near[k]];
        p.z_mm -= z0;
        if (s->series[near[k]] == s->series[i])
            add(&all, p, x_mm, y_mm);
    }
    return z0 + plane_there(&all);
}

/* How far the series of b lies above that of a, between the two places. */
static double step_at(const seams *s, pair p)
{
    const tu_bed_point a = s->point[p.a], b = s->point[p.b];
    const double x = (a.x_mm + b.x_mm) / 2, y = (a.y_mm + b.y_mm) / 2;
    return foretell(s, p.b, true, x, y) - foretell(s, p.a, true, x, y);
}

static void find_pairs(seams *s, size_t count)
{
    size_t near[TU_BED_NEIGHBOURS_MAX];

    for (size_t i = 0; i < count; i++) {
        if (s->series[i] == TU_BED_NO_SERIES)
            continue;
        const size_t found = tu_bed_squares_nearest(&s->squares, i, 8, near);
        for (size_t k = 0; k < found; k++) {
            const size_t other = s->series[near[k]];
            if (other == TU_BED_NO_SERIES || other == s->series[i])
                continue;
            if (s->series[i] < other)
                s->pairs[s->count++] = (pair){s->series[i], other, (uint32_t)i, (uint32_t)near[k]};
            break;
        }
    }
}

static int compare_pairs(const void *first, const void *second)
{
    const pair *p = first, *q = second;
    if (p->low != q->low)
        return p->low < q->low ? -1 : 1;
    if (p->high != q->high)
        return p->high < q->high ? -1 : 1;
    return (p->a > q->a) - (p->a < q->a);
}

static double median_of(double *values, size_t count)
{
    gsl_sort(values, 1, count);
    return (values[(count - 1) / 2] + values[count / 2]) / 2;
}

/* The seam of the pairs; steps: room for as many. */
static tu_bed_seam judge_seam(const seams *s, const pair *pairs, size_t count, double *steps)
{
    tu_bed_seam seam = {.low = pairs[0].low, .high = pairs[0].high};

    for (size_t k = 0; k < count; k++) {
        const double step = step_at(s, pairs[k]);
        if (!isnan(step))
            steps[seam.pairs++] = step;
    }
    if (seam.pairs < FEWEST_PAIRS)
        return (tu_bed_seam){0};
    seam.step_mm = median_of(steps, seam.pairs);
    for (size_t k = 0; k < seam.pairs; k++)
        steps[k] = fabs(steps[k] - seam.step_mm);
    seam.scatter_mm = SD_OF_MAD * median_of(steps, seam.pairs);
    return seam;
}

/* How far places lie off what their own series foretells: noise, and how the bed bends in waves too
 * short for a plane. A step between series is not in it. values: room for all places. */
static double own_scatter(const seams *s, size_t count, double *values)
{
    size_t known = 0;

    for (size_t i = 0; i < count; i++) {
        const tu_bed_point p = s->point[i];
        const double off = p.z_mm - foretell(s, i, false, p.x_mm, p.y_mm);
        if (!isnan(off))
            values[known++] = fabs(off);
    }
    return known > 0 ? SD_OF_MAD * median_of(values, known) : 0;
}

/* A step is the same all along the seam; what waves of the bed make there changes its sign. Steps
 * side by side share places, so three are worth one. */
static bool is_step(const tu_bed_seam *seam, double floor_mm)
{
    const double worth = fmax(1, (double)seam->pairs / SHARE_PLACES);
    const double sd = SD_OF_MEDIAN * seam->scatter_mm / sqrt(worth);
    const double least = fmax(floor_mm, fmax(SURE * sd, ALL_ALONG * seam->scatter_mm));
    return seam->pairs > 0 && fabs(seam->step_mm) > least;
}

static void judge_all(const seams *s, double floor_mm, double *steps, tu_bed_seam *worst)
{
    for (size_t first = 0, end; first < s->count; first = end) {
        const pair *p = &s->pairs[first];
        for (end = first + 1; end < s->count; end++)
            if (s->pairs[end].low != p->low || s->pairs[end].high != p->high)
                break;
        const tu_bed_seam seam = judge_seam(s, p, end - first, steps);
        if (is_step(&seam, floor_mm) &&
            (worst->pairs == 0 || fabs(seam.step_mm) > fabs(worst->step_mm)))
            *worst = seam;
    }
    if (worst->step_mm < 0) {
        const size_t low = worst->low;
        worst->low = worst->high;
        worst->high = low;
        worst->step_mm = -worst->step_mm;
    }
}

size_t tu_bed_seam_bytes(size_t count)
{
    return tu_bed_squares_bytes(count) + tu_bed_memory_size(count, sizeof(pair)) +
           tu_bed_memory_size(count, sizeof(double));
}

tu_status tu_bed_find_seam(const tu_bed_point *points, const size_t *series, size_t count,
                           double floor_mm, void *memory, size_t bytes, tu_bed_seam *seam,
                           tu_error *error)
{
    tu_bed_memory block;
    seams s = {.point = points, .series = series};

    if (!points || !series || !seam || count == 0)
        return tu_fail(error, TU_USAGE, NULL, "places, their series and room for the seam");
    *seam = (tu_bed_seam){0};
    if (!(floor_mm >= 0))
        return tu_fail(error, TU_DATA_RANGE, NULL, "the least step has to be 0 or more");
    tu_status status = tu_bed_memory_start(&block, memory, bytes, tu_bed_seam_bytes(count), error);
    if (status)
        return status;
    s.pairs = tu_bed_memory_take(&block, count, sizeof *s.pairs);
    double *steps = tu_bed_memory_take(&block, count, sizeof *steps);
    tu_bed_squares_start(&s.squares, points, count, &block);
    find_pairs(&s, count);
    gsl_heapsort(s.pairs, s.count, sizeof *s.pairs, compare_pairs);
    if (s.count > 0)
        floor_mm = fmax(floor_mm, ALL_ALONG * own_scatter(&s, count, steps));
    judge_all(&s, floor_mm, steps, seam);
    return TU_OK;
}
