/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_section.c - the worst row and the worst column of a bed's map as sections, their heights
 * enlarged, between the two lines of their straightness.
 */
#include "report/bed/bed_map.h"
#include "report/bed/bed_words.h"
#include "report/figure.h"

#include <math.h>
#include <stdio.h>

enum { POINTS_MAX = 400 };
#define NOTE_MM 2.8
#define FLAT_MM 0.01 /* what is flatter looks flat: nobody touches finer */

/*
 * A section being drawn. The place along it is that on the map, so that both can be compared by a
 * ruler; heights run up (a row) or to the right (a column).
 */
typedef struct section {
    tu_bed_sheet *sheet;
    const tu_bed_straightness *found;
    bool column;
    double base; /* paper, of height low */
    double low_mm, enlarged;
    size_t count;
    tu_bed_point point[POINTS_MAX];
} section;

static tu_svg_point place(const section *s, double x_mm, double y_mm, double height_mm)
{
    tu_svg_point at = tu_map_place(s->sheet, x_mm, y_mm);
    double up = (height_mm - s->low_mm) * s->enlarged;
    if (s->column)
        at.x_mm = s->base + up;
    else
        at.y_mm = s->base - up;
    return at;
}

/* A point with its height as the map has it. */
static tu_bed_point as_drawn(const section *s, int32_t index)
{
    tu_bed_point point = s->sheet->answer->model.point[index];
    point.z_mm = tu_map_height(s->sheet, point);
    return point;
}

/* The touched points of a line; a line of more than can be told apart is thinned. */
static void collect(section *s, size_t line)
{
    const tu_bed_model *model = &s->sheet->answer->model;
    size_t count = s->column ? model->rows : model->columns;
    size_t stride = count / POINTS_MAX + 1;
    for (size_t i = 0; i < count; i += stride) {
        size_t cell = s->column ? i * model->columns + line : line * model->columns + i;
        if (model->point_at[cell] != TU_BED_NONE && s->count < POINTS_MAX)
            s->point[s->count++] = as_drawn(s, model->point_at[cell]);
    }
}

static double along(const section *s, const tu_bed_point *p)
{
    return s->column ? p->y_mm : p->x_mm;
}

/* Height of the zone's line through its edge (0) or through its single point (1). */
static double zone_height(const section *s, int line, const tu_bed_point *at)
{
    tu_bed_point a = as_drawn(s, s->found->contact[0]), b = as_drawn(s, s->found->contact[1]);
    tu_bed_point through = line == 0 ? a : as_drawn(s, s->found->contact[2]);
    double slope = (b.z_mm - a.z_mm) / (along(s, &b) - along(s, &a));
    return through.z_mm + slope * (along(s, at) - along(s, &through));
}

/* The enlargement is round; the zone's lines have to fit as well. */
static void choose_enlargement(section *s, double room_mm)
{
    static const double round_factors[] = {5, 4, 2.5, 2, 1.5, 1};
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < s->count; i++) {
        low = fmin(low, s->point[i].z_mm);
        high = fmax(high, s->point[i].z_mm);
    }
    for (int end = 0; end < 2; end++) {
        for (int line = 0; line < 2; line++) {
            double z = zone_height(s, line, &s->point[end ? s->count - 1 : 0]);
            low = fmin(low, z);
            high = fmax(high, z);
        }
    }
    double most = room_mm / fmax(high - low, FLAT_MM) / s->sheet->scale;
    double power = pow(10, floor(log10(most)));
    s->low_mm = low;
    s->enlarged = power * s->sheet->scale;
    for (size_t i = 0; i < sizeof round_factors / sizeof *round_factors; i++) {
        if (round_factors[i] * power <= most) {
            s->enlarged = round_factors[i] * power * s->sheet->scale;
            break;
        }
    }
}

static void draw_zone(const section *s)
{
    for (int line = 0; line < 2; line++) {
        tu_svg_point end[2];
        for (int i = 0; i < 2; i++) {
            const tu_bed_point *p = &s->point[i ? s->count - 1 : 0];
            end[i] = place(s, p->x_mm, p->y_mm, zone_height(s, line, p));
        }
        tu_svg_line(&s->sheet->svg, NULL, "zone", end[0], end[1]);
    }
}

static void draw_points(const section *s)
{
    tu_svg_point points[POINTS_MAX];
    for (size_t i = 0; i < s->count; i++)
        points[i] = place(s, s->point[i].x_mm, s->point[i].y_mm, s->point[i].z_mm);
    tu_svg_polyline(&s->sheet->svg, NULL, "thin", points, s->count);
    for (size_t i = 0; s->count <= 100 && i < s->count; i++)
        tu_svg_circle(&s->sheet->svg, NULL, "touch", points[i], 0.55);
}

static void draw_notes(const section *s, double at_mm)
{
    tu_bed_sheet *sheet = s->sheet;
    tu_unit unit = sheet->style->unit;
    char text[2][200];
    snprintf(text[0], sizeof text[0], "%s at %c %s", s->column ? "Column" : "Row",
             s->column ? 'X' : 'Y', tu_bed_show(unit, at_mm).text);
    snprintf(text[1], sizeof text[1], "straight to %s; heights %s%s times larger",
             tu_bed_show(unit, s->found->STRt_mm).text, s->column ? "to the right, " : "",
             tu_figure_number(s->enlarged / sheet->scale, 0).text);
    for (int i = 0; i < 2; i++) {
        tu_svg_text_style style = {NOTE_MM, TU_SVG_START, s->column ? -90 : 0, i ? NULL : "strong"};
        tu_svg_point at = s->column ? (tu_svg_point){s->base - 6 + 4 * i, sheet->box.bottom}
                                    : (tu_svg_point){sheet->box.left, s->base + 4 + 4 * i};
        tu_svg_text(&sheet->svg, at, &style, text[i]);
    }
}

/* On the map: which line it is. */
static void mark(const section *s)
{
    const tu_bed_point *a = &s->point[0], *b = &s->point[s->count - 1];
    tu_svg_line(&s->sheet->svg, NULL, "cut", tu_map_place(s->sheet, a->x_mm, a->y_mm),
                tu_map_place(s->sheet, b->x_mm, b->y_mm));
}

static void draw(tu_bed_sheet *sheet, bool column, int32_t line, double base, double room_mm)
{
    const tu_bed_answer *answer = sheet->answer;
    if (line < 0)
        return;
    section s = {.sheet = sheet, .column = column, .base = base};
    collect(&s, (size_t)line);
    if (s.count < 3)
        return;
    s.found = column ? &answer->column[line] : &answer->row[line];
    choose_enlargement(&s, room_mm);
    tu_svg_group_open(&sheet->svg, column ? "worst-column" : "worst-row");
    mark(&s);
    draw_zone(&s);
    draw_points(&s);
    draw_notes(&s, column ? answer->model.column_x_mm[line] : answer->model.row_y_mm[line]);
    tu_svg_group_close(&sheet->svg);
}

void tu_map_draw_row(tu_bed_sheet *sheet, tu_svg_box window)
{
    draw(sheet, false, sheet->answer->worst_row, window.bottom - 9, window.bottom - 9 - window.top);
}

void tu_map_draw_column(tu_bed_sheet *sheet, tu_svg_box window)
{
    draw(sheet, true, sheet->answer->worst_column, window.left + 5, window.right - window.left - 7);
}
