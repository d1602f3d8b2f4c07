/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rise.c - an exponential rise through points, by least squares.
 *
 * For each tau, start and rise are linear: the search is over tau alone (variable projection,
 * G. H. Golub, V. Pereyra, SIAM J. Numer. Anal. 10 (1973) 413-432), on a grid and by golden
 * section. Gauss-Newton steps over all three then find the last digits, and their triangle gives
 * the standard deviations.
 */
#include "trials/rise.h"

#include <math.h>

enum { GRID = 48, UNKNOWNS = 3 };

static double time_of(const tu_rise_points *points, size_t i)
{
    return points->times[i] - points->time_0;
}

static double value_of(const tu_rise_points *points, size_t i)
{
    return points->values[i] - points->value_0;
}

static double squares_of(const tu_rise_points *points, const tu_rise *rise)
{
    double squares = 0.0;
    for (size_t i = 0; i < points->count; i++) {
        double gone = -expm1(-time_of(points, i) / rise->tau);
        double off = value_of(points, i) - rise->start - rise->rise * gone;
        squares += off * off;
    }
    return squares;
}

/* The best start and rise for a tau. */
static tu_rise project(const tu_rise_points *points, double tau)
{
    tu_rise best = {.tau = tau};
    double gone_mean = 0.0, value_mean = 0.0, gone_squares = 0.0, product = 0.0;
    for (size_t i = 0; i < points->count; i++) {
        points->work[i] = -expm1(-time_of(points, i) / tau);
        gone_mean += points->free_start ? points->work[i] / (double)points->count : 0.0;
        value_mean += points->free_start ? value_of(points, i) / (double)points->count : 0.0;
    }
    for (size_t i = 0; i < points->count; i++) {
        double gone = points->work[i] - gone_mean;
        gone_squares += gone * gone;
        product += gone * (value_of(points, i) - value_mean);
    }
    best.rise = gone_squares > 0.0 ? product / gone_squares : 0.0;
    best.start = value_mean - best.rise * gone_mean;
    best.squares = squares_of(points, &best);
    return best;
}

/* Golden section on log tau between two places around a minimum. */
static tu_rise search_between(const tu_rise_points *points, double low, double high)
{
    const double golden = 0.6180339887498949;
    double a = high - golden * (high - low), b = low + golden * (high - low);
    double at_a = project(points, exp(a)).squares, at_b = project(points, exp(b)).squares;
    while (high - low > 1e-6) {
        if (at_a < at_b) {
            high = b;
            b = a;
            at_b = at_a;
            a = high - golden * (high - low);
            at_a = project(points, exp(a)).squares;
        } else {
            low = a;
            a = b;
            at_a = at_b;
            b = low + golden * (high - low);
            at_b = project(points, exp(b)).squares;
        }
    }
    return project(points, exp(low + (high - low) / 2.0));
}

/* Best of a grid, then refined; false: the best is at an end. */
static bool search(const tu_rise_points *points, double low, double high, tu_rise *rise)
{
    double from = log(low), step = (log(high) - from) / (GRID - 1);
    int best = 0;
    *rise = project(points, low);
    for (int k = 1; k < GRID; k++) {
        tu_rise next = project(points, exp(from + k * step));
        if (next.squares < rise->squares) {
            *rise = next;
            best = k;
        }
    }
    double left = from + fmax(0.0, best - 1.0) * step;
    double right = from + fmin(GRID - 1.0, best + 1.0) * step;
    *rise = search_between(points, left, right);
    double found = log(rise->tau);
    return found > from + 1e-3 * step && found < from + (GRID - 1 - 1e-3) * step;
}

/* The columns of derivatives and the residuals, in work. */
static void fill(const tu_rise_points *points, const tu_rise *rise)
{
    size_t n = points->count;
    double *start = points->work, *size = start + n, *tau = size + n, *residual = tau + n;
    for (size_t i = 0; i < n; i++) {
        double u = time_of(points, i) / rise->tau;
        start[i] = points->free_start ? 1.0 : 0.0;
        size[i] = -expm1(-u);
        tau[i] = -rise->rise * exp(-u) * u / rise->tau;
        residual[i] = value_of(points, i) - rise->start - rise->rise * size[i];
    }
}

static double dot(const double *a, const double *b, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++)
        sum += a[i] * b[i];
    return sum;
}

/* Modified Gram-Schmidt: work holds orthonormal columns after it; a column of zeros is left out
 * (its diagonal element is 0). right: the residuals in the columns. */
static void triangularise(const tu_rise_points *points, double r[UNKNOWNS][UNKNOWNS],
                          double right[UNKNOWNS])
{
    size_t n = points->count;
    double *residual = points->work + UNKNOWNS * n;
    for (size_t k = 0; k < UNKNOWNS; k++) {
        double *column = points->work + k * n;
        double before = r[k][k] = sqrt(dot(column, column, n));
        for (size_t j = 0; j < k; j++) {
            const double *done = points->work + j * n;
            r[j][k] = dot(done, column, n);
            for (size_t i = 0; i < n; i++)
                column[i] -= r[j][k] * done[i];
        }
        r[k][k] = sqrt(dot(column, column, n));
        if (r[k][k] <= 1e-10 * before)
            r[k][k] = 0.0;
        for (size_t i = 0; i < n; i++)
            column[i] = r[k][k] > 0.0 ? column[i] / r[k][k] : 0.0;
        right[k] = dot(column, residual, n);
        for (size_t i = 0; i < n; i++)
            residual[i] -= right[k] * column[i];
    }
}

/* Back substitution; an unknown that is left out gets 0. */
static void solve(double r[UNKNOWNS][UNKNOWNS], const double right[UNKNOWNS],
                  double unknown[UNKNOWNS])
{
    for (size_t k = UNKNOWNS; k-- > 0;) {
        double sum = right[k];
        for (size_t j = k + 1; j < UNKNOWNS; j++)
            sum -= r[k][j] * unknown[j];
        unknown[k] = r[k][k] > 0.0 ? sum / r[k][k] : 0.0;
    }
}

static void find_deviations(double r[UNKNOWNS][UNKNOWNS], tu_rise *rise)
{
    double variance[UNKNOWNS] = {0.0};
    for (size_t k = 0; k < UNKNOWNS; k++) {
        double unit[UNKNOWNS] = {0.0}, column[UNKNOWNS];
        unit[k] = 1.0;
        solve(r, unit, column);
        for (size_t j = 0; j < UNKNOWNS; j++)
            variance[j] += column[j] * column[j];
    }
    double sd = rise->dof > 0.0 ? sqrt(rise->squares / rise->dof) : NAN;
    rise->start_sd = sd * sqrt(variance[0]);
    rise->rise_sd = sd * sqrt(variance[1]);
    rise->tau_sd = sd * sqrt(variance[2]);
}

/* Steps that are halved until they pay; true: the next one would change nothing. */
static bool step_down(const tu_rise_points *points, const double unknown[UNKNOWNS], tu_rise *rise)
{
    for (double share = 1.0; share > 1e-4; share /= 2.0) {
        tu_rise next = *rise;
        next.start += share * unknown[0];
        next.rise += share * unknown[1];
        next.tau += share * unknown[2];
        next.squares = next.tau > 0.0 ? squares_of(points, &next) : INFINITY;
        if (next.squares <= rise->squares) {
            bool settled = fabs(next.tau - rise->tau) <= 1e-12 * rise->tau;
            *rise = next;
            return settled;
        }
    }
    return true;
}

tu_status tu_rise_fit(const tu_rise_points *points, double low, double high, tu_rise *rise)
{
    double r[UNKNOWNS][UNKNOWNS] = {{0.0, 0.0, 0.0}}, right[UNKNOWNS], unknown[UNKNOWNS];
    if (!search(points, low, high, rise))
        return TU_UNDETERMINED;
    rise->dof = (double)points->count - (points->free_start ? 3.0 : 2.0);
    bool settled = false;
    for (int i = 0; i < 50 && !settled; i++) {
        fill(points, rise);
        triangularise(points, r, right);
        if (r[1][1] == 0.0 || r[2][2] == 0.0)
            return TU_UNDETERMINED;
        solve(r, right, unknown);
        settled = step_down(points, unknown, rise);
    }
    find_deviations(r, rise);
    return settled ? TU_OK : TU_NUMERIC;
}
