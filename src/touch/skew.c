/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * skew.c - stock that is not square to the machine: its angle, and the corner under it.
 */
#include "touch/skew.h"
#include "touch/request.h"

#include "touch/shown.h"

#include <math.h>
#include <string.h>

/* Shorter than this, two contacts tell nothing about an angle. */
#define BASELINE_MIN_MM 5.0

/* One baseline as an angle of the stock. */
typedef struct edge_angle {
    double angle_rad;
    double length_mm;
    int edge_axis; /* the axis that the edge runs along */
} edge_angle;

static tu_status measure_baseline(const tu_baseline *baseline, tu_unit unit, edge_angle *edge,
                                  tu_error *error)
{
    double dx = baseline->to.x - baseline->from.x;
    double dy = baseline->to.y - baseline->from.y;
    if (!isfinite(dx) || !isfinite(dy))
        return tu_fail(error, TU_DATA_RANGE, "{skew_from}", "a coordinate is not a finite number");
    edge->length_mm = hypot(dx, dy);
    if (edge->length_mm < BASELINE_MIN_MM)
        return tu_fail(
            error, TU_DATA_RANGE, "{skew_from}",
            "the two contacts are %s apart; they must be at least %s apart, the farther the "
            "better",
            tu_show_length(unit, edge->length_mm).text, tu_show_short(unit, BASELINE_MIN_MM).text);
    edge->edge_axis = fabs(dx) >= fabs(dy) ? TU_AXIS_X : TU_AXIS_Y;
    /* An edge has no direction: take the one in which it runs up its axis. */
    edge->angle_rad = edge->edge_axis == TU_AXIS_X ? atan(dy / dx) : atan(-dx / dy);
    if (fabs(edge->angle_rad) > TU_SKEW_MAX_RAD)
        return tu_fail(
            error, TU_DATA_RANGE, "{skew_from}",
            "the two contacts run %.1f degrees off the nearest axis: more than %g is too "
            "far to tell which edge they are on; turn the stock straighter",
            fabs(edge->angle_rad) * 180.0 / M_PI, TU_SKEW_MAX_RAD * 180.0 / M_PI);
    return TU_OK;
}

/* Where the angles of two baselines differ, either the stock's edges are not square to each other
 * or a contact is bad; 0.05 mm between the ends of the shorter one is what touches may do. (Common
 * practice, no source.) */
static void compare_edges(const edge_angle *kept, const edge_angle *other, tu_warnings *warnings)
{
    double difference = kept->angle_rad - other->angle_rad;
    if (fabs(difference) * other->length_mm > 0.05)
        tu_warn(warnings,
                "the baselines disagree by %.2f mm per metre (%.3f degrees): the stock's edges are "
                "not square to each other, or a contact is bad. The longer one was used.",
                fabs(difference) * 1000.0, fabs(difference) * 180.0 / M_PI);
}

tu_status tu_skew_measure(const tu_zero_request *request, tu_skew *skew, tu_warnings *warnings,
                          tu_error *error)
{
    edge_angle edges[TU_BASELINES_MAX];
    size_t longest = 0;
    *skew = (tu_skew){.angle_rad = NAN, .standard_rad = NAN, .baseline_mm = NAN};
    for (size_t i = 0; i < request->baseline_count; i++) {
        tu_status status =
            measure_baseline(&request->baseline[i], request->read_unit, &edges[i], error);
        if (status)
            return status;
        longest = edges[i].length_mm > edges[longest].length_mm ? i : longest;
    }
    if (request->baseline_count == 0)
        return TU_OK;
    for (size_t i = 0; i < request->baseline_count; i++)
        compare_edges(&edges[longest], &edges[i], warnings);
    *skew = (tu_skew){.known = true,
                      .angle_rad = edges[longest].angle_rad,
                      .standard_rad = NAN,
                      .baseline_mm = edges[longest].length_mm,
                      .edge_axis = edges[longest].edge_axis};
    return TU_OK;
}

/* Each end was touched once, along the axis across the edge, and scatters as the touches of that
 * axis do. The cutter's radius is the same at both ends and cancels, but its flutes may stand
 * differently. */
static double judge_angle(const tu_zero_request *request, const tu_axis_zero zero[2], tu_skew *skew)
{
    tu_axis across = skew->edge_axis == TU_AXIS_X ? TU_AXIS_Y : TU_AXIS_X;
    tu_repeatability single = tu_axis_repeatability(request, across, &zero[across]);
    double scatter = single.dof > 0.0 ? single.sd_mm : 0.0;
    double step = tu_standard_of_step(request->machine.step_mm);
    double flutes = 0.0;
    if (request->cutter != NULL) {
        tu_cutter cutter = tu_request_cutter(request);
        flutes = tu_cutter_flute_loss(&cutter, cutter.diameter.value_mm / 2.0, NAN).standard_mm;
    }
    double variance = scatter * scatter + step * step + flutes * flutes;
    skew->standard_rad = sqrt(2.0 * variance) / skew->baseline_mm;
    double share = variance > 0.0 ? scatter * scatter / variance : 0.0;
    return share > 0.0 ? single.dof / (share * share) : INFINITY;
}

/* The other axis' part of a source that acts on both, or NULL. */
static const tu_part *find_common(const tu_sideways *side, const tu_part *part)
{
    for (size_t i = 0; part->common && i < side->count; i++)
        if (side->part[i].common && strcmp(side->part[i].source, part->source) == 0)
            return &side->part[i];
    return NULL;
}

/* How the two lines' parts weigh in one coordinate of the corner. */
typedef struct weights {
    double own, own_position, other, other_position;
} weights;

static void add_other_axis(const tu_sideways *own, const tu_sideways *other, weights w,
                           tu_uncertainty *budget)
{
    tu_uncertainty sum = {0};
    for (size_t i = 0; i < other->count; i++) {
        const tu_part *part = &other->part[i];
        if (find_common(own, part) == NULL) {
            double weight = part->of_position ? w.other_position : w.other;
            tu_budget_add(&sum, part->source, fabs(weight * part->effect_mm), part->dof);
        }
    }
    tu_budget_close(&sum, 0.95);
    tu_budget_add(budget, "other axis, through the angle", sum.standard_mm, sum.dof);
}

static void add_parts(const tu_sideways *own, const tu_sideways *other, weights w,
                      tu_uncertainty *budget)
{
    for (size_t i = 0; i < own->count; i++) {
        const tu_part *part = &own->part[i];
        double effect = (part->of_position ? w.own_position : w.own) * part->effect_mm;
        const tu_part *shared = find_common(other, part);
        if (shared != NULL)
            effect += w.other * shared->effect_mm;
        tu_budget_add(budget, part->source, fabs(effect), part->dof);
    }
    add_other_axis(own, other, w, budget);
}

/* The touched point of each line; a bore gives its centre for both. */
static tu_status touched_points(const tu_axis_zero zero[2], tu_machine_plane_point *p1,
                                tu_machine_plane_point *p2, tu_error *error)
{
    bool bore = zero[0].bore && zero[1].bore;
    for (int axis = 0; axis < 2 && !bore; axis++) {
        if (isnan(zero[axis].across_mm)) {
            return tu_fail(error, TU_DATA_MISSING, tu_touches_field((tu_axis)axis),
                           "on a turned stock each touch must also state the other coordinate at "
                           "contact: %s VALUE@%c",
                           tu_touches_field((tu_axis)axis), "YX"[axis]);
        }
    }
    *p1 = (tu_machine_plane_point){zero[0].touch_mm, bore ? zero[1].touch_mm : zero[0].across_mm};
    *p2 = (tu_machine_plane_point){bore ? zero[0].touch_mm : zero[1].across_mm, zero[1].touch_mm};
    return TU_OK;
}

tu_status tu_skew_solve_corner(const tu_zero_request *request, tu_skew *skew, tu_axis_zero zero[2],
                               const tu_sideways side[2], tu_error *error)
{
    tu_machine_plane_point p1 = {NAN, NAN};
    tu_machine_plane_point p2 = {NAN, NAN};
    tu_status status = touched_points(zero, &p1, &p2, error);
    if (status)
        return status;
    double skew_dof = judge_angle(request, zero, skew);
    double c = cos(skew->angle_rad);
    double s = sin(skew->angle_rad);
    double a1 = c * p1.x + s * p1.y - side[0].stand_off_mm;
    double a2 = -s * p2.x + c * p2.y - side[1].stand_off_mm;
    zero[0].zero_mm = c * a1 - s * a2;
    zero[1].zero_mm = s * a1 + c * a2;

    double turn1 = -s * p1.x + c * p1.y; /* d a1 / d angle */
    double turn2 = -c * p2.x - s * p2.y;
    double by_angle[2] = {-s * a1 - c * a2 + c * turn1 - s * turn2,
                          c * a1 - s * a2 + s * turn1 + c * turn2};
    bool bore = zero[0].bore && zero[1].bore;
    for (int axis = 0; axis < 2; axis++) {
        double cross = axis == 0 ? s : -s;
        weights w = {.own = -c, .own_position = c * c, .other = cross, .other_position = cross * c};
        if (bore) { /* the midpoint is the centre itself, whatever the angle */
            w.own_position = 1.0;
            w.other_position = 0.0;
        }
        tu_uncertainty *budget = &zero[axis].uncertainty;
        add_parts(&side[axis], &side[1 - axis], w, budget);
        tu_budget_add(budget, "stock angle", fabs(by_angle[axis]) * skew->standard_rad, skew_dof);
    }
    return TU_OK;
}
