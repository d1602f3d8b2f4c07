/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_relief.c - tints between round heights, contour lines, and their labels.
 */
#include "report/bed/bed_map.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define LABEL_MM        2.5
#define LABEL_LINE_MM   22.0 /* the shortest line that is labelled */
#define LABEL_BORDER_MM 0.8
#define LABEL_CLEAR_MM  0.6 /* between labels */
#define DOT_MM          0.5
#define DEGREE_RAD      0.017453292519943295
#define NEAR_ENOUGH_MM  0.02 /* of paper: points nearer together are left out */

static double level_at(const tu_bed_sheet *sheet, int index)
{
    double number = round(sheet->first_mm / sheet->step_mm) + index;
    return number * sheet->step_mm;
}

/* All points of the chains on paper; free it. */
static tu_svg_point *on_paper(const tu_bed_sheet *sheet)
{
    const tu_contours *contours = &sheet->contours;
    tu_svg_point *points = malloc((contours->point_count + 1) * sizeof *points);
    for (size_t i = 0; points && i < contours->point_count; i++)
        points[i] = tu_map_place(sheet, contours->point[i].x_mm, contours->point[i].y_mm);
    return points;
}

/* Leaves out what lies nearer to the point before than can be seen; the last stays. */
static size_t thin_out(tu_svg_point *points, size_t count)
{
    size_t kept = count > 0 ? 1 : 0;
    for (size_t i = 1; i < count; i++)
        if (i + 1 == count || hypot(points[i].x_mm - points[kept - 1].x_mm,
                                    points[i].y_mm - points[kept - 1].y_mm) > NEAR_ENOUGH_MM)
            points[kept++] = points[i];
    return kept;
}

/* The region at or above a level in the tint of the band above it. */
static tu_status fill_region(tu_bed_sheet *sheet, double level, int band, tu_error *error)
{
    tu_contours *contours = &sheet->contours;
    tu_status status = tu_contour_trace_region(sheet->tracer, level, contours, error);
    if (status)
        return status;
    tu_svg_point *points = on_paper(sheet);
    size_t *counts = malloc((contours->chain_count + 1) * sizeof *counts), used = 0;
    if (points && counts) {
        for (size_t k = 0; k < contours->chain_count; k++) {
            const tu_contour_chain *chain = &contours->chain[k];
            counts[k] = thin_out(points + chain->first, chain->count);
            for (size_t i = 0; i < counts[k]; i++)
                points[used++] = points[chain->first + i];
        }
        char css[16];
        snprintf(css, sizeof css, "b%d", band);
        tu_svg_rings(&sheet->svg, NULL, css, points, counts, contours->chain_count);
    }
    status = points && counts ? TU_OK : tu_contour_no_memory(error);
    free(points);
    free(counts);
    return status;
}

/* --- Labels --- */

/* The room a label takes: the upright box about the turned one. */
static tu_svg_box label_box(tu_svg_point at, double turn_deg, const char *text)
{
    double turn = turn_deg * DEGREE_RAD;
    double along = tu_svg_text_width(text, LABEL_MM) / 2, across = 0.4 * LABEL_MM;
    double x = along * fabs(cos(turn)) + across * fabs(sin(turn)) + LABEL_CLEAR_MM;
    double y = along * fabs(sin(turn)) + across * fabs(cos(turn)) + LABEL_CLEAR_MM;
    return (tu_svg_box){at.x_mm - x, at.y_mm - y, at.x_mm + x, at.y_mm + y};
}

static bool hides_dots(const tu_bed_sheet *sheet, tu_svg_box box)
{
    const tu_bed_places *places = &sheet->answer->places;
    for (size_t i = 0; places->count <= TU_MAP_DOTS_MAX && i < places->count; i++) {
        tu_svg_point p = tu_map_place(sheet, places->point[i].x_mm, places->point[i].y_mm);
        if (p.x_mm > box.left - DOT_MM && p.x_mm < box.right + DOT_MM &&
            p.y_mm > box.top - DOT_MM && p.y_mm < box.bottom + DOT_MM)
            return true;
    }
    return false;
}

static bool has_room(const tu_bed_sheet *sheet, tu_svg_box box)
{
    const tu_svg_box *map = &sheet->box;
    return box.left > map->left + LABEL_BORDER_MM && box.right < map->right - LABEL_BORDER_MM &&
           box.top > map->top + LABEL_BORDER_MM && box.bottom < map->bottom - LABEL_BORDER_MM &&
           tu_map_is_free(sheet, box);
}

/* The place a way along a line, and which way the line runs there, over some millimetres. */
static tu_svg_point walk(const tu_svg_point *points, size_t count, double way)
{
    for (size_t i = 1; i < count; i++) {
        double dx = points[i].x_mm - points[i - 1].x_mm, dy = points[i].y_mm - points[i - 1].y_mm;
        double length = hypot(dx, dy);
        if (way <= length && length > 0)
            return (tu_svg_point){points[i - 1].x_mm + way / length * dx,
                                  points[i - 1].y_mm + way / length * dy};
        way -= length;
    }
    return points[count - 1];
}

static void put_label(tu_bed_sheet *sheet, tu_svg_point at, double turn_deg, const char *text)
{
    tu_svg_point centre = {at.x_mm - 0.35 * LABEL_MM * sin(turn_deg * DEGREE_RAD),
                           at.y_mm + 0.35 * LABEL_MM * cos(turn_deg * DEGREE_RAD)};
    const char *const css[] = {"halo", "height"};
    for (int i = 0; i < 2; i++) {
        tu_svg_text_style style = {LABEL_MM, TU_SVG_MIDDLE, turn_deg, css[i]};
        tu_svg_text(&sheet->svg, centre, &style, text);
    }
    tu_map_take(sheet, label_box(at, turn_deg, text));
}

static double turn_at(const tu_svg_point *points, size_t count, double way)
{
    tu_svg_point a = walk(points, count, way - 3), b = walk(points, count, way + 3);
    double turn = atan2(b.y_mm - a.y_mm, b.x_mm - a.x_mm) / DEGREE_RAD;
    return turn + (turn > 90 ? -180 : turn <= -90 ? 180 : 0);
}

/* From the middle outwards; first where no touched place is hidden, then wherever there is room. */
static void label_line(tu_bed_sheet *sheet, const tu_svg_point *points, size_t count, double level)
{
    enum { TRIES = 17 };
    double length = 0;
    for (size_t i = 1; i < count; i++)
        length += hypot(points[i].x_mm - points[i - 1].x_mm, points[i].y_mm - points[i - 1].y_mm);
    if (length < LABEL_LINE_MM)
        return;
    char text[40];
    tu_map_format_level(sheet, level, text, sizeof text);
    for (int i = 0; i < 2 * TRIES; i++) {
        int step = i % TRIES;
        double way = length * (0.5 + 0.05 * ((step + 1) / 2) * (step % 2 ? -1 : 1));
        tu_svg_point at = walk(points, count, way);
        double turn = turn_at(points, count, way);
        tu_svg_box box = label_box(at, turn, text);
        if (has_room(sheet, box) && (i >= TRIES || !hides_dots(sheet, box))) {
            put_label(sheet, at, turn, text);
            return;
        }
    }
}

typedef enum what_to_draw { DRAW_LINES, DRAW_LABELS } what_to_draw;

static tu_status draw_level(tu_bed_sheet *sheet, int index, what_to_draw what, tu_error *error)
{
    double level = level_at(sheet, index);
    tu_contours *contours = &sheet->contours;
    tu_status status = tu_contour_trace_lines(sheet->tracer, level, contours, error);
    if (status)
        return status;
    tu_svg_point *points = on_paper(sheet);
    if (!points)
        return tu_contour_no_memory(error);
    long number = lround(level / sheet->step_mm);
    for (size_t k = 0; k < contours->chain_count; k++) {
        const tu_contour_chain *chain = &contours->chain[k];
        tu_svg_point *line = points + chain->first;
        size_t count = thin_out(line, chain->count);
        if (what == DRAW_LABELS)
            label_line(sheet, line, count, level);
        else if (chain->closed)
            tu_svg_polygon(&sheet->svg, NULL, number % 5 ? "line" : "line fifth", line, count);
        else
            tu_svg_polyline(&sheet->svg, NULL, number % 5 ? "line" : "line fifth", line, count);
    }
    free(points);
    return TU_OK;
}

tu_status tu_map_draw_relief(tu_bed_sheet *sheet, tu_error *error)
{
    tu_svg_group_open(&sheet->svg, "tints");
    tu_status status = fill_region(sheet, -INFINITY, 0, error);
    for (int i = 0; !status && i < sheet->levels; i++)
        status = fill_region(sheet, level_at(sheet, i), i + 1, error);
    tu_svg_group_close(&sheet->svg);
    tu_svg_group_open(&sheet->svg, "contours");
    for (int i = 0; !status && i < sheet->levels; i++)
        status = draw_level(sheet, i, DRAW_LINES, error);
    tu_svg_group_close(&sheet->svg);
    return status;
}

tu_status tu_map_label_contours(tu_bed_sheet *sheet, tu_error *error)
{
    tu_status status = TU_OK;
    tu_svg_group_open(&sheet->svg, "contour-labels");
    for (int i = 0; !status && i < sheet->levels; i++)
        status = draw_level(sheet, i, DRAW_LABELS, error);
    tu_svg_group_close(&sheet->svg);
    return status;
}
