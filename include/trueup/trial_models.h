/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trial_models.h - what repeated touches say when a model is fitted: warm-up, delay, how many.
 *
 * Pure; units and NaN as in trials.h.
 */
#ifndef TRUEUP_TRIAL_MODELS_H
#define TRUEUP_TRIAL_MODELS_H

#include "trueup/trials.h"

TU_BEGIN_DECLS

/*
 * z(t) = start + rise (1 - exp(-(t - t0)/tau)), t0 the first touch; least squares.
 *   settled_after_s  from t0, until what remains of |rise| is below the tolerance asked for; 0 when
 *                    it is from the start, NaN when the tolerance is not above 0.
 *   p                of the F test against no warm-up at all, with two degrees of freedom for rise
 *                    and tau. Noise alone comes below 0.05 in 3 of 100 series of 60 touches.
 * Variable projection over tau (Golub and Pereyra 1973), then Gauss-Newton; the standard deviations
 * are the linearised ones (NIST StRD: Misra1a).
 */
typedef struct tu_warm_up {
    double start, rise, tau_s, residual_sd;
    double start_sd, rise_sd, tau_sd; /* standard deviations of the parameters */
    double settled_after_s;
    double p;
    double dof; /* of residual_sd */
} tu_warm_up;

/* work: 4 * count doubles. TU_UNDETERMINED: fewer than five different times, a series that does not
 * bend (tau above three times the series, where it is a straight line, or below a third of the
 * first step, where only the first touches differ); TU_DATA_MISSING without times; TU_NUMERIC when
 * the search does not settle. */
tu_status tu_trials_fit_warm_up(const tu_trial_series *series, double tolerance_mm, double *work,
                                tu_warm_up *fit, tu_error *error);

/*
 * position = contact + direction * delay * feed: a straight line over the feed, signed by the
 * direction in which the axis moved (+1 or -1; the touches of one fit have one direction each,
 * both may be mixed: each direction then has its own contact).
 *   delay_s        between contact and latch; delay_interval 95 % (t).
 *   contact_mm     where the contact would be at feed zero ([0] moving -, [1] moving +; NaN: no
 *                  touches that way); contact_sd its standard deviation.
 */
typedef struct tu_feed_fit {
    double delay_s, delay_sd;
    tu_interval delay_interval;
    double contact_mm[2], contact_sd[2];
    double residual_sd;
    double dof;
} tu_feed_fit;

/* TU_DATA_MISSING without feeds or directions, or where a touch lacks one (names it); TU_DATA_RANGE
 * for a feed that is not above 0; TU_UNDETERMINED without two feeds from one direction, or with no
 * more touches than unknowns (2, or 3 with both directions). */
tu_status tu_trials_fit_feed(const tu_trial_series *series, tu_feed_fit *fit, tu_error *error);

/*
 * The straight line y = intercept + slope x by least squares, stable (NIST StRD: Norris).
 *   dof        count - 2.
 *   r_squared  NaN when all y are equal.
 * TU_UNDETERMINED for fewer than three points or all x equal; TU_DATA_RANGE for a number that is
 * not finite.
 */
typedef struct tu_line_fit {
    double intercept, slope, intercept_sd, slope_sd, residual_sd, r_squared, dof;
} tu_line_fit;
tu_status tu_trials_fit_line(const double *x, const double *y, size_t count, tu_line_fit *fit,
                             tu_error *error);

/*
 * The smallest n whose mean has an expanded uncertainty (95 %) of at most wanted_mm:
 * t(0.975, dof + n - 1) sd / sqrt(n). dof: the degrees of freedom that sd_mm is known with, to
 * which the new touches add theirs; 0 or NaN: none, then n is 2 at least. 0: no n up to 10 000 is
 * enough, or sd_mm or wanted_mm is not stated. The step of the position sets a limit of its own,
 * which no number of touches lowers: that is for the caller to say.
 */
size_t tu_trials_touches_needed(double sd_mm, double dof, double wanted_mm);

/*
 * How far the mean of any number of touches can be off because positions are rounded to the step:
 * half a step while sd_mm, the standard deviation of the rounded touches, is half a step or less; a
 * fiftieth of it above, where the touches themselves spread over the steps (0.0153 at most,
 * docs/statistics.md). 0 without a step.
 */
double tu_trials_rounding_error(double sd_mm, double step_mm);

/*
 * Half the width of the interval that the next touch lies in with 95 %, about the mean of count
 * touches, or about the line or curve fitted to them: t(0.975, dof) sd sqrt(1 + p/count) with
 * p = count - dof, the unknowns that were fitted (1 for a mean). That is the prediction interval of
 * a mean (G. J. Hahn, W. Q. Meeker, Statistical Intervals, 1991, 4.7); for a fit p/count is the
 * mean of its variances over the places of the touches themselves, since the trace of the hat
 * matrix is p. Not below half a step of the position, whatever sd says. NaN: no degree of freedom,
 * or no scatter and no step stated.
 */
double tu_trials_next_within(double sd_mm, size_t count, double dof, double step_mm);

TU_END_DECLS

#endif
