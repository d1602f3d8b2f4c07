/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_fault.c - what went wrong, and what a person at the machine would see.
 */
#include "program/rehearse_run.h"

#include "base/utf8.h"
#include "trueup/number.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

typedef struct shown_point {
    char text[3 * TU_NUMBER_TEXT_SIZE + 8];
} shown_point;

typedef struct shown_name {
    char text[TU_NAME_SIZE + 8];
} shown_name;

static shown_point show_point(tu_machine_point point)
{
    char number[TU_AXIS_COUNT][TU_NUMBER_TEXT_SIZE];
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        tu_number_format(number[axis], sizeof number[axis],
                         tu_machine_point_along(point, (tu_axis)axis), 3);
    shown_point shown;
    snprintf(shown.text, sizeof shown.text, "X%s Y%s Z%s", number[0], number[1], number[2]);
    return shown;
}

/* Plate, stock and bed are one of a kind; a block has a name. */
static bool is_block(const tu_rehearsal_run *run, const tu_solid *solid)
{
    size_t index = (size_t)(solid - run->solids.solid);
    return index >= run->solids.count - run->scene->block_count;
}

static shown_name show_solid(const tu_rehearsal_run *run, const tu_solid *solid)
{
    shown_name shown;
    snprintf(shown.text, sizeof shown.text, "%s%s", is_block(run, solid) ? "" : "the ",
             solid->name);
    return shown;
}

static void name_struck(tu_rehearsal_run *run, const tu_solid *solid)
{
    snprintf(run->result->struck, sizeof run->result->struck, "%s", solid->name);
}

void tu_run_fail(tu_rehearsal_run *run, tu_fault fault, const char *format, ...)
{
    tu_rehearsal *result = run->result;
    result->fault = fault;
    result->line = run->line;
    if (fault != TU_FAULT_NO_CONTACT && fault != TU_FAULT_PRESSED)
        result->at = run->state.position;
    int used = snprintf(result->text, sizeof result->text, "line %zu: ", run->line);
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(result->text + used, sizeof result->text - (size_t)used, format, arguments);
    va_end(arguments);
    tu_utf8_tidy(result->text);
}

bool tu_run_check_travel(tu_rehearsal_run *run, tu_machine_point point, const char *what)
{
    const double slack_mm = 1e-6;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double value = tu_machine_point_along(point, (tu_axis)axis);
        double low = tu_machine_travel_low(&run->scene->machine, (tu_axis)axis);
        double high = tu_machine_travel_high(&run->scene->machine, (tu_axis)axis);
        if (value >= low - slack_mm && value <= high + slack_mm)
            continue;
        char shown[3][TU_NUMBER_TEXT_SIZE];
        tu_number_format_exact(shown[0], sizeof shown[0], low);
        tu_number_format_exact(shown[1], sizeof shown[1], high);
        tu_number_format(shown[2], sizeof shown[2], value, 3);
        char letter = tu_axis_letter((tu_axis)axis);
        tu_run_fail(run, TU_FAULT_TRAVEL,
                    "%s at %c%s in machine coordinates, outside the travel %s to %s; the machine "
                    "would refuse it or run into its stop",
                    what, letter, shown[2], shown[0], shown[1]);
        return false;
    }
    return true;
}

static const char *consequence(const tu_rehearsal_run *run, const tu_solid *struck)
{
    if (is_block(run, struck))
        return "the cutter would break, or push it away";
    if (struck->bed != NULL)
        return "the cutter would go into the bed";
    return struck->conducts ? "it would push the plate off its seat, or break the cutter"
                            : "it would mark the stock, or break the cutter";
}

void tu_run_fail_collision(tu_rehearsal_run *run, const tu_machine_step *step,
                           const tu_solid *struck, bool dragged)
{
    name_struck(run, struck);
    tu_run_fail(run, TU_FAULT_COLLISION, "the cutter %s %s at %s while %s; on the machine %s",
                dragged ? "was not lifted clear after a touch and dragged along" : "ran into",
                show_solid(run, struck).text, show_point(run->state.position).text,
                step->motion == TU_MOTION_RAPID ? "traversing (G0)" : "moving at feed (G1)",
                consequence(run, struck));
}

void tu_run_fail_touching(tu_rehearsal_run *run, const tu_solid *touched)
{
    name_struck(run, touched);
    tu_run_fail(run, TU_FAULT_ALREADY_TOUCHING,
                "the probe move starts at %s in contact with %s: the circuit is closed already and "
                "nothing could be found; lift clear before it",
                show_point(run->state.position).text, show_solid(run, touched).text);
}

void tu_run_fail_bouncing(tu_rehearsal_run *run)
{
    char since[TU_NUMBER_TEXT_SIZE], bounce[TU_NUMBER_TEXT_SIZE];
    double open = run->result->seconds - run->open_s;
    name_struck(run, run->touched);
    tu_number_format(since, sizeof since, fmax(open, 0.0) * 1e3, 1);
    tu_number_format(bounce, sizeof bounce, run->scene->bounce_s * 1e3, 1);
    tu_run_fail(run, TU_FAULT_ALREADY_TOUCHING,
                "the probe move starts %s ms after the cutter left %s, and the contact bounces for "
                "%s ms: the machine sees a closed circuit and nothing could be found; lift "
                "further, or wait before it (G4)",
                since, show_solid(run, run->touched).text, bounce);
}

typedef struct shown_direction {
    char text[16];
} shown_direction;

/* "down", or "towards X-". */
static shown_direction show_direction(const tu_path *path)
{
    const double part[] = {path->x, path->y, path->z};
    int axis = 0;
    for (int i = 1; i < TU_AXIS_COUNT; i++)
        axis = fabs(part[i]) > fabs(part[axis]) ? i : axis;
    shown_direction shown;
    if (axis == TU_AXIS_Z)
        snprintf(shown.text, sizeof shown.text, "%s", part[axis] < 0.0 ? "down" : "up");
    else
        snprintf(shown.text, sizeof shown.text, "towards %c%c", tu_axis_letter((tu_axis)axis),
                 part[axis] < 0.0 ? '-' : '+');
    return shown;
}

void tu_run_fail_probe(tu_rehearsal_run *run, const tu_path *path, const tu_solid *struck)
{
    shown_direction direction = show_direction(path);
    if (struck == NULL) {
        tu_run_fail(run, TU_FAULT_NO_CONTACT,
                    "the touch %s ended at %s without meeting anything; the machine would stop "
                    "here with an error; perhaps it started from the wrong place, or plate or "
                    "cutter is not the one that was planned for",
                    direction.text, show_point(run->state.position).text);
        return;
    }
    name_struck(run, struck);
    char pressed[TU_NUMBER_TEXT_SIZE];
    tu_number_format(pressed, sizeof pressed, run->result->pressed_mm, 3);
    if (struck->conducts) {
        tu_run_fail(run, TU_FAULT_NO_CONTACT,
                    "the touch %s met %s at %s but got no signal, the clip is off: it pressed on "
                    "for %s mm, then the machine would stop with an error",
                    direction.text, show_solid(run, struck).text, show_point(run->result->at).text,
                    pressed);
        return;
    }
    tu_run_fail(run, TU_FAULT_PRESSED,
                "the touch %s met %s at %s, which gives no signal, and pressed on for %s mm; on "
                "the machine %s",
                direction.text, show_solid(run, struck).text, show_point(run->result->at).text,
                pressed, consequence(run, struck));
}
