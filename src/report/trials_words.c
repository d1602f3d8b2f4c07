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

/* Among more touches the test sees departures, the rounding of the positions among them, that are
 * of no account. */
static const size_t normality_most = 5000;

TU_PRINTF(2, 3)
static void say(tu_trials_words *words, const char *format, ...)
{
    va_list arguments;
    if (words->count == TU_TRIALS_SENTENCES)
        return;
    va_start(arguments, format);
    vsnprintf(words->text[words->count++], TU_TRIALS_SENTENCE, format, arguments);
    va_end(arguments);
}

bool tu_trials_drifts(const tu_trial_figures *f)
{
    return f->slope_p < level && f->slope != 0;
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
           fabs(f->lag1) > 1.96 / sqrt((double)f->n);
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
        decimals += metric ? 1 : 1;
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

static const char *step_text(tu_unit unit, const tu_trial_figures *f, char *text, size_t size)
{
    double step_mm = isnan(f->step_mm) ? f->step_seen_mm : f->step_mm;
    snprintf(text, size, "%s %s", tu_figure_fine(unit, step_mm).text, tu_unit_name(unit));
    return text;
}

/* Groups, feeds and a warm-up that were found make a series drift or look odd by themselves: what
 * has its cause is not said twice. */
static bool has_cause(const tu_trials_story *story)
{
    return story->has_feed || (story->has_groups && story->groups.p < level) ||
           (story->has_warm_up && story->warm_up.p < level);
}

/* --- The verdict on a series --- */

static void say_repeats(tu_trials_words *words, const tu_trials_story *story,
                        const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    const char *unit = tu_unit_name(story->unit);
    if (f->n < 2)
        say(words, "%s: one touch repeats nothing; make twenty.", f->n ? "a start" : "no touch");
    else if (isnan(entry->within_mm))
        say(words,
            "all %zu touches are equal, so the step of the position hides how well they "
            "repeat; state it with --step.",
            f->n);
    else
        say(words, "repeats within ±%s %s, 19 touches in 20%s%s%s (from %zu touches).",
            tu_figure_expanded(story->unit, entry->within_mm).text, unit,
            entry->within_mm > story->limit_mm ? ": beyond ±" : "",
            entry->within_mm > story->limit_mm ? tu_figure_place(story->unit, story->limit_mm).text
                                               : "",
            entry->within_mm > story->limit_mm ? ", the limit" : "", f->n);
}

void tu_trials_verdict(tu_trials_words *words, const tu_trials_story *story,
                       const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char text[96];
    say_repeats(words, story, entry);
    if (tu_trials_drifts(f) && !has_cause(story)) {
        tu_trials_slope(text, sizeof text, story->unit, f, entry->series.axis);
        say(words, "drifting %s.", text);
    }
    if (f->outlier_count)
        say(words, "%zu outlier%s; without %s s is %s %s instead of %s.", f->outlier_count,
            f->outlier_count == 1 ? "" : "s", f->outlier_count == 1 ? "it" : "them",
            tu_figure_fine(story->unit, f->sd_without).text, tu_unit_name(story->unit),
            tu_figure_fine(story->unit, f->sd).text);
    bool limited = tu_trials_is_step_limited(f) && f->n > 1 && !isnan(entry->within_mm);
    if (limited && isnan(f->step_mm)) /* seen, not stated: two flutes would look the same */
        say(words,
            "only %zu different values, %s apart: if that is the position's step (--step), it "
            "limits this, not the plate.",
            f->distinct, step_text(story->unit, f, text, sizeof text));
    else if (limited)
        say(words, "the step of %s limits it, not the plate.",
            step_text(story->unit, f, text, sizeof text));
    if (tu_trials_is_odd(f) && !tu_trials_drifts(f) && !f->outlier_count && !has_cause(story))
        say(words, "not scattered as chance alone does (Anderson-Darling, p %.2g).",
            f->normality_p);
    if (tu_trials_is_chained(f) && !has_cause(story))
        say(words, "each touch depends on the one before (lag-1 correlation %.2f).", f->lag1);
    if (f->n >= 2 && f->n < 8 && f->sd > 0)
        say(words, "few touches: s itself is known to a factor of %.1f only.",
            f->sd_interval.high / f->sd);
}

/* --- Verdicts on the rest --- */

static void say_reversal(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_trial_reversal *r = &story->reversal;
    if (!story->has_reversal)
        return;
    say(words, "reversal: moving + reads %s %s %s than moving - (95 %%: %s to %s).",
        tu_figure_fine(story->unit, fabs(r->b)).text, tu_unit_name(story->unit),
        r->b < 0 ? "lower" : "higher", tu_figure_fine(story->unit, r->b_interval.low).text,
        tu_figure_fine(story->unit, r->b_interval.high).text);
}

static void say_comparison(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_trial_comparison *c = &story->comparison;
    const char *unit = tu_unit_name(story->unit);
    char name[2 * TU_NAME_SIZE + 8];
    if (!story->has_comparison)
        return;
    tu_trials_title(name, sizeof name, &story->entry[story->before]);
    bool still = isnan(c->t_p); /* neither side scatters: its step hides by how much */
    if (still && c->difference == 0)
        say(words, "against %s: all touches of both are equal.", name);
    else if (still)
        say(words,
            "against %s: the mean moved by %s %s, and neither side scatters at all: the step hides "
            "how well they repeat, so no probability can be given.",
            name, tu_figure_fine(story->unit, c->difference).text, unit);
    else if (c->t_p < level)
        say(words, "against %s: the mean moved by %s %s (95 %%: %s to %s, p %.2g).", name,
            tu_figure_fine(story->unit, c->difference).text, unit,
            tu_figure_fine(story->unit, c->difference_interval.low).text,
            tu_figure_fine(story->unit, c->difference_interval.high).text, c->t_p);
    else
        say(words, "against %s: no change of the mean is shown (%s %s, p %.2g).", name,
            tu_figure_fine(story->unit, c->difference).text, unit, c->t_p);
    double ratio = story->entry[story->after].figures.sd / story->entry[story->before].figures.sd;
    bool hidden = !(ratio > 0) || isinf(ratio) || isnan(c->brown_forsythe_p);
    if (still)
        return;
    if (hidden)
        say(words, "the spreads cannot be compared: one side does not scatter beyond its step.");
    else if (c->brown_forsythe_p < level)
        say(words, "the spread is %.2f times what it was (95 %%: %.2f to %.2f): it %s.", ratio,
            c->sd_ratio_interval.low, c->sd_ratio_interval.high,
            ratio < 1 ? "repeats better now" : "repeats worse now");
    else
        say(words, "no change of the spread is shown (%.2f times, Brown-Forsythe p %.2g).", ratio,
            c->brown_forsythe_p);
}

static void say_groups(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_trial_groups *g = &story->groups;
    const char *unit = tu_unit_name(story->unit);
    if (!story->has_groups)
        return;
    if (isnan(g->p))
        say(words,
            g->between > 0 ? "by %s: the groups differ (s between them %s %s), and none scatters "
                             "in itself: the "
                             "step hides how well a touch repeats, so no probability can be given."
                           : "by %s: all touches are equal.",
            story->by, tu_figure_fine(story->unit, g->between).text, unit);
    else if (g->p < level)
        say(words,
            "by %s: the groups differ (s between them %s %s, within them %s; p %.2g): a "
            "touch after a change repeats with s %s.",
            story->by, tu_figure_fine(story->unit, g->between).text, unit,
            tu_figure_fine(story->unit, g->repeatability).text, g->p,
            tu_figure_fine(story->unit, g->reproducibility).text);
    else
        say(words,
            "by %s: no difference between the groups is shown (s within them %s %s, p %.2g).",
            story->by, tu_figure_fine(story->unit, g->repeatability).text, unit, g->p);
}

static void say_models(tu_trials_words *words, const tu_trials_story *story)
{
    const char *unit = tu_unit_name(story->unit);
    const tu_warm_up *w = &story->warm_up;
    if (story->has_warm_up && w->p < level)
        say(words,
            "warm-up: %s %s in all, time constant %.3g min; after %.3g min less than "
            "%s %s is left.",
            tu_figure_fine(story->unit, w->rise).text, unit, w->tau_s / 60, w->settled_after_s / 60,
            tu_figure_fine(story->unit, story->settled_mm).text, unit);
    else if (story->has_warm_up)
        say(words, "warm-up: none is shown (p %.2g).", w->p);
    if (story->has_feed)
        say(words, "feed: the position is latched %.3g ms after contact (95 %%: %.3g to %.3g ms).",
            story->feed.delay_s * 1e3, story->feed.delay_interval.low * 1e3,
            story->feed.delay_interval.high * 1e3);
}

void tu_trials_answers(tu_trials_words *words, const tu_trials_story *story)
{
    say_reversal(words, story);
    say_comparison(words, story);
    say_groups(words, story);
    say_models(words, story);
}

/* --- Advice --- */

static void advise_entry(tu_trials_words *words, const tu_trials_story *story,
                         const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char text[96], name[2 * TU_NAME_SIZE + 8];
    tu_trials_title(name, sizeof name, entry);
    if (tu_trials_drifts(f) && !has_cause(story)) {
        tu_trials_slope(text, sizeof text, story->unit, f, entry->series.axis);
        say(words,
            "%s drifts (%s, p %.2g): let the machine warm up, and touch soon before cutting; "
            "see whether --warm-up says when it settles.",
            name, text, f->slope_p);
    }
    if (f->outlier_count)
        say(words,
            "%s has outliers (touch %zu, G %.2f against %.2f): clean plate and cutter, see "
            "that the clip's lead sits firmly, and touch again.",
            name, f->outlier[0].index + 1, f->outlier[0].statistic, f->outlier[0].critical);
    if (tu_trials_is_step_limited(f) && !isnan(entry->within_mm))
        say(words,
            "%s moves in steps of %s (%zu different values): more touches do not help; a "
            "finer step would.",
            name, step_text(story->unit, f, text, sizeof text), f->distinct);
    if (tu_trials_is_odd(f) && !tu_trials_drifts(f) && !f->outlier_count && !has_cause(story))
        say(words,
            "%s is not normal (A* %.2f, p %.2g): two heaps come from two flutes touched in "
            "turn, so turn the same edge to the plate each time; look at the picture.",
            name, f->normality, f->normality_p);
    if (tu_trials_is_chained(f) && !has_cause(story))
        say(words,
            "%s: neighbours %s (lag-1 %.2f): touches depend on each other, so the mean is "
            "known less well than its interval says; move clear between touches.",
            name, f->lag1 > 0 ? "are alike" : "alternate", f->lag1);
    if (entry->needed)
        say(words, "%s: %zu touches give a mean known to ±%s %s (s %s).", name, entry->needed,
            tu_figure_fine(story->unit, story->wanted_mm).text, tu_unit_name(story->unit),
            tu_figure_fine(story->unit, f->sd).text);
    else if (!isnan(story->wanted_mm))
        say(words, "%s: no number of touches up to 10 000 gives a mean known to ±%s %s%s.", name,
            tu_figure_fine(story->unit, story->wanted_mm).text, tu_unit_name(story->unit),
            f->quantised ? ": the step limits it" : "");
}

static void advise_feed(tu_trials_words *words, const tu_trials_story *story)
{
    char text[48];
    const tu_feed_fit *fit = &story->feed;
    if (!story->has_feed || !(fit->delay_interval.low > 0))
        return;
    tu_trials_small(text, sizeof text, story->unit, fit->delay_s * 100.0 / 60.0);
    say(words,
        "The delay (%.3g ms) carries a touch at 100 mm/min %s past the contact: make the "
        "second touch slow, and always with the same feed.",
        fit->delay_s * 1e3, text);
}

void tu_trials_advice(tu_trials_words *words, const tu_trials_story *story)
{
    for (size_t i = 0; i < story->count; i++)
        advise_entry(words, story, &story->entry[i]);
    const tu_trial_reversal *r = &story->reversal;
    if (story->has_reversal && (r->b_interval.low > 0 || r->b_interval.high < 0))
        say(words,
            "Both sides differ (B %s %s): approach from one side only; B also holds what "
            "lies between the faces where two faces were touched.",
            tu_figure_fine(story->unit, r->b).text, tu_unit_name(story->unit));
    if (story->has_groups && story->groups.p < level)
        say(words,
            "Groups differ (F %.2f, p %.2g): more touches without changing %s anew do not "
            "help; make the change itself repeat, or average over several.",
            story->groups.f, story->groups.p, story->by);
    if (story->has_warm_up && story->warm_up.p < level)
        say(words,
            "Warm-up (time constant %.3g min): run the machine for %.3g min before touches "
            "that count.",
            story->warm_up.tau_s / 60, story->warm_up.settled_after_s / 60);
    advise_feed(words, story);
}

bool tu_trials_limit_exceeded(const tu_trials_story *story)
{
    for (size_t i = 0; i < story->count; i++)
        if (story->entry[i].within_mm > story->limit_mm)
            return true;
    return false;
}
