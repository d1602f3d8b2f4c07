/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plate_touches.c - reads WHERE/ON/CUTTER=VALUES.
 */
#include "cli/plate_touches.h"

#include "base/show.h"
#include "cli/plate_log.h"
#include "task/touch_list.h"
#include "trueup/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TOUCHES_MAX = 20000, WORD_MAX = 24 };

/* One --touch while it is read. where is "--touch left/a/quarter" for messages. */
typedef struct reading {
    tu_plate_touches *to;
    const tu_plate_options *options;
    const tu_shop *shop;
    const tu_plate *plate;
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

/* The index of a cutter among those that touched; name NULL: the shop's only one. */
static tu_status take_cutter(const reading *state, const char *name, size_t *index)
{
    const tu_cutter *cutter = NULL;
    tu_status status = tu_shop_find_cutter(state->shop, name, &cutter, state->error);
    if (status)
        return status;
    tu_plate_touches *to = state->to;
    for (*index = 0; *index < to->cutter_count; (*index)++)
        if (to->cutter[*index] == cutter)
            return TU_OK;
    if (to->cutter_count == TU_CALIBRATION_CUTTERS)
        return tu_fail(state->error, TU_USAGE, state->where,
                       "more than %d cutters; calibrate in two runs", TU_CALIBRATION_CUTTERS);
    to->cutter[to->cutter_count++] = cutter;
    return TU_OK;
}

/* Reads "left/a/quarter", "left/a", "face", "seat". */
static tu_status take_place(const reading *state, const char *text, size_t length,
                            tu_calibration_touch *touch)
{
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
    char name[TU_NAME_SIZE];
    size_t name_length = next != NULL ? (size_t)(end - next - 1) : 0;
    if (name_length >= sizeof name || (next != NULL && name_length == 0))
        return tu_fail(state->error, TU_USAGE, state->where,
                       "the cutter's name after the second slash is %s",
                       name_length == 0 ? "empty" : "too long");
    snprintf(name, sizeof name, "%.*s", (int)name_length, next != NULL ? next + 1 : "");
    return take_cutter(state, next != NULL ? name : NULL, &touch->cutter);
}

tu_status tu_plate_touches_add(tu_plate_touches *to, tu_calibration_touch touch, tu_error *error)
{
    if (to->count == TOUCHES_MAX)
        return tu_fail(error, TU_DATA_RANGE, "--touch", "more than %d touches", TOUCHES_MAX);
    if (to->count == to->room) {
        size_t room = to->room > 0 ? 2 * to->room : 32;
        tu_calibration_touch *grown = realloc(to->touch, room * sizeof *grown);
        if (grown == NULL)
            return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
        to->touch = grown;
        to->room = room;
    }
    to->touch[to->count++] = touch;
    return TU_OK;
}

static tu_status add_place(const reading *state, tu_calibration_touch touch, const char *text,
                           size_t length)
{
    tu_error detail = {0};
    tu_status status =
        tu_place_parse(text, length, state->options->unit, touch.axis, &touch.position_mm, &detail);
    if (status)
        return tu_fail(state->error, status, state->where, "%s", detail.message);
    return tu_plate_touches_add(state->to, touch, state->error);
}

static tu_status add_value(const reading *state, tu_calibration_touch touch, const char *text,
                           size_t length)
{
    bool bore = touch.contact == TU_CONTACT_BORE_LOW;
    const char *colon = memchr(text, ':', length);
    if (bore != (colon != NULL))
        return tu_fail(state->error, TU_DATA_SYNTAX, state->where,
                       bore ? "a bore needs both sides, LOW:HIGH, found \"%s\""
                            : "LOW:HIGH is for a bore only, found \"%s\"",
                       tu_show(text, length).text);
    if (!bore)
        return add_place(state, touch, text, length);
    tu_status status = add_place(state, touch, text, (size_t)(colon - text));
    touch.contact = TU_CONTACT_BORE_HIGH;
    size_t rest = length - (size_t)(colon + 1 - text);
    return status ? status : add_place(state, touch, colon + 1, rest);
}

static tu_status read_one(reading *state, const char *text)
{
    const char *equals = strchr(text, '=');
    int shown = (int)(equals != NULL ? equals - text : (long)strlen(text));
    snprintf(state->where, sizeof state->where, "--touch %.*s", shown < 100 ? shown : 100, text);
    if (equals == NULL || equals[1] == '\0')
        return tu_fail(state->error, TU_USAGE, state->where,
                       "the positions are missing, as in left/a/quarter=100.000,100.002");
    tu_calibration_touch touch = {.position_mm = (double)NAN};
    tu_status status = take_place(state, text, (size_t)(equals - text), &touch);
    if (status)
        return status;
    if (equals[1] == '@')
        return tu_plate_log_read(state->to, state->options->log_path, equals + 2, state->plate,
                                 touch, state->where, state->error);
    tu_error detail = {0};
    status = tu_touch_commas_check(equals + 1, &detail);
    if (status)
        return tu_fail(state->error, status, state->where, "%s", detail.message);
    for (const char *at = equals + 1;;) {
        size_t length = strcspn(at, ",");
        status = add_value(state, touch, at, length);
        if (status || at[length] == '\0')
            return status;
        at += length + 1;
    }
}

tu_status tu_plate_touches_read(tu_plate_touches *touches, const tu_plate_options *options,
                                const tu_shop *shop, const tu_plate *plate, tu_error *error)
{
    reading state = {
        .to = touches, .options = options, .shop = shop, .plate = plate, .error = error};
    for (size_t k = 0; k < options->touch_count; k++) {
        tu_status status = read_one(&state, options->touch[k]);
        if (status)
            return status;
    }
    return TU_OK;
}

void tu_plate_touches_destroy(tu_plate_touches *touches)
{
    free(touches->touch);
    *touches = (tu_plate_touches){0};
}
