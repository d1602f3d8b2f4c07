/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing.h - what workshop drawings are put together from (internal): symbols, dimensions, texts,
 * what stands around the views. docs/drawing.md tells what each line and symbol means.
 *
 * Positions are tu_svg_point: millimetres of paper, y down.
 */
#ifndef TRUEUP_REPORT_DRAWING_H
#define TRUEUP_REPORT_DRAWING_H

#include "report/drawing/svg.h"
#include "report/figure.h"
#include "trueup/report.h"

enum { TU_DRAWING_TEXT_SIZE = 160 };

#define TU_DRAWING_TEXT_MM  3.5 /* capitals of 2.5 mm, ISO 3098-1's smallest but one */
#define TU_DRAWING_NOTE_MM  3.0 /* notes, the legend and the title block */
#define TU_DRAWING_SMALL_MM 2.5 /* a name that is too long otherwise */

/* Room on paper that a text or a symbol takes: a rectangle along a direction. */
typedef struct tu_drawing_room {
    tu_svg_point centre, along;
    double half_length_mm, half_height_mm;
} tu_drawing_room;

enum { TU_DRAWING_ROOMS = 96 };

typedef struct tu_drawing {
    tu_svg svg;
    const tu_zero_result *result;
    const tu_zero_style *style;
    tu_drawing_room rooms[TU_DRAWING_ROOMS];
    size_t room_count;
} tu_drawing;

/* The style of every drawing: lines, tints, symbols. */
extern const char tu_drawing_css[];

/* --- Points and texts --- */
tu_svg_point tu_drawing_add(tu_svg_point a, tu_svg_point direction, double length_mm);
double tu_drawing_distance(tu_svg_point a, tu_svg_point b);
/* The unit vector from a to b; fallback where they coincide. */
tu_svg_point tu_drawing_direction(tu_svg_point a, tu_svg_point b, tu_svg_point fallback);
/* A quarter turn clockwise on paper. */
tu_svg_point tu_drawing_normal(tu_svg_point direction);

/* A length in the style's unit, without the zeros at its end. */
tu_figure tu_drawing_length(const tu_drawing *drawing, double length_mm);
/* An angle in degrees, at most four decimals. */
tu_figure tu_drawing_degrees(double angle_rad);

/* --- Scales --- */
/* How many there are, largest first, and their value: paper over real. */
size_t tu_drawing_scale_count(void);
double tu_drawing_scale_at(size_t index);
/* "2:1" or "1:1.5". */
tu_figure tu_drawing_scale(double scale);

/* --- Texts inside the views --- */
/* A text centred on its anchor's height, on a patch of paper; takes its room. */
void tu_drawing_label(tu_drawing *drawing, tu_svg_point at, tu_svg_text_style style,
                      const char *text);
/* One of the places that a name may take. */
typedef struct tu_drawing_place {
    tu_svg_point at;
    tu_svg_anchor anchor;
} tu_drawing_place;
/* The same at the first place whose room is free, or the first of all; returns which. */
size_t tu_drawing_label_free(tu_drawing *drawing, const tu_drawing_place *places, size_t count,
                             tu_svg_text_style style, const char *text);
/* Keeps room from names that are still to come. */
void tu_drawing_take_room(tu_drawing *drawing, tu_drawing_room room);

/* --- Symbols --- */
/* A filled arrow head with its tip there: slender as in ISO 129-1, or broad for ways and axes. */
void tu_drawing_head(tu_drawing *drawing, tu_svg_point tip, tu_svg_point direction);
void tu_drawing_broad_head(tu_drawing *drawing, const char *css, tu_svg_point tip,
                           tu_svg_point direction);
/* A thin line with a zigzag: the part goes on (ISO 128-2, line 01.1 with zigzags). */
void tu_drawing_break(tu_drawing *drawing, tu_svg_point a, tu_svg_point b);
/* Two thin centre lines across a circle. */
void tu_drawing_centre_mark(tu_drawing *drawing, tu_svg_point centre, double radius_mm,
                            tu_svg_point direction);
/* A touch: a dot at the contact. Smaller where the cutter is drawn small. */
void tu_drawing_touch(tu_drawing *drawing, const char *id, tu_svg_point contact, double radius_mm);
/* The way the cutter travelled: an arrow up to tip, its label at the tail. */
void tu_drawing_travel(tu_drawing *drawing, tu_svg_point tip, tu_svg_point direction,
                       const char *label);
/* The datum triangle of ISO 5459 on a surface: outward is where it stands, text in its frame. */
void tu_drawing_datum(tu_drawing *drawing, const char *id, tu_svg_point foot, tu_svg_point outward,
                      const char *text);
/* The zero in the plan, and an axis of the work frame from it. */
void tu_drawing_zero(tu_drawing *drawing, const char *id, tu_svg_point at);
void tu_drawing_work_axis(tu_drawing *drawing, const char *id, tu_svg_point from,
                          tu_svg_point direction);
/* Its letter, at the tip or beside it. */
void tu_drawing_work_letter(tu_drawing *drawing, tu_svg_point from, tu_svg_point direction,
                            const char *letter);

/* Where a dimension's text goes when it does not fit between the arrows. */
typedef enum tu_drawing_aside { TU_ASIDE_A, TU_ASIDE_B } tu_drawing_aside;

/*
 * A dimension of ISO 129-1 from a to b (ends of the dimension line), with extension lines that
 * come from from_a and from_b (a point as far as the end itself: none).
 */
typedef struct tu_drawing_dimension {
    tu_svg_point a, b;
    tu_svg_point from_a, from_b;
    tu_drawing_aside aside;
    bool level;        /* the text level, beside the line, whatever the line's direction */
    bool not_to_scale; /* text underlined, ISO 129-1, 5.9 */
    const char *text;
} tu_drawing_dimension;

/* Lines first, of all dimensions, and then the texts: so none is crossed by a neighbour's line. */
void tu_drawing_dimension_lines(tu_drawing *drawing, const tu_drawing_dimension *dimension);
void tu_drawing_dimension_text(tu_drawing *drawing, const tu_drawing_dimension *dimension);

/* --- Around the views --- */
/* A text of the note's size. */
void tu_drawing_note(tu_drawing *drawing, double x, double y, tu_svg_anchor anchor, const char *css,
                     const char *text);
/* The heading of a view. */
void tu_drawing_heading(tu_drawing *drawing, double x, double y, const char *text);
/* Its tip is where the person stands. */
void tu_drawing_front_arrow(tu_drawing *drawing, tu_svg_point tip);
/* What stands in the way: crossed by diagonals, so that it is no stock and no plate. */
void tu_drawing_block(tu_drawing *drawing, const tu_svg_point corners[4]);
/* A row of a title block: a word and what it says; a text that is too long is set smaller, then cut
 * at a character. */
void tu_drawing_named_row(tu_drawing *drawing, tu_svg_box box, double y, const char *name,
                          const char *value);

/* --- The key --- */
/* A symbol in the 10 mm from x on, at the height y; css: of its line. */
typedef void tu_drawing_draw_key(tu_drawing *drawing, const char *css, double x, double y);
typedef struct tu_drawing_key {
    tu_drawing_draw_key *draw;
    const char *css, *text;
} tu_drawing_key;
typedef struct tu_drawing_key_rows {
    double x, y, row_mm, size_mm, rise_mm; /* y: of the first; rise: from the baseline to it */
} tu_drawing_key_rows;
void tu_drawing_keys(tu_drawing *drawing, tu_drawing_key_rows rows, const tu_drawing_key *keys,
                     size_t count);
/* A line; a dot; a stock's edge, seen and hidden; a way to a touch. */
tu_drawing_draw_key tu_drawing_key_line, tu_drawing_key_dot, tu_drawing_key_edge,
    tu_drawing_key_travel;

#endif
