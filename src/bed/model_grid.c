/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * model_grid.c - rows and columns recognised in the points, and heights between them.
 *
 * Lines are found in each coordinate by itself: sorted, the coordinates come in clusters, and the
 * gaps between clusters stand out from those within. Where lines are at uneven distances, more than
 * one gap stands out; the likeliest few are tried. Whether lines make a grid is then checked: each
 * point near its crossing, no crossing twice, half of them touched.
 */
#include "bed/model_parts.h"

#include <gsl/gsl_sort.h>
#include <math.h>
#include <string.h>

enum { GAPS_TRIED = 3, FEW = 16 };

#define EXACT_MM 0.05 /* a step of any machine is less */

#define JITTER_SHARE   0.1        /* of the smallest distance of two lines */
#define GAP_FLOOR      0.01       /* of the usual distance of points: gaps below count as equal */
#define GAP_RATIO      2.0        /* by which the gaps between lines stand out, at least */
#define WIDE_RATIO     (4 + 1e-9) /* of the usual distance of lines; as of edges in triangles.c */
#define EDGE_TOLERANCE 1e-6       /* of the extent */

size_t tu_bed_grid_bytes(size_t count)
{
    return 3 * tu_bed_memory_size(count, 2 * sizeof(double)) + /* lines, heights, filled in */
           tu_bed_memory_size(count, 2 * sizeof(int32_t));
}

size_t tu_bed_line_before(const double *lines, size_t count, double value)
{
    size_t low = 0, high = count - 1;

    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (lines[middle] <= value)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* The gaps that stand out most from the next smaller one, the likeliest first. */
static size_t parting_gaps(const double *gaps, size_t count, double floor_mm,
                           double parting[GAPS_TRIED])
{
    double ratio[GAPS_TRIED];
    size_t found = 0;

    for (size_t i = 0; i < count; i++) {
        const double own = gaps[i] / (i > 0 ? fmax(gaps[i - 1], floor_mm) : floor_mm);
        if (own < GAP_RATIO || (found == GAPS_TRIED && own <= ratio[found - 1]))
            continue;
        size_t at = found < GAPS_TRIED ? found++ : found - 1;
        for (; at > 0 && ratio[at - 1] < own; at--) {
            ratio[at] = ratio[at - 1];
            parting[at] = parting[at - 1];
        }
        ratio[at] = own;
        parting[at] = gaps[i];
    }
    return found;
}

static void merge_two(const double *values, size_t start, size_t middle, size_t end, double *into)
{
    size_t a = start, b = middle;

    for (size_t k = start; k < end; k++)
        into[k] = a < middle && (b >= end || !(values[b] < values[a])) ? values[a++] : values[b++];
}

/* The end of the values that ascend from here. */
static size_t end_of_run(const double *values, size_t start, size_t count)
{
    size_t end = start + 1;

    while (end < count && !(values[end] < values[end - 1]))
        end++;
    return end;
}

/* Merges neighbouring runs until there is one: rows that were touched one after the other are runs
 * already. spare: room for as many. */
static void sort_runs(double *values, size_t count, double *spare)
{
    while (end_of_run(values, 0, count) < count) {
        for (size_t start = 0; start < count;) {
            const size_t middle = end_of_run(values, start, count);
            const size_t end = middle < count ? end_of_run(values, middle, count) : count;
            merge_two(values, start, middle, end, spare);
            start = end;
        }
        memcpy(values, spare, count * sizeof *values);
    }
}

/* Sorts one coordinate of the points, and tells which gaps may part its lines. */
static size_t sort_coordinate(const tu_bed_model *model, bool of_x, double *sorted, double *gaps,
                              double parting[GAPS_TRIED])
{
    const size_t n = model->points;

    for (size_t i = 0; i < n; i++)
        sorted[i] = of_x ? model->point[i].x_mm : model->point[i].y_mm;
    sort_runs(sorted, n, gaps);
    for (size_t i = 0; i + 1 < n; i++)
        gaps[i] = sorted[i + 1] - sorted[i];
    gsl_sort(gaps, 1, n - 1);
    const double floor_mm = GAP_FLOOR * (sorted[n - 1] - sorted[0]) / sqrt((double)n);
    return parting_gaps(gaps, n - 1, floor_mm, parting);
}

/* Means of the clusters of sorted values into lines (room for count); returns how many. */
static size_t find_lines(const double *sorted, size_t count, double parting, double *lines)
{
    size_t found = 0;

    for (size_t first = 0; first < count;) {
        double sum = 0;
        size_t end = first;
        do
            sum += sorted[end++] - sorted[first];
        while (end < count && sorted[end] - sorted[end - 1] < parting);
        lines[found++] = sorted[first] + sum / (double)(end - first);
        first = end;
    }
    return found;
}

static size_t nearest_line(const double *lines, size_t count, double value)
{
    const size_t before = tu_bed_line_before(lines, count, value);
    return value - lines[before] <= lines[before + 1] - value ? before : before + 1;
}

static double smallest_step(const double *lines, size_t count)
{
    double step = INFINITY;
    for (size_t i = 0; i + 1 < count; i++)
        step = fmin(step, lines[i + 1] - lines[i]);
    return step;
}

/* Puts the points on their crossings; false when one is off its crossing, or two are on one. */
static bool place_points(tu_bed_model *model)
{
    const double x_allowed = JITTER_SHARE * smallest_step(model->column_x_mm, model->columns);
    const double y_allowed = JITTER_SHARE * smallest_step(model->row_y_mm, model->rows);

    for (size_t k = 0; k < model->columns * model->rows; k++) {
        model->z_mm[k] = NAN;
        model->point_at[k] = TU_BED_NONE;
    }
    model->jitter_mm = 0;
    for (size_t i = 0; i < model->points; i++) {
        const tu_bed_point p = model->point[i];
        const size_t column = nearest_line(model->column_x_mm, model->columns, p.x_mm);
        const size_t row = nearest_line(model->row_y_mm, model->rows, p.y_mm);
        const double dx = fabs(p.x_mm - model->column_x_mm[column]);
        const double dy = fabs(p.y_mm - model->row_y_mm[row]);
        const size_t at = row * model->columns + column;
        if (dx > x_allowed || dy > y_allowed || model->point_at[at] != TU_BED_NONE)
            return false;
        model->point_at[at] = (int32_t)i;
        model->z_mm[at] = p.z_mm;
        model->jitter_mm = fmax(model->jitter_mm, fmax(dx, dy));
    }
    return true;
}

/* Between the touched neighbours of crossing i of a line of the grid; NaN: one of them is none. */
static double height_between(const tu_bed_model *model, const double *lines, size_t count, size_t i,
                             size_t crossing, size_t stride)
{
    if (i == 0 || i + 1 == count)
        return NAN;
    const size_t before = crossing - stride, after = crossing + stride;
    if (model->point_at[before] == TU_BED_NONE || model->point_at[after] == TU_BED_NONE)
        return NAN;
    const double t = (lines[i] - lines[i - 1]) / (lines[i + 1] - lines[i - 1]);
    return (1 - t) * model->z_mm[before] + t * model->z_mm[after];
}

/* A single touch that is missing, as under a clamp or over a screw; a wider hole stays one: nobody
 * knows what is in it. */
static void fill_missing(tu_bed_model *model)
{
    model->filled = model->missing = 0;
    for (size_t k = 0; k < model->columns * model->rows; k++) {
        if (model->point_at[k] != TU_BED_NONE)
            continue;
        const double along_x =
            height_between(model, model->column_x_mm, model->columns, k % model->columns, k, 1);
        const double along_y = height_between(model, model->row_y_mm, model->rows,
                                              k / model->columns, k, model->columns);
        const double z = isnan(along_x)   ? along_y
                         : isnan(along_y) ? along_x
                                          : (along_x + along_y) / 2;
        model->z_mm[k] = z;
        if (isnan(z))
            model->missing++;
        else
            model->filled++;
    }
}

/* The median distance of neighbouring lines. room: for count. */
static double usual_gap(const double *lines, size_t count, double *room)
{
    const size_t gaps = count - 1;

    for (size_t i = 0; i < gaps; i++)
        room[i] = lines[i + 1] - lines[i];
    gsl_sort(room, 1, gaps);
    return (room[gaps / 2] + room[(gaps - 1) / 2]) / 2;
}

/* Whether lines i and i + 1 are so far apart that some between them may have been left out. */
static bool is_wide(const double *lines, size_t i, double usual_mm)
{
    return lines[i + 1] - lines[i] > WIDE_RATIO * usual_mm;
}

static void find_wide_gap(tu_bed_model *model, double *room)
{
    model->usual_x_mm = usual_gap(model->column_x_mm, model->columns, room);
    model->usual_y_mm = usual_gap(model->row_y_mm, model->rows, room);
    model->wide_gap_mm = 0;
    for (size_t i = 0; i + 1 < model->columns; i++)
        if (is_wide(model->column_x_mm, i, model->usual_x_mm))
            model->wide_gap_mm =
                fmax(model->wide_gap_mm, model->column_x_mm[i + 1] - model->column_x_mm[i]);
    for (size_t j = 0; j + 1 < model->rows; j++)
        if (is_wide(model->row_y_mm, j, model->usual_y_mm))
            model->wide_gap_mm =
                fmax(model->wide_gap_mm, model->row_y_mm[j + 1] - model->row_y_mm[j]);
}

/* The lines as these two gaps part them; false: they make no grid. */
static bool try_lines(tu_bed_model *grid, const double *sorted_x, const double *sorted_y,
                      double x_parting, double y_parting)
{
    const size_t n = grid->points;

    grid->columns = find_lines(sorted_x, n, x_parting, grid->column_x_mm);
    if (grid->columns < 2 || grid->columns >= n)
        return false;
    grid->row_y_mm = grid->column_x_mm + grid->columns;
    grid->rows = find_lines(sorted_y, n, y_parting, grid->row_y_mm);
    if (grid->rows < 2 || grid->columns * grid->rows > 2 * n || !place_points(grid))
        return false;
    /* a few scattered points pass for a jittered grid full of holes: triangles reach further */
    return n >= FEW || grid->columns * grid->rows == n || grid->jitter_mm <= EXACT_MM;
}

bool tu_bed_model_take_grid(tu_bed_model *model, tu_bed_memory memory)
{
    const size_t n = model->points;
    double x_parting[GAPS_TRIED], y_parting[GAPS_TRIED];
    tu_bed_model grid = *model;
    grid.column_x_mm = tu_bed_memory_take(&memory, n, 2 * sizeof(double));
    grid.z_mm = tu_bed_memory_take(&memory, n, 2 * sizeof(double));
    grid.point_at = tu_bed_memory_take(&memory, n, 2 * sizeof *grid.point_at);
    double *fill = tu_bed_memory_take(&memory, n, 2 * sizeof *fill);
    const size_t x_gaps = sort_coordinate(model, true, fill, grid.z_mm, x_parting);
    const size_t y_gaps = sort_coordinate(model, false, fill + n, grid.z_mm, y_parting);

    for (size_t k = 0; k < x_gaps * y_gaps; k++) {
        if (!try_lines(&grid, fill, fill + n, x_parting[k % x_gaps], y_parting[k / x_gaps]))
            continue;
        fill_missing(&grid);
        find_wide_gap(&grid, fill);
        grid.kind = TU_BED_GRID;
        *model = grid;
        return true;
    }
    return false;
}

int tu_bed_grid_cell(const tu_bed_model *model, size_t column, size_t row, tu_bed_point corner[4],
                     bool known[4])
{
    static const unsigned right[4] = {0, 1, 1, 0}, back[4] = {0, 0, 1, 1};
    int count = 0;

    for (int k = 0; k < 4; k++) {
        const size_t i = column + right[k], j = row + back[k];
        corner[k] = (tu_bed_point){model->column_x_mm[i], model->row_y_mm[j],
                                   model->z_mm[j * model->columns + i]};
        known[k] = !isnan(corner[k].z_mm);
        count += known[k];
    }
    return count;
}

/* Into the lines' span where it is out by rounding or jitter; NaN further out. */
static double into_span(const double *lines, size_t count, double value, double jitter_mm)
{
    const double low = lines[0], high = lines[count - 1];
    const double slack = jitter_mm + EDGE_TOLERANCE * (high - low);

    if (!(value >= low - slack && value <= high + slack))
        return NAN;
    return fmin(fmax(value, low), high);
}

/* Over a cell whose corners are all known, or the three around the place are. s, t: 0 to 1. */
static double cell_height(const double z[4], double s, double t)
{
    const double weight[4] = {(1 - s) * (1 - t), s * (1 - t), s * t, (1 - s) * t};
    double sum = 0;
    int missing = -1;

    for (int k = 0; k < 4; k++) {
        if (weight[k] <= 0)
            continue;
        if (isnan(z[k])) {
            if (missing >= 0)
                return NAN;
            missing = k;
        } else {
            sum += weight[k] * z[k];
        }
    }
    if (missing < 0)
        return sum;
    /* seen from the corner opposite the missing one, a and b along the two sides */
    const int opposite = (missing + 2) % 4;
    const double a = opposite == 0 || opposite == 3 ? s : 1 - s;
    const double b = opposite < 2 ? t : 1 - t;
    const double z_a = z[opposite ^ 1], z_b = z[3 - opposite];
    if (a + b > 1)
        return NAN;
    return z[opposite] + a * (z_a - z[opposite]) + b * (z_b - z[opposite]);
}

/* The nearest line where it is no further than the jitter. */
static double onto_line(const double *lines, size_t count, double value, double jitter_mm)
{
    const double line = lines[nearest_line(lines, count, value)];
    return fabs(value - line) <= jitter_mm ? line : value;
}

static double height_between_lines(const tu_bed_model *model, double x, double y)
{
    const size_t i = tu_bed_line_before(model->column_x_mm, model->columns, x);
    const size_t j = tu_bed_line_before(model->row_y_mm, model->rows, y);
    const double s =
        (x - model->column_x_mm[i]) / (model->column_x_mm[i + 1] - model->column_x_mm[i]);
    const double t = (y - model->row_y_mm[j]) / (model->row_y_mm[j + 1] - model->row_y_mm[j]);
    const double *row = model->z_mm + j * model->columns + i;
    const double z[4] = {row[0], row[1], row[model->columns + 1], row[model->columns]};
    return cell_height(z, s, t);
}

double tu_bed_grid_height(const tu_bed_model *model, double x_mm, double y_mm)
{
    const double x = into_span(model->column_x_mm, model->columns, x_mm, model->jitter_mm);
    const double y = into_span(model->row_y_mm, model->rows, y_mm, model->jitter_mm);

    if (isnan(x) || isnan(y))
        return NAN;
    const double z = height_between_lines(model, x, y);
    if (!isnan(z) || !(model->jitter_mm > 0))
        return z;
    /* at a touched place beside missing ones, the jitter must not lead into what is not known */
    return height_between_lines(model,
                                onto_line(model->column_x_mm, model->columns, x, model->jitter_mm),
                                onto_line(model->row_y_mm, model->rows, y, model->jitter_mm));
}

size_t tu_bed_grid_corners(const tu_bed_model *model, double x_mm, double y_mm,
                           tu_bed_corner corner[4])
{
    const double x = into_span(model->column_x_mm, model->columns, x_mm, model->jitter_mm);
    const double y = into_span(model->row_y_mm, model->rows, y_mm, model->jitter_mm);

    if (isnan(x) || isnan(y))
        return 0;
    const size_t i = tu_bed_line_before(model->column_x_mm, model->columns, x);
    const size_t j = tu_bed_line_before(model->row_y_mm, model->rows, y);
    tu_bed_point point[4];
    bool known[4];
    tu_bed_grid_cell(model, i, j, point, known);
    /* on a line of the grid, what is beside it does not count */
    const bool weighs_x[2] = {x<point[2].x_mm, x> point[0].x_mm};
    const bool weighs_y[2] = {y<point[2].y_mm, y> point[0].y_mm};
    size_t count = 0;
    for (size_t k = 0; k < 4; k++) {
        const size_t right = k == 1 || k == 2, back = k / 2;
        if (weighs_x[right] && weighs_y[back])
            corner[count++] =
                (tu_bed_corner){model->point_at[(j + back) * model->columns + i + right], point[k]};
    }
    return count;
}

double tu_bed_grid_wide_gap(const tu_bed_model *model, double x_mm, double y_mm)
{
    const double x = into_span(model->column_x_mm, model->columns, x_mm, model->jitter_mm);
    const double y = into_span(model->row_y_mm, model->rows, y_mm, model->jitter_mm);
    const double *columns = model->column_x_mm, *rows = model->row_y_mm;
    double gap = 0;

    if (isnan(x) || isnan(y))
        return 0;
    const size_t i = tu_bed_line_before(columns, model->columns, x);
    const size_t j = tu_bed_line_before(rows, model->rows, y);
    if (is_wide(columns, i, model->usual_x_mm) && x > columns[i] && x < columns[i + 1])
        gap = columns[i + 1] - columns[i];
    if (is_wide(rows, j, model->usual_y_mm) && y > rows[j] && y < rows[j + 1])
        gap = fmax(gap, rows[j + 1] - rows[j]);
    return gap;
}
