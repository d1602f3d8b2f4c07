/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Suspects, against beds whose chips are known: clean beds raise them no oftener than stated, and
 * chips planted in rough beds are found. Noise is drawn by tests/support, not by the code tested.
 */
#include "bed_sample.h"

#include "bed/neighbours.h"
#include "bed/smooth_shape.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define NOISE_MM 0.03

enum { ROOM = 8 };

typedef struct trial {
    tu_bed_suspect suspect[ROOM];
    tu_bed_suspects all;
} trial;

static void judge(const tu_bed_point *points, size_t count, trial *t)
{
    const size_t bytes = tu_bed_suspects_bytes(count);
    void *memory = malloc(bytes);
    tu_error error;

    assert_non_null(memory);
    t->all = (tu_bed_suspects){.suspect = t->suspect, .room = ROOM};
    check_status(tu_bed_find_suspects(points, count, NAN, NAN, memory, bytes, &t->all, &error),
                 TU_OK, &error);
    free(memory);
}

static bool is_suspect(const trial *t, size_t index)
{
    for (size_t k = 0; k < t->all.count && k < ROOM; k++)
        if (t->suspect[k].index == index)
            return true;
    return false;
}

/* A tilted, bowed and twisted bed with noise; jitter moves the points off their grid. */
static void make_bed(tu_bed_point *points, size_t columns, size_t rows, double jitter_mm,
                     check_random *random)
{
    const double bow = check_random_uniform(random, -0.5, 0.5);
    const double twist = check_random_uniform(random, -0.5, 0.5);

    for (size_t i = 0; i < columns * rows; i++) {
        const double u = (double)(i % columns) / (double)(columns - 1) * 2 - 1;
        const double v = (double)(i / columns) / (double)(rows - 1) * 2 - 1;
        points[i] = (tu_bed_point){
            80 * (double)(i % columns) + check_random_uniform(random, -jitter_mm, jitter_mm),
            80 * (double)(i / columns) + check_random_uniform(random, -jitter_mm, jitter_mm),
            0.4 * u + bow * u * u + twist * u * v + check_random_normal(random, 0, NOISE_MM)};
    }
}

static void clean_beds_raise_none_oftener_than_stated(void **state)
{
    (void)state;
    static const size_t sizes[][2] = {{4, 4}, {7, 5}, {9, 7}, {12, 10}};
    tu_bed_point points[120];

    for (size_t k = 0; k < 4; k++) {
        check_random random = check_random_seed(k + 100);
        size_t alarms = 0;
        for (size_t run = 0; run < 500; run++) {
            trial t;
            make_bed(points, sizes[k][0], sizes[k][1], k % 2 ? 10 : 0, &random);
            judge(points, sizes[k][0] * sizes[k][1], &t);
            alarms += t.all.count > 0;
        }
        /* 5 % of 500 is 25, its standard deviation 4.9 */
        assert_in_range(alarms, 0, 25 + 15);
    }
}

/* --- Beds of all layouts, with a smooth shape that is no quadratic --- */

typedef enum layout { LONG, FAR_ROWS, FAR_COLUMNS, UNEVEN, L_SHAPE, OFF_LINE, SCATTERED } layout;

static size_t lay_out(layout kind, tu_bed_point *points, check_random *random)
{
    static const double step[7][2] = {{103, 67}, {40, 400}, {500, 50}, {80, 80},
                                      {80, 80},  {80, 80},  {80, 80}};
    const size_t columns = kind == LONG ? 30 : kind == FAR_COLUMNS ? 5 : 12;
    const size_t rows = kind == LONG ? 4 : kind == FAR_ROWS ? 5 : 8;
    double place[2][30] = {{0}};
    size_t count = 0;

    for (int axis = 0; axis < 2; axis++)
        for (size_t i = 1; i < 30; i++)
            place[axis][i] =
                place[axis][i - 1] +
                (kind == UNEVEN ? check_random_uniform(random, 20, 150) : step[kind][axis]);
    for (size_t j = 0; j < rows; j++) {
        for (size_t i = 0; i < columns; i++) {
            tu_bed_point p = {place[0][i], place[1][j], 0};
            if (kind == L_SHAPE && i >= 5 && j >= 4)
                continue;
            if (kind == OFF_LINE) {
                p.x_mm += check_random_uniform(random, -20, 20);
                p.y_mm += check_random_uniform(random, -20, 20);
            }
            if (kind == SCATTERED) {
                p.x_mm = check_random_uniform(random, 0, 1200);
                p.y_mm = check_random_uniform(random, 0, 800);
            }
            points[count++] = p;
        }
    }
    return count;
}

/* Waves as long as the bed, or one sag all over, 0.05 to 1 mm; noise from none to 0.03 mm. */
static void bend(tu_bed_point *points, size_t count, size_t run, check_random *random)
{
    static const double size[] = {0.05, 0.3, 1}, noise[] = {0, 0.002, 0.01, NOISE_MM};
    const double pi = acos(-1), height = size[run % 3], rough = noise[run / 3 % 4];
    const double phase = check_random_uniform(random, 0, 2 * pi);
    double length = 0, width = 0;

    for (size_t i = 0; i < count; i++) {
        length = fmax(length, points[i].x_mm);
        width = fmax(width, points[i].y_mm);
    }
    for (size_t i = 0; i < count; i++) {
        const double u = points[i].x_mm / length, v = points[i].y_mm / width;
        const double wave = height / 2 * sin(2 * pi * u + phase);
        const double shape[] = {wave, wave * (2 * v - 1), height * sin(pi * u) * sin(pi * v)};
        points[i].z_mm = 0.4 * u + shape[run / 12 % 3] + check_random_normal(random, 0, rough);
    }
}

static void smooth_beds_of_all_layouts_raise_none_oftener_than_stated(void **state)
{
    (void)state;
    static tu_bed_point points[120];
    check_random random = check_random_seed(150);
    size_t all = 0;

    for (int kind = LONG; kind <= SCATTERED; kind++) {
        size_t alarms = 0;
        for (size_t run = 0; run < 360; run++) {
            trial t;
            const size_t count = lay_out((layout)kind, points, &random);
            bend(points, count, run, &random);
            judge(points, count, &t);
            alarms += t.all.count > 0;
            if (kind != SCATTERED)
                assert_int_equal(t.all.judged, count);
        }
        /* 5 % of 360 is 18, its standard deviation 4.1 */
        assert_in_range(alarms, 0, 18 + 13);
        all += alarms;
    }
    assert_in_range(all, 0, 126 + 22); /* of 2520; two standard deviations */
}

static void chips_in_waves_are_found(void **state)
{
    (void)state;
    static tu_bed_point points[120];
    check_random random = check_random_seed(160);
    size_t found = 0;

    for (size_t run = 0; run < 180; run++) {
        trial t;
        const size_t count = lay_out(run % 2 ? LONG : L_SHAPE, points, &random);
        bend(points, count, run / 2 * 3 + 2, &random);
        const size_t at = check_random_below(&random, count);
        points[at].z_mm += 0.4;
        judge(points, count, &t);
        found += is_suspect(&t, at);
    }
    assert_in_range(found, 171, 180); /* 95 % */
}

static void chips_in_rough_beds_are_found_and_alone(void **state)
{
    (void)state;
    tu_bed_point points[120];
    check_random random = check_random_seed(200);
    size_t found = 0, others = 0;

    for (size_t run = 0; run < 200; run++) {
        trial t;
        make_bed(points, 12, 10, 10, &random);
        const size_t a = check_random_below(&random, 60), b = 60 + check_random_below(&random, 60);
        points[a].z_mm += 10 * NOISE_MM;
        points[b].z_mm -= 10 * NOISE_MM;
        judge(points, 120, &t);
        found += is_suspect(&t, a) + is_suspect(&t, b);
        others += t.all.count - (is_suspect(&t, a) + is_suspect(&t, b));
        check_between(t.all.scatter_mm, 0.6 * NOISE_MM, 1.6 * NOISE_MM, "scatter, mm");
    }
    assert_in_range(found, 392, 400);
    assert_in_range(others, 0, 25); /* 5 % of 200, and what chips add */
}

static void the_stated_power_is_the_power(void **state)
{
    (void)state;
    tu_bed_point points[120];
    check_random random = check_random_seed(300);
    size_t found = 0;

    for (size_t run = 0; run < 400; run++) {
        trial t;
        make_bed(points, 12, 10, 0, &random);
        judge(points, 120, &t);
        points[65].z_mm += t.all.least_inside_mm;
        judge(points, 120, &t);
        found += is_suspect(&t, 65);
    }
    /* one half of 400; the place's own noise is in both, the scale changes a little */
    assert_in_range(found, 150, 250);
}

static void chips_are_found_as_often_as_the_manual_says(void **state)
{
    (void)state;
    static const size_t sizes[][2] = {{5, 5}, {7, 7}, {12, 8}, {20, 20}};
    static const double chips[] = {4, 5, 6, 7, 8, 10};
    static tu_bed_point points[400];
    check_random random = check_random_seed(350);

    for (size_t k = 0; k < 4; k++) {
        const size_t count = sizes[k][0] * sizes[k][1];
        const size_t runs = count > 100 ? 60 : 300;
        double stated[6];
        char name[24];
        snprintf(name, sizeof name, "%zu", count);
        bed_read_row("## Suspects", name, stated, 6);
        for (size_t size = 0; size < 6; size++) {
            size_t found = 0;
            for (size_t run = 0; run < runs; run++) {
                trial t;
                make_bed(points, sizes[k][0], sizes[k][1], 0, &random);
                const size_t at = check_random_below(&random, count);
                points[at].z_mm += (run % 2 ? chips[size] : -chips[size]) * NOISE_MM;
                judge(points, count, &t);
                found += is_suspect(&t, at);
            }
            const double share = stated[size] / 100;
            const double sd = sqrt((share * (1 - share) + 0.004) / (double)runs);
            check_close((double)found / (double)runs, share, 0.01 + 3 * sd, "share found");
        }
    }
}

static void the_residual_is_signed_and_the_worst_comes_first(void **state)
{
    (void)state;
    tu_bed_point points[120];
    check_random random = check_random_seed(400);
    trial t;

    make_bed(points, 12, 10, 0, &random);
    points[30].z_mm -= 0.8;
    points[90].z_mm += 0.5;
    judge(points, 120, &t);
    assert_int_equal(t.all.count, 2);
    assert_int_equal(t.suspect[0].index, 30);
    assert_int_equal(t.suspect[1].index, 90);
    check_close(t.suspect[0].residual_mm, -0.8, 0.12, "chip, mm");
    check_close(t.suspect[1].residual_mm, 0.5, 0.12, "bump, mm");
    assert_true(t.suspect[0].score > t.suspect[1].score);
    assert_true(t.suspect[1].score > t.all.threshold);
}

static void a_perfect_bed_has_none_and_one_chip_is_seen(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(9, 7, 100, bed_tilted);
    trial t;

    judge(points, 63, &t);
    assert_int_equal(t.all.count, 0);
    points[31].z_mm -= 0.01;
    judge(points, 63, &t);
    assert_int_equal(t.all.count, 1);
    assert_int_equal(t.suspect[0].index, 31);
    free(points);
}

static void few_points_are_not_judged(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(4, 2, 100, bed_tilted);
    trial t;

    points[3].z_mm += 5;
    judge(points, 8, &t);
    assert_int_equal(t.all.count, 0);
    assert_int_equal(t.all.judged, 0);
    check_nan(t.all.threshold, "threshold");
    free(points);
    points = bed_grid(3, 3, 100, bed_tilted); /* nine are just enough */
    judge(points, 9, &t);
    assert_int_equal(t.all.judged, 9);
    assert_true(t.all.threshold > 0);
    free(points);
}

static void a_rate_or_a_floor_that_cannot_be_is_refused(void **state)
{
    (void)state;
    const double bad[][2] = {{0, 0.01}, {1, 0.01}, {-0.1, 0.01}, {0.05, 0}, {0.05, -1}};
    tu_bed_point *points = bed_grid(4, 4, 100, bed_tilted);
    tu_bed_suspects all = {0};
    tu_error error;

    for (size_t k = 0; k < 5; k++)
        check_status(tu_bed_find_suspects(points, 16, bad[k][0], bad[k][1], NULL, 0, &all, &error),
                     TU_DATA_RANGE, &error);
    char memory[16];
    check_status(tu_bed_find_suspects(points, 16, NAN, NAN, memory, sizeof memory, &all, &error),
                 TU_USAGE, &error);
    free(points);
}

static double cubic(double x_mm, double y_mm)
{
    const double u = x_mm / 500, v = y_mm / 300;
    return 1 + 0.3 * u - 0.2 * v + u * u * v - 0.4 * v * v * v;
}

/* A surface that is a polynomial is taken off whole: what is left is the floor's share of noise. */
static void a_polynomial_is_taken_off_whole(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(8, 6, 100, cubic);
    const size_t bytes = tu_bed_smooth_bytes(48);
    void *memory = malloc(bytes);
    tu_bed_memory block;
    double rest[48];
    tu_error error;

    assert_non_null(memory);
    check_status(tu_bed_memory_start(&block, memory, bytes, bytes, &error), TU_OK, &error);
    tu_bed_smooth_take_off(points, 48, 1e-9, &block, rest);
    for (size_t i = 0; i < 48; i++)
        check_close(rest[i], 0, 1e-9, "height above the shape, mm");
    free(memory);
    free(points);
}

static void more_suspects_than_room_are_counted(void **state)
{
    (void)state;
    tu_bed_point *points = bed_grid(40, 40, 20, bed_tilted);
    trial t;

    for (size_t k = 0; k < 20; k++)
        points[(k / 5 * 9 + 5) * 40 + k % 5 * 8 + 3].z_mm -= 0.1 + 0.01 * (double)k;
    judge(points, 1600, &t);
    assert_int_equal(t.all.count, 20);
    for (size_t k = 0; k < ROOM; k++)
        check_close(t.suspect[k].residual_mm, -0.29 + 0.01 * (double)k, 0.01, "chip, mm");
    free(points);
}

static void points_on_one_spot_and_on_a_line_do_no_harm(void **state)
{
    (void)state;
    tu_bed_point points[40];
    trial t;

    for (size_t i = 0; i < 40; i++)
        points[i] =
            (tu_bed_point){i < 20 ? 5 : 10 * (double)i, i < 20 ? 5 : 0, 0.01 * (double)(i % 3)};
    points[39].y_mm = 300;
    judge(points, 40, &t);
    assert_in_range(t.all.judged, 0, 19); /* none of the spot: its neighbours are no plane */
}

/* A network of exchanges puts all numbers right if it does so with zeros and ones (D. E. Knuth, The
 * Art of Computer Programming 3, 5.3.4, theorem Z; from memory). */
static void the_small_median_is_right_for_every_order_of_zeros_and_ones(void **state)
{
    (void)state;
    for (size_t count = 8; count <= TU_BED_NEIGHBOURS_MAX; count++) {
        for (unsigned pattern = 0; pattern < 1u << count; pattern++) {
            double value[TU_BED_NEIGHBOURS_MAX];
            size_t ones = 0;
            for (size_t i = 0; i < count; i++) {
                value[i] = pattern >> i & 1;
                ones += pattern >> i & 1;
            }
            const double expected = 2 * ones == count ? 0.5 : 2 * ones > count ? 1.0 : 0.0;
            assert_true(tu_bed_small_median(value, count) == expected);
        }
    }
    const double of_both_signs[] = {-3, 0.25, 1e-300, -1e300, -0.5, 7, -2, 1e300};
    check_close(tu_bed_small_median(of_both_signs, 8), -0.25, 1e-299, "median of -0.5 and 1e-300");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_small_median_is_right_for_every_order_of_zeros_and_ones),
        cmocka_unit_test(clean_beds_raise_none_oftener_than_stated),
        cmocka_unit_test(smooth_beds_of_all_layouts_raise_none_oftener_than_stated),
        cmocka_unit_test(chips_in_waves_are_found),
        cmocka_unit_test(chips_in_rough_beds_are_found_and_alone),
        cmocka_unit_test(the_stated_power_is_the_power),
        cmocka_unit_test(chips_are_found_as_often_as_the_manual_says),
        cmocka_unit_test(the_residual_is_signed_and_the_worst_comes_first),
        cmocka_unit_test(a_perfect_bed_has_none_and_one_chip_is_seen),
        cmocka_unit_test(few_points_are_not_judged),
        cmocka_unit_test(a_rate_or_a_floor_that_cannot_be_is_refused),
        cmocka_unit_test(a_polynomial_is_taken_off_whole),
        cmocka_unit_test(more_suspects_than_room_are_counted),
        cmocka_unit_test(points_on_one_spot_and_on_a_line_do_no_harm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
