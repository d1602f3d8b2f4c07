/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * budget.h - uncertainty by the GUM (JCGM 100:2008).
 *
 * GSL computes quantiles and fits in here. Its own error handler, which ends the process, is not
 * reached: what GSL would refuse is refused before.
 */
#ifndef TRUEUP_BUDGET_H
#define TRUEUP_BUDGET_H

#include "trueup/setup.h"
#include "trueup/status.h"

#include <stddef.h>

TU_BEGIN_DECLS

enum { TU_BUDGET_LINES = 16 };

/* One line of a budget. */
typedef struct tu_budget_line {
    const char *source; /* static text: "touches", "wall offset", "cutter diameter", ... */
    double standard_mm; /* this source's part of the result's standard uncertainty */
    double dof;         /* degrees of freedom; INFINITY for a tolerance */
    double share;       /* of the combined variance, 0 to 1 */
} tu_budget_line;

/* A budget, starts as {0}; tu_budget_close fills the lower part and the shares. */
typedef struct tu_uncertainty {
    size_t count;
    tu_budget_line line[TU_BUDGET_LINES];
    double standard_mm;     /* combined, GUM 5.1.2 */
    double dof;             /* effective, Welch-Satterthwaite, GUM G.4.1; INFINITY allowed */
    double coverage_factor; /* t quantile at dof, not truncated to a whole number */
    double expanded_mm;
    double coverage; /* 0.95 */
} tu_uncertainty;

/* Adds a source; a standard uncertainty of 0 is kept, so that the budget shows it was thought of.
 */
void tu_budget_add(tu_uncertainty *budget, const char *source, double standard_mm, double dof);
/* Combines the lines. All zero: standard 0, dof INFINITY, expanded 0, shares 0. */
void tu_budget_close(tu_uncertainty *budget, double coverage);

/* Standard uncertainty of a tolerance of half width a: a/sqrt(3) (GUM 4.3.7); NaN counts as 0. */
double tu_standard_of_tolerance(double half_width);
/* Standard uncertainty of a resolution step: step/sqrt(12) (GUM F.2.2.1); NaN counts as 0. */
double tu_standard_of_step(double step);

/* Student's t so that |T| <= t has this probability, 0 to below 1; dof above 0, INFINITY: normal.
 * NaN for others. */
double tu_student_factor(double coverage, double dof);

/*
 * The standard deviation of one touch from a series of n with standard deviation sd (NaN for n of
 * 1) pooled with a stored one (GUM 4.2.4), and its degrees of freedom.
 * Neither known: sd NaN, dof 0.
 */
tu_repeatability tu_repeatability_pool(size_t n, double sd_mm, tu_repeatability stored);

TU_END_DECLS

#endif
