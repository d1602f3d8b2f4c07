/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * budget.c - uncertainty by the GUM (JCGM 100:2008).
 */
#include "trueup/budget.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

double tu_standard_of_tolerance(double half_width)
{
    return isnan(half_width) ? 0.0 : fabs(half_width) / sqrt(3.0);
}

double tu_standard_of_step(double step)
{
    return isnan(step) ? 0.0 : fabs(step) / sqrt(12.0);
}

double tu_student_factor(double coverage, double dof)
{
    double upper_tail = (1.0 - coverage) / 2.0;
    if (!(dof > 0.0) || !(coverage >= 0.0 && coverage < 1.0))
        return NAN;
    /* Near-perfect repeats beside a tolerance make dof astronomical, where GSL's quantile gives up;
     * at 1e9 it is the normal one to within 1.3e-9. */
    return dof > 1e9 ? gsl_cdf_ugaussian_Qinv(upper_tail) : gsl_cdf_tdist_Qinv(upper_tail, dof);
}

void tu_budget_add(tu_uncertainty *budget, const char *source, double standard_mm, double dof)
{
    if (budget->count >= TU_BUDGET_LINES)
        return;
    tu_budget_line *line = &budget->line[budget->count++];
    line->source = source;
    line->standard_mm = standard_mm;
    line->dof = dof;
    line->share = 0.0;
}

void tu_budget_close(tu_uncertainty *budget, double coverage)
{
    double variance = 0.0;
    for (size_t i = 0; i < budget->count; i++)
        variance += budget->line[i].standard_mm * budget->line[i].standard_mm;
    /* Shares first: fourth powers of micrometres in millimetres would lose nothing in a double, but
     * shares keep Welch-Satterthwaite free of units and of underflow. */
    double weighted = 0.0;
    for (size_t i = 0; i < budget->count; i++) {
        tu_budget_line *line = &budget->line[i];
        line->share = variance > 0.0 ? line->standard_mm * line->standard_mm / variance : 0.0;
        if (!isinf(line->dof))
            weighted += line->share * line->share / line->dof;
    }
    budget->standard_mm = sqrt(variance);
    budget->dof = weighted > 0.0 ? 1.0 / weighted : INFINITY;
    budget->coverage = coverage;
    budget->coverage_factor = tu_student_factor(coverage, budget->dof);
    budget->expanded_mm = budget->coverage_factor * budget->standard_mm;
}

tu_repeatability tu_repeatability_pool(size_t n, double sd_mm, tu_repeatability stored)
{
    double dof = n > 1 && !isnan(sd_mm) ? (double)(n - 1) : 0.0;
    double stored_dof = isnan(stored.sd_mm) ? 0.0 : stored.dof;
    tu_repeatability pooled = {NAN, dof + stored_dof};
    if (pooled.dof > 0.0) {
        double sum = (dof > 0.0 ? dof * sd_mm * sd_mm : 0.0) +
                     (stored_dof > 0.0 ? stored_dof * stored.sd_mm * stored.sd_mm : 0.0);
        pooled.sd_mm = sqrt(sum / pooled.dof);
    }
    return pooled;
}
