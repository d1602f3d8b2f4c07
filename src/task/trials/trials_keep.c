/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_keep.c - a judged repeatability into the shop file.
 */
#include "task/trials/trials_run.h"

#include "report/trials/trials_words.h"
#include "trueup/number.h"

#include <math.h>
#include <stdio.h>

/* Fewer leave s unknown by more than a factor of two either way (chi-squared, 95 %). */
enum { LEAST_TOUCHES = 5 };

/* The largest that the shop file takes; less than the smallest is the rounding of numbers. */
static const double most_mm = 1.0, least_mm = 1e-6;

static tu_status check_entry(const tu_trials_entry *entry, double limit_mm, bool despite,
                             tu_error *error)
{
    const tu_trial_figures *f = &entry->figures;
    if (f->n < LEAST_TOUCHES)
        return tu_fail(error, TU_DATA_MISSING, "{keep}",
                       "nothing was kept: %zu touches say little of how well the next will repeat; "
                       "make %d or more, better twenty",
                       f->n, LEAST_TOUCHES);
    if (!(f->sd > 0))
        return tu_fail(error, TU_DATA_MISSING, "{keep}",
                       "nothing was kept: all touches are equal, so that only the step shows; zero "
                       "takes the step from machine.step of the shop file");
    if (f->sd < least_mm)
        return tu_fail(error, TU_DATA_RANGE, "{keep}",
                       "nothing was kept: s is %.1e mm, and no machine repeats to a nanometre; see "
                       "that the positions are what the machine reported, in mm",
                       f->sd);
    if (f->sd > most_mm)
        return tu_fail(error, TU_DATA_RANGE, "{keep}",
                       "nothing was kept: touches that scatter by more than 1 mm are no touches of "
                       "one place");
    if (entry->within_mm > limit_mm && !despite)
        return tu_fail(error, TU_LIMIT_EXCEEDED, "{keep}",
                       "nothing was kept: the touches do not repeat within the limit ({within}); "
                       "mend what makes them so, and touch again, or keep it with {despite}");
    if (f->outlier_count && !despite)
        return tu_fail(error, TU_DATA_CONFLICT, "{keep}",
                       "nothing was kept: %zu outlier%s (line %u of the file first); find the "
                       "cause and touch again, or keep it with {despite}",
                       f->outlier_count, f->outlier_count == 1 ? "" : "s",
                       (unsigned)entry->line[f->outlier[0].index]);
    if (tu_trials_drifts(f) && !despite)
        return tu_fail(error, TU_DATA_CONFLICT, "{keep}",
                       "nothing was kept: the series %s (%s), and its spread would hold "
                       "that; warm up and touch again, or keep it with {despite}",
                       f->slope == 0 ? "shifts on the way" : "drifts",
                       tu_trials_p(f->slope_p).text);
    return TU_OK;
}

static tu_status check_series(const tu_trials_data *data, tu_error *error)
{
    for (size_t i = 1; i < data->entry_count; i++)
        for (size_t k = 0; k < i; k++) {
            const tu_trials_key *a = &data->key[i], *b = &data->key[k];
            if (a->axis == b->axis && (a->series != b->series || a->file != b->file))
                return tu_fail(error, TU_USAGE, "{keep}",
                               "nothing was kept: more than one series along %c; choose one with "
                               "{series_name}",
                               "xyz"[a->axis]);
        }
    return TU_OK;
}

/* s^2 = sum of (n - 1) s^2 over sum of (n - 1), of the sides that the axis was touched from. */
static void pool(const tu_trials_story *story, tu_axis axis, tu_trials_kept *kept)
{
    double squares = 0;
    *kept = (tu_trials_kept){.axis = axis};
    for (size_t i = 0; i < story->count; i++) {
        const tu_trials_entry *entry = &story->entry[i];
        if (entry->series.axis != axis)
            continue;
        double dof = (double)entry->figures.n - 1;
        kept->dof += dof;
        squares += dof * entry->figures.sd * entry->figures.sd;
    }
    kept->sd_mm = sqrt(squares / kept->dof);
}

static void format_edit(tu_shop_edit *edit, const tu_trials_kept *kept)
{
    char sd[TU_NUMBER_TEXT_SIZE], dof[TU_NUMBER_TEXT_SIZE];
    tu_number_format(sd, sizeof sd, kept->sd_mm, 6);
    tu_number_format_exact(dof, sizeof dof, kept->dof);
    snprintf(edit->path, sizeof edit->path, "machine.repeatability.%c", "xyz"[kept->axis]);
    snprintf(edit->new_json, sizeof edit->new_json, "{\"sd\": \"%smm\", \"dof\": %s}", sd, dof);
}

static tu_status write_edits(const tu_shop *shop, const tu_trials_story *story, tu_error *error)
{
    tu_shop_edit edits[TU_AXIS_COUNT];
    for (size_t i = 0; i < story->kept_count; i++)
        format_edit(&edits[i], &story->kept[i]);
    return tu_shop_write_edits(shop, story->kept_path, edits, story->kept_count, error);
}

tu_status tu_task_trials_keep(const tu_task_trials_story *judged, tu_error *error)
{
    tu_trials_run *run = judged->run;
    tu_trials_story *story = &run->story;
    tu_status status = check_series(&run->data, error);
    for (size_t i = 0; !status && i < story->count; i++)
        status = check_entry(&story->entry[i], story->limit_mm, run->request.despite, error);
    if (status)
        return status;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        bool is_judged = false;
        for (size_t i = 0; i < story->count; i++)
            is_judged = is_judged || (int)story->entry[i].series.axis == axis;
        if (is_judged)
            pool(story, (tu_axis)axis, &story->kept[story->kept_count++]);
    }
    story->kept_path = run->request.shop;
    status = write_edits(run->shop, story, error);
    if (status)
        story->kept_count = 0;
    return status;
}
