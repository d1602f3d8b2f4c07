/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * cutter.c - how far a cutter reaches sideways when it touches a wall.
 *
 * docs/geometry.md derives and draws each formula. A wall fills the heights below its top edge, so
 * the contact is the widest place of the cutter between its tip and that edge.
 */
#include "trueup/cutter.h"

#include <math.h>

/* A reach with its derivative by the depth. */
typedef struct reach {
    double radius_mm;
    double slope;
} reach;

static reach reach_of_arc(double inner_mm, double arc_mm, double depth_mm)
{
    double half_chord = sqrt(depth_mm * (2.0 * arc_mm - depth_mm));
    return (reach){inner_mm + half_chord, (arc_mm - depth_mm) / half_chord};
}

static reach reach_of_shape(const tu_cutter *cutter, double depth_mm)
{
    double radius = cutter->diameter.value_mm / 2.0;
    reach full = {radius, 0.0};
    switch (cutter->shape) {
    case TU_CUTTER_BALL:
        return depth_mm >= radius ? full : reach_of_arc(0.0, radius, depth_mm);
    case TU_CUTTER_BULL: {
        double corner = cutter->corner_radius.value_mm;
        return depth_mm >= corner ? full : reach_of_arc(radius - corner, corner, depth_mm);
    }
    case TU_CUTTER_VEE: {
        double slope = tan(cutter->included_rad / 2.0);
        double tip = isnan(cutter->tip.value_mm) ? 0.0 : cutter->tip.value_mm;
        reach cone = {tip / 2.0 + depth_mm * slope, slope};
        return cone.radius_mm < radius ? cone : full;
    }
    case TU_CUTTER_FLAT:
        break;
    }
    return full;
}

static tu_status check_shape(const tu_cutter *cutter, tu_error *error)
{
    double radius = cutter->diameter.value_mm / 2.0;
    if (!(radius > 0.0) || isinf(radius))
        return tu_fail(error, TU_DATA_RANGE, "cutter", "the diameter must be above zero");
    if (cutter->shape == TU_CUTTER_BULL &&
        !(cutter->corner_radius.value_mm > 0.0 && cutter->corner_radius.value_mm <= radius))
        return tu_fail(error, TU_DATA_RANGE, "cutter",
                       "the corner radius must be above 0 and at most half the diameter");
    if (cutter->shape == TU_CUTTER_VEE &&
        !(cutter->included_rad > 0.0 && cutter->included_rad < M_PI))
        return tu_fail(error, TU_DATA_RANGE, "cutter",
                       "the included angle must lie between 0 and 180 degrees");
    return TU_OK;
}

tu_status tu_cutter_profile_radius(const tu_cutter *cutter, double depth_mm, double *radius_mm,
                                   double *slope, tu_error *error)
{
    *radius_mm = NAN;
    if (slope != NULL)
        *slope = NAN;
    tu_status status = check_shape(cutter, error);
    if (status)
        return status;
    if (isnan(depth_mm) && cutter->shape != TU_CUTTER_FLAT)
        return tu_fail(error, TU_DATA_MISSING, "{depth}",
                       "this cutter's reach depends on how deep it stands beside the wall: give "
                       "{depth}, or touch_depth of the wall in the shop file");
    if (!isnan(depth_mm) && (!(depth_mm > 0.0) || isinf(depth_mm)))
        return tu_fail(error, TU_DATA_RANGE, "{depth}",
                       "the tip must be below the wall's top edge to touch it: the depth must be "
                       "above zero");
    reach found = reach_of_shape(cutter, depth_mm);
    *radius_mm = found.radius_mm;
    if (slope != NULL)
        *slope = found.slope;
    return TU_OK;
}

/* The height over which the cutter's full radius stands beside the wall; 0 where only a point of
 * its round or cone touches the wall's top edge. */
static double full_radius_height(const tu_cutter *cutter, double depth_mm)
{
    double radius = cutter->diameter.value_mm / 2.0;
    double below = 0.0;
    switch (cutter->shape) {
    case TU_CUTTER_FLAT:
        break;
    case TU_CUTTER_BALL:
        below = radius;
        break;
    case TU_CUTTER_BULL:
        below = cutter->corner_radius.value_mm;
        break;
    case TU_CUTTER_VEE: {
        double tip = isnan(cutter->tip.value_mm) ? 0.0 : cutter->tip.value_mm;
        below = (radius - tip / 2.0) / tan(cutter->included_rad / 2.0);
        break;
    }
    }
    return isnan(depth_mm) ? 0.0 : fmax(depth_mm - below, 0.0);
}

/* The core limits the loss only beside the full radius: near a round or pointed tip it is thinner
 * than stated. */
static double core_radius(const tu_cutter *cutter, double profile_mm)
{
    double core = cutter->core.value_mm / 2.0;
    bool full = profile_mm >= cutter->diameter.value_mm / 2.0;
    return full && core > 0.0 ? fmin(core, profile_mm) : 0.0;
}

/*
 * Mean and standard deviation of r cos(delta), not less than the core, with delta even over
 * [0, within]: of all places that the wall may have beside an edge. Where edges sweep along the
 * wall, a share of all spindle angles has an edge right at it; counting that share in would narrow
 * the spread below what two standard deviations must hold (a peak with a tail to one side).
 */
static void reach_moments(double r, double core, double within, double *mean, double *standard)
{
    double bend = core > 0.0 ? acos(fmin(core / r, 1.0)) : M_PI_2; /* here the core takes over */
    double edge = fmin(within, bend);
    double first = (r * sin(edge) + core * (within - edge)) / within;
    double second =
        (r * r * (edge / 2.0 + sin(2.0 * edge) / 4.0) + core * core * (within - edge)) / within;
    double spread = sqrt(fmax(second - first * first, 0.0));
    if (within < 0.01 && within <= bend)
        spread = r * within * within / sqrt(45.0); /* the difference above would cancel */
    *mean = first;
    *standard = spread;
}

tu_flute_loss tu_cutter_flute_loss(const tu_cutter *cutter, double profile_mm, double depth_mm)
{
    tu_flute_loss loss = {.mean_reach_mm = profile_mm};
    if (cutter->flutes <= 0 || !(profile_mm > 0.0))
        return loss;
    double helix = isnan(cutter->helix_rad) ? 0.0 : cutter->helix_rad;
    double pitch = 2.0 * M_PI / cutter->flutes;
    double swept = full_radius_height(cutter, depth_mm) * tan(helix) / profile_mm;
    loss.gap_rad = pitch - swept;
    loss.turned = cutter->turned_within_rad > 0.0; /* nobody turns it exactly: 0 says nothing */
    if (loss.gap_rad <= 0.0)
        return loss;
    double half_gap = loss.gap_rad / 2.0;
    double core = core_radius(cutter, profile_mm);
    loss.within_rad = loss.turned ? fmin(cutter->turned_within_rad, half_gap) : half_gap;
    reach_moments(profile_mm, core, loss.within_rad, &loss.mean_reach_mm, &loss.standard_mm);
    loss.worst_loss_mm = profile_mm - fmax(profile_mm * cos(loss.within_rad), core);
    return loss;
}
