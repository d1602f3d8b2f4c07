/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * model_parts.h - the two kinds of height model and their cells (internal).
 */
#ifndef TRUEUP_BED_MODEL_PARTS_H
#define TRUEUP_BED_MODEL_PARTS_H

#include "bed/bed_memory.h"
#include "trueup/bed.h"

/* Fills model as a grid from model->point; false, model unchanged: these are no rows and columns.
 * (model_grid.c) */
bool tu_bed_model_take_grid(tu_bed_model *model, tu_bed_memory memory);

/* Fills model as triangles from model->point. (triangles.c) */
tu_status tu_bed_model_take_triangles(tu_bed_model *model, tu_bed_memory memory, tu_error *error);

double tu_bed_grid_height(const tu_bed_model *model, double x_mm, double y_mm);
double tu_bed_mesh_height(const tu_bed_model *model, double x_mm, double y_mm);

/* As tu_bed_model_corners, but for places on a touched one. */
size_t tu_bed_grid_corners(const tu_bed_model *model, double x_mm, double y_mm,
                           tu_bed_corner corner[4]);
size_t tu_bed_mesh_corners(const tu_bed_model *model, double x_mm, double y_mm,
                           tu_bed_corner corner[4]);

double tu_bed_grid_wide_gap(const tu_bed_model *model, double x_mm, double y_mm);

/* A triangle that is too long to say anything of what is under it. (triangles.c) */
bool tu_bed_is_bridge(const tu_bed_model *model, size_t triangle);

/* Upper limits of what the two take of a block for that many points. */
size_t tu_bed_grid_bytes(size_t count);
size_t tu_bed_mesh_bytes(size_t count);

/*
 * The corners of cell (column, row) of a grid, counter-clockwise from the front left one; known[4]
 * tells which have a height. Returns how many.
 */
int tu_bed_grid_cell(const tu_bed_model *model, size_t column, size_t row, tu_bed_point corner[4],
                     bool known[4]);

/* The last line of ascending lines that is not beyond the value, from 0 to count - 2. */
size_t tu_bed_line_before(const double *lines, size_t count, double value);

#endif
