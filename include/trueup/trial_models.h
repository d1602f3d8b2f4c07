/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trial_models.h - what repeated touches say when a model is fitted: warm-up, delay, how many.
 *
 * Pure; units and NaN as in trials.h.
 */
#ifndef TRUEUP_TRIAL_MODELS_H
#define TRUEUP_TRIAL_MODELS_H

#include "trueup/trials.h"

/*
 * z(t) = start + rise (1 - exp(-(t - t0)/tau)), t0 the first touch; least squares.
 *   settled_after_s  from t0, until what remains of |rise| is below the tolerance asked for.
 *   p                of the F test against no warm-up at all.
 */
typedef struct tu_warm_up {
    double start, rise, tau_s, residual_sd;
    double start_sd, rise_sd, tau_sd; /* standard deviations of the parameters */
    double settled_after_s;
    double p;
} tu_warm_up;

/* work: 4 * count doubles. TU_UNDETERMINED: fewer than five touches, constant time, a series that
 * does not bend (tau longer than can be told); TU_DATA_MISSING without times. */
tu_status tu_trials_fit_warm_up(const tu_trial_series *series, double tolerance_mm, double *work,
                                tu_warm_up *fit, tu_error *error);

/*
 * position = contact + direction * delay * feed: a straight line over the feed, signed by the
 * direction in which the axis moved (+1 or -1; the touches of one fit have one direction each,
 * both may be mixed: each direction then has its own contact).
 *   delay_s        between contact and latch; delay_interval 95 % (t).
 *   contact_mm     where the contact would be at feed zero ([0] moving -, [1] moving +; NaN: no
 *                  touches that way); contact_sd its standard deviation.
 *   advice_feed... see docs.
 */
typedef struct tu_feed_fit {
    double delay_s, delay_sd;
    tu_interval delay_interval;
    double contact_mm[2], contact_sd[2];
    double residual_sd;
    double dof;
} tu_feed_fit;

/* TU_DATA_MISSING without feeds or directions; TU_UNDETERMINED with fewer than two feeds or fewer
 * than three touches. */
tu_status tu_trials_fit_feed(const tu_trial_series *series, tu_feed_fit *fit, tu_error *error);

/*
 * The straight line y = intercept + slope x by least squares, stable (NIST StRD: Norris).
 */
typedef struct tu_line_fit {
    double intercept, slope, intercept_sd, slope_sd, residual_sd, r_squared, dof;
} tu_line_fit;
tu_status tu_trials_fit_line(const double *x, const double *y, size_t count, tu_line_fit *fit,
                             tu_error *error);

/*
 * The smallest n whose mean has an expanded uncertainty t(0.975, n - 1) s / sqrt(n) of at most
 * wanted_mm, s known with dof degrees of freedom (t with the pooled dof when dof > 0 is kept:
 * k = t(0.975, dof + n - 1)). 0: no n up to 10 000 does, or the step limits it.
 */
size_t tu_trials_touches_needed(double sd_mm, double dof, double wanted_mm);

#endif
