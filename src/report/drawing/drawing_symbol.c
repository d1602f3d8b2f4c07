/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * drawing_symbol.c - what a set-up drawing is put together from: points, numbers, scales, labels,
 * arrows, break lines, the marks of touches and of the zero.
 */
#include "report/drawing/drawing.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

tu_svg_point tu_drawing_add(tu_svg_point a, tu_svg_point direction, double length_mm)
{
    return (tu_svg_point){a.x_mm + direction.x_mm * length_mm, a.y_mm + direction.y_mm * length_mm};
}

double tu_drawing_distance(tu_svg_point a, tu_svg_point b)
{
    return hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
}

tu_svg_point tu_drawing_direction(tu_svg_point a, tu_svg_point b, tu_svg_point fallback)
{
    double length = tu_drawing_distance(a, b);
    if (!(length > 1e-9))
        return fallback;
    return (tu_svg_point){(b.x_mm - a.x_mm) / length, (b.y_mm - a.y_mm) / length};
}

tu_svg_point tu_drawing_normal(tu_svg_point direction)
{
    return (tu_svg_point){-direction.y_mm, direction.x_mm};
}

/* Without the zeros at its end, and with what stands around it. */
static tu_figure trimmed(const char *before, tu_figure number, const char *behind)
{
    tu_figure figure;
    size_t length = strlen(number.text);
    bool point = strchr(number.text, '.') != NULL;
    while (point && length > 0 && number.text[length - 1] == '0')
        length--;
    length -= point && length > 0 && number.text[length - 1] == '.';
    snprintf(figure.text, sizeof figure.text, "%s%.*s%s", before, (int)length, number.text, behind);
    return figure;
}

tu_figure tu_drawing_length(const tu_drawing *drawing, double length_mm)
{
    return isfinite(length_mm) ? trimmed("", tu_figure_place(drawing->style->unit, length_mm), "")
                               : (tu_figure){"not known"};
}

tu_figure tu_drawing_degrees(double angle_rad)
{
    return trimmed("", tu_figure_degrees(angle_rad, 4), "°");
}

/* ISO 5455 asks for 1, 2, 5 and their tens; the steps between them fill a small sheet better. */
static const double steps[] = {10, 8, 6, 5, 4, 3, 2.5, 2, 1.5};
enum { STEPS = sizeof steps / sizeof steps[0], DECADES_UP = 2, DECADES_DOWN = 4 };

size_t tu_drawing_scale_count(void)
{
    return STEPS * (DECADES_UP + DECADES_DOWN) + 1;
}

double tu_drawing_scale_at(size_t index)
{
    size_t enlarging = STEPS * DECADES_UP;
    if (index < enlarging)
        return steps[index % STEPS] * pow(10, (double)(DECADES_UP - 1 - (int)(index / STEPS)));
    if (index == enlarging)
        return 1;
    size_t reducing = index - enlarging - 1;
    return 1 / (steps[STEPS - 1 - reducing % STEPS] * pow(10, (double)(reducing / STEPS)));
}

tu_figure tu_drawing_scale(double scale)
{
    return scale >= 1 ? trimmed("", tu_figure_number(scale, 1), ":1")
                      : trimmed("1:", tu_figure_number(1 / scale, 1), "");
}

/* The corners of a rectangle that lies along a direction. */
static void rectangle(tu_svg_point start, tu_svg_point along, double length_mm, double half_mm,
                      tu_svg_point corners[4])
{
    tu_svg_point down = tu_drawing_normal(along);
    tu_svg_point end = tu_drawing_add(start, along, length_mm);
    corners[0] = tu_drawing_add(start, down, -half_mm);
    corners[1] = tu_drawing_add(end, down, -half_mm);
    corners[2] = tu_drawing_add(end, down, half_mm);
    corners[3] = tu_drawing_add(start, down, half_mm);
}

static void head(tu_drawing *drawing, const char *css, tu_svg_point tip, tu_svg_point direction,
                 double length_mm, double half_mm)
{
    tu_svg_point foot = tu_drawing_add(tip, direction, -length_mm);
    tu_svg_point across = tu_drawing_normal(direction);
    tu_svg_point points[3] = {tip, tu_drawing_add(foot, across, half_mm),
                              tu_drawing_add(foot, across, -half_mm)};
    tu_svg_polygon(&drawing->svg, NULL, css, points, 3);
}

void tu_drawing_head(tu_drawing *drawing, tu_svg_point tip, tu_svg_point direction)
{
    head(drawing, "head", tip, direction, 2.5, 0.42);
}

void tu_drawing_broad_head(tu_drawing *drawing, const char *css, tu_svg_point tip,
                           tu_svg_point direction)
{
    head(drawing, css, tip, direction, 3.5, 1.1);
}

void tu_drawing_break(tu_drawing *drawing, tu_svg_point a, tu_svg_point b)
{
    tu_svg_point along = tu_drawing_direction(a, b, (tu_svg_point){1, 0});
    tu_svg_point across = tu_drawing_normal(along);
    double length = tu_drawing_distance(a, b);
    tu_svg_point line[] = {tu_drawing_add(a, along, -2),
                           tu_drawing_add(a, along, length / 2 - 1.5),
                           tu_drawing_add(tu_drawing_add(a, along, length / 2 - 0.7), across, 2),
                           tu_drawing_add(tu_drawing_add(a, along, length / 2 + 0.7), across, -2),
                           tu_drawing_add(a, along, length / 2 + 1.5),
                           tu_drawing_add(b, along, 2)};
    tu_svg_polyline(&drawing->svg, NULL, "thin", line, sizeof line / sizeof line[0]);
}

void tu_drawing_centre_mark(tu_drawing *drawing, tu_svg_point centre, double radius_mm,
                            tu_svg_point direction)
{
    double reach = radius_mm + 2;
    tu_svg_point across = tu_drawing_normal(direction);
    tu_svg_line(&drawing->svg, NULL, "axis", tu_drawing_add(centre, direction, -reach),
                tu_drawing_add(centre, direction, reach));
    tu_svg_line(&drawing->svg, NULL, "axis", tu_drawing_add(centre, across, -reach),
                tu_drawing_add(centre, across, reach));
}

void tu_drawing_touch(tu_drawing *drawing, const char *id, tu_svg_point contact, double radius_mm)
{
    double dot = isnan(radius_mm) ? 0.9 : fmin(0.9, fmax(0.4, radius_mm * 0.4));
    tu_svg_circle(&drawing->svg, id, "touch", contact, dot);
}

void tu_drawing_travel(tu_drawing *drawing, tu_svg_point tip, tu_svg_point direction,
                       const char *label)
{
    tu_svg_point tail = tu_drawing_add(tip, direction, -10);
    tu_svg_line(&drawing->svg, NULL, "travel", tail, tu_drawing_add(tip, direction, -2.5));
    tu_drawing_broad_head(drawing, "touch", tip, direction);
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, TU_SVG_MIDDLE, 0, NULL};
    tu_drawing_label(drawing, tu_drawing_add(tail, direction, -3.2), style, label);
}

void tu_drawing_datum(tu_drawing *drawing, const char *id, tu_svg_point foot, tu_svg_point outward,
                      const char *text)
{
    tu_svg_point across = tu_drawing_normal(outward);
    tu_svg_point apex = tu_drawing_add(foot, outward, 3);
    tu_svg_point triangle[3] = {apex, tu_drawing_add(foot, across, 1.8),
                                tu_drawing_add(foot, across, -1.8)};
    tu_svg_polygon(&drawing->svg, id, "zero", triangle, 3);
    /* The frame's longer sides are those that the text runs along. */
    bool sideways = fabs(outward.x_mm) > fabs(outward.y_mm);
    tu_svg_point along = sideways ? outward : across;
    if (along.x_mm < 0)
        along = (tu_svg_point){-along.x_mm, -along.y_mm};
    double half_length = 3.6, half_height = 2.4;
    tu_svg_point edge = tu_drawing_add(apex, outward, 2.5);
    tu_svg_point centre = tu_drawing_add(edge, outward, sideways ? half_length : half_height);
    tu_svg_line(&drawing->svg, NULL, "zeroline", apex, edge);
    tu_svg_point frame[4];
    rectangle(tu_drawing_add(centre, along, -half_length), along, 2 * half_length, half_height,
              frame);
    tu_svg_polygon(&drawing->svg, NULL, "zeroframe", frame, 4);
    tu_drawing_take_room(drawing,
                         (tu_drawing_room){centre, along, half_length + 0.3, half_height + 0.3});
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, TU_SVG_MIDDLE,
                               atan2(along.y_mm, along.x_mm) * 180 / M_PI, NULL};
    tu_svg_point down = tu_drawing_normal(along);
    tu_svg_text(&drawing->svg, tu_drawing_add(centre, down, TU_DRAWING_TEXT_MM * 0.36), &style,
                text);
}

void tu_drawing_zero(tu_drawing *drawing, const char *id, tu_svg_point at)
{
    tu_svg_circle(&drawing->svg, id, "zeroring", at, 1.6);
}

#define WORK_AXIS_MM 14.0

void tu_drawing_work_axis(tu_drawing *drawing, const char *id, tu_svg_point from,
                          tu_svg_point direction)
{
    tu_svg_point tip = tu_drawing_add(from, direction, WORK_AXIS_MM);
    tu_svg_line(&drawing->svg, id, "zeroline", from, tu_drawing_add(tip, direction, -2));
    tu_drawing_broad_head(drawing, "zero", tip, direction);
    tu_drawing_room room = {tu_drawing_add(from, direction, WORK_AXIS_MM / 2), direction,
                            WORK_AXIS_MM / 2, 0.6};
    tu_drawing_take_room(drawing, room);
}

void tu_drawing_work_letter(tu_drawing *drawing, tu_svg_point from, tu_svg_point direction,
                            const char *letter)
{
    enum { PLACES = 12 };
    static const double along[PLACES] = {16.2, 12.5, 12.5, 9, 9, 5, 5, 16.2, 16.2, -4, -4, -4};
    static const double across[PLACES] = {0,    3.2, -3.2, 3.2, -3.2, 3.2,
                                          -3.2, 3.2, -3.2, 0,   3.2,  -3.2};
    tu_drawing_place places[PLACES];
    for (int i = 0; i < PLACES; i++) {
        tu_svg_point at = tu_drawing_add(from, direction, along[i]);
        places[i] = (tu_drawing_place){tu_drawing_add(at, tu_drawing_normal(direction), across[i]),
                                       TU_SVG_MIDDLE};
    }
    tu_svg_text_style style = {TU_DRAWING_TEXT_MM, TU_SVG_MIDDLE, 0, NULL};
    tu_drawing_label_free(drawing, places, PLACES, style, letter);
}
