/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_contact.c - what a real contact adds to geometry: it wanders as things warm up, and it
 * bounces when it opens.
 */
#include "program/rehearse_run.h"

#include <math.h>

/* --- Wandering --- */

static double wander_along(const tu_scene *scene, tu_axis axis, double seconds)
{
    double tau = scene->warm_up_tau_s;
    double risen = tau > 0.0 ? -expm1(-seconds / tau) : 0.0;
    return scene->drift_mm_per_s[axis] * seconds + scene->warm_up_mm[axis] * risen;
}

bool tu_run_wanders(const tu_rehearsal_run *run)
{
    bool any = false;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        any = any || run->scene->drift_mm_per_s[axis] != 0.0 || run->scene->warm_up_mm[axis] != 0.0;
    return any;
}

tu_machine_point tu_run_wander(const tu_rehearsal_run *run, double seconds)
{
    tu_machine_point by = {0.0, 0.0, 0.0};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        tu_machine_point_set(&by, (tu_axis)axis, wander_along(run->scene, (tu_axis)axis, seconds));
    return by;
}

tu_machine_point tu_run_true_point(const tu_rehearsal_run *run, tu_machine_point point,
                                   double seconds)
{
    tu_machine_point by = tu_run_wander(run, seconds);
    return (tu_machine_point){point.x - by.x, point.y - by.y, point.z - by.z};
}

tu_path tu_run_true_path(const tu_rehearsal_run *run, const tu_path *path, double seconds)
{
    tu_path moved = *path;
    moved.from = tu_run_true_point(run, path->from, seconds);
    return moved;
}

double tu_run_tolerated_mm(const tu_rehearsal_run *run)
{
    if (!(run->tolerated_mm > 0.0))
        return run->tolerated_mm;
    tu_machine_point then = tu_run_wander(run, run->touched_s);
    tu_machine_point now = tu_run_wander(run, run->result->seconds);
    return run->tolerated_mm + hypot(hypot(now.x - then.x, now.y - then.y), now.z - then.z);
}

/* --- Bouncing --- */

void tu_run_close_contact(tu_rehearsal_run *run, const tu_solid *solid, double seconds)
{
    run->touched = solid;
    run->touched_s = seconds;
    run->open_s = INFINITY;
}

/* The tip there, seen from where the solids are. */
static bool is_clear(const tu_rehearsal_run *run, const tu_path *path, double travel_mm)
{
    return tu_solid_clearance(run->touched, &run->cutter, tu_path_point(path, travel_mm), 0.0) >=
           0.0;
}

void tu_run_open_contact(tu_rehearsal_run *run, const tu_path *path, double feed_mm_per_min)
{
    if (run->touched == NULL || !isinf(run->open_s) || run->open_s < 0.0 ||
        !(run->scene->bounce_s > 0.0))
        return;
    double low = 0.0, high = path->length_mm;
    if (!is_clear(run, path, high))
        return;
    if (is_clear(run, path, low))
        high = low;
    for (int i = 0; i < 60 && high > low; i++) {
        double middle = (low + high) / 2.0;
        if (is_clear(run, path, middle))
            high = middle;
        else
            low = middle;
    }
    run->open_s = run->result->seconds + high / feed_mm_per_min * 60.0;
}

bool tu_run_bounces(const tu_rehearsal_run *run)
{
    return run->scene->bounce_s > 0.0 && run->result->seconds - run->open_s < run->scene->bounce_s;
}
