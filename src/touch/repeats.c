/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * repeats.c - repeated touches of one place: are they repeats of one place at all?
 */
#include "touch/repeats.h"

#include "trueup/moments.h"
#include "trueup/quantity.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

double tu_repeats_grubbs_critical(size_t n, double alpha)
{
    if (n < 3) {
        return NAN;
    }
    double count = (double)n;
    double t = gsl_cdf_tdist_Qinv(alpha / (2.0 * count), count - 2.0);
    return (count - 1.0) / sqrt(count) * sqrt(t * t / (count - 2.0 + t * t));
}

/* The value farthest from the mean of the others: with one bad touch among few, the plain mean
 * leans towards it, but the order of the distances stays the same. */
static size_t find_farthest(const double *values, const tu_moments *moments)
{
    size_t farthest = 0;
    for (size_t i = 1; i < moments->count; i++) {
        if (fabs(values[i] - moments->mean) > fabs(values[farthest] - moments->mean)) {
            farthest = i;
        }
    }
    return farthest;
}

static double mean_without(const tu_moments *moments, double value)
{
    double count = (double)moments->count;
    return (moments->mean * count - value) / (count - 1.0);
}

/* Why a touch may stand so far from the others. */
static const char *likely_cause(double odd, double others)
{
    double near = TU_REPEATS_RANGE_MAX_MM * TU_MM_PER_INCH;
    if (fabs(odd * TU_MM_PER_INCH - others) < near && fabs(odd) < fabs(others)) {
        return "; it looks like inches among millimetres: write its unit, as in 4.125in";
    }
    if (fabs(odd / TU_MM_PER_INCH - others) < TU_REPEATS_RANGE_MAX_MM && fabs(odd) > fabs(others)) {
        return "; it looks like millimetres among inches: write its unit, as in 104.775mm";
    }
    return "; leave the bad touch out or touch again";
}

static tu_status refuse_spread(const double *values, const tu_moments *moments, const char *where,
                               tu_error *error)
{
    size_t odd = find_farthest(values, moments);
    double others = mean_without(moments, values[odd]);
    return tu_fail(
        error, TU_DATA_CONFLICT, where,
        "touches of one place differ by %.3f mm, more than %.1f mm: number %zu, %.3f mm, "
        "stands farthest from the rest (%.3f mm)%s",
        moments->maximum - moments->minimum, TU_REPEATS_RANGE_MAX_MM, odd + 1, values[odd], others,
        likely_cause(values[odd], others));
}

static void warn_outlier(const double *values, const tu_moments *moments, const char *where,
                         double step_mm, tu_warnings *warnings)
{
    double sd = tu_moments_sd(moments);
    double range = moments->maximum - moments->minimum;
    double noticeable = fmax(0.01, isnan(step_mm) ? 0.0 : 2.0 * step_mm);
    if (moments->count < 3 || !(sd > 0.0) || range < noticeable) {
        return;
    }
    size_t odd = find_farthest(values, moments);
    double statistic = fabs(values[odd] - moments->mean) / sd;
    if (statistic > tu_repeats_grubbs_critical(moments->count, 0.01)) {
        tu_warn(warnings,
                "%s: number %zu, %.4f mm, lies %.3f mm from the mean of the others, far beyond "
                "their spread (Grubbs, 1 %%): a chip, a slip or a loose plate? Touch again.",
                where, odd + 1, values[odd],
                fabs(values[odd] - mean_without(moments, values[odd])));
    }
}

static void warn_against_stored(const tu_moments *moments, const char *where,
                                tu_repeatability stored, tu_warnings *warnings)
{
    double sd = tu_moments_sd(moments);
    if (moments->count < 2 || isnan(stored.sd_mm)) {
        return;
    }
    double dof = (double)(moments->count - 1);
    double ratio = sd / stored.sd_mm;
    if (ratio * ratio > gsl_cdf_fdist_Qinv(0.001, dof, stored.dof)) {
        tu_warn(warnings,
                "%s: their standard deviation, %.4f mm, is %.1f times the stored repeatability, "
                "%.4f mm: something moves that did not move then.",
                where, sd, ratio, stored.sd_mm);
    }
}

tu_status tu_repeats_check(const double *values, size_t count, const char *where,
                           tu_repeatability stored, double step_mm, tu_warnings *warnings,
                           tu_error *error)
{
    tu_moments moments = tu_moments_of(values, count);
    if (count < 2) {
        return TU_OK;
    }
    if (moments.maximum - moments.minimum > TU_REPEATS_RANGE_MAX_MM) {
        return refuse_spread(values, &moments, where, error);
    }
    warn_outlier(values, &moments, where, step_mm, warnings);
    warn_against_stored(&moments, where, stored, warnings);
    return TU_OK;
}
