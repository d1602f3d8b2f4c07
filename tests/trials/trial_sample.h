/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trial_sample.h - series of touches for the tests: from arrays, from fixtures, drawn.
 */
#ifndef TRUEUP_TESTS_TRIAL_SAMPLE_H
#define TRUEUP_TESTS_TRIAL_SAMPLE_H

#include "check.h"

#include "trueup/trials.h"

/* Values alone: no times, directions, feeds, groups, step. */
tu_trial_series trial_sample_of(const double *values, size_t count);

/* The figures of values alone; fails the test when they are refused. */
tu_trial_figures trial_sample_judge(const double *values, size_t count);

/* The figures of any series. */
tu_trial_figures trial_sample_judge_series(const tu_trial_series *series);

/* The data.NAME numbers of a reference file, or its first value and repeated pair (NumAcc). */
double *trial_sample_data(const cJSON *root, const char *name, size_t *count);

/* Holds the mean, s and lag 1 that a way of judging finds against the univariate sets of NIST StRD
 * (fixtures/reference), each at the relative tolerances of its tolerance_note. */
void trial_sample_hold_nist(tu_trial_figures (*judge)(const double *values, size_t count));

/* count values, normal. */
void trial_sample_normal(check_random *random, double mean, double sd, double *values,
                         size_t count);

#endif
