/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_bench.h - results for drawings, made without the formula of the zero: a stock put down
 * somewhere, a plate put on its corner, a disc moved against the plate's wall or in its bore until
 * it can go no farther (by halving the way), a tip let down on the plate.
 */
#ifndef TRUEUP_TESTS_DRAWING_BENCH_H
#define TRUEUP_TESTS_DRAWING_BENCH_H

#include "check.h"

#include "trueup/report.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The truth. corner: the stock's corner and its zero's height, machine coordinates. */
typedef struct bench_world {
    tu_target target;
    double corner[3];
    double angle; /* of the stock, counter-clockwise from above, rad */
    bool bore, bed;
    double offset[2];
    int facing[2]; /* +1: away from the stock */
    double radius, bore_radius;
    double thickness, stock;
} bench_world;

typedef struct bench_place {
    double x, y;
} bench_place;

/* A place given along the outward directions of X and Y (+ where the target has none). */
static inline bench_place bench_at(const bench_world *w, double out_x, double out_y)
{
    double sx = w->target.outward[0] < 0 ? -1 : 1, sy = w->target.outward[1] < 0 ? -1 : 1;
    double x = sx * out_x, y = sy * out_y;
    return (bench_place){w->corner[0] + x * cos(w->angle) - y * sin(w->angle),
                         w->corner[1] + x * sin(w->angle) + y * cos(w->angle)};
}

/* How much air there is between the disc and the plate's wall of that axis; below 0: overlap. */
static inline double bench_wall_air(const bench_world *w, int axis, bench_place disc)
{
    double o = w->offset[axis];
    bench_place a = axis == 0 ? bench_at(w, o, 0) : bench_at(w, 0, o);
    bench_place free =
        axis == 0 ? bench_at(w, o + w->facing[0], 0) : bench_at(w, 0, o + w->facing[1]);
    return (disc.x - a.x) * (free.x - a.x) + (disc.y - a.y) * (free.y - a.y) - w->radius;
}

static inline double bench_bore_air(const bench_world *w, bench_place disc)
{
    bench_place centre = bench_at(w, w->offset[0], w->offset[1]);
    return w->bore_radius - w->radius - hypot(disc.x - centre.x, disc.y - centre.y);
}

/* Moves the disc along an axis from a clear place towards a blocked one. */
static inline double bench_move(const bench_world *w, int axis, double clear, double blocked,
                                double across)
{
    for (int i = 0; i < 80; i++) {
        double middle = (clear + blocked) / 2;
        bench_place disc =
            axis == 0 ? (bench_place){middle, across} : (bench_place){across, middle};
        bool air = (w->bore ? bench_bore_air(w, disc) : bench_wall_air(w, axis, disc)) > 0;
        *(air ? &clear : &blocked) = middle;
    }
    return (clear + blocked) / 2;
}

static inline void bench_touch_wall(const bench_world *w, int axis, double along,
                                    tu_axis_zero *zero)
{
    bench_place near =
        axis == 0 ? bench_at(w, w->offset[0], -along) : bench_at(w, -along, w->offset[1]);
    double own = axis == 0 ? near.x : near.y;
    int out = w->target.outward[axis] * w->facing[axis]; /* where the air is */
    zero->across_mm = axis == 0 ? near.y : near.x;
    zero->touch_mm = bench_move(w, axis, own + out * 500, own - out * 500, zero->across_mm);
    zero->wall = axis;
    zero->facing = w->facing[axis] > 0 ? TU_FACES_OUTWARD : TU_FACES_INWARD;
    zero->effective_radius_mm = zero->profile_radius_mm = w->radius;
    zero->depth_mm = 4;
}

static inline void bench_touch_bore(const bench_world *w, int axis, tu_axis_zero *zero)
{
    bool face = tu_target_is_face(w->target);
    bench_place centre = bench_at(w, w->offset[0], w->offset[1]);
    double own = axis == 0 ? centre.x : centre.y, other = axis == 0 ? centre.y : centre.x;
    zero->bore = true;
    zero->wall = axis;
    zero->low_mm = bench_move(w, axis, own, own - 500, other);
    zero->high_mm = bench_move(w, axis, own, own + 500, other);
    zero->touch_mm = (zero->low_mm + zero->high_mm) / 2;
    zero->chord_mm = zero->high_mm - zero->low_mm;
    zero->across_mm = face ? NAN : other;
    zero->implied_diameter_mm = 2 * w->radius;
    zero->effective_radius_mm = w->radius;
}

static inline void bench_touch_z(const bench_world *w, tu_axis_zero *zero)
{
    double bed = w->target.outward[2] > 0 ? w->corner[2] - w->stock : w->corner[2];
    double seat = w->bed ? bed : bed + w->stock;
    bool top = w->target.outward[2] > 0;
    zero->touch_mm = seat + w->thickness;
    zero->thickness_mm = w->thickness;
    zero->stock_mm = top == !w->bed ? 0 : top ? w->stock : -w->stock;
}

static inline tu_zero_result bench_result(const bench_world *w, double along)
{
    tu_zero_result r = {.target = w->target,
                        .seat = w->bed ? TU_SEAT_BED : TU_SEAT_STOCK,
                        .cutter_diameter_mm = 2 * w->radius};
    snprintf(r.plate_name, sizeof r.plate_name, "offcut");
    snprintf(r.cutter_name, sizeof r.cutter_name, "quarter");
    for (int axis = 0; axis < 3; axis++) {
        tu_axis_zero *zero = &r.axis[axis];
        *zero = (tu_axis_zero){.asked = w->target.outward[axis] != 0,
                               .zero_mm = w->corner[axis],
                               .outward = w->target.outward[axis],
                               .touch_count = 3,
                               .across_mm = NAN,
                               .wall = -1,
                               .facing = TU_FACES_OUTWARD,
                               .offset_mm = axis < 2 ? w->offset[axis] : NAN,
                               .depth_mm = NAN,
                               .effective_radius_mm = NAN,
                               .low_mm = NAN,
                               .high_mm = NAN,
                               .chord_mm = NAN,
                               .implied_diameter_mm = NAN,
                               .thickness_mm = NAN,
                               .stock_mm = NAN};
        zero->uncertainty.expanded_mm = 0.02;
        r.stock_size_mm[axis] = axis == 2 ? w->stock : NAN;
        if (!zero->asked)
            continue;
        if (axis == 2)
            bench_touch_z(w, zero);
        else if (w->bore)
            bench_touch_bore(w, axis, zero);
        else
            bench_touch_wall(w, axis, along, zero);
    }
    r.skew = (tu_skew){.known = w->angle < 0 || w->angle > 0, .angle_rad = w->angle};
    return r;
}

/* Sizes from tiny to large, each on a logarithmic scale. */
static inline double bench_size(check_random *random, double low, double high)
{
    return exp(check_random_uniform(random, log(low), log(high)));
}

static inline bench_world bench_random(check_random *random, size_t target, bool bore, bool skewed)
{
    bench_world w = {.bore = bore,
                     .bed = check_random_below(random, 2) == 1,
                     .radius = bench_size(random, 0.4, 13),
                     .thickness = bench_size(random, 0.3, 60),
                     .stock = bench_size(random, 0.5, 200)};
    tu_target_parse(tu_target_name_at(target), &w.target, NULL);
    for (int i = 0; i < 3; i++)
        w.corner[i] = check_random_uniform(random, -600, 600);
    for (int i = 0; i < 2; i++) {
        w.facing[i] = check_random_below(random, 2) ? 1 : -1;
        w.offset[i] = bench_size(random, 0.2, 60) * (check_random_below(random, 2) ? 1 : -1);
    }
    w.bore_radius = w.radius * check_random_uniform(random, 1.1, 3) + bench_size(random, 0.2, 20);
    if (skewed && !tu_target_is_face(w.target))
        w.angle = bench_size(random, 1e-5, 0.3) * (check_random_below(random, 2) ? 1 : -1);
    return w;
}

#endif
