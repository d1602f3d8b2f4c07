/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_page.c - around the views of a workshop drawing: its style, notes, rows of the title
 * block, the key to the symbols.
 */
#include "report/drawing/drawing.h"
#include "report/drawing/page.h"

/*
 * The colours of touch and zero are "vermillion" and a darkened "blue" of M. Okabe and K. Ito,
 * "Color Universal Design" (2008), which people with any colour vision tell apart; dot and triangle
 * do so in grey.
 */
const char tu_drawing_css[] =
    ".page,.paper{fill:#fff;stroke:none}\n"
    "text{font-family:sans-serif;fill:#000}\n"
    ".strong{font-weight:bold}\n"
    ".thick,.face,.thin,.hidden,.axis,.travel,.zeroline,.zeroring{fill:none;stroke:#000;"
    "stroke-linejoin:round}\n"
    ".thick{stroke-width:0.5}\n"
    ".face{stroke-width:0.9}\n"
    ".thin{stroke-width:0.25}\n"
    ".hidden{stroke-width:0.25;stroke-dasharray:2 0.9}\n"
    ".axis{stroke-width:0.25;stroke-dasharray:5 0.8 0.4 0.8}\n"
    ".head{fill:#000;stroke:none}\n"
    ".stock{fill:#f1efe9;stroke:none}\n"
    ".plate{fill:#dcdcdc;stroke:#000;stroke-width:0.25}\n"
    ".wall{fill:#b4b4b4;stroke:none}\n"
    ".bore{fill:#fff;stroke-width:0.5}\n"
    ".cutter{fill:#fff;fill-opacity:0.6;stroke:#000;stroke-width:0.5}\n"
    ".touch{fill:#d55e00;stroke:none}\n"
    ".travel{stroke:#d55e00;stroke-width:0.7}\n"
    ".zero{fill:#00507d;stroke:none}\n"
    ".zeroline{stroke:#00507d;stroke-width:0.5}\n"
    ".zeroring{stroke:#00507d;stroke-width:0.8}\n"
    ".zeroframe{fill:#fff;stroke:#00507d;stroke-width:0.5}\n";

void tu_drawing_note(tu_drawing *drawing, double x, double y, tu_svg_anchor anchor, const char *css,
                     const char *text)
{
    tu_svg_write(&drawing->svg, x, y, TU_DRAWING_NOTE_MM, anchor, css, text);
}

void tu_drawing_heading(tu_drawing *drawing, double x, double y, const char *text)
{
    tu_svg_write(&drawing->svg, x, y, TU_DRAWING_TEXT_MM, TU_SVG_START, "strong", text);
}

void tu_drawing_front_arrow(tu_drawing *drawing, tu_svg_point tip)
{
    tu_svg_stroke(&drawing->svg, "thick", tip.x_mm, tip.y_mm - 9, tip.x_mm, tip.y_mm - 3);
    tu_drawing_broad_head(drawing, "head", tip, (tu_svg_point){0, 1});
}

void tu_drawing_block(tu_drawing *drawing, const tu_svg_point corners[4])
{
    tu_svg_polygon(&drawing->svg, NULL, "block", corners, 4);
    tu_svg_line(&drawing->svg, NULL, "thin", corners[0], corners[2]);
    tu_svg_line(&drawing->svg, NULL, "thin", corners[1], corners[3]);
    tu_svg_polygon(&drawing->svg, NULL, "thick", corners, 4);
}

#define PAD_MM   2.0
#define LABEL_MM 27.0

void tu_drawing_named_row(tu_drawing *drawing, tu_svg_box box, double y, const char *name,
                          const char *value)
{
    tu_page_column column = {.x = box.left + PAD_MM + LABEL_MM,
                             .width_mm = box.right - box.left - 2 * PAD_MM - LABEL_MM,
                             .size_mm = TU_DRAWING_NOTE_MM};
    tu_drawing_note(drawing, box.left + PAD_MM, y, TU_SVG_START, NULL, name);
    tu_page_fitted(&drawing->svg, &column, y, TU_DRAWING_SMALL_MM, NULL, value);
}

/* --- The key --- */

void tu_drawing_keys(tu_drawing *drawing, tu_drawing_key_rows rows, const tu_drawing_key *keys,
                     size_t count)
{
    for (size_t i = 0; i < count; i++) {
        double y = rows.y + rows.row_mm * (double)i;
        keys[i].draw(drawing, keys[i].css, rows.x, y);
        tu_svg_write(&drawing->svg, rows.x + 12, y + rows.rise_mm, rows.size_mm, TU_SVG_START, NULL,
                     keys[i].text);
    }
}

void tu_drawing_key_line(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_stroke(&drawing->svg, css, x, y, x + 10, y);
}

void tu_drawing_key_dot(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_circle(&drawing->svg, NULL, css, (tu_svg_point){x + 5, y}, 0.9);
}

void tu_drawing_key_edge(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_stroke(&drawing->svg, css, x, y, x + 4.5, y);
    tu_svg_stroke(&drawing->svg, "hidden", x + 5, y, x + 10, y);
}

void tu_drawing_key_travel(tu_drawing *drawing, const char *css, double x, double y)
{
    tu_svg_stroke(&drawing->svg, css, x, y, x + 8, y);
    tu_drawing_broad_head(drawing, "touch", (tu_svg_point){x + 10, y}, (tu_svg_point){1, 0});
}
