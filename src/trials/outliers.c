/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * outliers.c - touches that do not belong to the rest: Grubbs' test, one touch after the other.
 *
 * F. E. Grubbs, Technometrics 11 (1969) 1-21; B. Rosner, Technometrics 25 (1983) 165-172.
 */
#include "trials/outliers.h"

#include "touch/repeats.h"
#include "trueup/moments.h"

#include <math.h>

/* What is left of the sorted values: the farthest from the mean is always at an end. */
typedef struct touches_left {
    const double *first;
    size_t count;
} touches_left;

/* Of each pass, for 5 % over all of them (outliers.h). */
static double level_for(size_t count)
{
    return count < 10 ? 0.05 : 0.05 / (1.0 + 3.6 / (double)count);
}

static tu_trial_outlier take_farthest(touches_left *rest, double mean, double sd, double level)
{
    double low = mean - rest->first[0];
    double high = rest->first[rest->count - 1] - mean;
    tu_trial_outlier found = {.n = rest->count, .statistic = fmax(low, high) / sd};
    found.value_mm = low > high ? rest->first[0] : rest->first[rest->count - 1];
    found.critical = tu_repeats_grubbs_critical(rest->count, level);
    rest->first += low > high;
    rest->count--;
    return found;
}

/*
 * The moments without the value that was just taken: Welford's step backwards. Where the value made
 * up much of the sum of squares the difference would lose digits, and in short series a pass costs
 * nothing: both are summed anew.
 */
static tu_moments without(const tu_moments *all, double value, const touches_left *rest)
{
    tu_moments moments = *all;
    double before = value - all->mean;
    moments.count--;
    moments.mean -= before / (double)moments.count;
    moments.sum_squares -= before * (value - moments.mean);
    bool lossy = !(moments.sum_squares > 0.5 * all->sum_squares);
    return lossy || rest->count < 10000 ? tu_moments_of(rest->first, rest->count) : moments;
}

static size_t passes_for(size_t count)
{
    size_t passes = count / 10 + 1;
    return passes < TU_TRIAL_OUTLIERS_MAX ? passes : TU_TRIAL_OUTLIERS_MAX;
}

/* Wider than a machine's steps are (common practice, no source): two heaps of touches look like a
 * wide step, and a bad touch among equal ones does. */
static const double seen_most_mm = 0.025;

/* A step that is only seen counts where s is no larger: else it is the rounding of the file. */
static double step_for(const tu_trial_figures *f)
{
    bool seen = isnan(f->step_mm) && (!f->quantised || f->resolution_mm > seen_most_mm);
    return seen ? NAN : f->resolution_mm;
}

static bool rounding_explains(const tu_trial_outlier *outlier, double sd, double step_mm)
{
    return !isnan(step_mm) && outlier->statistic * sd < 1.5 * step_mm;
}

/* The same value may have been touched more than once: each time is an outlier of its own. */
static void find_indexes(const tu_trial_series *series, tu_trial_outlier *outlier, size_t count)
{
    for (size_t k = 0; k < count; k++) {
        size_t i = 0;
        for (size_t before = 0; before < k; before++)
            if (outlier[before].value_mm == outlier[k].value_mm)
                i = outlier[before].index + 1;
        while (series->value_mm[i] != outlier[k].value_mm)
            i++;
        outlier[k].index = i;
    }
}

void tu_outliers_find(const tu_trial_series *series, const double *sorted,
                      tu_trial_figures *figures)
{
    touches_left rest = {sorted, series->count};
    size_t passes = passes_for(series->count);
    double level = level_for(series->count), step_mm = step_for(figures);
    figures->outlier_count = 0;
    tu_moments moments = tu_moments_of(rest.first, rest.count), of_kept = moments;
    for (size_t k = 0; k < passes && rest.count >= 3; k++) {
        double sd = tu_moments_sd(&moments);
        if (!(sd > 0.0))
            break;
        tu_trial_outlier *found = &figures->outlier[k];
        *found = take_farthest(&rest, moments.mean, sd, level);
        moments = without(&moments, found->value_mm, &rest);
        if (found->statistic > found->critical && !rounding_explains(found, sd, step_mm)) {
            figures->outlier_count = k + 1;
            of_kept = moments;
        }
    }
    find_indexes(series, figures->outlier, figures->outlier_count);
    figures->sd_without = figures->outlier_count ? tu_moments_sd(&of_kept) : figures->sd;
}
