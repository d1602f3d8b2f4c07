/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * series.c - the touches of one axis, as positions in machine coordinates, checked.
 */
#include "touch/repeats.h"
#include "touch/sideways.h"
#include "trueup/moments.h"

#include <math.h>
#include <stdio.h>

static bool within(double value_mm, double low_mm, double high_mm)
{
    return value_mm >= low_mm - 1e-9 && value_mm <= high_mm + 1e-9;
}

/* The unit that would bring a position back into the travel, told as the likely cause. */
static const char *travel_hint(double value_mm, double low_mm, double high_mm, tu_unit read_unit,
                               bool active)
{
    if (active) {
        return "is --active the offset that the touches were read under?";
    }
    if (read_unit == TU_UNIT_MM && within(value_mm * TU_MM_PER_INCH, low_mm, high_mm)) {
        return "it looks like inches typed for millimetres: use --unit in, or write 4.125in";
    }
    if (read_unit == TU_UNIT_INCH && within(value_mm / TU_MM_PER_INCH, low_mm, high_mm)) {
        return "it looks like millimetres typed for inches: use --unit mm, or write 104.775mm";
    }
    return "touches are machine coordinates; if these were read in work coordinates, give the "
           "offset then in force with --active X,Y,Z";
}

tu_status tu_travel_check(const tu_zero_request *request, tu_axis axis, double value_mm,
                          const char *where, tu_error *error)
{
    double low = request->machine.travel_low_mm[axis];
    double high = request->machine.travel_high_mm[axis];
    if (isnan(low) || isnan(high) || within(value_mm, low, high)) {
        return TU_OK;
    }
    bool active = !isnan(request->active_mm[axis]);
    return tu_fail(error, TU_DATA_RANGE, where,
                   "%c %.3f mm lies outside the machine's travel, %g to %g mm: %s",
                   tu_axis_letter(axis), value_mm, low, high,
                   travel_hint(value_mm, low, high, request->read_unit, active));
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
    if (!isfinite(touch->position_mm) || isinf(touch->across_mm)) {
        return tu_fail(error, TU_DATA_RANGE, where, "number %zu is not a finite number",
                       series->count + 1);
    }
    double position = tu_to_machine(request, axis, touch->position_mm);
    double across = tu_to_machine(request, other, touch->across_mm);
    tu_status status = tu_travel_check(request, axis, position, where, error);
    if (status == TU_OK && !isnan(across)) {
        status = tu_travel_check(request, other, across, where, error);
    }
    series->across_each_mm[series->count] = across;
    series->position_mm[series->count++] = position;
    return status;
}

/* Touches along a leaning face differ by its slope; brought to their mean place they do not, and
 * their mean stays what it was. */
static void level_series(tu_series *series, double slope)
{
    if (isnan(series->across_mm)) {
        return;
    }
    for (size_t i = 0; i < series->count; i++) {
        series->position_mm[i] -= slope * (series->across_each_mm[i] - series->across_mm);
    }
}

static tu_status check_directions(const tu_touch *touches, size_t count, const char *where,
                                  tu_error *error)
{
    int seen = 0;
    for (size_t i = 0; i < count; i++) {
        if (seen != 0 && touches[i].direction == -seen) {
            return tu_fail(error, TU_DATA_CONFLICT, where,
                           "number %zu was approached from the other side than those before it: "
                           "they do not touch the same face; keep one direction",
                           i + 1);
        }
        if (touches[i].direction != 0) {
            seen = touches[i].direction;
        }
    }
    return TU_OK;
}

tu_status tu_series_collect(const tu_zero_request *request, tu_axis axis, const tu_touch *touches,
                            size_t count, const char *side, double slope, tu_series *series,
                            tu_warnings *warnings, tu_error *error)
{
    char where[48];
    snprintf(where, sizeof where, "%c touches%s", "xyz"[axis], side);
    series->count = 0;
    if (count > TU_TOUCHES_MAX) {
        return tu_fail(error, TU_DATA_RANGE, where, "%zu touches are more than the %d this takes",
                       count, TU_TOUCHES_MAX);
    }
    tu_status status = check_directions(touches, count, where, error);
    for (size_t i = 0; i < count && status == TU_OK; i++) {
        status = collect_one(request, axis, &touches[i], where, series, error);
    }
    if (status != TU_OK) {
        return status;
    }
    series->across_mm = tu_moments_of(series->across_each_mm, count).mean;
    level_series(series, slope);
    tu_moments moments = tu_moments_of(series->position_mm, count);
    series->mean_mm = moments.mean;
    series->sd_mm = tu_moments_sd(&moments);
    return tu_repeats_check(series->position_mm, count, where, request->machine.repeatability[axis],
                            request->machine.step_mm, warnings, error);
}
