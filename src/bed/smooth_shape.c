/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * smooth_shape.c - the smooth shape of a bed, term by term.
 *
 * Orthogonal least squares: the terms that are not in the shape yet are kept at right angles to
 * those that are (modified Gram-Schmidt), so that what each would explain is one product (S. Chen,
 * S. A. Billings, W. Luo, Int. J. Control 50 (1989) 1873-1896, from memory). A place left out
 * counts like a term that is 1 there and 0 elsewhere: it explains r^2 / (1 - h), h its leverage.
 */
#include "bed/smooth_shape.h"

#include "bed/neighbours.h"

#include <math.h>
#include <string.h>

#define STANDS_OUT  3.5  /* standard deviations that a term or a place has to explain */
#define FLOOR_SHARE 0.1  /* of the floor: noise that is taken for granted */
#define DEPENDENT   1e-6 /* of its square left: the term says nothing new */
#define WEYL        0.6180339887498949

enum { DEGREE = 9, TERMS = (DEGREE + 1) * (DEGREE + 2) / 2, ALWAYS = 6, SAMPLE = 1500 };

typedef struct smooth {
    size_t count; /* of the sample */
    double *u, *v, *z;
    double *rest, *leverage, *sorted;
    bool *left_out;
    size_t outs;
    double *column[TERMS];
    double own[TERMS];        /* of each column: its square before anything is taken off */
    double mix[TERMS][TERMS]; /* of what terms a column is made by now */
    double shape[TERMS];
    size_t terms; /* there are */
    size_t taken[TERMS], taken_count;
    bool is_taken[TERMS];
    double x_middle, x_half, y_middle, y_half;
} smooth;

static size_t sample_of(size_t count)
{
    return count < SAMPLE ? count : SAMPLE;
}

size_t tu_bed_smooth_bytes(size_t count)
{
    const size_t n = sample_of(count);
    return tu_bed_memory_size(1, sizeof(smooth)) +
           (6 + TERMS) * tu_bed_memory_size(n, sizeof(double)) +
           tu_bed_memory_size(n, sizeof(bool));
}

/* Chebyshev's polynomials of u times those of v, the lower total degrees first. */
static void list_terms(double u, double v, size_t terms, double *term)
{
    double of_u[DEGREE + 1] = {1, u}, of_v[DEGREE + 1] = {1, v};
    size_t k = 0;

    for (int i = 2; i <= DEGREE; i++) {
        of_u[i] = 2 * u * of_u[i - 1] - of_u[i - 2];
        of_v[i] = 2 * v * of_v[i - 1] - of_v[i - 2];
    }
    for (int degree = 0; degree <= DEGREE; degree++)
        for (int j = 0; j <= degree && k < terms; j++)
            term[k++] = of_u[degree - j] * of_v[j];
}

static void take_sample(smooth *s, const tu_bed_point *points, size_t count)
{
    double low[2] = {INFINITY, INFINITY}, high[2] = {-INFINITY, -INFINITY};

    for (size_t i = 0; i < count; i++) {
        low[0] = fmin(low[0], points[i].x_mm);
        high[0] = fmax(high[0], points[i].x_mm);
        low[1] = fmin(low[1], points[i].y_mm);
        high[1] = fmax(high[1], points[i].y_mm);
    }
    s->x_middle = (low[0] + high[0]) / 2;
    s->y_middle = (low[1] + high[1]) / 2;
    s->x_half = high[0] > low[0] ? (high[0] - low[0]) / 2 : 1;
    s->y_half = high[1] > low[1] ? (high[1] - low[1]) / 2 : 1;
    for (size_t k = 0; k < s->count; k++) {
        /* all over the list in no step with its rows */
        const double share = fmod((double)k * WEYL, 1);
        const tu_bed_point *p = &points[s->count == count ? k : (size_t)(share * (double)count)];
        s->u[k] = (p->x_mm - s->x_middle) / s->x_half;
        s->v[k] = (p->y_mm - s->y_middle) / s->y_half;
        s->z[k] = p->z_mm - points[0].z_mm;
    }
}

static double product(const double *a, const double *b, size_t count)
{
    double sum = 0;
    for (size_t i = 0; i < count; i++)
        sum += a[i] * b[i];
    return sum;
}

static void take_from(double *a, double share, const double *b, size_t count)
{
    for (size_t i = 0; i < count; i++)
        a[i] -= share * b[i];
}

/* Puts a term into the shape: everything else is made square to it. */
static void take_term(smooth *s, size_t term)
{
    double *q = s->column[term], *mix = s->mix[term];
    const double scale = 1 / sqrt(product(q, q, s->count));

    for (size_t i = 0; i < s->count; i++) {
        q[i] *= scale;
        s->leverage[i] += q[i] * q[i];
    }
    for (size_t k = 0; k < s->terms; k++)
        mix[k] *= scale;
    const double height = product(q, s->rest, s->count);
    take_from(s->rest, height, q, s->count);
    take_from(s->shape, -height, mix, s->terms);
    s->is_taken[term] = true;
    for (size_t k = 0; k < s->terms; k++) {
        if (s->is_taken[k])
            continue;
        const double share = product(q, s->column[k], s->count);
        take_from(s->column[k], share, q, s->count);
        take_from(s->mix[k], share, mix, s->terms);
    }
}

static bool is_new(const smooth *s, size_t term)
{
    return product(s->column[term], s->column[term], s->count) > DEPENDENT * s->own[term];
}

/* From the heights on, with the terms taken so far and without the places left out. */
static void start_again(smooth *s)
{
    const size_t taken = s->taken_count;

    memset(s->mix, 0, sizeof s->mix);
    memset(s->shape, 0, sizeof s->shape);
    memset(s->is_taken, 0, sizeof s->is_taken);
    for (size_t i = 0; i < s->count; i++) {
        double term[TERMS];
        list_terms(s->u[i], s->v[i], s->terms, term);
        s->rest[i] = s->left_out[i] ? 0 : s->z[i];
        s->leverage[i] = 0;
        for (size_t k = 0; k < s->terms; k++)
            s->column[k][i] = s->left_out[i] ? 0 : term[k];
    }
    for (size_t k = 0; k < s->terms; k++) {
        s->mix[k][k] = 1;
        s->own[k] = product(s->column[k], s->column[k], s->count);
    }
    s->taken_count = 0;
    for (size_t k = 0; k < taken; k++) {
        if (!is_new(s, s->taken[k]))
            continue;
        take_term(s, s->taken[k]);
        s->taken[s->taken_count++] = s->taken[k];
    }
}

/* The variance of what is left, from its median. */
static double find_noise2(smooth *s, double floor_mm)
{
    size_t used = 0;

    for (size_t i = 0; i < s->count; i++)
        if (!s->left_out[i])
            s->sorted[used++] = fabs(s->rest[i]);
    const double free = (double)used - (double)s->taken_count;
    const double noise = TU_BED_MAD_SCALE * tu_bed_median(s->sorted, used);
    return fmax(noise * noise * (double)used / fmax(1, free), floor_mm * floor_mm);
}

static double best_term(const smooth *s, size_t *term)
{
    double best = 0;

    for (size_t k = 0; k < s->terms; k++) {
        if (s->is_taken[k] || !is_new(s, k))
            continue;
        const double height = product(s->column[k], s->rest, s->count);
        const double gain = height * height / product(s->column[k], s->column[k], s->count);
        if (gain > best) {
            best = gain;
            *term = k;
        }
    }
    return best;
}

static double best_place(const smooth *s, size_t *place)
{
    double best = 0;

    for (size_t i = 0; i < s->count; i++) {
        const double gain = s->rest[i] * s->rest[i] / (1 - s->leverage[i]);
        if (!s->left_out[i] && s->leverage[i] < 1 - DEPENDENT && gain > best) {
            best = gain;
            *place = i;
        }
    }
    return best;
}

static void find_shape(smooth *s, double floor_mm)
{
    const size_t most = s->count / 2, most_outs = s->count / 8;

    for (size_t k = 0; k < ALWAYS && k < s->terms; k++)
        s->taken[s->taken_count++] = k;
    start_again(s);
    for (;;) {
        size_t term = 0, place = 0;
        const double least = STANDS_OUT * STANDS_OUT * find_noise2(s, floor_mm);
        const double by_term = s->taken_count < most ? best_term(s, &term) : 0;
        const double by_place = s->outs < most_outs ? best_place(s, &place) : 0;
        if (!(fmax(by_term, by_place) > least))
            return;
        if (by_term >= by_place) {
            take_term(s, term);
            s->taken[s->taken_count++] = term;
        } else {
            s->left_out[place] = true;
            s->outs++;
            start_again(s);
        }
    }
}

/* No more terms than places could tell apart. */
static size_t count_terms(size_t count)
{
    size_t terms = 1;
    for (size_t degree = 1; degree <= DEGREE && terms + degree + 1 <= count; degree++)
        terms += degree + 1;
    return terms;
}

size_t tu_bed_smooth_take_off(const tu_bed_point *points, size_t count, double floor_mm,
                              tu_bed_memory *memory, double *rest)
{
    smooth *s = tu_bed_memory_take(memory, 1, sizeof *s);

    memset(s, 0, sizeof *s);
    s->count = sample_of(count);
    s->terms = count_terms(s->count);
    double **const lists[] = {&s->u, &s->v, &s->z, &s->rest, &s->leverage, &s->sorted};
    for (size_t k = 0; k < sizeof lists / sizeof *lists; k++)
        *lists[k] = tu_bed_memory_take(memory, s->count, sizeof(double));
    for (size_t k = 0; k < TERMS; k++)
        s->column[k] = tu_bed_memory_take(memory, s->count, sizeof(double));
    s->left_out = tu_bed_memory_take(memory, s->count, sizeof *s->left_out);
    memset(s->left_out, 0, s->count * sizeof *s->left_out);
    take_sample(s, points, count);
    find_shape(s, FLOOR_SHARE * floor_mm);
    for (size_t i = 0; i < count; i++) {
        double term[TERMS];
        list_terms((points[i].x_mm - s->x_middle) / s->x_half,
                   (points[i].y_mm - s->y_middle) / s->y_half, s->terms, term);
        rest[i] = points[i].z_mm - points[0].z_mm - product(s->shape, term, s->terms);
    }
    return s->taken_count > ALWAYS ? s->taken_count - ALWAYS : 0;
}
