/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * feed_fit.c - touches at several feeds: the delay between contact and latch.
 *
 * A straight line over the signed feed with one slope (the delay) and a contact for each direction:
 * least squares with the means of each direction taken off (analysis of covariance).
 */
#include "trials/distribution.h"
#include "trials/trial_check.h"
#include "trueup/trial_models.h"

#include <math.h>

/* Of the touches of one direction: how many, mean signed feed, mean position from the first. */
typedef struct way {
    double n, feed, position;
} way;

static size_t way_of(const tu_trial_series *series, size_t i)
{
    return series->direction[i] > 0;
}

static double signed_feed(const tu_trial_series *series, size_t i)
{
    return series->direction[i] * series->feed_mm_s[i];
}

static tu_status check(const tu_trial_series *series, tu_error *error)
{
    tu_status status = tu_trial_check(series, error);
    if (status)
        return status;
    if (series->feed_mm_s == NULL || series->direction == NULL)
        return tu_fail(error, TU_DATA_MISSING, series->name, "the delay needs the %s of each touch",
                       series->feed_mm_s == NULL ? "feed" : "direction of approach (-1 or +1)");
    for (size_t i = 0; i < series->count; i++) {
        double feed = series->feed_mm_s[i];
        if (isnan(feed) || series->direction[i] == 0)
            return tu_fail(error, TU_DATA_MISSING, series->name,
                           "touch %zu: its %s is not stated; the delay needs it of each touch",
                           i + 1, isnan(feed) ? "feed" : "direction");
        if (!(feed > 0.0) || isinf(feed))
            return tu_fail(error, TU_DATA_RANGE, series->name,
                           "touch %zu: its feed must be above zero, found %g mm/s", i + 1, feed);
    }
    return TU_OK;
}

static void find_means(const tu_trial_series *series, way ways[2])
{
    for (size_t i = 0; i < series->count; i++) {
        way *mine = &ways[way_of(series, i)];
        mine->n++;
        mine->feed += (signed_feed(series, i) - mine->feed) / mine->n;
        mine->position += (series->value_mm[i] - series->value_mm[0] - mine->position) / mine->n;
    }
}

/* The residual of touch i from its direction's means for a delay, and its feed from their mean. */
static double residual(const tu_trial_series *series, size_t i, const way *mine, double delay,
                       double *feed)
{
    *feed = signed_feed(series, i) - mine->feed;
    return series->value_mm[i] - series->value_mm[0] - mine->position - delay * *feed;
}

static void finish(const tu_trial_series *series, const way ways[2], double squares, double feeds,
                   tu_feed_fit *fit)
{
    fit->residual_sd = sqrt(squares / fit->dof);
    fit->delay_sd = fit->residual_sd / sqrt(feeds);
    fit->delay_interval = tu_interval_of_t(fit->delay_s, fit->delay_sd, fit->dof);
    for (size_t k = 0; k < 2; k++) {
        if (ways[k].n > 0.0) {
            fit->contact_mm[k] =
                series->value_mm[0] + ways[k].position - fit->delay_s * ways[k].feed;
            fit->contact_sd[k] =
                fit->residual_sd * sqrt(1.0 / ways[k].n + ways[k].feed * ways[k].feed / feeds);
        }
    }
}

tu_status tu_trials_fit_feed(const tu_trial_series *series, tu_feed_fit *fit, tu_error *error)
{
    way ways[2] = {{0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}};
    double feeds = 0.0, product = 0.0, squares = 0.0, feed;
    *fit = (tu_feed_fit){NAN, NAN, {NAN, NAN}, {NAN, NAN}, {NAN, NAN}, NAN, NAN};
    tu_status status = check(series, error);
    if (status)
        return status;
    find_means(series, ways);
    double unknowns = 1.0 + (ways[0].n > 0.0) + (ways[1].n > 0.0);
    if ((double)series->count <= unknowns)
        return tu_fail(error, TU_UNDETERMINED, series->name,
                       "the delay needs %.0f touches at two feeds or more, found %zu",
                       unknowns + 1.0, series->count);
    for (size_t i = 0; i < series->count; i++) {
        double position = residual(series, i, &ways[way_of(series, i)], 0.0, &feed);
        feeds += feed * feed;
        product += feed * position;
    }
    /* Equal feeds leave nothing but the rounding of their mean. */
    double scale = ways[0].feed * ways[0].feed + ways[1].feed * ways[1].feed;
    if (!(feeds > 1e-20 * scale * (double)series->count))
        return tu_fail(error, TU_UNDETERMINED, series->name,
                       "the delay needs touches from one direction at two different feeds; found "
                       "one feed");
    fit->delay_s = product / feeds;
    fit->dof = (double)series->count - unknowns;
    for (size_t i = 0; i < series->count; i++) {
        double off = residual(series, i, &ways[way_of(series, i)], fit->delay_s, &feed);
        squares += off * off;
    }
    finish(series, ways, squares, feeds, fit);
    return TU_OK;
}
