/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_words_advice.c - what to do about a judged series, each with the figure that asks for it.
 */
#include "report/figure.h"
#include "report/trials/trials_words.h"

#include "trueup/trial_models.h"

#include <math.h>
#include <stdio.h>

static const double level = 0.05;

/* Below that s is known to a factor of two or worse (chi-squared, 95 %). */
enum { FEW = 8 };

/* A machine that takes longer for one standard deviation is warm, and still moves (common practice,
 * no source). */
static const double slow_min = 60;

static void advise_outliers(tu_trials_words *words, const tu_trials_story *story,
                            const tu_trial_figures *f, const char *name)
{
    const tu_trial_outlier *shown = f->outlier;
    char text[64];
    while (f->outlier_count && shown->statistic <= shown->critical &&
           shown + 1 < f->outlier + f->outlier_count)
        shown++; /* two bad touches hide each other in the first pass */
    if (tu_trials_may_be_step(f))
        tu_trials_say(words,
                      "%s: state the step with %s; if it is %s, touch %zu is a step away and "
                      "no outlier, else clean plate and cutter and touch again.",
                      name, tu_face_word(story->face, "step"),
                      tu_trials_step_text(story->unit, f, text, sizeof text), shown->index + 1);
    else if (f->outlier_count)
        tu_trials_say(words,
                      "%s has outliers (touch %zu, Grubbs' G %.2f, critical %.2f): clean plate and "
                      "cutter, see that the clip's lead sits firmly, and touch again.",
                      name, shown->index + 1, shown->statistic, shown->critical);
}

static void advise_drift(tu_trials_words *words, const tu_trials_story *story,
                         const tu_trials_entry *entry, const char *name)
{
    const tu_trial_figures *f = &entry->figures;
    const double minutes = f->sd_without / fabs(f->slope) / 60;
    char text[160];
    tu_trials_slope(text, sizeof text, story->unit, f, entry->series.axis);
    if (f->slope == 0)
        tu_trials_say(words,
                      "%s %s (%s): see that nothing moves or is loose, let the machine warm up, "
                      "and touch again.",
                      name, text, tu_trials_p(f->slope_p).text);
    else if (!f->slope_per_touch && minutes > slow_min)
        tu_trials_say(words,
                      "%s drifts slowly (%s, %s): by as much as s in %.3g min; touch anew before "
                      "longer work.",
                      name, text, tu_trials_p(f->slope_p).text, minutes);
    else
        tu_trials_say(
            words,
            "%s drifts (%s, %s): let the machine warm up, and touch soon before cutting%s%s%s.",
            name, text, tu_trials_p(f->slope_p).text,
            story->warm_up_asked   ? "; "
            : entry->series.time_s ? "; see whether "
                                   : "",
            story->warm_up_asked || entry->series.time_s ? tu_face_word(story->face, "warm_up")
                                                         : "",
            story->warm_up_asked   ? " found no end of it: touch for longer"
            : entry->series.time_s ? " says when it settles"
                                   : "");
}

static void advise_order(tu_trials_words *words, const tu_trial_figures *f, const char *name)
{
    if (f->lag1 > 0)
        tu_trials_say(words,
                      "%s: neighbours are alike (lag-1 %.2f): touches depend on each other, so the "
                      "mean is known less well than its interval says; move clear between touches.",
                      name, f->lag1);
    else
        tu_trials_say(words,
                      "%s: neighbours alternate (lag-1 %.2f): two places or two edges of the "
                      "cutter are touched in turn, and s is of both together; touch the same one "
                      "each time.",
                      name, f->lag1);
}

static void advise_count(tu_trials_words *words, const tu_trials_story *story,
                         const tu_trials_entry *entry, const char *name)
{
    const tu_trial_figures *f = &entry->figures;
    if (isnan(story->wanted_mm))
        return;
    double fixed_mm = f->quantised ? tu_trials_rounding_error(entry->sd_mm, f->resolution_mm) : 0;
    if (entry->needed)
        tu_trials_say(words, "%s: %zu touches give a mean known to ±%s %s (s %s).", name,
                      entry->needed, tu_figure_fine(story->unit, story->wanted_mm).text,
                      tu_unit_name(story->unit), tu_figure_fine(story->unit, entry->sd_mm).text);
    else
        tu_trials_say(words,
                      "%s: no number of touches up to 10 000 gives a mean known to ±%s %s%s.", name,
                      tu_figure_fine(story->unit, story->wanted_mm).text, tu_unit_name(story->unit),
                      f->quantised && !(story->wanted_mm > fixed_mm) ? ": the step limits it" : "");
}

static void advise_step(tu_trials_words *words, const tu_trials_story *story,
                        const tu_trial_figures *f, const char *name)
{
    char text[64], values[48] = "";
    if (f->distinct) /* in one pass they are not known */
        snprintf(values, sizeof values, " (%zu different value%s)", f->distinct,
                 f->distinct == 1 ? "" : "s");
    tu_trials_say(words,
                  "%s moves in steps of %s%s%s: more touches do not help; a finer step would.",
                  name, tu_trials_step_text(story->unit, f, text, sizeof text),
                  isnan(f->step_mm) ? ", as it seems" : "", values);
}

static void advise_entry(tu_trials_words *words, const tu_trials_story *story,
                         const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char name[2 * TU_NAME_SIZE + 8];
    bool unexplained = !tu_trials_has_cause(story, entry);
    tu_trials_title(name, sizeof name, entry);
    if (tu_trials_drifts(f) && unexplained)
        advise_drift(words, story, entry, name);
    advise_outliers(words, story, f, name);
    if (tu_trials_is_step_limited(f) && !isnan(entry->within_mm) && !tu_trials_may_be_step(f))
        advise_step(words, story, f, name);
    if (f->n < FEW && f->n > 1 && !f->quantised)
        tu_trials_say(words, "%s has %zu touches, and s may be %.1f times as large: make twenty.",
                      name, f->n, f->sd_interval.high / f->sd);
    if (tu_trials_is_odd(f) && !tu_trials_drifts(f) && !f->outlier_count && unexplained)
        tu_trials_say(
            words,
            "%s is not normal (A* %.2f, %s): look at the picture. Two heaps come from two "
            "flutes touched in turn (turn the same edge to the plate each time), a long "
            "tail from chips or a loose lead.",
            name, f->normality, tu_trials_p(f->normality_p).text);
    if (tu_trials_is_chained(f) && unexplained)
        advise_order(words, f, name);
    advise_count(words, story, entry, name);
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

static void advise_warm_up(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_warm_up *w = &story->warm_up;
    if (!tu_trials_shows_warm_up(story))
        return;
    if (tu_trials_saw_it_settle(story))
        tu_trials_say(words,
                      "Warm-up (time constant %.3g min): run the machine for %.3g min before "
                      "touches that count.",
                      w->tau_s / 60, w->settled_after_s / 60);
    else
        tu_trials_say(words,
                      "Warm-up (time constant %.3g min or so): touch for longer than %.3g min to "
                      "see when it settles; until then let the machine run, and touch soon before "
                      "cutting.",
                      w->tau_s / 60, tu_trials_minutes(story));
}

static void advise_sides(tu_trials_words *words, const tu_trials_story *story)
{
    const tu_trial_reversal *r = &story->reversal;
    if (!story->has_reversal || !(r->b_interval.low > 0 || r->b_interval.high < 0))
        return;
    bool is_told = !tu_trials_side_drifts(story) && !tu_trials_side_has_outliers(story);
    tu_trials_say(
        words, "Both sides differ (B %s %s)%s approach from one side only.",
        tu_figure_fine(story->unit, r->b).text, tu_unit_name(story->unit),
        is_told ? ":" : ", but see above: mend that, and touch both sides in turn. If it stays,");
}

static void advise_groups(tu_trials_words *words, const tu_trials_story *story)
{
    bool drifts = false;
    if (!story->has_groups || !(story->groups.p < level))
        return;
    for (size_t i = 0; i < story->count; i++)
        drifts = drifts || tu_trials_drifts(&story->entry[i].figures);
    tu_trials_say(words, "Groups differ (F %.2f, %s): %s %s anew do not help; %s", story->groups.f,
                  tu_trials_p(story->groups.p).text,
                  drifts ? "to tell that from the drift, touch the groups in turn on a warm "
                           "machine. If they still differ, more touches without changing"
                         : "more touches without changing",
                  story->by, "make the change itself repeat, or average over several.");
}

void tu_trials_advice(tu_trials_words *words, const tu_trials_story *story)
{
    for (size_t i = 0; i < story->count; i++)
        advise_entry(words, story, &story->entry[i]);
    advise_sides(words, story);
    advise_groups(words, story);
    advise_warm_up(words, story);
    advise_feed(words, story);
    advise_comparison(words, story);
    advise_limit(words, story);
}
