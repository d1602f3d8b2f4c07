/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_grid.c - grids over the bed: which points, which ways, and on the virtual machine with
 * clamps as high as the machine.
 */
#include "plan_case.h"

#include "program/plan_route.h"
#include "sample_scene.h"
#include "trueup/rs274.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void refused(tu_status status, const char *where, const char *part)
{
    sample_plan_refused(&p, SAMPLE_GRID, status, where, part);
}

/* --- Reading a program back --- */

enum { SPOTS = 60000 };
static tu_plan_spot path[SPOTS]; /* each X Y move's end */
static bool touched[SPOTS];      /* a probe move followed there */
static size_t path_count;

static void read_path(void)
{
    static double parameters[TU_RS274_PARAMETERS];
    tu_rs274_reader reader = tu_rs274_start(p.program, p.length);
    path_count = 0;
    for (;;) {
        tu_rs274_block block;
        bool have;
        tu_error error;
        check_status(tu_rs274_next(&reader, parameters, &block, &have, &error), TU_OK, &error);
        if (!have)
            break;
        double scale = p.style.unit == TU_UNIT_INCH ? 25.4 : 1.0;
        if (!isnan(block.x)) {
            assert_true(path_count < SPOTS && !isnan(block.y) && isnan(block.z));
            path[path_count] = (tu_plan_spot){block.x * scale, block.y * scale};
            touched[path_count++] = false;
        }
        if (block.motion == TU_MOTION_PROBE)
            touched[path_count - 1] = true;
    }
    assert_true(reader.ended);
}

static double path_length(void)
{
    double length = 0.0;
    for (size_t i = 1; i < path_count; i++)
        length += hypot(path[i].x - path[i - 1].x, path[i].y - path[i - 1].y);
    return length;
}

static bool is_allowed(tu_plan_spot spot, double keep)
{
    for (size_t i = 0; i < p.grid.keep_out_count; i++)
        if (tu_rectangle_distance(&p.keep_out[i], spot) < keep)
            return false;
    return true;
}

/* --- Points and ways --- */

static void a_free_area_is_touched_there_and_back(void **unused)
{
    (void)unused;
    sample_plan_good(&p, SAMPLE_GRID);
    read_path();
    assert_int_equal(path_count, 20);
    for (size_t i = 0; i < 20; i++) {
        size_t row = i / 5, column = row % 2 == 0 ? i % 5 : 4 - i % 5;
        check_close(path[i].x, 100.0 * (double)column, 1e-9, "x, mm");
        check_close(path[i].y, 100.0 * (double)row, 1e-9, "y, mm");
        assert_true(touched[i]);
    }
    /* 4 rows of 400 and 3 steps of 100; always from the left: each step is hypot(400, 100). */
    check_close(p.summary.path_mm, 1900.0, 1e-9, "mm");
    check_close(p.summary.naive_mm, 1600.0 + 3.0 * hypot(400.0, 100.0), 1e-9, "mm");
    assert_int_equal(p.summary.points, 20);
    assert_int_equal(p.summary.skipped, 0);
    assert_int_equal(p.summary.touches, 60);
}

static void the_shorter_direction_is_taken(void **unused)
{
    (void)unused;
    /* Three columns of 100 and two steps of 200 between; five rows of 400 would be 2100. */
    p.grid.area = (tu_rectangle){0.0, 0.0, 400.0, 100.0};
    p.grid.columns = 3;
    p.grid.rows = 5;
    sample_plan_good(&p, SAMPLE_GRID);
    read_path();
    check_close(p.summary.path_mm, 700.0, 1e-9, "mm");
    check_close(path_length(), 700.0, 1e-9, "mm");
    check_close(path[4].x, 0.0, 1e-9, "the last of the first column, mm");
    check_close(path[5].x, 200.0, 1e-9, "the first of the second, mm");
    check_close(path[5].y, 100.0, 1e-9, "beside the last, mm");
    check_close(p.summary.naive_mm, 2000.0 + 4.0 * hypot(400.0, 25.0), 1e-9, "mm");
}

static void listed_places_are_touched_by_a_shorter_way_than_listed(void **unused)
{
    (void)unused;
    /* As listed 400 + 400 and two long ways back; round by 2-opt. Only the first stays the first.
     */
    static const double places[][2] = {{10, 10}, {390, 20}, {20, 200}, {380, 210}, {10, 290}};
    p.grid.place = places;
    p.grid.place_count = 5;
    p.grid.columns = p.grid.rows = 0;
    sample_plan_good(&p, SAMPLE_GRID);
    read_path();
    assert_int_equal(path_count, 5);
    assert_int_equal(p.summary.points, 5);
    assert_int_equal(p.summary.skipped, 0);
    check_close(path[0].x, 10, 1e-9, "x of the first, mm");
    check_close(path_length(), p.summary.path_mm, 0.01, "path, mm");
    assert_true(p.summary.path_mm < 0.8 * p.summary.naive_mm);
    for (size_t i = 0; i < 5; i++) {
        bool found = false;
        for (size_t k = 0; k < 5; k++)
            found |= touched[k] && hypot(path[k].x - places[i][0], path[k].y - places[i][1]) < 1e-9;
        assert_true(found);
    }
}

static void listed_places_near_a_keep_out_are_left_out(void **unused)
{
    (void)unused;
    static const double places[][2] = {{10, 10}, {390, 20}, {200, 200}};
    p.grid.place = places;
    p.grid.place_count = 3;
    sample_plan_add_keep_out(&p, 190.0, 150.0, 210.0, 195.0);
    sample_plan_good(&p, SAMPLE_GRID);
    assert_int_equal(p.summary.points, 2);
    assert_int_equal(p.summary.skipped, 1);
}

static void listed_places_outside_the_area_are_refused(void **unused)
{
    (void)unused;
    static const double places[][2] = {{10, 10}, {400.001, 20}};
    p.grid.place = places;
    p.grid.place_count = 2;
    refused(TU_DATA_RANGE, "", "place 2, X 400.001 Y 20.000, lies outside");
    p.grid.place_count = 0;
    refused(TU_DATA_RANGE, "", "0 places to touch");
}

static void what_the_cutter_is_off_by_is_kept_off_too(void **unused)
{
    (void)unused;
    /* 3.175 and 3, half of the tolerance and half of the run-out. */
    p.cutter.diameter = tu_quantity_mm(6.35, 0.02);
    p.cutter.run_out = tu_quantity_exact(0.04);
    sample_plan_add_keep_out(&p, 180.0, 90.0, 200.0 - 6.206, 110.0);
    sample_plan_good(&p, SAMPLE_GRID);
    assert_int_equal(p.summary.skipped, 0);
    p.keep_out[0].x1_mm = 200.0 - 6.204;
    sample_plan_good(&p, SAMPLE_GRID);
    assert_int_equal(p.summary.skipped, 1);
}

static void points_are_skipped_by_the_cutters_radius_and_the_clearance(void **unused)
{
    (void)unused;
    /* 3.175 + 3 = 6.175 from the point (200, 100): to the right edge, then to a corner at 45
     * degrees, 4.366 off both ways. */
    sample_plan_add_keep_out(&p, 180.0, 90.0, 200.0 - 6.176, 110.0);
    sample_plan_good(&p, SAMPLE_GRID);
    assert_int_equal(p.summary.skipped, 0);
    p.keep_out[0].x1_mm = 200.0 - 6.174;
    sample_plan_good(&p, SAMPLE_GRID);
    assert_int_equal(p.summary.skipped, 1);
    p.keep_out[0] = (tu_rectangle){180.0, 80.0, 200.0 - 4.367, 100.0 - 4.367};
    sample_plan_good(&p, SAMPLE_GRID);
    assert_int_equal(p.summary.skipped, 0);
    p.keep_out[0] = (tu_rectangle){180.0, 80.0, 200.0 - 4.366, 100.0 - 4.366};
    sample_plan_good(&p, SAMPLE_GRID);
    assert_int_equal(p.summary.skipped, 1);
}

static void draw_layout(check_random *random)
{
    sample_plan_end(&p);
    sample_plan_start(&p);
    p.grid.area = (tu_rectangle){-50.0, 20.0, check_random_uniform(random, 50, 350),
                                 check_random_uniform(random, 100, 300)};
    p.grid.columns = 2 + check_random_below(random, 9);
    p.grid.rows = 2 + check_random_below(random, 9);
    p.style.unit = check_random_below(random, 2) == 1 ? TU_UNIT_INCH : TU_UNIT_MM;
    p.style.repeats = 1;
    p.style.clearance_mm = check_random_uniform(random, 0.5, 5.0);
    p.cutter.diameter = tu_quantity_exact(check_random_uniform(random, 1.0, 16.0));
    size_t count = check_random_below(random, 9);
    for (size_t i = 0; i < count; i++) {
        double x = check_random_uniform(random, -80, 350), y = check_random_uniform(random, 0, 300);
        sample_plan_add_keep_out(&p, x, y, x + check_random_uniform(random, 3, 80),
                                 y + check_random_uniform(random, 3, 80));
    }
}

/* Every place of every traverse against every keep-out grown by the cutter's radius, a millimetre
 * apart. */
static void check_traverses(void)
{
    double radius = p.cutter.diameter.value_mm / 2.0;
    for (size_t i = 1; i < path_count; i++) {
        tu_plan_spot from = path[i - 1], to = path[i];
        int steps = 1 + (int)hypot(to.x - from.x, to.y - from.y);
        for (int k = 0; k <= steps; k++) {
            double t = (double)k / steps;
            tu_plan_spot at = {from.x + t * (to.x - from.x), from.y + t * (to.y - from.y)};
            assert_true(is_allowed(at, radius + 0.4));
        }
    }
}

static void layouts_at_random_touch_what_is_free_and_cross_nothing(void **unused)
{
    (void)unused;
    check_random random = check_random_seed(5);
    size_t detours = 0, skipped = 0, shorter = 0, refusals = 0;
    size_t layouts = check_runs(500, 2000);
    for (size_t layout = 0; layout < layouts; layout++) {
        draw_layout(&random);
        tu_status status = sample_plan_write(&p, SAMPLE_GRID);
        if (status) {
            assert_string_equal(p.error.where, "{keep_out}");
            refusals++;
            continue;
        }
        read_path();
        check_traverses();
        size_t free_points = 0, points = 0;
        double keep = p.cutter.diameter.value_mm / 2.0 + p.style.clearance_mm;
        for (size_t i = 0; i < p.grid.columns * p.grid.rows; i++) {
            double u = (double)(i % p.grid.columns) / (double)(p.grid.columns - 1);
            double v = (double)(i / p.grid.columns) / (double)(p.grid.rows - 1);
            tu_plan_spot spot = {-50.0 + u * (p.grid.area.x1_mm + 50.0),
                                 20.0 + v * (p.grid.area.y1_mm - 20.0)};
            free_points += is_allowed(spot, keep);
        }
        for (size_t i = 0; i < path_count; i++)
            points += touched[i];
        assert_int_equal(points, p.summary.points);
        assert_int_equal(p.summary.points + p.summary.skipped, p.grid.columns * p.grid.rows);
        assert_true(points == free_points ||
                    (points < free_points && p.summary.warnings.count == 1));
        detours += path_count > points;
        skipped += p.summary.skipped > 0;
        assert_true(p.summary.path_mm <= p.summary.naive_mm);
        check_close(path_length(), p.summary.path_mm, 0.01 * (double)path_count, "mm");
        shorter += p.summary.path_mm < p.summary.naive_mm;
    }
    assert_true(4 * detours > layouts && 4 * skipped > layouts && 5 * shorter > 3 * layouts &&
                20 * refusals < layouts);
}

static void near_keep_outs_the_start_window_is_narrower(void **unused)
{
    (void)unused;
    /* 0.7 of the clearance of 3: sqrt(2) 2.1 = 2.97, still short of a keep-out. */
    sample_plan_good(&p, SAMPLE_GRID);
    check_contains(p.summary.start, "each within 3.0 mm");
    sample_plan_add_keep_out(&p, 10.0, 10.0, 20.0, 20.0);
    sample_plan_good(&p, SAMPLE_GRID);
    check_contains(p.summary.start, "each within 2.1 mm");
}

static void points_that_no_way_leads_to_are_told(void **unused)
{
    (void)unused;
    sample_plan_add_keep_out(&p, 240.0, -10.0, 260.0, 310.0); /* across the whole area */
    sample_plan_good(&p, SAMPLE_GRID);
    assert_int_equal(p.summary.points, 12); /* three columns of four on the left */
    assert_int_equal(p.summary.skipped, 8);
    check_contains(p.summary.warnings.text[0], "8 points are left out because no way");
}

/* --- On the virtual machine --- */

static sample_run run;

static void make_bed(void)
{
    tu_scene *scene = &run.scene;
    sample_scene_start(scene);
    scene->stock_present = scene->plate_present = false;
    scene->bed_conducts = true;
    scene->cutter = p.cutter;
    scene->bed.height_mm = -80.0;
    scene->slot_mm[0][0] = 300.0;
    scene->slot_mm[0][1] = 200.0;
    scene->slot_mm[0][2] = -55.0;
    for (size_t i = 0; i < p.grid.keep_out_count; i++) {
        const tu_rectangle *r = &p.keep_out[i];
        sample_scene_add_block(scene, "clamp",
                               (tu_machine_point){300 + r->x0_mm, 200 + r->y0_mm, -90},
                               (tu_machine_point){300 + r->x1_mm, 200 + r->y1_mm, 0});
    }
}

/* No touch falls short of the press, and none presses more than is stated. */
static void check_presses(void)
{
    for (size_t i = 0; i < run.moves && i < SAMPLE_RUN_MOVES; i++) {
        const tu_rehearsal_move *move = &run.move[i];
        if (move->kind == 2)
            check_between(sample_plan_probe_length(p.program, move->line, p.style.unit) -
                              (move->from.z - move->to.z),
                          p.style.press_mm - 0.01, p.summary.worst_press_mm[1] + 0.01, "press, mm");
    }
}

static void a_rehearsed_grid_finds_the_beds_heights(void **unused)
{
    (void)unused;
    check_random random = check_random_seed(3);
    for (int layout = 0; layout < 60; layout++) {
        draw_layout(&random);
        p.cutter.shape = TU_CUTTER_BALL;
        p.grid.variation_mm = 1.5;
        if (sample_plan_write(&p, SAMPLE_GRID))
            continue;
        make_bed();
        tu_bed_surface *bed = &run.scene.bed;
        bed->columns = bed->rows = 5;
        bed->map_x0_mm = bed->map_y0_mm = 0.0;
        bed->map_dx_mm = 300.0;
        bed->map_dy_mm = 200.0;
        for (int i = 0; i < 25; i++)
            bed->map_mm[i] = check_random_uniform(&random, -0.7, 0.7);
        double window = fmin(p.style.window_mm, 0.7 * p.style.clearance_mm);
        double x = 300 + p.summary.start_mm[0] + check_random_uniform(&random, -window, window);
        double y = 200 + p.summary.start_mm[1] + check_random_uniform(&random, -window, window);
        double height =
            tu_bed_surface_height(bed, 300 + p.summary.start_mm[0], 200 + p.summary.start_mm[1]);
        run.scene.start =
            (tu_machine_point){x, y, height + check_random_uniform(&random, 2.1, 7.9)};
        sample_rehearse_clean(&run, p.program);
        assert_int_equal(run.hits, 2 * p.summary.points);
        check_presses();
        for (size_t i = 0; i < run.hits && i < SAMPLE_RUN_HITS; i++) {
            const tu_hit *hit = &run.hit[i];
            assert_int_equal(hit->ok, i % 2 == 1);
            assert_string_equal(hit->series, "bed");
            /* A ball on a slope of at most 1.4 in 200 touches beside its tip: r s s / 2. */
            check_close(hit->position.z,
                        tu_bed_surface_height(bed, hit->position.x, hit->position.y), 1e-3,
                        "bed, mm");
        }
    }
}

/* --- Refusals --- */

static void areas_that_cannot_be_are_refused(void **unused)
{
    (void)unused;
    p.grid.area = (tu_rectangle){400.0, 0.0, 0.0, 300.0};
    refused(TU_DATA_RANGE, "{area}", "front left corner");
    p.grid.area = (tu_rectangle){0.0, 0.0, 1200.1, 300.0};
    refused(TU_DATA_RANGE, "{area}", "the machine's travel is 1200.0 mm");
    p.grid.area = (tu_rectangle){0.0, 0.0, 1199.0, 300.0}; /* and the window */
    refused(TU_DATA_RANGE, "machine", "may need 1208.0 mm of X");
    p.grid.area = (tu_rectangle){0.0, NAN, 400.0, 300.0};
    refused(TU_DATA_RANGE, "{area}", "must lie within");
    p.grid.area = (tu_rectangle){0.0, 0.0, 20000.0, 300.0};
    refused(TU_DATA_RANGE, "{area}", "must lie within");
}

static void grids_too_fine_or_too_coarse_are_refused(void **unused)
{
    (void)unused;
    p.grid.columns = 1;
    refused(TU_DATA_RANGE, "{columns}", "2 to 100");
    p.grid.columns = 101;
    refused(TU_DATA_RANGE, "{columns}", "2 to 100");
    p.grid.columns = 100;
    p.grid.area = (tu_rectangle){0.0, 0.0, 98.9, 300.0};
    refused(TU_DATA_RANGE, "{columns}", "0.999 mm apart");
    p.grid.columns = 5;
    p.grid.rows = 0;
    refused(TU_DATA_RANGE, "{rows}", "2 to 100");
}

static void keep_outs_that_leave_nothing_are_refused(void **unused)
{
    (void)unused;
    sample_plan_add_keep_out(&p, -10.0, -10.0, 410.0, 310.0);
    refused(TU_DATA_CONFLICT, "{keep_out}", "leave no point");
    p.keep_out[0] = (tu_rectangle){10.0, 10.0, 10.0, 20.0};
    refused(TU_DATA_RANGE, "{keep_out}", "number 1");
    p.grid.keep_out_count = TU_KEEP_OUT_MAX + 1;
    refused(TU_DATA_RANGE, "{keep_out}", "more than 32");
}

static void what_a_grid_has_no_use_for_is_refused(void **unused)
{
    (void)unused;
    p.style.set = true;
    refused(TU_USAGE, "{set}", "sets nothing");
    p.style.set = false;
    p.grid.cutter = NULL;
    refused(TU_DATA_MISSING, "{cutter}", "needs the cutter");
    p.grid.cutter = &p.cutter;
    const double diameters[] = {0.0, -1.0, NAN, INFINITY};
    for (int i = 0; i < 4; i++) {
        p.cutter.diameter.value_mm = diameters[i];
        refused(TU_DATA_RANGE, "{cutter}", "above zero");
    }
    p.cutter.diameter.value_mm = 6.35;
    const double variations[] = {0.0, 20.1, NAN};
    for (int i = 0; i < 3; i++) {
        p.grid.variation_mm = variations[i];
        refused(TU_DATA_RANGE, "{variation}", "must lie from");
    }
    p.grid.variation_mm = 1.0;
    strcpy(p.grid.series, "a b");
    refused(TU_DATA_RANGE, "{series_name}", "letters");
}

static void a_fine_grid_among_32_clamps_is_planned(void **unused)
{
    (void)unused;
    size_t side = check_runs(50, 100);
    p.grid.columns = p.grid.rows = side;
    p.style.repeats = 1;
    for (int i = 0; i < 32; i++)
        sample_plan_add_keep_out(&p, 10 + 48 * (i % 8), 15 + 70 * (i / 8), 30 + 48 * (i % 8),
                                 45 + 70 * (i / 8));
    sample_plan_good(&p, SAMPLE_GRID);
    read_path();
    check_traverses();
    assert_true(10 * p.summary.points > 3 * side * side && 10 * p.summary.skipped > side * side);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_free_area_is_touched_there_and_back),
        TEST(the_shorter_direction_is_taken),
        TEST(listed_places_are_touched_by_a_shorter_way_than_listed),
        TEST(listed_places_near_a_keep_out_are_left_out),
        TEST(listed_places_outside_the_area_are_refused),
        TEST(points_are_skipped_by_the_cutters_radius_and_the_clearance),
        TEST(what_the_cutter_is_off_by_is_kept_off_too),
        TEST(layouts_at_random_touch_what_is_free_and_cross_nothing),
        TEST(near_keep_outs_the_start_window_is_narrower),
        TEST(points_that_no_way_leads_to_are_told),
        TEST(a_rehearsed_grid_finds_the_beds_heights),
        TEST(areas_that_cannot_be_are_refused),
        TEST(grids_too_fine_or_too_coarse_are_refused),
        TEST(keep_outs_that_leave_nothing_are_refused),
        TEST(what_a_grid_has_no_use_for_is_refused),
        TEST(a_fine_grid_among_32_clamps_is_planned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
