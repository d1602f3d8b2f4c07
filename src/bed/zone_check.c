/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zone_check.c - a minimum zone's certificate, gone over by its definition. Shares no code with the
 * search.
 */
#include "bed/plane.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

static const double unit_tolerance = 1e-12;
static const double roundings = 64.0;

/* A point as seen along the normal. */
typedef struct shadow {
    double x;
    double y;
} shadow;

static double above_base(const tu_bed_zone *zone, tu_bed_point p)
{
    return zone->normal.x * (p.x_mm - zone->base.x_mm) +
           zone->normal.y * (p.y_mm - zone->base.y_mm) +
           zone->normal.z * (p.z_mm - zone->base.z_mm);
}

/* --- Form --- */

static bool counts_fit(const tu_bed_zone *zone)
{
    switch (zone->criterion) {
    case TU_ZONE_3_1:
        return zone->high_count == 3 && zone->low_count == 1;
    case TU_ZONE_1_3:
        return zone->high_count == 1 && zone->low_count == 3;
    case TU_ZONE_2_2:
        return zone->high_count == 2 && zone->low_count == 2;
    case TU_ZONE_FLAT:
        return zone->high_count == 3 && zone->low_count == 0;
    }
    return false;
}

static bool contacts_differ(const tu_bed_zone *zone, size_t count)
{
    size_t all[2 * TU_ZONE_CONTACTS];
    size_t filled = 0;

    for (size_t k = 0; k < zone->high_count; k++)
        all[filled++] = zone->high[k];
    for (size_t k = 0; k < zone->low_count; k++)
        all[filled++] = zone->low[k];
    for (size_t i = 0; i < filled; i++) {
        if (all[i] >= count)
            return false;
        for (size_t k = 0; k < i; k++)
            if (all[i] == all[k])
                return false;
    }
    return true;
}

static tu_status check_form(const tu_bed_zone *zone, size_t count, tu_error *error)
{
    const tu_bed_direction n = zone->normal;

    if (!(fabs(n.x * n.x + n.y * n.y + n.z * n.z - 1.0) <= unit_tolerance) || n.z < 0.0)
        return tu_fail(error, TU_DATA_CONFLICT, NULL,
                       "the zone's normal (%g, %g, %g) is not a unit vector that points up", n.x,
                       n.y, n.z);
    if (!(zone->FLTt_mm >= 0.0) || !isfinite(zone->FLTt_mm))
        return tu_fail(error, TU_DATA_CONFLICT, NULL, "the zone's width %g is not a width",
                       zone->FLTt_mm);
    if (!counts_fit(zone))
        return tu_fail(error, TU_DATA_CONFLICT, NULL,
                       "%zu high and %zu low contact points do not fit the zone's criterion",
                       zone->high_count, zone->low_count);
    if (!contacts_differ(zone, count))
        return tu_fail(error, TU_DATA_CONFLICT, NULL,
                       "a contact point of the zone is named twice or is beyond the %zu points",
                       count);
    return TU_OK;
}

/* --- Projections --- */

static double point_to_segment(shadow p, shadow a, shadow b)
{
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const double square = dx * dx + dy * dy;
    double t = square > 0.0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / square : 0.0;

    t = t < 0.0 ? 0.0 : t > 1.0 ? 1.0 : t;
    return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

/* Above zero: c is to the left of the way from a to b. */
static double side(shadow a, shadow b, shadow c)
{
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static double point_to_triangle(shadow p, const shadow t[3])
{
    const double s0 = side(t[0], t[1], p);
    const double s1 = side(t[1], t[2], p);
    const double s2 = side(t[2], t[0], p);

    if (side(t[0], t[1], t[2]) != 0.0 &&
        ((s0 >= 0.0 && s1 >= 0.0 && s2 >= 0.0) || (s0 <= 0.0 && s1 <= 0.0 && s2 <= 0.0)))
        return 0.0;
    return fmin(point_to_segment(p, t[0], t[1]),
                fmin(point_to_segment(p, t[1], t[2]), point_to_segment(p, t[2], t[0])));
}

static double segment_to_segment(shadow a, shadow b, shadow c, shadow d)
{
    if (side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0)
        return 0.0;
    return fmin(fmin(point_to_segment(a, c, d), point_to_segment(b, c, d)),
                fmin(point_to_segment(c, a, b), point_to_segment(d, a, b)));
}

/* Seen along the normal, from the first high contact: any two axes square to it. */
static shadow shadow_of(const tu_bed_zone *zone, tu_bed_point p, tu_bed_point from)
{
    const tu_bed_direction n = zone->normal;
    const bool steep = n.z < 0.5;
    const double length = steep ? hypot(n.x, n.y) : hypot(n.z, n.x);
    const tu_bed_direction u = steep ? (tu_bed_direction){-n.y / length, n.x / length, 0.0}
                                     : (tu_bed_direction){n.z / length, 0.0, -n.x / length};
    const tu_bed_direction v = {n.y * u.z - n.z * u.y, n.z * u.x - n.x * u.z,
                                n.x * u.y - n.y * u.x};
    const double x = p.x_mm - from.x_mm;
    const double y = p.y_mm - from.y_mm;
    const double z = p.z_mm - from.z_mm;

    return (shadow){u.x * x + u.y * y + u.z * z, v.x * x + v.y * y + v.z * z};
}

static double projection_gap(const tu_bed_point *points, const tu_bed_zone *zone)
{
    const tu_bed_point from = points[zone->high[0]];
    shadow high[3];
    shadow low[3];

    for (size_t k = 0; k < zone->high_count; k++)
        high[k] = shadow_of(zone, points[zone->high[k]], from);
    for (size_t k = 0; k < zone->low_count; k++)
        low[k] = shadow_of(zone, points[zone->low[k]], from);
    switch (zone->criterion) {
    case TU_ZONE_3_1:
        return point_to_triangle(low[0], high);
    case TU_ZONE_1_3:
        return point_to_triangle(high[0], low);
    case TU_ZONE_2_2:
        return segment_to_segment(high[0], high[1], low[0], low[1]);
    case TU_ZONE_FLAT:
        break;
    }
    return 0.0;
}

/* --- The whole --- */

static tu_zone_check measure(const tu_bed_point *points, size_t count, const tu_bed_zone *zone)
{
    tu_zone_check c = {0};

    for (size_t i = 0; i < count; i++) {
        const double height = above_base(zone, points[i]);

        c.outside_mm = fmax(c.outside_mm, fmax(-height, height - zone->FLTt_mm));
    }
    for (size_t k = 0; k < zone->high_count; k++)
        c.contact_mm =
            fmax(c.contact_mm, fabs(above_base(zone, points[zone->high[k]]) - zone->FLTt_mm));
    for (size_t k = 0; k < zone->low_count; k++)
        c.contact_mm = fmax(c.contact_mm, fabs(above_base(zone, points[zone->low[k]])));
    c.projection_mm = projection_gap(points, zone);
    return c;
}

tu_status tu_bed_check_zone(const tu_bed_point *points, size_t count, const tu_bed_zone *zone,
                            double tolerance_mm, tu_zone_check *check, tu_error *error)
{
    tu_bed_box box;

    if (points == NULL || zone == NULL)
        return tu_fail(error, TU_USAGE, NULL, "points or zone missing");
    if (check != NULL)
        *check = (tu_zone_check){NAN, NAN, NAN};
    tu_status status = tu_bed_box_of(points, count, &box, error);
    if (!status)
        status = check_form(zone, count, error);
    if (status)
        return status;
    const tu_zone_check found = measure(points, count, zone);
    if (check != NULL)
        *check = found;
    if (!(tolerance_mm > 0.0))
        tolerance_mm = roundings * DBL_EPSILON * box.largest_mm;
    if (!(found.outside_mm <= tolerance_mm && found.contact_mm <= tolerance_mm &&
          found.projection_mm <= tolerance_mm))
        return tu_fail(
            error, TU_DATA_CONFLICT, NULL,
            "not a minimum zone: a point lies %.3g mm outside, a contact point %.3g mm off "
            "its plane, the projections miss by %.3g mm; each may be %.3g mm",
            found.outside_mm, found.contact_mm, found.projection_mm, tolerance_mm);
    return TU_OK;
}
