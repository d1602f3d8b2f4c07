/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_surface.c - the surface of a bed as triangles for its map, its scale and its levels.
 */
#include "report/bed/bed_map.h"
#include "report/figure.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Beyond so many points the map shows means over the cells of a raster: a line that wound round
 * every single touch would be noise, and too long a file. */
enum { POINTS_MAX = 3000, RASTER_COLUMNS = 64, RASTER_ROWS_MAX = 64, BANDS_WANTED = 10 };

static double tilt_at(const tu_bed_sheet *sheet, double x_mm, double y_mm)
{
    return sheet->style->without_tilt ? tu_plane_height_mm(&sheet->answer->plane, x_mm, y_mm) : 0;
}

double tu_map_height(const tu_bed_sheet *sheet, tu_bed_point point)
{
    return point.z_mm - tilt_at(sheet, point.x_mm, point.y_mm);
}

tu_svg_point tu_map_place(const tu_bed_sheet *sheet, double x_mm, double y_mm)
{
    const tu_bed_rectangle *extent = &sheet->answer->model.extent;
    return (tu_svg_point){sheet->box.left + (x_mm - extent->x_low_mm) * sheet->scale,
                          sheet->box.bottom - (y_mm - extent->y_low_mm) * sheet->scale};
}

/* --- Triangles --- */

static tu_status take_model(tu_bed_sheet *sheet, tu_error *error)
{
    const tu_bed_model *model = &sheet->answer->model;
    size_t vertices = tu_bed_model_vertex_count(model);
    size_t triangles = tu_bed_model_triangle_count(model);
    tu_bed_point *point = malloc((vertices + 1) * sizeof *point);
    sheet->vertex = malloc((vertices + 1) * sizeof *sheet->vertex);
    sheet->triangle = malloc((triangles + 1) * sizeof *sheet->triangle);
    if (!point || !sheet->vertex || !sheet->triangle) {
        free(point);
        return tu_contour_no_memory(error);
    }
    tu_bed_model_draw(model, point, sheet->triangle);
    for (size_t i = 0; i < vertices; i++)
        sheet->vertex[i] =
            (tu_contour_vertex){point[i].x_mm, point[i].y_mm, tu_map_height(sheet, point[i])};
    free(point);
    sheet->mesh = (tu_contour_mesh){sheet->vertex, vertices, (const uint32_t(*)[3])sheet->triangle,
                                    triangles};
    return TU_OK;
}

typedef struct raster {
    size_t columns, rows;
    double x0, y0, cell_x, cell_y;
    double sum[RASTER_COLUMNS * RASTER_ROWS_MAX];
    size_t count[RASTER_COLUMNS * RASTER_ROWS_MAX];
    uint32_t vertex[RASTER_COLUMNS * RASTER_ROWS_MAX];
} raster;

static size_t cell_index(double at, double start, double cell, size_t count)
{
    double index = floor((at - start) / cell);
    return index < 0 ? 0 : index >= (double)count ? count - 1 : (size_t)index;
}

static void fill_raster(const tu_bed_sheet *sheet, raster *r)
{
    const tu_bed_rectangle *extent = &sheet->answer->model.extent;
    const tu_bed_places *places = &sheet->answer->places;
    double length = extent->x_high_mm - extent->x_low_mm;
    double width = extent->y_high_mm - extent->y_low_mm;
    double rows = fmax(4, fmin(RASTER_ROWS_MAX, round(RASTER_COLUMNS * width / length)));
    r->columns = RASTER_COLUMNS;
    r->rows = (size_t)rows;
    r->cell_x = length / (double)r->columns;
    r->cell_y = width / (double)r->rows;
    r->x0 = extent->x_low_mm;
    r->y0 = extent->y_low_mm;
    for (size_t i = 0; i < places->count; i++) {
        const tu_bed_point *p = &places->point[i];
        size_t cell = cell_index(p->y_mm, r->y0, r->cell_y, r->rows) * r->columns +
                      cell_index(p->x_mm, r->x0, r->cell_x, r->columns);
        r->sum[cell] += tu_map_height(sheet, *p);
        r->count[cell]++;
    }
}

/* A cell that no touch fell into, by chance, has the height of the surface between the touches;
 * false: nobody touched around it either. */
static bool fill_from_model(const tu_bed_sheet *sheet, raster *r, size_t row, size_t column)
{
    double x = r->x0 + ((double)column + 0.5) * r->cell_x;
    double y = r->y0 + ((double)row + 0.5) * r->cell_y;
    double z = tu_bed_model_height(&sheet->answer->model, x, y);
    if (isnan(z))
        return false;
    size_t cell = row * r->columns + column;
    r->sum[cell] = tu_map_height(sheet, (tu_bed_point){x, y, z});
    r->count[cell] = 1;
    return true;
}

/* Vertices in the middle of the cells, but on the border at the border, so that the map ends where
 * the touches end. */
static void place_vertices(tu_bed_sheet *sheet, raster *r)
{
    size_t count = 0;
    for (size_t row = 0; row < r->rows; row++) {
        for (size_t column = 0; column < r->columns; column++) {
            size_t cell = row * r->columns + column;
            if (r->count[cell] == 0 && !fill_from_model(sheet, r, row, column))
                continue;
            double across = column == 0                ? 0
                            : column + 1 == r->columns ? (double)r->columns
                                                       : (double)column + 0.5;
            double along = row == 0 ? 0 : row + 1 == r->rows ? (double)r->rows : (double)row + 0.5;
            r->vertex[cell] = (uint32_t)count;
            sheet->vertex[count++] =
                (tu_contour_vertex){r->x0 + across * r->cell_x, r->y0 + along * r->cell_y,
                                    r->sum[cell] / (double)r->count[cell]};
        }
    }
    sheet->mesh.vertex_count = count;
}

static void add_triangle(tu_bed_sheet *sheet, const raster *r, size_t a, size_t b, size_t c)
{
    if (r->count[a] == 0 || r->count[b] == 0 || r->count[c] == 0)
        return;
    uint32_t *triangle = sheet->triangle[sheet->mesh.triangle_count++];
    triangle[0] = r->vertex[a];
    triangle[1] = r->vertex[b];
    triangle[2] = r->vertex[c];
}

static tu_status take_raster(tu_bed_sheet *sheet, tu_error *error)
{
    raster *r = calloc(1, sizeof *r);
    size_t cells = RASTER_COLUMNS * RASTER_ROWS_MAX;
    sheet->vertex = malloc(cells * sizeof *sheet->vertex);
    sheet->triangle = malloc(2 * cells * sizeof *sheet->triangle);
    if (!r || !sheet->vertex || !sheet->triangle) {
        free(r);
        return tu_contour_no_memory(error);
    }
    fill_raster(sheet, r);
    sheet->mesh = (tu_contour_mesh){.vertex = sheet->vertex};
    place_vertices(sheet, r);
    for (size_t row = 0; row + 1 < r->rows; row++) {
        for (size_t column = 0; column + 1 < r->columns; column++) {
            size_t a = row * r->columns + column, c = a + r->columns;
            add_triangle(sheet, r, a, a + 1, c + 1);
            add_triangle(sheet, r, a, c + 1, c);
        }
    }
    sheet->mesh.triangle = (const uint32_t(*)[3])sheet->triangle;
    free(r);
    return TU_OK;
}

/* --- Scale and levels --- */

static void choose_scale(tu_bed_sheet *sheet, tu_svg_box window)
{
    static const double round_ratios[] = {1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10};
    const tu_bed_rectangle *extent = &sheet->answer->model.extent;
    double length = extent->x_high_mm - extent->x_low_mm;
    double width = extent->y_high_mm - extent->y_low_mm;
    double most = fmin((window.right - window.left) / length, (window.bottom - window.top) / width);
    double least = 1 / most; /* 1 to that many, at least */
    double power = pow(10, floor(log10(least)));
    sheet->scale = most;
    for (size_t i = 0; i < sizeof round_ratios / sizeof *round_ratios; i++) {
        if (round_ratios[i] * power >= least) {
            sheet->scale = 1 / (round_ratios[i] * power);
            break;
        }
    }
    double middle = (window.left + window.right) / 2, half = length * sheet->scale / 2;
    sheet->box = (tu_svg_box){middle - half, window.bottom - width * sheet->scale, middle + half,
                              window.bottom};
}

static void choose_levels(tu_bed_sheet *sheet)
{
    sheet->low_mm = INFINITY;
    sheet->high_mm = -INFINITY;
    for (size_t i = 0; i < sheet->mesh.triangle_count; i++) {
        for (int k = 0; k < 3; k++) {
            double height = sheet->vertex[sheet->triangle[i][k]].height_mm;
            sheet->low_mm = fmin(sheet->low_mm, height);
            sheet->high_mm = fmax(sheet->high_mm, height);
        }
    }
    double unit = sheet->style->unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1;
    double step = tu_figure_round_step((sheet->high_mm - sheet->low_mm) / unit, BANDS_WANTED);
    sheet->levels = 0;
    if (isnan(step) || step * unit < 1e-9)
        return; /* level ground has no lines */
    /* nobody touches finer than that */
    step = fmax(step, sheet->style->unit == TU_UNIT_INCH ? 0.0001 : 0.001);
    sheet->step_mm = step * unit;
    double first = floor(sheet->low_mm / sheet->step_mm + 1e-6) + 1;
    sheet->first_mm = first * sheet->step_mm;
    while (sheet->levels < TU_MAP_BANDS_MAX - 1 &&
           sheet->first_mm + (sheet->levels + 1e-6) * sheet->step_mm < sheet->high_mm)
        sheet->levels++;
}

tu_status tu_map_prepare(tu_bed_sheet *sheet, tu_svg_box window, tu_error *error)
{
    choose_scale(sheet, window);
    tu_status status = sheet->answer->places.count > POINTS_MAX ? take_raster(sheet, error)
                                                                : take_model(sheet, error);
    if (status)
        return status;
    choose_levels(sheet);
    return tu_contour_tracer_create(&sheet->mesh, &sheet->tracer, error);
}

void tu_map_release(tu_bed_sheet *sheet)
{
    tu_contour_tracer_destroy(sheet->tracer);
    tu_contours_destroy(&sheet->contours);
    free(sheet->vertex);
    free(sheet->triangle);
}

/* Three stops from a hollow's grey blue over green grey to straw: each lighter than the one before,
 * so the order stays in grey and for eyes that do not tell red from green. */
void tu_map_tint(int band, int bands, char text[8])
{
    static const double stop[3][3] = {{118, 158, 184}, {184, 205, 192}, {250, 243, 214}};
    double at = bands > 1 ? 2.0 * band / (bands - 1) : 2;
    int from = at >= 1 ? 1 : 0;
    double part = at - from;
    int value[3];
    for (int i = 0; i < 3; i++)
        value[i] = (int)lround(stop[from][i] + part * (stop[from + 1][i] - stop[from][i])) & 0xFF;
    snprintf(text, 8, "#%02x%02x%02x", (unsigned)value[0], (unsigned)value[1], (unsigned)value[2]);
}
