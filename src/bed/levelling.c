/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * levelling.c - heights to add under supports so that a plane comes level.
 */
#include "trueup/bed.h"

#include <math.h>

#define NARROW 1e-3 /* of the supports' extent: narrower is one line */

typedef struct spread {
    double x, y; /* the middle */
    double xx, xy, yy;
} spread;

static spread spread_of(const tu_machine_plane_point *support, size_t supports)
{
    spread s = {0};

    for (size_t i = 0; i < supports; i++) {
        s.x += support[i].x / (double)supports;
        s.y += support[i].y / (double)supports;
    }
    for (size_t i = 0; i < supports; i++) {
        const double dx = support[i].x - s.x, dy = support[i].y - s.y;
        s.xx += dx * dx;
        s.xy += dx * dy;
        s.yy += dy * dy;
    }
    return s;
}

static tu_status check_supports(double slope_x, double slope_y,
                                const tu_machine_plane_point *support, size_t supports,
                                tu_error *error)
{
    if (supports > TU_BED_SUPPORTS_MAX)
        return tu_fail(error, TU_DATA_RANGE, NULL, "%zu supports are too many, at most %d",
                       supports, (int)TU_BED_SUPPORTS_MAX);
    if (!(hypot(slope_x, slope_y) <= TU_BED_STEEPEST_SLOPE))
        return tu_fail(error, TU_DATA_RANGE, NULL, "a bed is not as steep as %g and %g", slope_x,
                       slope_y);
    for (size_t i = 0; i < supports; i++)
        if (!(fabs(support[i].x) <= 1e9) || !(fabs(support[i].y) <= 1e9))
            return tu_fail(error, TU_DATA_RANGE, NULL, "support %zu is not in millimetres", i + 1);
    const spread s = spread_of(support, supports);
    const double middle = (s.xx + s.yy) / 2, half = hypot((s.xx - s.yy) / 2, s.xy);
    if (supports < 3 || middle - half <= NARROW * NARROW * (middle + half))
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "levelling takes at least 3 supports that are not on one line; found %zu%s",
                       supports, supports < 3 ? "" : " on one line");
    return TU_OK;
}

tu_status tu_bed_level(double slope_x, double slope_y, const tu_machine_plane_point *support,
                       size_t supports, double *add_mm, tu_error *error)
{
    if (!support || !add_mm)
        return tu_fail(error, TU_USAGE, NULL, "supports and room for their heights are needed");
    tu_status status = check_supports(slope_x, slope_y, support, supports, error);
    if (status)
        return status;

    double highest = -INFINITY;
    for (size_t i = 0; i < supports; i++) {
        add_mm[i] =
            slope_x * (support[i].x - support[0].x) + slope_y * (support[i].y - support[0].y);
        highest = fmax(highest, add_mm[i]);
    }
    for (size_t i = 0; i < supports; i++)
        add_mm[i] = highest - add_mm[i];
    return TU_OK;
}

tu_bed_point tu_bed_raise_point(const tu_machine_plane_point *support, size_t supports,
                                const double *add_mm, tu_bed_point point)
{
    const spread s = spread_of(support, supports);
    const double determinant = s.xx * s.yy - s.xy * s.xy;
    double mean = 0, xz = 0, yz = 0;

    for (size_t i = 0; i < supports; i++) {
        mean += add_mm[i] / (double)supports;
        xz += (support[i].x - s.x) * add_mm[i];
        yz += (support[i].y - s.y) * add_mm[i];
    }
    const double slope_x = (xz * s.yy - yz * s.xy) / determinant;
    const double slope_y = (yz * s.xx - xz * s.xy) / determinant;
    point.z_mm += mean + slope_x * (point.x_mm - s.x) + slope_y * (point.y_mm - s.y);
    return point;
}
