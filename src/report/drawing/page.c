/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * page.c - words on the page under every drawing.
 */
#include "report/drawing/page.h"

#include "report/word_rows.h"

#include <math.h>
#include <string.h>

static const char more_dots[] = " …";

double tu_page_words(tu_svg *svg, const tu_page_column *column, double y, const char *css,
                     const char *text)
{
    char row[640];
    double font_mm = column->size_mm * (css ? TU_PAGE_BOLDER : 1);
    for (; *text && y < column->lowest; y += column->row_mm) {
        text =
            tu_word_rows_take(text, column->width_mm, font_mm, row, sizeof row - sizeof more_dots);
        if (*text && y + column->row_mm >= column->lowest)
            strcat(row, more_dots);
        if (svg)
            tu_svg_write(svg, column->x, y, column->size_mm, TU_SVG_START, css, row);
    }
    return y;
}

void tu_page_fitted(tu_svg *svg, const tu_page_column *column, double y, double least_mm,
                    const char *css, const char *text)
{
    char row[512];
    double bolder = css ? TU_PAGE_BOLDER : 1;
    double fitting = column->width_mm / fmax(bolder * tu_svg_text_width(text, 1), 1);
    double size = fmin(column->size_mm, fmax(least_mm, fitting));
    snprintf(row, sizeof row, "%s", text);
    tu_svg_shorten(row, sizeof row, column->width_mm, bolder * size);
    tu_svg_write(svg, column->x, y, size, TU_SVG_START, css, row);
}
