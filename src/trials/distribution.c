/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * distribution.c - p values and 95 % intervals.
 *
 * GSL's distributions. Its quantiles of chi-squared give up above some 10 000 degrees of freedom,
 * so they are found here from the distributions themselves, by Ridders' method on the logarithm (C.
 * J. F. Ridders, IEEE Trans. Circuits Syst. 26 (1979) 979-980).
 */
#include "trials/distribution.h"

#include "trueup/budget.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

const tu_interval tu_interval_none = {NAN, NAN};

/* A distribution of a positive number; chi-squared leaves dof_below unused. */
typedef struct distribution {
    double (*below)(double x, double dof_above, double dof_below);
    double dof_above, dof_below, p;
} distribution;

static double chi_squared_below(double x, double dof, double unused)
{
    (void)unused;
    return gsl_cdf_chisq_P(x, dof);
}

/* GSL loses F where both degrees of freedom are huge; there half its logarithm is normal (Fisher's
 * z), to within 1e-5 of its width. */
static bool is_fisher(double dof_above, double dof_below)
{
    return dof_above > 5e4 && dof_below > 5e4;
}

static double fisher_z(double f, double dof_above, double dof_below)
{
    double mean = (1.0 / dof_below - 1.0 / dof_above) / 2.0;
    return (log(f) / 2.0 - mean) / sqrt((1.0 / dof_above + 1.0 / dof_below) / 2.0);
}

static double f_below(double f, double dof_above, double dof_below)
{
    return is_fisher(dof_above, dof_below) ? gsl_cdf_ugaussian_P(fisher_z(f, dof_above, dof_below))
                                           : gsl_cdf_fdist_P(f, dof_above, dof_below);
}

static double excess(const distribution *d, double log_x)
{
    return d->below(exp(log_x), d->dof_above, d->dof_below) - d->p;
}

static double solve(const distribution *d, double low, double high)
{
    double at_low = excess(d, low), at_high = excess(d, high);
    for (int i = 0; i < 200 && high - low > 1e-14 * fmax(1.0, fabs(low)); i++) {
        double middle = low + (high - low) / 2.0, at_middle = excess(d, middle);
        double root = sqrt(at_middle * at_middle - at_low * at_high);
        if (!(root > 0.0))
            return middle;
        double probe = middle + (middle - low) * (-at_middle / root), at_probe = excess(d, probe);
        const double place[2] = {fmin(middle, probe), fmax(middle, probe)};
        const double at[2] = {middle < probe ? at_middle : at_probe,
                              middle < probe ? at_probe : at_middle};
        for (int k = 0; k < 2; k++) {
            if (at[k] <= 0.0 && place[k] > low) {
                low = place[k];
                at_low = at[k];
            } else if (at[k] > 0.0 && place[k] < high) {
                high = place[k];
                at_high = at[k];
            }
        }
    }
    return low + (high - low) / 2.0;
}

/* The x that p lies below, from a guess of log x and a width in which it should be. */
static double quantile(const distribution *d, double guess, double width)
{
    double low = guess - width, high = guess + width;
    for (int i = 0; i < 12 && excess(d, low) > 0.0; i++, width *= 2.0)
        low -= width;
    for (int i = 0; i < 12 && excess(d, high) < 0.0; i++, width *= 2.0)
        high += width;
    return exp(solve(d, low, high));
}

double tu_chi_squared_quantile(double p, double dof)
{
    if (dof > 1e5) {
        double third = 2.0 / (9.0 * dof);
        return dof * pow(1.0 - third + gsl_cdf_ugaussian_Pinv(p) * sqrt(third), 3.0);
    }
    distribution d = {chi_squared_below, dof, 0.0, p};
    return quantile(&d, log(dof), 6.0 / sqrt(dof));
}

double tu_f_quantile(double p, double dof_above, double dof_below)
{
    distribution d = {f_below, dof_above, dof_below, p};
    return quantile(&d, 0.0, 6.0 * sqrt(1.0 / dof_above + 1.0 / dof_below));
}

tu_interval tu_interval_of_t(double estimate, double standard, double dof)
{
    if (!(dof > 0.0) || !isfinite(estimate) || !isfinite(standard))
        return tu_interval_none;
    double half = tu_student_factor(0.95, dof) * standard;
    return (tu_interval){estimate - half, estimate + half};
}

tu_interval tu_interval_of_sd(double sd, double dof)
{
    if (!(dof > 0.0) || !isfinite(sd))
        return tu_interval_none;
    return (tu_interval){sd * sqrt(dof / tu_chi_squared_quantile(0.975, dof)),
                         sd * sqrt(dof / tu_chi_squared_quantile(0.025, dof))};
}

tu_interval tu_interval_of_ratio(double ratio, double dof_above, double dof_below)
{
    if (!(dof_above > 0.0) || !(dof_below > 0.0) || !isfinite(ratio))
        return tu_interval_none;
    return (tu_interval){ratio / sqrt(tu_f_quantile(0.975, dof_above, dof_below)),
                         ratio * sqrt(tu_f_quantile(0.975, dof_below, dof_above))};
}

double tu_two_sided_t(double t, double dof)
{
    return isfinite(t) && dof > 0.0 ? 2.0 * gsl_cdf_tdist_Q(fabs(t), dof) : NAN;
}

double tu_two_sided_z(double z)
{
    return isfinite(z) ? 2.0 * gsl_cdf_ugaussian_Q(fabs(z)) : NAN;
}

double tu_upper_f(double f, double dof_above, double dof_below)
{
    if (!isfinite(f) || !(dof_above > 0.0) || !(dof_below > 0.0))
        return NAN;
    return is_fisher(dof_above, dof_below) ? gsl_cdf_ugaussian_Q(fisher_z(f, dof_above, dof_below))
                                           : gsl_cdf_fdist_Q(f, dof_above, dof_below);
}

double tu_two_sided_f(double f, double dof_above, double dof_below)
{
    double upper = tu_upper_f(f, dof_above, dof_below);
    if (isnan(upper))
        return NAN;
    double lower = f_below(f, dof_above, dof_below);
    return fmin(1.0, 2.0 * fmin(upper, lower));
}
