/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Surfacing: depth, passes, what each leaves, by pencil over a ridge; and by small prisms. */
#include "bed_sample.h"

#include <math.h>
#include <stdlib.h>

static const tu_surfacing_request plain = {NULL, 0.05, NAN, NAN, NAN, NAN};

static tu_surfacing surfacing_of(const bed_model *made, tu_surfacing_request request)
{
    tu_surfacing surfacing;
    tu_error error;

    check_status(tu_bed_plan_surfacing(&made->model, &request, &surfacing, &error), TU_OK, &error);
    return surfacing;
}

static void a_ridge_is_surfaced_as_by_pencil(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_ridge);
    bed_model made = bed_model_of(points, 63, false);
    tu_surfacing_request request = plain;

    request.depth_of_cut_mm = 0.5;
    request.cutter_mm = 25;
    request.step_over_mm = 10;
    request.feed_mm_s = 50;
    const tu_surfacing s = surfacing_of(&made, request);
    check_close(s.depth_mm, 1.05, 1e-12, "depth, mm");
    check_close(s.level_mm, -0.05, 1e-12, "last level, mm");
    assert_int_equal(s.passes, 3);
    /* a roof 1 high and 800 wide: after 0.5 a half is cut, after 1 all but its two feet */
    check_close(s.pass[0].level_mm, 0.5, 1e-12, "level, mm");
    check_close(s.pass[0].uncut_mm2, 240000, 1e-6, "uncut after the first pass, mm2");
    check_close(s.pass[0].volume_mm3, 60000, 1e-6, "volume of the first pass, mm3");
    check_close(s.pass[1].uncut_mm2, 0, 1e-6, "uncut after the second pass, mm2");
    check_close(s.pass[1].volume_mm3, 180000, 1e-6, "volume of the second pass, mm3");
    check_close(s.pass[2].volume_mm3, 0.05 * 480000, 1e-6, "volume of the last pass, mm3");
    check_close(s.volume_mm3, 264000, 1e-6, "volume, mm3");
    /* 600 across, less 25: 57.5 steps, 59 lanes of 800, and 575 across */
    check_close(s.path_mm, 3 * (59 * 800 + 575), 1e-6, "path, mm");
    check_close(s.time_s, 3 * 47775 / 50.0, 1e-9, "time, s");
    bed_model_free(&made);
    free(points);
}

static void a_whole_number_of_passes_takes_no_more(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_ridge);
    bed_model made = bed_model_of(points, 63, false);
    tu_surfacing_request request = plain;

    request.allowance_mm = 0.05;
    request.depth_of_cut_mm = 0.35; /* 1.05 / 0.35 is above 3 in doubles */
    const tu_surfacing s = surfacing_of(&made, request);
    assert_int_equal(s.passes, 3);
    check_same(s.pass[2].level_mm, s.level_mm, "last level, mm");
    check_nan(s.time_s, "time without a feed");
    request.depth_of_cut_mm = NAN;
    assert_int_equal(surfacing_of(&made, request).passes, 1);
    bed_model_free(&made);
    free(points);
}

/* Volume over a level by many small prisms: shares nothing with the code but the heights. */
static double volume_by_prisms(const bed_model *made, tu_bed_rectangle r, double level, double *low)
{
    const int fine = 400;
    double sum = 0;
    size_t cut = 0;

    for (int i = 0; i < fine; i++) {
        for (int j = 0; j < fine; j++) {
            const double x = r.x_low_mm + (i + 0.5) * (r.x_high_mm - r.x_low_mm) / fine;
            const double y = r.y_low_mm + (j + 0.5) * (r.y_high_mm - r.y_low_mm) / fine;
            const double h = tu_bed_model_height(&made->model, x, y) - level;
            sum += fmax(h, 0);
            cut += h < 0;
        }
    }
    const double prism = (r.x_high_mm - r.x_low_mm) * (r.y_high_mm - r.y_low_mm) / fine / fine;
    *low = (double)cut * prism;
    return sum * prism;
}

static void a_part_of_scattered_points_agrees_with_small_prisms(void **state)
{
    (void)state;
    tu_bed_point *points = bed_scatter(21, 200, 800, 600, bed_saddle);
    bed_model made = bed_model_of(points, 200, false);
    const tu_bed_rectangle part = {120, 610, 90, 480};
    tu_surfacing_request request = plain;

    request.rectangle = &part;
    request.depth_of_cut_mm = 0.3;
    const tu_surfacing s = surfacing_of(&made, request);
    double volume = 0;
    for (size_t k = 0; k < s.passes; k++) {
        double uncut;
        volume += s.pass[k].volume_mm3;
        check_relative(volume, volume_by_prisms(&made, part, s.pass[k].level_mm, &uncut), 1e-3,
                       "volume so far, mm3");
        check_close(s.pass[k].uncut_mm2, uncut, 250, "uncut of 191100, mm2");
    }
    check_close(s.volume_mm3, volume, 1e-6, "volume, mm3");
    bed_model_free(&made);
    free(points);
}

static void a_flat_bed_takes_its_allowance(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(3, 3, 100, bed_flat);
    bed_model made = bed_model_of(points, 9, false);
    tu_surfacing_request request = plain;
    const tu_surfacing s = surfacing_of(&made, request);

    assert_int_equal(s.passes, 1);
    check_close(s.depth_mm, 0.05, 1e-15, "depth, mm");
    request.allowance_mm = 0;
    check_same(surfacing_of(&made, request).volume_mm3, 0, "volume, mm3");
    bed_model_free(&made);
    free(points);
}

static void what_cannot_be_cut_is_refused(void **state)
{
    (void)state;
    static const struct {
        tu_surfacing_request request;
        const char *part;
    } bad[] = {
        {{NULL, -0.1, 1, NAN, NAN, NAN}, "allowance"},
        {{NULL, NAN, 1, NAN, NAN, NAN}, "allowance"},
        {{NULL, 0, 0, NAN, NAN, NAN}, "depth of cut"},
        {{NULL, 0, 0.001, NAN, NAN, NAN}, "more than 100 passes"},
        {{NULL, 0, 0.001, 20, 10, 50}, "more than 100 passes"},
        {{NULL, 0, 1, 20, 25, 50}, "ridges"},
        {{NULL, 0, 1, 20, 0, 50}, "step-over"},
    };
    tu_bed_point *points = bed_grid(9, 7, 100, bed_ridge);
    bed_model made = bed_model_of(points, 63, false);

    for (size_t k = 0; k < sizeof bad / sizeof *bad; k++) {
        tu_surfacing surfacing;
        tu_error error;
        check_status(tu_bed_plan_surfacing(&made.model, &bad[k].request, &surfacing, &error),
                     TU_DATA_RANGE, NULL);
        check_contains(error.message, bad[k].part);
    }
    bed_model_free(&made);
    free(points);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_ridge_is_surfaced_as_by_pencil),
        cmocka_unit_test(a_whole_number_of_passes_takes_no_more),
        cmocka_unit_test(a_part_of_scattered_points_agrees_with_small_prisms),
        cmocka_unit_test(a_flat_bed_takes_its_allowance),
        cmocka_unit_test(what_cannot_be_cut_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
