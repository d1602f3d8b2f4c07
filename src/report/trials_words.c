/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_words.c - what a judged series means, in words.
 */
#include "report/trials_words.h"

#include "report/figure.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static const double level = 0.05;

/* Below that s is known to a factor of two or worse (chi-squared, 95 %). */
enum { FEW = 8 };

/* Among more touches the test sees departures, the rounding of the positions among them, that are
 * of no account. */
static const size_t normality_most = 5000;

/* Less than that widens the interval of a mean by a tenth at most: sqrt((1 + r)/(1 - r)). */
static const double lag1_least = 0.1;

void tu_trials_say(tu_trials_words *words, const char *format, ...)
{
    va_list arguments;
    if (words->count == TU_TRIALS_SENTENCES) {
        snprintf(words->text[words->count - 1], TU_TRIALS_SENTENCE,
                 "there is more: judge one series at a time with --series.");
        return;
    }
    va_start(arguments, format);
    vsnprintf(words->text[words->count++], TU_TRIALS_SENTENCE, format, arguments);
    va_end(arguments);
}

bool tu_trials_drifts(const tu_trial_figures *f)
{
    return f->slope_p < level && f->slope != 0;
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

bool tu_trials_is_step_limited(const tu_trial_figures *f)
{
    return f->quantised;
}

bool tu_trials_is_odd(const tu_trial_figures *f)
{
    return f->n <= normality_most && f->normality_p < level && !f->quantised;
}

/* A drift makes neighbours alike as well, and is said as a drift; steps do, too. */
bool tu_trials_is_chained(const tu_trial_figures *f)
{
    return !tu_trials_drifts(f) && !f->quantised && f->n >= 8 &&
           fabs(f->lag1) > fmax(lag1_least, 1.96 / sqrt((double)f->n));
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

void tu_trials_slope(char *text, size_t size, tu_unit unit, const tu_trial_figures *f, tu_axis axis)
{
    char rate[48];
    tu_trials_small(rate, sizeof rate, unit, fabs(f->slope) * (f->slope_per_touch ? 1 : 60));
    snprintf(text, size, "%s%s %s", rate, f->slope_per_touch ? " a touch" : "/min",
             way(axis, f->slope));
}

double tu_trials_drift_in_all(const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    size_t n = entry->series.count;
    const double *time = entry->series.time_s;
    return f->slope * (f->slope_per_touch ? (double)n - 1 : time[n - 1] - time[0]);
}

static const char *step_text(tu_unit unit, const tu_trial_figures *f, char *text, size_t size)
{
    double step_mm = isnan(f->step_mm) ? f->step_seen_mm : f->step_mm;
    snprintf(text, size, "%s %s", tu_figure_fine(unit, step_mm).text, tu_unit_name(unit));
    return text;
}

/* Groups, feeds and a warm-up that were found make a series drift or look odd by themselves: what
 * has its cause is not said twice. In one pass a drift, which is not known, may be the cause. */
static bool has_cause(const tu_trials_story *story)
{
    return story->one_pass || tu_trials_shows_feed(story) || tu_trials_shows_warm_up(story) ||
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
                      "repeat; state it with --step.",
                      f->n);
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

/* One step off touches that are all equal is as far out as a bad touch. */
static bool may_be_step(const tu_trial_figures *f)
{
    return f->outlier_count == 1 && f->distinct == 2 && isnan(f->step_mm);
}

static void say_step(tu_trials_words *words, const tu_trials_story *story,
                     const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char text[64];
    if (!tu_trials_is_step_limited(f) || f->n < 2 || isnan(entry->within_mm) || may_be_step(f))
        return;
    step_text(story->unit, f, text, sizeof text);
    if (isnan(f->step_mm)) /* seen, not stated: two flutes would look the same */
        tu_trials_say(words,
                      "only %zu different values, %s apart: if that is the position's step "
                      "(--step), it limits this, not the plate.",
                      f->distinct, text);
    else
        tu_trials_say(words, "the step of %s limits it, not the plate.", text);
}

static void say_outliers(tu_trials_words *words, const tu_trials_story *story,
                         const tu_trial_figures *f)
{
    const char *unit = tu_unit_name(story->unit);
    char text[64];
    if (may_be_step(f))
        tu_trials_say(words,
                      "touch %zu is off by %s, and all the others are equal: an outlier, unless "
                      "that is the position's step (--step).",
                      f->outlier[0].index + 1, step_text(story->unit, f, text, sizeof text));
    else if (f->outlier_count)
        tu_trials_say(words, "%zu outlier%s; without %s s is %s %s instead of %s.",
                      f->outlier_count, f->outlier_count == 1 ? "" : "s",
                      f->outlier_count == 1 ? "it" : "them",
                      tu_figure_fine(story->unit, f->sd_without).text, unit,
                      tu_figure_fine(story->unit, f->sd).text);
}

void tu_trials_verdict(tu_trials_words *words, const tu_trials_story *story,
                       const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    const char *unit = tu_unit_name(story->unit);
    char text[96];
    say_repeats(words, story, entry);
    if (tu_trials_drifts(f) && !has_cause(story)) {
        tu_trials_slope(text, sizeof text, story->unit, f, entry->series.axis);
        tu_trials_say(words, "drifting %s, %s %s from the first touch to the last.", text,
                      tu_figure_fine(story->unit, fabs(tu_trials_drift_in_all(entry))).text, unit);
    }
    say_outliers(words, story, f);
    say_step(words, story, entry);
    if (tu_trials_is_odd(f) && !tu_trials_drifts(f) && !f->outlier_count && !has_cause(story))
        tu_trials_say(words, "not scattered as chance alone does (Anderson-Darling, p %.2g).",
                      f->normality_p);
    if (tu_trials_is_chained(f) && !has_cause(story))
        tu_trials_say(words, "each touch depends on the one before (lag-1 correlation %.2f).",
                      f->lag1);
    if (f->n >= 2 && f->n < FEW && f->sd > 0)
        tu_trials_say(words, "few touches: the true s may be %.1f times as large.",
                      f->sd_interval.high / f->sd);
}

/* --- Verdicts on the rest --- */

static void say_reversal(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_trial_reversal *r = &story->reversal;
    if (!story->has_reversal)
        return;
    tu_trials_say(words, "reversal: moving + reads %s %s %s than moving - (95 %%: %s to %s).",
                  tu_figure_fine(story->unit, fabs(r->b)).text, tu_unit_name(story->unit),
                  r->b < 0 ? "lower" : "higher",
                  tu_figure_fine(story->unit, r->b_interval.low).text,
                  tu_figure_fine(story->unit, r->b_interval.high).text);
}

static void say_groups(tu_trials_words *words, const tu_trials_story *story)
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
                      "by %s: the groups differ (s between them %s %s, within them %s; p %.2g): a "
                      "touch after a change repeats with s %s.",
                      story->by, tu_figure_fine(story->unit, g->between).text, unit,
                      tu_figure_fine(story->unit, g->repeatability).text, g->p,
                      tu_figure_fine(story->unit, g->reproducibility).text);
    else
        tu_trials_say(
            words,
            "by %s: no difference between the groups is shown (s within them %s %s, p %.2g).",
            story->by, tu_figure_fine(story->unit, g->repeatability).text, unit, g->p);
}

static void say_models(tu_trials_words *words, const tu_trials_story *story)
{
    const char *unit = tu_unit_name(story->unit);
    const tu_warm_up *w = &story->warm_up;
    if (tu_trials_shows_warm_up(story))
        tu_trials_say(words,
                      "warm-up: %s %s in all, time constant %.3g min; after %.3g min less than "
                      "%s %s is left.",
                      tu_figure_fine(story->unit, w->rise).text, unit, w->tau_s / 60,
                      w->settled_after_s / 60, tu_figure_fine(story->unit, story->settled_mm).text,
                      unit);
    else if (story->has_warm_up)
        tu_trials_say(words, "warm-up: none is shown (p %.2g).", w->p);
    if (story->has_feed)
        tu_trials_say(
            words, "feed: the position is latched %.3g ms after contact (95 %%: %.3g to %.3g ms).",
            story->feed.delay_s * 1e3, story->feed.delay_interval.low * 1e3,
            story->feed.delay_interval.high * 1e3);
}

void tu_trials_answers(tu_trials_words *words, const tu_trials_story *story)
{
    if (story->one_pass)
        tu_trials_say(words, "one pass: no median, outliers, drift, normality or picture, which "
                             "take the touches themselves; a drift or an outlier stays in s.");
    say_reversal(words, story);
    tu_trials_say_comparison(words, story);
    say_groups(words, story);
    say_models(words, story);
}

/* --- Advice --- */

static void advise_outliers(tu_trials_words *words, const tu_trials_story *story,
                            const tu_trial_figures *f, const char *name)
{
    const tu_trial_outlier *shown = f->outlier;
    char text[64];
    while (f->outlier_count && shown->statistic <= shown->critical &&
           shown + 1 < f->outlier + f->outlier_count)
        shown++; /* two bad touches hide each other in the first pass */
    if (may_be_step(f))
        tu_trials_say(words,
                      "%s: state the step with --step; if it is %s, touch %zu is a step away and "
                      "no outlier, else clean plate and cutter and touch again.",
                      name, step_text(story->unit, f, text, sizeof text), shown->index + 1);
    else if (f->outlier_count)
        tu_trials_say(words,
                      "%s has outliers (touch %zu, Grubbs' G %.2f, critical %.2f): clean plate and "
                      "cutter, see that the clip's lead sits firmly, and touch again.",
                      name, shown->index + 1, shown->statistic, shown->critical);
}

static void advise_entry(tu_trials_words *words, const tu_trials_story *story,
                         const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char text[96], name[2 * TU_NAME_SIZE + 8];
    tu_trials_title(name, sizeof name, entry);
    if (tu_trials_drifts(f) && !has_cause(story)) {
        tu_trials_slope(text, sizeof text, story->unit, f, entry->series.axis);
        tu_trials_say(
            words,
            "%s drifts (%s, p %.2g): let the machine warm up, and touch soon before cutting; "
            "see whether --warm-up says when it settles.",
            name, text, f->slope_p);
    }
    advise_outliers(words, story, f, name);
    if (tu_trials_is_step_limited(f) && !isnan(entry->within_mm) && !may_be_step(f))
        tu_trials_say(
            words,
            "%s moves in steps of %s%s (%zu different value%s): more touches do not help; a "
            "finer step would.",
            name, step_text(story->unit, f, text, sizeof text),
            isnan(f->step_mm) ? ", as it seems" : "", f->distinct, f->distinct == 1 ? "" : "s");
    if (f->n < FEW && f->n > 1 && !f->quantised)
        tu_trials_say(words, "%s has %zu touches, and s may be %.1f times as large: make twenty.",
                      name, f->n, f->sd_interval.high / f->sd);
    if (tu_trials_is_odd(f) && !tu_trials_drifts(f) && !f->outlier_count && !has_cause(story))
        tu_trials_say(
            words,
            "%s is not normal (A* %.2f, p %.2g): two heaps come from two flutes touched in "
            "turn, so turn the same edge to the plate each time; look at the picture.",
            name, f->normality, f->normality_p);
    if (tu_trials_is_chained(f) && !has_cause(story))
        tu_trials_say(
            words,
            "%s: neighbours %s (lag-1 %.2f): touches depend on each other, so the mean is "
            "known less well than its interval says; move clear between touches.",
            name, f->lag1 > 0 ? "are alike" : "alternate", f->lag1);
    if (entry->needed)
        tu_trials_say(words, "%s: %zu touches give a mean known to ±%s %s (s %s).", name,
                      entry->needed, tu_figure_fine(story->unit, story->wanted_mm).text,
                      tu_unit_name(story->unit), tu_figure_fine(story->unit, entry->sd_mm).text);
    else if (!isnan(story->wanted_mm))
        tu_trials_say(words,
                      "%s: no number of touches up to 10 000 gives a mean known to ±%s %s%s.", name,
                      tu_figure_fine(story->unit, story->wanted_mm).text, tu_unit_name(story->unit),
                      f->quantised ? ": the step limits it" : "");
}

/* Last: what stands above it is to be mended first. */
static void advise_limit(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_trials_entry *worst = NULL;
    char name[2 * TU_NAME_SIZE + 8];
    for (size_t i = 0; i < story->count; i++)
        if (story->entry[i].within_mm > story->limit_mm &&
            (!worst || story->entry[i].within_mm > worst->within_mm))
            worst = &story->entry[i];
    if (!worst)
        return;
    tu_trials_title(name, sizeof name, worst);
    tu_trials_say(words,
                  "%s is beyond the limit (±%s against ±%s %s): %s touch the second time slower, "
                  "see that nothing is loose, and make the series anew before you rely on it.",
                  name, tu_figure_expanded(story->unit, worst->within_mm).text,
                  tu_figure_fine(story->unit, story->limit_mm).text, tu_unit_name(story->unit),
                  words->count ? "first do what stands above, then" : "clean plate and cutter,");
}

static void advise_feed(tu_trials_words *words, const tu_trials_story *story)
{
    char text[48];
    const tu_feed_fit *fit = &story->feed;
    if (!story->has_feed || !(fit->delay_interval.low > 0))
        return; /* a latch before contact: no delay, and no advice */
    tu_trials_small(text, sizeof text, story->unit, fit->delay_s * 100.0 / 60.0);
    tu_trials_say(words,
                  "The delay (%.3g ms) carries a touch at 100 mm/min %s past the contact: make the "
                  "second touch slow, and always with the same feed.",
                  fit->delay_s * 1e3, text);
}

static void advise_comparison(tu_trials_words *words, const tu_trials_story *story)
{
    if (story->has_comparison && (tu_trials_drifts(&story->entry[story->before].figures) ||
                                  tu_trials_drifts(&story->entry[story->after].figures)))
        tu_trials_say(words, "To compare in spite of a drift (above), touch before and after in "
                             "turn, several times, on a warm machine.");
}

void tu_trials_advice(tu_trials_words *words, const tu_trials_story *story)
{
    for (size_t i = 0; i < story->count; i++)
        advise_entry(words, story, &story->entry[i]);
    const tu_trial_reversal *r = &story->reversal;
    if (story->has_reversal && (r->b_interval.low > 0 || r->b_interval.high < 0))
        tu_trials_say(words,
                      "Both sides differ (B %s %s): approach from one side only; B also holds what "
                      "lies between the faces where two faces were touched.",
                      tu_figure_fine(story->unit, r->b).text, tu_unit_name(story->unit));
    if (story->has_groups && story->groups.p < level)
        tu_trials_say(
            words,
            "Groups differ (F %.2f, p %.2g): more touches without changing %s anew do not "
            "help; make the change itself repeat, or average over several.",
            story->groups.f, story->groups.p, story->by);
    if (tu_trials_shows_warm_up(story))
        tu_trials_say(
            words,
            "Warm-up (time constant %.3g min): run the machine for %.3g min before touches "
            "that count.",
            story->warm_up.tau_s / 60, story->warm_up.settled_after_s / 60);
    advise_feed(words, story);
    advise_comparison(words, story);
    advise_limit(words, story);
}

bool tu_trials_limit_exceeded(const tu_trials_story *story)
{
    for (size_t i = 0; i < story->count; i++)
        if (story->entry[i].within_mm > story->limit_mm)
            return true;
    return false;
}
