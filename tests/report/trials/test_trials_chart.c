/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_trials_chart.c - scales with round marks, and labels that keep apart.
 */
#include "svg_scan.h"

#include "report/trials/trials_chart.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A mark is 1, 2 or 5 times a power of ten, and its number has the decimals that tell it. */
static void marks_are_round_and_cover_the_values(void **state)
{
    (void)state;
    check_random random = check_random_seed(3);
    for (int i = 0; i < 2000; i++) {
        double low = check_random_uniform(&random, -500, 500);
        double high = low + pow(10, check_random_uniform(&random, -6, 6));
        tu_chart_scale s = tu_chart_scale_of(low, high);
        assert_true(s.low < low && s.high > high);
        double power = pow(10, floor(log10(s.mark) + 1e-9)), first = s.mark / power;
        assert_true(fabs(first - 1) < 1e-6 || fabs(first - 2) < 1e-6 || fabs(first - 5) < 1e-6);
        double marks = (s.high - s.low) / s.mark;
        assert_true(marks > 2.7 && marks <= 7.001);
        double unit = s.mark * pow(10, s.decimals);
        check_close(unit, round(unit), 1e-6, "a mark in its last decimal");
        if (s.decimals > 0) /* and no decimal more */
            assert_true(unit < 9.5);
    }
}

static void a_range_of_nothing_has_marks_all_the_same(void **state)
{
    (void)state;
    tu_chart_scale s = tu_chart_scale_of(3, 3);
    assert_true(s.mark > 0);
    s = tu_chart_scale_of(0, INFINITY);
    assert_true(s.mark > 0 && isfinite(s.mark));
}

static void values_go_to_the_ends_of_the_box(void **state)
{
    (void)state;
    const tu_chart chart = {.box = {10, 20, 110, 60}, .x = {0, 50, 10, 0}, .y = {-1, 1, 1, 0}};
    check_close(tu_chart_x(&chart, 0), 10, 1e-12, "mm, left");
    check_close(tu_chart_x(&chart, 25), 60, 1e-12, "mm, middle");
    check_close(tu_chart_y(&chart, 1), 20, 1e-12, "mm, top: larger is higher");
    check_close(tu_chart_y(&chart, -1), 60, 1e-12, "mm, bottom");
}

static void labels_keep_apart_in_their_order_and_beside_the_box(void **state)
{
    (void)state;
    char *text = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&text, &length);
    assert_non_null(out);
    tu_svg svg;
    tu_svg_open(&svg, out, (tu_svg_point){210, 297}, "", "t", "d");
    tu_chart chart = {.svg = &svg, .box = {10, 20, 110, 60}};
    tu_chart_labels labels = {0};
    static const double wanted[] = {59, 21, 59.5, 20, 40, NAN, 41};
    for (size_t i = 0; i < 7; i++)
        tu_chart_label(&labels, wanted[i], "label");
    assert_int_equal(labels.count, 6); /* a place that is not known has no label */
    tu_chart_labels_draw(&chart, &labels);
    for (size_t i = 0; i < labels.count; i++) {
        assert_true(labels.y_mm[i] >= 20 - 1e-9 && labels.y_mm[i] <= 60 + 1e-9);
        if (i) {
            assert_true(labels.wanted_mm[i] >= labels.wanted_mm[i - 1]);
            assert_true(labels.y_mm[i] - labels.y_mm[i - 1] >= 1.25 * TU_CHART_NOTE_MM - 1e-9);
        }
    }
    check_close(labels.y_mm[0], 20, 1e-9, "mm, the topmost where it wants to be");
    assert_int_equal(tu_svg_close(&svg, NULL), TU_OK);
    fclose(out);
    scan_box box[SCAN_TEXTS];
    size_t count = scan_texts(text, box);
    assert_int_equal(count, 6);
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < i; k++)
            assert_true(scan_apart(&box[i], &box[k]));
    free(text);
}

static void a_name_that_is_too_wide_ends_in_dots_behind_a_whole_letter(void **state)
{
    (void)state;
    const char *name = "béfore the néw bélt was fitted to the Z axis motor, Z";
    for (double room_mm = 4; room_mm < 100; room_mm += 0.7) {
        char text[80];
        snprintf(text, sizeof text, "%s", name);
        tu_svg_shorten(text, sizeof text, room_mm, TU_CHART_NOTE_MM);
        assert_true(tu_svg_text_width(text, TU_CHART_NOTE_MM) <= room_mm);
        size_t kept = strlen(text);
        if (strcmp(text, name) == 0)
            continue;
        kept -= strlen("…");
        assert_string_equal(text + kept, "…");
        assert_memory_equal(text, name, kept);
        assert_true(((unsigned char)name[kept] & 0xC0) != 0x80);
    }
    char small[12] = "abcdefghijk";
    tu_svg_shorten(small, sizeof small, 8, TU_CHART_NOTE_MM);
    check_contains(small, "…");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_name_that_is_too_wide_ends_in_dots_behind_a_whole_letter),
        cmocka_unit_test(marks_are_round_and_cover_the_values),
        cmocka_unit_test(a_range_of_nothing_has_marks_all_the_same),
        cmocka_unit_test(values_go_to_the_ends_of_the_box),
        cmocka_unit_test(labels_keep_apart_in_their_order_and_beside_the_box),
    };
    return cmocka_run_group_tests_name("trials_chart", tests, NULL, NULL);
}
