/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * suspects.c - points that their neighbours do not foretell.
 *
 * Local planes by Tukey's biweight from the median on: A. E. Beaton, J. W. Tukey, Technometrics 16
 * (1974) 147-185. The scale of all residuals is their median, 1.4826 |r| (P. J. Rousseeuw, C.
 * Croux, J. Amer. Statist. Assoc. 88 (1993) 1273-1283: efficiency 37 %), so the score of a clean
 * bed has the tails of Student's t with some 0.37 n degrees of freedom.
 */
#include "bed/neighbours.h"
#include "bed/smooth_shape.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

#define MAD_EFFICIENCY   0.37
#define BIWEIGHT         4.685
#define DEFAULT_FLOOR_MM 0.001
#define SHAPE_TAKEN_FROM 16 /* places from which on the smooth shape is taken off first */

enum { FEWEST = 9, FEWEST_NEIGHBOURS = 8, ROUNDS = 4 };

size_t tu_bed_suspects_bytes(size_t count)
{
    return tu_bed_squares_bytes(count) + tu_bed_smooth_bytes(count) +
           4 * tu_bed_memory_size(count, sizeof(double));
}

/* The k-th smallest of values, which are put in another order: smaller ones before it. C. A. R.
 * Hoare, Algorithm 65, Comm. ACM 4 (1961) 321. */
static double kth_smallest(double *values, size_t count, size_t k)
{
    size_t low = 0, end = count;

    while (end - low > 1) {
        const double pivot = values[low + (end - low) / 2];
        size_t less = low, more = end, i = low;
        while (i < more) {
            const double value = values[i];
            if (value < pivot) {
                values[i++] = values[less];
                values[less++] = value;
            } else if (value > pivot) {
                values[i] = values[--more];
                values[more] = value;
            } else {
                i++;
            }
        }
        if (k < less)
            end = less;
        else if (k >= more)
            low = more;
        else
            break;
    }
    return values[k];
}

double tu_bed_median(double *values, size_t count)
{
    const double upper = kth_smallest(values, count, count / 2);
    if (count % 2)
        return upper;
    double lower = -INFINITY;
    for (size_t i = 0; i < count / 2; i++)
        lower = fmax(lower, values[i]);
    return (lower + upper) / 2;
}

/* A number as a whole one of the same order, and back (IEEE 754): compilers compare these without a
 * branch, and make one of every comparison of the others. */
static inline int64_t to_whole(double value)
{
    int64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits < 0 ? bits ^ INT64_MAX : bits;
}

static inline double from_whole(int64_t bits)
{
    double value;
    bits = bits < 0 ? bits ^ INT64_MAX : bits;
    memcpy(&value, &bits, sizeof value);
    return value;
}

static inline void order(int64_t *a, int64_t *b)
{
    const int64_t x = *a, y = *b;
    *a = x < y ? x : y;
    *b = x < y ? y : x;
}

/*
 * The median of 8 to 12 values without a branch, since these come in no order that a processor
 * could guess: what is missing to 12 is put in alternately at both ends, then 33 exchanges bring
 * the two in the middle to their places. The exchanges are those of K. E. Batcher's merge (AFIPS
 * Conf. Proc. 32 (1968) 307-314, from memory) less all that the middle does not need; test_suspects
 * has them go through every order of large and small.
 */
double tu_bed_small_median(const double *values, size_t count)
{
    int64_t v[TU_BED_NEIGHBOURS_MAX];

    for (size_t i = 0; i < TU_BED_NEIGHBOURS_MAX; i++)
        v[i] = i < count ? to_whole(values[i]) : (i - count) % 2 ? INT64_MIN : INT64_MAX;
#define ORDER(i, j) order(&v[i], &v[j])
    ORDER(0, 1), ORDER(2, 3), ORDER(4, 5), ORDER(6, 7), ORDER(8, 9), ORDER(10, 11);
    ORDER(0, 2), ORDER(1, 3), ORDER(4, 6), ORDER(5, 7), ORDER(8, 10), ORDER(9, 11);
    ORDER(1, 2), ORDER(5, 6), ORDER(0, 4), ORDER(1, 5), ORDER(2, 6), ORDER(3, 7);
    ORDER(2, 4), ORDER(3, 5), ORDER(1, 2), ORDER(3, 4), ORDER(5, 6), ORDER(9, 10);
    ORDER(1, 9), ORDER(2, 10), ORDER(3, 11), ORDER(4, 8), ORDER(5, 9), ORDER(6, 10);
    ORDER(3, 5), ORDER(6, 8), ORDER(5, 6);
#undef ORDER
    return count % 2 ? from_whole(v[5]) : (from_whole(v[5]) + from_whole(v[6])) / 2;
}

/* Neighbours of a place, seen from it: height = plane[0] + plane[1] x + plane[2] y. */
typedef struct around {
    size_t count;
    double x[TU_BED_NEIGHBOURS_MAX], y[TU_BED_NEIGHBOURS_MAX], z[TU_BED_NEIGHBOURS_MAX];
    double weight[TU_BED_NEIGHBOURS_MAX];
    double plane[3];
    double doubt2; /* of plane[0], for neighbours of variance 1 */
} around;

/* Weighted least squares; false where the weights leave less than a plane. */
static bool fit_plane(around *a)
{
    double w = 0, x = 0, y = 0, z = 0, xx = 0, xy = 0, yy = 0, xz = 0, yz = 0;

    for (size_t i = 0; i < a->count; i++) {
        w += a->weight[i];
        x += a->weight[i] * a->x[i];
        y += a->weight[i] * a->y[i];
        z += a->weight[i] * a->z[i];
    }
    if (!(w > 0))
        return false;
    x /= w;
    y /= w;
    z /= w;
    for (size_t i = 0; i < a->count; i++) {
        const double dx = a->x[i] - x, dy = a->y[i] - y, dz = a->z[i] - z, k = a->weight[i];
        xx += k * dx * dx;
        xy += k * dx * dy;
        yy += k * dy * dy;
        xz += k * dx * dz;
        yz += k * dy * dz;
    }
    const double determinant = xx * yy - xy * xy;
    if (!(determinant > 1e-6 * (xx + yy) * (xx + yy)))
        return false;
    a->plane[1] = (xz * yy - yz * xy) / determinant;
    a->plane[2] = (yz * xx - xz * xy) / determinant;
    a->plane[0] = z - a->plane[1] * x - a->plane[2] * y;
    a->doubt2 = 1 / w + (x * x * yy - 2 * x * y * xy + y * y * xx) / determinant;
    return true;
}

static void weigh(around *a)
{
    double size[TU_BED_NEIGHBOURS_MAX];

    for (size_t i = 0; i < a->count; i++)
        size[i] = fabs(a->z[i] - a->plane[0] - a->plane[1] * a->x[i] - a->plane[2] * a->y[i]);
    const double spread = TU_BED_MAD_SCALE * tu_bed_small_median(size, a->count);
    const double scale = (spread > 1e-9 ? spread : 1e-9) * BIWEIGHT;
    for (size_t i = 0; i < a->count; i++) {
        const double u = size[i] / scale;
        a->weight[i] = u < 1 ? (1 - u * u) * (1 - u * u) : 0;
    }
}

/* What the neighbours foretell at the place; false: they do not settle a plane. */
static bool foretell(around *a)
{
    a->plane[0] = tu_bed_small_median(a->z, a->count);
    a->plane[1] = a->plane[2] = 0;
    for (int round = 0; round < ROUNDS; round++) {
        weigh(a);
        if (!fit_plane(a)) { /* which leaves the plane as it was */
            for (size_t i = 0; i < a->count; i++)
                a->weight[i] = 1;
            if (round > 0 || !fit_plane(a))
                return round > 0;
        }
    }
    return true;
}

typedef struct survey {
    const tu_bed_point *points;
    size_t count;
    tu_bed_squares squares;
    double *rest;     /* heights without the quadratic */
    double *residual; /* NaN: not judged */
    double *factor;   /* of a single touch's scatter in the residual */
    double *sorted;
    double least_factor, most_factor;
    size_t judged;
    size_t terms; /* of the shape, taken because they stood out */
} survey;

static void judge_point(survey *s, size_t i)
{
    size_t nearest[TU_BED_NEIGHBOURS_MAX];
    around a;

    a.count = tu_bed_squares_nearest(&s->squares, i, TU_BED_NEIGHBOURS_MAX, nearest);
    s->residual[i] = NAN;
    if (a.count < FEWEST_NEIGHBOURS)
        return;
    for (size_t k = 0; k < a.count; k++) {
        a.x[k] = s->points[nearest[k]].x_mm - s->points[i].x_mm;
        a.y[k] = (s->points[nearest[k]].y_mm - s->points[i].y_mm) * s->squares.y_scale;
        a.z[k] = s->rest[nearest[k]];
    }
    if (!foretell(&a))
        return;
    s->residual[i] = s->rest[i] - a.plane[0];
    s->factor[i] = sqrt(1 + a.doubt2);
    s->least_factor = s->factor[i] < s->least_factor ? s->factor[i] : s->least_factor;
    s->most_factor = s->factor[i] > s->most_factor ? s->factor[i] : s->most_factor;
    s->sorted[s->judged++] = fabs(s->residual[i]) / s->factor[i];
}

static void keep_suspect(tu_bed_suspects *suspects, tu_bed_suspect found)
{
    size_t at = suspects->count++;

    if (at >= suspects->room) {
        if (suspects->room == 0 || found.score <= suspects->suspect[suspects->room - 1].score)
            return;
        at = suspects->room - 1;
    }
    for (; at > 0 && suspects->suspect[at - 1].score < found.score; at--)
        suspects->suspect[at] = suspects->suspect[at - 1];
    suspects->suspect[at] = found;
}

/* Two-sided, so that all judged points together are above it with a chance of `rate`. */
static double threshold_for(size_t judged, double free, double rate)
{
    const double each = -expm1(log1p(-rate) / (double)judged);
    return gsl_cdf_tdist_Qinv(each / 2, fmax(2, MAD_EFFICIENCY * free));
}

static void judge_all(survey *s, double rate, double floor_mm, tu_bed_suspects *suspects)
{
    for (size_t i = 0; i < s->count; i++)
        judge_point(s, i);
    suspects->judged = s->judged;
    if (s->judged < FEWEST)
        return;
    /* a term takes part of the scatter with it, and was chosen for that: it counts twice */
    const double judged = (double)s->judged, free = fmax(1, judged - 2 * (double)s->terms);
    suspects->scatter_mm =
        TU_BED_MAD_SCALE * tu_bed_median(s->sorted, s->judged) * sqrt(judged / free);
    suspects->threshold = threshold_for(s->judged, free, rate);
    const double least = fmax(suspects->threshold * suspects->scatter_mm, floor_mm);
    suspects->least_inside_mm = least * s->least_factor;
    suspects->least_corner_mm = least * s->most_factor;
    for (size_t i = 0; i < s->count; i++) {
        const double size = fabs(s->residual[i]) / s->factor[i];
        if (size > least)
            keep_suspect(suspects, (tu_bed_suspect){i, s->residual[i],
                                                    size / fmax(suspects->scatter_mm,
                                                                floor_mm / suspects->threshold)});
    }
}

tu_status tu_bed_find_suspects(const tu_bed_point *points, size_t count, double rate,
                               double floor_mm, void *memory, size_t bytes,
                               tu_bed_suspects *suspects, tu_error *error)
{
    tu_bed_memory block;
    survey s = {.points = points, .count = count, .least_factor = INFINITY};

    if (!points || !suspects || (suspects->room > 0 && !suspects->suspect))
        return tu_fail(error, TU_USAGE, NULL, "points and room for the suspects are needed");
    suspects->count = suspects->judged = 0;
    suspects->threshold = suspects->scatter_mm = NAN;
    suspects->least_inside_mm = suspects->least_corner_mm = NAN;
    if (isnan(rate))
        rate = TU_BED_SUSPECT_RATE;
    if (isnan(floor_mm))
        floor_mm = DEFAULT_FLOOR_MM;
    if (!(rate > 0 && rate < 1) || !(floor_mm > 0))
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "the rate of false suspects has to be between 0 and 1, the floor above 0");
    tu_status status =
        tu_bed_memory_start(&block, memory, bytes, tu_bed_suspects_bytes(count), error);
    if (status || count < FEWEST)
        return status;
    s.rest = tu_bed_memory_take(&block, count, sizeof *s.rest);
    s.residual = tu_bed_memory_take(&block, count, sizeof *s.residual);
    s.factor = tu_bed_memory_take(&block, count, sizeof *s.factor);
    s.sorted = tu_bed_memory_take(&block, count, sizeof *s.sorted);
    if (count >= SHAPE_TAKEN_FROM)
        s.terms = tu_bed_smooth_take_off(points, count, floor_mm, &block, s.rest);
    for (size_t i = 0; count < SHAPE_TAKEN_FROM && i < count; i++)
        s.rest[i] = points[i].z_mm - points[0].z_mm;
    tu_bed_squares_start(&s.squares, points, count, &block);
    tu_bed_squares_balance(&s.squares);
    judge_all(&s, rate, floor_mm, suspects);
    return TU_OK;
}
