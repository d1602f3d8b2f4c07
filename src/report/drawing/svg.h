/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * svg.h - a small writer of SVG 1.1: lines, circles, polygons, text, all in millimetres of paper.
 *
 * Page coordinates: x to the right, y down, origin at the page's upper left corner, 1 unit = 1 mm.
 * Nothing is kept in memory. A failed write is remembered; tu_svg_close tells of it. Numbers do not
 * depend on the locale. Ids and class names are written as given: they are the caller's constants.
 */
#ifndef TRUEUP_SVG_H
#define TRUEUP_SVG_H

#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

typedef struct tu_svg_point {
    double x_mm, y_mm;
} tu_svg_point;

typedef struct tu_svg_box {
    double left, top, right, bottom;
} tu_svg_box;

typedef struct tu_svg {
    FILE *out;
    bool failed;
} tu_svg;

typedef enum tu_svg_anchor { TU_SVG_START, TU_SVG_MIDDLE, TU_SVG_END } tu_svg_anchor;

/*
 * How a text is set.
 *   size_mm   font size (of the em; capitals are about 0.73 of it).
 *   turn_deg  turned clockwise about the anchor point, as SVG's rotate(); 0: level.
 *   css       class name, NULL: none.
 */
typedef struct tu_svg_text_style {
    double size_mm;
    tu_svg_anchor anchor;
    double turn_deg;
    const char *css;
} tu_svg_text_style;

/*
 * Begins a page of that size.
 *   css          the content of the style element.
 *   title, desc  for people who listen to the picture; escaped here.
 */
void tu_svg_open(tu_svg *svg, FILE *out, tu_svg_point size, const char *css, const char *title,
                 const char *desc);
/* Ends the page and flushes. Returns TU_OK or TU_SYSTEM_IO. */
tu_status tu_svg_close(tu_svg *svg, tu_error *error);

void tu_svg_group_open(tu_svg *svg, const char *id);
void tu_svg_group_close(tu_svg *svg);

/* Shapes: id NULL for none. A shape with a coordinate that is not finite is left out. */
void tu_svg_line(tu_svg *svg, const char *id, const char *css, tu_svg_point a, tu_svg_point b);
/* The same between two places given by their coordinates, without an id. */
void tu_svg_stroke(tu_svg *svg, const char *css, double x1, double y1, double x2, double y2);
void tu_svg_circle(tu_svg *svg, const char *id, const char *css, tu_svg_point centre,
                   double radius_mm);
void tu_svg_polygon(tu_svg *svg, const char *id, const char *css, const tu_svg_point *points,
                    size_t count);
/* Corners from (left, top) by (right, top). */
void tu_svg_rectangle(tu_svg *svg, const char *id, const char *css, tu_svg_box box);
void tu_svg_polyline(tu_svg *svg, const char *id, const char *css, const tu_svg_point *points,
                     size_t count);

/* Several closed rings as one shape, so that rings within rings are holes (even-odd rule): ring k
 * has ring_count[k] of the points. Left out as a whole where a coordinate is not finite. */
void tu_svg_rings(tu_svg *svg, const char *id, const char *css, const tu_svg_point *points,
                  const size_t *ring_count, size_t rings);
/* A circle that shows a text while the pointer rests on it; escaped here. */
void tu_svg_dot(tu_svg *svg, const char *id, const char *css, tu_svg_point centre, double radius_mm,
                const char *text);

/*
 * Text, on its baseline. What XML does not allow (control characters, bytes that are not UTF-8) is
 * written as U+FFFD; & < > " and ' are escaped.
 */
void tu_svg_text(tu_svg *svg, tu_svg_point at, const tu_svg_text_style *style, const char *text);
/* The same, level. */
void tu_svg_write(tu_svg *svg, double x, double y, double size_mm, tu_svg_anchor anchor,
                  const char *css, const char *text);

/*
 * About how wide a text comes out, on the wide side: advance widths of a common wide sans-serif
 * face for ASCII, a full em for everything else.
 */
double tu_svg_text_width(const char *text, double size_mm);
/* Cuts the text behind a character, and puts "…" there, where it is wider than that. */
void tu_svg_shorten(char *text, size_t size, double room_mm, double font_mm);

#endif
