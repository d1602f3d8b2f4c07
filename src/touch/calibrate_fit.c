/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * calibrate_fit.c - least squares of a calibration, on the caller's memory.
 *
 * Which combinations are settled depends on the bare coefficients alone (0, 1, 1/2 with a sign), so
 * it is decided on those, where no weight can blur it: by orthogonalising the rows. The weighted
 * fit then runs inside the row space, where its matrix has full rank.
 */
#include "touch/calibrate_parts.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

enum { COLUMNS = TU_CALIBRATION_UNKNOWNS };

/* Coefficients are of order 1 and dependence is exact, so what rounding leaves is near 1e-16 and
 * what is independent is never below about 1/10. */
static const double DEPENDENCE = 1e-9;

static double dot(const double *a, const double *b)
{
    double sum = 0.0;
    for (size_t k = 0; k < COLUMNS; k++)
        sum += a[k] * b[k];
    return sum;
}

double tu_row_space_reject(const tu_row_space *space, double vector[COLUMNS])
{
    /* Twice is enough: the second pass removes what rounding left in the first. */
    for (int pass = 0; pass < 2; pass++) {
        for (size_t j = 0; j < space->rank; j++) {
            double along = dot(space->basis[j], vector);
            for (size_t k = 0; k < COLUMNS; k++)
                vector[k] -= along * space->basis[j][k];
        }
    }
    return sqrt(dot(vector, vector));
}

bool tu_row_space_add(tu_row_space *space, const double row[COLUMNS])
{
    double rest[COLUMNS];
    memcpy(rest, row, sizeof rest);
    double before = sqrt(dot(row, row));
    double length = tu_row_space_reject(space, rest);
    if (space->rank == COLUMNS || length <= DEPENDENCE * before)
        return false;
    for (size_t k = 0; k < COLUMNS; k++)
        space->basis[space->rank][k] = rest[k] / length;
    space->rank++;
    return true;
}

bool tu_row_space_holds(const tu_row_space *space, const double vector[COLUMNS])
{
    double rest[COLUMNS];
    memcpy(rest, vector, sizeof rest);
    return tu_row_space_reject(space, rest) <= DEPENDENCE * sqrt(dot(vector, vector));
}

/* The rows in the basis of the row space, each divided by its standard deviation. False where there
 * is nothing that GSL's decomposition can take. */
static bool fill_weighted(const tu_calibration_design *design, tu_calibration_fit *fit)
{
    bool good = fit->space.rank > 0;
    memset(fit->left, 0, sizeof fit->left);
    for (size_t i = 0; i < design->count; i++) {
        const tu_calibration_row *row = &design->row[i];
        for (size_t j = 0; j < fit->space.rank; j++) {
            fit->left[i][j] = dot(row->coefficient, fit->space.basis[j]) / row->weight_sd_mm;
            good = good && isfinite(fit->left[i][j]);
        }
    }
    return good;
}

static void find_residuals(const tu_calibration_design *design, tu_calibration_fit *fit)
{
    size_t rank = fit->space.rank;
    double along[COLUMNS] = {0};
    for (size_t j = 0; j < rank; j++)
        for (size_t i = 0; i < design->count; i++)
            along[j] += fit->left[i][j] * design->row[i].y_mm / design->row[i].weight_sd_mm;
    for (size_t i = 0; i < design->count; i++) {
        double fitted = 0.0;
        double leverage = 0.0;
        for (size_t j = 0; j < rank; j++) {
            fitted += fit->left[i][j] * along[j];
            leverage += fit->left[i][j] * fit->left[i][j];
        }
        fit->residual_mm[i] = design->row[i].y_mm - fitted * design->row[i].weight_sd_mm;
        fit->spare[i] = leverage < 1.0 ? 1.0 - leverage : 0.0;
    }
}

static tu_status fail_fit(tu_error *error)
{
    return tu_fail(error, TU_NUMERIC, "touches",
                   "the fit did not converge; look for a touch or a tolerance of a wrong size");
}

tu_status tu_calibration_fit_solve(const tu_calibration_design *design, tu_calibration_fit *fit,
                                   tu_error *error)
{
    memset(fit, 0, sizeof *fit);
    for (size_t i = 0; i < design->count; i++)
        tu_row_space_add(&fit->space, design->row[i].coefficient);
    if (!fill_weighted(design, fit))
        return fail_fit(error);
    size_t rank = fit->space.rank;
    gsl_matrix_view left =
        gsl_matrix_view_array_with_tda(&fit->left[0][0], design->count, rank, COLUMNS);
    gsl_matrix_view right = gsl_matrix_view_array_with_tda(&fit->right[0][0], rank, rank, COLUMNS);
    gsl_vector_view singular = gsl_vector_view_array(fit->singular, rank);
    /* One-sided Jacobi: small singular values keep their relative accuracy beside the very large
     * weight of an exact width, and it needs no workspace. */
    int failed = gsl_linalg_SV_decomp_jacobi(&left.matrix, &right.matrix, &singular.vector);
    if (failed != GSL_SUCCESS || !(fit->singular[rank - 1] > 1e-13 * fit->singular[0]))
        return fail_fit(error);
    find_residuals(design, fit);
    return TU_OK;
}

bool tu_calibration_sensitivities(const tu_calibration_design *design,
                                  const tu_calibration_fit *fit, const double combination[COLUMNS],
                                  double sensitivity[TU_CALIBRATION_ROWS])
{
    bool settled = tu_row_space_holds(&fit->space, combination);
    size_t rank = fit->space.rank;
    double scaled[COLUMNS] = {0};
    for (size_t j = 0; j < rank; j++) {
        for (size_t k = 0; k < rank; k++)
            scaled[j] += fit->right[k][j] * dot(fit->space.basis[k], combination);
        scaled[j] /= fit->singular[j];
    }
    for (size_t i = 0; i < design->count; i++) {
        double sum = 0.0;
        for (size_t j = 0; j < rank; j++)
            sum += fit->left[i][j] * scaled[j];
        sensitivity[i] = settled ? sum / design->row[i].weight_sd_mm : (double)NAN;
    }
    return settled;
}
