/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * svg_scan.h - reads a drawing back: elements by id, attributes, texts with the room they take.
 *
 * For the writer's own plain form: double quotes, no comments, no CDATA. That the whole is
 * well-formed XML is another test's business.
 */
#ifndef TRUEUP_TESTS_SVG_SCAN_H
#define TRUEUP_TESTS_SVG_SCAN_H

#include "check.h"

#include "report/drawing/svg.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The element with that id, at its "<"; NULL: there is none. */
static inline const char *scan_id(const char *svg, const char *id)
{
    char key[80];
    snprintf(key, sizeof key, " id=\"%s\"", id);
    const char *at = strstr(svg, key);
    while (at != NULL && at > svg && *at != '<')
        at--;
    return at;
}

/* A number of the element's start tag; NaN: it has no such attribute. */
static inline double scan_number(const char *element, const char *name)
{
    char key[40];
    snprintf(key, sizeof key, " %s=\"", name);
    const char *end = element != NULL ? strchr(element, '>') : NULL;
    const char *at = element != NULL ? strstr(element, key) : NULL;
    return at != NULL && at < end ? strtod(at + strlen(key), NULL) : NAN;
}

typedef struct scan_circle {
    double x, y, r;
} scan_circle;

typedef struct scan_line {
    double x1, y1, x2, y2;
} scan_line;

static inline scan_circle scan_circle_of(const char *svg, const char *id)
{
    const char *element = scan_id(svg, id);
    return (scan_circle){scan_number(element, "cx"), scan_number(element, "cy"),
                         scan_number(element, "r")};
}

static inline scan_line scan_line_of(const char *svg, const char *id)
{
    const char *element = scan_id(svg, id);
    return (scan_line){scan_number(element, "x1"), scan_number(element, "y1"),
                       scan_number(element, "x2"), scan_number(element, "y2")};
}

/* Which side of the line from its first to its second end, and how far: positive to the right as
 * one walks down the page. */
static inline double scan_signed_distance(scan_line line, double x, double y)
{
    double dx = line.x2 - line.x1, dy = line.y2 - line.y1;
    return ((x - line.x1) * dy - (y - line.y1) * dx) / hypot(dx, dy);
}

/* A text's room: a rectangle about a centre, its half sides along and across its direction. */
typedef struct scan_box {
    double x, y, along_x, along_y, half_length, half_height, size;
    char text[160];
} scan_box;

enum { SCAN_TEXTS = 200 };

/* Undoes the five entities; enough of the text to say which it was. */
static inline void scan_unescape(const char *from, const char *end, char *text, size_t size)
{
    static const char *const names[][2] = {
        {"&amp;", "&"}, {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}};
    size_t used = 0;
    while (from < end && used + 1 < size) {
        size_t skip = 1;
        char c = *from;
        for (size_t i = 0; i < 5 && *from == '&'; i++) {
            if (strncmp(from, names[i][0], strlen(names[i][0])) == 0) {
                c = names[i][1][0];
                skip = strlen(names[i][0]);
            }
        }
        text[used++] = c;
        from += skip;
    }
    text[used] = '\0';
}

/* Bold is about an eighth wider than the widths of svg.h; a font's line reaches about 0.74 em above
 * the baseline and 0.22 below (common sans-serif faces, from memory). */
static inline scan_box scan_text(const char *element)
{
    scan_box box = {.size = scan_number(element, "font-size")};
    const char *tag_end = strchr(element, '>');
    const char *text_end = strstr(tag_end, "</text>");
    assert_non_null(text_end);
    scan_unescape(tag_end + 1, text_end, box.text, sizeof box.text);
    char tag[300];
    snprintf(tag, sizeof tag, "%.*s", (int)(tag_end - element), element);
    double width = tu_svg_text_width(box.text, box.size);
    if (strstr(tag, "strong") != NULL)
        width *= 1.125;
    double turn = 0;
    const char *rotate = strstr(tag, "rotate(");
    if (rotate != NULL)
        turn = strtod(rotate + strlen("rotate("), NULL) * M_PI / 180;
    double shift = strstr(tag, "\"middle\"") ? 0 : strstr(tag, "\"end\"") ? -0.5 : 0.5;
    double up = 0.26 * box.size; /* from the baseline to the box's middle */
    box.along_x = cos(turn);
    box.along_y = sin(turn);
    box.half_length = width / 2;
    box.half_height = 0.48 * box.size;
    box.x = scan_number(element, "x") + width * shift * box.along_x + up * box.along_y;
    box.y = scan_number(element, "y") + width * shift * box.along_y - up * box.along_x;
    return box;
}

static inline size_t scan_texts(const char *svg, scan_box *boxes)
{
    size_t count = 0;
    for (const char *at = strstr(svg, "<text "); at != NULL; at = strstr(at + 1, "<text ")) {
        assert_true(count < SCAN_TEXTS);
        boxes[count++] = scan_text(at);
    }
    return count;
}

/* How far the box reaches from its centre in a direction. */
static inline double scan_reach(const scan_box *box, double x, double y)
{
    return box->half_length * fabs(box->along_x * x + box->along_y * y) +
           box->half_height * fabs(box->along_x * y - box->along_y * x);
}

/* Two rectangles are apart when one of their four side directions separates them. */
static inline bool scan_apart(const scan_box *a, const scan_box *b)
{
    const scan_box *both[2] = {a, b};
    for (int i = 0; i < 4; i++) {
        const scan_box *of = both[i / 2];
        double x = i % 2 ? -of->along_y : of->along_x;
        double y = i % 2 ? of->along_x : of->along_y;
        double between = fabs((b->x - a->x) * x + (b->y - a->y) * y);
        if (between >= scan_reach(a, x, y) + scan_reach(b, x, y))
            return true;
    }
    return false;
}

#endif
