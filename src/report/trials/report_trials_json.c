/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_trials_json.c - judged touches as JSON: millimetres and seconds; what is not known is
 * absent.
 */
#include "report/json.h"
#include "report/trials/trials_words.h"

#include <math.h>

static void put_interval(tu_json *json, const char *name, tu_interval interval)
{
    tu_json_interval(json, name, interval.low, interval.high);
}

static void put_outliers(tu_json *json, const tu_trials_story *story, const tu_trials_entry *entry)
{
    if (story->one_pass) /* not looked for, which is not none */
        return;
    const tu_trial_figures *f = &entry->figures;
    tu_json_array(json, "outliers");
    for (size_t i = 0; i < f->outlier_count; i++) {
        const tu_trial_outlier *o = &f->outlier[i];
        TU_JSON_OBJECT(json, NULL, {"index", (double)o->index},
                       {"line", (double)entry->line[o->index]}, {"value", o->value_mm},
                       {"statistic", o->statistic}, {"critical", o->critical});
    }
    tu_json_end(json);
}

static void put_trend(tu_json *json, const tu_trial_figures *f)
{
    if (isnan(f->slope) || isnan(f->slope_p))
        return;
    tu_json_object(json, "trend");
    TU_JSON_NUMBERS(json, {"slope", f->slope}, {"p", f->slope_p});
    put_interval(json, "interval", f->slope_interval);
    tu_json_text(json, "per", f->slope_per_touch ? "touch" : "second");
    tu_json_bool(json, "drifts", tu_trials_drifts(f));
    tu_json_end(json);
}

static void put_normality(tu_json *json, const tu_trial_figures *f)
{
    if (!isnan(f->normality))
        TU_JSON_OBJECT_KNOWN(json, "normality", {"statistic", f->normality}, {"p", f->normality_p});
}

static void put_chart(tu_json *json, const tu_trials_story *story, const tu_trial_figures *f)
{
    if (isnan(f->chart_lower))
        return;
    tu_json_object(json, "chart");
    TU_JSON_NUMBERS(json, {"centre", f->chart_centre}, {"lower", f->chart_lower},
                    {"upper", f->chart_upper}, {"mr_centre", f->chart_mr_centre},
                    {"mr_upper", f->chart_mr_upper});
    if (!story->one_pass)
        tu_json_count(json, "beyond", f->chart_beyond);
    tu_json_end(json);
}

static void put_moments(tu_json *json, const tu_trial_figures *f)
{
    TU_JSON_KNOWN(json, {"n", (double)f->n}, {"mean", f->mean}, {"median", f->median},
                  {"sd", f->sd}, {"min", f->minimum}, {"max", f->maximum}, {"range", f->range},
                  {"lag1", f->lag1});
    put_interval(json, "mean_interval", f->mean_interval);
    put_interval(json, "sd_interval", f->sd_interval);
    TU_JSON_KNOWN(json, {"repeatability_limit", f->repeatability_limit},
                  {"unidirectional_repeatability", f->unidirectional});
}

static void put_sentences(tu_json *json, const char *name, const tu_trials_words *words)
{
    tu_json_texts(json, name, words->text[0], sizeof words->text[0], words->count);
}

/* One part of what was asked, as text says it. */
static void put_verdict(tu_json *json, const tu_trials_story *story,
                        void (*say)(tu_trials_words *, const tu_trials_story *))
{
    tu_trials_words words = {0};
    say(&words, story);
    put_sentences(json, "verdict", &words);
}

/* What the verdict is of, where an effect was taken out. */
static void put_repeats(tu_json *json, const tu_trials_entry *entry)
{
    TU_JSON_KNOWN(json, {"repeats_within", entry->within_mm});
    if (entry->effect == TU_TRIALS_AS_THEY_CAME)
        return;
    tu_json_text(json, "judged_beside", entry->effect == TU_TRIALS_WARM_UP ? "warm_up" : "feed");
    TU_JSON_KNOWN(json, {"sd_beside", entry->sd_mm}, {"dof_beside", entry->dof},
                  {"repeats_within_all", entry->within_all_mm});
}

static void put_entry(tu_json *json, const tu_trials_story *story, const tu_trials_entry *entry)
{
    const tu_trial_figures *f = &entry->figures;
    tu_trials_words words = {0};
    tu_json_object(json, NULL);
    tu_json_text(json, "name", entry->name);
    tu_json_text(json, "axis", tu_json_axis[entry->series.axis]);
    if (entry->direction)
        tu_json_text(json, "direction", entry->direction > 0 ? "+" : "-");
    put_moments(json, f);
    put_repeats(json, entry);
    if (entry->needed)
        tu_json_count(json, "touches_needed", entry->needed);
    put_outliers(json, story, entry);
    TU_JSON_KNOWN(json, {"sd_without", f->sd_without});
    put_trend(json, f);
    put_normality(json, f);
    put_chart(json, story, f);
    TU_JSON_KNOWN(json, {"step", f->step_mm}, {"step_seen", f->step_seen_mm});
    if (!story->one_pass || f->quantised || !isnan(f->step_mm))
        tu_json_bool(json, "quantised", f->quantised);
    tu_trials_verdict(&words, story, entry);
    put_sentences(json, "verdict", &words);
    tu_json_end(json);
}

static void put_series(tu_json *json, const tu_trials_story *story)
{
    tu_json_array(json, "series");
    for (size_t i = 0; i < story->count; i++)
        put_entry(json, story, &story->entry[i]);
    tu_json_end(json);
}

static void put_reversal(tu_json *json, const tu_trials_story *story)
{
    const tu_trial_reversal *r = &story->reversal;
    if (!story->has_faces && !story->has_reversal)
        return;
    tu_json_object(json, story->has_faces ? "two_faces" : "reversal");
    if (story->has_faces) {
        TU_JSON_NUMBERS(json, {"apart", fabs(r->b)});
    } else {
        TU_JSON_KNOWN(json, {"b", r->b}, {"r_plus", r->r_plus}, {"r_minus", r->r_minus},
                      {"r", r->r});
        put_interval(json, "b_interval", r->b_interval);
    }
    put_verdict(json, story, tu_trials_say_reversal);
    tu_json_end(json);
}

static void put_compared(tu_json *json, const tu_trial_comparison *c)
{
    TU_JSON_KNOWN(json, {"difference", c->difference});
    put_interval(json, "difference_interval", c->difference_interval);
    TU_JSON_KNOWN(json, {"t", c->t}, {"t_dof", c->t_dof}, {"t_p", c->t_p}, {"f", c->f},
                  {"f_p", c->f_p});
    put_interval(json, "sd_ratio_interval", c->sd_ratio_interval);
    TU_JSON_KNOWN(json, {"brown_forsythe", c->brown_forsythe},
                  {"brown_forsythe_p", c->brown_forsythe_p});
}

static void put_comparison(tu_json *json, const tu_trials_story *story)
{
    if (!story->has_comparison)
        return;
    tu_json_object(json, "comparison");
    tu_json_text(json, "after", story->entry[story->after].name);
    tu_json_text(json, "before", story->entry[story->before].name);
    put_compared(json, &story->comparison);
    if (story->has_comparison_without) {
        tu_json_object(json, "without_outliers");
        put_compared(json, &story->comparison_without);
        tu_json_end(json);
    }
    put_verdict(json, story, tu_trials_say_comparison);
    tu_json_end(json);
}

static void put_members(tu_json *json, const tu_trials_story *story)
{
    tu_json_array(json, "members");
    for (size_t i = 0; i < story->groups.groups; i++) {
        tu_json_object(json, NULL);
        tu_json_text(json, "name", story->group_name[i]);
        TU_JSON_KNOWN(json, {"n", (double)story->group[i].n}, {"mean", story->group[i].mean},
                      {"sd", story->group[i].sd});
        tu_json_end(json);
    }
    tu_json_end(json);
}

static void put_groups(tu_json *json, const tu_trials_story *story)
{
    const tu_trial_groups *g = &story->groups;
    if (!story->has_groups)
        return;
    tu_json_object(json, "groups");
    tu_json_text(json, "by", story->by);
    TU_JSON_KNOWN(json, {"ss_between", g->ss_between}, {"ss_within", g->ss_within},
                  {"ms_between", g->ms_between}, {"ms_within", g->ms_within},
                  {"dof_between", g->dof_between}, {"dof_within", g->dof_within}, {"f", g->f},
                  {"p", g->p}, {"repeatability", g->repeatability}, {"between", g->between},
                  {"reproducibility", g->reproducibility});
    put_interval(json, "repeatability_interval", g->repeatability_interval);
    put_members(json, story);
    put_verdict(json, story, tu_trials_say_groups);
    tu_json_end(json);
}

static void put_warm_up(tu_json *json, const tu_trials_story *story)
{
    const tu_warm_up *w = &story->warm_up;
    if (!story->has_warm_up)
        return;
    double settled_after_s = tu_trials_saw_it_settle(story) ? w->settled_after_s : (double)NAN;
    tu_json_object(json, "warm_up");
    TU_JSON_KNOWN(json, {"start", w->start}, {"rise", w->rise}, {"tau", w->tau_s},
                  {"residual_sd", w->residual_sd}, {"settled_after", settled_after_s},
                  {"settled_within", story->settled_mm}, {"rise_sd", w->rise_sd},
                  {"tau_sd", w->tau_sd}, {"p", w->p});
    put_verdict(json, story, tu_trials_say_warm_up);
    tu_json_end(json);
}

static void put_feed(tu_json *json, const tu_trials_story *story)
{
    const tu_feed_fit *fit = &story->feed;
    if (!story->has_feed)
        return;
    bool minus = !isnan(fit->contact_mm[0]), plus = !isnan(fit->contact_mm[1]);
    tu_json_object(json, "feed");
    TU_JSON_KNOWN(json, {"delay", fit->delay_s});
    if (minus && plus)
        TU_JSON_NUMBERS(json, {"contact_minus", fit->contact_mm[0]},
                        {"contact_plus", fit->contact_mm[1]});
    else
        TU_JSON_KNOWN(json, {"contact", fit->contact_mm[plus]});
    put_interval(json, "delay_interval", fit->delay_interval);
    TU_JSON_KNOWN(json, {"residual_sd", fit->residual_sd});
    put_verdict(json, story, tu_trials_say_feed);
    tu_json_end(json);
}

/* What went into the shop file. */
static void put_kept(tu_json *json, const tu_trials_story *story)
{
    if (!story->kept_count)
        return;
    tu_json_object(json, "kept");
    tu_json_text(json, "file", story->kept_path);
    tu_json_array(json, "repeatability");
    for (size_t i = 0; i < story->kept_count; i++) {
        const tu_trials_kept *kept = &story->kept[i];
        tu_json_object(json, NULL);
        tu_json_text(json, "axis", tu_json_axis[kept->axis]);
        TU_JSON_NUMBERS(json, {"sd", kept->sd_mm}, {"dof", kept->dof});
        tu_json_end(json);
    }
    tu_json_end(json);
    tu_json_end(json);
}

tu_status tu_report_trials_json(FILE *out, const tu_trials_story *story, tu_error *error)
{
    tu_trials_words advice = {0};
    tu_json json = tu_json_begin(out);
    TU_JSON_NUMBERS(&json, {"schema", 1});
    tu_json_text(&json, "unit", "mm");
    if (story->one_pass)
        tu_json_bool(&json, "one_pass", true);
    put_series(&json, story);
    put_reversal(&json, story);
    put_comparison(&json, story);
    put_groups(&json, story);
    put_warm_up(&json, story);
    put_feed(&json, story);
    TU_JSON_KNOWN(&json, {"within", story->limit_mm});
    if (!isnan(story->limit_mm))
        tu_json_bool(&json, "exceeded", tu_trials_limit_exceeded(story));
    put_kept(&json, story);
    tu_trials_advice(&advice, story);
    put_sentences(&json, "advice", &advice);
    tu_json_warnings(&json, &story->warnings);
    return tu_json_finish(&json, error);
}
