/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_log.c - touches of a calibration out of a series of a hit log.
 */
#include "task/plate/plate_log.h"

#include "task/touch_runs.h"
#include "trueup/hits.h"
#include "trueup/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { SERIES_MAX = 40 };

typedef struct reading {
    tu_plate_list *to;
    const char *path, *series, *where;
    const tu_plate *plate;
    tu_calibration_touch touch;
    char met[SERIES_MAX][TU_NAME_SIZE];
    size_t met_count;
    size_t used, marked_bad;
    size_t recording;
    tu_touch_runs runs[2]; /* moving - or unsaid, moving +: the sides of a bore */
} reading;

static double position_along(const tu_hit *hit, tu_axis axis)
{
    return axis == TU_AXIS_X   ? hit->position.x
           : axis == TU_AXIS_Y ? hit->position.y
                               : hit->position.z;
}

static tu_status fail_hit(const reading *state, const tu_hit *hit, tu_error *error)
{
    return tu_fail(error, TU_DATA_CONFLICT, state->where,
                   "hit %" PRIu64 " of series %s moved along %c%s, which no touch of that surface "
                   "does; is the series or the surface another one?",
                   hit->sequence, state->series, tu_axis_letter(hit->axis),
                   hit->direction > 0   ? "+"
                   : hit->direction < 0 ? "-"
                                        : "");
}

static tu_status take_hit(reading *state, const tu_hit *hit, tu_error *error)
{
    if (!hit->ok) {
        state->marked_bad++;
        return TU_OK;
    }
    tu_calibration_touch touch = state->touch;
    touch.position_mm = position_along(hit, touch.axis);
    bool bore = touch.contact == TU_CONTACT_BORE_LOW;
    if (hit->axis != touch.axis)
        return fail_hit(state, hit, error);
    if (bore && hit->direction == 0)
        return tu_fail(error, TU_DATA_MISSING, state->where,
                       "hit %" PRIu64
                       " has no direction, so it is not known which side of the bore "
                       "it touched; give the contacts as LOW:HIGH instead",
                       hit->sequence);
    if (bore) {
        touch.contact = hit->direction < 0 ? TU_CONTACT_BORE_LOW : TU_CONTACT_BORE_HIGH;
    } else {
        int travel =
            tu_calibration_travel(state->plate, &touch); /* 0: the plate has no such wall */
        if (travel * hit->direction < 0)
            return fail_hit(state, hit, error);
    }
    state->used++;
    tu_touch_runs_add(&state->runs[hit->direction > 0], state->recording, touch.position_mm);
    return tu_plate_list_add(state->to, touch, error);
}

static void note_series(reading *state, const char *name)
{
    for (size_t k = 0; k < state->met_count; k++)
        if (strcmp(state->met[k], name) == 0)
            return;
    if (state->met_count < SERIES_MAX)
        snprintf(state->met[state->met_count++], TU_NAME_SIZE, "%s", name);
}

static tu_status read_hits(reading *state, tu_hits_reader *reader, tu_error *error)
{
    for (;;) {
        tu_hit hit;
        bool have = false;
        tu_status status = tu_hits_next(reader, &hit, &have, error);
        if (status || !have)
            return status;
        note_series(state, hit.series);
        if (strcmp(hit.series, state->series) == 0) {
            state->recording = tu_hits_recording(reader);
            status = take_hit(state, &hit, error);
            if (status)
                return status;
        }
    }
}

static tu_status judge(const reading *state, tu_error *error)
{
    const char *names[SERIES_MAX];
    for (size_t k = 0; k < state->met_count; k++)
        names[k] = state->met[k];
    if (state->used > 0) {
        tu_status status = tu_touch_runs_check(&state->runs[0], state->where, state->series, error);
        return status ? status
                      : tu_touch_runs_check(&state->runs[1], state->where, state->series, error);
    }
    if (state->marked_bad > 0)
        return tu_fail(error, TU_DATA_MISSING, state->where,
                       "every hit of series %s is marked as not to be used", state->series);
    const char *nearest = tu_text_nearest(state->series, names, state->met_count);
    return tu_fail(error, TU_DATA_UNKNOWN, state->where, "no series \"%s\" in %s%s%s%s",
                   state->series, state->path, nearest != NULL ? "; did you mean " : "",
                   nearest != NULL ? nearest : "", nearest != NULL ? "?" : "");
}

static void warn(reading *state, const tu_hits_reader *reader)
{
    if (state->marked_bad > 0)
        tu_warn(&state->to->warnings,
                "%zu %s of series %s left out: marked in the log as not to be used",
                state->marked_bad, state->marked_bad == 1 ? "hit" : "hits", state->series);
    if (tu_hits_torn(reader) > 0)
        tu_warn(&state->to->warnings,
                "the last line of %s is torn (%zu bytes without an end) and was left out",
                state->path, tu_hits_torn(reader));
}

tu_status tu_plate_log_read(tu_plate_list *to, const char *path, const char *series,
                            const tu_plate *plate, tu_calibration_touch touch, const char *where,
                            tu_error *error)
{
    reading state = {
        .to = to, .path = path, .series = series, .where = where, .plate = plate, .touch = touch};
    tu_hits_reader *reader = NULL;
    tu_status status = tu_hits_open(path, &reader, error);
    if (status)
        return status;
    status = read_hits(&state, reader, error);
    if (!status)
        status = judge(&state, error);
    if (!status)
        warn(&state, reader);
    tu_hits_close(reader);
    return status;
}
