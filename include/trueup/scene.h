/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scene.h - a table with things on it, for the virtual machine: where they truly are.
 *
 * The file form is described in docs/scene.md; record/ reads it. Machine frame, millimetres,
 * radians, seconds.
 */
#ifndef TRUEUP_SCENE_H
#define TRUEUP_SCENE_H

#include "trueup/setup.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

TU_BEGIN_DECLS

enum { TU_SCENE_BLOCKS = 16, TU_BED_MAP_MAX = 2500 };

/*
 * The bed's height: height + slope_x x + slope_y y (machine x and y, slopes in mm per mm), plus,
 * inside a map's rectangle, the map's value (bilinear). columns 0: no map. The map is row by row
 * from the front, left to right.
 */
typedef struct tu_bed_surface {
    double height_mm;
    double slope_x, slope_y;
    size_t columns, rows;
    double map_x0_mm, map_y0_mm, map_dx_mm, map_dy_mm;
    double map_mm[TU_BED_MAP_MAX];
} tu_bed_surface;

double tu_bed_surface_height(const tu_bed_surface *bed, double x_mm, double y_mm);

/* A block that is in the way: a clamp, a screw. Axis-parallel box in machine coordinates. */
typedef struct tu_scene_block {
    char name[TU_NAME_SIZE];
    tu_machine_point low, high;
} tu_scene_block;

/*
 *   machine      travel: not stated, it counts as 10 m either way; step: positions at which a touch
 *                stops are multiples of it; not stated: any.
 *   bed_conducts true: a probe move that meets the bed is told so, as if foil lay on it.
 *   stock        its front-left corner, its size, turned by angle_rad about that corner towards Y+.
 *                It lies level, its bottom at bed height under that corner.
 *   plate        true sizes (values count, tolerances do not), lying on corner plate_corner, turned
 *                as that corner needs plus wrong_turns quarter turns, on seat. docs/scene.md draws
 *                its body. A plain slab (neither wall nor bore) on the bed whose extent is not
 *                stated lies diagonally outside the corner, 5 mm clear of the stock.
 *   cutter       true sizes; angle_rad of its first edge at the tip's height, from X+ towards Y+.
 *                Flutes stated: only edges and core touch, the core half of the diameter where not
 *                stated; an edge climbs as a right-hand helix. Run-out stated: half of it off the
 *                axis, in a direction drawn with the seed that turns with the cutter.
 *   contact      noise_mm: standard deviation of a hit along the motion; latch_delay_s: the hit is
 *                latched that much after contact, the feed goes on meanwhile; bounce_s: for so long
 *                after the cutter left what it touched a probe still finds the circuit closed (on
 *                closing, the first edge counts); clip_on false: the circuit never closes.
 *   drift, warm_up  after t seconds of motion and dwells every contact is found at a coordinate
 *                that is higher by drift_mm_per_s t + warm_up_mm (1 - exp(-t / warm_up_tau_s)).
 *                warm_up_tau_s 0: no warming up.
 *   operator     turns an edge towards the next sideways touch at a pause, to within
 *                turned_within_rad; NaN: does not turn it.
 *   start        of the tip.
 *   slot_mm      work offsets G54 to G59.3 as they stand before the program.
 */
typedef struct tu_scene {
    tu_machine machine;
    double rapid_mm_per_min;
    tu_bed_surface bed;
    bool bed_conducts;
    bool stock_present;
    tu_machine_plane_point stock_corner;
    double stock_size_mm[TU_AXIS_COUNT];
    double stock_angle_rad;
    bool plate_present;
    tu_plate plate;
    tu_target plate_corner;
    tu_seat seat;
    int wrong_turns;
    tu_cutter cutter;
    double cutter_angle_rad;
    double noise_mm;
    double latch_delay_s;
    double bounce_s;
    double drift_mm_per_s[TU_AXIS_COUNT];
    double warm_up_mm[TU_AXIS_COUNT];
    double warm_up_tau_s;
    bool clip_on;
    double turned_within_rad;
    uint64_t seed;
    tu_machine_point start;
    double slot_mm[9][TU_AXIS_COUNT];
    size_t block_count;
    tu_scene_block block[TU_SCENE_BLOCKS];
} tu_scene;

tu_scene tu_scene_start(void);

TU_END_DECLS

#endif
