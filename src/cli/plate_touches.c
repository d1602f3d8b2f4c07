/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_touches.c - reads WHERE/ON/CUTTER=VALUES.
 */
#include "cli/plate_touches.h"

#include "base/show.h"
#include "task/touch_list.h"
#include "task/typed_length.h"
#include "trueup/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WORD_MAX = 24 };

/* One --touch while it is read. where is "--touch left/a/quarter" for messages. */
typedef struct reading {
    tu_plate_contact *to;
    double *position_mm;
    tu_unit unit;
    char where[TU_ERROR_WHERE_SIZE];
    tu_error *error;
} reading;

typedef struct word {
    const char *text;
    int value;
} word;

/* Puts the value of a word into *value; on failure names the nearest. */
static tu_status take_word(const reading *state, const word *words, size_t count, const char *text,
                           size_t length, const char *expected, int *value)
{
    char typed[WORD_MAX];
    const char *names[8];
    snprintf(typed, sizeof typed, "%.*s", (int)(length < WORD_MAX ? length : WORD_MAX - 1), text);
    for (size_t k = 0; k < count; k++) {
        names[k] = words[k].text;
        if (strlen(words[k].text) == length && memcmp(words[k].text, text, length) == 0) {
            *value = words[k].value;
            return TU_OK;
        }
    }
    const char *nearest = tu_text_nearest(typed, names, count);
    return tu_fail(state->error, TU_USAGE, state->where, "expected %s, found \"%s\"%s%s%s",
                   expected, tu_show(text, length).text, nearest != NULL ? "; did you mean " : "",
                   nearest != NULL ? nearest : "", nearest != NULL ? "?" : "");
}

static tu_status take_edge(const reading *state, const char *text, size_t length,
                           tu_calibration_touch *touch)
{
    static const word edges[] = {{"left", 0}, {"right", 1}, {"front", 2}, {"back", 3}};
    int edge = 0;
    tu_status status = take_word(state, edges, 4, text, length,
                                 "an edge of the block: left, right, front or back", &edge);
    touch->axis = edge < 2 ? TU_AXIS_X : TU_AXIS_Y;
    touch->outward = edge % 2 == 0 ? -1 : 1;
    return status;
}

static tu_status take_surface(const reading *state, const char *text, size_t length,
                              tu_calibration_touch *touch)
{
    static const word surfaces[] = {{"a", 0},      {"b", 1},    {"bore.a", 2},
                                    {"bore.b", 3}, {"bare", 4}, {"slot", 5}};
    static const tu_contact contacts[] = {TU_CONTACT_WALL,     TU_CONTACT_WALL, TU_CONTACT_BORE_LOW,
                                          TU_CONTACT_BORE_LOW, TU_CONTACT_BARE, TU_CONTACT_SLOT};
    int surface = 0;
    tu_status status = take_word(state, surfaces, 6, text, length,
                                 "what was touched: a, b, bore.a, bore.b, bare or slot", &surface);
    touch->contact = contacts[surface];
    touch->wall = surface < 4 ? surface % 2 : 0;
    return status;
}

/* Reads "left/a/quarter", "left/a", "face", "seat". */
static tu_status take_place(const reading *state, const char *text, size_t length)
{
    tu_calibration_touch *touch = &state->to->touch;
    static const word vertical[] = {{"face", 0}, {"seat", 1}};
    const char *end = text + length;
    const char *slash = memchr(text, '/', length);
    if (slash == NULL) {
        int seat = 0;
        tu_status status =
            take_word(state, vertical, 2, text, length,
                      "WHERE/ON/CUTTER as in left/a/quarter, or face, or seat", &seat);
        touch->axis = TU_AXIS_Z;
        touch->contact = seat == 1 ? TU_CONTACT_SEAT : TU_CONTACT_FACE;
        return status;
    }
    tu_status status = take_edge(state, text, (size_t)(slash - text), touch);
    if (status)
        return status;
    const char *on = slash + 1;
    const char *next = memchr(on, '/', (size_t)(end - on));
    const char *on_end = next != NULL ? next : end;
    status = take_surface(state, on, (size_t)(on_end - on), touch);
    if (status)
        return status;
    size_t name_length = next != NULL ? (size_t)(end - next - 1) : 0;
    if (name_length >= sizeof state->to->cutter || (next != NULL && name_length == 0))
        return tu_fail(state->error, TU_USAGE, state->where,
                       "the cutter's name after the second slash is %s",
                       name_length == 0 ? "empty" : "too long");
    if (next != NULL)
        memcpy(state->to->cutter, next + 1, name_length);
    return TU_OK;
}

static tu_status add_place(const reading *state, const char *text, size_t length)
{
    tu_plate_contact *to = state->to;
    tu_error detail = {0};
    tu_status status = tu_place_parse(text, length, state->unit, to->touch.axis,
                                      &state->position_mm[to->count++], &detail);
    return status ? tu_fail(state->error, status, state->where, "%s", detail.message) : TU_OK;
}

static tu_status add_value(const reading *state, const char *text, size_t length)
{
    bool bore = state->to->touch.contact == TU_CONTACT_BORE_LOW;
    const char *colon = memchr(text, ':', length);
    if (bore != (colon != NULL))
        return tu_fail(state->error, TU_DATA_SYNTAX, state->where,
                       bore ? "a bore needs both sides, LOW:HIGH, found \"%s\""
                            : "LOW:HIGH is for a bore only, found \"%s\"",
                       tu_show(text, length).text);
    if (!bore)
        return add_place(state, text, length);
    tu_status status = add_place(state, text, (size_t)(colon - text));
    size_t rest = length - (size_t)(colon + 1 - text);
    return status ? status : add_place(state, colon + 1, rest);
}

static tu_status add_values(reading *state, const char *text)
{
    tu_error detail = {0};
    tu_status status = tu_touch_commas_check(text, &detail);
    if (status)
        return tu_fail(state->error, status, state->where, "%s", detail.message);
    state->position_mm =
        malloc(strlen(text) * sizeof *state->position_mm); /* a byte each at least */
    if (!state->position_mm)
        return tu_fail(state->error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    for (const char *at = text; !status; at++) {
        size_t length = strcspn(at, ",");
        status = add_value(state, at, length);
        at += length;
        if (!*at)
            break;
    }
    if (status)
        free(state->position_mm);
    else
        state->to->position_mm = state->position_mm;
    return status;
}

tu_status tu_plate_take_touch(const tu_met *met, tu_error *error)
{
    const char *text = met->argument, *equals = strchr(text, '=');
    tu_plate_contact *to = met->at;
    reading state = {.to = to, .unit = met->common->unit, .error = error};
    int shown = (int)(equals != NULL ? equals - text : (long)strlen(text));
    snprintf(to->name, sizeof to->name, "%.*s", shown < 100 ? shown : 100, text);
    snprintf(state.where, sizeof state.where, "--touch%s%s", *to->name ? " " : "", to->name);
    if (equals == NULL || equals[1] == '\0')
        return tu_fail(error, TU_USAGE, state.where,
                       "the positions are missing, as in left/a/quarter=100.000,100.002");
    tu_status status = take_place(&state, text, (size_t)(equals - text));
    if (status)
        return status;
    if (equals[1] == '@') { /* a log has its own unit */
        to->series = equals + 2;
        return TU_OK;
    }
    tu_typed_unit_note(&met->common->typed, equals + 1);
    return add_values(&state, equals + 1);
}
