/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_words.h - what a judged series means, in words that text, JSON and picture share.
 */
#ifndef TU_REPORT_TRIALS_WORDS_H
#define TU_REPORT_TRIALS_WORDS_H

#include "trueup/report_trials.h"

#include <stddef.h>

enum { TU_TRIALS_SENTENCE = 320, TU_TRIALS_SENTENCES = 48 };

/* Sentences, or parts of one; starts as {0}. Where there is no room for one more, the
 * last says so. */
typedef struct tu_trials_words {
    size_t count;
    char text[TU_TRIALS_SENTENCES][TU_TRIALS_SENTENCE];
} tu_trials_words;

TU_PRINTF(2, 3)
void tu_trials_say(tu_trials_words *words, const char *format, ...);

/* What is significant: 5 % each (docs/statistics.md has the rates of false alarms). */
bool tu_trials_drifts(const tu_trial_figures *figures);
bool tu_trials_is_step_limited(const tu_trial_figures *figures);
bool tu_trials_is_odd(const tu_trial_figures *figures); /* not normal, and not by its steps */
bool tu_trials_is_chained(const tu_trial_figures *figures);

/* The Theil-Sen slope from the first touch to the last, in mm. */
double tu_trials_drift_in_all(const tu_trials_entry *entry);

/* "left, X+" or "X+". */
void tu_trials_title(char *text, size_t size, const tu_trials_entry *entry);
/* A length of a micrometre or so: "0.8 µm", or "0.00003 in". */
void tu_trials_small(char *text, size_t size, tu_unit unit, double length_mm);
/* "0.8 µm/min upwards" */
void tu_trials_slope(char *text, size_t size, tu_unit unit, const tu_trial_figures *figures,
                     tu_axis axis);

/* The verdict on a series: what it repeats to first, then what is wrong with it. */
void tu_trials_verdict(tu_trials_words *words, const tu_trials_story *story,
                       const tu_trials_entry *entry);
/* The verdict on what was asked beside: comparison, groups, models. */
void tu_trials_answers(tu_trials_words *words, const tu_trials_story *story);
/* The part of it that is a comparison: means, spreads, what makes them mislead. */
void tu_trials_say_comparison(tu_trials_words *words, const tu_trials_story *story);
/* What to do, each with the figure that asks for it. */
void tu_trials_advice(tu_trials_words *words, const tu_trials_story *story);

#endif
