/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plane.c - the least-squares plane of points, by total least squares, with the deviations of
 * ISO 12781-1.
 *
 * The normal is the eigenvector of the smallest eigenvalue of the points' second moments about
 * their mean (K. Pearson, Philosophical Magazine 2 (1901) 559-572). The eigenvectors come from
 * cyclic Jacobi rotations, which keep their relative accuracy for a flat cloud.
 */
#include "bed/plane.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

static const double largest_coordinate_mm = 1e9;
/* Of the variances: a ten-millionth of the length. */
static const double line_ratio = 1e-14;
static const double upright_z = 1e-6;
/* Sums are taken in blocks, so that rounding grows with the number of blocks only. */
enum { BLOCK = 1024, SWEEPS = 30 };

static tu_status refuse_point(const tu_bed_point *points, size_t count, tu_error *error)
{
    for (size_t i = 0; i < count; i++) {
        const double value[3] = {points[i].x_mm, points[i].y_mm, points[i].z_mm};

        for (int axis = 0; axis < 3; axis++)
            if (!(fabs(value[axis]) <= largest_coordinate_mm))
                return tu_fail(error, TU_DATA_RANGE, NULL,
                               "%c of point %zu must be a number of at most 1e9 mm in size, found "
                               "%g; correct or remove that point",
                               "xyz"[axis], i + 1, value[axis]);
    }
    return tu_fail(error, TU_DATA_RANGE, NULL, "a coordinate is not a finite number");
}

static void widen(double value, double *low, double *high)
{
    *low = value < *low ? value : *low;
    *high = value > *high ? value : *high;
}

static double box_size(const tu_bed_box *box)
{
    return fmax(fmax(box->high.x_mm - box->low.x_mm, box->high.y_mm - box->low.y_mm),
                box->high.z_mm - box->low.z_mm);
}

tu_status tu_bed_box_of(const tu_bed_point *points, size_t count, tu_bed_box *box, tu_error *error)
{
    double poison = 0.0; /* becomes NaN with the first coordinate that is not finite */

    if (count < 3)
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "a plane needs at least 3 points, found %zu; touch more points", count);
    *box = (tu_bed_box){.low = points[0], .high = points[0]};
    for (size_t i = 0; i < count; i++) {
        const tu_bed_point p = points[i];

        widen(p.x_mm, &box->low.x_mm, &box->high.x_mm);
        widen(p.y_mm, &box->low.y_mm, &box->high.y_mm);
        widen(p.z_mm, &box->low.z_mm, &box->high.z_mm);
        poison += 0.0 * p.x_mm + 0.0 * p.y_mm + 0.0 * p.z_mm;
    }
    const tu_bed_point l = box->low;
    const tu_bed_point h = box->high;
    box->largest_mm = fmax(fmax(fmax(fabs(l.x_mm), fabs(h.x_mm)), fmax(fabs(l.y_mm), fabs(h.y_mm))),
                           fmax(fabs(l.z_mm), fabs(h.z_mm)));
    if (poison != 0.0 || isnan(poison) || box->largest_mm > largest_coordinate_mm)
        return refuse_point(points, count, error);
    box->size_mm = box_size(box);
    if (!(box->size_mm > 0.0))
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "all %zu points are in one place; touch at least 3 places that are not on "
                       "one line",
                       count);
    box->middle = (tu_bed_point){l.x_mm + (h.x_mm - l.x_mm) / 2, l.y_mm + (h.y_mm - l.y_mm) / 2,
                                 l.z_mm + (h.z_mm - l.z_mm) / 2};
    return TU_OK;
}

static tu_bed_point mean_of(const tu_bed_point *points, size_t count, tu_bed_point middle)
{
    tu_bed_point sum = {0};

    for (size_t start = 0; start < count; start += BLOCK) {
        const size_t end = count - start < BLOCK ? count : start + BLOCK;
        tu_bed_point part = {0};

        for (size_t i = start; i < end; i++) {
            part.x_mm += points[i].x_mm - middle.x_mm;
            part.y_mm += points[i].y_mm - middle.y_mm;
            part.z_mm += points[i].z_mm - middle.z_mm;
        }
        sum.x_mm += part.x_mm;
        sum.y_mm += part.y_mm;
        sum.z_mm += part.z_mm;
    }
    return (tu_bed_point){middle.x_mm + sum.x_mm / (double)count,
                          middle.y_mm + sum.y_mm / (double)count,
                          middle.z_mm + sum.z_mm / (double)count};
}

static void moments_about(const tu_bed_point *points, size_t count, tu_bed_point mean,
                          double matrix[3][3])
{
    double sum[6] = {0};

    for (size_t start = 0; start < count; start += BLOCK) {
        const size_t end = count - start < BLOCK ? count : start + BLOCK;
        double part[6] = {0};

        for (size_t i = start; i < end; i++) {
            const double x = points[i].x_mm - mean.x_mm;
            const double y = points[i].y_mm - mean.y_mm;
            const double z = points[i].z_mm - mean.z_mm;
            part[0] += x * x;
            part[1] += y * y;
            part[2] += z * z;
            part[3] += x * y;
            part[4] += x * z;
            part[5] += y * z;
        }
        for (int k = 0; k < 6; k++)
            sum[k] += part[k];
    }
    for (int k = 0; k < 3; k++)
        matrix[k][k] = sum[k];
    matrix[0][1] = matrix[1][0] = sum[3];
    matrix[0][2] = matrix[2][0] = sum[4];
    matrix[1][2] = matrix[2][1] = sum[5];
}

/* Turns rows and columns p and q so that matrix[p][q] vanishes; vectors keeps the product. */
static void rotate(double matrix[3][3], double vectors[3][3], int p, int q)
{
    if (matrix[p][q] == 0.0)
        return;
    const double theta = (matrix[q][q] - matrix[p][p]) / (2.0 * matrix[p][q]);
    const double t = copysign(1.0, theta) / (fabs(theta) + hypot(theta, 1.0));
    const double c = 1.0 / hypot(t, 1.0);
    const double s = t * c;
    const int r = 3 - p - q;
    const double shift = t * matrix[p][q];
    const double rp = matrix[r][p];
    const double rq = matrix[r][q];

    matrix[p][p] -= shift;
    matrix[q][q] += shift;
    matrix[p][q] = matrix[q][p] = 0.0;
    matrix[r][p] = matrix[p][r] = c * rp - s * rq;
    matrix[r][q] = matrix[q][r] = s * rp + c * rq;
    for (int k = 0; k < 3; k++) {
        const double kp = vectors[k][p];
        const double kq = vectors[k][q];
        vectors[k][p] = c * kp - s * kq;
        vectors[k][q] = s * kp + c * kq;
    }
}

/*
 * The eigenvector of the smallest eigenvalue, with z not below zero.
 *   spread  out: the second largest eigenvalue over the largest.
 */
static tu_bed_direction least_direction(double matrix[3][3], double *spread)
{
    double vectors[3][3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    int least = 0;
    int most = 0;

    for (int sweep = 0; sweep < SWEEPS; sweep++) {
        rotate(matrix, vectors, 0, 1);
        rotate(matrix, vectors, 0, 2);
        rotate(matrix, vectors, 1, 2);
    }
    for (int k = 1; k < 3; k++) {
        least = matrix[k][k] < matrix[least][least] ? k : least;
        most = matrix[k][k] > matrix[most][most] ? k : most;
    }
    *spread = 0.0;
    if (least != most)
        *spread = matrix[3 - least - most][3 - least - most] / matrix[most][most];
    else /* three equal eigenvalues: any direction will do */
        *spread = 1.0;
    const double sign = vectors[2][least] < 0.0 ? -1.0 : 1.0;
    const double length =
        sign * hypot(hypot(vectors[0][least], vectors[1][least]), vectors[2][least]);
    return (tu_bed_direction){vectors[0][least] / length, vectors[1][least] / length,
                              vectors[2][least] / length};
}

double tu_plane_deviation_mm(const tu_plane_fit *fit, tu_bed_point point)
{
    return fit->normal.x * (point.x_mm - fit->centroid.x_mm) +
           fit->normal.y * (point.y_mm - fit->centroid.y_mm) +
           fit->normal.z * (point.z_mm - fit->centroid.z_mm);
}

double tu_plane_height_mm(const tu_plane_fit *fit, double x_mm, double y_mm)
{
    return fit->centroid.z_mm + fit->slope_x * (x_mm - fit->centroid.x_mm) +
           fit->slope_y * (y_mm - fit->centroid.y_mm);
}

static void take_deviations(const tu_bed_point *points, size_t count, tu_plane_fit *fit)
{
    double high = -INFINITY;
    double low = INFINITY;
    double squares = 0.0;

    for (size_t start = 0; start < count; start += BLOCK) {
        const size_t end = count - start < BLOCK ? count : start + BLOCK;
        double part = 0.0;

        for (size_t i = start; i < end; i++) {
            const double deviation = tu_plane_deviation_mm(fit, points[i]);

            part += deviation * deviation;
            if (deviation > high) {
                high = deviation;
                fit->highest = i;
            }
            if (deviation < low) {
                low = deviation;
                fit->lowest = i;
            }
        }
        squares += part;
    }
    /* The plane goes through the mean: rounding alone can put all points on one side. */
    fit->FLTp_mm = fmax(high, 0.0);
    fit->FLTv_mm = fmax(-low, 0.0);
    fit->FLTt_mm = fit->FLTp_mm + fit->FLTv_mm;
    fit->FLTq_mm = sqrt(squares / (double)count);
}

tu_status tu_bed_fit_any_plane(const tu_bed_point *points, size_t count, tu_plane_fit *fit,
                               tu_error *error)
{
    tu_bed_box box;
    double matrix[3][3];
    double spread;

    if (points == NULL || fit == NULL)
        return tu_fail(error, TU_USAGE, NULL, "points or plane missing");
    const tu_status status = tu_bed_box_of(points, count, &box, error);
    if (status)
        return status;
    *fit = (tu_plane_fit){.count = count, .centroid = mean_of(points, count, box.middle)};
    moments_about(points, count, fit->centroid, matrix);
    fit->normal = least_direction(matrix, &spread);
    if (!(spread > line_ratio))
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "all %zu points are on one line, which holds no plane; touch points "
                       "beside that line",
                       count);
    if (fit->normal.z < upright_z)
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "the plane through the %zu points stands upright: seen from above they are "
                       "on one line; touch points beside that line",
                       count);
    fit->slope_x = 0.0 - fit->normal.x / fit->normal.z; /* no minus before a zero */
    fit->slope_y = 0.0 - fit->normal.y / fit->normal.z;
    fit->centre_x_mm = box.middle.x_mm;
    fit->centre_y_mm = box.middle.y_mm;
    fit->height_at_centre_mm = tu_plane_height_mm(fit, box.middle.x_mm, box.middle.y_mm);
    take_deviations(points, count, fit);
    return TU_OK;
}

tu_status tu_bed_fit_plane(const tu_bed_point *points, size_t count, tu_plane_fit *fit,
                           tu_error *error)
{
    const tu_status status = tu_bed_fit_any_plane(points, count, fit, error);

    if (status)
        return status;
    const double slope = hypot(fit->slope_x, fit->slope_y);
    if (slope > TU_BED_STEEPEST_SLOPE)
        return tu_fail(
            error, TU_UNDETERMINED, NULL,
            "the plane through the %zu points rises %.3g mm per mm, which is no bed: they "
            "are in a narrow strip, or the columns are mixed up; touch points "
            "further apart in X and Y",
            count, slope);
    return TU_OK;
}
