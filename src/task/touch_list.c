/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_list.c - touches as they are typed.
 */
#include "task/touch_list.h"

#include "base/show.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

tu_status tu_touch_list_add(tu_touch_list *list, tu_touch_kind kind, tu_touch touch,
                            tu_error *error)
{
    if (list->count[kind] == TU_TOUCHES_MAX)
        return tu_fail(error, TU_DATA_RANGE, NULL, "more than %d touches on one axis",
                       TU_TOUCHES_MAX);
    if (list->count[kind] == list->room[kind]) {
        size_t room = list->room[kind] ? 2 * list->room[kind] : 8;
        tu_touch *grown = realloc(list->touch[kind], room * sizeof *grown);
        if (!grown)
            return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
        list->touch[kind] = grown;
        list->room[kind] = room;
    }
    list->touch[kind][list->count[kind]++] = touch;
    return TU_OK;
}

tu_axis_touches tu_touch_list_view(const tu_touch_list *list)
{
    return (tu_axis_touches){
        .single = list->touch[TU_TOUCH_SINGLE],
        .single_count = list->count[TU_TOUCH_SINGLE],
        .low = list->touch[TU_TOUCH_LOW],
        .low_count = list->count[TU_TOUCH_LOW],
        .high = list->touch[TU_TOUCH_HIGH],
        .high_count = list->count[TU_TOUCH_HIGH],
    };
}

void tu_touch_list_destroy(tu_touch_list *list)
{
    for (int kind = 0; kind < TU_TOUCH_KINDS; kind++)
        free(list->touch[kind]);
    *list = (tu_touch_list){0};
}

tu_status tu_axis_letter_skip(const char **text, size_t *length, tu_axis axis, tu_error *error)
{
    static const char letters[] = "xyzXYZ";
    const char *found = *length > 1 ? memchr(letters, **text, sizeof letters - 1) : NULL;
    if (!found || axis == TU_AXIS_COUNT)
        return TU_OK;
    if ((found - letters) % TU_AXIS_COUNT != (int)axis)
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "\"%s\" is along %c; %c belongs here",
                       tu_show(*text, *length).text, **text & ~0x20, tu_axis_letter(axis));
    ++*text;
    --*length;
    return TU_OK;
}

tu_status tu_place_parse(const char *text, size_t length, tu_unit unit, tu_axis axis,
                         double *place_mm, tu_error *error)
{
    tu_quantity quantity;
    *place_mm = (double)NAN;
    tu_status status = tu_axis_letter_skip(&text, &length, axis, error);
    if (!status)
        status = tu_quantity_parse(text, length, unit, &quantity, error);
    if (status)
        return status;
    if (!isnan(quantity.tolerance_mm))
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "a position takes no tolerance, found \"%.*s\"; repeat the touches instead, "
                       "their spread tells it",
                       (int)length, text);
    *place_mm = quantity.value_mm;
    return TU_OK;
}

/* How many of the characters that part places stand in text. */
static size_t count_marks(const char *text)
{
    size_t marks = 0;
    for (; *text; text++)
        marks += *text == ',' || *text == ':';
    return marks;
}

tu_status tu_places_parse(const char *text, tu_unit unit, double *places_mm, const char *form,
                          tu_error *error)
{
    const char *whole = text, *mark = form;
    bool fits = count_marks(text) == count_marks(form);
    size_t count = 0;
    do {
        size_t length = strcspn(text, ",:");
        tu_axis axis =
            (unsigned)(*mark - 'X') < TU_AXIS_COUNT ? (tu_axis)(*mark - 'X') : TU_AXIS_COUNT;
        mark += strcspn(mark, ",:");
        fits = fits && text[length] == *mark;
        places_mm[count] = (double)NAN;
        if (!fits)
            return tu_fail(error, TU_DATA_SYNTAX, NULL,
                           "must have the form %s with decimal points, found \"%s\"", form, whole);
        tu_status status = tu_place_parse(text, length, unit, axis, &places_mm[count++], error);
        if (status)
            return status;
        text += length + 1;
    } while (*mark++);
    return TU_OK;
}

/* Adds a pair of contacts in a bore. */
static tu_status add_pair(tu_touch_list *list, double low_mm, double high_mm, double across_mm,
                          const char *text, int length, tu_error *error)
{
    if (!(low_mm < high_mm))
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "LOW must be below HIGH, found \"%.*s\"; are they swapped?", length, text);
    tu_status status =
        tu_touch_list_add(list, TU_TOUCH_LOW, tu_touch_start(low_mm, across_mm, -1), error);
    return status ? status
                  : tu_touch_list_add(list, TU_TOUCH_HIGH, tu_touch_start(high_mm, across_mm, +1),
                                      error);
}

/* The decimals of the number at text; 0: it has no point, or nothing behind it. */
static size_t count_decimals(const char *text, size_t length)
{
    const char *point = memchr(text, '.', length);
    return point ? strspn(point + 1, "0123456789") : 0;
}

tu_status tu_touch_commas_check(const char *text, tu_error *error)
{
    size_t decimals[2] = {0}; /* of the positions, and of what stands behind an at sign */
    bool fits = true, list = strchr(text, ',') != NULL;
    for (const char *at = text, *mark = "";; at++) {
        bool across = *mark == '@';
        size_t length = strcspn(at, ",:@"), found = count_decimals(at, length);
        fits = fits && found > 0 && (decimals[across] == 0 || decimals[across] == found);
        decimals[across] = found;
        at = mark = at + length;
        if (!*mark)
            break;
    }
    if (!list || fits)
        return TU_OK;
    return tu_fail(
        error, TU_DATA_SYNTAX, NULL,
        "found \"%s\": a decimal comma is not read, write a point as in 6.35, and no separators "
        "between thousands; touches parted by commas have a point each, and as many decimals as "
        "one another: 6.35,6.40",
        tu_show(text, strlen(text)).text);
}

static bool holds_mark(const char *text, const char *stop)
{
    return memchr(text, ':', (size_t)(stop - text)) || memchr(text, '@', (size_t)(stop - text));
}

/* Adds what stands in text up to stop, which holds no comma. */
static tu_status parse_one(tu_touch_list *list, const char *text, const char *stop, tu_unit unit,
                           tu_axis axis, tu_error *error)
{
    static const tu_axis across_axis[] = {TU_AXIS_Y, TU_AXIS_X, TU_AXIS_COUNT};
    const char *at = memchr(text, '@', (size_t)(stop - text));
    const char *end = at ? at : stop;
    const char *colon = memchr(text, ':', (size_t)(end - text));
    const char *last = colon ? colon + 1 : text;
    if (last == end || colon == text || holds_mark(last, end) ||
        (at && (at + 1 == stop || holds_mark(at + 1, stop))))
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "must have the form VALUE, VALUE@ACROSS, LOW:HIGH or LOW:HIGH@ACROSS, found "
                       "\"%s\"",
                       tu_show(text, (size_t)(stop - text)).text);
    double across_mm = (double)NAN, low_mm = (double)NAN, position_mm = (double)NAN;
    tu_status status = TU_OK;
    if (at)
        status = tu_place_parse(at + 1, (size_t)(stop - at - 1), unit, across_axis[axis],
                                &across_mm, error);
    if (!status && colon)
        status = tu_place_parse(text, (size_t)(colon - text), unit, axis, &low_mm, error);
    if (!status)
        status = tu_place_parse(last, (size_t)(end - last), unit, axis, &position_mm, error);
    if (status)
        return status;
    bool pairs_so_far = list->count[TU_TOUCH_LOW] > 0, singles_so_far = list->count[0] > 0;
    if (colon ? singles_so_far : pairs_so_far)
        return tu_fail(error, TU_DATA_CONFLICT, NULL,
                       "single touches (walls) and LOW:HIGH pairs (a bore) on one axis; keep one "
                       "kind");
    if (colon)
        return add_pair(list, low_mm, position_mm, across_mm, text, (int)(stop - text), error);
    return tu_touch_list_add(list, TU_TOUCH_SINGLE, tu_touch_start(position_mm, across_mm, 0),
                             error);
}

tu_status tu_touch_list_parse(tu_touch_list *list, const char *text, tu_unit unit, tu_axis axis,
                              tu_error *error)
{
    size_t before[TU_TOUCH_KINDS];
    memcpy(before, list->count, sizeof before);
    tu_status status = tu_touch_commas_check(text, error);
    for (bool more = true; more && !status;) {
        const char *stop = text + strcspn(text, ",");
        status = parse_one(list, text, stop, unit, axis, error);
        more = *stop;
        text = stop + 1;
    }
    if (status)
        memcpy(list->count, before, sizeof before);
    return status;
}
