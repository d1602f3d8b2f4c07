/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan.h - touch programs in RS274/NGC: a corner, a surface, a grid over the bed, a trial series.
 *
 * docs/touch-program.md describes what a program does and what it asks of the person beside it.
 * Every distance in a program is the worst case over its start window: positions are carried along
 * as ranges, so that no touch begins in contact, none falls short, and none goes on for longer than
 * the summary says.
 */
#ifndef TRUEUP_PLAN_H
#define TRUEUP_PLAN_H

#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

TU_BEGIN_DECLS

enum {
    TU_PLAN_REPEATS_MAX = 20,
    TU_PLAN_TOUCHES_MAX = 1000,
    TU_PLAN_FEEDS_MAX = 16,
    TU_KEEP_OUT_MAX = 32,
    TU_GRID_MAX = 100,
    TU_GRID_PLACES_MAX = TU_GRID_MAX * TU_GRID_MAX
};
#define TU_PLAN_PROBE_FEED_MAX 500.0 /* mm/min; common practice, no source */

/*
 * How touches are made. Start from tu_plan_style_start(). Its values are common practice, no
 * source.
 *   unit          of the program's numbers: G21 or G20.
 *   slot          P word 1 to 9; the work offset that the program works in, and sets with set.
 *   set           the program sets the offset itself (parameters #1 to #3 and G10 L2); else it only
 *                 touches.
 *   search, measure  feeds of the fast and the slow touch: 100 and 25; traverse: of all other
 *                 moves, 600.
 *   back_off_mm   between the fast and the slow touch: 1.
 *   window_mm     how far the start may be off in X and in Y, either way: 3.
 *   height_mm     least and greatest height of the start above the face that is touched first: 2
 *                 and 8.
 *   press_mm      how far a touch goes on past the last place where contact is expected: 2.
 *   clearance_mm  kept from everything while not touching: 3.
 *   skew_rad      how far plate and stock may be turned against the machine's axes, either way: 1
 *                 degree.
 *   repeats       slow touches of each place, 1 to 20: 3.
 */
typedef struct tu_plan_style {
    tu_unit unit;
    int slot;
    bool set;
    double search_mm_per_min, measure_mm_per_min, traverse_mm_per_min;
    double back_off_mm;
    double window_mm;
    double height_mm[2];
    double press_mm;
    double clearance_mm;
    double skew_rad;
    int repeats;
} tu_plan_style;

tu_plan_style tu_plan_style_start(void);

/*
 * What a person must know before starting a program, also written at its head.
 *   start_mm        where the tip must be: X and Y from the stock's corner that the plate lies on
 *                   (of a grid: work coordinates), along the machine's axes; NaN: anywhere over the
 *                   face, clear of walls, bore and rim.
 *   space_mm        [axis][0] below and [1] above the start's coordinate: how far the program may
 *                   move from there, a dead circuit included.
 *   worst_press_mm  sideways and down: how far a touch of a circuit that has gone dead moves on
 *                   after contact, at most; NaN: no such touch.
 *   points          of a grid, that are touched; skipped: on or too near a keep-out, or cut off by
 *                   them.
 *   path_mm, naive_mm  length of the traverses over a grid, and of the same points row by row,
 *                   always from the left; NaN: no grid.
 */
typedef struct tu_plan_summary {
    char made_for[640]; /* the sizes that it counts on, to check with a caliper; "" none */
    char title[200];
    char start[400];
    double start_mm[2];
    double space_mm[TU_AXIS_COUNT][2];
    size_t touches; /* that count */
    size_t pauses;
    double seconds; /* expected, pauses not counted */
    double worst_press_mm[2];
    size_t points, skipped;
    double path_mm, naive_mm;
    tu_warnings warnings;
} tu_plan_summary;

/*
 * A corner or a single face: the touches that zero needs. Start from tu_plan_corner_start().
 *   target           of a side face: the plate lies on the corner that brings the wall to it.
 *   cutter           not NULL but for the targets top and bottom.
 *   stock_thickness  with set, where the plate sits on one face and the zero is wanted at the
 *                    other; none: not stated.
 *   wall             for a single side face: 0 or 1; -1: wall a.
 *   depth            overrides the plate's touch depth; none: the plate's.
 *   turned_within_rad  overrides the cutter's; NaN: the cutter's.
 *   series           letters, digits, and - _ . +; "": the target's name.
 */
typedef struct tu_plan_corner {
    tu_target target;
    const tu_machine *machine;
    const tu_plate *plate;
    const tu_cutter *cutter;
    tu_seat seat;
    tu_quantity stock_thickness;
    int wall;
    tu_quantity depth;
    double turned_within_rad;
    char series[TU_NAME_SIZE];
} tu_plan_corner;

tu_plan_corner tu_plan_corner_start(void);

/* Touches straight down, at one place; with a plate, or on a surface that conducts (plate NULL).
 * With set, Z of what the plate lies on, or of the surface, becomes zero. series "": surface. */
typedef struct tu_plan_surface {
    const tu_machine *machine;
    const tu_plate *plate;
    char series[TU_NAME_SIZE];
} tu_plan_surface;

typedef struct tu_rectangle {
    double x0_mm, y0_mm, x1_mm, y1_mm;
} tu_rectangle;

#define TU_PLAN_VARIATION_MAX_MM 20.0

/*
 * A grid over the bed, in work coordinates of the slot.
 *   columns, rows  2 to TU_GRID_MAX each; points at equal distances over area, edges included.
 *   place          NULL, or place_count places (up to TU_GRID_PLACES_MAX, all within area) that are
 *                  touched instead of columns by rows; the tip stays within area.
 *   keep_out       rectangles that the cutter (not its axis alone) must not enter: points nearer
 *                  than its radius and the clearance are skipped, traverses go round at that
 *                  distance, inside the area. Points that no such way leads to are skipped too.
 *   variation_mm   greatest difference in height between any two points of the bed, up to
 *                  TU_PLAN_VARIATION_MAX_MM.
 *   series         "": bed.
 */
typedef struct tu_plan_grid {
    const tu_machine *machine;
    const tu_cutter *cutter;
    tu_rectangle area;
    size_t columns, rows;
    const double (*place)[2];
    size_t place_count;
    const tu_rectangle *keep_out;
    size_t keep_out_count;
    double variation_mm;
    char series[TU_NAME_SIZE];
} tu_plan_grid;

/*
 * n touches of one axis, lifting off by the clearance between.
 *   place        what is touched, as for a corner; its series "": trial. Of axis Z the target may
 *                be top; of X and Y it is a corner or the side face.
 *   touches      2 to TU_PLAN_TOUCHES_MAX; with both_sides of each side half of them, rounded up.
 *   feeds        measure feeds, used in turn, each in a series of its own, "NAME-f60"; count 0: the
 *                style's.
 *   both_sides   a bore only: low and high side alternately.
 */
typedef struct tu_plan_trials {
    tu_plan_corner place;
    tu_axis axis;
    size_t touches;
    double feed_mm_per_min[TU_PLAN_FEEDS_MAX];
    size_t feed_count;
    bool both_sides;
} tu_plan_trials;

/*
 * Each writes the program to out (ASCII, lines below 256 characters) and fills summary.
 * Nothing is written on failure before out is touched: the plan is checked first.
 *   summary  out; on failure only its warnings are meaningful.
 *   error    where names the option of the command line or the plate.
 * Returns TU_OK; TU_USAGE for what contradicts itself (set of a grid or of trials, both_sides of a
 * wall, a plate without what the target needs); TU_DATA_RANGE, TU_DATA_MISSING, TU_DATA_CONFLICT
 * for a plan that cannot be safe (walls lower than the touch depth, travel too small, cutter wider
 * than the bore, start window outside the plate, ...: docs/mistakes.md lists all);
 * TU_SYSTEM_MEMORY; TU_SYSTEM_IO when writing failed.
 */
tu_status tu_plan_write_corner(FILE *out, const tu_plan_corner *plan, const tu_plan_style *style,
                               tu_plan_summary *summary, tu_error *error);
tu_status tu_plan_write_surface(FILE *out, const tu_plan_surface *plan, const tu_plan_style *style,
                                tu_plan_summary *summary, tu_error *error);
tu_status tu_plan_write_grid(FILE *out, const tu_plan_grid *plan, const tu_plan_style *style,
                             tu_plan_summary *summary, tu_error *error);
tu_status tu_plan_write_trials(FILE *out, const tu_plan_trials *plan, const tu_plan_style *style,
                               tu_plan_summary *summary, tu_error *error);

TU_END_DECLS

#endif
