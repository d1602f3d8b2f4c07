/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_style.c - how touches are made: usual values, and which cannot be.
 */
#include "program/plan_write.h"

#include <math.h>
#include <string.h>

tu_plan_style tu_plan_style_start(void)
{
    /* Common practice, no source. */
    return (tu_plan_style){.unit = TU_UNIT_MM,
                           .slot = 1,
                           .search_mm_per_min = 100.0,
                           .measure_mm_per_min = 25.0,
                           .traverse_mm_per_min = 600.0,
                           .back_off_mm = 1.0,
                           .window_mm = 3.0,
                           .height_mm = {2.0, 8.0},
                           .press_mm = 2.0,
                           .clearance_mm = 3.0,
                           .skew_rad = M_PI / 180.0,
                           .repeats = 3};
}

tu_plan_corner tu_plan_corner_start(void)
{
    return (tu_plan_corner){.stock_thickness = tu_quantity_none(),
                            .wall = -1,
                            .depth = tu_quantity_none(),
                            .turned_within_rad = NAN};
}

typedef struct limit {
    const char *where;
    double value, least, most;
    const char *unit;
} limit;

/* Limits: common practice, no source. A back-off and a clearance must exceed the overrun. */
static tu_status check_limits(const tu_plan_style *style, tu_error *error)
{
    const limit limits[] = {
        {"{back_off}", style->back_off_mm, 0.3, 10.0, "mm"},
        {"{window}", style->window_mm, 0.2, 25.0, "mm"},
        {"{height}", style->height_mm[0], 0.5, 50.0, "mm"},
        {"{height}", style->height_mm[1], 0.5, 50.0, "mm"},
        {"{press}", style->press_mm, 0.3, 5.0, "mm"},
        {"{clearance}", style->clearance_mm, 0.5, 25.0, "mm"},
        {"{skew}", style->skew_rad * 180.0 / M_PI, 0.0, 5.0, "degrees"},
    };
    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
        const limit *l = &limits[i];
        if (!(l->value >= l->least && l->value <= l->most))
            return tu_fail(error, TU_DATA_RANGE, l->where,
                           "must lie from %g to %g %s, found %g: another unit?", l->least, l->most,
                           l->unit, l->value);
    }
    if (!(style->height_mm[0] < style->height_mm[1]))
        return tu_fail(error, TU_DATA_CONFLICT, "{height}",
                       "the start's least height, %g mm, must be below its greatest, %g mm",
                       style->height_mm[0], style->height_mm[1]);
    return TU_OK;
}

static tu_status check_feeds(const tu_plan_style *style, tu_error *error)
{
    const limit feeds[] = {
        {"{search}", style->search_mm_per_min, 0.0, TU_PLAN_PROBE_FEED_MAX, ""},
        {"{measure}", style->measure_mm_per_min, 0.0, TU_PLAN_PROBE_FEED_MAX, ""},
        {"{traverse}", style->traverse_mm_per_min, 0.0, 10000.0, ""},
    };
    for (size_t i = 0; i < sizeof feeds / sizeof *feeds; i++) {
        if (!(feeds[i].value >= 1.0 && feeds[i].value <= feeds[i].most))
            return tu_fail(error, TU_DATA_RANGE, feeds[i].where,
                           "a feed here lies from 1 to %g mm/min, found %g%s", feeds[i].most,
                           feeds[i].value,
                           style->unit == TU_UNIT_INCH ? ": with inches, feeds are in in/min" : "");
    }
    if (style->measure_mm_per_min > style->search_mm_per_min)
        return tu_fail(error, TU_DATA_CONFLICT, "{measure}",
                       "the touch that counts, %g mm/min, must not be faster than the one before "
                       "it, %g mm/min",
                       style->measure_mm_per_min, style->search_mm_per_min);
    return TU_OK;
}

tu_status tu_plan_check_style(const tu_plan_style *style, tu_error *error)
{
    if (style->slot < 1 || style->slot > 9)
        return tu_fail(error, TU_DATA_RANGE, "{slot}", "P is 1 to 9, for G54 to G59.3");
    if (style->repeats < 1 || style->repeats > TU_PLAN_REPEATS_MAX)
        return tu_fail(error, TU_DATA_RANGE, "{repeats}", "must be 1 to %d, found %d",
                       TU_PLAN_REPEATS_MAX, style->repeats);
    tu_status status = check_limits(style, error);
    return !status ? check_feeds(style, error) : status;
}

static bool is_series_character(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           (c != '\0' && strchr("-_.+", c) != NULL);
}

tu_status tu_plan_take_series(char series[TU_NAME_SIZE], const char *name, const char *otherwise,
                              tu_error *error)
{
    const char *source = *name != '\0' ? name : otherwise;
    size_t length = strlen(source);
    if (length > TU_PLAN_NAME_ROOM)
        return tu_fail(error, TU_DATA_RANGE, "{series_name}", "is longer than %d characters",
                       TU_PLAN_NAME_ROOM);
    for (size_t i = 0; i < length; i++) {
        if (!is_series_character(source[i]))
            return tu_fail(error, TU_DATA_RANGE, "{series_name}",
                           "takes letters, digits and - _ . + only, as it stands in the program's "
                           "comments; found \"%s\"",
                           source);
    }
    memcpy(series, source, length + 1);
    return TU_OK;
}
