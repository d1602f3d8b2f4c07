/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * report_bed_svg.c - the map of a bed: the sheet, what is marked on the map, and its key.
 */
#include "report/bed/bed_map.h"
#include "report/bed/bed_words.h"
#include "report/drawing/page.h"
#include "report/figure.h"

#include <math.h>
#include <stdio.h>

/* Standing where a deep bed comes out larger that way. */
static const tu_svg_point lying = {297, 210}, standing = TU_PAGE_A4;
/* What the map leaves free around it: words above, sections and scale below, the key beside it. */
static const tu_svg_box around = {30, 45, 101, 61};
static const double margin_mm = 12, row_mm = 4.6, key_mm = 45, title_mm = 5;

static const char css[] =
    ".page{fill:#fff;stroke:none}\n"
    "text{font-family:sans-serif;fill:#000}\n"
    ".strong{font-weight:bold}\n"
    ".line{fill:none;stroke:#5b4a36;stroke-width:0.18}\n"
    ".fifth{stroke-width:0.45}\n"
    ".halo{stroke:#fff;stroke-width:0.9;stroke-linejoin:round}\n"
    /* marks let the pointer through to the touched place under them */
    "text,.mark,.hollow,.filled,.suspect,.solid,.cut,.job{pointer-events:none}\n"
    ".height{fill:#3d3020}\n"
    ".border,.thin{fill:none;stroke:#000;stroke-width:0.25}\n"
    ".thick{fill:none;stroke:#000;stroke-width:0.5}\n"
    ".job{fill:none;stroke:#000;stroke-width:0.5;stroke-dasharray:3 1.2}\n"
    ".cut{fill:none;stroke:#000;stroke-width:0.25;"
    "stroke-dasharray:3 0.7 0.4 0.7}\n"
    ".zone{fill:none;stroke:#000;stroke-width:0.25;stroke-dasharray:2 0.9}\n"
    ".touch{fill:#000;stroke:#000;stroke-opacity:0;stroke-width:2}\n"
    ".ring{fill:none;stroke:#000;stroke-width:0.35}\n"
    ".mark{fill:#d55e00;stroke:#000;stroke-width:0.3}\n"
    ".hollow{fill:#fff;stroke:#d55e00;stroke-width:0.6}\n"
    ".filled{fill:none;stroke:#000;stroke-width:0.25}\n"
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

/* --- Around the map --- */

/* One step for both axes, but a short side has its own, so that it does not stay without. */
static double tick_step(double extent, double longer, double paper_mm, double apart_mm)
{
    double common = tu_figure_round_step(longer, 8);
    return extent > 1.5 * common ? common
                                 : tu_figure_round_step(extent, (int)fmax(1, paper_mm / apart_mm));
}

static int decimals_of(double step)
{
    return (int)fmax(0, fmin(6, -floor(log10(step) + 1e-9)));
}

static void draw_ticks(tu_bed_sheet *sheet)
{
    const tu_bed_rectangle *extent = &sheet->answer->model.extent;
    tu_unit unit = sheet->style->unit;
    double per = unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1;
    double length = (extent->x_high_mm - extent->x_low_mm) / per;
    double width = (extent->y_high_mm - extent->y_low_mm) / per;
    double longer = fmax(length, width);
    double step = tick_step(length, longer, sheet->box.right - sheet->box.left, 10);
    tu_svg_group_open(&sheet->svg, "ticks");
    for (double x = ceil(extent->x_low_mm / per / step); x * step * per <= extent->x_high_mm; x++) {
        tu_svg_point at = tu_map_place(sheet, x * step * per, extent->y_low_mm);
        tu_svg_line(&sheet->svg, NULL, "thin", at, (tu_svg_point){at.x_mm, at.y_mm + 1.5});
        tu_map_text(sheet, (tu_svg_point){at.x_mm, at.y_mm + 4.4}, TU_SVG_MIDDLE, TU_MAP_SMALL_MM,
                    NULL, tu_figure_number(x * step + 0.0, decimals_of(step)).text);
    }
    step = tick_step(width, longer, sheet->box.bottom - sheet->box.top, 6);
    for (double y = ceil(extent->y_low_mm / per / step); y * step * per <= extent->y_high_mm; y++) {
        tu_svg_point at = tu_map_place(sheet, extent->x_low_mm, y * step * per);
        tu_svg_line(&sheet->svg, NULL, "thin", at, (tu_svg_point){at.x_mm - 1.5, at.y_mm});
        tu_map_text(sheet, (tu_svg_point){at.x_mm - 2.2, at.y_mm + 0.9}, TU_SVG_END,
                    TU_MAP_SMALL_MM, NULL,
                    tu_figure_number(y * step + 0.0, decimals_of(step)).text);
    }
    tu_map_text(sheet, (tu_svg_point){sheet->box.right, sheet->box.bottom + 8.4}, TU_SVG_END,
                TU_MAP_SMALL_MM, NULL, unit == TU_UNIT_INCH ? "X, in" : "X, mm");
    tu_map_text(sheet, (tu_svg_point){sheet->box.left - 2.2, sheet->box.top - 2}, TU_SVG_END,
                TU_MAP_SMALL_MM, NULL, unit == TU_UNIT_INCH ? "Y, in" : "Y, mm");
    tu_svg_group_close(&sheet->svg);
}

static void draw_border(tu_bed_sheet *sheet)
{
    tu_svg_rectangle(&sheet->svg, "extent", "border", sheet->box);
}

/* An arrow to where the person stands. */
static void draw_front(tu_bed_sheet *sheet)
{
    double x = fmax(margin_mm + 4, sheet->box.left - 20), y = sheet->box.bottom - 4;
    tu_svg_group_open(&sheet->svg, "front");
    tu_svg_stroke(&sheet->svg, "thick", x, y - 10, x, y - 3);
    tu_svg_point head[] = {{x - 1.6, y - 4}, {x + 1.6, y - 4}, {x, y}};
    tu_svg_polygon(&sheet->svg, NULL, "solid", head, 3);
    tu_map_text(sheet, (tu_svg_point){x, y + 4}, TU_SVG_MIDDLE, TU_MAP_SMALL_MM, "strong", "front");
    tu_svg_group_close(&sheet->svg);
}

static void draw_scale(tu_bed_sheet *sheet, double y)
{
    double per = sheet->style->unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1;
    double length = tu_figure_round_step(40 / sheet->scale / per, 1) / 2;
    length = length * per * sheet->scale > 45 ? length / 2 : length;
    double x = sheet->box.left, paper = length * per * sheet->scale;
    char text[80];
    tu_svg_group_open(&sheet->svg, "scale");
    tu_svg_stroke(&sheet->svg, "thick", x, y, x + paper, y);
    for (int i = 0; i < 2; i++)
        tu_svg_stroke(&sheet->svg, "thick", x + i * paper, y - 1, x + i * paper, y + 1);
    snprintf(text, sizeof text, "%g %s", length, tu_unit_name(sheet->style->unit));
    for (char *c = text; *c; c++)
        *c = *c == ',' ? '.' : *c; /* whatever the locale */
    tu_map_text(sheet, (tu_svg_point){x + paper + 2, y + 1}, TU_SVG_START, TU_MAP_SMALL_MM, NULL,
                text);
    tu_svg_group_close(&sheet->svg);
}

static void draw_tint_key(tu_bed_sheet *sheet, double x, double *y)
{
    char text[80];
    snprintf(text, sizeof text, "%s, %s",
             sheet->style->without_tilt ? "above the plane" : "machine Z",
             tu_unit_name(sheet->style->unit));
    tu_map_text(sheet, (tu_svg_point){x, *y}, TU_SVG_START, TU_MAP_NOTE_MM, "strong", text);
    *y += 3;
    for (int band = sheet->levels; band >= 0; band--) {
        tu_svg_box box = {x, *y, x + 9, *y + 4.4};
        char name[16];
        snprintf(name, sizeof name, "b%d", band);
        tu_svg_rectangle(&sheet->svg, NULL, name, box);
        tu_svg_rectangle(&sheet->svg, NULL, "border", box);
        if (band > 0) {
            tu_map_format_level(sheet, sheet->first_mm + (band - 1) * sheet->step_mm, text,
                                sizeof text);
            tu_map_text(sheet, (tu_svg_point){x + 11, *y + 5.3}, TU_SVG_START, TU_MAP_SMALL_MM,
                        NULL, text);
        }
        *y += 4.4;
    }
    if (sheet->levels == 0) {
        tu_map_format_level(sheet, sheet->low_mm, text, sizeof text);
        tu_map_text(sheet, (tu_svg_point){x + 11, *y - 1.3}, TU_SVG_START, TU_MAP_SMALL_MM, NULL,
                    text);
    }
    *y += 6;
}

/* Sentences in rows as wide as the page; y goes on below them. sheet NULL: only measures. */
static void place_words(tu_bed_sheet *sheet, tu_svg_point page, double *y, const char *css_class,
                        const char *words)
{
    const tu_page_column column = {margin_mm, page.x_mm - 2 * margin_mm, INFINITY, TU_MAP_NOTE_MM,
                                   row_mm};
    *y = tu_page_words(sheet ? &sheet->svg : NULL, &column, *y, css_class, words);
}

/* Verdict and advice; where they end. */
static double place_head(tu_bed_sheet *sheet, tu_svg_point page, const tu_bed_answer *answer,
                         tu_unit unit)
{
    double y = 24;
    place_words(sheet, page, &y, "strong", tu_bed_say_doubt(answer, unit).text);
    place_words(sheet, page, &y, "strong", tu_bed_say_verdict(answer, unit).text);
    place_words(sheet, page, &y, NULL, tu_bed_say_remedy(answer, unit).text);
    place_words(sheet, page, &y, NULL, tu_bed_say_through_cut(answer, unit).text);
    return y;
}

static tu_svg_box find_window(tu_svg_point page, const tu_bed_sheet *sheet)
{
    double head = place_head(NULL, page, sheet->answer, sheet->style->unit);
    return (tu_svg_box){around.left, fmax(around.top, head + 7.5), page.x_mm - around.right,
                        page.y_mm - around.bottom};
}

/* How large the bed comes out in a window: paper over real. */
static double fit(const tu_bed_sheet *sheet, tu_svg_box window)
{
    const tu_bed_rectangle *extent = &sheet->answer->model.extent;
    return fmin((window.right - window.left) / (extent->x_high_mm - extent->x_low_mm),
                (window.bottom - window.top) / (extent->y_high_mm - extent->y_low_mm));
}

static tu_svg_box choose_page(tu_bed_sheet *sheet)
{
    tu_svg_box wide = find_window(lying, sheet), deep = find_window(standing, sheet);
    bool stands = fit(sheet, deep) > 1.2 * fit(sheet, wide);
    sheet->page = stands ? standing : lying;
    return stands ? deep : wide;
}

static void make_title(const tu_bed_sheet *sheet, char *text, size_t size)
{
    snprintf(text, size, "Map of the bed%s: %.150s",
             sheet->style->without_tilt ? ", tilt removed" : "", sheet->answer->name);
}

static void draw_head(tu_bed_sheet *sheet)
{
    char title[200];
    make_title(sheet, title, sizeof title);
    const tu_page_column column = {
        .x = margin_mm, .width_mm = sheet->page.x_mm - 2 * margin_mm, .size_mm = title_mm};
    tu_svg_group_open(&sheet->svg, "verdict");
    tu_page_fitted(&sheet->svg, &column, 17, TU_MAP_SMALL_MM, "strong", title);
    place_head(sheet, sheet->page, sheet->answer, sheet->style->unit);
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

static void draw_key(tu_bed_sheet *sheet, double y)
{
    double x = sheet->page.x_mm - key_mm;
    tu_svg_group_open(&sheet->svg, "key");
    draw_tint_key(sheet, x, &y);
    tu_map_draw_symbol_key(sheet, x, &y);
    tu_svg_group_close(&sheet->svg);
}

static tu_status draw_sheet(tu_bed_sheet *sheet, double top_mm, tu_error *error)
{
    draw_head(sheet);
    tu_status status = tu_map_draw_relief(sheet, error);
    draw_border(sheet);
    tu_map_draw_row(sheet, (tu_svg_box){sheet->box.left, sheet->box.bottom + 12, sheet->box.right,
                                        sheet->box.bottom + 40});
    tu_map_draw_column(sheet, (tu_svg_box){sheet->box.right + 7, sheet->box.top,
                                           sheet->box.right + 47, sheet->box.bottom});
    tu_map_draw_marks(sheet);
    if (!status)
        status = tu_map_label_contours(sheet, error);
    draw_ticks(sheet);
    draw_front(sheet);
    draw_scale(sheet, sheet->box.bottom + 44);
    draw_key(sheet, top_mm - 2);
    double rows = 0, y;
    place_words(NULL, sheet->page, &rows, NULL, tu_bed_sag_note);
    y = sheet->page.y_mm - 7 - (rows - row_mm);
    place_words(sheet, sheet->page, &y, NULL, tu_bed_sag_note);
    return status;
}

tu_status tu_report_bed_svg(FILE *out, const tu_bed_answer *answer, const tu_bed_style *style,
                            tu_error *error)
{
    tu_bed_sheet sheet = {.answer = answer, .style = style};
    tu_svg_box window = choose_page(&sheet);
    tu_status status = tu_map_prepare(&sheet, window, error);
    if (!status) {
        char styles[sizeof css + 40 * TU_MAP_BANDS_MAX], title[200];
        make_css(&sheet, styles, sizeof styles);
        make_title(&sheet, title, sizeof title);
        tu_svg_open(&sheet.svg, out, sheet.page, styles, title,
                    tu_bed_say_verdict(answer, style->unit).text);
        status = draw_sheet(&sheet, window.top, error);
        tu_status closing = tu_svg_close(&sheet.svg, status ? NULL : error);
        status = status ? status : closing;
    }
    tu_map_release(&sheet);
    return status;
}
