/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_trials_json.c - judged touches as JSON: millimetres and seconds; what is not known is
 * absent.
 */
#include "report/json_build.h"
#include "report/trials/trials_words.h"

#include <math.h>
#include <stdlib.h>

static bool add_interval(cJSON *parent, const char *name, tu_interval interval)
{
    const double ends[] = {interval.low, interval.high};
    if (isnan(interval.low) || isnan(interval.high))
        return true;
    cJSON *pair = tu_json_add(parent, name, cJSON_CreateArray());
    bool ok = pair != NULL;
    for (int i = 0; ok && i < 2; i++) {
        /* a number goes in as text: through an object, out of which it is taken again */
        cJSON *holder = cJSON_CreateObject();
        ok = holder && tu_json_add_number(holder, "v", ends[i]) &&
             tu_json_append(pair, cJSON_DetachItemFromObject(holder, "v")) != NULL;
        cJSON_Delete(holder);
    }
    return ok;
}

static bool add_count(cJSON *parent, const char *name, size_t count)
{
    return tu_json_add_number(parent, name, (double)count);
}

static bool add_outliers(cJSON *item, const tu_trials_story *story, const tu_trials_entry *entry)
{
    if (story->one_pass) /* not looked for, which is not none */
        return true;
    const tu_trial_figures *f = &entry->figures;
    cJSON *list = tu_json_add(item, "outliers", cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t i = 0; ok && i < f->outlier_count; i++) {
        const tu_trial_outlier *o = &f->outlier[i];
        cJSON *one = tu_json_append(list, cJSON_CreateObject());
        ok = add_count(one, "index", o->index) && add_count(one, "line", entry->line[o->index]) &&
             tu_json_add_number(one, "value", o->value_mm) &&
             tu_json_add_number(one, "statistic", o->statistic) &&
             tu_json_add_number(one, "critical", o->critical);
    }
    return ok;
}

static bool add_trend(cJSON *item, const tu_trial_figures *f)
{
    if (isnan(f->slope) || isnan(f->slope_p))
        return true;
    cJSON *trend = tu_json_add(item, "trend", cJSON_CreateObject());
    return tu_json_add_number(trend, "slope", f->slope) &&
           tu_json_add_number(trend, "p", f->slope_p) &&
           add_interval(trend, "interval", f->slope_interval) &&
           tu_json_add_text(trend, "per", f->slope_per_touch ? "touch" : "second") &&
           tu_json_add_bool(trend, "drifts", tu_trials_drifts(f));
}

static bool add_normality(cJSON *item, const tu_trial_figures *f)
{
    if (isnan(f->normality))
        return true;
    cJSON *normality = tu_json_add(item, "normality", cJSON_CreateObject());
    return tu_json_add_number(normality, "statistic", f->normality) &&
           tu_json_add_known(normality, "p", f->normality_p);
}

static bool add_chart(cJSON *item, const tu_trials_story *story, const tu_trial_figures *f)
{
    if (isnan(f->chart_lower))
        return true;
    cJSON *chart = tu_json_add(item, "chart", cJSON_CreateObject());
    return tu_json_add_number(chart, "centre", f->chart_centre) &&
           tu_json_add_number(chart, "lower", f->chart_lower) &&
           tu_json_add_number(chart, "upper", f->chart_upper) &&
           tu_json_add_number(chart, "mr_centre", f->chart_mr_centre) &&
           tu_json_add_number(chart, "mr_upper", f->chart_mr_upper) &&
           (story->one_pass || add_count(chart, "beyond", f->chart_beyond));
}

static bool add_moments(cJSON *item, const tu_trial_figures *f)
{
    return add_count(item, "n", f->n) && tu_json_add_known(item, "mean", f->mean) &&
           tu_json_add_known(item, "median", f->median) && tu_json_add_known(item, "sd", f->sd) &&
           tu_json_add_known(item, "min", f->minimum) &&
           tu_json_add_known(item, "max", f->maximum) &&
           tu_json_add_known(item, "range", f->range) && tu_json_add_known(item, "lag1", f->lag1) &&
           add_interval(item, "mean_interval", f->mean_interval) &&
           add_interval(item, "sd_interval", f->sd_interval) &&
           tu_json_add_known(item, "repeatability_limit", f->repeatability_limit) &&
           tu_json_add_known(item, "unidirectional_repeatability", f->unidirectional);
}

static bool add_sentences(cJSON *item, const char *name, const tu_trials_words *words)
{
    cJSON *list = tu_json_add(item, name, cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t i = 0; ok && i < words->count; i++)
        ok = tu_json_append(list, cJSON_CreateString(words->text[i])) != NULL;
    return ok;
}

/* One part of what was asked, as text says it. */
static bool add_verdict(cJSON *item, const tu_trials_story *story,
                        void (*say)(tu_trials_words *, const tu_trials_story *))
{
    tu_trials_words *words = calloc(1, sizeof *words);
    if (words)
        say(words, story);
    bool ok = words && add_sentences(item, "verdict", words);
    free(words);
    return ok;
}

/* What the verdict is of, where an effect was taken out. */
static bool add_repeats(cJSON *item, const tu_trials_entry *entry)
{
    bool out = entry->effect != TU_TRIALS_AS_THEY_CAME;
    return tu_json_add_known(item, "repeats_within", entry->within_mm) &&
           (!out || (tu_json_add_text(item, "judged_beside",
                                      entry->effect == TU_TRIALS_WARM_UP ? "warm_up" : "feed") &&
                     tu_json_add_known(item, "sd_beside", entry->sd_mm) &&
                     tu_json_add_known(item, "dof_beside", entry->dof) &&
                     tu_json_add_known(item, "repeats_within_all", entry->within_all_mm)));
}

static bool add_entry(cJSON *list, const tu_trials_story *story, const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    char axis[2] = {"xyz"[entry->series.axis], '\0'};
    cJSON *item = tu_json_append(list, cJSON_CreateObject());
    tu_trials_words *words = calloc(1, sizeof *words);
    bool ok = item && words && tu_json_add_text(item, "name", entry->name) &&
              tu_json_add_text(item, "axis", axis) &&
              (!entry->direction ||
               tu_json_add_text(item, "direction", entry->direction > 0 ? "+" : "-")) &&
              add_moments(item, f) && add_repeats(item, entry) &&
              (!entry->needed || add_count(item, "touches_needed", entry->needed)) &&
              add_outliers(item, story, entry) &&
              tu_json_add_known(item, "sd_without", f->sd_without) && add_trend(item, f) &&
              add_normality(item, f) && add_chart(item, story, f) &&
              tu_json_add_known(item, "step", f->step_mm) &&
              tu_json_add_known(item, "step_seen", f->step_seen_mm) &&
              ((story->one_pass && !f->quantised && isnan(f->step_mm)) ||
               tu_json_add_bool(item, "quantised", f->quantised));
    if (ok) {
        tu_trials_verdict(words, story, entry);
        ok = add_sentences(item, "verdict", words);
    }
    free(words);
    return ok;
}

static bool add_series(cJSON *root, const tu_trials_story *story)
{
    cJSON *list = tu_json_add(root, "series", cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t i = 0; ok && i < story->count; i++)
        ok = add_entry(list, story, &story->entry[i]);
    return ok;
}

static bool add_reversal(cJSON *root, const tu_trials_story *story)
{
    const tu_trial_reversal *r = &story->reversal;
    if (story->has_faces) {
        cJSON *faces = tu_json_add(root, "two_faces", cJSON_CreateObject());
        return tu_json_add_number(faces, "apart", fabs(r->b)) &&
               add_verdict(faces, story, tu_trials_say_reversal);
    }
    if (!story->has_reversal)
        return true;
    cJSON *item = tu_json_add(root, "reversal", cJSON_CreateObject());
    return tu_json_add_known(item, "b", r->b) && tu_json_add_known(item, "r_plus", r->r_plus) &&
           tu_json_add_known(item, "r_minus", r->r_minus) && tu_json_add_known(item, "r", r->r) &&
           add_interval(item, "b_interval", r->b_interval) &&
           add_verdict(item, story, tu_trials_say_reversal);
}

static bool add_compared(cJSON *item, const tu_trial_comparison *c)
{
    return tu_json_add_known(item, "difference", c->difference) &&
           add_interval(item, "difference_interval", c->difference_interval) &&
           tu_json_add_known(item, "t", c->t) && tu_json_add_known(item, "t_dof", c->t_dof) &&
           tu_json_add_known(item, "t_p", c->t_p) && tu_json_add_known(item, "f", c->f) &&
           tu_json_add_known(item, "f_p", c->f_p) &&
           add_interval(item, "sd_ratio_interval", c->sd_ratio_interval) &&
           tu_json_add_known(item, "brown_forsythe", c->brown_forsythe) &&
           tu_json_add_known(item, "brown_forsythe_p", c->brown_forsythe_p);
}

static bool add_comparison(cJSON *root, const tu_trials_story *story)
{
    tu_trials_words *words = calloc(1, sizeof *words);
    if (!story->has_comparison || !words) {
        free(words);
        return !story->has_comparison;
    }
    cJSON *item = tu_json_add(root, "comparison", cJSON_CreateObject());
    bool ok = tu_json_add_text(item, "after", story->entry[story->after].name) &&
              tu_json_add_text(item, "before", story->entry[story->before].name) &&
              add_compared(item, &story->comparison);
    if (ok && story->has_comparison_without)
        ok = add_compared(tu_json_add(item, "without_outliers", cJSON_CreateObject()),
                          &story->comparison_without);
    tu_trials_say_comparison(words, story);
    ok = ok && add_sentences(item, "verdict", words);
    free(words);
    return ok;
}

static bool add_members(cJSON *item, const tu_trials_story *story)
{
    cJSON *list = tu_json_add(item, "members", cJSON_CreateArray());
    bool ok = list != NULL;
    for (size_t i = 0; ok && i < story->groups.groups; i++) {
        cJSON *one = tu_json_append(list, cJSON_CreateObject());
        ok = tu_json_add_text(one, "name", story->group_name[i]) &&
             add_count(one, "n", story->group[i].n) &&
             tu_json_add_known(one, "mean", story->group[i].mean) &&
             tu_json_add_known(one, "sd", story->group[i].sd);
    }
    return ok;
}

static bool add_groups(cJSON *root, const tu_trials_story *story)
{
    const tu_trial_groups *g = &story->groups;
    if (!story->has_groups)
        return true;
    cJSON *item = tu_json_add(root, "groups", cJSON_CreateObject());
    return tu_json_add_text(item, "by", story->by) &&
           tu_json_add_known(item, "ss_between", g->ss_between) &&
           tu_json_add_known(item, "ss_within", g->ss_within) &&
           tu_json_add_known(item, "ms_between", g->ms_between) &&
           tu_json_add_known(item, "ms_within", g->ms_within) &&
           tu_json_add_known(item, "dof_between", g->dof_between) &&
           tu_json_add_known(item, "dof_within", g->dof_within) &&
           tu_json_add_known(item, "f", g->f) && tu_json_add_known(item, "p", g->p) &&
           tu_json_add_known(item, "repeatability", g->repeatability) &&
           tu_json_add_known(item, "between", g->between) &&
           tu_json_add_known(item, "reproducibility", g->reproducibility) &&
           add_interval(item, "repeatability_interval", g->repeatability_interval) &&
           add_members(item, story) && add_verdict(item, story, tu_trials_say_groups);
}

static bool add_warm_up(cJSON *root, const tu_trials_story *story)
{
    const tu_warm_up *w = &story->warm_up;
    if (!story->has_warm_up)
        return true;
    cJSON *item = tu_json_add(root, "warm_up", cJSON_CreateObject());
    return tu_json_add_known(item, "start", w->start) && tu_json_add_known(item, "rise", w->rise) &&
           tu_json_add_known(item, "tau", w->tau_s) &&
           tu_json_add_known(item, "residual_sd", w->residual_sd) &&
           (!tu_trials_saw_it_settle(story) ||
            tu_json_add_known(item, "settled_after", w->settled_after_s)) &&
           tu_json_add_known(item, "settled_within", story->settled_mm) &&
           tu_json_add_known(item, "rise_sd", w->rise_sd) &&
           tu_json_add_known(item, "tau_sd", w->tau_sd) && tu_json_add_known(item, "p", w->p) &&
           add_verdict(item, story, tu_trials_say_warm_up);
}

static bool add_feed(cJSON *root, const tu_trials_story *story)
{
    const tu_feed_fit *fit = &story->feed;
    if (!story->has_feed)
        return true;
    bool minus = !isnan(fit->contact_mm[0]), plus = !isnan(fit->contact_mm[1]);
    cJSON *item = tu_json_add(root, "feed", cJSON_CreateObject());
    return tu_json_add_known(item, "delay", fit->delay_s) &&
           (minus == plus || tu_json_add_known(item, "contact", fit->contact_mm[plus])) &&
           (!(minus && plus) || (tu_json_add_number(item, "contact_minus", fit->contact_mm[0]) &&
                                 tu_json_add_number(item, "contact_plus", fit->contact_mm[1]))) &&
           add_interval(item, "delay_interval", fit->delay_interval) &&
           tu_json_add_known(item, "residual_sd", fit->residual_sd) &&
           add_verdict(item, story, tu_trials_say_feed);
}

/* What went into the shop file. */
static bool add_kept(cJSON *root, const tu_trials_story *story)
{
    if (!story->kept_count)
        return true;
    cJSON *item = tu_json_add(root, "kept", cJSON_CreateObject());
    bool ok = tu_json_add_text(item, "file", story->kept_path);
    cJSON *list = ok ? tu_json_add(item, "repeatability", cJSON_CreateArray()) : NULL;
    ok = list != NULL;
    for (size_t i = 0; ok && i < story->kept_count; i++) {
        const tu_trials_kept *kept = &story->kept[i];
        char axis[2] = {"xyz"[kept->axis], '\0'};
        cJSON *one = tu_json_append(list, cJSON_CreateObject());
        ok = tu_json_add_text(one, "axis", axis) && tu_json_add_number(one, "sd", kept->sd_mm) &&
             tu_json_add_number(one, "dof", kept->dof);
    }
    return ok;
}

static bool add_advice(cJSON *root, const tu_trials_story *story)
{
    tu_trials_words *words = calloc(1, sizeof *words);
    if (words)
        tu_trials_advice(words, story);
    bool ok = words && add_sentences(root, "advice", words);
    free(words);
    return ok;
}

tu_status tu_report_trials_json(FILE *out, const tu_trials_story *story, tu_error *error)
{
    cJSON *root = cJSON_CreateObject();
    bool ok = root && tu_json_add_number(root, "schema", 1) &&
              tu_json_add_text(root, "unit", "mm") &&
              (!story->one_pass || tu_json_add_bool(root, "one_pass", true)) &&
              add_series(root, story) && add_reversal(root, story) && add_comparison(root, story) &&
              add_groups(root, story) && add_warm_up(root, story) && add_feed(root, story) &&
              (isnan(story->limit_mm) ||
               (tu_json_add_number(root, "within", story->limit_mm) &&
                tu_json_add_bool(root, "exceeded", tu_trials_limit_exceeded(story)))) &&
              add_kept(root, story) && add_advice(root, story) &&
              tu_json_add_warnings(root, &story->warnings);
    return tu_json_write(out, root, ok, error);
}
