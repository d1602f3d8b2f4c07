/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_path.h - views of a rehearsed path (internal): which part of the table a window of the
 * page shows, and what is drawn into it. docs/rehearse.md tells what each line and symbol means.
 */
#ifndef TRUEUP_REPORT_DRAWING_PATH_H
#define TRUEUP_REPORT_DRAWING_PATH_H

#include "program/scene_solids.h"
#include "report/drawing/drawing.h"
#include "report/rehearsal/rehearsal_words.h"

/*
 * A view onto the machine along one axis.
 *   across, up      the axes that lie across the page and up it.
 *   window          on the page; shapes are cut off at it.
 *   scale[2]        paper over real, across and up; the second is larger where heights are drawn
 *                   enlarged.
 *   middle_mm[2]    what lies in the middle of the window.
 */
typedef struct tu_path_view {
    tu_drawing *drawing;
    const tu_rehearsal_story *story;
    const tu_solids *solids;
    tu_axis across, up;
    tu_svg_box window;
    double scale[2];
    double middle_mm[2];
} tu_path_view;

/* --- drawing_path.c --- */

/* Chooses what is shown, and the scale. drawing, story, solids, axes and window are given. */
void tu_path_view_lay_out(tu_path_view *view);
tu_svg_point tu_path_view_spot(const tu_path_view *view, tu_machine_point at);
bool tu_path_view_shows(const tu_path_view *view, tu_svg_point at);
/* A line cut off at the window; returns whether any of it is left, and its ends in a and b. */
bool tu_path_view_clip(const tu_path_view *view, tu_svg_point *a, tu_svg_point *b);
void tu_path_view_line(tu_path_view *view, const char *css, tu_svg_point a, tu_svg_point b);
/* A convex polygon of at most TU_PATH_CORNERS corners, cut off at the window. */
enum { TU_PATH_CORNERS = 48 };
void tu_path_view_fill(tu_path_view *view, const char *css, const tu_svg_point *corners,
                       size_t count);

/* --- drawing_path_things.c --- */

/* Bed, stock, plate and blocks. */
void tu_path_view_things(tu_path_view *view);

/* --- drawing_path_moves.c --- */

/* The moves, the touches with their numbers, start, fault, and the zero that was set. */
void tu_path_view_moves(tu_path_view *view);

#endif
