/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_rehearse.c - programs of tu_plan_write_corner on the virtual machine, at random: every
 * corner, kind of plate, unit, shape of cutter, logged and setting the offset; stock turned up to a
 * degree; starts anywhere in the stated window. None may fault, and the zero must be the true one
 * within what is stated.
 *
 * TRUEUP_RUNS=20000 makes that many runs, TRUEUP_SEED another sample (check.h).
 */
#include "check.h"

#include "plan_promises.h"
#include "program/machine.h"
#include "sample_plan.h"
#include "sample_scene.h"
#include "trueup/plan.h"
#include "trueup/zero.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SIDES, RISING, BORE, MIXED, ON_BED, KINDS };

/* One run: what is planned (nominal sizes), the scene (true sizes), and what came out. */
typedef struct trial {
    check_random random;
    int kind;
    bool extreme;
    tu_plate plate;
    tu_cutter cutter;
    tu_machine machine;
    tu_plan_corner plan;
    tu_plan_style style;
    tu_plan_summary summary;
    char *program;
    size_t length;
    tu_touch touch[TU_AXIS_COUNT][2][64]; /* [1]: high sides of a bore */
    size_t count[TU_AXIS_COUNT][2];
    tu_zero_result zero;
    tu_machine_point truth;
} trial;

static trial it;
static sample_run run;

static double between(double low, double high)
{
    return check_random_uniform(&it.random, low, high);
}

static bool either(void)
{
    return check_random_below(&it.random, 2) == 1;
}

/* Of what a start and a table may be off: anywhere between, or at the very ends. */
static double off(double low, double high)
{
    return it.extreme ? (either() ? low : high) : between(low, high);
}

/* A size with a tolerance, as the shop file states it. */
static tu_quantity stated(double low, double high, double tolerance)
{
    return tu_quantity_mm(between(low, high), tolerance);
}

/* What it truly is. */
static void make_true(tu_quantity *quantity)
{
    if (!isnan(quantity->value_mm) && quantity->tolerance_mm > 0.0)
        quantity->value_mm += off(-quantity->tolerance_mm, quantity->tolerance_mm);
}

/* --- What is planned --- */

static void draw_rising_wall(tu_wall *wall, tu_quantity extent[2])
{
    wall->facing = either() ? TU_FACES_OUTWARD : TU_FACES_INWARD;
    wall->rise = tu_quantity_exact(between(5.0, 12.0));
    wall->touch_depth = tu_quantity_exact(between(1.0, wall->rise.value_mm - 0.6));
    if (wall->facing == TU_FACES_OUTWARD) {
        wall->offset = stated(-25.0, 5.0, 0.03);
        extent[1] = tu_quantity_exact(wall->offset.value_mm + 45.0);
    } else {
        wall->offset = stated(-10.0, 25.0, 0.03);
    }
}

static void draw_side_wall(tu_wall *wall)
{
    wall->facing = TU_FACES_OUTWARD;
    wall->offset = stated(-15.0, 12.0, 0.03);
    wall->touch_depth = tu_quantity_exact(between(1.0, it.plate.thickness.value_mm - 1.1));
    wall->rise = either() ? tu_quantity_none() : tu_quantity_exact(0.0);
}

/* Beside the stock: along a wholly outside, along b over and past the corner. */
static void draw_on_bed(void)
{
    it.plan.seat = TU_SEAT_BED;
    for (int w = 0; w < 2; w++) {
        tu_wall *wall = &it.plate.wall[w];
        draw_side_wall(wall);
        wall->offset = w == 0 ? stated(45.0, 70.0, 0.03) : stated(5.0, 25.0, 0.03);
        it.plate.extent[w][0] = tu_quantity_exact(w == 0 ? 2.0 : -40.0);
        it.plate.extent[w][1] = tu_quantity_exact(wall->offset.value_mm);
    }
}

static void draw_plate(void)
{
    tu_plate *plate = &it.plate;
    *plate = tu_plate_start();
    snprintf(plate->name, sizeof plate->name, "drawn");
    plate->thickness = stated(6.0, 14.0, 0.02);
    plate->turned = either();
    for (int w = 0; w < 2; w++)
        plate->wall[w].present = it.kind != BORE;
    if (it.kind == BORE) {
        plate->bore.present = true;
        /* Sides of a bore at the very edge of its tolerance would be refused as another cutter. */
        plate->bore.diameter = stated(26.0, 40.0, 0.005);
        plate->bore.centre[0] = stated(-25.0, 10.0, 0.03);
        plate->bore.centre[1] = stated(-25.0, 10.0, 0.03);
        plate->bore.touch_depth = tu_quantity_exact(between(2.0, plate->thickness.value_mm - 1.1));
        return;
    }
    if (it.kind == ON_BED) {
        draw_on_bed();
        return;
    }
    for (int w = 0; w < 2; w++)
        if (it.kind == RISING || (it.kind == MIXED && either()))
            draw_rising_wall(&plate->wall[w], plate->extent[w]);
        else
            draw_side_wall(&plate->wall[w]);
}

static void draw_cutter(void)
{
    tu_cutter *cutter = &it.cutter;
    *cutter = tu_cutter_start();
    snprintf(cutter->name, sizeof cutter->name, "drawn");
    const tu_cutter_shape shapes[] = {TU_CUTTER_FLAT, TU_CUTTER_BALL, TU_CUTTER_VEE,
                                      TU_CUTTER_BULL};
    cutter->shape = shapes[check_random_below(&it.random, 4)];
    cutter->diameter = stated(3.0, 12.0, 0.01);
    if (cutter->shape == TU_CUTTER_BULL)
        cutter->corner_radius = tu_quantity_exact(between(0.3, 1.2));
    if (cutter->shape == TU_CUTTER_VEE) {
        cutter->included_rad = between(40.0, 120.0) * M_PI / 180.0;
        cutter->tip = tu_quantity_exact(between(0.0, 0.4));
    }
    if (either()) {
        cutter->flutes = 1 + (int)check_random_below(&it.random, 4);
        cutter->turned_within_rad = between(1.0, 8.0) * M_PI / 180.0;
        if (either())
            cutter->helix_rad = between(0.0, 40.0) * M_PI / 180.0;
    }
    if (either() && cutter->flutes == 0)
        cutter->run_out = tu_quantity_exact(0.02);
}

static void draw_plan(void)
{
    /* One in four a side face; a plate that lies always the same way serves it with one wall. */
    size_t target = check_random_below(&it.random, 4) == 0 ? 8 + check_random_below(&it.random, 4)
                                                           : check_random_below(&it.random, 8);
    it.plan = tu_plan_corner_start();
    check_status(tu_target_parse(tu_target_name_at(target), &it.plan.target, NULL), TU_OK, NULL);
    it.kind = (int)check_random_below(&it.random, KINDS);
    draw_cutter();
    draw_plate();
    if (tu_target_is_face(it.plan.target))
        it.plan.wall = it.plate.turned ? (int)check_random_below(&it.random, 2)
                                       : it.plan.target.outward[TU_AXIS_X] == 0;
    it.machine = run.scene.machine;
    it.plan.machine = &it.machine;
    it.plan.plate = &it.plate;
    it.plan.cutter = &it.cutter;
    it.style = tu_plan_style_start();
    it.style.unit = either() ? TU_UNIT_INCH : TU_UNIT_MM;
    it.style.set = either();
    it.style.slot = 1 + (int)check_random_below(&it.random, 9);
    it.style.window_mm = between(0.5, 3.0);
    it.style.repeats = 1 + (int)check_random_below(&it.random, 3);
    it.style.clearance_mm = between(1.0, 4.0);
}

/* --- The scene --- */

static void draw_scene(void)
{
    tu_scene *scene = &run.scene;
    scene->stock_corner = (tu_machine_plane_point){between(250, 600), between(200, 400)};
    scene->stock_size_mm[0] = between(120, 300);
    scene->stock_size_mm[1] = between(120, 250);
    tu_quantity thickness = stated(8.0, 40.0, 0.1);
    it.plan.stock_thickness = thickness;
    make_true(&thickness);
    scene->stock_size_mm[2] = thickness.value_mm;
    scene->stock_angle_rad = off(-1.0, 1.0) * M_PI / 180.0;
    scene->plate = it.plate;
    make_true(&scene->plate.thickness);
    for (int w = 0; w < 2; w++) {
        make_true(&scene->plate.wall[w].offset);
        if (it.kind == BORE)
            make_true(&scene->plate.bore.centre[w]);
        if (it.kind == ON_BED)
            scene->plate.extent[w][1] = scene->plate.wall[w].offset;
    }
    if (it.kind == BORE)
        make_true(&scene->plate.bore.diameter);
    scene->seat = it.plan.seat;
    scene->cutter = it.cutter;
    make_true(&scene->cutter.diameter);
    scene->cutter_angle_rad = between(0.0, 6.28);
    scene->turned_within_rad = it.cutter.turned_within_rad;
    scene->noise_mm = either() ? 0.0 : 0.003;
    scene->latch_delay_s = either() ? 0.0 : 0.004;
    scene->machine.step_mm = it.machine.step_mm = either() ? (double)NAN : 0.0125;
    scene->seed = check_random_bits(&it.random);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        scene->slot_mm[it.style.slot - 1][axis] = between(-100.0, 100.0);
}

/* Lays the plate on the corner that the summary names. */
static void lay_plate(void)
{
    static const char words[] = "the plate lies on the ";
    char name[64];
    const char *start = strstr(it.summary.start, words);
    assert_non_null(start);
    start += strlen(words);
    snprintf(name, sizeof name, "%.*s-top", (int)strcspn(start, " "), start);
    sample_scene_lay(&run.scene, name);
}

/*
 * "X 20 mm right of the bore's centre" may be read along the machine's axes from where the centre
 * should be, or with a rule laid along the plate from where it is: both must do. start: from the
 * stock's corner, along the machine's axes.
 */
static void measure_along_plate(double start[2])
{
    const tu_scene *scene = &run.scene;
    double cosine = cos(scene->stock_angle_rad), sine = sin(scene->stock_angle_rad);
    double should[2], is[2];
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        int wall = tu_plate_wall_for(&it.plate, scene->plate_corner, (tu_axis)axis);
        int outward = scene->plate_corner.outward[axis];
        should[axis] = start[axis] - outward * it.plate.bore.centre[wall].value_mm;
        is[axis] = outward * scene->plate.bore.centre[wall].value_mm + should[axis];
    }
    start[0] = cosine * is[0] - sine * is[1];
    start[1] = sine * is[0] + cosine * is[1];
}

/* Anywhere in the stated window. */
static void draw_start(void)
{
    tu_scene *scene = &run.scene;
    tu_error error;
    tu_machine_point corner;
    check_status(tu_scene_truth(scene, scene->plate_corner, &corner, &error), TU_OK, &error);
    double window = it.style.window_mm;
    double seat = it.plan.seat == TU_SEAT_STOCK ? corner.z : scene->bed.height_mm;
    double face = seat + scene->plate.thickness.value_mm;
    double start[] = {it.summary.start_mm[0], it.summary.start_mm[1]};
    if (it.kind == BORE && either())
        measure_along_plate(start);
    scene->start.x = corner.x + start[0] + off(-window, window);
    scene->start.y = corner.y + start[1] + off(-window, window);
    scene->start.z = face + off(it.style.height_mm[0], it.style.height_mm[1]);
}

/* --- What came out --- */

static void take_hits(void)
{
    memset(it.count, 0, sizeof it.count);
    for (size_t i = 0; i < run.hits; i++) {
        const tu_hit *hit = &run.hit[i];
        if (!hit->ok)
            continue;
        int high = it.kind == BORE && hit->axis != TU_AXIS_Z && hit->direction > 0;
        double across = hit->axis == TU_AXIS_X   ? hit->position.y
                        : hit->axis == TU_AXIS_Y ? hit->position.x
                                                 : (double)NAN;
        double position = hit->axis == TU_AXIS_X   ? hit->position.x
                          : hit->axis == TU_AXIS_Y ? hit->position.y
                                                   : hit->position.z;
        assert_true(it.count[hit->axis][high] < 64);
        it.touch[hit->axis][high][it.count[hit->axis][high]++] =
            tu_touch_start(position, across, hit->direction);
    }
}

static void solve(void)
{
    static tu_zero_request request;
    tu_error error;
    request = tu_zero_request_start();
    request.target = it.plan.target;
    request.wall = it.plan.wall;
    request.machine = it.machine;
    request.plate = &it.plate;
    request.cutter = &it.cutter;
    request.seat = it.plan.seat;
    request.stock_thickness = it.plan.stock_thickness;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        bool pair = it.kind == BORE && axis != TU_AXIS_Z;
        if (pair)
            request.touches[axis] = (tu_axis_touches){.low = it.touch[axis][0],
                                                      .low_count = it.count[axis][0],
                                                      .high = it.touch[axis][1],
                                                      .high_count = it.count[axis][1]};
        else
            request.touches[axis] =
                (tu_axis_touches){.single = it.touch[axis][0], .single_count = it.count[axis][0]};
    }
    check_status(tu_zero_solve(&request, &it.zero, &error), TU_OK, &error);
}

/* What an angle of the stock that nobody measured does, and what a single touch is off by. */
static double allowed_error(int axis, const tu_machine_point *corner)
{
    const tu_scene *scene = &run.scene;
    const tu_axis_zero *zero = &it.zero.axis[axis];
    double step = isnan(scene->machine.step_mm) ? 0.0 : scene->machine.step_mm;
    double error = 2.0 * zero->uncertainty.expanded_mm + step + 4.0 * scene->noise_mm +
                   scene->latch_delay_s * it.style.measure_mm_per_min / 60.0 + 0.002;
    if (axis == TU_AXIS_Z)
        return error;
    double turn = fabs(scene->stock_angle_rad);
    double along =
        it.kind == BORE
            ? fabs(it.plate.bore.centre[0].value_mm) + fabs(it.plate.bore.centre[1].value_mm)
            : fabs(zero->across_mm - (axis == TU_AXIS_X ? corner->y : corner->x));
    double reach = fabs(zero->offset_mm) + 12.0;
    return error + along * tan(turn) + reach * (1.0 / cos(turn) - 1.0);
}

static bool check_zero(char *text, size_t size)
{
    tu_error error;
    tu_machine_point truth, corner;
    check_status(tu_scene_truth(&run.scene, it.plan.target, &truth, &error), TU_OK, &error);
    check_status(tu_scene_truth(&run.scene, run.scene.plate_corner, &corner, &error), TU_OK,
                 &error);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        assert_int_equal(it.zero.axis[axis].asked, it.plan.target.outward[axis] != 0);
        if (!it.zero.axis[axis].asked)
            continue;
        double found = it.zero.axis[axis].zero_mm, allowed = allowed_error(axis, &corner);
        if (!(fabs(found - tu_machine_point_along(truth, (tu_axis)axis)) <= allowed)) {
            snprintf(text, size, "axis %d: zero %.4f, truth %.4f, allowed %.4f", axis, found,
                     tu_machine_point_along(truth, (tu_axis)axis), allowed);
            return false;
        }
        double set = run.result.slot_mm[it.style.slot - 1][axis];
        /* Five decimals of a millimetre or six of an inch, over up to six readings. */
        if (it.style.set &&
            !(run.result.slot_set[it.style.slot - 1][axis] && fabs(set - found) <= 1e-4)) {
            snprintf(text, size, "axis %d: set %.5f, zero %.5f", axis, set, found);
            return false;
        }
    }
    return true;
}

/* --- The runs --- */

static void describe(uint64_t number, const char *text)
{
    fail_msg("run %llu: kind %d, %s, %s, cutter shape %d of %.2f mm with %d flutes: %s",
             (unsigned long long)number, it.kind, tu_target_name(it.plan.target),
             it.style.set ? "set" : "logged", (int)it.cutter.shape, it.cutter.diameter.value_mm,
             it.cutter.flutes, text);
}

static void check_time(uint64_t number)
{
    char text[200];
    double ratio = run.result.seconds / it.summary.seconds;
    snprintf(text, sizeof text, "%.1f s expected, %.1f s needed", it.summary.seconds,
             run.result.seconds);
    if (!(ratio > 0.7 && ratio < 1.3))
        describe(number, text);
}

static bool plan_program(uint64_t number)
{
    tu_error error = {0};
    free(it.program);
    it.program = NULL;
    FILE *out = open_memstream(&it.program, &it.length);
    tu_status status = tu_plan_write_corner(out, &it.plan, &it.style, &it.summary, &error);
    fclose(out);
    if (status) {
        char text[900];
        snprintf(text, sizeof text, "%s: %s", error.where, error.message);
        /* What the drawing of plates cannot know beforehand. */
        if (strstr(error.message, "for the start") != NULL ||
            strstr(error.message, "the start needs plate") != NULL)
            return false;
        describe(number, text);
    }
    return true;
}

static bool run_one(uint64_t number)
{
    it.random = check_random_seed(number);
    sample_scene_start(&run.scene);
    it.extreme = check_random_below(&it.random, 4) == 0;
    draw_plan();
    draw_scene();
    if (!plan_program(number))
        return false;
    lay_plate();
    draw_start();
    tu_status status = sample_rehearse(&run, it.program);
    char text[900];
    if (status)
        describe(number, run.error.message);
    if (run.result.fault != TU_FAULT_NONE)
        describe(number, run.result.text);
    if (run.result.mismatch_count + run.result.warnings.count > 0)
        describe(number, run.result.mismatch_count > 0 ? run.result.mismatch[0].text
                                                       : run.result.warnings.text[0]);
    take_hits();
    assert_int_equal(it.count[0][0] + it.count[0][1] + it.count[1][0] + it.count[1][1] +
                         it.count[2][0],
                     it.summary.touches);
    assert_int_equal(run.pauses, it.summary.pauses);
    solve();
    if (!check_zero(text, sizeof text) ||
        !plan_promises_hold(&run, it.program, &it.style, &it.summary, text, sizeof text))
        describe(number, text);
    check_time(number);
    return true;
}

static void random_plans_find_the_true_corner(void **unused)
{
    (void)unused;
    size_t runs = check_runs(500, 10000), done[KINDS] = {0}, all = 0, drawn = 0;
    for (; all < runs && drawn < 3 * runs; drawn++) {
        if (run_one(check_seed(20260) + drawn)) {
            done[it.kind]++;
            all++;
        }
    }
    free(it.program);
    it.program = NULL;
    printf("# %zu runs of %zu drawn: %zu sides, %zu rising, %zu bores, %zu mixed, %zu on the bed\n",
           all, drawn, done[SIDES], done[RISING], done[BORE], done[MIXED], done[ON_BED]);
    assert_int_equal(all, runs);
    for (int kind = 0; kind < KINDS; kind++)
        assert_true(done[kind] * 10 > runs);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(random_plans_find_the_true_corner)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
