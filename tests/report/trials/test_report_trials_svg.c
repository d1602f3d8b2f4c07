/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_report_trials_svg.c - the picture read back by its own numbers: a scale is taken from the
 * numbers beside the paper, and touches, limits and step are looked for where their values say.
 */
#include "svg_scan.h"
#include "trials_bench.h"

#define PAPER_MM 0.01 /* two roundings to a micrometre */

static trials_bench bench;

static char *drawn(void)
{
    return bench_written(tu_report_trials_svg, &bench);
}

/* The next element of that kind and class; NULL: none. */
static const char *next_of(const char *at, const char *kind, const char *css)
{
    char key[60];
    snprintf(key, sizeof key, "<%s class=\"%s\"", kind, css);
    return strstr(at, key);
}

static size_t count_of(const char *svg, const char *kind, const char *css)
{
    size_t count = 0;
    for (const char *at = next_of(svg, kind, css); at; at = next_of(at + 1, kind, css))
        count++;
    return count;
}

/* value = first + (paper - at) * per */
typedef struct paper_scale {
    double first, at, per;
} paper_scale;

static double value_of(const paper_scale *scale, double paper_mm)
{
    return scale->first + (paper_mm - scale->at) * scale->per;
}

/* The numbers left of the first chart (down: true), or below the last one. */
static paper_scale read_scale(const char *svg, bool down)
{
    const char *axis = next_of(svg, "line", "axis");
    double left = scan_number(axis, "x1"), bottom = scan_number(axis, "y2");
    if (!down)
        for (const char *at = axis; at; at = next_of(at + 1, "line", "axis"))
            if (scan_number(at, "x1") == left && scan_number(at, "x2") == left)
                bottom = scan_number(at, "y2");
    double paper[2] = {0}, value[2] = {0};
    int found = 0;
    for (const char *at = strstr(svg, "<text "); at; at = strstr(at + 1, "<text ")) {
        double x = scan_number(at, "x"), y = scan_number(at, "y");
        char *end;
        double number = strtod(strchr(at, '>') + 1, &end);
        bool here = down ? fabs(x - (left - 1.5)) < 1e-6 && y < bottom + 1.5
                         : fabs(y - (bottom + 4)) < 1e-6 && x >= left;
        if (!here || strncmp(end, "</text>", 7) != 0)
            continue;
        paper[found > 0] = down ? y - 1 : x;
        value[found > 0] = number;
        found++;
    }
    assert_true(found >= 2);
    return (paper_scale){value[0], paper[0], (value[1] - value[0]) / (paper[1] - paper[0])};
}

static void check_touches_where_they_are(const char *svg, tu_unit unit)
{
    const tu_trial_series *series = &bench.entry[0].series;
    paper_scale scale = read_scale(svg, true);
    const char *at = svg;
    double last_x = 0;
    for (size_t i = 0; i < series->count; i++) {
        at = next_of(at + 1, "circle", "touch");
        assert_non_null(at);
        double value = value_of(&scale, scan_number(at, "cy"));
        check_close(value, tu_unit_from_mm(unit, series->value_mm[i]), fabs(scale.per) * PAPER_MM,
                    "a touch's value on paper");
        assert_true(scan_number(at, "cx") > last_x);
        last_x = scan_number(at, "cx");
    }
    assert_null(next_of(at + 1, "circle", "touch"));
}

static void each_touch_stands_where_its_value_says(void **state)
{
    (void)state;
    static const size_t counts[] = {1, 2, 3, 30, 1500};
    for (int k = 0; k < 10; k++) {
        tu_unit unit = k % 2 ? TU_UNIT_INCH : TU_UNIT_MM;
        bench_start(&bench, unit);
        bench_add_normal(&bench, "seat", counts[k / 2], 0.0025, 7);
        char *svg = drawn();
        check_touches_where_they_are(svg, unit);
        free(svg);
        bench_end(&bench);
    }
}

/* Ten thousand: 25 to a stroke, from the smallest to the largest of them. */
static void a_stroke_reaches_over_its_share_of_ten_thousand_touches(void **state)
{
    (void)state;
    bench_kind(&bench, 5, TU_UNIT_MM);
    char *svg = drawn();
    paper_scale scale = read_scale(svg, true);
    const double *value = bench.entry[0].series.value_mm;
    assert_int_equal(count_of(svg, "line", "stroke"), 400);
    assert_int_equal(count_of(svg, "circle", "touch"), 0);
    const char *at = svg;
    for (size_t k = 0; k < 400; k++) {
        double low = INFINITY, high = -INFINITY;
        for (size_t i = 25 * k; i < 25 * (k + 1); i++) {
            low = fmin(low, value[i]);
            high = fmax(high, value[i]);
        }
        at = next_of(at + 1, "line", "stroke");
        check_close(value_of(&scale, scan_number(at, "y1")), low, fabs(scale.per) * PAPER_MM,
                    "the smallest, mm");
        check_close(value_of(&scale, scan_number(at, "y2")), high, fabs(scale.per) * PAPER_MM,
                    "the largest, mm");
    }
    free(svg);
    bench_end(&bench);
}

static void limits_and_mean_stand_at_their_values(void **state)
{
    (void)state;
    bench_kind(&bench, 3, TU_UNIT_MM);
    char *svg = drawn();
    const tu_trial_figures *f = &bench.entry[0].figures;
    paper_scale scale = read_scale(svg, true);
    double near = fabs(scale.per) * PAPER_MM;
    const char *upper = next_of(svg, "line", "limit"), *lower = next_of(upper + 1, "line", "limit");
    check_close(value_of(&scale, scan_number(upper, "y1")), f->chart_upper, near, "upper, mm");
    check_close(value_of(&scale, scan_number(lower, "y1")), f->chart_lower, near, "lower, mm");
    check_close(value_of(&scale, scan_number(next_of(svg, "line", "mean"), "y1")), f->mean, near,
                "mean, mm");
    free(svg);
    bench_end(&bench);
}

/* 0.01 mm a minute with 12 touches a minute apart, or 0.01 mm a touch: from end to end 0.11 mm,
 * less where the paper ends. */
static void the_drift_climbs_as_fast_as_it_is_said_to(void **state)
{
    (void)state;
    double values[12], times[12];
    for (int i = 0; i < 12; i++) {
        times[i] = 60 * i;
        values[i] = -20 + 0.01 * i;
    }
    for (int timed = 0; timed < 2; timed++) {
        bench_start(&bench, TU_UNIT_MM);
        bench_add(&bench, "seat", values, timed ? times : NULL, 12, NAN);
        char *svg = drawn();
        paper_scale scale = read_scale(svg, true);
        const char *line = next_of(svg, "line", "drift");
        const char *first = next_of(svg, "circle", "touch"), *last = first;
        for (int i = 1; i < 12; i++)
            last = next_of(last + 1, "circle", "touch");
        double step = (scan_number(last, "cx") - scan_number(first, "cx")) / 11; /* paper a touch */
        double wide = scan_number(line, "x2") - scan_number(line, "x1");
        double rise = (scan_number(line, "y2") - scan_number(line, "y1")) * scale.per;
        check_close(rise / (wide / step), 0.01, 1e-5, "mm a touch");
        check_close(value_of(&scale, scan_number(line, "y1")), -20, 0.0001, "mm, its start");
        free(svg);
        bench_end(&bench);
    }
}

/* By its own scale 0.0025 mm long. */
static void the_step_is_to_scale(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    tu_trials_entry *entry = bench_add_normal(&bench, "seat", 30, 0.0025, 7);
    entry->figures.step_mm = entry->series.step_mm = 0.0025;
    char *svg = drawn();
    paper_scale scale = read_scale(svg, false);
    scan_line step = {scan_number(next_of(svg, "line", "measure"), "x1"), 0,
                      scan_number(next_of(svg, "line", "measure"), "x2"), 0};
    check_close((step.x2 - step.x1) * scale.per, 0.0025, scale.per * PAPER_MM, "step, mm");
    check_contains(svg, ">step 0.0025</text>");
    free(svg);
    bench_end(&bench);
}

/* The heights of all bars together are the touches. */
static void the_bars_hold_every_touch(void **state)
{
    (void)state;
    for (int kind = 1; kind < 8; kind++) {
        bench_kind(&bench, kind, TU_UNIT_MM);
        char *svg = drawn();
        const char *axis = svg, *last = NULL;
        while ((axis = next_of(axis + 1, "line", "axis")) != NULL)
            last = axis; /* below the bars */
        double bottom = scan_number(last, "y1"), sum = 0, one = 0;
        for (const char *at = strstr(svg, "<text "); at; at = strstr(at + 1, "<text ")) {
            char *end;
            double number = strtod(strchr(at, '>') + 1, &end);
            if (scan_number(at, "x") == 38.5 && scan_number(at, "y") > 140 && number > 0 &&
                strncmp(end, "</text>", 7) == 0)
                one = (bottom + 1 - scan_number(at, "y")) / number;
        }
        for (const char *at = next_of(svg, "polygon", "bar"); at;
             at = next_of(at + 1, "polygon", "bar")) {
            double x1, y1, x2, y2;
            assert_int_equal(
                sscanf(strstr(at, "points=\"") + 8, "%lf,%lf %lf,%lf", &x1, &y1, &x2, &y2), 4);
            sum += (y1 - y2) / one;
        }
        double n = (double)bench.entry[0].series.count;
        check_close(sum, n, 0.001 * n + 0.05, "touches in bars");
        free(svg);
        bench_end(&bench);
    }
}

/* The frame of A4: 20 to 200 and 10 to 287 mm. */
static void check_readable(const char *svg)
{
    static scan_box box[SCAN_TEXTS];
    size_t count = scan_texts(svg, box);
    assert_true(count > 10);
    for (size_t i = 0; i < count; i++) {
        double across = scan_reach(&box[i], 1, 0), up = scan_reach(&box[i], 0, 1);
        if (box[i].x - across < 20 || box[i].x + across > 200 || box[i].y - up < 10 ||
            box[i].y + up > 287)
            fail_msg("\"%s\" reaches out of the frame", box[i].text);
        for (size_t k = 0; k < i; k++)
            if (!scan_apart(&box[i], &box[k]))
                fail_msg("\"%s\" lies on \"%s\"", box[i].text, box[k].text);
    }
}

/* No number of the drawing is out of the page, or none at all. */
static void check_on_the_page(const char *svg)
{
    static const char *const names[] = {"x1", "x2", "cx", "y1", "y2", "cy"};
    check_lacks(svg, "nan");
    check_lacks(svg, "inf");
    for (const char *at = strstr(svg, "</style>"); at; at = strchr(at + 1, '<'))
        for (int i = 0; i < 6; i++) {
            double number = *at == '<' ? scan_number(at, names[i]) : NAN;
            if (number < 10 || number > (i < 3 ? 200 : 287))
                fail_msg("%s = %g: %.80s", names[i], number, at);
        }
}

static void every_kind_of_series_can_be_read_and_stays_on_the_page(void **state)
{
    (void)state;
    for (int kind = 0; kind < 2 * BENCH_KINDS; kind++) {
        bench_kind(&bench, kind / 2, kind % 2 ? TU_UNIT_INCH : TU_UNIT_MM);
        char *svg = drawn();
        check_readable(svg);
        check_on_the_page(svg);
        check_contains(svg, "<title id=\"title\">Repeated touches, ");
        check_contains(svg, "<desc id=\"desc\">");
        check_contains(svg, ".page{fill:#fff");
        free(svg);
        bench_end(&bench);
    }
}

static void a_study_of_two_and_of_forty_groups_can_be_read(void **state)
{
    (void)state;
    for (int k = 0; k < 2; k++) {
        size_t groups = k ? 40 : 2;
        bench_start(&bench, TU_UNIT_MM);
        bench_add_normal(&bench, "seat", 4 * groups, 0.0025, 21);
        bench_study(&bench, groups);
        char *svg = drawn();
        check_readable(svg);
        check_on_the_page(svg);
        paper_scale scale = read_scale(svg, true);
        const char *at = svg;
        for (size_t i = 0; i < groups; i++) {
            at = next_of(at + 1, "line", "groupmean");
            check_close(value_of(&scale, scan_number(at, "y1")), bench.group[i].mean,
                        fabs(scale.per) * PAPER_MM, "a group's mean, mm");
        }
        assert_int_equal(count_of(svg, "circle", "touch"), 4 * groups);
        check_contains(svg, ">s within groups</text>");
        free(svg);
        bench_end(&bench);
    }
}

static void several_series_stand_below_each_other_and_the_rest_is_counted(void **state)
{
    (void)state;
    for (size_t count = 2; count < 7; count++) {
        char name[20];
        bench_start(&bench, TU_UNIT_MM);
        for (size_t i = 0; i < count; i++) {
            snprintf(name, sizeof name, "seat %zu", i + 1);
            bench_add_normal(&bench, name, 20, 0.0025, 30 + i);
        }
        char *svg = drawn();
        check_readable(svg);
        check_on_the_page(svg);
        if (count > 4)
            check_contains(svg, "the first 4 of ");
        else
            check_lacks(svg, " series</text>");
        free(svg);
        bench_end(&bench);
    }
}

static void the_key_holds_what_the_picture_holds(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    tu_trials_entry *entry = bench_add_normal(&bench, "seat", 30, 0, 11);
    char *svg = drawn();
    check_contains(svg, "limits of chance:");
    check_lacks(svg, "drift:");
    check_lacks(svg, "outlier (Grubbs");
    check_lacks(svg, "warm-up:");
    free(svg);
    entry->figures.outlier_count = 1;
    entry->figures.outlier[0] = (tu_trial_outlier){.index = 3, .statistic = 3, .critical = 2};
    entry->figures.drift_mm = 1;
    entry->figures.slope_p = 0.01;
    entry->figures.slope = 1e-5;
    svg = drawn();
    check_contains(svg, ">drift: ");
    check_contains(svg, ">outlier (Grubbs");
    assert_int_equal(count_of(svg, "circle", "odd"), 2); /* the touch and the key */
    free(svg);
    bench_end(&bench);
}

/* start + rise (1 - 1/e) at t = tau: 300 s. */
static void the_warm_up_that_was_fitted_is_drawn(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    bench_add_normal(&bench, "cold", 31, 0, 11); /* 600 s */
    bench.story.has_warm_up = true;
    bench.story.warm_up =
        (tu_warm_up){.start = -52.385, .rise = 0.01, .tau_s = 300, .p = 0.001, .dof = 28};
    char *svg = drawn();
    paper_scale scale = read_scale(svg, true);
    const char *curve = scan_id(svg, "warm-up");
    assert_non_null(curve);
    const char *point = strstr(curve, "points=\"") + 8;
    for (int i = 0; i < 50; i++)
        point = strchr(point, ' ') + 1;
    double y = strtod(strchr(point, ',') + 1, NULL);
    check_close(value_of(&scale, y), -52.385 + 0.01 * (1 - exp(-1)), fabs(scale.per) * PAPER_MM,
                "half way, mm");
    check_contains(svg, ">warm-up: the exponential rise");
    free(svg);
    bench_end(&bench);
}

static void a_name_with_markup_in_it_stays_text(void **state)
{
    (void)state;
    bench_start(&bench, TU_UNIT_MM);
    bench_add_normal(&bench, "a<b>&c", 5, 0, 11);
    char *svg = drawn();
    check_contains(svg, "a&lt;b&gt;&amp;c");
    check_lacks(svg, "a<b>");
    free(svg);
    bench_end(&bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_touch_stands_where_its_value_says),
        cmocka_unit_test(a_stroke_reaches_over_its_share_of_ten_thousand_touches),
        cmocka_unit_test(limits_and_mean_stand_at_their_values),
        cmocka_unit_test(the_drift_climbs_as_fast_as_it_is_said_to),
        cmocka_unit_test(the_step_is_to_scale),
        cmocka_unit_test(the_bars_hold_every_touch),
        cmocka_unit_test(every_kind_of_series_can_be_read_and_stays_on_the_page),
        cmocka_unit_test(a_study_of_two_and_of_forty_groups_can_be_read),
        cmocka_unit_test(several_series_stand_below_each_other_and_the_rest_is_counted),
        cmocka_unit_test(the_key_holds_what_the_picture_holds),
        cmocka_unit_test(the_warm_up_that_was_fitted_is_drawn),
        cmocka_unit_test(a_name_with_markup_in_it_stays_text),
    };
    return cmocka_run_group_tests_name("report_trials_svg", tests, NULL, NULL);
}
