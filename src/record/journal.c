/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * journal.c - the zeros that were worked out.
 */
#include "record/journal.h"

#include "record/clock.h"
#include "trueup/number.h"

#include <cjson/cJSON.h>
#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *const axes[TU_AXIS_COUNT] = {"x", "y", "z"};

static double figure_of(const cJSON *record, const char *name, const char *axis)
{
    const cJSON *item =
        cJSON_GetObjectItemCaseSensitive(cJSON_GetObjectItemCaseSensitive(record, name), axis);
    return cJSON_IsNumber(item) ? item->valuedouble : (double)NAN;
}

/* Takes a line where it is of the slot and the target. */
static bool take_line(const char *line, int slot, const char *target, tu_journal_entry *entry)
{
    cJSON *record = cJSON_Parse(line);
    const char *of_slot = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(record, "slot"));
    const char *of_target =
        cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(record, "target"));
    const cJSON *time_s = cJSON_GetObjectItemCaseSensitive(record, "time");
    bool fits = of_slot && of_target && cJSON_IsNumber(time_s) &&
                strcmp(of_slot, tu_slot_name(slot)) == 0 && strcmp(of_target, target) == 0;
    for (int axis = 0; fits && axis < TU_AXIS_COUNT; axis++) {
        entry->zero_mm[axis] = figure_of(record, "zero", axes[axis]);
        entry->expanded_mm[axis] = figure_of(record, "expanded", axes[axis]);
    }
    if (fits)
        entry->time_s = (int64_t)time_s->valuedouble;
    cJSON_Delete(record);
    return fits;
}

tu_status tu_journal_last(const char *path, int slot, const char *target, tu_journal_entry *last,
                          bool *found, tu_error *error)
{
    *last = (tu_journal_entry){.slot = slot};
    *found = false;
    FILE *in = fopen(path, "re");
    if (!in && errno == ENOENT)
        return TU_OK;
    if (!in)
        return tu_fail(error, TU_SYSTEM_IO, path, "can't be read: %s", strerror(errno));
    char *line = NULL;
    size_t room = 0;
    while (getline(&line, &room, in) > 0)
        *found = take_line(line, slot, target, last) || *found;
    bool failed = ferror(in);
    free(line);
    fclose(in);
    return failed ? tu_fail(error, TU_SYSTEM_IO, path, "can't be read") : TU_OK;
}

static bool add_figures(cJSON *record, const char *name, const double figure[TU_AXIS_COUNT])
{
    char text[TU_NUMBER_TEXT_SIZE];
    cJSON *object = cJSON_AddObjectToObject(record, name);
    bool ok = object != NULL;
    for (int axis = 0; ok && axis < TU_AXIS_COUNT; axis++)
        if (!isnan(figure[axis]))
            ok = tu_number_format_exact(text, sizeof text, figure[axis]) &&
                 cJSON_AddRawToObject(object, axes[axis], text);
    return ok;
}

/* NULL: no memory. */
static char *format(const tu_journal_entry *entry)
{
    char utc[TU_CLOCK_UTC_SIZE] = "", seconds[32];
    tu_clock_utc(entry->time_s, utc);
    snprintf(seconds, sizeof seconds, "%lld", (long long)entry->time_s);
    cJSON *record = cJSON_CreateObject();
    bool ok = cJSON_AddStringToObject(record, "kind", "zero") &&
              cJSON_AddStringToObject(record, "utc", utc) &&
              cJSON_AddRawToObject(record, "time", seconds) &&
              cJSON_AddStringToObject(record, "slot", tu_slot_name(entry->slot)) &&
              cJSON_AddStringToObject(record, "target", entry->target) &&
              add_figures(record, "zero", entry->zero_mm) &&
              add_figures(record, "expanded", entry->expanded_mm) &&
              cJSON_AddStringToObject(record, "used", entry->used);
    char *text = ok ? cJSON_PrintUnformatted(record) : NULL;
    cJSON_Delete(record);
    return text;
}

/* The last byte of the file is no end of a line. */
static bool is_torn(int fd)
{
    char last;
    off_t end = lseek(fd, 0, SEEK_END);
    return end > 0 && pread(fd, &last, 1, end - 1) == 1 && last != '\n';
}

tu_status tu_journal_add(const char *path, const tu_journal_entry *entry, tu_error *error)
{
    char *text = format(entry);
    if (!text)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    int fd = open(path, O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC, 0666);
    size_t room = strlen(text) + 3;
    char *line = fd < 0 ? NULL : malloc(room);
    int length = line ? snprintf(line, room, "%s%s\n", is_torn(fd) ? "\n" : "", text) : -1;
    bool kept = length > 0 && write(fd, line, (size_t)length) == length && fsync(fd) == 0;
    int reason = errno;
    if (fd >= 0 && close(fd) != 0 && kept) {
        kept = false;
        reason = errno;
    }
    free(line);
    cJSON_free(text);
    return kept ? TU_OK
                : tu_fail(error, TU_SYSTEM_IO, path, "the zero was not added to the journal: %s",
                          strerror(reason));
}
