/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * distribution.c - p values and 95 % intervals.
 *
 * GSL's distributions. Its quantiles stop with a relative error of some 1e-9 here and there; where
 * an interval is wanted, the tests hold them to the tables in fixtures/reference.
 */
#include "trials/distribution.h"

#include "trueup/budget.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

const tu_interval tu_interval_none = {NAN, NAN};

tu_interval tu_interval_of_t(double estimate, double standard, double dof)
{
    if (!(dof > 0.0) || !isfinite(estimate) || !isfinite(standard)) {
        return tu_interval_none;
    }
    double half = tu_student_factor(0.95, dof) * standard;
    return (tu_interval){estimate - half, estimate + half};
}

tu_interval tu_interval_of_sd(double sd, double dof)
{
    if (!(dof > 0.0) || !isfinite(sd)) {
        return tu_interval_none;
    }
    return (tu_interval){sd * sqrt(dof / gsl_cdf_chisq_Pinv(0.975, dof)),
                         sd * sqrt(dof / gsl_cdf_chisq_Pinv(0.025, dof))};
}

tu_interval tu_interval_of_ratio(double ratio, double dof_above, double dof_below)
{
    if (!(dof_above > 0.0) || !(dof_below > 0.0) || !isfinite(ratio)) {
        return tu_interval_none;
    }
    return (tu_interval){ratio / sqrt(gsl_cdf_fdist_Pinv(0.975, dof_above, dof_below)),
                         ratio * sqrt(gsl_cdf_fdist_Pinv(0.975, dof_below, dof_above))};
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
    bool stated = isfinite(f) && dof_above > 0.0 && dof_below > 0.0;
    return stated ? gsl_cdf_fdist_Q(f, dof_above, dof_below) : NAN;
}

double tu_two_sided_f(double f, double dof_above, double dof_below)
{
    double upper = tu_upper_f(f, dof_above, dof_below);
    if (isnan(upper)) {
        return NAN;
    }
    double lower = gsl_cdf_fdist_P(f, dof_above, dof_below);
    return fmin(1.0, 2.0 * fmin(upper, lower));
}
