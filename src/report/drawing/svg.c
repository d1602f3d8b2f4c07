/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A small writer of SVG 1.1, see svg.h. Source of the forms: SVG 1.1 (second edition), W3C, and
 * XML 1.0 (fifth edition), section 2.2, for the characters that a document may hold.
 */
#include "report/drawing/svg.h"

#include "base/utf8.h"
#include "trueup/number.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

enum { COORDINATE_DECIMALS = 3 }; /* a micrometre of paper */

static void put(tu_svg *svg, const char *text)
{
    if (!svg->failed && fputs(text, svg->out) == EOF)
        svg->failed = true;
}

static void put_bytes(tu_svg *svg, const char *bytes, size_t length)
{
    if (!svg->failed && fwrite(bytes, 1, length, svg->out) != length)
        svg->failed = true;
}

static void put_number(tu_svg *svg, double value)
{
    char text[TU_NUMBER_TEXT_SIZE];
    if (tu_number_format(text, sizeof text, value, COORDINATE_DECIMALS) == 0)
        svg->failed = true;
    else
        put(svg, text);
}

static void put_attribute(tu_svg *svg, const char *name, double value)
{
    put(svg, " ");
    put(svg, name);
    put(svg, "=\"");
    put_number(svg, value);
    put(svg, "\"");
}

static void put_word(tu_svg *svg, const char *name, const char *value)
{
    if (value == NULL)
        return;
    put(svg, " ");
    put(svg, name);
    put(svg, "=\"");
    put(svg, value);
    put(svg, "\"");
}

static bool is_xml_character(uint32_t code)
{
    if (code < 0x20)
        return code == '\t' || code == '\n' || code == '\r';
    return code != 0xFFFE && code != 0xFFFF && code != 0x7F;
}

static const char *entity(uint32_t code)
{
    switch (code) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return NULL;
    }
}

static void put_escaped(tu_svg *svg, const char *text)
{
    size_t left = strlen(text);
    for (const char *at = text; left > 0;) {
        uint32_t code = 0;
        size_t length = tu_utf8_next(at, left, &code);
        const char *name = length > 0 ? entity(code) : NULL;
        if (length == 0 || !is_xml_character(code))
            put(svg, "\xEF\xBF\xBD"); /* U+FFFD */
        else if (name != NULL)
            put(svg, name);
        else
            put_bytes(svg, at, length);
        at += length > 0 ? length : 1;
        left -= length > 0 ? length : 1;
    }
}

void tu_svg_open(tu_svg *svg, FILE *out, tu_svg_point size, const char *css, const char *title,
                 const char *desc)
{
    svg->out = out;
    svg->failed = false;
    put(svg, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
             "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"");
    put_number(svg, size.x_mm);
    put(svg, "mm\" height=\"");
    put_number(svg, size.y_mm);
    put(svg, "mm\" viewBox=\"0 0 ");
    put_number(svg, size.x_mm);
    put(svg, " ");
    put_number(svg, size.y_mm);
    put(svg, "\" role=\"img\" aria-labelledby=\"title desc\">\n<title id=\"title\">");
    put_escaped(svg, title);
    put(svg, "</title>\n<desc id=\"desc\">");
    put_escaped(svg, desc);
    put(svg, "</desc>\n<style type=\"text/css\">\n");
    put_escaped(svg, css);
    put(svg, "</style>\n<rect class=\"page\"");
    put_attribute(svg, "width", size.x_mm);
    put_attribute(svg, "height", size.y_mm);
    put(svg, "/>\n");
}

tu_status tu_svg_close(tu_svg *svg, tu_error *error)
{
    put(svg, "</svg>\n");
    if (svg->failed || fflush(svg->out) != 0 || ferror(svg->out))
        return tu_fail(error, TU_SYSTEM_IO, NULL,
                       "the drawing could not be written in full: is the disk full?");
    return TU_OK;
}

void tu_svg_group_open(tu_svg *svg, const char *id)
{
    put(svg, "<g");
    put_word(svg, "id", id);
    put(svg, ">\n");
}

void tu_svg_group_close(tu_svg *svg)
{
    put(svg, "</g>\n");
}

static bool is_finite(tu_svg_point point)
{
    return isfinite(point.x_mm) && isfinite(point.y_mm);
}

static void begin(tu_svg *svg, const char *element, const char *id, const char *css)
{
    put(svg, "<");
    put(svg, element);
    put_word(svg, "id", id);
    put_word(svg, "class", css);
}

void tu_svg_line(tu_svg *svg, const char *id, const char *css, tu_svg_point a, tu_svg_point b)
{
    if (!is_finite(a) || !is_finite(b))
        return;
    begin(svg, "line", id, css);
    put_attribute(svg, "x1", a.x_mm);
    put_attribute(svg, "y1", a.y_mm);
    put_attribute(svg, "x2", b.x_mm);
    put_attribute(svg, "y2", b.y_mm);
    put(svg, "/>\n");
}

void tu_svg_stroke(tu_svg *svg, const char *css, double x1, double y1, double x2, double y2)
{
    tu_svg_line(svg, NULL, css, (tu_svg_point){x1, y1}, (tu_svg_point){x2, y2});
}

static void put_points(tu_svg *svg, const char *element, const char *id, const char *css,
                       const tu_svg_point *points, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!is_finite(points[i]))
            return;
    begin(svg, element, id, css);
    put(svg, " points=\"");
    for (size_t i = 0; i < count; i++) {
        put(svg, i > 0 ? " " : "");
        put_number(svg, points[i].x_mm);
        put(svg, ",");
        put_number(svg, points[i].y_mm);
    }
    put(svg, "\"/>\n");
}

void tu_svg_polygon(tu_svg *svg, const char *id, const char *css, const tu_svg_point *points,
                    size_t count)
{
    put_points(svg, "polygon", id, css, points, count);
}

void tu_svg_rectangle(tu_svg *svg, const char *id, const char *css, tu_svg_box box)
{
    const tu_svg_point corners[] = {
        {box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}};
    put_points(svg, "polygon", id, css, corners, 4);
}

void tu_svg_polyline(tu_svg *svg, const char *id, const char *css, const tu_svg_point *points,
                     size_t count)
{
    put_points(svg, "polyline", id, css, points, count);
}

void tu_svg_rings(tu_svg *svg, const char *id, const char *css, const tu_svg_point *points,
                  const size_t *ring_count, size_t rings)
{
    size_t count = 0, at = 0;
    for (size_t k = 0; k < rings; k++)
        count += ring_count[k];
    for (size_t i = 0; i < count; i++)
        if (!is_finite(points[i]))
            return;
    if (count == 0)
        return;
    begin(svg, "path", id, css);
    put(svg, " fill-rule=\"evenodd\" d=\"");
    for (size_t k = 0; k < rings; k++) {
        for (size_t i = 0; i < ring_count[k]; i++, at++) {
            put(svg, i == 0 ? "M" : i == 1 ? "L" : " ");
            put_number(svg, points[at].x_mm);
            put(svg, ",");
            put_number(svg, points[at].y_mm);
        }
        put(svg, ring_count[k] > 0 ? "Z" : "");
    }
    put(svg, "\"/>\n");
}

void tu_svg_dot(tu_svg *svg, const char *id, const char *css, tu_svg_point centre, double radius_mm,
                const char *text)
{
    if (!is_finite(centre) || !isfinite(radius_mm) || radius_mm < 0)
        return;
    begin(svg, "circle", id, css);
    put_attribute(svg, "cx", centre.x_mm);
    put_attribute(svg, "cy", centre.y_mm);
    put_attribute(svg, "r", radius_mm);
    put(svg, text ? "><title>" : "/>\n");
    if (!text)
        return;
    put_escaped(svg, text);
    put(svg, "</title></circle>\n");
}

void tu_svg_circle(tu_svg *svg, const char *id, const char *css, tu_svg_point centre,
                   double radius_mm)
{
    tu_svg_dot(svg, id, css, centre, radius_mm, NULL);
}

void tu_svg_text(tu_svg *svg, tu_svg_point at, const tu_svg_text_style *style, const char *text)
{
    static const char *const anchors[] = {NULL, "middle", "end"};
    if (!is_finite(at))
        return;
    begin(svg, "text", NULL, style->css);
    put_attribute(svg, "x", at.x_mm);
    put_attribute(svg, "y", at.y_mm);
    put_attribute(svg, "font-size", style->size_mm);
    put_word(svg, "text-anchor", anchors[style->anchor]);
    if (fabs(style->turn_deg) > 0.0005) {
        put(svg, " transform=\"rotate(");
        put_number(svg, style->turn_deg);
        put(svg, " ");
        put_number(svg, at.x_mm);
        put(svg, " ");
        put_number(svg, at.y_mm);
        put(svg, ")\"");
    }
    put(svg, ">");
    put_escaped(svg, text);
    put(svg, "</text>\n");
}

void tu_svg_write(tu_svg *svg, double x, double y, double size_mm, tu_svg_anchor anchor,
                  const char *css, const char *text)
{
    tu_svg_text(svg, (tu_svg_point){x, y}, &(tu_svg_text_style){size_mm, anchor, 0, css}, text);
}

/* Hundredths of an em, rounded up, for the printable ASCII characters from the space on. */
static const unsigned char advance_percent[] = {
    32, 41, 46, 84, 64, 96, 78, 28, 40,  40, 50, 84, 32, 37, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64,
    64, 64, 34, 34, 84, 84, 84, 54, 100, 69, 69, 70, 78, 64, 58, 78, 76, 30, 30, 66, 56, 87, 75, 79,
    61, 79, 70, 64, 62, 74, 69, 99, 69,  62, 69, 40, 34, 40, 84, 50, 50, 62, 64, 55, 64, 62, 36, 64,
    64, 28, 28, 58, 28, 98, 64, 62, 64,  64, 42, 53, 40, 64, 60, 82, 60, 60, 53, 64, 34, 64, 84};

double tu_svg_text_width(const char *text, double size_mm)
{
    size_t left = strlen(text);
    double percent = 0;
    for (const char *at = text; left > 0;) {
        uint32_t code = 0;
        size_t length = tu_utf8_next(at, left, &code);
        percent += code >= ' ' && code < 0x7F ? advance_percent[code - ' '] : 100;
        at += length > 0 ? length : 1;
        left -= length > 0 ? length : 1;
    }
    return percent / 100 * size_mm;
}

void tu_svg_shorten(char *text, size_t size, double room_mm, double font_mm)
{
    static const char dots[] = "…";
    size_t length = strlen(text);
    if (tu_svg_text_width(text, font_mm) <= room_mm)
        return;
    do {
        while (length > 0 && ((unsigned char)text[--length] & 0xC0) == 0x80)
            ;
        if (length + sizeof dots <= size)
            memcpy(text + length, dots, sizeof dots);
    } while (length > 0 &&
             (length + sizeof dots > size || tu_svg_text_width(text, font_mm) > room_mm));
}
