/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_story.c - from gathered touches to everything that a report says of them.
 */
#include "task/trials/trials_run.h"

#include "trueup/moments.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* No axis turns round with more play than that (common practice, no source). */
static const double backlash_most_mm = 1.0;

/* --- Errors of the library, which knows no files, with their place --- */

/* touch: of all, in the order of the entries; none: SIZE_MAX, and the message is of the columns. */
static tu_status fail_at(const tu_trials_data *data, size_t touch, const tu_error *found,
                         const char *fix, tu_error *error)
{
    char where[sizeof found->where];
    size_t entry = 0, first = 0;
    const char *one = data->path_count == 1 ? tu_trials_file_name(data, 0) : "FILE";
    if (touch == SIZE_MAX)
        return tu_fail(error, found->status, one, "%s%s", found->message, fix);
    while (entry + 1 < data->entry_count && touch >= first + data->key[entry].count)
        first += data->key[entry++].count;
    snprintf(where, sizeof where, "%s:%u", tu_trials_file_name(data, data->key[entry].file),
             (unsigned)data->line[touch]);
    return tu_fail(error, found->status, where, "%s", found->message);
}

/* The first touch of an entry that cannot be judged: only its time can be wrong, as the reader of
 * files takes finite numbers alone. */
static size_t find_bad_time(const tu_trials_data *data, const tu_trials_entry *entry)
{
    const double *time_s = entry->series.time_s;
    for (size_t i = 1; time_s && i < entry->series.count; i++)
        if (time_s[i] < time_s[i - 1])
            return (size_t)(entry->line - data->line) + i;
    return SIZE_MAX;
}

static size_t find_bad_feed(const tu_trials_data *data)
{
    for (size_t i = 0; data->feed_mm_s && data->direction && i < data->count; i++)
        if (isnan(data->feed_mm_s[i]) || data->direction[i] == 0)
            return i;
    return SIZE_MAX;
}

/* --- What was asked --- */

/* In one pass they came with their figures. */
static tu_status judge_entries(tu_trials_data *data, tu_trials_story *story, tu_error *error)
{
    for (size_t i = 0; !story->one_pass && i < data->entry_count; i++) {
        tu_trials_entry *entry = &data->entry[i];
        tu_error found = {0};
        if (tu_trials_judge_series(&entry->series, data->work, &entry->figures, &found))
            return fail_at(data, find_bad_time(data, entry), &found, "", error);
    }
    story->entry = data->entry;
    story->count = data->entry_count;
    return TU_OK;
}

static tu_status fail_choice(const tu_trials_data *data, const char *option, const char *what,
                             tu_error *error)
{
    return tu_fail(error, TU_USAGE, option,
                   "%s, and here are %zu (\"%s\" along %c%s, \"%s\" along %c%s, ...); choose with "
                   "{series_name}, {touches_axis} or fewer files",
                   what, data->entry_count, data->entry[0].name, "xyz"[data->key[0].axis],
                   data -> key[0].direction > 0         ? "+"
                           : data->key[0].direction < 0 ? "-"
                                                        : "",
                   data->entry[1].name, "xyz"[data->key[1].axis],
                   data -> key[1].direction > 0         ? "+"
                           : data->key[1].direction < 0 ? "-"
                                                        : "");
}

/* Copies the touches that are no outliers. */
static tu_trial_series leave_out(const tu_trials_entry *entry, double *value)
{
    const tu_trial_figures *f = &entry->figures;
    tu_trial_series left = {.name = entry->name,
                            .axis = entry->series.axis,
                            .value_mm = value,
                            .step_mm = entry->series.step_mm};
    for (size_t i = 0; i < entry->series.count; i++) {
        bool out = false;
        for (size_t k = 0; k < f->outlier_count; k++)
            out = out || f->outlier[k].index == i;
        if (!out)
            value[left.count++] = entry->series.value_mm[i];
    }
    return left;
}

/* One bad touch widens a spread and draws a mean aside: the comparison once more without them. */
static tu_status compare_without(tu_trials_data *data, tu_trials_story *story, tu_error *error)
{
    const tu_trials_entry *after = &story->entry[story->after];
    const tu_trials_entry *before = &story->entry[story->before];
    size_t all = after->series.count + before->series.count;
    if (!after->figures.outlier_count && !before->figures.outlier_count)
        return TU_OK;
    const tu_trial_series a = leave_out(after, data->work);
    const tu_trial_series b = leave_out(before, data->work + after->series.count);
    tu_status status =
        tu_trials_compare(&a, &b, data->work + all, &story->comparison_without, error);
    story->has_comparison_without = !status;
    return status;
}

static tu_status compare(tu_trials_data *data, const tu_task_trials_request *request,
                         tu_trials_story *story, tu_error *error)
{
    size_t count[2] = {0};
    if (!request->against)
        return TU_OK;
    for (size_t i = 0; i < data->entry_count; i++) {
        bool before = tu_trials_is_before(data, i);
        *(before ? &story->before : &story->after) = i;
        count[before]++;
    }
    if (!count[0] || !count[1])
        return tu_fail(error, TU_USAGE, "{against}", "there is nothing to compare %s with",
                       request->against);
    if (count[0] > 1 || count[1] > 1)
        return fail_choice(data, "{against}", "a comparison is of two series", error);
    const tu_trial_series *a = &data->entry[story->after].series;
    const tu_trial_series *b = &data->entry[story->before].series;
    if (a->axis != b->axis)
        return tu_fail(error, TU_DATA_CONFLICT, "{against}",
                       "the one was touched along %c, the other along %c", "xyz"[a->axis],
                       "xyz"[b->axis]);
    tu_status status = tu_trials_compare(a, b, data->work, &story->comparison, error);
    story->has_comparison = !status;
    return status ? status : compare_without(data, story, error);
}

/* Touches of one place from both sides: two entries that differ in the direction alone. */
static tu_status reverse(tu_trials_data *data, tu_trials_story *story, tu_error *error)
{
    size_t pairs = 0;
    for (size_t i = 0; i < data->entry_count; i++) {
        for (size_t k = 0; k < data->entry_count; k++) {
            const tu_trials_key *plus = &data->key[i], *minus = &data->key[k];
            if (plus->direction != 1 || minus->direction != -1 || plus->file != minus->file ||
                plus->series != minus->series || plus->axis != minus->axis || plus->count < 2 ||
                minus->count < 2)
                continue;
            pairs++;
            story->forward = i;
            story->back = k;
        }
    }
    if (pairs > 1)
        tu_warn(&story->warnings, "Several series were touched from both sides; choose one with "
                                  "{series_name} to see its reversal.");
    if (pairs != 1)
        return TU_OK;
    const tu_trial_series *plus = &data->entry[story->forward].series;
    const tu_trial_series *minus = &data->entry[story->back].series;
    tu_trial_series both = *plus;
    double *value = data->work;
    signed char *direction = malloc(plus->count + minus->count);
    if (!direction)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    memcpy(value, plus->value_mm, plus->count * sizeof *value);
    memcpy(value + plus->count, minus->value_mm, minus->count * sizeof *value);
    memset(direction, 1, plus->count);
    memset(direction + plus->count, -1, minus->count);
    both.count = plus->count + minus->count;
    both.value_mm = value;
    both.direction = direction;
    both.time_s = both.feed_mm_s = NULL;
    tu_status status = tu_trials_find_reversal(&both, &story->reversal, error);
    free(direction);
    story->has_faces = !status && fabs(story->reversal.b) > backlash_most_mm;
    story->has_reversal = !status && !story->has_faces;
    return status;
}

/* The touches of all entries as one series. */
static tu_trial_series pool(const tu_trials_data *data)
{
    tu_trial_series all = data->entry[0].series;
    all.count = data->count;
    all.time_s = NULL;
    all.feed_mm_s = data->feed_mm_s;
    all.group = data->group;
    return all;
}

static tu_status check_one_axis(const tu_trials_data *data, const char *option, tu_error *error)
{
    for (size_t i = 1; i < data->entry_count; i++)
        if (data->key[i].axis != data->key[0].axis)
            return fail_choice(data, option, "it takes touches along one axis", error);
    return TU_OK;
}

static tu_status study(tu_trials_data *data, const tu_task_trials_request *request,
                       tu_trials_story *story, tu_error *error)
{
    if (!request->by)
        return TU_OK;
    tu_status status = check_one_axis(data, "{by}", error);
    bool across = strcmp(request->by, "series") == 0 || strcmp(request->by, "file") == 0;
    if (!status && !across && data->entry_count > 1)
        status = fail_choice(data, "{by}", "a gauge study is of one series from one side", error);
    if (status)
        return status;
    story->pooled = pool(data);
    status = tu_trials_study_groups(&story->pooled, data->group_count, data->group_figure,
                                    &story->groups, error);
    story->has_groups = !status;
    story->group = data->group_figure;
    story->group_name = (const char(*)[TU_NAME_SIZE])data->group_name;
    story->by = request->by;
    return status;
}

/* What is left of the warm-up may be lost in the scatter of a touch, unless a limit is given. */
static tu_status fit_warm_up(tu_trials_data *data, const tu_task_trials_request *request,
                             tu_trials_story *story, tu_error *error)
{
    story->warm_up_asked = request->warm_up;
    if (!request->warm_up)
        return TU_OK;
    if (data->entry_count > 1)
        return fail_choice(data, "{warm_up}", "a warm-up is of one series from one side", error);
    const tu_trial_series *series = &data->entry[0].series;
    story->settled_mm = isnan(request->within_mm) ? 1 : request->within_mm;
    tu_error found = {0};
    tu_status status =
        tu_trials_fit_warm_up(series, story->settled_mm, data->work, &story->warm_up, &found);
    if (status)
        return fail_at(data, SIZE_MAX, &found,
                       status == TU_DATA_MISSING ? ": a column t in a CSV, in seconds" : "", error);
    if (isnan(request->within_mm) && story->warm_up.residual_sd > 0) {
        story->settled_mm = story->warm_up.residual_sd;
        status =
            tu_trials_fit_warm_up(series, story->settled_mm, data->work, &story->warm_up, error);
    }
    story->has_warm_up = !status;
    return status;
}

/* The name without the feed that a plan of trials puts behind it. */
static size_t stem(const char *name)
{
    const char *mark = strrchr(name, '-');
    return mark && mark[1] == 'f' && mark[2] >= '0' && mark[2] <= '9' ? (size_t)(mark - name)
                                                                      : strlen(name);
}

static tu_status fit_feed(tu_trials_data *data, const tu_task_trials_request *request,
                          tu_trials_story *story, tu_error *error)
{
    if (!request->feed)
        return TU_OK;
    tu_status status = check_one_axis(data, "{feed}", error);
    for (size_t i = 1; !status && i < data->entry_count; i++) {
        const char *a = data->entry[0].name, *b = data->entry[i].name;
        if (stem(a) != stem(b) || strncmp(a, b, stem(a)) != 0 ||
            data->key[i].file != data->key[0].file)
            status = fail_choice(data, "{feed}",
                                 "it takes the touches of one place, whose series may be named "
                                 "NAME-f50, NAME-f100",
                                 error);
    }
    if (status)
        return status;
    const tu_trial_series all = pool(data);
    tu_error found = {0};
    status = tu_trials_fit_feed(&all, &story->feed, &found);
    story->has_feed = !status;
    if (!status)
        return TU_OK;
    return fail_at(data, status == TU_UNDETERMINED ? SIZE_MAX : find_bad_feed(data), &found,
                   status != TU_DATA_MISSING ? ""
                   : data->feed_mm_s         ? ": a column dir in a CSV"
                                             : ": a column feed in a CSV, in mm a minute",
                   error);
}

static bool has_several_feeds(const tu_trial_series *series)
{
    for (size_t k = 1; series->feed_mm_s && k < series->count; k++)
        if (series->feed_mm_s[k] != series->feed_mm_s[0])
            return true;
    return false;
}

/*
 * How well each series repeats. A spread that holds a warm-up or a delay that was asked for and
 * found tells of these, not of the touches: then the residuals of the fit are judged.
 */
static void find_repeatability(tu_trials_entry *entry, const tu_task_trials_request *request,
                               const tu_trials_story *story)
{
    const tu_trial_figures *f = &entry->figures;
    const tu_warm_up *warm = &story->warm_up;
    bool seen = isnan(f->step_mm) && !f->quantised; /* then it is but the rounding of the file */
    double step_mm = seen ? NAN : f->resolution_mm;
    size_t fitted = f->n;
    entry->sd_mm = f->sd;
    entry->dof = (double)f->n - 1;
    entry->within_all_mm = tu_trials_next_within(f->sd, f->n, entry->dof, step_mm);
    if (tu_trials_shows_warm_up(story) && warm->dof > 0) {
        entry->effect = TU_TRIALS_WARM_UP;
        entry->sd_mm = warm->residual_sd;
        entry->dof = warm->dof;
    } else if (tu_trials_shows_feed(story) && has_several_feeds(&entry->series)) {
        fitted = 0; /* one line may lie through several entries */
        for (size_t i = 0; i < story->count; i++)
            fitted += story->entry[i].figures.n;
        entry->effect = TU_TRIALS_FEED;
        entry->sd_mm = story->feed.residual_sd;
        entry->dof = story->feed.dof;
    }
    entry->within_mm = tu_trials_next_within(entry->sd_mm, fitted, entry->dof, step_mm);
    if (isnan(request->wanted_mm) || !(f->sd > 0))
        return;
    /* what no number of touches lowers, and from half a step on is hidden in the scatter */
    double fixed_mm = f->quantised ? tu_trials_rounding_error(entry->sd_mm, step_mm) : 0;
    bool limited = fixed_mm >= step_mm / 2;
    if (request->wanted_mm > fixed_mm || (limited && request->wanted_mm == fixed_mm))
        entry->needed = tu_trials_touches_needed(entry->sd_mm, 0,
                                                 request->wanted_mm - (limited ? 0 : fixed_mm));
}

/* --- Outliers beside what was fitted --- */

/* Where the fit has the touch. */
static double fitted(const tu_trials_story *story, const tu_trials_entry *entry, size_t touch)
{
    const tu_trial_series *series = &entry->series;
    const tu_warm_up *warm = &story->warm_up;
    if (entry->effect == TU_TRIALS_WARM_UP)
        return warm->start -
               warm->rise * expm1(-(series->time_s[touch] - series->time_s[0]) / warm->tau_s);
    return story->feed.contact_mm[entry->direction > 0] +
           entry->direction * story->feed.delay_s * series->feed_mm_s[touch];
}

/*
 * A rise and a delay carry touches away from the mean that are no outliers, and widen s for those
 * that are: they are looked for in what the fit leaves. What one step explains is none, as ever.
 */
static tu_status seek_outliers_beside(tu_trials_data *data, const tu_trials_story *story,
                                      tu_trials_entry *entry, tu_error *error)
{
    tu_trial_series beside = entry->series;
    tu_trial_figures *f = &entry->figures, found;
    double *rest = data->work;
    for (size_t i = 0; i < beside.count; i++)
        rest[i] = beside.value_mm[i] - fitted(story, entry, i);
    beside.value_mm = rest;
    tu_status status = tu_trials_judge_series(&beside, data->work + beside.count, &found, error);
    if (status)
        return status;
    f->outlier_count = 0;
    for (size_t k = 0; k < found.outlier_count; k++) {
        tu_trial_outlier outlier = found.outlier[k];
        if (fabs(outlier.value_mm - found.mean) < 1.5 * f->resolution_mm)
            continue;
        outlier.value_mm = entry->series.value_mm[outlier.index];
        f->outlier[f->outlier_count++] = outlier;
    }
    const tu_trial_series left = leave_out(entry, data->work);
    tu_moments moments = tu_moments_of(left.value_mm, left.count);
    f->sd_without = f->outlier_count ? tu_moments_sd(&moments) : f->sd;
    return TU_OK;
}

/* Positions nearer to each other than the step: one of the two is not what it is said to be. */
static void warn_step(tu_trials_story *story, tu_unit unit)
{
    for (size_t i = 0; i < story->count; i++) {
        const tu_trial_figures *f = &story->entry[i].figures;
        if (f->n > 1 && !story->one_pass && !isnan(f->step_mm) && isnan(f->resolution_mm)) {
            tu_warn(&story->warnings,
                    "The step is stated as %.4g %s, and touches lie %.2g %s apart: correct "
                    "the step, or see that the positions are not averages.",
                    tu_unit_from_mm(unit, f->step_mm), tu_unit_name(unit),
                    tu_unit_from_mm(unit, f->step_seen_mm), tu_unit_name(unit));
            return;
        }
    }
}

static void warn_feeds(tu_trials_story *story)
{
    tu_warn(&story->warnings,
            "Touches of one series were made at several feeds, so that its spread holds the delay "
            "of the latch: {feed} tells the two apart.");
}

static void warn_table(const tu_trials_data *data, const tu_task_trials_request *request,
                       tu_trials_story *story)
{
    const tu_touch_table *table = data->table;
    warn_step(story, request->warnings_unit);
    if (table->torn_bytes)
        tu_warn(&story->warnings, "The last line of a log is torn (%zu bytes) and is left out.",
                table->torn_bytes);
    if (data->several_feeds)
        warn_feeds(story);
    for (size_t i = 0; !request->feed && i < data->entry_count; i++)
        if (has_several_feeds(&data->entry[i].series))
            warn_feeds(story);
}

tu_status tu_trials_tell(tu_trials_data *data, const tu_task_trials_request *request,
                         tu_trials_story *story, tu_error *error)
{
    story->unit = request->unit;
    story->face = request->face;
    story->one_pass = request->one_pass;
    story->limit_mm = request->within_mm;
    story->wanted_mm = request->wanted_mm;
    tu_status status = judge_entries(data, story, error);
    if (!status && !request->one_pass)
        status = reverse(data, story, error);
    if (!status)
        status = compare(data, request, story, error);
    if (!status)
        status = study(data, request, story, error);
    if (!status)
        status = fit_warm_up(data, request, story, error);
    if (!status)
        status = fit_feed(data, request, story, error);
    story->is_judged = !status || status == TU_UNDETERMINED || status == TU_NUMERIC;
    if (!story->is_judged)
        return status;
    for (size_t i = 0; i < story->count; i++)
        find_repeatability(&story->entry[i], request, story);
    for (size_t i = 0; !status && i < story->count; i++)
        if (story->entry[i].effect != TU_TRIALS_AS_THEY_CAME)
            status = seek_outliers_beside(data, story, &story->entry[i], error);
    warn_table(data, request, story);
    for (size_t i = 0; !status && !isnan(request->within_mm) && i < story->count; i++)
        if (isnan(story->entry[i].within_mm))
            status = tu_fail(error, TU_UNDETERMINED, "{within}",
                             "too few touches (%zu%s%s) to tell how well they repeat; touch more, "
                             "or, where all are equal, state the step with {step}",
                             story->entry[i].figures.n, *story->entry[i].name ? " of " : "",
                             story->entry[i].name);
    return status;
}
