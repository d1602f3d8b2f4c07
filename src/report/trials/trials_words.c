/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_words.c - what a judged series means, in words.
 */
#include "report/trials/trials_words.h"

#include "report/figure.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

static const double level = 0.05;

/* Below that s is known to a factor of two or worse (chi-squared, 95 %). */
enum { FEW = 8 };

void tu_trials_say(tu_trials_words *words, const char *format, ...)
{
    va_list arguments;
    if (words->count == TU_TRIALS_SENTENCES) {
        snprintf(words->text[words->count - 1], TU_TRIALS_SENTENCE,
                 "there is more: judge one series at a time.");
        return;
    }
    va_start(arguments, format);
    vsnprintf(words->text[words->count++], TU_TRIALS_SENTENCE, format, arguments);
    va_end(arguments);
}

bool tu_trials_shows_warm_up(const tu_trials_story *story)
{
    return story->has_warm_up && story->warm_up.p < level;
}

bool tu_trials_shows_feed(const tu_trials_story *story)
{
    const tu_interval *delay = &story->feed.delay_interval;
    return story->has_feed && (delay->low > 0 || delay->high < 0);
}

void tu_trials_title(char *text, size_t size, const tu_trials_entry *entry)
{
    snprintf(text, size, "%s%s%c%s", entry->name, *entry->name ? ", " : "",
             tu_axis_letter(entry->series.axis),
             entry->direction > 0   ? "+"
             : entry->direction < 0 ? "-"
                                    : "");
}

void tu_trials_small(char *text, size_t size, tu_unit unit, double length_mm)
{
    bool metric = unit == TU_UNIT_MM;
    double value = metric ? length_mm * 1000 : tu_unit_from_mm(unit, length_mm);
    int decimals = metric ? 1 : 5;
    if (value != 0 && fabs(value) < pow(10, -decimals))
        decimals++;
    if (metric && fabs(length_mm) >= 0.1) /* not small: "1000.0 µm" hides the millimetre */
        snprintf(text, size, "%s mm", tu_figure_fine(unit, length_mm).text);
    else
        snprintf(text, size, "%s %s", tu_figure_number(value, decimals).text, metric ? "µm" : "in");
}

static const char *way(tu_axis axis, double sign)
{
    static const char *const ways[TU_AXIS_COUNT][2] = {
        {"to X-", "to X+"}, {"to Y-", "to Y+"}, {"downwards", "upwards"}};
    return ways[axis][sign > 0];
}

tu_figure tu_trials_fine(tu_unit unit, double length_mm)
{
    double length = fabs(tu_unit_from_mm(unit, length_mm));
    if (length == 0 || !(length < 0.001))
        return tu_figure_fine(unit, length_mm);
    int decimals = 1 + (int)ceil(-log10(fmax(length, 1e-12)));
    return tu_figure_number(tu_unit_from_mm(unit, length_mm), decimals);
}

const char *tu_trials_step_text(tu_unit unit, const tu_trial_figures *f, char *text, size_t size)
{
    double step_mm = isnan(f->resolution_mm) ? f->step_mm : f->resolution_mm;
    snprintf(text, size, "%s %s", tu_trials_fine(unit, step_mm).text, tu_unit_name(unit));
    return text;
}

void tu_trials_slope(char *text, size_t size, tu_unit unit, const tu_trial_figures *f, tu_axis axis)
{
    char rate[48], step[64];
    if (f->slope == 0) {
        bool known = !isnan(f->resolution_mm);
        snprintf(text, size, "shifts %s by up to a step%s%s", way(axis, f->shift_mm),
                 known ? " of " : "", known ? tu_trials_step_text(unit, f, step, sizeof step) : "");
        return;
    }
    tu_trials_small(rate, sizeof rate, unit, fabs(f->slope) * (f->slope_per_touch ? 1 : 60));
    snprintf(text, size, "%s%s %s", rate, f->slope_per_touch ? " a touch" : "/min",
             way(axis, f->slope));
}

tu_trials_p_text tu_trials_p(double p)
{
    tu_trials_p_text text;
    if (p < 1e-30)
        snprintf(text.text, sizeof text.text, "p < 1e-30");
    else
        snprintf(text.text, sizeof text.text, "p %.2g", p);
    return text;
}

double tu_trials_minutes(const tu_trials_story *story)
{
    const tu_trial_series *series = &story->entry[0].series;
    return series->time_s ? (series->time_s[series->count - 1] - series->time_s[0]) / 60 : INFINITY;
}

bool tu_trials_saw_it_settle(const tu_trials_story *story)
{
    return story->warm_up.settled_after_s / 60 <= tu_trials_minutes(story);
}

bool tu_trials_has_cause(const tu_trials_story *story, const tu_trials_entry *entry)
{
    return story->one_pass || entry->effect != TU_TRIALS_AS_THEY_CAME ||
           (story->has_groups && story->groups.p < level);
}

/* --- The verdict on a series --- */

/* What the interval that is named first is of; NULL: of all touches as they came. */
static const char *in_which_state(const tu_trials_entry *entry)
{
    return entry->effect == TU_TRIALS_WARM_UP ? "once settled, repeats within"
           : entry->effect == TU_TRIALS_FEED  ? "at one feed, repeats within"
                                              : "repeats within";
}

static void say_repeats(tu_trials_words *words, const tu_trials_story *story,
                        const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    const char *unit = tu_unit_name(story->unit);
    char beyond[80] = "";
    if (f->n < 2) {
        tu_trials_say(words, "one touch cannot show how well touches repeat; make twenty.");
        return;
    }
    if (isnan(entry->within_mm)) {
        tu_trials_say(words,
                      "all %zu touches are equal, so the step of the position hides how well they "
                      "repeat; state it with %s.",
                      f->n, tu_face_word(story->face, "step"));
        return;
    }
    if (entry->within_mm > story->limit_mm)
        snprintf(beyond, sizeof beyond, ", beyond the limit of ±%s %s",
                 tu_figure_fine(story->unit, story->limit_mm).text, unit);
    tu_trials_say(words, "%s ±%s %s, 19 touches in 20 (from %zu touches)%s.", in_which_state(entry),
                  tu_figure_expanded(story->unit, entry->within_mm).text, unit, f->n, beyond);
    if (entry->effect != TU_TRIALS_AS_THEY_CAME && !isnan(entry->within_all_mm))
        tu_trials_say(words, "with the %s in it: within ±%s %s.",
                      entry->effect == TU_TRIALS_WARM_UP ? "warm-up" : "change of feed",
                      tu_figure_expanded(story->unit, entry->within_all_mm).text, unit);
}

bool tu_trials_may_be_step(const tu_trial_figures *f)
{
    return f->outlier_count == 1 && f->distinct == 2 && isnan(f->step_mm);
}

/* How much of s the rounding to the step is (Sheppard: step^2/12 of its square). */
static void say_rounding(tu_trials_words *words, const tu_trials_story *story,
                         const tu_trials_entry *entry, const char *step)
{
    double step_mm = entry->figures.resolution_mm, sd_mm = entry->sd_mm;
    const char *unit = tu_unit_name(story->unit);
    if (!(sd_mm > step_mm / 2))
        return;
    char half[160];
    snprintf(half, sizeof half, "s (%s %s) would be about %s %s without",
             tu_figure_fine(story->unit, sd_mm).text, unit,
             tu_figure_fine(story->unit, sqrt(sd_mm * sd_mm - step_mm * step_mm / 12)).text, unit);
    if (isnan(entry->figures.step_mm))
        tu_trials_say(words,
                      "values lie %s apart: if that is the position's step (%s), %s its "
                      "rounding.",
                      step, tu_face_word(story->face, "step"), half);
    else
        tu_trials_say(words, "positions come in steps of %s: %s that rounding.", step, half);
}

static void say_step(tu_trials_words *words, const tu_trials_story *story,
                     const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char text[64];
    if (!f->quantised || f->n < 2 || isnan(entry->within_mm) || tu_trials_may_be_step(f))
        return;
    tu_trials_step_text(story->unit, f, text, sizeof text);
    if (!tu_trials_is_step_limited(f))
        say_rounding(words, story, entry, text);
    else if (isnan(f->step_mm)) /* seen, not stated: two flutes would look the same */
        tu_trials_say(words,
                      "only %zu different values, %s apart: if that is the position's step "
                      "(%s), it limits this, not the plate.",
                      f->distinct, text, tu_face_word(story->face, "step"));
    else
        tu_trials_say(words, "the step of %s limits it, not the plate.", text);
}

static void say_outliers(tu_trials_words *words, const tu_trials_story *story,
                         const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    const char *unit = tu_unit_name(story->unit);
    char text[64];
    if (tu_trials_may_be_step(f))
        tu_trials_say(words,
                      "touch %zu is off by %s, and all the others are equal: an outlier, unless "
                      "that is the position's step (%s).",
                      f->outlier[0].index + 1,
                      tu_trials_step_text(story->unit, f, text, sizeof text),
                      tu_face_word(story->face, "step"));
    else if (f->outlier_count && entry->effect != TU_TRIALS_AS_THEY_CAME)
        tu_trials_say(words, "%zu outlier%s beside %s, and the fit follows %s a little.",
                      f->outlier_count, f->outlier_count == 1 ? "" : "s",
                      entry->effect == TU_TRIALS_WARM_UP ? "the warm-up"
                                                         : "the line over the feeds",
                      f->outlier_count == 1 ? "it" : "them");
    else if (f->outlier_count)
        tu_trials_say(words, "%zu outlier%s; without %s s is %s %s instead of %s.",
                      f->outlier_count, f->outlier_count == 1 ? "" : "s",
                      f->outlier_count == 1 ? "it" : "them",
                      tu_figure_fine(story->unit, f->sd_without).text, unit,
                      tu_figure_fine(story->unit, f->sd).text);
}

static void say_drift(tu_trials_words *words, const tu_trials_story *story,
                      const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char text[160];
    tu_trials_slope(text, sizeof text, story->unit, f, entry->series.axis);
    if (f->slope == 0)
        tu_trials_say(words, "%s on the way (%s).", text, tu_trials_p(f->slope_p).text);
    else
        tu_trials_say(words, "drifting %s, %s %s from the first touch to the last.", text,
                      tu_figure_fine(story->unit, fabs(f->drift_mm)).text,
                      tu_unit_name(story->unit));
}

void tu_trials_verdict(tu_trials_words *words, const tu_trials_story *story,
                       const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    bool unexplained = !tu_trials_has_cause(story, entry);
    say_repeats(words, story, entry);
    if (tu_trials_drifts(f) && unexplained)
        say_drift(words, story, entry);
    say_outliers(words, story, entry);
    say_step(words, story, entry);
    if (tu_trials_is_odd(f) && !tu_trials_drifts(f) && !f->outlier_count && unexplained)
        tu_trials_say(words, "not scattered as chance alone does (Anderson-Darling, %s).",
                      tu_trials_p(f->normality_p).text);
    if (tu_trials_is_chained(f) && unexplained)
        tu_trials_say(words, "each touch %s (lag-1 correlation %.2f).",
                      f->lag1 > 0 ? "depends on the one before"
                                  : "tends to go the other way than the one before",
                      f->lag1);
    if (f->n >= 2 && f->n < FEW && f->sd > 0)
        tu_trials_say(words, "few touches: the true s may be %.1f times as large.",
                      f->sd_interval.high / f->sd);
}

/* --- Verdicts on the rest --- */

bool tu_trials_side_drifts(const tu_trials_story *story)
{
    return story->has_reversal && (tu_trials_drifts(&story->entry[story->forward].figures) ||
                                   tu_trials_drifts(&story->entry[story->back].figures));
}

bool tu_trials_side_has_outliers(const tu_trials_story *story)
{
    return story->has_reversal && (story->entry[story->forward].figures.outlier_count ||
                                   story->entry[story->back].figures.outlier_count);
}

void tu_trials_say_reversal(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_trial_reversal *r = &story->reversal;
    const char *unit = tu_unit_name(story->unit);
    char between[120];
    snprintf(between, sizeof between, "95 %%: %s to %s",
             tu_figure_fine(story->unit, r->b_interval.low).text,
             tu_figure_fine(story->unit, r->b_interval.high).text);
    if (story->has_faces)
        tu_trials_say(words,
                      "moving + and moving - touched two faces, %s %s apart, not one place from "
                      "both sides: no reversal.",
                      tu_figure_fine(story->unit, fabs(r->b)).text, unit);
    else if (story->has_reversal && isnan(r->b_interval.low))
        tu_trials_say(words, "reversal: B is %s %s; the touches do not say how well it is known.",
                      tu_figure_fine(story->unit, r->b).text, unit);
    else if (story->has_reversal && r->b_interval.low <= 0 && r->b_interval.high >= 0)
        tu_trials_say(words,
                      "reversal: no difference between moving + and moving - is shown (%s %s, %s).",
                      tu_figure_fine(story->unit, r->b).text, unit, between);
    else if (story->has_reversal)
        tu_trials_say(words, "reversal: moving + reads %s %s %s than moving - (%s).",
                      tu_figure_fine(story->unit, fabs(r->b)).text, unit,
                      r->b < 0 ? "lower" : "higher", between);
    if (tu_trials_side_drifts(story))
        tu_trials_say(words, "a side drifts: unless both were touched in turn, the drift is in "
                             "that difference.");
    if (tu_trials_side_has_outliers(story))
        tu_trials_say(words, "the outliers are in that difference.");
}

/* Groups that follow one another in time differ by a drift alone. */
static void say_drift_in_groups(tu_trials_words *words, const tu_trials_story *story)
{
    char text[160];
    for (size_t i = 0; i < story->count && story->groups.p < level; i++) {
        const tu_trial_figures *f = &story->entry[i].figures;
        if (!tu_trials_drifts(f))
            continue;
        tu_trials_slope(text, sizeof text, story->unit, f, story->entry[i].series.axis);
        tu_trials_say(words,
                      "the touches drift as well (%s, %s): groups touched one after the other "
                      "differ by that alone.",
                      text, tu_trials_p(f->slope_p).text);
        return;
    }
}

void tu_trials_say_groups(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_trial_groups *g = &story->groups;
    const char *unit = tu_unit_name(story->unit);
    if (!story->has_groups)
        return;
    if (isnan(g->p))
        tu_trials_say(words,
                      g->between > 0
                          ? "by %s: the groups differ (s between them %s %s), and none scatters "
                            "in itself: the "
                            "step hides how well a touch repeats, so no probability can be given."
                          : "by %s: all touches are equal.",
                      story->by, tu_figure_fine(story->unit, g->between).text, unit);
    else if (g->p < level)
        tu_trials_say(words,
                      "by %s: the groups differ (s between them %s %s, within them %s; %s): a "
                      "touch after a change repeats with s %s.",
                      story->by, tu_figure_fine(story->unit, g->between).text, unit,
                      tu_figure_fine(story->unit, g->repeatability).text, tu_trials_p(g->p).text,
                      tu_figure_fine(story->unit, g->reproducibility).text);
    else
        tu_trials_say(words,
                      "by %s: no difference between the groups is shown (s within them %s %s, %s).",
                      story->by, tu_figure_fine(story->unit, g->repeatability).text, unit,
                      tu_trials_p(g->p).text);
    say_drift_in_groups(words, story);
}

void tu_trials_say_warm_up(tu_trials_words *words, const tu_trials_story *story)
{
    const char *unit = tu_unit_name(story->unit);
    const tu_warm_up *w = &story->warm_up;
    if (!story->has_warm_up)
        return;
    const tu_figure rise = tu_figure_fine(story->unit, w->rise);
    const tu_figure left = tu_figure_fine(story->unit, story->settled_mm);
    if (!tu_trials_shows_warm_up(story))
        tu_trials_say(words, "warm-up: none is shown (%s).", tu_trials_p(w->p).text);
    else if (tu_trials_saw_it_settle(story))
        tu_trials_say(words,
                      "warm-up: %s %s in all, time constant %.3g min; after %.3g min less than "
                      "%s %s is left.",
                      rise.text, unit, w->tau_s / 60, w->settled_after_s / 60, left.text, unit);
    else
        tu_trials_say(words,
                      "warm-up: %s %s in all and a time constant of %.3g min (s %.2g), as far as "
                      "%.3g min tell; when less than %s %s is left lies beyond what was touched.",
                      rise.text, unit, w->tau_s / 60, w->tau_sd / 60, tu_trials_minutes(story),
                      left.text, unit);
}

void tu_trials_say_feed(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_feed_fit *fit = &story->feed;
    char between[80];
    if (!story->has_feed)
        return;
    snprintf(between, sizeof between, "95 %%: %.3g to %.3g ms", fit->delay_interval.low * 1e3,
             fit->delay_interval.high * 1e3);
    if (!tu_trials_shows_feed(story))
        tu_trials_say(words, "feed: no delay of the latch is shown (%.3g ms, %s).",
                      fit->delay_s * 1e3, between);
    else if (fit->delay_s > 0)
        tu_trials_say(words, "feed: the position is latched %.3g ms after contact (%s).",
                      fit->delay_s * 1e3, between);
    else
        tu_trials_say(words,
                      "feed: the position is latched %.3g ms before contact (%s), which cannot be: "
                      "see whether directions and feeds are right.",
                      -fit->delay_s * 1e3, between);
}

void tu_trials_answers(tu_trials_words *words, const tu_trials_story *story)
{
    if (story->one_pass)
        tu_trials_say(words, "one pass: no median, outliers, drift, normality or picture, which "
                             "take the touches themselves; a drift or an outlier stays in s.");
    tu_trials_say_reversal(words, story);
    tu_trials_say_comparison(words, story);
    tu_trials_say_groups(words, story);
    tu_trials_say_warm_up(words, story);
    tu_trials_say_feed(words, story);
}

bool tu_trials_limit_exceeded(const tu_trials_story *story)
{
    for (size_t i = 0; i < story->count; i++)
        if (story->entry[i].within_mm > story->limit_mm)
            return true;
    return false;
}
