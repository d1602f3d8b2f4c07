/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_one_pass.c - touches judged as they are read, and none kept.
 */
#include "task/trials/trials_run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* feed_mm_s: of the first touch. unstated_feed: some touch says none, so that feeds tell nothing.
 */
typedef struct running {
    tu_trial_pass pass;
    double feed_mm_s;
    bool several_feeds, unstated_feed;
} running;

typedef struct taker {
    tu_trials_data *data;
    const tu_task_trials_request *request;
    running *running; /* of each entry */
} taker;

static void take_feed(running *entry, double feed_mm_s)
{
    if (entry->pass.moments.count == 1)
        entry->feed_mm_s = feed_mm_s;
    entry->several_feeds = entry->several_feeds || feed_mm_s != entry->feed_mm_s;
    entry->unstated_feed = entry->unstated_feed || isnan(feed_mm_s);
}

static tu_status take_row(taker *t, const tu_touch_table *rows, size_t row, size_t at,
                          tu_error *error)
{
    tu_trials_data *data = t->data;
    running *entry = &t->running[at];
    if (data->key[at].count == 1)
        entry->pass = tu_trials_pass_start();
    double time_s = rows->time_s ? rows->time_s[row] : NAN;
    tu_error found = {0};
    tu_status status = tu_trials_pass_add(
        &entry->pass, NULL, rows->position_mm[data->key[at].axis][row], time_s, &found);
    if (status) {
        char where[sizeof found.where];
        snprintf(where, sizeof where, "%s:%u", tu_trials_file_name(data, rows->file[row]),
                 (unsigned)rows->line[row]);
        return tu_fail(error, status, where, "%s", found.message);
    }
    take_feed(entry, rows->feed_mm_s ? rows->feed_mm_s[row] : NAN);
    return TU_OK;
}

static tu_status take_rows(void *context, const tu_touch_table *rows, tu_error *error)
{
    taker *t = context;
    int only = tu_trials_only_axis(rows);
    tu_status status = TU_OK;
    t->data->rows = rows;
    for (size_t row = 0; !status && row < rows->count; row++) {
        size_t at;
        status = tu_trials_place_row(t->data, t->request, only, row, &at, error);
        if (!status && at < TU_TRIALS_ENTRIES_MAX)
            status = take_row(t, rows, row, at, error);
    }
    return status;
}

static void settle(taker *t, double step_mm)
{
    tu_trials_data *data = t->data;
    for (size_t i = 0; i < data->entry_count; i++) {
        tu_trials_entry *entry = &data->entry[i];
        const running *r = &t->running[i];
        tu_trials_name_entry(data, i);
        entry->series =
            (tu_trial_series){.name = entry->name, .axis = data->key[i].axis, .step_mm = step_mm};
        entry->figures = tu_trials_pass_figures(&r->pass, step_mm);
        data->several_feeds = data->several_feeds || (r->several_feeds && !r->unstated_feed);
    }
}

tu_status tu_trials_pass(tu_trials_data *data, const tu_task_trials_request *request,
                         double step_mm, tu_error *error)
{
    memcpy(data->path, request->path, sizeof request->path);
    data->path_count = request->path_count;
    data->before_file = data->before_series = TU_TABLE_UNSTATED;
    const tu_touch_table_request files = {data->path, data->path_count, request->unit, NULL};
    taker t = {data, request, calloc(TU_TRIALS_ENTRIES_MAX, sizeof *t.running)};
    if (!t.running)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    tu_status status = tu_touch_table_stream(&files, take_rows, &t, &data->table, error);
    data->rows = data->table;
    if (!status)
        status = tu_trials_check_names(data, request, error);
    if (!status)
        status = tu_trials_check_count(data, request, error);
    if (!status)
        settle(&t, step_mm);
    free(t.running);
    return status;
}
