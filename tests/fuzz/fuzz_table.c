/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_table.c - libFuzzer target: touches from a file, a CSV or a hit log.
 *
 * The first byte chooses the unit of bare lengths and the column of the groups, the rest is the
 * file. Beyond not crashing it demands: a failure leaves no table and a message of one line with
 * its place; in a table every position is finite or absent, every index is one of its list, lines
 * rise.
 */
#define _GNU_SOURCE
#include "demand.h"

#include "trueup/text.h"
#include "trueup/touch_table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void demand_row(const tu_touch_table *table, size_t row)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        DEMAND(!table->position_mm[axis] || !isinf(table->position_mm[axis][row]));
    DEMAND(!table->time_s || !isinf(table->time_s[row]));
    DEMAND(!table->feed_mm_s || isnan(table->feed_mm_s[row]) || table->feed_mm_s[row] > 0);
    DEMAND(!table->direction || abs(table->direction[row]) <= 1);
    DEMAND(!table->axis || table->axis[row] <= TU_TABLE_NO_AXIS);
    DEMAND(!table->series || table->series[row] < table->series_count ||
           table->series[row] == TU_TABLE_UNSTATED);
    DEMAND(!table->level || table->level[row] < table->level_count ||
           table->level[row] == TU_TABLE_UNSTATED);
    DEMAND(table->file[row] == 0 && table->line[row] > 1);
    DEMAND(row == 0 || table->line[row] > table->line[row - 1]);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char *const by[] = {NULL, "seat", "series", "file"};
    char path[40];
    const char *const paths[] = {path};
    if (size == 0 || size > 20000)
        return 0;
    int fd = memfd_create("table", MFD_CLOEXEC);
    DEMAND(fd >= 0 && write(fd, data + 1, size - 1) == (ssize_t)size - 1);
    snprintf(path, sizeof path, "/proc/self/fd/%d", fd);
    const tu_touch_table_request request = {paths, 1, data[0] & 1 ? TU_UNIT_INCH : TU_UNIT_MM,
                                            by[(data[0] >> 1) & 3]};
    tu_touch_table *table;
    tu_error error = {0};
    tu_status status = tu_touch_table_read(&request, &table, &error);
    if (status) {
        DEMAND(!table && tu_status_exit_code(status) == 3);
        demand_words(error.where);
        demand_words(error.message);
    } else {
        for (size_t row = 0; row < table->count; row++)
            demand_row(table, row);
    }
    tu_touch_table_destroy(table);
    close(fd);
    return 0;
}
