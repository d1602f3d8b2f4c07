/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * distribution.h - p values and 95 % intervals, NaN where there is none.
 */
#ifndef TRUEUP_TRIALS_DISTRIBUTION_H
#define TRUEUP_TRIALS_DISTRIBUTION_H

#include "trueup/trials.h"

extern const tu_interval tu_interval_none;

/* estimate +- t(0.975, dof) * standard; none when dof is not above 0. */
tu_interval tu_interval_of_t(double estimate, double standard, double dof);
/* Of a standard deviation with dof degrees of freedom, by chi-squared. */
tu_interval tu_interval_of_sd(double sd, double dof);
/* Of the ratio of two true standard deviations from the ratio of two sample ones, by F. */
tu_interval tu_interval_of_ratio(double ratio, double dof_above, double dof_below);

/* The x that p of the distribution lies below; 0 < p < 1, dof above 0. */
double tu_chi_squared_quantile(double p, double dof);
double tu_f_quantile(double p, double dof_above, double dof_below);

/* Two-sided p of Student's t, and of a normal z. */
double tu_two_sided_t(double t, double dof);
double tu_two_sided_z(double z);
/* Upper tail of F, and twice the smaller tail. */
double tu_upper_f(double f, double dof_above, double dof_below);
double tu_two_sided_f(double f, double dof_above, double dof_below);

#endif
