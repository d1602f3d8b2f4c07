/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_page.c - words on the page under a drawing.
 */
#include "svg_scan.h"

#include "report/drawing/page.h"

#include <stdlib.h>
#include <string.h>

static char *drawn;

static int forget(void **state)
{
    (void)state;
    free(drawn);
    drawn = NULL;
    return 0;
}

static const char sentence[] = "one two three four five six seven eight nine ten eleven twelve";
/* Five rows of 3 mm letters fit above 118 mm where the first stands at 100 mm. */
static const tu_page_column column = {10, 20, 118, 3, 4};

static double draw_words(const tu_page_column *in, const char *css)
{
    size_t length;
    free(drawn);
    FILE *out = open_memstream(&drawn, &length);
    tu_svg svg = {.out = out};
    double y = tu_page_words(&svg, in, 100, css, sentence);
    assert_int_equal(fclose(out), 0);
    return y;
}

static size_t rows(void)
{
    size_t count = 0;
    for (const char *at = drawn; (at = strstr(at, "<text")) != NULL; at++)
        count++;
    return count;
}

static void words_go_on_in_rows_and_say_where_they_end(void **state)
{
    (void)state;
    tu_page_column endless = column;
    endless.lowest = 1000;
    double y = draw_words(&endless, NULL);
    check_close(y, 100 + 4 * (double)rows(), 1e-9, "the row behind the last, mm");
    check_contains(drawn, "twelve</text>");
    check_lacks(drawn, "…");
    check_close(tu_page_words(NULL, &endless, 100, NULL, sentence), y, 0, "measured only, mm");
}

static void words_without_room_end_in_dots(void **state)
{
    (void)state;
    check_close(draw_words(&column, NULL), 120, 1e-9, "the first row without room, mm");
    assert_int_equal(rows(), 5);
    check_lacks(drawn, "twelve");
    check_contains(drawn, " …</text>\n");
    assert_string_equal(strstr(drawn, " …"), " …</text>\n");
}

static void bold_words_take_more_rows(void **state)
{
    (void)state;
    tu_page_column wide = {10, 1.05 * tu_svg_text_width(sentence, 3), 1000, 3, 4};
    draw_words(&wide, NULL);
    assert_int_equal(rows(), 1);
    draw_words(&wide, "strong");
    assert_int_equal(rows(), 2);
}

/* One row of that width; its size, mm. */
static double draw_fitted(double width_mm)
{
    size_t length;
    free(drawn);
    FILE *out = open_memstream(&drawn, &length);
    tu_svg svg = {.out = out};
    tu_page_column row = {.x = 10, .width_mm = width_mm, .size_mm = 5};
    tu_page_fitted(&svg, &row, 100, 2.5, NULL, sentence);
    assert_int_equal(fclose(out), 0);
    return atof(strstr(drawn, "font-size=\"") + strlen("font-size=\""));
}

static void a_long_row_is_set_smaller_and_then_cut(void **state)
{
    (void)state;
    double full = tu_svg_text_width(sentence, 5);
    check_close(draw_fitted(full + 1), 5, 0, "size with room, mm");
    check_close(draw_fitted(0.75 * full), 3.75, 0.0005, "size with three quarters of it, mm");
    check_lacks(drawn, "…");
    check_close(draw_fitted(0.25 * full), 2.5, 0, "the least size, mm");
    check_contains(drawn, "…</text>");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(words_go_on_in_rows_and_say_where_they_end, forget),
        cmocka_unit_test_teardown(words_without_room_end_in_dots, forget),
        cmocka_unit_test_teardown(bold_words_take_more_rows, forget),
        cmocka_unit_test_teardown(a_long_row_is_set_smaller_and_then_cut, forget),
    };
    return cmocka_run_group_tests_name("page", tests, NULL, NULL);
}
