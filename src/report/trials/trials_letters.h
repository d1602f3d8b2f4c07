/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_letters.h - a series drawn in letters, for a terminal without colour.
 */
#ifndef TU_REPORT_TRIALS_LETTERS_H
#define TU_REPORT_TRIALS_LETTERS_H

#include "trueup/report_trials.h"

/* Position against the order of the touches, with the limits of the chart; then how often each
 * position came. columns: of the terminal; 0: not known, and 60 are taken (63 for the legend). */
void tu_trials_letters(FILE *out, const tu_trials_entry *entry, tu_unit unit, int columns);

#endif
