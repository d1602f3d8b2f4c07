/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * shape.c - tilt, twist and bow: a quadratic by least squares.
 *
 * Normal equations in coordinates scaled to -1..1, where their condition is harmless, followed by
 * one step of refinement with the residuals.
 */
#include "trueup/bed.h"

#include <math.h>
#include <string.h>

enum { TERMS = 6 };

/* Below this share of its own square, what is new in a term is rounding. */
#define SETTLED 1e-9

typedef struct fit {
    tu_bed_shape *shape;
    double z0_mm; /* taken off first, to keep digits */
    double matrix[TERMS][TERMS];
    double right[TERMS];
    double solution[TERMS];
    bool used[TERMS];
} fit;

static void terms_at(const tu_bed_shape *shape, double x_mm, double y_mm, double term[TERMS])
{
    const double u =
        shape->x_extent_mm > 0 ? (x_mm - shape->x_middle_mm) / (shape->x_extent_mm / 2) : 0;
    const double v =
        shape->y_extent_mm > 0 ? (y_mm - shape->y_middle_mm) / (shape->y_extent_mm / 2) : 0;
    term[0] = 1;
    term[1] = u;
    term[2] = v;
    term[3] = u * v;
    term[4] = u * u;
    term[5] = v * v;
}

static double value_at(const fit *f, const double term[TERMS])
{
    double sum = 0;
    for (int k = 0; k < TERMS; k++)
        sum += f->used[k] ? f->solution[k] * term[k] : 0;
    return sum;
}

static void accumulate_matrix(fit *f, const tu_bed_point *points, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        double term[TERMS];
        terms_at(f->shape, points[i].x_mm, points[i].y_mm, term);
        for (int k = 0; k < TERMS; k++)
            for (int l = 0; l <= k; l++)
                f->matrix[k][l] += term[k] * term[l];
    }
}

/* Adds up the right side over the points, of what the solution so far leaves. */
static void accumulate_right(fit *f, const tu_bed_point *points, size_t count)
{
    memset(f->right, 0, sizeof f->right);
    for (size_t i = 0; i < count; i++) {
        double term[TERMS];
        terms_at(f->shape, points[i].x_mm, points[i].y_mm, term);
        const double rest = points[i].z_mm - f->z0_mm - value_at(f, term);
        for (int k = 0; k < TERMS; k++)
            f->right[k] += term[k] * rest;
    }
}

/* Cholesky, row by row; a term that adds nothing to those before it is left out. */
static void factor(fit *f)
{
    for (int k = 0; k < TERMS; k++) {
        const double own = f->matrix[k][k];
        for (int l = 0; l < k; l++) {
            if (!f->used[l]) {
                f->matrix[k][l] = 0;
                continue;
            }
            for (int m = 0; m < l; m++)
                f->matrix[k][l] -= f->matrix[k][m] * f->matrix[l][m];
            f->matrix[k][l] /= f->matrix[l][l];
        }
        for (int l = 0; l < k; l++)
            f->matrix[k][k] -= f->matrix[k][l] * f->matrix[k][l];
        f->used[k] = f->matrix[k][k] > SETTLED * own && own > 0;
        if (f->used[k])
            f->matrix[k][k] = sqrt(f->matrix[k][k]);
    }
}

/* Adds the solution of the factored equations. */
static void solve(fit *f)
{
    double step[TERMS] = {0};

    for (int k = 0; k < TERMS; k++) {
        if (!f->used[k])
            continue;
        step[k] = f->right[k];
        for (int l = 0; l < k; l++)
            step[k] -= f->used[l] ? f->matrix[k][l] * step[l] : 0;
        step[k] /= f->matrix[k][k];
    }
    for (int k = TERMS - 1; k >= 0; k--) {
        if (!f->used[k])
            continue;
        for (int l = k + 1; l < TERMS; l++)
            step[k] -= f->used[l] ? f->matrix[l][k] * step[l] : 0;
        step[k] /= f->matrix[k][k];
    }
    for (int k = 0; k < TERMS; k++)
        f->solution[k] += step[k];
}

static tu_status measure_extent(const tu_bed_point *points, size_t count, tu_bed_shape *shape,
                                tu_error *error)
{
    double x_low = INFINITY, x_high = -INFINITY, y_low = INFINITY, y_high = -INFINITY;

    for (size_t i = 0; i < count; i++) {
        if (!isfinite(points[i].x_mm) || !isfinite(points[i].y_mm) || !isfinite(points[i].z_mm))
            return tu_fail(error, TU_DATA_RANGE, NULL, "point %zu is not finite", i + 1);
        x_low = fmin(x_low, points[i].x_mm);
        x_high = fmax(x_high, points[i].x_mm);
        y_low = fmin(y_low, points[i].y_mm);
        y_high = fmax(y_high, points[i].y_mm);
    }
    shape->x_middle_mm = x_low + (x_high - x_low) / 2;
    shape->y_middle_mm = y_low + (y_high - y_low) / 2;
    shape->x_extent_mm = x_high - x_low;
    shape->y_extent_mm = y_high - y_low;
    return TU_OK;
}

/* From -1..1 to millimetres. */
static void tell(const fit *f, tu_bed_shape *shape)
{
    const double x = shape->x_extent_mm / 2, y = shape->y_extent_mm / 2;
    const double scale[TERMS] = {1, x, y, x * y, x * x, y * y};

    for (int k = 0; k < TERMS; k++) {
        shape->coefficient[k] = f->used[k] ? f->solution[k] / scale[k] : NAN;
        shape->terms += f->used[k];
    }
    shape->coefficient[0] += f->z0_mm;
    shape->twist_mm = f->used[3] ? 4 * f->solution[3] : NAN;
    shape->bow_x_mm = f->used[4] ? -f->solution[4] : NAN;
    shape->bow_y_mm = f->used[5] ? -f->solution[5] : NAN;
}

tu_status tu_bed_fit_shape(const tu_bed_point *points, size_t count, tu_bed_shape *shape,
                           tu_error *error)
{
    if (!points || !shape)
        return tu_fail(error, TU_USAGE, NULL, "points and room for the shape are needed");
    *shape = (tu_bed_shape){.rest_sd_mm = NAN};
    if (count < 3)
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "the shape of a bed takes 3 points or more; found %zu", count);
    tu_status status = measure_extent(points, count, shape, error);
    if (status)
        return status;

    fit f = {.shape = shape, .z0_mm = points[0].z_mm};
    accumulate_matrix(&f, points, count);
    accumulate_right(&f, points, count);
    factor(&f);
    if (!f.used[1] || !f.used[2])
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "all points lie on one line: no plane is settled by them");
    solve(&f);
    accumulate_right(&f, points, count);
    solve(&f);
    tell(&f, shape);
    if (count > shape->terms) {
        double squares = 0;
        for (size_t i = 0; i < count; i++) {
            double term[TERMS];
            terms_at(shape, points[i].x_mm, points[i].y_mm, term);
            const double rest = points[i].z_mm - f.z0_mm - value_at(&f, term);
            squares += rest * rest;
        }
        shape->rest_sd_mm = sqrt(squares / (double)(count - shape->terms));
    }
    return TU_OK;
}

double tu_bed_shape_height(const tu_bed_shape *shape, double x_mm, double y_mm)
{
    const double x = x_mm - shape->x_middle_mm, y = y_mm - shape->y_middle_mm;
    const double power[TERMS] = {1, x, y, x * y, x * x, y * y};
    double sum = 0;

    for (int k = 0; k < TERMS; k++)
        sum += isnan(shape->coefficient[k]) ? 0 : shape->coefficient[k] * power[k];
    return sum;
}
