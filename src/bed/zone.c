/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone.c - the exact minimum zone of a set of points; flatness.h has the method and its derivation.
 */
#include "bed/zone_parts.h"

#include <float.h>
#include <math.h>

static const double line_ratio = 1e-9;
enum { ROUNDS = 400, SEARCHES = 50 };

typedef struct finder {
    const tu_bed_point *points;
    size_t count;
    tu_bed_box box;
    tu_zone_workspace *set;
    double slack_mm; /* the rounding of a distance along a direction */
    double flat_mm;  /* a width that is nothing but rounding */
    size_t passes;
} finder;

static tu_status refuse_shape(tu_error *error)
{
    return tu_fail(error, TU_NUMERIC, NULL,
                   "the narrowest zone was not found: too many points and directions are nearly as "
                   "good, so the points do not lie on anything like a plane; check the columns and "
                   "the units");
}

/* --- What spans the plane --- */

static double distance_from_line(const finder *f, size_t a, size_t b, size_t i)
{
    const tu_bed_point *p = f->points;
    const double lx = p[b].x_mm - p[a].x_mm;
    const double ly = p[b].y_mm - p[a].y_mm;
    const double lz = p[b].z_mm - p[a].z_mm;
    const double x = p[i].x_mm - p[a].x_mm;
    const double y = p[i].y_mm - p[a].y_mm;
    const double z = p[i].z_mm - p[a].z_mm;

    return hypot(hypot(ly * z - lz * y, lz * x - lx * z), lx * y - ly * x) /
           hypot(hypot(lx, ly), lz);
}

static size_t farthest_point(const finder *f, size_t from)
{
    const tu_bed_point p = f->points[from];
    size_t best = from;
    double most = 0.0;

    for (size_t i = 0; i < f->count; i++) {
        const tu_bed_point q = f->points[i];
        const double d = hypot(hypot(q.x_mm - p.x_mm, q.y_mm - p.y_mm), q.z_mm - p.z_mm);

        if (d > most) {
            most = d;
            best = i;
        }
    }
    return best;
}

/* The set may be on one line where the points are not: brings in those that show it. */
static tu_status span_set(finder *f, tu_zone_triangle *triangle, tu_error *error)
{
    *triangle = tu_zone_find_triangle(f->set);
    if (triangle->height > line_ratio * f->box.size_mm)
        return TU_OK;
    const size_t a = farthest_point(f, 0);
    const size_t b = farthest_point(f, a);
    size_t c = a;
    double height = 0.0;
    for (size_t i = 0; i < f->count; i++) {
        const double d = distance_from_line(f, a, b, i);

        if (d > height) {
            height = d;
            c = i;
        }
    }
    f->passes += 3;
    if (!(height > line_ratio * f->box.size_mm))
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "all %zu points are on one line, which holds no plane; touch points beside "
                       "that line",
                       f->count);
    if (!tu_zone_add_point(f->set, f->points, a, &f->box) ||
        !tu_zone_add_point(f->set, f->points, b, &f->box) ||
        !tu_zone_add_point(f->set, f->points, c, &f->box))
        return refuse_shape(error);
    *triangle = tu_zone_find_triangle(f->set);
    return TU_OK;
}

/* --- The rounds --- */

/*
 * Lets points in until the optimum of the set nearest to where it stands holds all points.
 *   stay  goes down from start each time, so that the width never exceeds that of all points there.
 */
static tu_status settle(finder *f, tu_bed_direction start, bool stay, tu_zone_optimum *optimum,
                        tu_zone_pass *pass, tu_error *error)
{
    tu_zone_descend(f->set, start, f->slack_mm, optimum);
    for (int round = 0; round < ROUNDS; round++) {
        f->passes++;
        if (!tu_zone_pass_points(f->set, f->points, f->count, &f->box, optimum, f->slack_mm, pass))
            return refuse_shape(error);
        if (pass->added == 0)
            return TU_OK;
        tu_zone_descend(f->set, stay ? start : optimum->normal, f->slack_mm, optimum);
    }
    return refuse_shape(error);
}

/* W*W <= r*D, with a margin for rounding. */
static bool spread_proves(const finder *f, const tu_zone_optimum *optimum)
{
    tu_bed_direction u;
    tu_bed_direction v;

    tu_zone_turn_set(f->set, optimum->normal, &u, &v);
    return optimum->radius > 0.0 && optimum->width * optimum->width <=
                                        0.999999 * optimum->radius * tu_zone_outline_width(f->set);
}

static tu_status find_global(finder *f, tu_bed_direction start, tu_zone_optimum *optimum,
                             tu_zone_pass *pass, tu_zone_proof *proof, tu_error *error)
{
    tu_status status = settle(f, start, false, optimum, pass, error);

    for (int round = 0; !status && round < SEARCHES; round++) {
        tu_zone_optimum better = *optimum;

        if (pass->high - pass->low <= f->flat_mm) {
            *proof = TU_ZONE_PROOF_FLAT;
            return TU_OK;
        }
        if (spread_proves(f, optimum)) {
            *proof = TU_ZONE_PROOF_SPREAD;
            return TU_OK;
        }
        if (!tu_zone_search(f->set, f->flat_mm, &better))
            return refuse_shape(error);
        if (!(better.width < optimum->width - f->slack_mm)) {
            *proof = TU_ZONE_PROOF_SEARCH;
            return TU_OK;
        }
        tu_zone_optimum other;
        tu_zone_pass other_pass;
        status = settle(f, better.normal, false, &other, &other_pass, error);
        if (!status && other.width < optimum->width) {
            *optimum = other;
            *pass = other_pass;
        }
    }
    return !status ? refuse_shape(error) : status;
}

/*
 * For points that the search gives up on: nearly all of them matter, or nearly all directions are
 * as good. The hull's narrowest direction, with the points that hold it in the set from the start.
 */
static tu_status find_by_hull(finder *f, tu_zone_optimum *optimum, tu_zone_pass *pass,
                              tu_error *error)
{
    tu_zone_hull hull;
    tu_status status = tu_zone_search_hull(f->points, f->count, &f->box, &hull, error);

    if (status)
        return status;
    tu_zone_start_set(f->set, f->points, f->count, &f->box);
    for (size_t k = 0; k < hull.contacts; k++)
        tu_zone_add_point(f->set, f->points, hull.contact[k], &f->box);
    return settle(f, hull.normal, true, optimum, pass, error);
}

/* --- The result --- */

static void name_contacts(const finder *f, const tu_zone_optimum *optimum, bool turned_over,
                          tu_bed_zone *zone)
{
    const size_t *highs = turned_over ? optimum->lows : optimum->highs;
    const size_t *lows = turned_over ? optimum->highs : optimum->lows;

    zone->high_count = turned_over ? optimum->low_count : optimum->high_count;
    zone->low_count = turned_over ? optimum->high_count : optimum->low_count;
    for (size_t k = 0; k < zone->high_count; k++)
        zone->high[k] = f->set->index[highs[k]];
    for (size_t k = 0; k < zone->low_count; k++)
        zone->low[k] = f->set->index[lows[k]];
    zone->criterion = zone->high_count == 3   ? TU_ZONE_3_1
                      : zone->high_count == 2 ? TU_ZONE_2_2
                                              : TU_ZONE_1_3;
}

static void name_triangle(const finder *f, const tu_zone_triangle *triangle, tu_bed_zone *zone)
{
    zone->criterion = TU_ZONE_FLAT;
    zone->high_count = 3;
    zone->low_count = 0;
    for (int k = 0; k < 3; k++)
        zone->high[k] = f->set->index[triangle->corner[k]];
}

static void fill_zone(const finder *f, const tu_zone_optimum *optimum, const tu_zone_pass *pass,
                      tu_bed_zone *zone)
{
    const tu_bed_direction n = optimum->normal;
    const bool over = n.z < 0.0;
    const double sign = over ? -1.0 : 1.0;
    const double low = over ? pass->high : pass->low;

    /* + 0.0: no minus before a zero */
    zone->normal = (tu_bed_direction){sign * n.x + 0.0, sign * n.y + 0.0, sign * n.z + 0.0};
    zone->FLTt_mm = pass->high - pass->low;
    zone->base = (tu_bed_point){f->box.middle.x_mm + low * n.x, f->box.middle.y_mm + low * n.y,
                                f->box.middle.z_mm + low * n.z};
    zone->slope_x = zone->slope_y = NAN;
    if (zone->normal.z > 1e-6) {
        zone->slope_x = 0.0 - zone->normal.x / zone->normal.z;
        zone->slope_y = 0.0 - zone->normal.y / zone->normal.z;
    }
    zone->passes = f->passes;
}

size_t tu_zone_workspace_bytes(void)
{
    return sizeof(tu_zone_workspace);
}

tu_status tu_bed_find_any_zone(const tu_bed_point *points, size_t count,
                               tu_zone_workspace *workspace, tu_bed_zone *zone, tu_error *error)
{
    finder f = {.points = points, .count = count, .set = workspace};
    tu_zone_triangle triangle;
    tu_zone_optimum optimum;
    tu_zone_pass pass;

    if (points == NULL || workspace == NULL || zone == NULL)
        return tu_fail(error, TU_USAGE, NULL, "points, workspace or zone missing");
    *zone = (tu_bed_zone){0};
    tu_status status = tu_bed_box_of(points, count, &f.box, error);
    if (status)
        return status;
    f.passes = 1;
    f.slack_mm = 8.0 * DBL_EPSILON * f.box.size_mm;
    f.flat_mm = f.slack_mm + 4.0 * DBL_EPSILON * f.box.largest_mm;
    tu_zone_start_set(workspace, points, count, &f.box);
    status = span_set(&f, &triangle, error);
    if (!status)
        status = find_global(&f, triangle.normal, &optimum, &pass, &zone->proof, NULL);
    if (status == TU_NUMERIC) {
        zone->proof = TU_ZONE_PROOF_HULL;
        status = find_by_hull(&f, &optimum, &pass, error);
    }
    if (status)
        return status;
    if (zone->proof == TU_ZONE_PROOF_FLAT)
        name_triangle(&f, &triangle, zone);
    else
        name_contacts(&f, &optimum, optimum.normal.z < 0.0, zone);
    fill_zone(&f, &optimum, &pass, zone);
    return TU_OK;
}

tu_status tu_bed_find_zone(const tu_bed_point *points, size_t count, tu_zone_workspace *workspace,
                           tu_bed_zone *zone, tu_error *error)
{
    const tu_status status = tu_bed_find_any_zone(points, count, workspace, zone, error);

    if (status)
        return status;
    if (!(hypot(zone->slope_x, zone->slope_y) <= TU_BED_STEEPEST_SLOPE))
        return tu_fail(
            error, TU_UNDETERMINED, NULL,
            "the narrowest zone of the %zu points, %.4g mm, is steeper than 45 degrees, "
            "which is no bed's: they are in a strip, thinner sideways than up and down, or the "
            "columns are mixed up; touch points further apart in X and Y",
            count, zone->FLTt_mm);
    return TU_OK;
}
