/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_promises.c - see plan_promises.h.
 */
#include "plan_promises.h"

#include "program/machine.h"
#include "sample_plan.h"

#include <math.h>
#include <stdio.h>

/* Steps, noise and rounding that a summary does not count. */
static const double slack_mm = 0.05, press_slack_mm = 0.02;

static bool stays_in_space(const sample_run *run, const tu_rehearsal_move *move,
                           const tu_plan_summary *summary, char *text, size_t size)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        double by = tu_machine_point_along(move->to, (tu_axis)axis) -
                    tu_machine_point_along(run->scene.start, (tu_axis)axis);
        const double *space = summary->space_mm[axis];
        if (by < space[0] - slack_mm || by > space[1] + slack_mm) {
            snprintf(text, size, "line %zu moves axis %d by %.3f, stated %.3f to %.3f", move->line,
                     axis, by, space[0], space[1]);
            return false;
        }
    }
    return true;
}

static bool presses_as_stated(const tu_rehearsal_move *move, const char *program,
                              const tu_plan_style *style, const tu_plan_summary *summary,
                              char *text, size_t size)
{
    double travel = hypot(hypot(move->to.x - move->from.x, move->to.y - move->from.y),
                          move->to.z - move->from.z);
    double press = sample_plan_probe_length(program, move->line, style->unit) - travel;
    double most = summary->worst_press_mm[move->from.z != move->to.z];
    if (press <= most + press_slack_mm && press >= style->press_mm - press_slack_mm)
        return true;
    snprintf(text, size, "line %zu could press %.3f of %.3f", move->line, press, most);
    return false;
}

bool plan_promises_hold(const sample_run *run, const char *program, const tu_plan_style *style,
                        const tu_plan_summary *summary, char *text, size_t size)
{
    for (size_t i = 0; i < run->moves && i < SAMPLE_RUN_MOVES; i++) {
        const tu_rehearsal_move *move = &run->move[i];
        if (!stays_in_space(run, move, summary, text, size) ||
            (move->kind == 2 && !presses_as_stated(move, program, style, summary, text, size)))
            return false;
    }
    return true;
}
