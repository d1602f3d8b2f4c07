/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trend.h - drift of a series that has been sorted already: one sort serves both tests.
 */
#ifndef TRUEUP_TRIALS_TREND_H
#define TRUEUP_TRIALS_TREND_H

#include "trials/order.h"

#include "trueup/trials.h"

/* tu_trials_mann_kendall, of count values in that order. */
double tu_trend_of(size_t count, const tu_order_counts *order, double *p);

/* tu_trials_theil_sen, of values in that order. */
double tu_theil_sen_of(const double *times, const double *values, size_t count,
                       const tu_order_counts *order, double *work, tu_interval *interval95);

#endif
