/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * page.h - the page under every drawing, and words on it (internal).
 */
#ifndef TU_REPORT_PAGE_H
#define TU_REPORT_PAGE_H

#include "report/drawing/svg.h"

/* A4 by ISO 216, standing; its frame by ISO 5457: 20 mm for filing on the left, 10 mm elsewhere. */
#define TU_PAGE_A4                                                                                 \
    {                                                                                              \
        210, 297                                                                                   \
    }
#define TU_PAGE_FRAME                                                                              \
    {                                                                                              \
        20, 10, 200, 287                                                                           \
    }

/* How much wider bold letters are than tu_svg_text_width has it; a text with a class is bold. */
#define TU_PAGE_BOLDER 1.125

/* Where words go: from x on, so wide, in rows above the height `lowest`. */
typedef struct tu_page_column {
    double x, width_mm, lowest;
    double size_mm, row_mm;
} tu_page_column;

/*
 * Writes words in rows, the first on the baseline y; dots where there is no row left for more.
 *   svg  NULL: only measures.
 * Returns the baseline of the row behind the last.
 */
double tu_page_words(tu_svg *svg, const tu_page_column *column, double y, const char *css,
                     const char *text);

/* A text in one row, as wide as the column at most: smaller, down to least_mm, then cut. */
void tu_page_fitted(tu_svg *svg, const tu_page_column *column, double y, double least_mm,
                    const char *css, const char *text);

#endif
