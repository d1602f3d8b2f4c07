/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * inflation.c - how much of a flatness figure is noise; bed.h has the method, docs/statistics.md
 * what it is worth.
 *
 * Why this way. Noise drawn on top of touched heights counts twice, for these hold it already; and
 * how much of it is in the figure depends on how many places share the highest and the lowest,
 * which noise hides. A shape guessed from the points and scaled until it fits held the truth in 54
 * % of simulated beds at worst. So both limits come from what holds for every bed.
 *
 * Each figure F is the largest of many differences: a sum of weights times heights, those of the
 * high places adding up to 1, those of the low ones to -1, and tilt leaving no trace. So F is a
 * norm of what a plane leaves, and a convex function of noise.
 */
#include "bed/bed_memory.h"
#include "bed/zone_parts.h"
#include "trueup/bed.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_heapsort.h>
#include <gsl/gsl_sort.h>
#include <math.h>
#include <string.h>

enum { TRIALS_MAX = 1000, TRIALS_MIN = 40 };

#define WORK_LIMIT 2e7   /* trials times points that are done at most, least trials aside */
#define MANY_DOF   1000  /* from here on chi squared is approximated */
#define MISSED     0.025 /* of the truths, beyond each limit */

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

/*
 * What is at hand during the trials.
 *   points     a copy in an order of its own, so that the order they came in does not matter.
 *   above_mm   each point above the lower of the two planes that hold all points.
 *   observed_mm, weight2  the figure, and the sum of the squared weights that make it.
 *   tie_sd     places so near the highest or the lowest may be as high or as low.
 *   added_mm   what noise added to the levelled heights, in each trial.
 *   twice_mm   mean of what it added to the heights as they are.
 */
typedef struct simulation {
    tu_bed_point *points;
    size_t count;
    const tu_inflation_request *request;
    size_t trials;
    double *above_mm;
    double *noise_mm;
    tu_bed_point *trial;
    tu_zone_workspace *zone;
    double observed_mm, weight2, tie_sd;
    double *added_mm;
    double twice_mm;
} simulation;

size_t tu_bed_inflation_bytes(size_t count)
{
    return 2 * tu_bed_memory_size(count, sizeof(double)) +
           2 * tu_bed_memory_size(count, sizeof(tu_bed_point)) +
           tu_bed_memory_size(1, sizeof(tu_zone_workspace)) +
           tu_bed_memory_size(TRIALS_MAX, sizeof(double));
}

/* --- The figure --- */

static double lowest_of(const tu_bed_point *points, size_t count, double *range_mm)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < count; i++) {
        low = fmin(low, points[i].z_mm);
        high = fmax(high, points[i].z_mm);
    }
    *range_mm = high - low;
    return low;
}

static tu_status figure_of(const simulation *s, const tu_bed_point *points, double *figure_mm,
                           tu_error *error)
{
    tu_plane_fit fit;
    tu_bed_zone zone;
    tu_status status = TU_OK;

    switch (s->request->figure) {
    case TU_FIGURE_RANGE:
        lowest_of(points, s->count, figure_mm);
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

static double area2(tu_bed_point a, tu_bed_point b, tu_bed_point c)
{
    return (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm);
}

static double square_share(double share)
{
    return share * share + (1 - share) * (1 - share);
}

/* The weights with which a zone's contacts make its width: seen from above, those of the high ones
 * and those of the low ones have the same centre of mass, and each add up to one. */
static double zone_weight2(const tu_bed_point *p, const tu_bed_zone *zone)
{
    if (zone->criterion == TU_ZONE_2_2) {
        const tu_bed_point a = p[zone->high[0]], b = p[zone->high[1]];
        const tu_bed_point c = p[zone->low[0]], d = p[zone->low[1]];
        const double of_high = area2(a, c, d) / (area2(a, c, d) - area2(b, c, d));
        const double of_low = area2(c, a, b) / (area2(c, a, b) - area2(d, a, b));
        const double weight2 = square_share(of_high) + square_share(of_low);
        return weight2 <= 2 ? weight2 : 2;
    }
    if (zone->criterion == TU_ZONE_FLAT)
        return 2;
    const size_t *three = zone->criterion == TU_ZONE_3_1 ? zone->high : zone->low;
    const size_t alone = zone->criterion == TU_ZONE_3_1 ? zone->low[0] : zone->high[0];
    const double all = area2(p[three[0]], p[three[1]], p[three[2]]);
    double weight2 = 1;
    for (size_t k = 0; k < 3; k++) {
        const double part = area2(p[alone], p[three[(k + 1) % 3]], p[three[(k + 2) % 3]]) / all;
        weight2 += part * part;
    }
    return weight2 <= 2 ? weight2 : 2;
}

static void measure_zone(simulation *s, const tu_bed_zone *zone)
{
    const tu_bed_direction n = zone->normal;

    for (size_t i = 0; i < s->count; i++)
        s->above_mm[i] = (s->points[i].x_mm - zone->base.x_mm) * n.x +
                         (s->points[i].y_mm - zone->base.y_mm) * n.y +
                         (s->points[i].z_mm - zone->base.z_mm) * n.z;
    s->observed_mm = zone->FLTt_mm;
    s->weight2 = zone_weight2(s->points, zone);
}

/* The observed figure, its weights, and the heights over its lower plane. */
static tu_status measure(simulation *s, tu_error *error)
{
    tu_plane_fit fit;
    tu_bed_zone zone;
    tu_status status = TU_OK;

    s->weight2 = 2;
    /* as far out as the largest error of all lies, hardly ever farther */
    s->tie_sd = gsl_cdf_ugaussian_Qinv(MISSED / (double)s->count);
    if (s->request->figure == TU_FIGURE_MINIMUM_ZONE) {
        status = tu_bed_find_zone(s->points, s->count, s->zone, &zone, error);
        if (!status)
            measure_zone(s, &zone);
    } else if (s->request->figure == TU_FIGURE_RANGE) {
        const double low = lowest_of(s->points, s->count, &s->observed_mm);
        for (size_t i = 0; i < s->count; i++)
            s->above_mm[i] = s->points[i].z_mm - low;
    } else {
        status = tu_bed_fit_plane(s->points, s->count, &fit, error);
        for (size_t i = 0; i < s->count && !status; i++)
            s->above_mm[i] = tu_plane_deviation_mm(&fit, s->points[i]) + fit.FLTv_mm;
        s->observed_mm = status ? NAN : fit.FLTt_mm;
    }
    return status;
}

/* --- The trials --- */

/* The figure of the heights, levelled by tie at top and bottom, with the noise as drawn. */
static tu_status try_noise(simulation *s, double tie_mm, double factor, double *figure_mm,
                           tu_error *error)
{
    for (size_t i = 0; i < s->count; i++) {
        const double level = fmin(fmax(s->above_mm[i], tie_mm), s->observed_mm - tie_mm);
        s->trial[i] =
            (tu_bed_point){s->points[i].x_mm, s->points[i].y_mm, level + factor * s->noise_mm[i]};
    }
    return figure_of(s, s->trial, figure_mm, error);
}

/* sd_mm: of this trial, drawn where it is known from few touches. */
static tu_status run_trial(simulation *s, double sd_mm, double *added_mm, tu_error *error)
{
    const double tie = fmin(s->tie_sd * sd_mm, s->observed_mm / 2);
    /* on a flat bed what noise adds goes with it, so none is drawn that is steeper than a bed */
    const bool flat = tie >= s->observed_mm / 2;
    const double drawn_mm = flat ? s->request->sd_mm : sd_mm;
    double levelled = s->observed_mm - 2 * tie, noisy = NAN, twice = NAN;
    tu_status status = TU_OK;

    if (s->request->figure == TU_FIGURE_LEAST_SQUARES) /* its plane shifts with the levelling */
        status = try_noise(s, tie, 0, &levelled, error);
    if (!status)
        status = try_noise(s, tie, drawn_mm, &noisy, error);
    if (!status)
        status = try_noise(s, 0, s->request->sd_mm, &twice, error);
    *added_mm = (noisy - levelled) * (sd_mm / drawn_mm);
    s->twice_mm += (twice - s->observed_mm) / (double)s->trials;
    return status;
}

/* A standard deviation that the stated one may stand for: sd sqrt(dof / chi squared). */
static double draw_sd(draws *d, double sd_mm, double dof)
{
    if (isnan(dof) || isinf(dof))
        return sd_mm;
    const double share = draw_uniform(d);
    if (dof < MANY_DOF)
        return sd_mm * sqrt(dof / gsl_cdf_chisq_Pinv(share, dof));
    /* E. B. Wilson, M. M. Hilferty, PNAS 17 (1931) 684-688: here within 2e-5; the exact inverse
     * does not converge for a hundred thousand */
    const double term = 2 / (9 * dof);
    return sd_mm / pow(1 - term + gsl_cdf_ugaussian_Pinv(share) * sqrt(term), 1.5);
}

static tu_status run_trials(simulation *s, tu_error *error)
{
    draws d = {s->request->seed, NAN};
    tu_status status = TU_OK;

    for (size_t t = 0; t < s->trials && !status; t++) {
        const double sd = draw_sd(&d, s->request->sd_mm, s->request->dof);
        for (size_t i = 0; i < s->count; i++)
            s->noise_mm[i] = draw_normal(&d);
        status = run_trial(s, sd, &s->added_mm[t], error);
        if (!status && !isfinite(s->added_mm[t]))
            status = tu_fail(error, TU_NUMERIC, NULL, "the effect of noise could not be drawn");
    }
    gsl_sort(s->added_mm, 1, s->trials);
    return status;
}

/* Exceeded by a share of what is to come (R. J. Hyndman, Y. Fan, Am. Stat. 50 (1996) 361, type 6).
 */
static double upper_quantile(const double *sorted, size_t count, double share)
{
    const double at = fmin((1 - share) * (double)(count + 1), (double)count) - 1;
    const size_t below = (size_t)at;
    const double part = at - (double)below;

    return (1 - part) * sorted[below] + part * sorted[below + (below + 1 < count)];
}

static void conclude(const simulation *s, tu_inflation *inflation)
{
    const double dof = s->request->dof;
    const double factor =
        isnan(dof) || dof > 1e6 ? gsl_cdf_ugaussian_Qinv(MISSED) : gsl_cdf_tdist_Qinv(MISSED, dof);

    inflation->high_mm = s->observed_mm + factor * sqrt(s->weight2) * s->request->sd_mm;
    inflation->low_mm = fmax(0, s->observed_mm - upper_quantile(s->added_mm, s->trials, MISSED));
    inflation->low_mm = fmin(inflation->low_mm, s->observed_mm);
    /* a line through what noise adds up to, once (sd) and twice (sd sqrt 2), back to none */
    inflation->inflation_mm = fmax(0, (1 + sqrt(2)) * s->twice_mm);
    inflation->best_mm = fmax(s->observed_mm - inflation->inflation_mm, inflation->low_mm);
    inflation->trials = s->trials;
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

static int compare_points(const void *left, const void *right)
{
    const tu_bed_point *a = left, *b = right;

    if (a->x_mm != b->x_mm)
        return a->x_mm < b->x_mm ? -1 : 1;
    if (a->y_mm != b->y_mm)
        return a->y_mm < b->y_mm ? -1 : 1;
    return (a->z_mm > b->z_mm) - (a->z_mm < b->z_mm);
}

static void set_up(simulation *s, const tu_bed_point *points, tu_bed_memory *block)
{
    s->zone = tu_bed_memory_take(block, 1, sizeof *s->zone);
    s->points = tu_bed_memory_take(block, s->count, sizeof *s->points);
    s->trial = tu_bed_memory_take(block, s->count, sizeof *s->trial);
    s->above_mm = tu_bed_memory_take(block, s->count, sizeof *s->above_mm);
    s->noise_mm = tu_bed_memory_take(block, s->count, sizeof *s->noise_mm);
    s->added_mm = tu_bed_memory_take(block, s->trials, sizeof *s->added_mm);
    memcpy(s->points, points, s->count * sizeof *points);
    gsl_heapsort(s->points, s->count, sizeof *s->points, compare_points);
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

    simulation s = {
        .count = count, .request = request, .trials = trials_for(count, request->trials)};
    set_up(&s, points, &block);
    status = measure(&s, error);
    if (status)
        return status;
    inflation->observed_mm = s.observed_mm;
    if (request->sd_mm == 0) {
        inflation->best_mm = inflation->low_mm = inflation->high_mm = s.observed_mm;
        inflation->inflation_mm = 0;
        return TU_OK;
    }
    status = run_trials(&s, error);
    if (!status)
        conclude(&s, inflation);
    return status;
}
