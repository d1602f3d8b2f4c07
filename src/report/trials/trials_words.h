/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_words.h - what a judged series means, in words that text, JSON and picture share.
 */
#ifndef TU_REPORT_TRIALS_WORDS_H
#define TU_REPORT_TRIALS_WORDS_H

#include "report/figure.h"
#include "trials/significance.h"
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

/* Groups, feeds and a warm-up that were found make a series drift or look odd by themselves: what
 * has its cause is not said twice. In one pass a drift, which is not known, may be the cause. */
bool tu_trials_has_cause(const tu_trials_story *story, const tu_trials_entry *entry);
/* One touch a wide step off touches that are all equal: a bad touch would look the same. */
bool tu_trials_may_be_step(const tu_trial_figures *figures);
/* Whether the touches reach to where the warm-up that was fitted has settled. */
bool tu_trials_saw_it_settle(const tu_trials_story *story);
/* Minutes from the first touch to the last of the series that the warm-up was fitted to. */
double tu_trials_minutes(const tu_trials_story *story);

/* "left, X+" or "X+". */
void tu_trials_title(char *text, size_t size, const tu_trials_entry *entry);
/* A length of a micrometre or so: "0.8 µm", or "0.00003 in". */
void tu_trials_small(char *text, size_t size, tu_unit unit, double length_mm);
/* "0.8 µm/min upwards"; where the median slope is 0 for the steps: "shifts upwards by up to a
 * step". */
void tu_trials_slope(char *text, size_t size, tu_unit unit, const tu_trial_figures *figures,
                     tu_axis axis);
/* "0.0125 mm", of the position's step. */
const char *tu_trials_step_text(tu_unit unit, const tu_trial_figures *figures, char *text,
                                size_t size);
/* A length as tu_figure_fine has it, with more digits where that would round it to next to none. */
tu_figure tu_trials_fine(tu_unit unit, double length_mm);
/* "p 0.03"; "p < 1e-30" for less, which no series of touches can tell apart. */
typedef struct tu_trials_p_text {
    char text[24];
} tu_trials_p_text;
tu_trials_p_text tu_trials_p(double p);

/* The verdict on a series: what it repeats to first, then what is wrong with it. */
void tu_trials_verdict(tu_trials_words *words, const tu_trials_story *story,
                       const tu_trials_entry *entry);
/* The verdict on what was asked beside: comparison, groups, models. */
void tu_trials_answers(tu_trials_words *words, const tu_trials_story *story);
/* Of a reversal: a side drifts, or has outliers, and the difference holds that. */
bool tu_trials_side_drifts(const tu_trials_story *story);
bool tu_trials_side_has_outliers(const tu_trials_story *story);
/* The parts of it. */
void tu_trials_say_reversal(tu_trials_words *words, const tu_trials_story *story);
void tu_trials_say_groups(tu_trials_words *words, const tu_trials_story *story);
void tu_trials_say_warm_up(tu_trials_words *words, const tu_trials_story *story);
void tu_trials_say_feed(tu_trials_words *words, const tu_trials_story *story);
/* The part of it that is a comparison: means, spreads, what makes them mislead. */
void tu_trials_say_comparison(tu_trials_words *words, const tu_trials_story *story);
/* What to do, each with the figure that asks for it. */
void tu_trials_advice(tu_trials_words *words, const tu_trials_story *story);

#endif
