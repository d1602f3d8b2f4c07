/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * cutter_solid.c - the cutter as a solid: its outline, its flutes and its core.
 */
#include "program/solids.h"

#include <math.h>

/* Between two points of an edge on the full radius: what bulges between them is 4e-5 mm on 3 mm. */
static const double edge_step_rad = 0.01;
enum { ROUND_STEPS = 160, END_STEPS = 4 };

tu_cutter_solid tu_cutter_solid_start(const tu_cutter *cutter, double angle_rad)
{
    double radius = cutter->diameter.value_mm / 2.0;
    tu_cutter_solid solid = {.shape = cutter->shape,
                             .radius_mm = radius,
                             .flat_mm = radius,
                             .flutes = cutter->flutes > 0 ? cutter->flutes : 0,
                             .core_mm = radius * TU_CUTTER_CORE_SHARE,
                             .angle_rad = angle_rad};
    switch (cutter->shape) {
    case TU_CUTTER_FLAT:
        break;
    case TU_CUTTER_BALL:
        solid.corner_mm = solid.full_mm = radius;
        solid.flat_mm = 0.0;
        break;
    case TU_CUTTER_BULL:
        solid.corner_mm = solid.full_mm = cutter->corner_radius.value_mm;
        solid.flat_mm = radius - solid.corner_mm;
        break;
    case TU_CUTTER_VEE:
        solid.flank = tan(cutter->included_rad / 2.0);
        solid.flank_cos = cos(cutter->included_rad / 2.0);
        solid.flat_mm = isnan(cutter->tip.value_mm) ? 0.0 : cutter->tip.value_mm / 2.0;
        solid.full_mm = (radius - solid.flat_mm) / solid.flank;
        break;
    }
    if (!isnan(cutter->helix_rad))
        solid.climb_rad_per_mm = tan(cutter->helix_rad) / radius;
    if (tu_quantity_is_stated(cutter->core))
        solid.core_mm = cutter->core.value_mm / 2.0;
    if (tu_quantity_is_stated(cutter->run_out))
        solid.run_out_mm = cutter->run_out.value_mm / 2.0;
    return solid;
}

double tu_cutter_solid_radius(const tu_cutter_solid *cutter, double height_mm)
{
    if (height_mm >= cutter->full_mm)
        return cutter->radius_mm;
    if (cutter->shape == TU_CUTTER_VEE)
        return cutter->flat_mm + height_mm * cutter->flank;
    double down = cutter->corner_mm - height_mm;
    return cutter->flat_mm + sqrt(fmax(cutter->corner_mm * cutter->corner_mm - down * down, 0.0));
}

double tu_cutter_solid_height(const tu_cutter_solid *cutter, double radius_mm)
{
    double out = radius_mm - cutter->flat_mm;
    if (out <= 0.0)
        return 0.0;
    if (radius_mm > cutter->radius_mm)
        return INFINITY;
    if (cutter->shape == TU_CUTTER_VEE)
        return out / cutter->flank;
    return cutter->corner_mm - sqrt(fmax(cutter->corner_mm * cutter->corner_mm - out * out, 0.0));
}

double tu_cutter_solid_gap(const tu_cutter_solid *cutter, double aside_mm, double above_mm)
{
    double outside = fmax(above_mm, aside_mm - cutter->radius_mm);
    if (cutter->shape == TU_CUTTER_VEE) {
        /* Between the flank and the edge of the level. */
        double flank = (aside_mm - cutter->flat_mm + above_mm * cutter->flank) * cutter->flank_cos;
        return fmax(outside, flank);
    }
    double up = above_mm + cutter->corner_mm; /* of the round's centre over the level */
    if (cutter->corner_mm <= 0.0 || up <= 0.0)
        return outside;
    return hypot(fmax(aside_mm - cutter->flat_mm, 0.0), up) - cutter->corner_mm;
}

/* --- Flutes --- */

/* One look at the edges: the least clearance so far, and where they are looked for. */
typedef struct edge_search {
    const tu_cutter_solid *cutter;
    const tu_prism *prism;
    tu_machine_point axis;
    double shrink_mm;
    double from_mm, to_mm; /* heights above the tip between which the prism stands */
    double best_mm;
} edge_search;

/*
 * Takes in the point of an edge at that height, radius and angle. False once the points are so far
 * above the prism that none can be nearer than the best.
 */
static bool take_point(edge_search *search, double height_mm, double radius_mm, double angle_rad)
{
    double above = height_mm - search->to_mm;
    if (above > search->best_mm)
        return false;
    double x = search->axis.x + radius_mm * cos(angle_rad);
    double y = search->axis.y + radius_mm * sin(angle_rad);
    double aside = tu_prism_gap_quick(search->prism, x, y) + search->shrink_mm;
    double gap = fmax(aside, fmax(above, search->from_mm - height_mm));
    search->best_mm = fmin(search->best_mm, gap);
    return true;
}

static bool take_edge_point(edge_search *search, double height_mm, double angle_rad)
{
    const tu_cutter_solid *cutter = search->cutter;
    return take_point(search, height_mm, tu_cutter_solid_radius(cutter, height_mm),
                      angle_rad + height_mm * cutter->climb_rad_per_mm);
}

/* Along the end and the round or the flank, up to the full radius. */
static void search_end(edge_search *search, double angle_rad)
{
    const tu_cutter_solid *cutter = search->cutter;
    for (int i = 1; i <= END_STEPS && cutter->flat_mm > 0.0; i++)
        take_point(search, 0.0, cutter->flat_mm * i / END_STEPS, angle_rad);
    for (int i = 0; i <= ROUND_STEPS && cutter->full_mm > 0.0; i++) {
        double share = (double)i / ROUND_STEPS;
        if (!take_edge_point(search, cutter->full_mm * share * share, angle_rad))
            break;
    }
}

static void search_side(edge_search *search, double angle_rad)
{
    const tu_cutter_solid *cutter = search->cutter;
    double start = fmax(search->from_mm, cutter->full_mm);
    double climb = fabs(cutter->climb_rad_per_mm);
    /* Seen from above the edge runs once round the circle and then over itself. */
    double end = climb > 0.0 ? start + 2.0 * M_PI / climb : start;
    double step = climb > 0.0 ? edge_step_rad / climb : 1.0;
    for (double height = start; height <= end && search->best_mm >= 0.0; height += step)
        if (!take_edge_point(search, height, angle_rad))
            break;
}

static void search_edge(edge_search *search, double angle_rad)
{
    /* Just within the prism's upper and lower side: there lies the widest point of a round, and
     * there an edge that climbs enters and leaves. */
    take_edge_point(search, search->to_mm - TU_CONTACT_MM, angle_rad);
    take_edge_point(search, fmax(search->from_mm, 0.0) + TU_CONTACT_MM, angle_rad);
    if (search->best_mm >= 0.0)
        search_side(search, angle_rad);
    if (search->best_mm >= 0.0)
        search_end(search, angle_rad);
}

double tu_cutter_solid_gap_of_edges(const tu_cutter_solid *cutter, const tu_prism *prism,
                                    tu_machine_point axis, double shrink_mm, double envelope_mm)
{
    edge_search search = {.cutter = cutter,
                          .prism = prism,
                          .axis = axis,
                          .shrink_mm = shrink_mm,
                          .from_mm = prism->low_mm + shrink_mm - axis.z,
                          .to_mm = prism->high_mm - shrink_mm - axis.z};
    double turned =
        (search.to_mm - fmax(search.from_mm, cutter->full_mm)) * fabs(cutter->climb_rad_per_mm);
    double pitch = 2.0 * M_PI / cutter->flutes;
    if (turned >= pitch)
        return envelope_mm; /* an edge on every side */
    search.best_mm = tu_prism_gap(prism, axis.x, axis.y) + shrink_mm - cutter->core_mm;
    for (int i = 0; i < cutter->flutes && search.best_mm >= 0.0; i++)
        search_edge(&search, cutter->angle_rad + i * pitch);
    return search.best_mm;
}
