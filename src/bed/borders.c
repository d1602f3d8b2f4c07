/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * borders.c - the points that settle the surface in a rectangle: those touched in it, and where the
 * rectangle's border cuts the edges of the model.
 */
#include "bed/model_parts.h"

#include <math.h>

typedef struct list {
    const tu_bed_rectangle *within;
    tu_bed_point *point;
    size_t room, count;
} list;

static void take(list *l, tu_bed_point point)
{
    if (l->count < l->room)
        l->point[l->count] = point;
    l->count++;
}

static bool is_inside(const tu_bed_rectangle *w, double x_mm, double y_mm)
{
    return x_mm >= w->x_low_mm && x_mm <= w->x_high_mm && y_mm >= w->y_low_mm &&
           y_mm <= w->y_high_mm;
}

/* Where an edge of the model goes through the border, between its ends. */
static void cross_edge(list *l, tu_bed_point a, tu_bed_point b)
{
    const tu_bed_rectangle *w = l->within;
    const double x[2] = {w->x_low_mm, w->x_high_mm}, y[2] = {w->y_low_mm, w->y_high_mm};

    for (int k = 0; k < 2; k++) {
        const double t = (x[k] - a.x_mm) / (b.x_mm - a.x_mm);
        const double at = a.y_mm + t * (b.y_mm - a.y_mm);
        if ((a.x_mm < x[k]) != (b.x_mm < x[k]) && t > 0 && t < 1 && at > y[0] && at < y[1])
            take(l, (tu_bed_point){x[k], at, a.z_mm + t * (b.z_mm - a.z_mm)});
    }
    for (int k = 0; k < 2; k++) {
        const double t = (y[k] - a.y_mm) / (b.y_mm - a.y_mm);
        const double at = a.x_mm + t * (b.x_mm - a.x_mm);
        if ((a.y_mm < y[k]) != (b.y_mm < y[k]) && t > 0 && t < 1 && at > x[0] && at < x[1])
            take(l, (tu_bed_point){at, y[k], a.z_mm + t * (b.z_mm - a.z_mm)});
    }
}

static void cross_mesh(list *l, const tu_bed_model *model)
{
    for (size_t i = 0; i < model->triangles; i++) {
        for (int k = 0; k < 3 && !tu_bed_is_bridge(model, i); k++) {
            const int32_t beyond = model->neighbour[i][k];
            if (beyond != TU_BED_NONE && (size_t)beyond < i &&
                !tu_bed_is_bridge(model, (size_t)beyond))
                continue; /* seen from there */
            cross_edge(l, model->point[model->triangle[i][(k + 1) % 3]],
                       model->point[model->triangle[i][(k + 2) % 3]]);
        }
    }
}

static tu_bed_point crossing_at(const tu_bed_model *model, size_t column, size_t row)
{
    return (tu_bed_point){model->column_x_mm[column], model->row_y_mm[row],
                          model->z_mm[row * model->columns + column]};
}

/* Whether the model covers a cell at least in part. */
static bool covers_cell(const tu_bed_model *model, size_t column, size_t row)
{
    tu_bed_point corner[4];
    bool known[4];

    return column + 1 < model->columns && row + 1 < model->rows &&
           tu_bed_grid_cell(model, column, row, corner, known) >= 3;
}

/* The edge from one crossing to the next along X or Y, where a cell beside it is covered. */
static void cross_line(list *l, const tu_bed_model *model, size_t column, size_t row, bool along_x)
{
    if (column + along_x >= model->columns || row + !along_x >= model->rows)
        return;
    const tu_bed_point a = crossing_at(model, column, row);
    const tu_bed_point b = crossing_at(model, column + along_x, row + !along_x);
    const bool before = along_x ? row > 0 && covers_cell(model, column, row - 1)
                                : column > 0 && covers_cell(model, column - 1, row);
    if (!isnan(a.z_mm) && !isnan(b.z_mm) && (before || covers_cell(model, column, row)))
        cross_edge(l, a, b);
}

/* Of a cell with three known corners: its plane ends at the diagonal. */
static void cross_diagonal(list *l, const tu_bed_model *model, size_t column, size_t row)
{
    tu_bed_point corner[4];
    bool known[4];

    if (column + 1 >= model->columns || row + 1 >= model->rows ||
        tu_bed_grid_cell(model, column, row, corner, known) != 3)
        return;
    const bool front_left = known[0] && known[2];
    cross_edge(l, corner[front_left ? 0 : 1], corner[front_left ? 2 : 3]);
}

static void cross_grid(list *l, const tu_bed_model *model)
{
    for (size_t row = 0; row < model->rows; row++) {
        for (size_t column = 0; column < model->columns; column++) {
            const tu_bed_point p = crossing_at(model, column, row);
            const bool touched = model->point_at[row * model->columns + column] != TU_BED_NONE;
            if (!touched && !isnan(p.z_mm) && is_inside(l->within, p.x_mm, p.y_mm))
                take(l, p);
            cross_line(l, model, column, row, true);
            cross_line(l, model, column, row, false);
            cross_diagonal(l, model, column, row);
        }
    }
}

static double on_line(const double *lines, size_t count, double value)
{
    const size_t before = tu_bed_line_before(lines, count, value);
    return value - lines[before] <= lines[before + 1] - value ? lines[before] : lines[before + 1];
}

static void take_touched(list *l, const tu_bed_model *model)
{
    for (size_t i = 0; i < model->points; i++) {
        const tu_bed_point p = model->point[i];
        const bool grid = model->kind == TU_BED_GRID;
        const double x = grid ? on_line(model->column_x_mm, model->columns, p.x_mm) : p.x_mm;
        const double y = grid ? on_line(model->row_y_mm, model->rows, p.y_mm) : p.y_mm;
        if (is_inside(l->within, x, y))
            take(l, p);
    }
}

size_t tu_bed_list_surface(const tu_bed_model *model, const tu_bed_rectangle *rectangle,
                           tu_bed_point *points, size_t room, size_t *touched)
{
    list l = {rectangle, points, room, 0};
    const double x[2] = {rectangle->x_low_mm, rectangle->x_high_mm};
    const double y[2] = {rectangle->y_low_mm, rectangle->y_high_mm};

    take_touched(&l, model);
    *touched = l.count;
    for (int k = 0; k < 4; k++) {
        const double z = tu_bed_model_height(model, x[k % 2], y[k / 2]);
        if (!isnan(z))
            take(&l, (tu_bed_point){x[k % 2], y[k / 2], z});
    }
    if (model->kind == TU_BED_MESH)
        cross_mesh(&l, model);
    else
        cross_grid(&l, model);
    return l.count;
}
