/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * inflation.c - how much of a flatness figure is noise, by simulation (JCGM 101:2008, clause 7).
 *
 * Propagating noise on top of noisy points would count it twice. So it is asked the other way
 * round: for which true values would the observed figure be nothing unusual? (J. Neyman, Phil.
 * Trans. R. Soc. A 236 (1937) 333-380.) The candidates are one shape, scaled: the quadratic that
 * the points suggest plus the residuals, these shrunk by what noise adds to their mean square.
 * Noise adds most where many points are highest or lowest together, and of such a tie noise leaves
 * nothing to be seen; so a second shape is tried whose tops and bottoms are levelled, and the
 * interval holds what either allows.
 */
#include "bed/bed_memory.h"
#include "trueup/bed.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <math.h>

enum { SCALES = 17, TRIALS_MAX = 1000, TRIALS_MIN = 100 };

#define WORK_LIMIT  2e6  /* trials times points that are done at most, least trials aside */
#define REACH_SD    5.0  /* the largest true value tried lies so many sd above the observed */
#define ROUGH_P     0.05 /* residuals are more than noise when noise alone would do this rarely */
#define TIE_SD      2.5  /* points so near the highest or the lowest may be as high or low */
#define NO_SHAPE_MM 1e-9 /* a figure below this is none */

/* SplitMix64, as in G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014, doi:10.1145/2660193.2660195. */
typedef struct draws {
    uint64_t state;
    double spare;
} draws;

static double draw_uniform(draws *d)
{
    uint64_t z = d->state += 0x9e3779b97f4a7c15u;
    z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9u;
    z = (z ^ z >> 27) * 0x94d049bb133111ebu;
    return ((double)((z ^ z >> 31) >> 11) + 0.5) * 0x1p-53;
}

/* G. Marsaglia, T. A. Bray, SIAM Review 6 (1964) 260-264. */
static double draw_normal(draws *d)
{
    double u, v, s;

    if (!isnan(d->spare)) {
        const double value = d->spare;
        d->spare = NAN;
        return value;
    }
    do {
        u = 2 * draw_uniform(d) - 1;
        v = 2 * draw_uniform(d) - 1;
        s = u * u + v * v;
    } while (s >= 1 || s == 0);
    const double factor = sqrt(-2 * log(s) / s);
    d->spare = v * factor;
    return u * factor;
}

typedef struct simulation {
    const tu_bed_point *points;
    size_t count;
    const tu_inflation_request *request;
    size_t trials;
    double *shape_mm; /* height of the shape over its plane, at scale 1 */
    double *noise_mm;
    tu_bed_point *trial;
    tu_zone_workspace *zone;
    double *figure; /* SCALES runs of trials */
    double true_mm[SCALES];
} simulation;

size_t tu_bed_inflation_bytes(size_t count)
{
    return 2 * tu_bed_memory_size(count, sizeof(double)) +
           tu_bed_memory_size(count, sizeof(tu_bed_point)) +
           tu_bed_memory_size(1, sizeof(tu_zone_workspace)) +
           tu_bed_memory_size((size_t)SCALES * TRIALS_MAX, sizeof(double));
}

static double range_of(const tu_bed_point *points, size_t count)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < count; i++) {
        low = fmin(low, points[i].z_mm);
        high = fmax(high, points[i].z_mm);
    }
    return high - low;
}

static tu_status figure_of(const simulation *s, const tu_bed_point *points, double *figure_mm,
                           tu_error *error)
{
    tu_plane_fit fit;
    tu_bed_zone zone;
    tu_status status = TU_OK;

    switch (s->request->figure) {
    case TU_FIGURE_RANGE:
        *figure_mm = range_of(points, s->count);
        return TU_OK;
    case TU_FIGURE_MINIMUM_ZONE:
        status = tu_bed_find_zone(points, s->count, s->zone, &zone, error);
        *figure_mm = status ? NAN : zone.FLTt_mm;
        return status;
    default:
        status = tu_bed_fit_plane(points, s->count, &fit, error);
        *figure_mm = status ? NAN : fit.FLTt_mm;
        return status;
    }
}

/* The shape whose multiples are tried: without tilt, unless tilt is part of the figure. */
static tu_status suggest_shape(simulation *s, tu_error *error)
{
    tu_bed_shape shape;
    tu_plane_fit fit;
    tu_status status = tu_bed_fit_shape(s->points, s->count, &shape, error);
    if (!status)
        status = tu_bed_fit_plane(s->points, s->count, &fit, error);
    if (status)
        return status;
    const double rest2 = shape.rest_sd_mm * shape.rest_sd_mm;
    const double noise2 = s->request->sd_mm * s->request->sd_mm;
    const double dof = (double)(s->count - shape.terms);
    const bool rough = dof > 0 && gsl_cdf_chisq_Q(dof * rest2 / noise2, dof) < ROUGH_P;
    const double kept = rough ? sqrt(fmax(0, 1 - noise2 / rest2)) : 0;
    const bool tilted = s->request->figure == TU_FIGURE_RANGE;

    for (size_t i = 0; i < s->count; i++) {
        const tu_bed_point p = s->points[i];
        s->noise_mm[i] = 0;
        const double fitted = tu_bed_shape_height(&shape, p.x_mm, p.y_mm);
        const double level = tilted ? fit.centroid.z_mm : tu_plane_height_mm(&fit, p.x_mm, p.y_mm);
        s->shape_mm[i] = fitted - level + kept * (p.z_mm - fitted);
    }
    return TU_OK;
}

/* The points with the shape at a scale and the noise as drawn; without noise for noise_factor 0. */
static tu_status try_scale(simulation *s, double scale, double noise_factor, double *figure_mm,
                           tu_error *error)
{
    for (size_t i = 0; i < s->count; i++)
        s->trial[i] = (tu_bed_point){s->points[i].x_mm, s->points[i].y_mm,
                                     scale * s->shape_mm[i] + noise_factor * s->noise_mm[i]};
    return figure_of(s, s->trial, figure_mm, error);
}

static tu_status run_trials(simulation *s, double figure_at_1, tu_error *error)
{
    draws d = {s->request->seed, NAN};
    const double dof = s->request->dof;
    tu_status status = TU_OK;

    for (size_t t = 0; t < s->trials; t++) {
        double sd = s->request->sd_mm;
        if (!isnan(dof) && !isinf(dof))
            sd *= sqrt(dof / gsl_cdf_chisq_Pinv(draw_uniform(&d), dof));
        for (size_t i = 0; i < s->count; i++)
            s->noise_mm[i] = draw_normal(&d);
        for (size_t k = 0; k < SCALES && !status; k++)
            status =
                try_scale(s, s->true_mm[k] / figure_at_1, sd, &s->figure[k * s->trials + t], error);
        if (status)
            return status;
    }
    for (size_t k = 0; k < SCALES; k++)
        gsl_sort(s->figure + k * s->trials, 1, s->trials);
    return TU_OK;
}

/* The quantile of what would be measured at each true value. */
static void quantiles(const simulation *s, double share, double out[SCALES])
{
    const double at = share * (double)(s->trials - 1);
    const size_t below = (size_t)at;
    const double part = at - (double)below;

    for (size_t k = 0; k < SCALES; k++) {
        const double *run = s->figure + k * s->trials;
        out[k] = (1 - part) * run[below] + part * run[below + (below + 1 < s->trials)];
    }
}

/* The true value at which the curve passes the observed figure; 0 where it starts above. */
static double true_value_at(const simulation *s, const double curve[SCALES], double observed_mm)
{
    if (curve[0] >= observed_mm)
        return 0;
    for (size_t k = 1; k < SCALES; k++) {
        if (curve[k] < observed_mm)
            continue;
        const double t = (observed_mm - curve[k - 1]) / (curve[k] - curve[k - 1]);
        return s->true_mm[k - 1] + t * (s->true_mm[k] - s->true_mm[k - 1]);
    }
    return s->true_mm[SCALES - 1];
}

static void conclude(const simulation *s, tu_inflation *inflation)
{
    double curve[SCALES];

    quantiles(s, 0.975, curve);
    inflation->low_mm = true_value_at(s, curve, inflation->observed_mm);
    quantiles(s, 0.025, curve);
    inflation->high_mm = true_value_at(s, curve, inflation->observed_mm);
    quantiles(s, 0.5, curve);
    inflation->best_mm = true_value_at(s, curve, inflation->observed_mm);

    size_t k = 1;
    while (k < SCALES - 1 && s->true_mm[k] < inflation->best_mm)
        k++;
    double mean[2] = {0};
    for (size_t side = 0; side < 2; side++) {
        for (size_t t = 0; t < s->trials; t++)
            mean[side] += s->figure[(k - 1 + side) * s->trials + t] / (double)s->trials;
    }
    const double part =
        (inflation->best_mm - s->true_mm[k - 1]) / (s->true_mm[k] - s->true_mm[k - 1]);
    inflation->inflation_mm = (1 - part) * mean[0] + part * mean[1] - inflation->best_mm;
    inflation->trials = s->trials;
}

/* Levels tops and bottoms of the shape, as far as noise could have parted them. */
static void level_ties(simulation *s)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < s->count; i++) {
        low = fmin(low, s->shape_mm[i]);
        high = fmax(high, s->shape_mm[i]);
    }
    const double tie = fmin(TIE_SD * s->request->sd_mm, (high - low) / 4);
    for (size_t i = 0; i < s->count; i++)
        s->shape_mm[i] = fmin(fmax(s->shape_mm[i], low + tie), high - tie);
}

/* What the shape at hand says. */
static tu_status simulate_shape(simulation *s, tu_inflation *inflation, tu_error *error)
{
    double figure_at_1;
    tu_status status = try_scale(s, 1, 0, &figure_at_1, error);
    if (status)
        return status;
    if (figure_at_1 < NO_SHAPE_MM) {
        /* nothing but noise: any shape will do, so a bowl */
        for (size_t i = 0; i < s->count; i++)
            s->shape_mm[i] = pow((s->points[i].x_mm - s->points[0].x_mm) / 1000, 2) +
                             pow((s->points[i].y_mm - s->points[0].y_mm) / 1000, 2);
        status = try_scale(s, 1, 0, &figure_at_1, error);
        if (status)
            return status;
    }
    if (!(figure_at_1 > 0))
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "these points lie in a plane whatever the bed's shape");
    status = run_trials(s, figure_at_1, error);
    if (!status)
        conclude(s, inflation);
    return status;
}

static tu_status simulate(simulation *s, tu_inflation *inflation, tu_error *error)
{
    const double reach = inflation->observed_mm + REACH_SD * s->request->sd_mm;
    tu_inflation levelled = *inflation;
    tu_status status = suggest_shape(s, error);

    for (size_t k = 0; k < SCALES; k++)
        s->true_mm[k] = reach * (double)k / (SCALES - 1);
    if (!status)
        status = simulate_shape(s, inflation, error);
    if (status)
        return status;
    level_ties(s);
    status = simulate_shape(s, &levelled, error);
    inflation->low_mm = fmin(inflation->low_mm, levelled.low_mm);
    inflation->high_mm = fmax(inflation->high_mm, levelled.high_mm);
    inflation->best_mm = (inflation->best_mm + levelled.best_mm) / 2;
    inflation->inflation_mm = (inflation->inflation_mm + levelled.inflation_mm) / 2;
    return status;
}

static tu_status check_request(size_t count, const tu_inflation_request *r, tu_error *error)
{
    if (!(r->sd_mm >= 0) || isinf(r->sd_mm) || r->dof < 1)
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "the standard deviation of a height has to be 0 or more, its degrees of "
                       "freedom 1 or more");
    if (count < 4)
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "three points always lie in a plane: flatness takes 4 or more");
    if (count > TU_INFLATION_POINTS_MAX)
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "the effect of noise is worked out for up to %d points, not for %zu",
                       (int)TU_INFLATION_POINTS_MAX, count);
    return TU_OK;
}

static size_t trials_for(size_t count, size_t asked)
{
    const double most = fmin(TRIALS_MAX, asked ? (double)asked : WORK_LIMIT / (double)count);
    return (size_t)fmax(TRIALS_MIN, most);
}

tu_status tu_bed_find_inflation(const tu_bed_point *points, size_t count,
                                const tu_inflation_request *request, void *memory, size_t bytes,
                                tu_inflation *inflation, tu_error *error)
{
    tu_bed_memory block;

    if (!points || !request || !inflation)
        return tu_fail(error, TU_USAGE, NULL, "points, a request and room for the result");
    *inflation = (tu_inflation){NAN, NAN, NAN, NAN, NAN, 0};
    tu_status status = check_request(count, request, error);
    if (!status)
        status = tu_bed_memory_start(&block, memory, bytes, tu_bed_inflation_bytes(count), error);
    if (status)
        return status;

    simulation s = {.points = points,
                    .count = count,
                    .request = request,
                    .trials = trials_for(count, request->trials)};
    s.zone = tu_bed_memory_take(&block, 1, sizeof *s.zone);
    s.shape_mm = tu_bed_memory_take(&block, count, sizeof *s.shape_mm);
    s.noise_mm = tu_bed_memory_take(&block, count, sizeof *s.noise_mm);
    s.trial = tu_bed_memory_take(&block, count, sizeof *s.trial);
    s.figure = tu_bed_memory_take(&block, (size_t)SCALES * s.trials, sizeof *s.figure);
    status = figure_of(&s, points, &inflation->observed_mm, error);
    if (status)
        return status;
    if (request->sd_mm == 0) {
        inflation->best_mm = inflation->low_mm = inflation->high_mm = inflation->observed_mm;
        inflation->inflation_mm = 0;
        return TU_OK;
    }
    return simulate(&s, inflation, error);
}
