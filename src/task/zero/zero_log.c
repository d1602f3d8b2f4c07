/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_log.c - touches out of a hit log. The log is read once; only the chosen series is kept.
 */
#include "task/zero/zero_log.h"

#include "task/touch_runs.h"
#include "trueup/hits.h"
#include "trueup/text.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SERIES_MAX = 40, LIST_SIZE = 300 };

typedef struct reading {
    const char *path;
    const char *wanted; /* NULL: the only one */
    tu_target target;
    bool bore;
    tu_touch_list *touches;
    char series[SERIES_MAX][TU_NAME_SIZE]; /* the names met so far */
    size_t series_count;
    size_t used;
    size_t marked_bad[TU_AXIS_COUNT]; /* not to be used: fast touches that only search, mostly */
    size_t taken[TU_AXIS_COUNT];
    size_t recording;
    tu_touch_runs runs[TU_AXIS_COUNT][TU_TOUCH_KINDS];
} reading;

static size_t marked_bad_at_all(const reading *state)
{
    return state->marked_bad[0] + state->marked_bad[1] + state->marked_bad[2];
}

/* Beside touches that count, those that only searched for the place go without saying. */
static void warn_left_out(const reading *state, tu_warnings *warnings)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (state->marked_bad[axis] && !state->taken[axis])
            tu_warn(
                warnings,
                "%c: each hit of the series is marked in the log as not to be used, and left out",
                tu_axis_letter((tu_axis)axis));
}

static void note_series(reading *state, const char *name)
{
    for (size_t i = 0; i < state->series_count; i++)
        if (strcmp(state->series[i], name) == 0)
            return;
    if (state->series_count < SERIES_MAX)
        snprintf(state->series[state->series_count++], TU_NAME_SIZE, "%s", name);
}

static void list_series(const reading *state, char *text, size_t size)
{
    size_t length = 0;
    *text = '\0';
    for (size_t i = 0; i < state->series_count; i++) {
        size_t need = strlen(state->series[i]) + 2;
        if (length + need + 4 >= size) {
            snprintf(text + length, size - length, ", ...");
            return;
        }
        length += (size_t)snprintf(text + length, size - length, "%s%s", i ? ", " : "",
                                   *state->series[i] ? state->series[i] : "(unnamed)");
    }
}

static tu_status take_hit(reading *state, const tu_hit *hit, tu_error *error)
{
    if (!tu_target_asks(state->target, hit->axis))
        return TU_OK;
    if (!hit->ok) {
        state->marked_bad[hit->axis]++;
        return TU_OK;
    }
    state->taken[hit->axis]++;
    tu_touch touch = tu_touch_start(hit->position.z, (double)NAN, hit->direction);
    tu_touch_kind kind = TU_TOUCH_SINGLE;
    if (hit->axis != TU_AXIS_Z) {
        bool along_x = hit->axis == TU_AXIS_X;
        touch.position_mm = along_x ? hit->position.x : hit->position.y;
        touch.across_mm = along_x ? hit->position.y : hit->position.x;
    }
    if (hit->axis != TU_AXIS_Z && state->bore) {
        if (!hit->direction)
            return tu_fail(error, TU_DATA_MISSING, state->path,
                           "hit %" PRIu64 " has no direction, so it is not known which side of the "
                           "bore it touched; give the contacts as --%c LOW:HIGH instead",
                           hit->sequence, hit->axis == TU_AXIS_X ? 'x' : 'y');
        kind = hit->direction < 0 ? TU_TOUCH_LOW : TU_TOUCH_HIGH;
    }
    state->used++;
    tu_touch_runs_add(&state->runs[hit->axis][kind], state->recording, touch.position_mm);
    return tu_touch_list_add(&state->touches[hit->axis], kind, touch, error);
}

/* Reads to the end; without a wanted name the first series met is taken. */
static tu_status read_hits(reading *state, tu_hits_reader *reader, tu_error *error)
{
    tu_hit hit;
    bool have = false;
    for (;;) {
        tu_status status = tu_hits_next(reader, &hit, &have, error);
        if (status || !have)
            return status;
        note_series(state, hit.series);
        if (strcmp(hit.series, state->wanted ? state->wanted : state->series[0]) != 0)
            continue;
        state->recording = tu_hits_recording(reader);
        status = take_hit(state, &hit, error);
        if (status)
            return status;
    }
}

static tu_status fail_no_series(const reading *state, tu_error *error)
{
    char list[LIST_SIZE];
    const char *names[SERIES_MAX];
    list_series(state, list, sizeof list);
    for (size_t i = 0; i < state->series_count; i++)
        names[i] = state->series[i];
    const char *nearest = tu_text_nearest(state->wanted, names, state->series_count);
    if (!state->series_count)
        return tu_fail(error, TU_DATA_MISSING, state->path, "holds no hits");
    return tu_fail(error, TU_DATA_UNKNOWN, "{series_name}",
                   "no series \"%s\" in %s%s%s%s; it has: %s", state->wanted, state->path,
                   nearest ? "; did you mean \"" : "", nearest ? nearest : "", nearest ? "\"?" : "",
                   list);
}

static tu_status check_runs(const reading *state, tu_error *error)
{
    tu_status status = TU_OK;
    for (int axis = 0; !status && axis < TU_AXIS_COUNT; axis++)
        for (int kind = 0; !status && kind < TU_TOUCH_KINDS; kind++)
            status = tu_touch_runs_check(&state->runs[axis][kind], state->path,
                                         state->wanted ? state->wanted : state->series[0], error);
    return status;
}

static tu_status judge(const reading *state, tu_error *error)
{
    char list[LIST_SIZE];
    bool found = !state->wanted && state->series_count;
    for (size_t i = 0; state->wanted && i < state->series_count; i++)
        found = found || strcmp(state->series[i], state->wanted) == 0;
    if (!state->wanted && state->series_count > 1) {
        list_series(state, list, sizeof list);
        return tu_fail(error, TU_USAGE, "{series_name}", "%s has several; name one of: %s",
                       state->path, list);
    }
    if (!state->wanted && !state->series_count)
        return tu_fail(error, TU_DATA_MISSING, state->path, "holds no hits");
    if (!found && !state->used && !marked_bad_at_all(state))
        return fail_no_series(state, error);
    if (!state->used)
        return tu_fail(
            error, TU_DATA_MISSING, state->path, "series \"%s\" has no hit that can be used for %s",
            state->wanted ? state->wanted : state->series[0], tu_target_name(state->target));
    return check_runs(state, error);
}

tu_status tu_zero_log_read(const char *path, const char *series, tu_target target, bool bore,
                           tu_touch_list touches[TU_AXIS_COUNT], tu_warnings *warnings,
                           tu_error *error)
{
    reading state = {
        .path = path, .wanted = series, .target = target, .bore = bore, .touches = touches};
    tu_hits_reader *reader = NULL;
    tu_status status = tu_hits_open(path, &reader, error);
    if (status)
        return status;
    status = read_hits(&state, reader, error);
    if (!status)
        status = judge(&state, error);
    if (!status)
        warn_left_out(&state, warnings);
    if (!status && tu_hits_torn(reader))
        tu_warn(warnings, "the last line of %s is torn (%zu bytes without an end) and was left out",
                path, tu_hits_torn(reader));
    tu_hits_close(reader);
    return status;
}
