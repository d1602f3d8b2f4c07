/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan.h - touch programs in RS274/NGC: a corner, a surface, a grid over the bed, a trial series.
 *
 * docs/touch-program.md describes what a program does and what it asks of the person beside it.
 */
#ifndef TRUEUP_PLAN_H
#define TRUEUP_PLAN_H

#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/*
 * How touches are made. Start from tu_plan_style_start().
 *   unit           of the program's numbers: G21 or G20.
 *   slot           P word 1 to 9; the work offset that the program works in, and sets with set.
 *   set            the program sets the offset itself (parameters and G10 L2); else it only
 * touches. search, measure  feeds of the fast and the slow touch; traverse: feed of moves near the
 * plate. back_off_mm    between the fast and the slow touch. window_mm      how far the start may
 * be off in X and in Y, either way. height_mm      least and greatest height of the start above the
 * face that is touched first. press_mm       how far a touch goes on past the last place where
 * contact is expected. clearance_mm   kept from everything while not touching. repeats        slow
 * touches of each place, 1 to 20.
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
    int repeats;
} tu_plan_style;

tu_plan_style tu_plan_style_start(void);

/* What a person must know before starting a program, also written at its head. */
typedef struct tu_plan_summary {
    char title[160];
    char start[320]; /* where the tip must be, with what tolerance */
    size_t touches;  /* that count */
    size_t pauses;
    double seconds;           /* expected, pauses not counted */
    double worst_press_mm[2]; /* sideways and down: what a dead circuit presses at most */
    double path_mm;           /* traverse length over a grid */
    double naive_mm;          /* of the same points row by row, always from the left */
    tu_warnings warnings;
} tu_plan_summary;

/* A corner or a single face: the touches that zero needs. */
typedef struct tu_plan_corner {
    tu_target target;
    const tu_machine *machine;
    const tu_plate *plate;
    const tu_cutter *cutter;
    tu_seat seat;
    tu_quantity stock_thickness; /* for set with a plate that sits on the other face; none */
    int wall;                    /* single face: 0 or 1; -1 */
    char series[TU_NAME_SIZE];
} tu_plan_corner;

/* Touches straight down, at one place; with a plate, or on a surface that conducts (plate NULL). */
typedef struct tu_plan_surface {
    const tu_machine *machine;
    const tu_plate *plate;
    char series[TU_NAME_SIZE];
} tu_plan_surface;

enum { TU_KEEP_OUT_MAX = 32, TU_GRID_MAX = 100 };

typedef struct tu_rectangle {
    double x0_mm, y0_mm, x1_mm, y1_mm;
} tu_rectangle;

/*
 * A grid over the bed, in work coordinates of the slot.
 *   columns, rows  2 to TU_GRID_MAX each; points at equal distances over area, edges included.
 *   keep_out       rectangles that the cutter (not its axis alone) must not enter.
 *   variation_mm   greatest difference in height between any two points of the bed.
 */
typedef struct tu_plan_grid {
    const tu_machine *machine;
    const tu_cutter *cutter;
    tu_rectangle area;
    size_t columns, rows;
    const tu_rectangle *keep_out;
    size_t keep_out_count;
    double variation_mm;
    char series[TU_NAME_SIZE];
} tu_plan_grid;

/*
 * n touches of one axis, lifting fully between.
 *   feeds        measure feeds, used in turn; count 0: the style's.
 *   both_sides   a bore only: low and high side alternately.
 */
typedef struct tu_plan_trials {
    tu_target target;
    const tu_machine *machine;
    const tu_plate *plate;
    const tu_cutter *cutter;
    tu_seat seat;
    tu_axis axis;
    int wall;
    size_t touches;
    double feed_mm_per_min[16];
    size_t feed_count;
    bool both_sides;
    char series[TU_NAME_SIZE];
} tu_plan_trials;

/*
 * Each writes the program to out (ASCII, lines below 256 characters) and fills summary.
 * Nothing is written on failure before out is touched: the plan is checked first.
 * Returns TU_OK; TU_USAGE; TU_DATA_RANGE, TU_DATA_MISSING, TU_DATA_CONFLICT for a plan that cannot
 * be safe (walls lower than the touch depth, travel too small, cutter wider than the bore, start
 * window outside the travel, ...: docs/mistakes.md); TU_SYSTEM_IO when writing failed.
 */
tu_status tu_plan_write_corner(FILE *out, const tu_plan_corner *plan, const tu_plan_style *style,
                               tu_plan_summary *summary, tu_error *error);
tu_status tu_plan_write_surface(FILE *out, const tu_plan_surface *plan, const tu_plan_style *style,
                                tu_plan_summary *summary, tu_error *error);
tu_status tu_plan_write_grid(FILE *out, const tu_plan_grid *plan, const tu_plan_style *style,
                             tu_plan_summary *summary, tu_error *error);
tu_status tu_plan_write_trials(FILE *out, const tu_plan_trials *plan, const tu_plan_style *style,
                               tu_plan_summary *summary, tu_error *error);

#endif
