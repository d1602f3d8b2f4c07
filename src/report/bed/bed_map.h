/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_map.h - the parts of the map of a bed (internal): the surface as triangles, its levels, the
 * sheet with scale, and what is drawn on it. docs/bed.md tells what each line and tint means.
 *
 * Positions on the bed are machine coordinates; on paper tu_svg_point, y down.
 */
#ifndef TU_REPORT_BED_MAP_H
#define TU_REPORT_BED_MAP_H

#include "report/bed/contour.h"
#include "report/drawing/svg.h"
#include "trueup/report_bed.h"

enum { TU_MAP_BANDS_MAX = 14, TU_MAP_TAKEN_MAX = 400, TU_MAP_DOTS_MAX = 3000 };

/*
 *   page          its size: A4, lying or standing as the bed does.
 *   box           where the bed's extent lies on paper; scale: paper over real.
 *   vertex, triangle, mesh, tracer  the surface, heights as drawn (less the tilt, if so asked).
 *   low, high     of the heights drawn; step, first: levels are first + i * step, i < levels.
 *   taken         room on paper that marks and labels have, so that no label stands on another.
 */
typedef struct tu_bed_sheet {
    tu_svg svg;
    const tu_bed_answer *answer;
    const tu_bed_style *style;
    tu_svg_point page;
    tu_svg_box box;
    double scale;
    tu_contour_vertex *vertex;
    uint32_t (*triangle)[3];
    tu_contour_mesh mesh;
    tu_contour_tracer *tracer;
    tu_contours contours;
    double low_mm, high_mm, step_mm, first_mm;
    int levels;
    tu_svg_box taken[TU_MAP_TAKEN_MAX];
    size_t taken_count;
} tu_bed_sheet;

/* Height as it is drawn: of the machine, or above the least-squares plane. */
double tu_map_height(const tu_bed_sheet *sheet, tu_bed_point point);
tu_svg_point tu_map_place(const tu_bed_sheet *sheet, double x_mm, double y_mm);
/* Sizes of text. */
#define TU_MAP_SMALL_MM 2.6
#define TU_MAP_NOTE_MM  3.2

/* A text; size_mm of its em. */
void tu_map_text(tu_bed_sheet *sheet, tu_svg_point at, tu_svg_anchor anchor, double size_mm,
                 const char *css, const char *text);
/* A height in the style's unit, with as many decimals as the levels need. */
void tu_map_format_level(const tu_bed_sheet *sheet, double height_mm, char *text, size_t size);

/* --- bed_surface.c --- */

/* The surface of the model as triangles of a number that can be drawn; scale and levels. */
tu_status tu_map_prepare(tu_bed_sheet *sheet, tu_svg_box window, tu_error *error);
void tu_map_release(tu_bed_sheet *sheet);
/* "#rrggbb" of band 0 .. bands - 1, from the lowest to the highest: steps of even lightness. */
void tu_map_tint(int band, int bands, char text[8]);

/* --- bed_relief.c --- */

/* Tints and contour lines. */
tu_status tu_map_draw_relief(tu_bed_sheet *sheet, tu_error *error);
/* Their heights, where nothing else stands: after all that takes room on the map. */
tu_status tu_map_label_contours(tu_bed_sheet *sheet, tu_error *error);

/* --- bed_marks.c --- */

/* Touched places, contact places, suspects, the highest and the lowest, the job. */
void tu_map_draw_marks(tu_bed_sheet *sheet);
/* What the marks mean; y goes on below. */
void tu_map_draw_symbol_key(tu_bed_sheet *sheet, double x, double *y);
/* Whether nothing stands in the box yet, and there is room to remember it. */
bool tu_map_is_free(const tu_bed_sheet *sheet, tu_svg_box box);
void tu_map_take(tu_bed_sheet *sheet, tu_svg_box box);

/* --- bed_section.c --- */

/* Height along the worst row below the map, along the worst column beside it, as drawn on the map
 * (less the tilt, if so asked). */
void tu_map_draw_row(tu_bed_sheet *sheet, tu_svg_box window);
void tu_map_draw_column(tu_bed_sheet *sheet, tu_svg_box window);

#endif
