/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * log_plan.c - which touch of a program a hit is.
 */
#include "program/log_plan.h"

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

static double place_mm(const tu_log_course *course, tu_log_place place)
{
    return course->base_mm[place.base] + place.offset_mm; /* NaN: not known */
}

/*
 * Whether the hit can be this touch: it moved the same way, stands where the program stands in the
 * other axes, and lies on the way of the move. certain: both other axes are known.
 */
static bool fits(const tu_log_course *course, const tu_log_touch *touch, const tu_hit *hit,
                 bool *certain)
{
    *certain = true;
    if (hit->axis != TU_AXIS_COUNT && hit->axis != touch->axis)
        return false;
    if (hit->direction != 0 && hit->direction != touch->direction)
        return false;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double from = place_mm(course, touch->from[axis]), at = along(hit, axis);
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
static void learn(tu_log_course *course, const tu_log_touch *touch, const tu_hit *hit)
{
    course->taught_count = 0;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double *base = &course->base_mm[touch->from[axis].base];
        if (axis == (int)touch->axis || !isnan(*base))
            continue;
        course->taught[course->taught_count++] = touch->from[axis].base;
        *base = along(hit, axis) - touch->from[axis].offset_mm;
    }
    course->base_mm[touch->after] = along(hit, (int)touch->axis);
}

/*
 * Whether the hit is the touch that the last one was taken for: that one was made by hand, say.
 * What it taught is forgotten then.
 */
static bool fits_before(const tu_log_plan *plan, tu_log_course *course, const tu_hit *hit)
{
    double kept[TU_AXIS_COUNT];
    bool certain;
    if (course->next == 0)
        return false;
    for (size_t i = 0; i < course->taught_count; i++) {
        kept[i] = course->base_mm[course->taught[i]];
        course->base_mm[course->taught[i]] = (double)NAN;
    }
    if (fits(course, &plan->touch[course->next - 1], hit, &certain))
        return true;
    for (size_t i = 0; i < course->taught_count; i++)
        course->base_mm[course->taught[i]] = kept[i];
    return false;
}

/*
 * Whether the hit may be a fast touch that was counted as lost, as well as the slow one behind it:
 * the line that was lost need not have been a touch. A fast one must not count, so that is what it
 * is then.
 */
static bool may_be_fast(const tu_log_plan *plan, tu_log_course *course, const tu_hit *hit)
{
    size_t next = course->next;
    return course->skipped && next > 0 && next < plan->count && plan->touch[next - 1].search &&
           !plan->touch[next].search && fits_before(plan, course, hit);
}

/* The later touch that the hit fits for certain; 0: none. */
static size_t find_later(const tu_log_plan *plan, const tu_hit *hit)
{
    size_t next = plan->course.next;
    bool certain;
    for (size_t i = next + 1; i < plan->count && i <= next + LOOK_AHEAD; i++)
        if (fits(&plan->course, &plan->touch[i], hit, &certain) && certain)
            return i;
    return 0;
}

/* "touch 13 of 130 (bed z 5, line 88)". */
static void name_touch(char *text, size_t size, const tu_log_plan *plan, size_t index)
{
    const tu_log_touch *touch = &plan->touch[index];
    char number[24] = "";
    if (touch->number)
        snprintf(number, sizeof number, " %u", touch->number);
    snprintf(text, size, "touch %zu of %zu (%.24s%s%c%s, line %zu)", index + 1, plan->count,
             touch->series, touch->series[0] ? " " : "", "xyz"[touch->axis], number, touch -> line);
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
    const tu_log_touch *touch = &plan->touch[plan->course.next];
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        show_place(want[axis], sizeof want[axis], place_mm(&plan->course, touch->from[axis]), unit);
        show_place(got[axis], sizeof got[axis], along(hit, axis), unit);
    }
    name_touch(name, sizeof name, plan, plan->course.next);
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

/* The hit as the lines of a device leave it open; what they say stays. */
static void mark(tu_hit *hit, const tu_log_touch *touch, bool ok)
{
    if (hit->axis == TU_AXIS_COUNT)
        hit->axis = touch->axis;
    if (hit->direction == 0 && hit->axis == touch->axis)
        hit->direction = touch->direction;
    if (!hit->series[0])
        memcpy(hit->series, touch->series, sizeof hit->series);
    hit->ok = ok;
}

static void take_as(const tu_log_plan *plan, tu_log_course *course, size_t index, tu_hit *hit)
{
    const tu_log_touch *touch = &plan->touch[index];
    learn(course, touch, hit);
    course->landed += index >= course->next;
    course->next = index + 1;
    course->skipped = false;
    mark(hit, touch, !touch->search);
}

static void forget(const tu_log_plan *plan, tu_log_course *course)
{
    if (course->next == 0)
        return;
    for (size_t i = 0; i < plan->base_count; i++)
        course->base_mm[i] = (double)NAN;
    course->next = course->landed = course->taught_count = 0;
    course->skipped = false;
}

/*
 * A stray may be the first touch of the program that is started now: after a test of the circuit by
 * hand, or once more after a stop. The hit after it tells.
 */
static bool starts_anew(tu_log_plan *plan, tu_hit *hit)
{
    tu_log_course *anew = &plan->anew;
    bool certain;
    if (anew->next == 1 && plan->count > 1 && fits(anew, &plan->touch[1], hit, &certain)) {
        take_as(plan, anew, 1, hit);
        tu_log_course old = plan->course;
        plan->course = *anew;
        *anew = old;
        forget(plan, anew);
        return true;
    }
    forget(plan, anew);
    tu_hit copy = *hit;
    if (fits(anew, &plan->touch[0], &copy, &certain))
        take_as(plan, anew, 0, &copy);
    return false;
}

/* The touch before the next, which was counted as lost or which an earlier hit was taken for. */
static tu_log_landing take_before(tu_log_plan *plan, tu_hit *hit, char text[TU_LOG_STRAY_SIZE])
{
    char name[100];
    tu_log_course *course = &plan->course;
    bool was_lost = course->skipped;
    size_t index = course->next - 1;
    name_touch(name, sizeof name, plan, index);
    take_as(plan, course, index, hit);
    course->landed += was_lost;
    if (was_lost)
        snprintf(text, TU_LOG_STRAY_SIZE, "taken for %s, which was counted as lost", name);
    else
        snprintf(text, TU_LOG_STRAY_SIZE,
                 "%s came twice: the hit before this one was not the program's, and this one is "
                 "taken for it",
                 name);
    return was_lost ? TU_LOG_SKIPPED : TU_LOG_REPEATED;
}

tu_log_landing tu_log_plan_take(tu_log_plan *plan, tu_hit *hit, tu_unit unit,
                                char text[TU_LOG_STRAY_SIZE])
{
    char name[100];
    bool certain;
    tu_log_course *course = &plan->course;
    size_t index = course->next, later;
    tu_log_landing landing = TU_LOG_LANDED;
    *text = '\0';
    if (may_be_fast(plan, course, hit)) {
        landing = take_before(plan, hit, text);
    } else if (fits(course, &plan->touch[index], hit, &certain)) {
        take_as(plan, course, index, hit);
    } else if (fits_before(plan, course, hit)) {
        landing = take_before(plan, hit, text);
    } else if ((later = find_later(plan, hit)) > 0) {
        name_touch(name, sizeof name, plan, later);
        take_as(plan, course, later, hit);
        snprintf(text, TU_LOG_STRAY_SIZE, "this is %s; %zu before it did not come", name,
                 later - index);
        landing = TU_LOG_SKIPPED;
    } else if (starts_anew(plan, hit)) {
        snprintf(text, TU_LOG_STRAY_SIZE,
                 "the program started anew with the touch before this one; those before it are not "
                 "part of this run");
        return TU_LOG_STARTED;
    } else {
        tell_stray(plan, hit, unit, text);
        mark(hit, &plan->touch[index], false);
        return TU_LOG_STRAY;
    }
    forget(plan, &plan->anew);
    return landing;
}

void tu_log_plan_skip(tu_log_plan *plan, uint64_t count)
{
    tu_log_course *course = &plan->course;
    size_t left = plan->count - course->next;
    course->next += count < left ? (size_t)count : left;
    course->taught_count = 0;
    course->skipped = true;
    forget(plan, &plan->anew);
}

bool tu_log_plan_is_done(const tu_log_plan *plan)
{
    return plan->touch && plan->course.next >= plan->count;
}
