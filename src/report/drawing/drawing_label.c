/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_label.c - texts inside the views, and a list of the room that is taken, so that a name
 * with a choice of places takes a free one.
 */
#include "report/drawing/drawing.h"

#include <math.h>

void tu_drawing_take_room(tu_drawing *drawing, tu_drawing_room room)
{
    if (drawing->room_count < TU_DRAWING_ROOMS)
        drawing->rooms[drawing->room_count++] = room;
}

static tu_drawing_room room_of(tu_svg_point at, tu_svg_text_style style, const char *text)
{
    double turn = style.turn_deg * M_PI / 180;
    double width = tu_svg_text_width(text, style.size_mm);
    double shift = style.anchor == TU_SVG_START ? 0.5 : style.anchor == TU_SVG_END ? -0.5 : 0;
    tu_svg_point along = {cos(turn), sin(turn)};
    return (tu_drawing_room){tu_drawing_add(at, along, width * shift), along, width / 2 + 0.3,
                             style.size_mm / 2};
}

static double reach(const tu_drawing_room *room, tu_svg_point direction)
{
    double along = room->along.x_mm * direction.x_mm + room->along.y_mm * direction.y_mm;
    double across = room->along.x_mm * direction.y_mm - room->along.y_mm * direction.x_mm;
    return room->half_length_mm * fabs(along) + room->half_height_mm * fabs(across);
}

/* Two rectangles are apart when the direction of one of their sides separates them. */
static bool are_apart(const tu_drawing_room *a, const tu_drawing_room *b)
{
    const tu_svg_point directions[4] = {a->along, tu_drawing_normal(a->along), b->along,
                                        tu_drawing_normal(b->along)};
    for (int i = 0; i < 4; i++) {
        tu_svg_point d = directions[i];
        double between = fabs((b->centre.x_mm - a->centre.x_mm) * d.x_mm +
                              (b->centre.y_mm - a->centre.y_mm) * d.y_mm);
        if (between >= reach(a, d) + reach(b, d))
            return true;
    }
    return false;
}

static bool is_free(const tu_drawing *drawing, const tu_drawing_room *room)
{
    for (size_t i = 0; i < drawing->room_count; i++)
        if (!are_apart(room, &drawing->rooms[i]))
            return false;
    return true;
}

void tu_drawing_label(tu_drawing *drawing, tu_svg_point at, tu_svg_text_style style,
                      const char *text)
{
    tu_drawing_room room = room_of(at, style, text);
    tu_svg_point down = tu_drawing_normal(room.along);
    tu_svg_point start = tu_drawing_add(room.centre, room.along, -room.half_length_mm);
    tu_svg_point end = tu_drawing_add(room.centre, room.along, room.half_length_mm);
    tu_svg_point patch[4] = {tu_drawing_add(start, down, -room.half_height_mm),
                             tu_drawing_add(end, down, -room.half_height_mm),
                             tu_drawing_add(end, down, room.half_height_mm),
                             tu_drawing_add(start, down, room.half_height_mm)};
    tu_svg_polygon(&drawing->svg, NULL, "paper", patch, 4);
    /* Half of a capital's height below the middle lies the baseline. */
    tu_svg_text(&drawing->svg, tu_drawing_add(at, down, style.size_mm * 0.36), &style, text);
    tu_drawing_take_room(drawing, room);
}

size_t tu_drawing_label_free(tu_drawing *drawing, const tu_drawing_place *places, size_t count,
                             tu_svg_text_style style, const char *text)
{
    size_t chosen = 0;
    for (size_t i = 0; i < count; i++) {
        style.anchor = places[i].anchor;
        tu_drawing_room room = room_of(places[i].at, style, text);
        if (is_free(drawing, &room)) {
            chosen = i;
            break;
        }
    }
    style.anchor = places[chosen].anchor;
    tu_drawing_label(drawing, places[chosen].at, style, text);
    return chosen;
}
