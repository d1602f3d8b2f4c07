/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_read.h - the touches of a bed from files, as points.
 */
#ifndef TU_TASK_BED_READ_H
#define TU_TASK_BED_READ_H

#include "trueup/bed.h"
#include "trueup/touch_table.h"

/* The series of touches that replace what was touched there before. */
#define TU_BED_AGAIN_SERIES "re-touch"

/* Starts as {0}; owns its memory. series to line are as
 * tu_bed_touches wants them. */
typedef struct tu_bed_reading {
    tu_touch_table *table;
    tu_bed_point *point;
    size_t *series;
    const char **series_name;
    uint32_t *round;
    uint32_t *file, *line;
    size_t count;
} tu_bed_reading;

/*
 * Reads files and takes the touches of one series (NULL: all) that went down, or of which nobody
 * says which way they went. Those of TU_BED_AGAIN_SERIES come with every series, each file of them
 * a later round than the one before. Returns TU_OK; TU_DATA_MISSING (no x, y or z, with file and
 * line; no touch at all); TU_DATA_UNKNOWN (no such series; the message lists those there are); as
 * tu_touch_table_read.
 */
tu_status tu_bed_read(const char *const *path, size_t path_count, tu_unit unit, const char *series,
                      tu_bed_reading *reading, tu_error *error);
void tu_bed_reading_destroy(tu_bed_reading *reading);

#endif
