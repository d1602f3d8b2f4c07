/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_bed_svg.c - the map of a bed: the sheet, what is marked on the map, and its key.
 */
#include "report/bed_map.h"
#include "report/bed_words.h"
#include "report/figure.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A4 by ISO 216, lying: beds are wider than deep. */
static const tu_svg_point page = {297, 210};
static const tu_map_box map_window = {30, 45, 196, 149};
static const double margin_mm = 12, note_mm = 3.2, small_mm = 2.6;

static const char css[] = ".page{fill:#fff;stroke:none}\n"
                          "text{font-family:sans-serif;fill:#000}\n"
                          ".strong{font-weight:bold}\n"
                          ".line{fill:none;stroke:#5b4a36;stroke-width:0.18}\n"
                          ".fifth{stroke-width:0.45}\n"
                          ".halo{stroke:#fff;stroke-width:0.9;stroke-linejoin:round}\n"
                          ".height{fill:#3d3020}\n"
                          ".border,.thin{fill:none;stroke:#000;stroke-width:0.25}\n"
                          ".thick{fill:none;stroke:#000;stroke-width:0.5}\n"
                          ".job{fill:none;stroke:#000;stroke-width:0.5;stroke-dasharray:3 1.2}\n"
                          ".cut{fill:none;stroke:#000;stroke-width:0.25;"
                          "stroke-dasharray:5 0.8 0.4 0.8}\n"
                          ".zone{fill:none;stroke:#000;stroke-width:0.25;stroke-dasharray:2 0.9}\n"
                          ".touch{fill:#000;stroke:none}\n"
                          ".ring{fill:none;stroke:#000;stroke-width:0.35}\n"
                          ".mark{fill:#d55e00;stroke:#fff;stroke-width:0.2}\n"
                          ".hollow{fill:#fff;stroke:#d55e00;stroke-width:0.6}\n"
                          ".suspect{fill:none;stroke:#d55e00;stroke-width:0.5}\n"
                          ".solid{fill:#000;stroke:none}\n";

void tu_map_text(tu_bed_sheet *sheet, tu_svg_point at, tu_svg_anchor anchor, double size_mm,
                 const char *css_class, const char *text)
{
    tu_svg_text_style style = {size_mm, anchor, 0, css_class};
    tu_svg_text(&sheet->svg, at, &style, text);
}

void tu_map_format_level(const tu_bed_sheet *sheet, double height_mm, char *text, size_t size)
{
    double step = sheet->levels > 0 ? tu_unit_from_mm(sheet->style->unit, sheet->step_mm) : 0.001;
    int decimals = (int)fmax(0, fmin(6, -floor(log10(step) + 1e-9)));
    double value = tu_unit_from_mm(sheet->style->unit, height_mm);
    if (fabs(value) < 0.5 * pow(10, -decimals))
        value = 0;
    snprintf(text, size, "%s", tu_figure_number(value, decimals).text);
}

/* --- On the map --- */

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

/* Squares mark the contact places of the minimum zone: filled ones hold the upper plane. */
static void draw_contact(tu_bed_sheet *sheet, tu_bed_point p, bool high)
{
    tu_svg_point at = tu_map_place(sheet, p.x_mm, p.y_mm);
    double r = 1.1;
    tu_svg_point corner[] = {{at.x_mm - r, at.y_mm - r},
                             {at.x_mm + r, at.y_mm - r},
                             {at.x_mm + r, at.y_mm + r},
                             {at.x_mm - r, at.y_mm + r}};
    tu_svg_polygon(&sheet->svg, NULL, high ? "mark" : "hollow", corner, 4);
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
        tu_svg_circle(&sheet->svg, NULL, "suspect", tu_map_place(sheet, p->x_mm, p->y_mm), 2.2);
    }
    tu_svg_group_close(&sheet->svg);
}

/* A triangle up for the highest, down for the lowest, and its height. */
static void draw_extreme(tu_bed_sheet *sheet, tu_bed_point p, bool high)
{
    tu_svg_point at = tu_map_place(sheet, p.x_mm, p.y_mm);
    double up = high ? -1 : 1;
    tu_svg_point corner[] = {{at.x_mm, at.y_mm + up * 2.6},
                             {at.x_mm - 1.6, at.y_mm - up * 0.2},
                             {at.x_mm + 1.6, at.y_mm - up * 0.2}};
    tu_svg_polygon(&sheet->svg, high ? "highest" : "lowest", "solid", corner, 3);
    bool left = at.x_mm > sheet->box.right - 30;
    tu_svg_point text_at = {at.x_mm + (left ? -2.4 : 2.4),
                            fmax(at.y_mm + up * 1.6 + 1, sheet->box.top + 3)};
    text_at.y_mm = fmin(text_at.y_mm, sheet->box.bottom - 1);
    char text[100];
    snprintf(text, sizeof text, "%s %s", high ? "highest" : "lowest",
             tu_figure_place(sheet->style->unit, tu_map_height(sheet, p)).text);
    tu_svg_anchor anchor = left ? TU_SVG_END : TU_SVG_START;
    tu_map_text(sheet, text_at, anchor, small_mm, "halo", text);
    tu_map_text(sheet, text_at, anchor, small_mm, "strong", text);
    sheet->label[sheet->labels++] = text_at;
}

static void draw_extremes(tu_bed_sheet *sheet)
{
    const tu_bed_places *places = &sheet->answer->places;
    size_t high = 0, low = 0;
    for (size_t i = 1; i < places->count; i++) {
        if (tu_map_height(sheet, places->point[i]) > tu_map_height(sheet, places->point[high]))
            high = i;
        if (tu_map_height(sheet, places->point[i]) < tu_map_height(sheet, places->point[low]))
            low = i;
    }
    draw_extreme(sheet, places->point[high], true);
    draw_extreme(sheet, places->point[low], false);
}

static void draw_job(tu_bed_sheet *sheet)
{
    const tu_bed_rectangle *job = sheet->answer->job;
    if (!job)
        return;
    tu_svg_point a = tu_map_place(sheet, job->x_low_mm, job->y_low_mm);
    tu_svg_point b = tu_map_place(sheet, job->x_high_mm, job->y_high_mm);
    tu_svg_point corner[] = {a, {b.x_mm, a.y_mm}, b, {a.x_mm, b.y_mm}};
    tu_svg_polygon(&sheet->svg, "job", "job", corner, 4);
    tu_map_text(sheet, (tu_svg_point){a.x_mm + 1, b.y_mm + 3}, TU_SVG_START, small_mm, "strong",
                "job");
}

/* --- Around the map --- */

static void draw_ticks(tu_bed_sheet *sheet)
{
    const tu_bed_rectangle *extent = &sheet->answer->model.extent;
    tu_unit unit = sheet->style->unit;
    double per = unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1;
    double length = (extent->x_high_mm - extent->x_low_mm) / per;
    double width = (extent->y_high_mm - extent->y_low_mm) / per;
    double step = tu_contour_round_step(length > width ? length : width, 8);
    int decimals = (int)fmax(0, fmin(6, -floor(log10(step) + 1e-9)));
    tu_svg_group_open(&sheet->svg, "ticks");
    for (double x = ceil(extent->x_low_mm / per / step); x * step * per <= extent->x_high_mm; x++) {
        tu_svg_point at = tu_map_place(sheet, x * step * per, extent->y_low_mm);
        tu_svg_line(&sheet->svg, NULL, "thin", at, (tu_svg_point){at.x_mm, at.y_mm + 1.5});
        tu_map_text(sheet, (tu_svg_point){at.x_mm, at.y_mm + 4.4}, TU_SVG_MIDDLE, small_mm, NULL,
                    tu_figure_number(x * step + 0.0, decimals).text);
    }
    for (double y = ceil(extent->y_low_mm / per / step); y * step * per <= extent->y_high_mm; y++) {
        tu_svg_point at = tu_map_place(sheet, extent->x_low_mm, y * step * per);
        tu_svg_line(&sheet->svg, NULL, "thin", at, (tu_svg_point){at.x_mm - 1.5, at.y_mm});
        tu_map_text(sheet, (tu_svg_point){at.x_mm - 2.2, at.y_mm + 0.9}, TU_SVG_END, small_mm, NULL,
                    tu_figure_number(y * step + 0.0, decimals).text);
    }
    tu_map_text(sheet, (tu_svg_point){sheet->box.right, sheet->box.bottom + 8.4}, TU_SVG_END,
                small_mm, NULL, unit == TU_UNIT_INCH ? "X, in" : "X, mm");
    tu_map_text(sheet, (tu_svg_point){sheet->box.left - 2.2, sheet->box.top - 2}, TU_SVG_END,
                small_mm, NULL, unit == TU_UNIT_INCH ? "Y, in" : "Y, mm");
    tu_svg_group_close(&sheet->svg);
}

static void draw_border(tu_bed_sheet *sheet)
{
    const tu_map_box *box = &sheet->box;
    tu_svg_point corner[] = {{box->left, box->top},
                             {box->right, box->top},
                             {box->right, box->bottom},
                             {box->left, box->bottom}};
    tu_svg_polygon(&sheet->svg, "extent", "border", corner, 4);
}

/* An arrow to where the person stands. */
static void draw_front(tu_bed_sheet *sheet)
{
    double x = margin_mm + 4, y = sheet->box.bottom - 4;
    tu_svg_group_open(&sheet->svg, "front");
    tu_svg_line(&sheet->svg, NULL, "thick", (tu_svg_point){x, y - 10}, (tu_svg_point){x, y - 3});
    tu_svg_point head[] = {{x - 1.6, y - 4}, {x + 1.6, y - 4}, {x, y}};
    tu_svg_polygon(&sheet->svg, NULL, "solid", head, 3);
    tu_map_text(sheet, (tu_svg_point){x, y + 4}, TU_SVG_MIDDLE, small_mm, "strong", "front");
    tu_svg_group_close(&sheet->svg);
}

static void draw_scale(tu_bed_sheet *sheet, double y)
{
    double per = sheet->style->unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1;
    double length = tu_contour_round_step(40 / sheet->scale / per, 1) / 2;
    length = length * per * sheet->scale > 45 ? length / 2 : length;
    double x = sheet->box.left, paper = length * per * sheet->scale;
    char text[80];
    tu_svg_group_open(&sheet->svg, "scale");
    tu_svg_line(&sheet->svg, NULL, "thick", (tu_svg_point){x, y}, (tu_svg_point){x + paper, y});
    for (int i = 0; i < 2; i++)
        tu_svg_line(&sheet->svg, NULL, "thick", (tu_svg_point){x + i * paper, y - 1},
                    (tu_svg_point){x + i * paper, y + 1});
    snprintf(text, sizeof text, "%g %s", length, tu_unit_name(sheet->style->unit));
    for (char *c = text; *c; c++)
        *c = *c == ',' ? '.' : *c; /* whatever the locale */
    tu_map_text(sheet, (tu_svg_point){x + paper + 2, y + 1}, TU_SVG_START, small_mm, NULL, text);
    tu_svg_group_close(&sheet->svg);
}

static void draw_tint_key(tu_bed_sheet *sheet, double x, double *y)
{
    char text[80];
    snprintf(text, sizeof text, "%s, %s",
             sheet->style->without_tilt ? "above the plane" : "machine Z",
             tu_unit_name(sheet->style->unit));
    tu_map_text(sheet, (tu_svg_point){x, *y}, TU_SVG_START, note_mm, "strong", text);
    *y += 3;
    for (int band = sheet->levels; band >= 0; band--) {
        tu_svg_point corner[] = {{x, *y}, {x + 9, *y}, {x + 9, *y + 4.4}, {x, *y + 4.4}};
        char name[16];
        snprintf(name, sizeof name, "b%d", band);
        tu_svg_polygon(&sheet->svg, NULL, name, corner, 4);
        tu_svg_polygon(&sheet->svg, NULL, "border", corner, 4);
        if (band > 0) {
            tu_map_format_level(sheet, sheet->first_mm + (band - 1) * sheet->step_mm, text,
                                sizeof text);
            tu_map_text(sheet, (tu_svg_point){x + 11, *y + 5.3}, TU_SVG_START, small_mm, NULL,
                        text);
        }
        *y += 4.4;
    }
    *y += 6;
}

static void key_row(tu_bed_sheet *sheet, double x, double *y, const char *text)
{
    tu_map_text(sheet, (tu_svg_point){x + 5, *y + 0.9}, TU_SVG_START, small_mm, NULL, text);
    *y += 5;
}

static void draw_symbol_key(tu_bed_sheet *sheet, double x, double *y)
{
    tu_svg *svg = &sheet->svg;
    for (int i = 0; i < 2; i++) {
        tu_svg_point at = {x + 1.5, *y};
        tu_svg_point corner[] = {{at.x_mm - 1.1, at.y_mm - 1.1},
                                 {at.x_mm + 1.1, at.y_mm - 1.1},
                                 {at.x_mm + 1.1, at.y_mm + 1.1},
                                 {at.x_mm - 1.1, at.y_mm + 1.1}};
        tu_svg_polygon(svg, NULL, i ? "hollow" : "mark", corner, 4);
        key_row(sheet, x, y, i ? "zone: low contact" : "zone: high contact");
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
    if (sheet->answer->worst_row >= 0 || sheet->answer->worst_column >= 0) {
        tu_svg_line(svg, NULL, "cut", (tu_svg_point){x - 1, *y}, (tu_svg_point){x + 4, *y});
        key_row(sheet, x, y, "section");
    }
}

/* Sentences in lines of that width; y goes on below them. */
static void draw_words(tu_bed_sheet *sheet, double *y, const char *css_class, const char *words)
{
    char line[400] = "", longer[400];
    double room = page.x_mm - 2 * margin_mm;
    for (const char *word = words; *word != '\0';) {
        int length = (int)strcspn(word, " ");
        snprintf(longer, sizeof longer, "%.300s%s%.*s", line, *line ? " " : "",
                 length < 90 ? length : 90, word);
        if (*line && tu_svg_text_width(longer, note_mm) > room) {
            tu_map_text(sheet, (tu_svg_point){margin_mm, *y}, TU_SVG_START, note_mm, css_class,
                        line);
            *y += 4.6;
            snprintf(line, sizeof line, "%.*s", length < 90 ? length : 90, word);
        } else {
            memcpy(line, longer, sizeof line);
        }
        word += length;
        word += strspn(word, " ");
    }
    if (*line) {
        tu_map_text(sheet, (tu_svg_point){margin_mm, *y}, TU_SVG_START, note_mm, css_class, line);
        *y += 4.6;
    }
}

static void draw_head(tu_bed_sheet *sheet)
{
    const tu_bed_answer *answer = sheet->answer;
    tu_unit unit = sheet->style->unit;
    char title[200];
    snprintf(title, sizeof title, "Map of the bed%s: %.150s",
             sheet->style->without_tilt ? ", tilt removed" : "", answer->name);
    tu_svg_group_open(&sheet->svg, "verdict");
    tu_map_text(sheet, (tu_svg_point){margin_mm, 17}, TU_SVG_START, 5, "strong", title);
    double y = 24;
    draw_words(sheet, &y, "strong", tu_bed_say_verdict(answer, unit).text);
    draw_words(sheet, &y, NULL, tu_bed_say_remedy(answer, unit).text);
    draw_words(sheet, &y, NULL, tu_bed_say_through_cut(answer, unit).text);
    tu_svg_group_close(&sheet->svg);
}

static void make_css(const tu_bed_sheet *sheet, char *text, size_t size)
{
    size_t used = (size_t)snprintf(text, size, "%s", css);
    for (int band = 0; band <= sheet->levels && used < size; band++) {
        char tint[8];
        tu_map_tint(band, sheet->levels + 1, tint);
        used +=
            (size_t)snprintf(text + used, size - used, ".b%d{fill:%s;stroke:none}\n", band, tint);
    }
}

static tu_status draw_sheet(tu_bed_sheet *sheet, tu_error *error)
{
    draw_head(sheet);
    tu_status status = tu_map_draw_relief(sheet, error);
    draw_border(sheet);
    tu_map_draw_row(sheet, (tu_map_box){sheet->box.left, sheet->box.bottom + 12, sheet->box.right,
                                        sheet->box.bottom + 40});
    tu_map_draw_column(sheet, (tu_map_box){sheet->box.right + 4, sheet->box.top,
                                           sheet->box.right + 44, sheet->box.bottom});
    draw_job(sheet);
    draw_touches(sheet);
    draw_contacts(sheet);
    draw_suspects(sheet);
    draw_extremes(sheet);
    draw_ticks(sheet);
    draw_front(sheet);
    draw_scale(sheet, sheet->box.bottom + 47);
    double key_y = map_window.top - 2;
    tu_svg_group_open(&sheet->svg, "key");
    draw_tint_key(sheet, 252, &key_y);
    draw_symbol_key(sheet, 252, &key_y);
    tu_svg_group_close(&sheet->svg);
    double y = page.y_mm - 7;
    draw_words(sheet, &y, NULL, tu_bed_sag_note);
    return status;
}

tu_status tu_report_bed_svg(FILE *out, const tu_bed_answer *answer, const tu_bed_style *style,
                            tu_error *error)
{
    tu_bed_sheet sheet = {.answer = answer, .style = style};
    tu_status status = tu_map_prepare(&sheet, map_window, error);
    if (!status) {
        char styles[sizeof css + 40 * TU_MAP_BANDS_MAX], title[200];
        make_css(&sheet, styles, sizeof styles);
        snprintf(title, sizeof title, "Map of the bed: %.150s", answer->name);
        tu_svg_open(&sheet.svg, out, page, styles, title,
                    tu_bed_say_verdict(answer, style->unit).text);
        status = draw_sheet(&sheet, error);
        tu_status closing = tu_svg_close(&sheet.svg, status ? NULL : error);
        status = status ? status : closing;
    }
    tu_map_release(&sheet);
    return status;
}
