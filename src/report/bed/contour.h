/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * contour.h - contour lines, and the regions above them, of heights over a mesh of triangles
 * (internal).
 *
 * The height is linear in each triangle, so a line is exact for the mesh and there is no choice to
 * make at saddles. A vertex that lies exactly at a level counts as above it: lines never branch.
 */
#ifndef TU_REPORT_CONTOUR_H
#define TU_REPORT_CONTOUR_H

#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct tu_contour_vertex {
    double x_mm, y_mm, height_mm;
} tu_contour_vertex;

/* Triangles run counter-clockwise, seen from above (x to the right, y to the back); each edge
 * belongs to one or two of them. All numbers finite. */
typedef struct tu_contour_mesh {
    const tu_contour_vertex *vertex;
    size_t vertex_count;
    const uint32_t (*triangle)[3];
    size_t triangle_count;
} tu_contour_mesh;

typedef struct tu_contour_point {
    double x_mm, y_mm;
} tu_contour_point;

/* Points first .. first + count of the list. closed: the last is joined to the first. */
typedef struct tu_contour_chain {
    size_t first, count;
    bool closed;
} tu_contour_chain;

typedef struct tu_contours {
    tu_contour_point *point;
    size_t point_count, point_room;
    tu_contour_chain *chain;
    size_t chain_count, chain_room;
} tu_contours;

typedef struct tu_contour_tracer tu_contour_tracer;

/*
 * Prepares a mesh, which has to outlive the tracer. tracer out; NULL on failure.
 * Returns TU_OK; TU_SYSTEM_MEMORY; TU_DATA_CONFLICT for triangles that overlap at an edge.
 */
tu_status tu_contour_tracer_create(const tu_contour_mesh *mesh, tu_contour_tracer **tracer,
                                   tu_error *error);
void tu_contour_tracer_destroy(tu_contour_tracer *tracer);

/* The lines at a level into contours (emptied first; {0} at the start), higher ground to the left
 * of their direction. TU_SYSTEM_MEMORY. */
tu_status tu_contour_trace_lines(tu_contour_tracer *tracer, double level_mm, tu_contours *contours,
                                 tu_error *error);
/* The border of the region at or above a level: closed rings, the region to the left, so that
 * filling them by the non-zero or the even-odd rule fills the region. */
tu_status tu_contour_trace_region(tu_contour_tracer *tracer, double level_mm, tu_contours *contours,
                                  tu_error *error);
/* TU_SYSTEM_MEMORY, in words. */
tu_status tu_contour_no_memory(tu_error *error);
void tu_contours_destroy(tu_contours *contours);

#endif
