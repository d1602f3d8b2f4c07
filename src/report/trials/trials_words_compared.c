/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_words_compared.c - what a comparison of two series means, and what makes it mislead.
 */
#include "report/figure.h"
#include "report/trials/trials_words.h"

#include <math.h>
#include <stdio.h>

static const double level = 0.05;

static void say_means(tu_trials_words *words, const tu_trials_story *story,
                      const tu_trial_comparison *c, const char *lead)
{
    const char *unit = tu_unit_name(story->unit);
    bool still = isnan(c->t_p); /* neither side scatters: its step hides by how much */
    if (still && c->difference == 0)
        tu_trials_say(words, "%s: all touches of both are equal.", lead);
    else if (still)
        tu_trials_say(words,
                      "%s: the mean moved by %s %s, and neither side scatters at all: the step "
                      "hides how well they repeat, so no probability can be given.",
                      lead, tu_figure_fine(story->unit, c->difference).text, unit);
    else if (c->t_p < level)
        tu_trials_say(words, "%s: the mean moved by %s %s (95 %%: %s to %s, %s).", lead,
                      tu_figure_fine(story->unit, c->difference).text, unit,
                      tu_figure_fine(story->unit, c->difference_interval.low).text,
                      tu_figure_fine(story->unit, c->difference_interval.high).text,
                      tu_trials_p(c->t_p).text);
    else
        tu_trials_say(words, "%s: no change of the mean is shown (%s %s, %s).", lead,
                      tu_figure_fine(story->unit, c->difference).text, unit,
                      tu_trials_p(c->t_p).text);
}

/* is_told: nothing else than the change is known to be in the spreads, so it may be judged. */
static void say_spreads(tu_trials_words *words, const tu_trial_comparison *c, double ratio,
                        bool is_told)
{
    bool hidden = !(ratio > 0) || isinf(ratio) || isnan(c->brown_forsythe_p);
    if (isnan(c->t_p))
        return; /* said with the means */
    if (hidden)
        tu_trials_say(words,
                      "the spreads cannot be compared: one side does not scatter beyond its step.");
    else if (c->brown_forsythe_p < level)
        tu_trials_say(words, "the spread is %.2f times what it was (95 %%: %.2f to %.2f)%s.", ratio,
                      c->sd_ratio_interval.low, c->sd_ratio_interval.high,
                      !is_told    ? ""
                      : ratio < 1 ? ": it repeats better now"
                                  : ": it repeats worse now");
    else
        tu_trials_say(words, "no change of the spread is shown (%.2f times, Brown-Forsythe %s).",
                      ratio, tu_trials_p(c->brown_forsythe_p).text);
}

static void say_drift(tu_trials_words *words, const tu_trials_story *story, size_t side)
{
    const tu_trials_entry *entry = &story->entry[side];
    char name[2 * TU_NAME_SIZE + 8], slope[160];
    if (!tu_trials_drifts(&entry->figures))
        return;
    tu_trials_title(name, sizeof name, entry);
    tu_trials_slope(slope, sizeof slope, story->unit, &entry->figures, entry->series.axis);
    if (entry->figures.slope == 0) {
        tu_trials_say(words,
                      "%s %s: that is in the difference and in the spread, and neither tells of "
                      "the change alone.",
                      name, slope);
        return;
    }
    tu_trials_say(words,
                  "%s drifts (%s, %s %s in all): the drift is in the difference and in the spread, "
                  "and neither tells of the change alone.",
                  name, slope, tu_figure_fine(story->unit, fabs(entry->figures.drift_mm)).text,
                  tu_unit_name(story->unit));
}

void tu_trials_say_comparison(tu_trials_words *words, const tu_trials_story *story)
{
    char name[2 * TU_NAME_SIZE + 8], lead[2 * TU_NAME_SIZE + 120];
    if (!story->has_comparison)
        return;
    const tu_trial_figures *after = &story->entry[story->after].figures;
    const tu_trial_figures *before = &story->entry[story->before].figures;
    tu_trials_title(name, sizeof name, &story->entry[story->before]);
    snprintf(lead, sizeof lead, "against %s", name);
    say_means(words, story, &story->comparison, lead);
    bool is_told = !tu_trials_drifts(before) && !tu_trials_drifts(after);
    say_spreads(words, &story->comparison, after->sd / before->sd, is_told);
    say_drift(words, story, story->before);
    say_drift(words, story, story->after);
    if (!story->has_comparison_without)
        return;
    snprintf(lead, sizeof lead, "without the outliers (%zu before, %zu after)",
             before->outlier_count, after->outlier_count);
    say_means(words, story, &story->comparison_without, lead);
    say_spreads(words, &story->comparison_without, after->sd_without / before->sd_without, is_told);
}
