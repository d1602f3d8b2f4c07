/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * solids.c - prisms, the bed, and the march of a cutter along a line until it touches one.
 */
#include "program/solids.h"

#include <math.h>

enum { RINGS = 4, RING_POINTS = 24 };

/* At a map's border the bed may jump, of which no slope tells. */
static const double bed_stride_mm = 0.5;

/* --- Prisms --- */

static double area_of(const tu_machine_plane_point corner[TU_PRISM_CORNERS])
{
    double twice = 0.0;
    for (int i = 0; i < TU_PRISM_CORNERS; i++) {
        tu_machine_plane_point a = corner[i], b = corner[(i + 1) % TU_PRISM_CORNERS];
        twice += a.x * b.y - b.x * a.y;
    }
    return twice / 2.0;
}

tu_polygon tu_polygon_start(const tu_machine_plane_point corner[TU_PRISM_CORNERS])
{
    tu_polygon polygon;
    bool clockwise = area_of(corner) < 0.0; /* of a body in the mirror */
    for (int i = 0; i < TU_PRISM_CORNERS; i++)
        polygon.corner[i] = corner[clockwise ? TU_PRISM_CORNERS - 1 - i : i];
    for (int i = 0; i < TU_PRISM_CORNERS; i++) {
        tu_machine_plane_point a = polygon.corner[i];
        tu_machine_plane_point b = polygon.corner[(i + 1) % TU_PRISM_CORNERS];
        double length = hypot(b.x - a.x, b.y - a.y);
        polygon.normal[i] = (tu_machine_plane_point){(b.y - a.y) / length, (a.x - b.x) / length};
        polygon.reach_mm[i] = polygon.normal[i].x * a.x + polygon.normal[i].y * a.y;
    }
    return polygon;
}

/* Of a point before edge i. */
static double gap_of_edge(const tu_polygon *polygon, int i, double x, double y)
{
    return polygon->normal[i].x * x + polygon->normal[i].y * y - polygon->reach_mm[i];
}

static double distance_to_edge(const tu_polygon *polygon, int i, double x, double y)
{
    tu_machine_plane_point a = polygon->corner[i], n = polygon->normal[i];
    tu_machine_plane_point b = polygon->corner[(i + 1) % TU_PRISM_CORNERS];
    double length = n.x * (b.y - a.y) - n.y * (b.x - a.x);
    double along = n.x * (y - a.y) - n.y * (x - a.x);
    double beside = along < 0.0 ? -along : fmax(along - length, 0.0);
    return hypot(gap_of_edge(polygon, i, x, y), beside);
}

static double hole_gap(const tu_prism *prism, double x, double y)
{
    return prism->hole_radius_mm - hypot(x - prism->hole.x, y - prism->hole.y);
}

double tu_prism_gap_quick(const tu_prism *prism, double x_mm, double y_mm)
{
    double gap = -INFINITY;
    for (int i = 0; i < TU_PRISM_CORNERS; i++)
        gap = fmax(gap, gap_of_edge(&prism->outline, i, x_mm, y_mm));
    if (gap < 0.0 && prism->hole_radius_mm > 0.0)
        gap = fmax(gap, hole_gap(prism, x_mm, y_mm));
    return gap;
}

double tu_prism_gap(const tu_prism *prism, double x_mm, double y_mm)
{
    double inside = -INFINITY, outside = INFINITY;
    for (int i = 0; i < TU_PRISM_CORNERS; i++) {
        double gap = gap_of_edge(&prism->outline, i, x_mm, y_mm);
        inside = fmax(inside, gap);
        /* Of a convex outline only an edge that sees the point can be nearest to it. */
        if (gap > 0.0)
            outside = fmin(outside, distance_to_edge(&prism->outline, i, x_mm, y_mm));
    }
    if (inside > 0.0)
        return outside;
    return prism->hole_radius_mm > 0.0 ? fmax(inside, hole_gap(prism, x_mm, y_mm)) : inside;
}

static double prism_clearance(const tu_prism *prism, const tu_cutter_solid *cutter,
                              tu_machine_point tip, double shrink_mm)
{
    tu_machine_point axis = tip;
    if (cutter->run_out_mm > 0.0) {
        axis.x += cutter->run_out_mm * cos(cutter->angle_rad + cutter->run_out_rad);
        axis.y += cutter->run_out_mm * sin(cutter->angle_rad + cutter->run_out_rad);
    }
    double aside = tu_prism_gap(prism, axis.x, axis.y) + shrink_mm;
    double above = axis.z - (prism->high_mm - shrink_mm);
    double gap = tu_cutter_solid_gap(cutter, aside, above);
    if (gap >= 0.0 || cutter->flutes == 0)
        return gap;
    return tu_cutter_solid_gap_of_edges(cutter, prism, axis, shrink_mm, gap);
}

/* --- The bed --- */

static double bed_plane(const tu_bed_surface *bed, double x, double y)
{
    return bed->height_mm + bed->slope_x * x + bed->slope_y * y;
}

tu_solid tu_solid_start_bed(const tu_bed_surface *bed, bool conducts)
{
    tu_solid solid = {.name = "bed", .conducts = conducts, .bed = bed};
    double slope_x = 0.0, slope_y = 0.0;
    for (size_t j = 0; j < bed->rows; j++) {
        for (size_t i = 0; i < bed->columns; i++) {
            const double *at = &bed->map_mm[j * bed->columns + i];
            solid.bed_rise_mm = fmax(solid.bed_rise_mm, *at);
            if (i + 1 < bed->columns)
                slope_x = fmax(slope_x, fabs(at[1] - at[0]) / bed->map_dx_mm);
            if (j + 1 < bed->rows)
                slope_y = fmax(slope_y, fabs(at[bed->columns] - at[0]) / bed->map_dy_mm);
        }
    }
    solid.bed_slope = hypot(fabs(bed->slope_x) + slope_x, fabs(bed->slope_y) + slope_y);
    return solid;
}

/*
 * The least height of the cutter's surface over the bed: below the tip and on rings about it. The
 * first point of each ring lies uphill, so that a plane bed is exact; on a map the points are so
 * close that 1 mm/m of slope hides less than 1e-4 mm between them.
 */
static double bed_gap(const tu_solid *solid, const tu_cutter_solid *cutter, tu_machine_point tip)
{
    const tu_bed_surface *bed = solid->bed;
    double gap = tip.z - tu_bed_surface_height(bed, tip.x, tip.y);
    double uphill = atan2(bed->slope_y, bed->slope_x);
    double steep = hypot(bed->slope_x, bed->slope_y);
    for (int ring = 0; ring <= RINGS; ring++) {
        double radius = cutter->radius_mm * ring / RINGS;
        if (ring == 0) /* where a round end touches a plane bed */
            radius = cutter->flat_mm + cutter->corner_mm * sin(atan(steep));
        double height = tip.z + tu_cutter_solid_height(cutter, radius);
        int points = solid->bed->columns > 0 ? RING_POINTS : 1;
        for (int i = 0; i < points; i++) {
            double angle = uphill + 2.0 * M_PI * i / RING_POINTS;
            double under = tu_bed_surface_height(bed, tip.x + radius * cos(angle),
                                                 tip.y + radius * sin(angle));
            gap = fmin(gap, height - under);
        }
    }
    return gap;
}

static double bed_clearance(const tu_solid *solid, const tu_cutter_solid *cutter,
                            tu_machine_point tip, double shrink_mm)
{
    double steep = hypot(solid->bed->slope_x, solid->bed->slope_y);
    double highest = bed_plane(solid->bed, tip.x, tip.y) + steep * cutter->radius_mm +
                     solid->bed_rise_mm - shrink_mm;
    if (tip.z > highest)
        return (tip.z - highest) / hypot(1.0, steep);
    double gap = (bed_gap(solid, cutter, tip) + shrink_mm) / hypot(1.0, solid->bed_slope);
    return solid->bed->columns > 0 ? fmin(gap, bed_stride_mm) : gap;
}

/* --- The march --- */

double tu_solid_clearance(const tu_solid *solid, const tu_cutter_solid *cutter,
                          tu_machine_point tip, double shrink_mm)
{
    return solid->bed != NULL ? bed_clearance(solid, cutter, tip, shrink_mm)
                              : prism_clearance(&solid->prism, cutter, tip, shrink_mm);
}

tu_path tu_path_between(tu_machine_point from, tu_machine_point to)
{
    tu_path path = {.from = from, .x = to.x - from.x, .y = to.y - from.y, .z = to.z - from.z};
    path.length_mm = hypot(hypot(path.x, path.y), path.z);
    if (path.length_mm > 0.0) {
        path.x /= path.length_mm;
        path.y /= path.length_mm;
        path.z /= path.length_mm;
    }
    return path;
}

tu_machine_point tu_path_point(const tu_path *path, double travel_mm)
{
    return (tu_machine_point){path->from.x + path->x * travel_mm,
                              path->from.y + path->y * travel_mm,
                              path->from.z + path->z * travel_mm};
}

static double clearance_at(const tu_solid *solid, const tu_cutter_solid *cutter,
                           const tu_path *path, double travel_mm)
{
    return tu_solid_clearance(solid, cutter, tu_path_point(path, travel_mm), 0.0);
}

/* Between a clear and an overlapping place. */
static double bisect(const tu_solid *solid, const tu_cutter_solid *cutter, const tu_path *path,
                     double clear_mm, double blocked_mm)
{
    while (blocked_mm - clear_mm > TU_CONTACT_MM) {
        double middle = clear_mm + (blocked_mm - clear_mm) / 2.0;
        if (!(middle > clear_mm && middle < blocked_mm))
            break; /* far from the origin no number lies between */
        if (clearance_at(solid, cutter, path, middle) < 0.0)
            blocked_mm = middle;
        else
            clear_mm = middle;
    }
    return blocked_mm;
}

/*
 * Out of a solid that was just touched. True with the travel at which the cutter has left it or
 * the path ends; false with the travel where it got too deep or had still not left.
 */
static bool leave(const tu_solid *solid, const tu_cutter_solid *cutter, const tu_path *path,
                  double tolerated_mm, double *travel_mm)
{
    double drag_mm = 2.0 * tolerated_mm + TU_DRAG_MM;
    for (double travel = 0.0;; travel += TU_MARCH_STEP_MM) {
        *travel_mm = fmin(travel, path->length_mm);
        tu_machine_point tip = tu_path_point(path, *travel_mm);
        if (tu_solid_clearance(solid, cutter, tip, 0.0) >= 0.0)
            return true;
        if (tu_solid_clearance(solid, cutter, tip, tolerated_mm) < 0.0 || *travel_mm > drag_mm)
            return false;
        if (travel >= path->length_mm)
            return true;
    }
}

/* Whether nothing on the path comes near the solid: its box in height, and in plan its edges. */
static bool passes_by(const tu_solid *solid, const tu_cutter_solid *cutter, const tu_path *path)
{
    tu_machine_point to = tu_path_point(path, path->length_mm);
    if (solid->bed != NULL) {
        double steep = hypot(solid->bed->slope_x, solid->bed->slope_y) * cutter->radius_mm;
        double rise = solid->bed_rise_mm + steep;
        return path->from.z > bed_plane(solid->bed, path->from.x, path->from.y) + rise &&
               to.z > bed_plane(solid->bed, to.x, to.y) + rise;
    }
    if (fmin(path->from.z, to.z) > solid->prism.high_mm)
        return true;
    double reach = cutter->radius_mm + cutter->run_out_mm;
    for (int i = 0; i < TU_PRISM_CORNERS; i++) {
        const tu_polygon *outline = &solid->prism.outline;
        if (gap_of_edge(outline, i, path->from.x, path->from.y) > reach &&
            gap_of_edge(outline, i, to.x, to.y) > reach)
            return true;
    }
    return false;
}

double tu_solid_first_contact(const tu_solid *solid, const tu_cutter_solid *cutter,
                              const tu_path *path, double tolerated_mm)
{
    if (passes_by(solid, cutter, path))
        return INFINITY;
    double clear = 0.0, travel = 0.0;
    if (tolerated_mm > 0.0 && !leave(solid, cutter, path, tolerated_mm, &travel))
        return travel;
    /* A path that ends before the cutter has left the solid is over here. */
    if (tolerated_mm > 0.0 && travel >= path->length_mm)
        return INFINITY;
    for (;;) {
        double gap = clearance_at(solid, cutter, path, travel);
        if (gap < 0.0)
            return travel > clear ? bisect(solid, cutter, path, clear, travel) : travel;
        if (travel >= path->length_mm)
            return INFINITY;
        clear = travel;
        travel = fmin(travel + fmax(gap, TU_MARCH_STEP_MM), path->length_mm);
    }
}
