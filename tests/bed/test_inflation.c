/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How far noise makes flatness look worse, against known truth: beds whose figure is known are
 * touched many times with noise drawn here, and the stated ranges have to hold the truth.
 */
#include "bed_sample.h"

#include <math.h>
#include <stdlib.h>

enum { SIDE = 7, COUNT = SIDE * SIDE, RUNS = 60 };

#define NOISE_MM 0.02

typedef double bed_truth(double u, double v, size_t i);

static double flat(double u, double v, size_t i)
{
    (void)u;
    (void)v;
    (void)i;
    return 0;
}

static double twisted(double u, double v, size_t i)
{
    (void)i;
    return 0.05 * u * v;
}

static double bowed(double u, double v, size_t i)
{
    (void)v;
    (void)i;
    return 0.1 * u * u;
}

static double rough(double u, double v, size_t i)
{
    (void)u;
    (void)v;
    return 0.05 * sin(37.0 * (double)i * (double)i);
}

/* Three places equally high. */
static double bumped(double u, double v, size_t i)
{
    (void)u;
    (void)v;
    return i % 17 == 5 ? 0.1 : 0;
}

static void make_bed(tu_bed_point *points, bed_truth *truth, check_random *random)
{
    for (size_t i = 0; i < COUNT; i++) {
        const double u = (double)(i % SIDE) / 3 - 1, v = (double)(i / SIDE) / 3 - 1;
        points[i] = (tu_bed_point){100 * u, 100 * v, truth(u, v, i)};
        if (random)
            points[i].z_mm += check_random_normal(random, 0, NOISE_MM);
    }
}

static tu_inflation inflation_of(const tu_bed_point *points, size_t count,
                                 tu_inflation_request request)
{
    const size_t bytes = tu_bed_inflation_bytes(count);
    void *memory = malloc(bytes);
    tu_inflation inflation;
    tu_error error;

    assert_non_null(memory);
    check_status(tu_bed_find_inflation(points, count, &request, memory, bytes, &inflation, &error),
                 TU_OK, &error);
    free(memory);
    return inflation;
}

/* How often the range holds the truth; the mean inflation stated and the real one. */
static size_t hold_truth(bed_truth *truth, double *stated_mm, double *real_mm)
{
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(11);
    tu_plane_fit fit;
    tu_error error;
    size_t held = 0;

    make_bed(points, truth, NULL);
    check_status(tu_bed_fit_plane(points, COUNT, &fit, &error), TU_OK, &error);
    *stated_mm = *real_mm = 0;
    for (size_t run = 0; run < RUNS; run++) {
        make_bed(points, truth, &random);
        const tu_inflation one =
            inflation_of(points, COUNT,
                         (tu_inflation_request){TU_FIGURE_LEAST_SQUARES, NOISE_MM, NAN, run, 200});
        held += fit.FLTt_mm >= one.low_mm - 1e-12 && fit.FLTt_mm <= one.high_mm + 1e-12;
        *stated_mm += one.inflation_mm / RUNS;
        *real_mm += (one.observed_mm - fit.FLTt_mm) / RUNS;
    }
    return held;
}

static void the_stated_range_holds_the_truth(void **state)
{
    (void)state;
    static bed_truth *const truths[] = {flat, twisted, bowed, rough, bumped};
    size_t held = 0;

    for (size_t k = 0; k < 5; k++) {
        double stated, real;
        const size_t here = hold_truth(truths[k], &stated, &real);
        /* 95 % of 60, less three standard deviations and what a shape not known costs */
        assert_in_range(here, 49, 60);
        held += here;
        /* within the standard deviation of the noise: what shape it is remains unknown */
        check_close(stated, real, NOISE_MM, "mean inflation, mm");
    }
    assert_in_range(held, 270, 300); /* 90 % of all */
}

static void noise_alone_is_told_from_a_bed(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(12);

    make_bed(points, flat, &random);
    const tu_inflation one =
        inflation_of(points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, NAN, 1, 0});
    assert_int_equal(one.trials, 1000);
    check_same(one.low_mm, 0, "smallest true range, mm");
    /* the mean range of 49 normals is 4.48 sd (L. H. C. Tippett, Biometrika 17 (1925): 4.498 at
     * 50, from memory) */
    check_close(one.inflation_mm, 4.48 * NOISE_MM, 0.6 * NOISE_MM, "inflation, mm");
}

static void the_minimum_zone_gets_its_own_figures(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(13);

    make_bed(points, bowed, &random);
    const tu_inflation zone = inflation_of(
        points, COUNT, (tu_inflation_request){TU_FIGURE_MINIMUM_ZONE, NOISE_MM, NAN, 1, 100});
    const tu_inflation squares = inflation_of(
        points, COUNT, (tu_inflation_request){TU_FIGURE_LEAST_SQUARES, NOISE_MM, NAN, 1, 100});
    assert_true(zone.observed_mm < squares.observed_mm);
    check_between(0.1, zone.low_mm, zone.high_mm, "true minimum zone, mm");
}

static void few_touches_of_repeatability_widen_the_range(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(14);

    make_bed(points, bowed, &random);
    const tu_inflation known =
        inflation_of(points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, NAN, 1, 0});
    const tu_inflation guessed =
        inflation_of(points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, 3, 1, 0});
    assert_true(guessed.high_mm - guessed.low_mm > 1.2 * (known.high_mm - known.low_mm));
}

static void the_same_seed_gives_the_same_figures(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(15);
    const tu_inflation_request request = {TU_FIGURE_RANGE, NOISE_MM, NAN, 7, 100};

    make_bed(points, rough, &random);
    const tu_inflation a = inflation_of(points, COUNT, request);
    const tu_inflation b = inflation_of(points, COUNT, request);
    check_same(a.low_mm, b.low_mm, "low, mm");
    check_same(a.inflation_mm, b.inflation_mm, "inflation, mm");
}

static void without_noise_nothing_is_added(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];

    make_bed(points, bowed, NULL);
    const tu_inflation one =
        inflation_of(points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, 0, NAN, 7, 0});
    check_close(one.low_mm, 0.1, 1e-12, "low, mm");
    check_same(one.inflation_mm, 0, "inflation, mm");
}

static void what_cannot_be_said_is_refused(void **state)
{
    (void)state;
    const tu_bed_point three[3] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}};
    char memory[16];
    tu_inflation one;
    tu_error error;
    tu_inflation_request request = {TU_FIGURE_RANGE, 0.02, NAN, 7, 0};

    check_status(tu_bed_find_inflation(three, 3, &request, memory, 16, &one, &error),
                 TU_UNDETERMINED, NULL);
    check_nan(one.low_mm, "low");
    check_status(tu_bed_find_inflation(three, 1000000, &request, memory, 16, &one, &error),
                 TU_DATA_RANGE, NULL);
    request.sd_mm = -1;
    check_status(tu_bed_find_inflation(three, 3, &request, memory, 16, &one, &error), TU_DATA_RANGE,
                 NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_stated_range_holds_the_truth),
        cmocka_unit_test(noise_alone_is_told_from_a_bed),
        cmocka_unit_test(the_minimum_zone_gets_its_own_figures),
        cmocka_unit_test(few_touches_of_repeatability_widen_the_range),
        cmocka_unit_test(the_same_seed_gives_the_same_figures),
        cmocka_unit_test(without_noise_nothing_is_added),
        cmocka_unit_test(what_cannot_be_said_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
