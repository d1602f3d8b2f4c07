/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * model.c - a surface through the touched points: which kind, and what both kinds share.
 */
#include "bed/model_parts.h"

#include <math.h>
#include <string.h>

#define POINTS_MAX    ((size_t)10000000)
#define SCATTERED_MAX ((size_t)2000000)

size_t tu_bed_model_bytes(size_t count)
{
    const size_t grid = tu_bed_grid_bytes(count), mesh = tu_bed_mesh_bytes(count);
    return tu_bed_memory_size(count, sizeof(tu_bed_point)) + (grid > mesh ? grid : mesh);
}

static tu_status take_points(const tu_bed_point *points, tu_bed_model *model, tu_error *error)
{
    tu_bed_rectangle *e = &model->extent;
    *e = (tu_bed_rectangle){INFINITY, -INFINITY, INFINITY, -INFINITY};

    memcpy(model->point, points, model->points * sizeof *points);
    for (size_t i = 0; i < model->points; i++) {
        const tu_bed_point p = points[i];
        if (!isfinite(p.x_mm) || !isfinite(p.y_mm) || !isfinite(p.z_mm))
            return tu_fail(error, TU_DATA_RANGE, NULL, "point %zu is not finite", i + 1);
        e->x_low_mm = fmin(e->x_low_mm, p.x_mm);
        e->x_high_mm = fmax(e->x_high_mm, p.x_mm);
        e->y_low_mm = fmin(e->y_low_mm, p.y_mm);
        e->y_high_mm = fmax(e->y_high_mm, p.y_mm);
    }
    if (!(e->x_high_mm > e->x_low_mm) || !(e->y_high_mm > e->y_low_mm))
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "all points lie on one line: there is no surface through them");
    return TU_OK;
}

tu_status tu_bed_model_start(const tu_bed_point *points, size_t count, bool mesh_only, void *memory,
                             size_t bytes, tu_bed_model *model, tu_error *error)
{
    tu_bed_memory block;

    if (!points || !model)
        return tu_fail(error, TU_USAGE, NULL, "points and room for the model are needed");
    *model = (tu_bed_model){.points = count};
    if (count < 3)
        return tu_fail(error, TU_UNDETERMINED, NULL, "a surface takes 3 points or more; found %zu",
                       count);
    if (count > POINTS_MAX)
        return tu_fail(error, TU_USAGE, NULL, "%zu points are too many for a height model", count);
    tu_status status = tu_bed_memory_start(&block, memory, bytes, tu_bed_model_bytes(count), error);
    if (status)
        return status;
    model->point = tu_bed_memory_take(&block, count, sizeof *model->point);
    status = take_points(points, model, error);
    if (status)
        return status;
    if (!mesh_only && tu_bed_model_take_grid(model, block))
        return TU_OK;
    if (count > SCATTERED_MAX)
        return tu_fail(error, TU_USAGE, NULL,
                       "%zu points without rows and columns are too many for a height model",
                       count);
    return tu_bed_model_take_triangles(model, block, error);
}

double tu_bed_model_height(const tu_bed_model *model, double x_mm, double y_mm)
{
    return model->kind == TU_BED_GRID ? tu_bed_grid_height(model, x_mm, y_mm)
                                      : tu_bed_mesh_height(model, x_mm, y_mm);
}

size_t tu_bed_model_corners(const tu_bed_model *model, double x_mm, double y_mm,
                            tu_bed_corner corner[4])
{
    const size_t count = model->kind == TU_BED_GRID
                             ? tu_bed_grid_corners(model, x_mm, y_mm, corner)
                             : tu_bed_mesh_corners(model, x_mm, y_mm, corner);

    for (size_t k = 0; k < count; k++) {
        const int32_t index = corner[k].index;
        if (index == TU_BED_NONE)
            continue;
        const tu_bed_point *p = &model->point[index];
        if (hypot(p->x_mm - x_mm, p->y_mm - y_mm) < TU_BED_SAME_PLACE_MM) {
            corner[0] = (tu_bed_corner){index, *p};
            return 1;
        }
    }
    return count;
}

double tu_bed_model_wide_gap(const tu_bed_model *model, double x_mm, double y_mm)
{
    tu_bed_corner corner[4];

    if (model->kind != TU_BED_GRID || tu_bed_model_corners(model, x_mm, y_mm, corner) < 2)
        return 0; /* on a touched place nothing else counts */
    return tu_bed_grid_wide_gap(model, x_mm, y_mm);
}

/* --- as triangles alone --- */

static size_t cell_count(const tu_bed_model *model)
{
    return (model->columns - 1) * (model->rows - 1);
}

size_t tu_bed_model_vertex_count(const tu_bed_model *model)
{
    if (model->kind == TU_BED_MESH)
        return model->points;
    return model->columns * model->rows + cell_count(model);
}

size_t tu_bed_model_triangle_count(const tu_bed_model *model)
{
    tu_bed_point corner[4];
    bool known[4];
    size_t count = 0;

    if (model->kind == TU_BED_MESH)
        return model->triangles - model->bridges;
    for (size_t k = 0; k < cell_count(model); k++) {
        const size_t width = model->columns - 1;
        const int found = tu_bed_grid_cell(model, k % width, k / width, corner, known);
        count += found == 4 ? 4 : found == 3 ? 1 : 0;
    }
    return count;
}

/* One cell of a grid: its middle vertex, and its triangles from next on; returns how many. */
static size_t draw_cell(const tu_bed_model *model, size_t cell, tu_bed_point *middle,
                        uint32_t (*next)[3])
{
    const size_t width = model->columns - 1, column = cell % width, row = cell / width;
    const uint32_t first = (uint32_t)(row * model->columns + column);
    const uint32_t up = first + (uint32_t)model->columns;
    const uint32_t vertex[4] = {first, first + 1, up + 1, up};
    tu_bed_point corner[4];
    bool known[4];
    const int found = tu_bed_grid_cell(model, column, row, corner, known);

    *middle = (tu_bed_point){(corner[0].x_mm + corner[2].x_mm) / 2,
                             (corner[0].y_mm + corner[2].y_mm) / 2, 0};
    if (found == 4) {
        for (uint32_t k = 0; k < 4; k++) {
            middle->z_mm += corner[k].z_mm / 4;
            next[k][0] = vertex[k];
            next[k][1] = vertex[(k + 1) % 4];
            next[k][2] = (uint32_t)(model->columns * model->rows + cell);
        }
        return 4;
    }
    if (found < 3)
        return 0;
    for (int k = 0, at = 0; k < 4; k++)
        if (known[k])
            next[0][at++] = vertex[k];
    return 1;
}

void tu_bed_model_draw(const tu_bed_model *model, tu_bed_point *vertex, uint32_t (*triangle)[3])
{
    size_t next = 0;

    if (model->kind == TU_BED_MESH) {
        memcpy(vertex, model->point, model->points * sizeof *vertex);
        for (size_t i = 0; i < model->triangles; i++) {
            if (tu_bed_is_bridge(model, i))
                continue;
            for (int k = 0; k < 3; k++)
                triangle[next][k] = (uint32_t)model->triangle[i][k];
            next++;
        }
        return;
    }
    const size_t crossings = model->columns * model->rows;
    for (size_t k = 0; k < crossings; k++) {
        const double z = model->z_mm[k];
        vertex[k] = (tu_bed_point){model->column_x_mm[k % model->columns],
                                   model->row_y_mm[k / model->columns], isnan(z) ? 0 : z};
    }
    for (size_t k = 0; k < cell_count(model); k++)
        next += draw_cell(model, k, &vertex[crossings + k], triangle + next);
}
