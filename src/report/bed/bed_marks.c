/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bed_marks.c - what is marked on the map of a bed: touched places, contact places of the minimum
 * zone, suspects, the highest and the lowest, the job; and what the marks mean.
 */
#include "report/bed/bed_map.h"
#include "report/bed/bed_words.h"
#include "report/drawing/page.h"
#include "report/figure.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define CONTACT_MM 1.1
#define SUSPECT_MM 2.2
#define FILLED_MM  0.8
/* The same height to the last digit shown: neither is the highest. */
#define SAME_MM 1e-9

bool tu_map_is_free(const tu_bed_sheet *sheet, tu_svg_box box)
{
    for (size_t i = 0; i < sheet->taken_count; i++) {
        const tu_svg_box *other = &sheet->taken[i];
        if (box.left < other->right && box.right > other->left && box.top < other->bottom &&
            box.bottom > other->top)
            return false;
    }
    return sheet->taken_count < TU_MAP_TAKEN_MAX;
}

void tu_map_take(tu_bed_sheet *sheet, tu_svg_box box)
{
    if (sheet->taken_count < TU_MAP_TAKEN_MAX)
        sheet->taken[sheet->taken_count++] = box;
}

static void take_around(tu_bed_sheet *sheet, tu_svg_point at, double half_mm)
{
    tu_map_take(sheet, (tu_svg_box){at.x_mm - half_mm, at.y_mm - half_mm, at.x_mm + half_mm,
                                    at.y_mm + half_mm});
}

static void hover_text(const tu_bed_sheet *sheet, tu_bed_point p, char *text, size_t size)
{
    tu_unit unit = sheet->style->unit;
    double height = tu_map_height(sheet, p);
    snprintf(text, size, "X %s Y %s Z %s", tu_figure_place(unit, p.x_mm).text,
             tu_figure_place(unit, p.y_mm).text, tu_bed_show(unit, p.z_mm).text);
    if (sheet->style->without_tilt) {
        size_t used = strlen(text);
        snprintf(text + used, size - used, ", %s %s the plane",
                 tu_bed_show(unit, fabs(height)).text, height < 0 ? "below" : "above");
    }
}

static void draw_touches(tu_bed_sheet *sheet)
{
    const tu_bed_places *places = &sheet->answer->places;
    if (places->count > TU_MAP_DOTS_MAX)
        return;
    double radius = places->count > 800 ? 0.25 : 0.5;
    tu_svg_group_open(&sheet->svg, "touches");
    for (size_t i = 0; i < places->count; i++) {
        char text[260];
        const tu_bed_point *p = &places->point[i];
        hover_text(sheet, *p, text, sizeof text);
        tu_svg_dot(&sheet->svg, NULL, "touch", tu_map_place(sheet, p->x_mm, p->y_mm), radius, text);
    }
    tu_svg_group_close(&sheet->svg);
}

static bool shows_filled(const tu_bed_sheet *sheet)
{
    const tu_bed_answer *answer = sheet->answer;
    return answer->model.kind == TU_BED_GRID && answer->model.filled > 0 &&
           answer->places.count <= TU_MAP_DOTS_MAX;
}

/* Open rings where a height is filled in: nobody touched there. */
static void draw_filled(tu_bed_sheet *sheet)
{
    const tu_bed_model *model = &sheet->answer->model;
    if (!shows_filled(sheet))
        return;
    tu_svg_group_open(&sheet->svg, "filled-in");
    for (size_t k = 0; k < model->columns * model->rows; k++)
        if (model->point_at[k] == TU_BED_NONE && !isnan(model->z_mm[k]))
            tu_svg_circle(&sheet->svg, NULL, "filled",
                          tu_map_place(sheet, model->column_x_mm[k % model->columns],
                                       model->row_y_mm[k / model->columns]),
                          FILLED_MM);
    tu_svg_group_close(&sheet->svg);
}

/* Squares mark the contact places of the minimum zone: filled ones hold the upper plane. */
static void draw_square(tu_bed_sheet *sheet, tu_svg_point at, bool high)
{
    const double r = CONTACT_MM;
    tu_svg_rectangle(&sheet->svg, NULL, high ? "mark" : "hollow",
                     (tu_svg_box){at.x_mm - r, at.y_mm - r, at.x_mm + r, at.y_mm + r});
}

static void draw_contact(tu_bed_sheet *sheet, tu_bed_point p, bool high)
{
    tu_svg_point at = tu_map_place(sheet, p.x_mm, p.y_mm);
    draw_square(sheet, at, high);
    take_around(sheet, at, CONTACT_MM);
}

static void draw_contacts(tu_bed_sheet *sheet)
{
    const tu_bed_answer *answer = sheet->answer;
    const tu_bed_zone *zone = &answer->zone;
    tu_svg_group_open(&sheet->svg, "minimum-zone");
    for (size_t i = 0; i < zone->high_count; i++)
        draw_contact(sheet, answer->judged[zone->high[i]], true);
    for (size_t i = 0; i < zone->low_count; i++)
        draw_contact(sheet, answer->judged[zone->low[i]], false);
    tu_svg_group_close(&sheet->svg);
}

static void draw_suspects(tu_bed_sheet *sheet)
{
    const tu_bed_suspects *suspects = &sheet->answer->suspects;
    size_t shown = suspects->count < suspects->room ? suspects->count : suspects->room;
    tu_svg_group_open(&sheet->svg, "suspects");
    for (size_t i = 0; i < shown && i < 200; i++) {
        const tu_bed_point *p = &sheet->answer->places.point[suspects->suspect[i].index];
        tu_svg_point at = tu_map_place(sheet, p->x_mm, p->y_mm);
        tu_svg_circle(&sheet->svg, NULL, "suspect", at, SUSPECT_MM);
        take_around(sheet, at, SUSPECT_MM);
    }
    tu_svg_group_close(&sheet->svg);
}

/* --- The highest and the lowest --- */

/* Of the places that are judged, by their heights as drawn: [0] the lowest, [1] the highest. */
typedef struct bed_extremes {
    tu_bed_point point[2];
} bed_extremes;

/* false: all have one height. */
static bool find_extremes(const tu_bed_sheet *sheet, bed_extremes *found)
{
    const tu_bed_answer *answer = sheet->answer;
    if (answer->judged_count == 0)
        return false;
    *found = (bed_extremes){{answer->judged[0], answer->judged[0]}};
    for (size_t i = 1; i < answer->judged_count; i++) {
        tu_bed_point p = answer->judged[i];
        double height = tu_map_height(sheet, p);
        if (height < tu_map_height(sheet, found->point[0]))
            found->point[0] = p;
        if (height > tu_map_height(sheet, found->point[1]))
            found->point[1] = p;
    }
    return tu_map_height(sheet, found->point[1]) - tu_map_height(sheet, found->point[0]) > SAME_MM;
}

static tu_bed_length say_extreme(const tu_bed_sheet *sheet, const bed_extremes *found, int high)
{
    tu_bed_length words;
    double height = tu_map_height(sheet, found->point[high]);
    snprintf(words.text, sizeof words.text, "%s %.40s", high ? "highest" : "lowest",
             tu_figure_place(sheet->style->unit, height).text);
    return words;
}

/* Up for the highest, down for the lowest, its base at the place. */
static void draw_triangle(tu_bed_sheet *sheet, const char *id, tu_svg_point at, int high)
{
    double up = high ? -1 : 1;
    tu_svg_point corner[] = {{at.x_mm, at.y_mm + up * 2.6},
                             {at.x_mm - 1.6, at.y_mm - up * 0.2},
                             {at.x_mm + 1.6, at.y_mm - up * 0.2}};
    tu_svg_polygon(&sheet->svg, id, "solid", corner, 3);
}

/* Beside the mark where there is room on the map; the key tells the height in any case. */
static void label_extreme(tu_bed_sheet *sheet, tu_svg_point at, int high, const char *text)
{
    static const double shift[] = {1, -2.5, 4.5}; /* baseline, from the mark's middle away */
    const tu_svg_box *map = &sheet->box;
    double width = TU_PAGE_BOLDER * tu_svg_text_width(text, TU_MAP_SMALL_MM);
    for (int i = 0; i < 6; i++) {
        bool left = i % 2;
        double x = at.x_mm + (left ? -2.4 : 2.4);
        double y = at.y_mm + (high ? -1.6 : 1.6) + shift[i / 2];
        y = fmin(fmax(y, map->top + 3), map->bottom - 1);
        tu_svg_box box = {left ? x - width : x, y - 2.1, left ? x : x + width, y + 0.6};
        if (box.left < map->left || box.right > map->right || !tu_map_is_free(sheet, box))
            continue;
        tu_svg_anchor anchor = left ? TU_SVG_END : TU_SVG_START;
        tu_map_text(sheet, (tu_svg_point){x, y}, anchor, TU_MAP_SMALL_MM, "halo strong", text);
        tu_map_text(sheet, (tu_svg_point){x, y}, anchor, TU_MAP_SMALL_MM, "strong", text);
        tu_map_take(sheet, box);
        return;
    }
}

/* Squares stand on the triangles, so that a contact place that is the highest shows as both; the
 * labels keep off either. */
static void draw_extremes_and_contacts(tu_bed_sheet *sheet)
{
    bed_extremes found;
    bool differ = find_extremes(sheet, &found);
    tu_svg_point at[2];
    for (int high = 0; differ && high < 2; high++) {
        at[high] = tu_map_place(sheet, found.point[high].x_mm, found.point[high].y_mm);
        draw_triangle(sheet, high ? "highest" : "lowest", at[high], high);
        take_around(sheet, (tu_svg_point){at[high].x_mm, at[high].y_mm + (high ? -1.2 : 1.2)}, 1.6);
    }
    draw_contacts(sheet);
    for (int high = 0; differ && high < 2; high++)
        label_extreme(sheet, at[high], high, say_extreme(sheet, &found, high).text);
}

/* --- The job --- */

/* What lies beyond the touched area is not on the map: the frame is cut off there. */
static void draw_job(tu_bed_sheet *sheet)
{
    const tu_bed_rectangle *job = sheet->answer->job;
    const tu_svg_box *map = &sheet->box;
    if (!job)
        return;
    tu_svg_point a = tu_map_place(sheet, job->x_low_mm, job->y_low_mm);
    tu_svg_point b = tu_map_place(sheet, job->x_high_mm, job->y_high_mm);
    bool whole = a.x_mm >= map->left - 0.1 && a.y_mm <= map->bottom + 0.1 &&
                 b.x_mm <= map->right + 0.1 && b.y_mm >= map->top - 0.1;
    a = (tu_svg_point){fmax(a.x_mm, map->left), fmin(a.y_mm, map->bottom)};
    b = (tu_svg_point){fmin(b.x_mm, map->right), fmax(b.y_mm, map->top)};
    tu_svg_rectangle(&sheet->svg, "job", "job", (tu_svg_box){a.x_mm, a.y_mm, b.x_mm, b.y_mm});
    const char *text = whole ? "job" : "job, partly untouched";
    double width = TU_PAGE_BOLDER * tu_svg_text_width(text, TU_MAP_SMALL_MM);
    tu_svg_point at = {fmax(map->left + 1, fmin(a.x_mm + 1, map->right - width - 1)),
                       fmin(b.y_mm + 3, map->bottom - 1)};
    tu_map_text(sheet, at, TU_SVG_START, TU_MAP_SMALL_MM, "halo strong", text);
    tu_map_text(sheet, at, TU_SVG_START, TU_MAP_SMALL_MM, "strong", text);
    tu_map_take(sheet, (tu_svg_box){at.x_mm, at.y_mm - 2.1, at.x_mm + width, at.y_mm + 0.6});
}

void tu_map_draw_marks(tu_bed_sheet *sheet)
{
    draw_job(sheet);
    draw_touches(sheet);
    draw_filled(sheet);
    draw_suspects(sheet);
    draw_extremes_and_contacts(sheet);
}

/* --- The key --- */

static void key_row(tu_bed_sheet *sheet, double x, double *y, const char *text)
{
    tu_map_text(sheet, (tu_svg_point){x + 5, *y + 0.9}, TU_SVG_START, TU_MAP_SMALL_MM, NULL, text);
    *y += 5;
}

static void draw_extreme_key(tu_bed_sheet *sheet, double x, double *y)
{
    bed_extremes found;
    if (!find_extremes(sheet, &found))
        return;
    for (int high = 1; high >= 0; high--) {
        draw_triangle(sheet, NULL, (tu_svg_point){x + 1.5, *y + (high ? 1.4 : -1.4)}, high);
        key_row(sheet, x, y, say_extreme(sheet, &found, high).text);
    }
}

void tu_map_draw_symbol_key(tu_bed_sheet *sheet, double x, double *y)
{
    tu_svg *svg = &sheet->svg;
    draw_extreme_key(sheet, x, y);
    const tu_bed_zone *zone = &sheet->answer->zone;
    for (int i = 0; i < 2; i++) {
        if ((i ? zone->low_count : zone->high_count) == 0)
            continue; /* a flat zone is one plane */
        draw_square(sheet, (tu_svg_point){x + 1.5, *y}, !i);
        key_row(sheet, x, y,
                zone->low_count == 0 ? "zone: contact"
                : i                  ? "zone: low contact"
                                     : "zone: high contact");
    }
    if (sheet->answer->suspects.count > 0) {
        tu_svg_circle(svg, NULL, "suspect", (tu_svg_point){x + 1.5, *y}, 1.8);
        key_row(sheet, x, y, "suspect touch");
    }
    if (sheet->answer->places.count <= TU_MAP_DOTS_MAX) {
        tu_svg_circle(svg, NULL, "touch", (tu_svg_point){x + 1.5, *y}, 0.5);
        key_row(sheet, x, y, "touched place");
    } else {
        key_row(sheet, x - 5, y, "means of many touches");
    }
    if (shows_filled(sheet)) {
        tu_svg_circle(svg, NULL, "filled", (tu_svg_point){x + 1.5, *y}, FILLED_MM);
        key_row(sheet, x, y, "filled in, untouched");
    }
    if (sheet->answer->worst_row >= 0 || sheet->answer->worst_column >= 0) {
        tu_svg_stroke(svg, "cut", x - 1, *y, x + 4, *y);
        key_row(sheet, x, y, "section");
    }
}
