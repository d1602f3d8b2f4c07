/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rehearse_touch.c - probe moves, and what the operator turns for them.
 */
#include "program/rehearse_run.h"
#include "trueup/zero.h"

#include <math.h>
#include <string.h>

/* Contacts nearer together than this are one: a plate flush with the stock's edge. */
static const double same_contact_mm = 1e-6;
/* Beyond the overrun: rounding of the position, and of geometry. */
static const double tolerance_mm = 0.002;

/* --- Random numbers --- */

double tu_run_random(uint64_t *random)
{
    *random += 0x9E3779B97F4A7C15U;
    uint64_t z = *random;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBU;
    z ^= z >> 31;
    return (double)(z >> 11) * 0x1p-53;
}

double tu_run_random_normal(uint64_t *random)
{
    double u, v, s;
    do {
        u = 2.0 * tu_run_random(random) - 1.0;
        v = 2.0 * tu_run_random(random) - 1.0;
        s = u * u + v * v;
    } while (s >= 1.0 || s == 0.0);
    return u * sqrt(-2.0 * log(s) / s);
}

/* --- Announcements --- */

static bool starts_with(const char *text, const char *word)
{
    for (; *word != '\0'; text++, word++)
        if (*text != *word && *text != *word - 'a' + 'A')
            return false;
    return true;
}

void tu_run_take_comment(tu_rehearsal_run *run, const char *comment)
{
    comment += strspn(comment, " ");
    if (!starts_with(comment, "touch "))
        return;
    const char *word = comment + strlen("touch ");
    word += strspn(word, " ");
    size_t length = strcspn(word, " ,");
    if (length >= sizeof run->series)
        length = sizeof run->series - 1;
    memcpy(run->series, word, length);
    run->series[length] = '\0';
    const char *comma = strrchr(word, ',');
    run->is_search = false;
    if (comma != NULL) {
        comma += 1 + strspn(comma + 1, " ");
        run->is_search =
            starts_with(comma, "search") && strspn(comma + 6, " ") == strlen(comma + 6);
    }
}

/* --- Touches --- */

static tu_axis longest_axis(const tu_path *path)
{
    double x = fabs(path->x), y = fabs(path->y), z = fabs(path->z);
    return x >= y && x >= z ? TU_AXIS_X : y >= z ? TU_AXIS_Y : TU_AXIS_Z;
}

static double along(const tu_path *path, tu_axis axis)
{
    return axis == TU_AXIS_X ? path->x : axis == TU_AXIS_Y ? path->y : path->z;
}

/* Where the tip stops after a contact: latched late, off by noise, at a whole step. */
static tu_machine_point resting_place(tu_rehearsal_run *run, const tu_machine_step *step,
                                      const tu_path *path, double contact_mm)
{
    const tu_scene *scene = run->scene;
    double travel = contact_mm + scene->latch_delay_s * tu_run_feed(run, step) / 60.0;
    if (scene->noise_mm > 0.0)
        travel += scene->noise_mm * tu_run_random_normal(&run->random);
    tu_machine_point place = tu_path_point(path, fmax(travel, 0.0));
    double grid = scene->machine.step_mm;
    for (int axis = 0; axis < TU_AXIS_COUNT && !isnan(grid); axis++) {
        if (along(path, (tu_axis)axis) != 0.0) {
            double value = tu_machine_point_along(place, (tu_axis)axis);
            tu_machine_point_set(&place, (tu_axis)axis, round(value / grid) * grid);
        }
    }
    return place;
}

/* The device's clock in microseconds; a dwell of ages stops it rather than overflowing it. */
static uint64_t device_clock_us(double seconds)
{
    return seconds < 1e12 ? (uint64_t)(seconds * 1e6 + 0.5) : UINT64_MAX;
}

static tu_status tell_hit(tu_rehearsal_run *run, const tu_path *path, double tip_z_mm)
{
    tu_axis axis = longest_axis(path);
    tu_hit hit = {.sequence = ++run->result->hits,
                  .device_us = device_clock_us(run->result->seconds),
                  .position = run->state.position,
                  .axis = axis,
                  .direction = along(path, axis) < 0.0 ? -1 : 1,
                  .ok = !run->is_search};
    memcpy(hit.series, run->series, sizeof hit.series);
    tu_run_watch_hit(run, &hit, run->touched, tip_z_mm);
    run->series[0] = '\0';
    run->is_search = false;
    return run->sink != NULL && run->sink->hit != NULL ? run->sink->hit(run->sink->context, &hit)
                                                       : TU_OK;
}

/* What a probe move meets first: what gives a signal, and what does not. */
typedef struct meeting {
    double signal_mm, silent_mm; /* INFINITY: nothing */
    const tu_solid *signal, *silent;
} meeting;

static tu_status make_hit(tu_rehearsal_run *run, const tu_machine_step *step, const tu_path *path,
                          const meeting *met)
{
    double contact_mm = met->signal_mm;
    double contact_s = run->result->seconds + contact_mm / tu_run_feed(run, step) * 60.0;
    tu_machine_point touched = tu_run_true_point(run, tu_path_point(path, contact_mm), contact_s);
    tu_machine_point place = resting_place(run, step, path, contact_mm);
    tu_machine_point from = path->from;
    double travel =
        (place.x - from.x) * path->x + (place.y - from.y) * path->y + (place.z - from.z) * path->z;
    run->tolerated_mm = fmax(travel - contact_mm, 0.0) + tolerance_mm;
    if (!tu_run_check_travel(run, place, "latched late, this touch would end"))
        return TU_OK;
    tu_run_close_contact(run, met->signal, contact_s);
    tu_status status = tu_run_arrive(run, step, place, true);
    tu_machine_store_trip(&run->state);
    return !status ? tell_hit(run, path, touched.z) : status;
}

static bool gives_signal(const tu_rehearsal_run *run, const tu_solid *solid)
{
    return solid->conducts && run->scene->clip_on;
}

static meeting meet_at(const tu_rehearsal_run *run, const tu_path *path, double seconds)
{
    meeting met = {INFINITY, INFINITY, NULL, NULL};
    tu_path true_path = tu_run_true_path(run, path, seconds);
    double tolerated = tu_run_tolerated_mm(run);
    for (size_t i = 0; i < run->solids.count; i++) {
        const tu_solid *solid = &run->solids.solid[i];
        double travel = tu_solid_first_contact(solid, &run->cutter, &true_path, tolerated);
        if (gives_signal(run, solid)) {
            if (travel < met.signal_mm) {
                met.signal_mm = travel;
                met.signal = solid;
            }
        } else if (travel < met.silent_mm) {
            met.silent_mm = travel;
            met.silent = solid;
        }
    }
    return met;
}

/* Where contacts wander, they do so on the way, too: the place settles within a few rounds, for
 * nothing wanders nearly as fast as a touch goes. */
static meeting meet(const tu_rehearsal_run *run, const tu_machine_step *step, const tu_path *path)
{
    double start = run->result->seconds;
    meeting met = meet_at(run, path, start);
    for (int i = 0; i < 4 && tu_run_wanders(run); i++) {
        double travel = fmin(fmin(met.signal_mm, met.silent_mm), path->length_mm);
        met = meet_at(run, path, start + travel / tu_run_feed(run, step) * 60.0);
    }
    return met;
}

static const tu_solid *already_touching(const tu_rehearsal_run *run)
{
    tu_machine_point tip = tu_run_true_point(run, run->state.position, run->result->seconds);
    for (size_t i = 0; i < run->solids.count; i++) {
        const tu_solid *solid = &run->solids.solid[i];
        if (gives_signal(run, solid) &&
            tu_solid_clearance(solid, &run->cutter, tip, 0.0) <= same_contact_mm)
            return solid;
    }
    return NULL;
}

/* The move goes on to its end, or to where something tells it to stop at last. */
static tu_status miss(tu_rehearsal_run *run, const tu_machine_step *step, const tu_path *path,
                      const meeting *met)
{
    double stop = fmin(path->length_mm, met->signal_mm);
    tu_status status = tu_run_arrive(run, step, tu_path_point(path, stop), met->silent != NULL);
    tu_machine_store_trip(&run->state);
    run->result->at = run->state.position;
    if (met->silent != NULL) {
        run->result->pressed_mm = stop - met->silent_mm;
        run->result->at = tu_path_point(path, met->silent_mm);
    }
    tu_run_fail_probe(run, path, met->silent);
    return status;
}

tu_status tu_run_probe(tu_rehearsal_run *run, const tu_machine_step *step)
{
    const tu_solid *touched = already_touching(run);
    if (touched != NULL) {
        tu_run_fail_touching(run, touched);
        return TU_OK;
    }
    if (tu_run_bounces(run)) {
        tu_run_fail_bouncing(run);
        return TU_OK;
    }
    tu_path path = tu_path_between(run->state.position, step->target);
    meeting met = meet(run, step, &path);
    if (isfinite(met.signal_mm) && met.signal_mm <= met.silent_mm + same_contact_mm)
        return make_hit(run, step, &path, &met);
    return miss(run, step, &path, &met);
}

/* --- The operator --- */

/*
 * The direction of the next touch that goes sideways, before the next pause: reads ahead as if no
 * touch met anything. NaN: there is none, or none can be told.
 */
static double next_sideways_rad(const tu_rehearsal_run *run)
{
    tu_machine_state state = run->state;
    tu_rs274_reader reader = run->reader;
    for (;;) {
        tu_rs274_block block;
        bool have;
        tu_machine_step step;
        tu_machine_refusal refusal;
        if (tu_rs274_next(&reader, state.parameter, &block, &have, NULL) || !have)
            return NAN;
        tu_machine_execute(&state, &block, &step, &refusal);
        if (refusal.fault != TU_FAULT_NONE)
            return NAN;
        double x = step.target.x - state.position.x, y = step.target.y - state.position.y;
        double z = step.target.z - state.position.z;
        state.position = step.target;
        if (step.motion == TU_MOTION_PROBE) {
            if (hypot(x, y) > fabs(z))
                return atan2(y, x);
            tu_machine_store_trip(&state);
        }
        if (block.pause || block.end)
            return NAN;
    }
}

/*
 * The height above the tip at which an edge meets the wall: where the full radius begins, or at the
 * wall's top edge where that is lower. A person turns the edge there to the wall, not its tip: on a
 * helix the two stand at different angles.
 */
static double meeting_height_mm(const tu_rehearsal_run *run, double towards_rad)
{
    const tu_plate *plate = &run->scene->plate;
    tu_axis axis = fabs(cos(towards_rad)) >= fabs(sin(towards_rad)) ? TU_AXIS_X : TU_AXIS_Y;
    int wall = tu_plate_wall_for(plate, run->scene->plate_corner, axis);
    double depth = plate->bore.present ? plate->bore.touch_depth.value_mm
                                       : plate->wall[wall].touch_depth.value_mm;
    return fmin(run->cutter.full_mm, depth); /* a depth that is NaN leaves the full radius */
}

void tu_run_turn_cutter(tu_rehearsal_run *run)
{
    double within = run->scene->turned_within_rad;
    if (isnan(within))
        return;
    double towards = next_sideways_rad(run);
    if (isnan(towards))
        return;
    double climbed = run->cutter.climb_rad_per_mm * meeting_height_mm(run, towards);
    run->cutter.angle_rad = towards - climbed + within * (2.0 * tu_run_random(&run->random) - 1.0);
}
