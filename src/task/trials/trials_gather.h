/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * trials_gather.h - which touches of a table make which series.
 */
#ifndef TU_TASK_TRIALS_GATHER_H
#define TU_TASK_TRIALS_GATHER_H

#include "trueup/report_trials.h"
#include "trueup/task_trials.h"
#include "trueup/touch_table.h"

enum { TU_TRIALS_ENTRIES_MAX = 400 };

/* What an entry's touches have in common. */
typedef struct tu_trials_key {
    uint32_t file, series;
    tu_axis axis;
    int direction;
    size_t count;
} tu_trials_key;

/*
 * Touches in the order of the entries, those of one behind another; starts as {0}.
 *   before_series, before_file  what --against names: index of the series, or of the file; none:
 *                               TU_TABLE_UNSTATED.
 *   rows           those being parted: all of table, or a piece of it while it is read.
 *   last           the entry of the row before: touches of a series mostly follow one another.
 *   several_feeds  some series was touched at several; known here only where no touches are kept.
 *   group          of each touch, by the column of --by.
 */
typedef struct tu_trials_data {
    tu_touch_table *table;
    const tu_touch_table *rows;
    const char *path[TU_TRIALS_FILES_MAX + 1];
    size_t path_count;
    uint32_t before_series, before_file;
    tu_trials_key key[TU_TRIALS_ENTRIES_MAX];
    tu_trials_entry entry[TU_TRIALS_ENTRIES_MAX];
    size_t entry_count, count, last;
    bool several_feeds;
    uint16_t *owner; /* of each row, the entry + 1; 0: none */
    double *value_mm, *time_s, *feed_mm_s, *work;
    signed char *direction;
    uint32_t *line;
    size_t *group;
    size_t group_count;
    char (*group_name)[TU_NAME_SIZE];
    tu_trial_group *group_figure;
} tu_trials_data;

/* Reads the files and parts their touches. Every status of tu_touch_table_read; TU_DATA_UNKNOWN for
 * a series that is not there; TU_DATA_MISSING when no touch is left, or no axis is named. */
tu_status tu_trials_gather(tu_trials_data *data, const tu_task_trials_request *request,
                           double step_mm, tu_error *error);
/* Whether the entry is what --against names. */
bool tu_trials_is_before(const tu_trials_data *data, size_t entry);

/* The parts, for the way that keeps no touches. */

/* The only position that the rows have; TU_AXIS_COUNT where there are several. */
int tu_trials_only_axis(const tu_touch_table *rows);
/* Which entry a row of data->rows belongs to, and counts it; TU_TRIALS_ENTRIES_MAX: none. */
tu_status tu_trials_place_row(tu_trials_data *data, const tu_task_trials_request *request, int only,
                              size_t row, size_t *entry, tu_error *error);
/* Whether the series asked for are in the table, and then, whether any touch is left. */
tu_status tu_trials_check_names(tu_trials_data *data, const tu_task_trials_request *request,
                                tu_error *error);
tu_status tu_trials_check_count(const tu_trials_data *data, const tu_task_trials_request *request,
                                tu_error *error);
/* Of data->path, as messages name it. */
const char *tu_trials_file_name(const tu_trials_data *data, uint32_t file);
void tu_trials_name_entry(tu_trials_data *data, size_t entry);

void tu_trials_data_destroy(tu_trials_data *data);

#endif
