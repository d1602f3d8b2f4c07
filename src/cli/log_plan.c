/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_plan.c - which touch of a program a hit is.
 */
#include "cli/log_plan.h"

#include "trueup/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/*
 * A machine reports the place of the contact and stops a little behind it, so places agree to
 * within its overrun. Points of a grid are further apart, and so are the fast and the slow touch of
 * different heights. Common practice, no source.
 */
static const double near_mm = 1.0;

/* How many missed touches are looked over for the one that a hit fits. */
enum { LOOK_AHEAD = 24 };

static double along(const tu_hit *hit, int axis)
{
    const double value[] = {hit->position.x, hit->position.y, hit->position.z};
    return value[axis];
}

static double place_mm(const tu_log_plan *plan, tu_log_place place)
{
    return plan->base_mm[place.base] + place.offset_mm; /* NaN: not known */
}

/*
 * Whether the hit can be this touch: it moved the same way, stands where the program stands in the
 * other axes, and lies on the way of the move. certain: both other axes are known.
 */
static bool fits(const tu_log_plan *plan, const tu_log_touch *touch, const tu_hit *hit,
                 bool *certain)
{
    *certain = true;
    if (hit->axis != TU_AXIS_COUNT && hit->axis != touch->axis)
        return false;
    if (hit->direction != 0 && hit->direction != touch->direction)
        return false;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double from = place_mm(plan, touch->from[axis]), at = along(hit, axis);
        bool moves = axis == (int)touch->axis;
        if (isnan(from)) {
            *certain = *certain && moves;
            continue;
        }
        double gone = moves ? (at - from) * touch->direction : 0.0;
        if (moves ? gone < -near_mm || gone > touch->length_mm + near_mm
                  : fabs(at - from) > near_mm)
            return false;
    }
    return true;
}

/* What the hit tells of the places that the program moves from. */
static void learn(tu_log_plan *plan, const tu_log_touch *touch, const tu_hit *hit)
{
    plan->taught_count = 0;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double *base = &plan->base_mm[touch->from[axis].base];
        if (axis == (int)touch->axis || !isnan(*base))
            continue;
        plan->taught[plan->taught_count++] = touch->from[axis].base;
        *base = along(hit, axis) - touch->from[axis].offset_mm;
    }
    plan->base_mm[touch->after] = along(hit, (int)touch->axis);
}

/*
 * Whether the hit is the touch that the last one was taken for: that one was made by hand, say, to
 * test the circuit, perhaps somewhere else. What it taught is forgotten then.
 */
static bool fits_before(tu_log_plan *plan, const tu_hit *hit)
{
    double kept[TU_AXIS_COUNT];
    bool certain;
    if (plan->next == 0)
        return false;
    for (size_t i = 0; i < plan->taught_count; i++) {
        kept[i] = plan->base_mm[plan->taught[i]];
        plan->base_mm[plan->taught[i]] = (double)NAN;
    }
    if (fits(plan, &plan->touch[plan->next - 1], hit, &certain))
        return true;
    for (size_t i = 0; i < plan->taught_count; i++)
        plan->base_mm[plan->taught[i]] = kept[i];
    return false;
}

/* "touch 13 of 130 (bed z 5, line 88)". */
static int name_touch(char *text, size_t size, const tu_log_plan *plan, size_t index)
{
    const tu_log_touch *touch = &plan->touch[index];
    char number[24] = "";
    if (touch->number)
        snprintf(number, sizeof number, " %u", touch->number);
    return snprintf(text, size, "touch %zu of %zu (%.24s%s%c%s, line %zu)", index + 1, plan->count,
                    touch->series, touch->series[0] ? " " : "", "xyz"[touch->axis], number,
                    touch -> line);
}

static void show_place(char *text, size_t size, double value_mm, tu_unit unit)
{
    if (isnan(value_mm))
        snprintf(text, size, "?");
    else
        tu_number_format(text, size, tu_unit_from_mm(unit, value_mm), unit == TU_UNIT_MM ? 1 : 2);
}

static void tell_stray(const tu_log_plan *plan, const tu_hit *hit, tu_unit unit, char *text)
{
    char name[100], want[3][TU_NUMBER_TEXT_SIZE], got[3][TU_NUMBER_TEXT_SIZE], way[8] = "";
    const tu_log_touch *touch = &plan->touch[plan->next];
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        show_place(want[axis], sizeof want[axis], place_mm(plan, touch->from[axis]), unit);
        show_place(got[axis], sizeof got[axis], along(hit, axis), unit);
    }
    name_touch(name, sizeof name, plan, plan->next);
    if (hit->axis != TU_AXIS_COUNT)
        snprintf(way, sizeof way, " %c%s", "xyz"[hit->axis],
                 hit -> direction > 0        ? "+"
                        : hit->direction < 0 ? "-"
                                             : "");
    snprintf(text, TU_LOG_STRAY_SIZE,
             "landed elsewhere%s at %s, %s, %s %s; %s goes %c%c from %s, %s, %s; not to be used",
             way, got[0], got[1], got[2], tu_unit_name(unit), name, "xyz"[touch->axis],
             touch -> direction > 0 ? '+' : '-', want[0], want[1], want[2]);
}

static void take_as(tu_log_plan *plan, size_t index, tu_hit *hit)
{
    const tu_log_touch *touch = &plan->touch[index];
    learn(plan, touch, hit);
    hit->axis = touch->axis;
    hit->direction = touch->direction;
    if (!hit->series[0])
        memcpy(hit->series, touch->series, sizeof hit->series);
    hit->ok = !touch->search;
    plan->next = index + 1;
}

tu_log_landing tu_log_plan_take(tu_log_plan *plan, tu_hit *hit, tu_unit unit,
                                char text[TU_LOG_STRAY_SIZE])
{
    char name[100];
    bool certain;
    *text = '\0';
    if (fits(plan, &plan->touch[plan->next], hit, &certain)) {
        take_as(plan, plan->next, hit);
        return TU_LOG_LANDED;
    }
    if (fits_before(plan, hit)) {
        size_t before = plan->next - 1;
        take_as(plan, before, hit);
        name_touch(name, sizeof name, plan, before);
        snprintf(text, TU_LOG_STRAY_SIZE,
                 "%s came twice: the hit before this one was not the program's, and this one is "
                 "taken for it",
                 name);
        return TU_LOG_REPEATED;
    }
    for (size_t i = plan->next + 1; i < plan->count && i <= plan->next + LOOK_AHEAD; i++) {
        if (!fits(plan, &plan->touch[i], hit, &certain) || !certain)
            continue;
        size_t missed = i - plan->next;
        name_touch(name, sizeof name, plan, i);
        take_as(plan, i, hit);
        snprintf(text, TU_LOG_STRAY_SIZE, "this is %s; %zu before it did not come", name, missed);
        return TU_LOG_SKIPPED;
    }
    tell_stray(plan, hit, unit, text);
    const tu_log_touch *touch = &plan->touch[plan->next];
    if (hit->axis == TU_AXIS_COUNT) {
        hit->axis = touch->axis;
        hit->direction = touch->direction;
    }
    if (!hit->series[0])
        memcpy(hit->series, touch->series, sizeof hit->series);
    hit->ok = false;
    return TU_LOG_STRAY;
}

void tu_log_plan_skip(tu_log_plan *plan, uint64_t count)
{
    size_t left = plan->count - plan->next;
    plan->next += count < left ? (size_t)count : left;
    plan->taught_count = 0;
}

bool tu_log_plan_is_done(const tu_log_plan *plan)
{
    return plan->touch && plan->next >= plan->count;
}
