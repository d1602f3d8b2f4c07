/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_svg.c - the writer of SVG: what it escapes, refuses and leaves out.
 */
#include "svg_scan.h"

#include <locale.h>

typedef void draw_something(tu_svg *svg);

/* The page that a drawing function makes; free it. */
static char *page_of(draw_something *draw, const char *title)
{
    char *text = NULL;
    size_t size = 0;
    tu_svg svg;
    tu_error error = {0};
    FILE *out = open_memstream(&text, &size);
    assert_non_null(out);
    tu_svg_open(&svg, out, (tu_svg_point){210, 297}, ".thin{fill:none}", title, "a description");
    draw(&svg);
    check_status(tu_svg_close(&svg, &error), TU_OK, &error);
    fclose(out);
    return text;
}

static const tu_svg_text_style level = {3.5, TU_SVG_START, 0, NULL};

static void write_specials(tu_svg *svg)
{
    tu_svg_text(svg, (tu_svg_point){1, 2}, &level, "a<b>&\"c'");
}

static void write_impossible(tu_svg *svg)
{
    /* U+0001, a lone continuation byte, a cut-off sequence, U+FFFE; then an honest one */
    tu_svg_text(svg, (tu_svg_point){1, 2}, &level, "\x01|\x80|\xC3|\xEF\xBF\xBE|±");
}

static void write_shapes(tu_svg *svg)
{
    tu_svg_line(svg, "one", "thin", (tu_svg_point){0.5, 1}, (tu_svg_point){2, 1234.5678});
    tu_svg_circle(svg, "two", NULL, (tu_svg_point){3, 4}, 5.25);
}

static void write_not_finite(tu_svg *svg)
{
    tu_svg_point points[2] = {{1, 2}, {NAN, 3}};
    tu_svg_line(svg, "x", "thin", (tu_svg_point){NAN, 1}, (tu_svg_point){2, 3});
    tu_svg_circle(svg, "x", "thin", (tu_svg_point){1, 1}, INFINITY);
    tu_svg_circle(svg, "x", "thin", (tu_svg_point){1, 1}, -1);
    tu_svg_polyline(svg, "x", "thin", points, 2);
    tu_svg_polygon(svg, "x", "thin", points, 2);
    tu_svg_text(svg, (tu_svg_point){1, INFINITY}, &level, "x");
}

static void write_rings(tu_svg *svg)
{
    static const tu_svg_point points[] = {{0, 0}, {4, 0}, {0, 4}, {1, 1}, {2, 1}, {1, 2}};
    static const size_t counts[] = {3, 3};
    tu_svg_point broken[6];
    memcpy(broken, points, sizeof broken);
    broken[4].y_mm = NAN;
    tu_svg_rings(svg, "two", "b1", points, counts, 2);
    tu_svg_rings(svg, "broken", "b1", broken, counts, 2);
    tu_svg_dot(svg, "dot", "touch", (tu_svg_point){5, 6}, 0.5, "Z <1> & 2");
    tu_svg_dot(svg, "broken", "touch", (tu_svg_point){5, NAN}, 0.5, "x");
}

static void write_turned(tu_svg *svg)
{
    tu_svg_text_style style = {2.5, TU_SVG_END, -90, "strong"};
    tu_svg_text(svg, (tu_svg_point){10, 20}, &style, "up");
}

static void rings_are_one_shape_and_a_dot_tells_its_value(void **state)
{
    (void)state;
    char *page = page_of(write_rings, "t");
    check_contains(page, "<path id=\"two\" class=\"b1\" fill-rule=\"evenodd\" "
                         "d=\"M0.000,0.000L4.000,0.000 0.000,4.000ZM1.000,1.000L2.000,1.000 "
                         "1.000,2.000Z\"/>");
    check_contains(page, "<title>Z &lt;1&gt; &amp; 2</title></circle>");
    assert_null(strstr(page, "broken"));
    free(page);
}

static void the_five_special_characters_are_escaped(void **state)
{
    (void)state;
    char *page = page_of(write_specials, "<title> & 'more'");
    /* XML 1.0, 2.4 and 4.6 */
    check_contains(page, ">a&lt;b&gt;&amp;&quot;c&#39;</text>");
    check_contains(page, ">&lt;title&gt; &amp; &#39;more&#39;</title>");
    free(page);
}

static void what_xml_does_not_allow_becomes_a_replacement_character(void **state)
{
    (void)state;
    char *page = page_of(write_impossible, "t");
    /* XML 1.0, 2.2: no U+0001, no U+FFFE; RFC 3629: no lone continuation byte */
    check_contains(page, ">\uFFFD|\uFFFD|\uFFFD|\uFFFD|±</text>");
    free(page);
}

static void the_page_has_its_size_in_millimetres(void **state)
{
    (void)state;
    char *page = page_of(write_shapes, "t");
    check_contains(page, "width=\"210.000mm\" height=\"297.000mm\" "
                         "viewBox=\"0 0 210.000 297.000\"");
    check_contains(page, "version=\"1.1\"");
    check_contains(page, "<desc id=\"desc\">a description</desc>");
    free(page);
}

static void numbers_are_the_same_in_every_locale(void **state)
{
    (void)state;
    char *before = page_of(write_shapes, "t");
    if (setlocale(LC_ALL, "de_DE.UTF-8") == NULL)
        skip();
    char *after = page_of(write_shapes, "t");
    setlocale(LC_ALL, "C");
    check_contains(after, "x1=\"0.500\" y1=\"1.000\" x2=\"2.000\" y2=\"1234.568\"");
    assert_string_equal(before, after);
    free(before);
    free(after);
}

static void a_shape_that_is_not_finite_is_left_out(void **state)
{
    (void)state;
    char *page = page_of(write_not_finite, "t");
    check_lacks(page, "id=\"x\"");
    check_lacks(page, "<text");
    check_lacks(page, "nan");
    check_lacks(page, "inf");
    free(page);
}

static void a_turned_text_turns_about_its_anchor(void **state)
{
    (void)state;
    char *page = page_of(write_turned, "t");
    check_contains(page, "<text class=\"strong\" x=\"10.000\" y=\"20.000\" font-size=\"2.500\" "
                         "text-anchor=\"end\" transform=\"rotate(-90.000 10.000 20.000)\">up<");
    free(page);
}

static void a_full_disk_is_told(void **state)
{
    (void)state;
    FILE *full = fopen("/dev/full", "w");
    if (full == NULL)
        skip();
    tu_svg svg;
    tu_error error = {0};
    tu_svg_open(&svg, full, (tu_svg_point){210, 297}, "", "t", "d");
    check_status(tu_svg_close(&svg, &error), TU_SYSTEM_IO, NULL);
    check_contains(error.message, "drawing");
    fclose(full);
}

static void the_width_of_a_text_is_the_sum_of_its_characters(void **state)
{
    (void)state;
    /* Bitstream Vera's descendants, units per em 2048, advance widths from memory: "W" 2025,
     * "i" 569, "0" 1303, space 651. */
    check_between(tu_svg_text_width("W", 1), 2025 / 2048.0, 2025 / 2048.0 + 0.015, "W, em");
    check_between(tu_svg_text_width("i", 1), 569 / 2048.0, 569 / 2048.0 + 0.015, "i, em");
    check_between(tu_svg_text_width("0", 1), 1303 / 2048.0, 1303 / 2048.0 + 0.015, "0, em");
    check_between(tu_svg_text_width(" ", 1), 651 / 2048.0, 651 / 2048.0 + 0.015, "space, em");
    check_close(tu_svg_text_width("Wi0 ±", 2),
                2 * (tu_svg_text_width("W", 1) + tu_svg_text_width("i", 1) +
                     tu_svg_text_width("0", 1) + tu_svg_text_width(" ", 1) + 1),
                1e-12, "sum, mm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rings_are_one_shape_and_a_dot_tells_its_value),
        cmocka_unit_test(the_five_special_characters_are_escaped),
        cmocka_unit_test(what_xml_does_not_allow_becomes_a_replacement_character),
        cmocka_unit_test(the_page_has_its_size_in_millimetres),
        cmocka_unit_test(numbers_are_the_same_in_every_locale),
        cmocka_unit_test(a_shape_that_is_not_finite_is_left_out),
        cmocka_unit_test(a_turned_text_turns_about_its_anchor),
        cmocka_unit_test(a_full_disk_is_told),
        cmocka_unit_test(the_width_of_a_text_is_the_sum_of_its_characters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
