/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed.h - from touches over a bed to decisions: shape, height anywhere, suspects, surfacing,
 * levelling, through cuts, and how far to trust a flatness figure.
 *
 * Machine frame, X+ right, Y+ back, Z+ up; lengths in mm, areas in mm2, volumes in mm3, times in s,
 * feeds in mm/s. NaN stands for what was not given or cannot be said. Planes and minimum zone are
 * in flatness.h. docs/bed.md says what the figures mean.
 * Usual order: tu_bed_merge_touches, then the planes of flatness.h, tu_bed_fit_shape,
 * tu_bed_find_suspects, tu_bed_model_start, then what is asked of the model.
 *
 * Pure: no I/O, no allocation but in tu_bed_model_start for scattered points, where the Qhull
 * library takes memory while it works and gives all of it back. Work space is the caller's: where a
 * function takes (void *memory, size_t bytes), memory is aligned as malloc's, and bytes at least
 * what the function named beside it says for that count; else TU_USAGE.
 */
#ifndef TRUEUP_BED_H
#define TRUEUP_BED_H

#include "trueup/flatness.h"
#include "trueup/setup.h"
#include "trueup/status.h"
#include "trueup/warning.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

TU_BEGIN_DECLS

/* Axis-parallel, low below high. */
typedef struct tu_bed_rectangle {
    double x_low_mm, x_high_mm, y_low_mm, y_high_mm;
} tu_bed_rectangle;

/* --- touches to places: what has to be right before anything is worked out (merge.c) --- */

#define TU_BED_SAME_PLACE_MM 0.05 /* nearer together in X and Y than this: the same place */
#define TU_BED_AGREE_MM      0.1  /* touches of one place may differ by this in Z */
#define TU_BED_AGAIN_MM      0.5  /* so near, a touch replaces those of an earlier round */

/*
 * Touches as they come from a file.
 *   series         count numbers from 0 for the touches, or NULL: one series.
 *   series_name    their names by number, or NULL.
 *   round          of each touch, or NULL: all of one round. Touches of a later round replace those
 *                  of earlier ones at the same place (TU_BED_AGAIN_MM, the nearest place), whatever
 *                  the order they come in; places of earlier rounds beside them stay. Within a
 *                  round above 0, touches of a place that follow one another are repeats; one that
 *                  comes back after a touch elsewhere is newer and replaces them.
 *   file_name, file, line  for messages: where each touch stands, file as an index of file_name;
 *                  or NULL: they tell its number.
 *   same_place_mm, agree_mm  NaN: the values above.
 *   machine        for its travel, or NULL; travel not stated is NaN.
 */
typedef struct tu_bed_touches {
    const tu_bed_point *point;
    size_t count;
    const size_t *series;
    const char *const *series_name;
    const uint32_t *round;
    const char *const *file_name;
    const uint32_t *file, *line;
    double same_place_mm;
    double agree_mm;
    const tu_machine *machine;
} tu_bed_touches;

/*
 * Places with one height each.
 *   point, touches  the caller's, room for the number of touches each: place (mean of its touches,
 *                   in the order of each place's first touch) and how many touches it has.
 *   first           the caller's, the same room, or NULL: index of each place's first touch.
 *   count           places.
 *   repeat_sd_mm, repeat_dof  standard deviation of a single touch from places touched more than
 *                   once, pooled; NaN and 0: none.
 *   worst_spread_mm the largest difference in Z at one place; 0 without repeats.
 *   renewed, replaced  places whose touches newer ones replaced, and how many touches that were.
 *   strays          places of later rounds where no earlier one had touched.
 *   likely_inches   said in a warning too.
 */
typedef struct tu_bed_places {
    tu_bed_point *point;
    size_t *touches;
    size_t *first;
    size_t count;
    double repeat_sd_mm, repeat_dof;
    double worst_spread_mm;
    size_t renewed, replaced, strays;
    bool likely_inches;
} tu_bed_places;

size_t tu_bed_merge_bytes(size_t count);
/*
 * Returns TU_OK;
 *   TU_DATA_RANGE     a coordinate that is not finite or beyond 1e9 mm (with file and line), or
 *                     outside the machine's travel by more than a tenth of it;
 *   TU_UNDETERMINED   fewer than 3 places, or all on one line seen from
 *                     above (their width a thousandth of their length, root mean square);
 *   TU_DATA_CONFLICT  one place, two heights further apart than agree_mm: names both touches, and
 *                     both series where two series overlap.
 * warnings (may be NULL): numbers that look like inches read as mm: the touches take up less than
 * 1/20 of the travel in both directions and would fit into it 25.4 times as large, or, without a
 * travel, less than 60 mm both ways. A small job on a large bed looks so too: a warning, no more.
 */
tu_status tu_bed_merge_touches(const tu_bed_touches *touches, void *memory, size_t bytes,
                               tu_bed_places *places, tu_warnings *warnings, tu_error *error);

/* --- shape: tilt, twist, bow (shape.c) --- */

/*
 * z = height + slope_x X + slope_y Y + twist XY + bow_x X^2 + bow_y Y^2 by vertical least squares,
 * X and Y from the middle of the extent, mm. A term that the points do not settle (a 2 by 2 grid
 * has no bow) is left out of the fit and NaN here; earlier terms go first.
 *   coefficient[6]  in the order of the formula.
 *   twist_mm        over the extent: how far the back right corner lies above the plane through the
 *                   other three. Above 0: back right and front left are high.
 *   bow_x_mm        over the extent: how far the middle lies above the chord between left and right
 *                   edge; above 0: a crown. bow_y_mm likewise from front to back.
 *   rest_sd_mm      of the residuals, n - terms degrees of freedom; NaN when none are left.
 */
typedef struct tu_bed_shape {
    double x_middle_mm, y_middle_mm, x_extent_mm, y_extent_mm;
    double coefficient[6];
    size_t terms;
    double twist_mm, bow_x_mm, bow_y_mm;
    double rest_sd_mm;
} tu_bed_shape;

/* 3 points or more; TU_UNDETERMINED when even the plane is not settled, TU_DATA_RANGE (NaN). */
tu_status tu_bed_fit_shape(const tu_bed_point *points, size_t count, tu_bed_shape *shape,
                           tu_error *error);
/* z of the fitted shape. */
double tu_bed_shape_height(const tu_bed_shape *shape, double x_mm, double y_mm);

/* --- heights everywhere (model.c, model_grid.c, triangles.c, region.c, borders.c) --- */

enum { TU_BED_NONE = -1 };

typedef enum tu_bed_model_kind { TU_BED_GRID, TU_BED_MESH } tu_bed_model_kind;

/*
 * A surface through the touched points; its arrays lie in the memory that the caller gave.
 *
 * TU_BED_GRID: points in rows and columns, at most a tenth of the smallest distance of two lines
 * off them, at least half of the crossings touched (below 16 points: all of them, or none off its
 * line by more than 0.05 mm). Bilinear between four known corners, a plane over three, nothing
 * where two or more are missing. A missing crossing whose neighbours on both sides in its row or
 * its column were touched is filled in between them (the mean of both where both can), as under a
 * clamp or a screw; a wider hole stays one.
 *   column_x_mm[columns], row_y_mm[rows]  ascending: the mean of each line's points.
 *   z_mm[rows * columns]  row by row from the front, left to right; NaN: not known.
 *   point_at[rows * columns]  index of the touched point, TU_BED_NONE: none.
 *   filled                crossings filled in; missing: those that stay NaN.
 *   jitter_mm             how far the worst point lies off its line.
 *
 * TU_BED_MESH: the Delaunay triangulation, linear in each triangle.
 *   triangle[triangles][3]  indices of points, counter-clockwise seen from above.
 *   neighbour[triangles][3] the triangle across the edge opposite corner i, TU_BED_NONE: border.
 *   point[points]           copies of the points.
 *   longest_edge_mm, bridges  a triangle with an edge longer than four times the usual (median)
 *                           distance of a place to its third nearest one is a bridge over what
 *                           nobody touched: there is no height in it; how many are.
 */
typedef struct tu_bed_model {
    tu_bed_model_kind kind;
    tu_bed_rectangle extent;
    size_t points;
    tu_bed_point *point;
    size_t columns, rows;
    double *column_x_mm, *row_y_mm, *z_mm;
    int32_t *point_at;
    size_t filled, missing;
    double jitter_mm;
    double usual_x_mm, usual_y_mm, wide_gap_mm;
    size_t triangles;
    int32_t (*triangle)[3];
    int32_t (*neighbour)[3];
    double longest_edge_mm;
    size_t bridges;
    size_t hint_columns, hint_rows; /* where a search begins */
    int32_t *hint;
} tu_bed_model;

size_t tu_bed_model_bytes(size_t count);
/*
 * points, count  places from tu_bed_merge_touches: no two in one place; at most 1e7, and what is
 *                scattered at most 2e6.
 * mesh_only      true: triangulates a grid as well.
 * Returns TU_OK; TU_USAGE; TU_UNDETERMINED fewer than 3 or all on one line; TU_SYSTEM_MEMORY;
 * TU_NUMERIC what Qhull could not triangulate (its reason is in the message).
 */
tu_status tu_bed_model_start(const tu_bed_point *points, size_t count, bool mesh_only, void *memory,
                             size_t bytes, tu_bed_model *model, tu_error *error);

/* z of the model; NaN where it does not reach: it never extrapolates. On a grid, a point off its
 * line by jitter counts as on it. Outermost points are inside to a millionth of the extent. */
double tu_bed_model_height(const tu_bed_model *model, double x_mm, double y_mm);

/* What the height at a place comes from. index of the touched point; TU_BED_NONE: nobody touched
 * there, or the point is the corner of a bridge. point: its z is NaN where it is not known. */
typedef struct tu_bed_corner {
    int32_t index;
    tu_bed_point point;
} tu_bed_corner;

/* The corners of the cell or the triangle around a place that count for its height; nearer than
 * TU_BED_SAME_PLACE_MM to a touched one, that one alone. Returns how many; 0: outside. */
size_t tu_bed_model_corners(const tu_bed_model *model, double x_mm, double y_mm,
                            tu_bed_corner corner[4]);

/* Where a place lies in a wide gap of a grid's lines, its width; else 0. */
double tu_bed_model_wide_gap(const tu_bed_model *model, double x_mm, double y_mm);

/*
 * The model as triangles alone, counter-clockwise, for drawing: a bilinear cell becomes four around
 * its middle, so heights between differ from the model's by up to 1/8 of the cell's own twist.
 * Room: vertex[tu_bed_model_vertex_count], triangle[tu_bed_model_triangle_count]. Crossings that
 * are not known are vertices that no triangle uses, their z NaN replaced by 0. Bridges are left
 * out.
 */
size_t tu_bed_model_vertex_count(const tu_bed_model *model);
size_t tu_bed_model_triangle_count(const tu_bed_model *model);
void tu_bed_model_draw(const tu_bed_model *model, tu_bed_point *vertex, uint32_t (*triangle)[3]);

/*
 * What of the model lies in a rectangle and above a level.
 *   area_mm2        the model covers, of known height, seen from above.
 *   unknown_mm2     of the rectangle, not covered; without one, of the rectangle around the
 *                   touches.
 *   above_mm2, above_mm3  area higher than the level, and the volume between surface and level.
 *   highest, lowest of the surface inside, with places: at a touched point or the rectangle's edge.
 * Exact on triangles; on bilinear cells exact along X, by Gauss's rule along Y (relative 1e-9).
 */
typedef struct tu_bed_region {
    double area_mm2, unknown_mm2, above_mm2, above_mm3;
    tu_bed_point highest, lowest;
} tu_bed_region;

/* rectangle NULL: all of the model. TU_UNDETERMINED: nothing of it is covered. */
tu_status tu_bed_measure_region(const tu_bed_model *model, const tu_bed_rectangle *rectangle,
                                double level_mm, tu_bed_region *region, tu_error *error);

/*
 * The points that settle the surface in a rectangle (borders.c): first those touched in it
 * (touched: how many; on a grid those whose crossing is in it), then its corners, where its border
 * cuts the model's edges, and crossings that were filled in. Between them the surface is straight
 * or bilinear, so its highest and lowest points are among them. Returns how many there are; only
 * room of them are written.
 */
size_t tu_bed_list_surface(const tu_bed_model *model, const tu_bed_rectangle *rectangle,
                           tu_bed_point *points, size_t room, size_t *touched);

/* --- straightness of rows and columns (straightness.c) --- */

/* Straightness deviation in the vertical section, minimum zone, normal to the zone's lines (ISO
 * 12780-1 STRt); NaN below 3 touched points. low, high: the zone's contact points, indices of
 * points; the two ends of the edge on one side, the one point on the other. */
typedef struct tu_bed_straightness {
    double STRt_mm;
    double slope;
    size_t points;
    int32_t contact[3]; /* two on one side, one on the other */
    bool single_is_high;
} tu_bed_straightness;

/*
 * of a grid: row[rows], column[columns] out, either may be NULL; worst_row, worst_column: index,
 * TU_BED_NONE where no line has three points. memory as tu_bed_straightness_bytes(model->points).
 * TU_UNDETERMINED for a mesh: there are no rows.
 */
size_t tu_bed_straightness_bytes(size_t count);
tu_status tu_bed_find_straightness(const tu_bed_model *model, void *memory, size_t bytes,
                                   tu_bed_straightness *row, tu_bed_straightness *column,
                                   int32_t *worst_row, int32_t *worst_column, tu_error *error);

/* Any section: distances along it in any order, and heights; contact then are indices into it. */
typedef struct tu_bed_section {
    const double *along_mm, *z_mm;
    size_t count;
} tu_bed_section;

/* memory as tu_bed_straightness_bytes(count). TU_DATA_RANGE: not finite; TU_UNDETERMINED: three
 * points or more, all in one place. */
tu_status tu_bed_judge_section(const tu_bed_section *section, void *memory, size_t bytes,
                               tu_bed_straightness *straight, tu_error *error);

/* --- suspects: a chip, a bad touch (suspects.c) --- */

#define TU_BED_SUSPECT_RATE 0.05

/*
 *   index        of the point.
 *   residual_mm  from what its neighbours say: above 0 stands out of them.
 *   score        residual over the scatter of all residuals; suspect above `threshold`.
 */
typedef struct tu_bed_suspect {
    size_t index;
    double residual_mm;
    double score;
} tu_bed_suspect;

/*
 *   threshold   score above which a point is suspect: a clean bed (smooth shape, normal noise) has
 *               any suspect with a probability of at most about `rate` (docs/statistics.md).
 *   scatter_mm  1.4826 times the median absolute residual, referred to a single touch.
 *   least_inside_mm, least_corner_mm  residual that has a chance of one half to be found: at a
 *               point with neighbours all around, and at the worst placed one.
 *   judged      points that could be: with 8 points or fewer, none is. Below
 *               16 the shape stays on: a deep sag of few points looks like a chip.
 */
typedef struct tu_bed_suspects {
    tu_bed_suspect *suspect; /* the caller's, room for `room` */
    size_t room;
    size_t count; /* found; beyond room only counted; largest score first */
    double threshold, scatter_mm, least_inside_mm, least_corner_mm;
    size_t judged;
} tu_bed_suspects;

size_t tu_bed_suspects_bytes(size_t count);
/*
 * The smooth shape is taken off: tilt, twist and bow, and waves as far as they stand out of the
 * noise; places that stand out more than any wave would do not bend it. Then each point is compared
 * with the plane through its 8 to 12 nearest neighbours, nearest by the spacing along X and Y
 * (robust too, so that a chip does not make suspects of its neighbours); the residual is scaled by
 * how well that plane foretells this point.
 *   rate      chance that a clean bed raises one; NaN: TU_BED_SUSPECT_RATE.
 *   floor_mm  what is smaller is never suspect (repeatability, step); NaN: 0.001.
 * Not told apart: a narrow ridge and chips side by side; three or more chips among the neighbours
 * of one point hide each other.
 */
tu_status tu_bed_find_suspects(const tu_bed_point *points, size_t count, double rate,
                               double floor_mm, void *memory, size_t bytes,
                               tu_bed_suspects *suspects, tu_error *error);

/* --- surfacing (surfacing.c) --- */

/*
 *   rectangle        what is surfaced; NULL: the model's extent.
 *   allowance_mm     how far below the lowest point the last pass goes, 0 or more.
 *   depth_of_cut_mm  of a pass; NaN: one pass.
 *   cutter_mm, step_over_mm, feed_mm_s  for the time; NaN: no time.
 */
typedef struct tu_surfacing_request {
    const tu_bed_rectangle *rectangle;
    double allowance_mm;
    double depth_of_cut_mm;
    double cutter_mm, step_over_mm, feed_mm_s;
} tu_surfacing_request;

/* A pass down to z level_mm: area not cut yet (bed lower than the level), volume it takes. */
typedef struct tu_surfacing_pass {
    double level_mm, uncut_mm2, volume_mm3;
} tu_surfacing_pass;

enum { TU_SURFACING_PASSES_MAX = 100 };

/*
 *   depth_mm    from the highest point to the last level.
 *   level_mm    z of the last pass; unknown_mm2 of the rectangle where nobody touched: the bed may
 *               be higher or lower there.
 *   path_mm, time_s  of all passes: back and forth along the longer side, the cutter's edge
 *               reaching both long sides and its centre both short ones; without plunges.
 */
typedef struct tu_surfacing {
    double depth_mm, level_mm, area_mm2, unknown_mm2, volume_mm3;
    tu_bed_point highest, lowest;
    size_t passes;
    tu_surfacing_pass pass[TU_SURFACING_PASSES_MAX];
    double path_mm, time_s;
} tu_surfacing;

/* TU_DATA_RANGE: a negative or zero size, a step-over wider than the cutter, more passes than
 * TU_SURFACING_PASSES_MAX; TU_UNDETERMINED: rectangle outside the model. */
tu_status tu_bed_plan_surfacing(const tu_bed_model *model, const tu_surfacing_request *request,
                                tu_surfacing *surfacing, tu_error *error);

/* --- levelling (levelling.c) --- */

enum { TU_BED_SUPPORTS_MAX = 64 };

/*
 * Heights to add under the supports (add_mm[supports], all at least 0, the highest support 0) so
 * that the plane with these slopes comes level. Take slope_x, slope_y from the least-squares fit or
 * the minimum zone. Three supports carry a rigid bed exactly; with more, each gets the plane's
 * height there, and a bed that bends will settle on them.
 * TU_UNDETERMINED: fewer than 3 supports, or all on one line (within a thousandth of their extent):
 * shims there cannot take out the tilt across it. TU_DATA_RANGE: not finite, steeper than
 * TU_BED_STEEPEST_SLOPE, more than TU_BED_SUPPORTS_MAX.
 */
tu_status tu_bed_level(double slope_x, double slope_y, const tu_machine_plane_point *support,
                       size_t supports, double *add_mm, tu_error *error);
/* z of a point of a rigid bed after heights were added under supports (least squares plane through
 * the heights added; exact for three). */
tu_bed_point tu_bed_raise_point(const tu_machine_plane_point *support, size_t supports,
                                const double *add_mm, tu_bed_point point);

/* --- through cuts (through_cut.c) --- */

/*
 * Stock of thickness T with its zero on top, lying at bed height b0, cut at T + overcut below the
 * top: it bites b - b0 + overcut into the bed, or, below 0, leaves a skin that thick.
 *   job          where is cut; NULL: the model's extent.
 *   reference    where b0 is taken from the model: where the height was touched. x NaN: b0_mm is
 *                given.
 *   overcut_mm   may be below 0.
 *   stock_tolerance_mm  half width of T's tolerance, 0 or more; NaN: 0. It counts against both.
 */
typedef struct tu_through_cut_request {
    const tu_bed_rectangle *job;
    tu_machine_plane_point reference;
    double b0_mm;
    double overcut_mm;
    double stock_tolerance_mm;
} tu_through_cut_request;

/*
 *   worst_bite_mm, worst_skin_mm  at least 0, tolerance included; bite_at, skin_at: where.
 *   overcut_needed_mm   the smallest that cuts through everywhere, tolerance included (below 0: the
 *                       bed is higher than b0 all over).
 *   bite_then_mm        worst bite with that overcut.
 *   skin_mm2            area that keeps a skin at worst; unknown_mm2: of the job, never touched.
 */
typedef struct tu_through_cut {
    double b0_mm;
    double worst_bite_mm, worst_skin_mm;
    tu_bed_point bite_at, skin_at;
    double overcut_needed_mm, bite_then_mm;
    double skin_mm2, area_mm2, unknown_mm2;
} tu_through_cut;

/* TU_UNDETERMINED: the reference or all of the job is outside the model; TU_DATA_RANGE. */
tu_status tu_bed_judge_through_cut(const tu_bed_model *model, const tu_through_cut_request *request,
                                   tu_through_cut *cut, tu_error *error);

/* --- how far noise makes flatness look worse (inflation.c) --- */

typedef enum tu_flatness_figure {
    TU_FIGURE_LEAST_SQUARES, /* FLTt of the least-squares plane */
    TU_FIGURE_MINIMUM_ZONE,  /* FLTt of the minimum zone */
    TU_FIGURE_RANGE          /* highest minus lowest z */
} tu_flatness_figure;

enum { TU_INFLATION_POINTS_MAX = 1000000 };

/*
 *   sd_mm    of the height of a place: a touch's repeatability over sqrt(touches of a place).
 *   dof      its degrees of freedom; NaN: known.
 *   seed     of the draws; the same seed gives the same figures.
 *   trials   at least 40; 0: as many as time allows.
 */
typedef struct tu_inflation_request {
    tu_flatness_figure figure;
    double sd_mm, dof;
    uint64_t seed;
    size_t trials;
} tu_inflation_request;

/*
 *   observed_mm   the figure of the points.
 *   inflation_mm  what noise adds to it on average: so much where many places share the highest and
 *                 the lowest (a flat bed, steps), less elsewhere.
 *   best_mm       observed less inflation; not below low_mm.
 *   low_mm, high_mm  the true figure of these places lies between them, 95 % at the least
 *                 favourable shapes, more at others. low 0: noise alone would do.
 *   trials        done; 0 where nothing was drawn.
 */
typedef struct tu_inflation {
    double observed_mm, inflation_mm, best_mm, low_mm, high_mm;
    size_t trials;
} tu_inflation;

size_t tu_bed_inflation_bytes(size_t count);
/*
 * high: the places that make the true figure make no more than the observed one now, and with known
 * weights they err by sd * sqrt(sum of squared weights), at most sd * sqrt(2). So high is observed
 * + 1.96 of these (Student's t for dof); for the minimum zone the weights are those of its contact
 * points.
 * low: Monte Carlo (JCGM 101:2008, clause 7). All places that noise could have parted from the
 * highest are made as high, those near the lowest as low: the more share them, the more noise adds.
 * "Could": by as many sd as the largest error of all places exceeds once in 40. Noise is drawn on
 * that many times, and low is observed less the 97.5 % quantile of what it adds. With dof, sd is
 * drawn too, sd * sqrt(dof / chi squared).
 * inflation: noise is drawn on the heights as they are, which hold it once already; a line over the
 * standard deviation, through sd and sqrt(2) sd, leads back to 0 (J. R. Cook, L. A. Stefanski,
 * JASA 89 (1994) 1314-1328, from memory). The figure is convex in the noise, so the line does not
 * say too little.
 * docs/statistics.md has simulated coverage. The order of the points does not matter. Trials times
 * points are limited: 1000 trials up to 20 000 points, fewer above, 40 at least; a million points
 * take a few seconds. sd 0: all figures equal, nothing is drawn.
 * TU_DATA_RANGE: sd negative or not finite, dof below 1; more than TU_INFLATION_POINTS_MAX points.
 * TU_UNDETERMINED: three points or fewer.
 */
tu_status tu_bed_find_inflation(const tu_bed_point *points, size_t count,
                                const tu_inflation_request *request, void *memory, size_t bytes,
                                tu_inflation *inflation, tu_error *error);

TU_END_DECLS

#endif
