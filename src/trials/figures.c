/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * figures.c - the figures that follow from the moments and the moving ranges of a series.
 */
#include "trials/figures.h"

#include "trials/distribution.h"

#include <math.h>

tu_trial_figures tu_figures_none(void)
{
    tu_trial_figures f = {.outlier_count = 0};
    f.mean = f.median = f.sd = f.minimum = f.maximum = f.range = f.lag1 = NAN;
    f.mean_interval = f.sd_interval = f.slope_interval = tu_interval_none;
    f.repeatability_limit = f.unidirectional = f.sd_without = NAN;
    f.slope = f.slope_p = f.drift_mm = f.shift_mm = f.normality = f.normality_p = NAN;
    f.chart_centre = f.chart_lower = f.chart_upper = f.chart_mr_centre = f.chart_mr_upper = NAN;
    f.step_mm = f.step_seen_mm = f.resolution_mm = NAN;
    return f;
}

void tu_figures_take_moments(tu_trial_figures *f, const tu_moments *moments)
{
    double n = (double)moments->count;
    f->n = moments->count;
    f->mean = moments->mean;
    f->sd = tu_moments_sd(moments);
    f->minimum = moments->minimum;
    f->maximum = moments->maximum;
    f->range = moments->maximum - moments->minimum;
    if (f->n > 1 && f->range == 0.0)
        return; /* scatter below the step is not none */
    f->mean_interval = tu_interval_of_t(f->mean, f->sd / sqrt(n), n - 1.0);
    f->sd_interval = tu_interval_of_sd(f->sd, n - 1.0);
    f->repeatability_limit = 1.96 * M_SQRT2 * f->sd;
    f->unidirectional = 4.0 * f->sd;
}

/* Individuals and moving range: NIST/SEMATECH e-Handbook 6.3.2.2, with the printed constants. */
void tu_figures_take_ranges(tu_trial_figures *f, double sum)
{
    const double d2 = 1.128, d4 = 3.267;
    if (f->n > 1 && !(sum > 0.0))
        return;
    f->chart_centre = f->mean;
    f->chart_mr_centre = f->n > 1 ? sum / (double)(f->n - 1) : NAN;
    f->chart_mr_upper = d4 * f->chart_mr_centre;
    f->chart_lower = f->chart_centre - 3.0 * f->chart_mr_centre / d2;
    f->chart_upper = f->chart_centre + 3.0 * f->chart_mr_centre / d2;
}
