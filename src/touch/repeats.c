/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * repeats.c - repeated touches of one place: are they repeats of one place at all?
 */
#include "touch/repeats.h"

#include "touch/shown.h"
#include "trueup/moments.h"
#include "trueup/quantity.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdio.h>

double tu_repeats_grubbs_critical(size_t n, double alpha)
{
    if (n < 3)
        return NAN;
    double count = (double)n;
    double t = gsl_cdf_tdist_Qinv(alpha / (2.0 * count), count - 2.0);
    return (count - 1.0) / sqrt(count) * sqrt(t * t / (count - 2.0 + t * t));
}

/* The value farthest from the mean of the others: with one bad touch among few, the plain mean
 * leans towards it, but the order of the distances stays the same. */
static size_t find_farthest(const double *values, const tu_moments *moments)
{
    size_t farthest = 0;
    for (size_t i = 1; i < moments->count; i++)
        if (fabs(values[i] - moments->mean) > fabs(values[farthest] - moments->mean))
            farthest = i;
    return farthest;
}

static double mean_without(const tu_moments *moments, double value)
{
    double count = (double)moments->count;
    return (moments->mean * count - value) / (count - 1.0);
}

/* Whether a number is what another would be if it were taken for the other unit. */
static bool slipped(double small, double large)
{
    double allowance = TU_REPEATS_RANGE_MAX_MM * TU_MM_PER_INCH;
    return fabs(small) < fabs(large) && fabs(small * TU_MM_PER_INCH - large) < allowance;
}

/* Numbers typed in the other unit: with millimetres due the small ones are inches, with inches due
 * the large ones are millimetres. The odd one may be the only right one. */
static tu_status refuse_slip(double odd, double others, const char *where, size_t number,
                             tu_unit unit, tu_error *error)
{
    bool odd_is_small = fabs(odd) < fabs(others);
    bool odd_is_wrong = odd_is_small == (unit == TU_UNIT_MM);
    double wrong = odd_is_wrong ? odd : others;
    char which[40];
    snprintf(which, sizeof which, odd_is_wrong ? "number %zu looks" : "all but number %zu look",
             number);
    tu_shown_length typed = unit == TU_UNIT_MM ? tu_show_typed(TU_UNIT_INCH, wrong * TU_MM_PER_INCH)
                                               : tu_show_typed(TU_UNIT_MM, wrong / TU_MM_PER_INCH);
    return tu_fail(error, TU_DATA_CONFLICT, where,
                   "%s like %s: touches of one place differ 25.4 times; write the unit, as in "
                   "%s",
                   which,
                   unit == TU_UNIT_MM ? "inches among millimetres" : "millimetres among inches",
                   typed.text);
}

static tu_status refuse_spread(const double *values, const tu_moments *moments, const char *where,
                               tu_unit unit, tu_error *error)
{
    size_t odd = find_farthest(values, moments);
    if (moments->count == 2 && slipped(values[1 - odd], values[odd]) == (unit == TU_UNIT_MM))
        odd = 1 - odd; /* of two neither is farther: take the one that the unit makes wrong */
    double others = mean_without(moments, values[odd]);
    tu_shown_length range = tu_show_length(unit, moments->maximum - moments->minimum);
    tu_shown_length most = tu_show_length(unit, TU_REPEATS_RANGE_MAX_MM);
    if (slipped(values[odd], others) || slipped(others, values[odd]))
        return refuse_slip(values[odd], others, where, odd + 1, unit, error);
    if (moments->count == 2)
        return tu_fail(
            error, TU_DATA_CONFLICT, where,
            "the two touches of one place differ by %s, more than %s: touch again, to see "
            "which one is bad",
            range.text, most.text);
    return tu_fail(
        error, TU_DATA_CONFLICT, where,
        "touches of one place differ by %s, more than %s: number %zu, %s, stands farthest "
        "from the rest (%s); leave the bad touch out or touch again",
        range.text, most.text, odd + 1, tu_show_length(unit, values[odd]).text,
        tu_show_length(unit, others).text);
}

static void warn_outlier(const double *values, const tu_moments *moments, const char *where,
                         double step_mm, tu_unit unit, tu_warnings *warnings)
{
    double sd = tu_moments_sd(moments);
    double range = moments->maximum - moments->minimum;
    double noticeable = fmax(0.01, isnan(step_mm) ? 0.0 : 2.0 * step_mm);
    if (moments->count < 3 || !(sd > 0.0) || range < noticeable)
        return;
    size_t odd = find_farthest(values, moments);
    double statistic = fabs(values[odd] - moments->mean) / sd;
    if (statistic > tu_repeats_grubbs_critical(moments->count, 0.01))
        tu_warn(warnings,
                "%s: number %zu, %s, lies %s from the mean of the others, far beyond their spread "
                "(Grubbs, 1 %%): a chip, a slip or a loose plate? Touch again.",
                where, odd + 1, tu_show_length(unit, values[odd]).text,
                tu_show_length(unit, fabs(values[odd] - mean_without(moments, values[odd]))).text);
}

static void warn_against_stored(const tu_moments *moments, const char *where,
                                tu_repeatability stored, tu_unit unit, tu_warnings *warnings)
{
    double sd = tu_moments_sd(moments);
    double dof = (double)(moments->count - 1);
    double ratio = sd / stored.sd_mm;
    /* The inverse of F, which GSL has too, takes no less than one degree of freedom. */
    if (stored.dof > 0.0 && gsl_cdf_fdist_Q(ratio * ratio, dof, stored.dof) < 0.001)
        tu_warn(warnings,
                "%s: their standard deviation, %s, is %.1f times the stored repeatability, %s: "
                "something moves that did not move then.",
                where, tu_show_length(unit, sd).text, ratio,
                tu_show_length(unit, stored.sd_mm).text);
}

/* Two touches have no outlier, and without a stored repeatability nothing to hold their difference
 * against but this: a tenth of a millimetre is more than a sound machine makes. (Common practice,
 * no source.) */
static void warn_pair(const tu_moments *moments, const char *where, tu_unit unit,
                      tu_warnings *warnings)
{
    double range = moments->maximum - moments->minimum;
    if (moments->count == 2 && range > 0.1)
        tu_warn(warnings, "%s: the two differ by %s: touch again, to see which one is bad.", where,
                tu_show_length(unit, range).text);
}

tu_status tu_repeats_check(const double *values, size_t count, const char *where,
                           tu_repeatability stored, double step_mm, tu_unit unit,
                           tu_warnings *warnings, tu_error *error)
{
    tu_moments moments = tu_moments_of(values, count);
    if (count < 2)
        return TU_OK;
    if (moments.maximum - moments.minimum > TU_REPEATS_RANGE_MAX_MM)
        return refuse_spread(values, &moments, where, unit, error);
    warn_outlier(values, &moments, where, step_mm, unit, warnings);
    if (isnan(stored.sd_mm))
        warn_pair(&moments, where, unit, warnings);
    else
        warn_against_stored(&moments, where, stored, unit, warnings);
    return TU_OK;
}
