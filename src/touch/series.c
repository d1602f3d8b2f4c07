/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * series.c - the touches of one axis, as positions in machine coordinates, checked.
 */
#include "base/started.h"
#include "touch/repeats.h"
#include "touch/request.h"
#include "touch/shown.h"
#include "touch/sideways.h"
#include "trueup/moments.h"

#include <math.h>
#include <stdio.h>

static bool within(double value_mm, double low_mm, double high_mm)
{
    return value_mm >= low_mm && value_mm <= high_mm;
}

/* The number as it was typed would lie within the travel in the other unit. */
static tu_status refuse_unit(double value_mm, tu_unit typed, const char *where, tu_error *error)
{
    if (typed == TU_UNIT_MM)
        return tu_fail(error, TU_DATA_RANGE, where,
                       "%s lies outside the machine's travel; it looks like inches typed for "
                       "millimetres: use {unit} in, or write %s",
                       tu_show_length(typed, value_mm).text,
                       tu_show_typed(TU_UNIT_INCH, value_mm * TU_MM_PER_INCH).text);
    return tu_fail(error, TU_DATA_RANGE, where,
                   "%s lies outside the machine's travel; it looks like millimetres typed for "
                   "inches: use {unit} mm, or write %s",
                   tu_show_length(typed, value_mm).text,
                   tu_show_typed(TU_UNIT_MM, value_mm / TU_MM_PER_INCH).text);
}

tu_status tu_travel_check(const tu_zero_request *request, tu_axis axis, double value_mm,
                          const char *where, tu_error *error)
{
    /* A display may round the end of the travel up by a step. */
    double slack = isnan(request->machine.step_mm) ? 1e-6 : request->machine.step_mm;
    double low = request->machine.travel_low_mm[axis] - slack;
    double high = request->machine.travel_high_mm[axis] + slack;
    tu_unit unit = request->read_unit;
    bool active = !isnan(request->active_mm[axis]);
    if (isnan(low) || isnan(high) || within(value_mm, low, high))
        return TU_OK;
    double other = unit == TU_UNIT_MM ? value_mm * TU_MM_PER_INCH : value_mm / TU_MM_PER_INCH;
    if (!active && within(other, low, high))
        return refuse_unit(value_mm, unit, where, error);
    return tu_fail(
        error, TU_DATA_RANGE, where, "%c %s lies outside the machine's travel, %s to %s: %s",
        tu_axis_letter(axis), tu_show_length(unit, value_mm).text,
        tu_show_short(unit, low + slack).text, tu_show_short(unit, high - slack).text,
        active ? "is {active} the offset that the touches were read under?"
               : "touches are machine coordinates; if these were read in work coordinates, give "
                 "the offset then in force with {active} X,Y,Z");
}

double tu_to_machine(const tu_zero_request *request, tu_axis axis, double read_mm)
{
    double active = request->active_mm[axis];
    return isnan(active) ? read_mm : read_mm + active;
}

static tu_status collect_one(const tu_zero_request *request, tu_axis axis, const tu_touch *touch,
                             const char *where, tu_series *series, tu_error *error)
{
    tu_axis other = axis == TU_AXIS_X ? TU_AXIS_Y : TU_AXIS_X;
    if (!touch->started)
        return tu_fail_not_started(error, where, "tu_touch_start");
    if (!isfinite(touch->position_mm) || isinf(touch->across_mm))
        return tu_fail(error, TU_DATA_RANGE, where, "number %zu is not a finite number",
                       series->count + 1);
    double position = tu_to_machine(request, axis, touch->position_mm);
    double across = tu_to_machine(request, other, touch->across_mm);
    tu_status status = tu_travel_check(request, axis, position, where, error);
    if (!status && !isnan(across))
        status = tu_travel_check(request, other, across, where, error);
    series->across_each_mm[series->count] = across;
    series->position_mm[series->count++] = position;
    return status;
}

/* Touches along a leaning face differ by its slope; brought to their mean place they do not, and
 * their mean stays what it was. */
static void level_series(tu_series *series, double slope)
{
    if (isnan(series->across_mm))
        return;
    for (size_t i = 0; i < series->count; i++)
        series->position_mm[i] -= slope * (series->across_each_mm[i] - series->across_mm);
}

static tu_status check_directions(const tu_touch *touches, size_t count, const char *where,
                                  tu_error *error)
{
    int seen = 0;
    for (size_t i = 0; i < count; i++) {
        if (seen != 0 && touches[i].direction == -seen)
            return tu_fail(error, TU_DATA_CONFLICT, where,
                           "number %zu was approached from the other side than those before it: "
                           "they do not touch the same face; keep one direction",
                           i + 1);
        if (touches[i].direction != 0)
            seen = touches[i].direction;
    }
    return TU_OK;
}

tu_status tu_series_collect(const tu_zero_request *request, tu_axis axis, const tu_touch *touches,
                            size_t count, const char *side, double slope, tu_series *series,
                            tu_warnings *warnings, tu_error *error)
{
    char where[48];
    snprintf(where, sizeof where, "%s%s", tu_touches_field(axis), side);
    series->count = 0;
    if (count > TU_TOUCHES_MAX)
        return tu_fail(error, TU_DATA_RANGE, where, "%zu touches are more than the %d this takes",
                       count, TU_TOUCHES_MAX);
    tu_status status = check_directions(touches, count, where, error);
    for (size_t i = 0; i < count && !status; i++)
        status = collect_one(request, axis, &touches[i], where, series, error);
    if (status)
        return status;
    series->across_mm = tu_moments_of(series->across_each_mm, count).mean;
    level_series(series, slope);
    tu_moments moments = tu_moments_of(series->position_mm, count);
    series->mean_mm = moments.mean;
    series->sd_mm = tu_moments_sd(&moments);
    return tu_repeats_check(series->position_mm, count, where, request->machine.repeatability[axis],
                            request->machine.step_mm, request->read_unit, warnings, error);
}
