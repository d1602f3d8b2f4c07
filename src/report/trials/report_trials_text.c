/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_trials_text.c - judged touches as text: the verdict, then the tables, then the advice.
 */
#include "report/answer.h"
#include "report/figure.h"
#include "report/trials/trials_letters.h"
#include "report/trials/trials_words.h"
#include "report/word_rows.h"

#include <math.h>
#include <string.h>

enum { DETAILED_MAX = 6, NAME_WIDTH = 30 };

/* The first row after lead, the others indented as far. */
static void write_item(FILE *out, const char *lead, const char *text)
{
    int indent = tu_word_rows_columns(lead);
    fputs(lead, out);
    tu_word_rows_write(out, text, indent, indent);
}

/* --- Verdicts --- */

static void write_verdicts(FILE *out, const tu_trials_story *story, tu_trials_words *words)
{
    char title[2 * TU_NAME_SIZE + 8], line[TU_TRIALS_SENTENCE + sizeof title];
    for (size_t i = 0; i < story->count; i++) {
        *words = (tu_trials_words){0};
        tu_trials_title(title, sizeof title, &story->entry[i]);
        tu_trials_verdict(words, story, &story->entry[i]);
        for (size_t k = 0; k < words->count; k++) {
            snprintf(line, sizeof line, "%s: %s", title, words->text[k]);
            if (k == 0)
                write_item(out, "", line);
            else
                write_item(out, "  ", words->text[k]);
        }
    }
    *words = (tu_trials_words){0};
    tu_trials_answers(words, story);
    for (size_t k = 0; k < words->count; k++) {
        if (k == 0)
            fputc('\n', out);
        write_item(out, "", words->text[k]);
    }
}

/* --- Tables --- */

static void write_row(FILE *out, const char *name, const char *value, const char *note)
{
    fprintf(out, "  %-26s %12s%s%s\n", name, value, *note ? "  " : "", note);
}

static void write_length(FILE *out, tu_unit unit, const char *name, double value_mm,
                         const char *note)
{
    if (!isnan(value_mm))
        write_row(out, name, tu_figure_fine(unit, value_mm).text, note);
}

static void write_between(FILE *out, tu_unit unit, const char *name, double value_mm,
                          tu_interval interval)
{
    char note[120] = "";
    if (!isnan(interval.low))
        snprintf(note, sizeof note, "95 %%: %s to %s", tu_figure_fine(unit, interval.low).text,
                 tu_figure_fine(unit, interval.high).text);
    write_length(out, unit, name, value_mm, note);
}

static void write_tests(FILE *out, const tu_trials_story *story, const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char note[160];
    if (!isnan(f->slope) && !isnan(f->slope_p)) {
        static const char small[] = "; below s in all"; /* found, and of no account */
        tu_trials_slope(note, sizeof note - sizeof small, story->unit, f, entry->series.axis);
        bool none = !tu_trials_drifts(f) && (f->slope == 0 || !(f->slope_p < 0.05));
        if (f->slope_p < 0.05 && !tu_trials_drifts(f))
            strcat(note, small);
        write_row(out, "drift (Mann-Kendall)", tu_trials_p(f->slope_p).text,
                  none ? "none shown" : note);
    }
    if (!isnan(f->normality_p)) {
        snprintf(note, sizeof note, "A* %.3f", f->normality);
        write_row(out, "normal (Anderson-Darling)", tu_trials_p(f->normality_p).text, note);
    }
    if (!isnan(f->lag1))
        write_row(out, "lag-1 correlation", tu_figure_number(f->lag1, 2).text, "");
    if (!isnan(f->chart_lower)) {
        snprintf(note, sizeof note, story->one_pass ? "%s to %s" : "%s to %s; %zu outside",
                 tu_figure_fine(story->unit, f->chart_lower).text,
                 tu_figure_fine(story->unit, f->chart_upper).text, f->chart_beyond);
        write_row(out, "limits of chance", "", note);
    }
    for (size_t i = 0; i < f->outlier_count; i++) {
        const tu_trial_outlier *o = &f->outlier[i];
        snprintf(note, sizeof note, "touch %zu, line %u: G %.2f (%.2f)", o->index + 1,
                 (unsigned)entry->line[o->index], o->statistic, o->critical);
        write_row(out, "outlier (Grubbs, critical)", tu_figure_fine(story->unit, o->value_mm).text,
                  note);
    }
}

static void write_table(FILE *out, const tu_trials_story *story, const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    tu_unit unit = story->unit;
    char title[2 * TU_NAME_SIZE + 8], value[32];
    tu_trials_title(title, sizeof title, entry);
    fprintf(out, "\n%s (%s)\n\n", title, tu_unit_name(unit));
    snprintf(value, sizeof value, "%zu", f->n);
    write_row(out, "touches", value, "");
    write_between(out, unit, "mean", f->mean, f->mean_interval);
    write_length(out, unit, "median", f->median, "");
    write_between(out, unit, "s", f->sd, f->sd_interval);
    if (f->outlier_count)
        write_length(out, unit, "s without outliers", f->sd_without, "");
    write_length(out, unit, "smallest", f->minimum, "");
    write_length(out, unit, "largest", f->maximum, "");
    write_length(out, unit, "range", f->range, "");
    write_length(out, unit, "repeatability limit", f->repeatability_limit,
                 "two differ by less, 95 % (ISO 5725)");
    write_length(out, unit, "repeatability R", f->unidirectional, "4 s (ISO 230-2)");
    write_length(out, unit, "step", f->step_mm, "");
    bool denied = !isnan(f->step_mm) && isnan(f->resolution_mm); /* by touches nearer together */
    if (!isnan(f->step_seen_mm) && (denied || (isnan(f->step_mm) && f->quantised)))
        write_row(out, "step seen", tu_trials_fine(unit, f->step_seen_mm).text, "");
    write_tests(out, story, entry);
}

/* Many series: a line each. */
static void write_list(FILE *out, const tu_trials_story *story)
{
    fprintf(out, "\n  %-30s %7s %11s %10s %10s  (%s)\n", "series", "touches", "mean", "s", "±",
            tu_unit_name(story->unit));
    for (size_t i = 0; i < story->count; i++) {
        const tu_trials_entry *entry = &story->entry[i];
        char title[2 * TU_NAME_SIZE + 8];
        tu_trials_title(title, sizeof title, entry);
        int pad = NAME_WIDTH - tu_word_rows_columns(title);
        fprintf(out, "  %s%*s %7zu", title, pad > 0 ? pad : 0, "", entry->figures.n);
        fprintf(out, " %11s", tu_figure_fine(story->unit, entry->figures.mean).text);
        fprintf(out, " %10s",
                isnan(entry->figures.sd) ? "-"
                                         : tu_figure_fine(story->unit, entry->figures.sd).text);
        fprintf(out, " %10s\n",
                isnan(entry->within_mm) ? "-"
                                        : tu_figure_expanded(story->unit, entry->within_mm).text);
    }
}

static void write_anova_row(FILE *out, const char *name, double ss, double dof, double ms)
{
    fprintf(out, "  %-10s %14.6g", name, ss);
    fprintf(out, " %7.0f %14.6g", dof, ms);
}

/* Where no group scatters in itself there is neither F nor p. */
static void write_anova_test(FILE *out, const tu_trial_groups *g)
{
    if (isnan(g->p))
        fprintf(out, " %8s %8s\n", "-", "-");
    else if (g->p < 1e-30)
        fprintf(out, " %8.3g %8s\n", g->f, "< 1e-30");
    else
        fprintf(out, " %8.3g %8.2g\n", g->f, g->p);
}

static void write_groups(FILE *out, const tu_trials_story *story)
{
    const tu_trial_groups *g = &story->groups;
    tu_unit unit = story->unit;
    if (!story->has_groups)
        return;
    fprintf(out, "\nGroups by %s (%s)\n\n  %-30s %7s %11s %10s\n", story->by, tu_unit_name(unit),
            "group", "touches", "mean", "s");
    for (size_t i = 0; i < g->groups; i++) {
        const char *name = story->group_name[i];
        int pad = NAME_WIDTH - tu_word_rows_columns(name);
        fprintf(out, "  %s%*s %7zu %11s", name, pad > 0 ? pad : 0, "", story->group[i].n,
                tu_figure_fine(unit, story->group[i].mean).text);
        fprintf(out, " %10s\n",
                isnan(story->group[i].sd) ? "-" : tu_figure_fine(unit, story->group[i].sd).text);
    }
    fprintf(out, "\n  %-10s %14s %7s %14s %8s %8s\n", "(mm)", "sum of sq.", "dof", "mean square",
            "F", "p");
    write_anova_row(out, "between", g->ss_between, g->dof_between, g->ms_between);
    write_anova_test(out, g);
    write_anova_row(out, "within", g->ss_within, g->dof_within, g->ms_within);
    fputs("\n\n", out);
    write_between(out, unit, "s within groups", g->repeatability, g->repeatability_interval);
    write_length(out, unit, "s between groups", g->between, "");
    write_length(out, unit, "s of one touch anew", g->reproducibility,
                 "both together: reproducibility");
}

static void write_reversal(FILE *out, const tu_trials_story *story)
{
    if (story->has_reversal) {
        const tu_trial_reversal *r = &story->reversal;
        fprintf(out, "\nBoth sides (ISO 230-2, %s)\n\n", tu_unit_name(story->unit));
        write_between(out, story->unit, "reversal B", r->b, r->b_interval);
        write_length(out, story->unit, "R moving +", r->r_plus, "");
        write_length(out, story->unit, "R moving -", r->r_minus, "");
        write_length(out, story->unit, "R of both", r->r, "");
    }
}

/* Nothing where the test could not be made. */
static void write_test(FILE *out, const char *name, double p, const char *note)
{
    if (!isnan(p))
        write_row(out, name, tu_trials_p(p).text, note);
}

static void write_comparison(FILE *out, const tu_trials_story *story)
{
    const tu_trial_comparison *c = &story->comparison;
    char note[120];
    if (!story->has_comparison)
        return;
    fprintf(out, "\nAfter against before (%s)\n\n", tu_unit_name(story->unit));
    write_between(out, story->unit, "change of the mean", c->difference, c->difference_interval);
    snprintf(note, sizeof note, "t %.3f, %.1f degrees of freedom", c->t, c->t_dof);
    write_test(out, "means (Welch)", c->t_p, note);
    snprintf(note, sizeof note, "F %.3f; s ratio 95 %%: %.2f to %.2f", c->f,
             c->sd_ratio_interval.low, c->sd_ratio_interval.high);
    write_test(out, "spreads (F)", c->f > 0 && isfinite(c->f) ? c->f_p : NAN, note);
    snprintf(note, sizeof note, "F %.3f", c->brown_forsythe);
    write_test(out, "spreads (Brown-Forsythe)", c->brown_forsythe_p, note);
    if (!story->has_comparison_without)
        return;
    c = &story->comparison_without;
    write_between(out, story->unit, "change without outliers", c->difference,
                  c->difference_interval);
    snprintf(note, sizeof note, "t %.3f, %.1f degrees of freedom", c->t, c->t_dof);
    write_test(out, "  means (Welch)", c->t_p, note);
    snprintf(note, sizeof note, "F %.3f", c->brown_forsythe);
    write_test(out, "  spreads (Brown-Forsythe)", c->brown_forsythe_p, note);
}

static void write_models(FILE *out, const tu_trials_story *story)
{
    char note[120];
    if (story->has_warm_up) {
        const tu_warm_up *w = &story->warm_up;
        fprintf(out, "\nWarm-up (%s)\n\n", tu_unit_name(story->unit));
        write_length(out, story->unit, "at the first touch", w->start, "");
        snprintf(note, sizeof note, "s %s", tu_figure_fine(story->unit, w->rise_sd).text);
        write_length(out, story->unit, "rise in all", w->rise, note);
        snprintf(note, sizeof note, "s; s %.3g", w->tau_sd);
        write_row(out, "time constant", tu_figure_number(w->tau_s, 1).text, note);
        snprintf(note, sizeof note, "s, to within %s",
                 tu_figure_fine(story->unit, story->settled_mm).text);
        if (tu_trials_saw_it_settle(story))
            write_row(out, "settled after", tu_figure_number(w->settled_after_s, 1).text, note);
        else
            write_row(out, "settled after", "-", "beyond what was touched");
        write_length(out, story->unit, "s beside it", w->residual_sd, "");
    }
    if (story->has_feed) {
        const tu_feed_fit *f = &story->feed;
        fprintf(out, "\nFeed (%s)\n\n", tu_unit_name(story->unit));
        snprintf(note, sizeof note, "ms; 95 %%: %.3f to %.3f", f->delay_interval.low * 1e3,
                 f->delay_interval.high * 1e3);
        write_row(out, "delay", tu_figure_number(f->delay_s * 1e3, 3).text, note);
        write_length(out, story->unit, "contact moving -", f->contact_mm[0], "at feed 0");
        write_length(out, story->unit, "contact moving +", f->contact_mm[1], "at feed 0");
        write_length(out, story->unit, "s beside it", f->residual_sd, "");
    }
}

static void write_advice(FILE *out, const tu_trials_story *story, tu_trials_words *words)
{
    *words = (tu_trials_words){0};
    tu_trials_advice(words, story);
    if (words->count)
        fputs("\nWhat to do:\n\n", out);
    for (size_t i = 0; i < words->count; i++)
        write_item(out, "  - ", words->text[i]);
}

static void write_kept(FILE *out, const tu_trials_story *story)
{
    for (size_t i = 0; i < story->kept_count; i++) {
        const tu_trials_kept *kept = &story->kept[i];
        fprintf(out, "%sKept in %s: machine.repeatability.%c = {sd %smm, dof %.0f}\n",
                i == 0 ? "\n" : "", story->kept_path, "xyz"[kept->axis],
                tu_figure_number(kept->sd_mm, 6).text, kept->dof);
    }
}

tu_status tu_report_trials_text(FILE *out, const tu_trials_story *story, tu_error *error)
{
    tu_trials_words words = {0};
    write_verdicts(out, story, &words);
    bool detailed = story->count <= DETAILED_MAX;
    for (size_t i = 0; detailed && i < story->count; i++) {
        if (story->chart)
            tu_trials_letters(out, &story->entry[i], story->unit, story->columns);
        write_table(out, story, &story->entry[i]);
    }
    if (!detailed)
        write_list(out, story);
    write_reversal(out, story);
    write_comparison(out, story);
    write_groups(out, story);
    write_models(out, story);
    write_advice(out, story, &words);
    write_kept(out, story);
    return tu_answer_finish(out, error);
}
