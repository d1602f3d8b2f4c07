/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How far noise makes flatness look worse, against known truth: beds whose figure is known are
 * touched many times with noise drawn here, and the stated ranges have to hold the truth.
 */
#include "bed_sample.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { SIDE = 5, COUNT = SIDE * SIDE, RUNS = 50, TRIALS = 100, KINDS = 9, FIGURES = 4 };

#define NOISE_MM 0.02

typedef double bed_truth(double u, double v, size_t i);

static double flat(double u, double v, size_t i)
{
    (void)i;
    return 0 * u * v;
}

static double bowl(double u, double v, size_t i)
{
    (void)i;
    return u * u + v * v;
}

static double twist(double u, double v, size_t i)
{
    (void)i;
    return u * v;
}

static double saddle(double u, double v, size_t i)
{
    (void)i;
    return u * u - v * v;
}

static double rough(double u, double v, size_t i)
{
    return sin(37.0 * (double)i * (double)i) + 0 * u * v;
}

static double chip(double u, double v, size_t i)
{
    return (i == 13) + 0 * u * v;
}

static double chip_and_hole(double u, double v, size_t i)
{
    return (i == 13) - (i == 8) + 0 * u * v;
}

static double step(double u, double v, size_t i)
{
    (void)i;
    return (u > 0) + 0 * v;
}

static double two_levels(double u, double v, size_t i)
{
    return (i * 7 % 3 == 0) + 0 * u * v;
}

static const struct {
    const char *name;
    bed_truth *truth;
} kinds[KINDS] = {
    {"flat", flat},
    {"bowl", bowl},
    {"twist", twist},
    {"saddle", saddle},
    {"rough", rough},
    {"a chip", chip},
    {"a chip and a hole", chip_and_hole},
    {"a step", step},
    {"two levels", two_levels},
};

static void make_bed(tu_bed_point *points, bed_truth *truth, double scale, check_random *random)
{
    for (size_t i = 0; i < COUNT; i++) {
        const double u = (double)(i % SIDE) / 2 - 1, v = (double)(i / SIDE) / 2 - 1;
        points[i] = (tu_bed_point){100 * u, 100 * v, scale * truth(u, v, i)};
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

static double figure_without_noise(bed_truth *truth, double scale, tu_flatness_figure figure)
{
    tu_bed_point points[COUNT];

    make_bed(points, truth, scale, NULL);
    return inflation_of(points, COUNT, (tu_inflation_request){figure, 0, NAN, 0, 1}).observed_mm;
}

/* Means over the runs: truths held in per cent; the rest in standard deviations of the noise. */
typedef struct tally {
    double held, width, added, stated;
} tally;

/* ratio: noise over the true figure; a flat bed has none. dof NaN: the noise is known. */
static tally simulate(bed_truth *truth, double ratio, tu_flatness_figure figure, double dof,
                      size_t runs, check_random *random)
{
    const double figure_at_1 = figure_without_noise(truth, 1, figure);
    const double scale = figure_at_1 > 1e-9 ? NOISE_MM / ratio / figure_at_1 : 1;
    const double true_mm = figure_without_noise(truth, scale, figure);
    tu_bed_point points[COUNT];
    tally all = {0};

    for (size_t run = 0; run < runs; run++) {
        double sd = NOISE_MM;
        if (!isnan(dof)) { /* as repeats of dof + 1 touches would tell it */
            double squares = 0;
            for (double k = 0; k < dof; k++)
                squares += pow(check_random_normal(random, 0, NOISE_MM), 2);
            sd = sqrt(squares / dof);
        }
        make_bed(points, truth, scale, random);
        const tu_inflation one =
            inflation_of(points, COUNT, (tu_inflation_request){figure, sd, dof, run, TRIALS});
        const double share = 1 / (double)runs, unit = share / NOISE_MM;
        all.held += 100 * share * (true_mm >= one.low_mm - 1e-9 && true_mm <= one.high_mm + 1e-9);
        all.width += unit * (one.high_mm - one.low_mm);
        all.added += unit * (one.observed_mm - true_mm);
        all.stated += unit * one.inflation_mm;
        assert_true(one.low_mm <= one.best_mm && one.best_mm <= one.observed_mm &&
                    one.observed_mm <= one.high_mm);
    }
    return all;
}

/* INFLATION_RUNS=1000 prints the rows anew, from as many runs. */
static void the_table_of_the_manual_is_what_simulation_gives(void **state)
{
    (void)state;
    const char *wanted = getenv("INFLATION_RUNS");
    const size_t runs = wanted ? strtoul(wanted, NULL, 10) : RUNS;
    const double many = sqrt((double)runs);
    check_random random = check_random_seed(11);

    for (size_t k = 0; k < KINDS; k++) {
        double said[2 * FIGURES];
        bed_read_row("## Flatness and noise", kinds[k].name, said, (size_t)2 * FIGURES);
        for (size_t column = 0; column < (k == 0 ? 1 : 2); column++) {
            const tally t = simulate(kinds[k].truth, column == 0 ? 0.05 : 0.5,
                                     TU_FIGURE_MINIMUM_ZONE, NAN, runs, &random);
            const double *figure = said + column * FIGURES;
            if (wanted) {
                printf("# | %s | %.0f | %.1f | %.1f | %.1f\n", kinds[k].name, t.held, t.width,
                       t.added, t.stated);
                continue;
            }
            /* three standard deviations of the simulation here, and the rounding of the table */
            check_close(t.held, figure[0], 1 + 3 * 22 / many, "held, %");
            check_close(t.width, figure[1], 0.1 + 3 * 0.8 / many, "width, sd");
            check_close(t.added, figure[2], 0.1 + 3 * 1.4 / many, "added, sd");
            check_close(t.stated, figure[3], 0.1 + 3 * 1.2 / many, "stated, sd");
            assert_true(figure[0] >= 94 && figure[3] >= figure[2] - 0.15);
        }
    }
}

/* Every figure, and noise known from five touches: 94 % of 9 * 2 * 40, less three standard
 * deviations; and none of the beds alone falls out. */
static void hold_truths(tu_flatness_figure figure, double dof, uint64_t seed)
{
    check_random random = check_random_seed(seed);
    double held = 0;

    for (size_t k = 0; k < KINDS; k++)
        for (size_t column = 0; column < 2; column++) {
            const double ratio = column == 0 ? 0.2 : 1;
            const tally t = simulate(kinds[k].truth, ratio, figure, dof, 40, &random);
            if (t.held < 94 - 3 * 3.8)
                fail_msg("%s with noise %g of it: %.0f %% held", kinds[k].name, ratio, t.held);
            held += t.held / (2 * KINDS);
        }
    assert_true(held >= 94 - 3 * 0.9);
}

static void a_range_is_held_too(void **state)
{
    (void)state;
    hold_truths(TU_FIGURE_RANGE, NAN, 21);
}

static void a_deviation_from_least_squares_is_held_too(void **state)
{
    (void)state;
    hold_truths(TU_FIGURE_LEAST_SQUARES, NAN, 22);
}

static void noise_known_from_five_touches_holds_the_truth_too(void **state)
{
    (void)state;
    hold_truths(TU_FIGURE_RANGE, 4, 23);
}

static void one_place_against_one_errs_by_root_two(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];

    make_bed(points, chip_and_hole, 1, NULL);
    const tu_inflation one =
        inflation_of(points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, NAN, 1, 0});
    /* 2 +- 1.960 sqrt(2) sd: the difference of two normals; below, 1000 draws of it */
    check_close(one.high_mm, 2 + 1.95996 * sqrt(2) * NOISE_MM, 1e-6, "high, mm");
    check_close(one.low_mm, 2 - 1.95996 * sqrt(2) * NOISE_MM, 0.3 * NOISE_MM, "low, mm");
    check_close(one.inflation_mm, 0, 0.4 * NOISE_MM, "inflation, mm");
    const tu_inflation guessed =
        inflation_of(points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, 4, 1, 0});
    /* Student's t for 4 degrees of freedom: 2.776 (JCGM 100:2008, table G.2) */
    check_close(guessed.high_mm, 2 + 2.776 * sqrt(2) * NOISE_MM, 1e-4, "high, mm");
}

/* Noise alone over a flat bed: its range is that of 25 normal values, on average 3.931 sd (L. H. C.
 * Tippett, Biometrika 17 (1925) 364-387, table X; as d2 in tables of control charts, from memory);
 * the line through none and once goes on by sqrt 2. 1000 trials: good to 0.6 %. */
static void noise_alone_adds_the_mean_range_of_as_many_normal_values(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];

    make_bed(points, flat, 1, NULL);
    const tu_inflation one = inflation_of(
        points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, NAN, 1, 1000});
    check_relative(one.inflation_mm, (1 + sqrt(2)) * 3.931 * NOISE_MM, 0.02, "inflation, mm");
}

/* Corners high and low by turns: two across two with equal weights, 4 / 4 of a variance. */
static void contacts_that_share_the_weight_err_less(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];

    make_bed(points, twist, 1, NULL);
    tu_inflation one = inflation_of(
        points, COUNT, (tu_inflation_request){TU_FIGURE_MINIMUM_ZONE, NOISE_MM, NAN, 1, 50});
    check_close(one.high_mm - one.observed_mm, 1.95996 * NOISE_MM, 1e-5, "two on two, mm");
    /* three corners against a low one in their middle: 1 + 3 (1/3)^2 */
    tu_bed_point four[4] = {{0, 0, 0}, {300, 0, 0}, {0, 300, 0}, {100, 100, -1}};
    one =
        inflation_of(four, 4, (tu_inflation_request){TU_FIGURE_MINIMUM_ZONE, NOISE_MM, NAN, 1, 50});
    check_close(one.high_mm - one.observed_mm, 1.95996 * sqrt(4.0 / 3) * NOISE_MM, 1e-5,
                "three on one, mm");
}

static void the_order_of_the_points_does_not_matter(void **state)
{
    (void)state;
    static const tu_flatness_figure figures[] = {TU_FIGURE_LEAST_SQUARES, TU_FIGURE_MINIMUM_ZONE,
                                                 TU_FIGURE_RANGE};
    tu_bed_point points[COUNT], turned[COUNT];
    check_random random = check_random_seed(16);

    make_bed(points, rough, 0.05, &random);
    for (size_t i = 0; i < COUNT; i++)
        turned[i] = points[(i * 7 + 3) % COUNT];
    for (size_t k = 0; k < 3; k++) {
        const tu_inflation_request request = {figures[k], NOISE_MM, 5, 7, 60};
        const tu_inflation a = inflation_of(points, COUNT, request);
        const tu_inflation b = inflation_of(turned, COUNT, request);
        check_same(a.low_mm, b.low_mm, "low, mm");
        check_same(a.high_mm, b.high_mm, "high, mm");
        check_same(a.inflation_mm, b.inflation_mm, "inflation, mm");
    }
}

static void noise_alone_is_told_from_a_bed(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(12);

    make_bed(points, flat, 1, &random);
    const tu_inflation one =
        inflation_of(points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, NAN, 1, 0});
    assert_int_equal(one.trials, 1000);
    check_same(one.low_mm, 0, "smallest true range, mm");
    /* the mean range of 25 normals is 3.931 sd, d2 of control charts (L. H. C. Tippett, Biometrika
     * 17 (1925), from memory); how much this one bed's noise lets it seem varies */
    check_close(one.inflation_mm, 3.931 * NOISE_MM, 1.2 * NOISE_MM, "inflation, mm");
}

static void the_minimum_zone_gets_its_own_figures(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(13);

    make_bed(points, bowl, 0.05, &random);
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

    make_bed(points, bowl, 0.05, &random);
    const tu_inflation known =
        inflation_of(points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, NAN, 1, 0});
    const tu_inflation guessed =
        inflation_of(points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, 3, 1, 0});
    assert_true(guessed.high_mm - guessed.low_mm > 1.2 * (known.high_mm - known.low_mm));
}

/* One degree of freedom: in one trial of ten thousand the noise drawn is 8000 times as large,
 * steeper than any bed. */
static void noise_known_from_two_touches_is_no_failure(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(17);

    make_bed(points, bowl, 0.05, &random);
    for (size_t i = 0; i < COUNT; i++)
        points[i] = (tu_bed_point){points[i].x_mm / 20, points[i].y_mm / 20, points[i].z_mm};
    for (uint64_t seed = 0; seed < 20; seed++) {
        const tu_inflation one = inflation_of(
            points, COUNT, (tu_inflation_request){TU_FIGURE_MINIMUM_ZONE, NOISE_MM, 1, seed, 1000});
        check_same(one.low_mm, 0, "low, mm");
    }
}

/* Half a million places touched twice. */
static void many_degrees_of_freedom_are_as_good_as_known(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(18);
    double low[5];

    make_bed(points, bowl, 1, &random);
    for (size_t k = 0; k < 5; k++) {
        const double dof[] = {NAN, 999, 1000, 1e5, 499849};
        const tu_inflation one = inflation_of(
            points, COUNT, (tu_inflation_request){TU_FIGURE_RANGE, NOISE_MM, dof[k], 1, 1000});
        low[k] = one.low_mm;
        assert_true(one.low_mm > 0.9 * one.observed_mm);
        check_close(one.low_mm, low[0], 0.2 * NOISE_MM, "low, mm");
        check_close(one.high_mm, one.observed_mm + 1.96 * sqrt(2) * NOISE_MM, 0.01 * NOISE_MM,
                    "high, mm");
    }
    /* an approximation beyond, the exact quantile below: no step between them. The draws are the
     * same; chi squared over its dof moves by 3e-5 from one to the other, and so does a draw */
    check_close(low[1], low[2], 2e-4 * NOISE_MM, "low at 999 and 1000, mm");
}

static void the_same_seed_gives_the_same_figures(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];
    check_random random = check_random_seed(15);
    const tu_inflation_request request = {TU_FIGURE_RANGE, NOISE_MM, NAN, 7, 100};

    make_bed(points, rough, 0.05, &random);
    const tu_inflation a = inflation_of(points, COUNT, request);
    const tu_inflation b = inflation_of(points, COUNT, request);
    check_same(a.low_mm, b.low_mm, "low, mm");
    check_same(a.inflation_mm, b.inflation_mm, "inflation, mm");
}

static void without_noise_nothing_is_added(void **state)
{
    (void)state;
    tu_bed_point points[COUNT];

    make_bed(points, bowl, 0.05, NULL);
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
    check_status(tu_bed_find_inflation(three, TU_INFLATION_POINTS_MAX + 1, &request, memory, 16,
                                       &one, &error),
                 TU_DATA_RANGE, NULL);
    request.sd_mm = -1;
    check_status(tu_bed_find_inflation(three, 3, &request, memory, 16, &one, &error), TU_DATA_RANGE,
                 NULL);
    const tu_bed_point line[4] = {{0, 0, 0}, {100, 0, 0}, {200, 0, 0}, {300, 0, 0}};
    void *work = malloc(tu_bed_inflation_bytes(4));
    for (request.figure = TU_FIGURE_MINIMUM_ZONE, request.sd_mm = 0; work && request.sd_mm < 0.05;
         request.sd_mm += 0.02)
        check_status(
            tu_bed_find_inflation(line, 4, &request, work, tu_bed_inflation_bytes(4), &one, &error),
            TU_UNDETERMINED, &error);
    free(work);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_table_of_the_manual_is_what_simulation_gives),
        cmocka_unit_test(a_range_is_held_too),
        cmocka_unit_test(a_deviation_from_least_squares_is_held_too),
        cmocka_unit_test(noise_known_from_five_touches_holds_the_truth_too),
        cmocka_unit_test(one_place_against_one_errs_by_root_two),
        cmocka_unit_test(noise_alone_adds_the_mean_range_of_as_many_normal_values),
        cmocka_unit_test(contacts_that_share_the_weight_err_less),
        cmocka_unit_test(the_order_of_the_points_does_not_matter),
        cmocka_unit_test(noise_alone_is_told_from_a_bed),
        cmocka_unit_test(the_minimum_zone_gets_its_own_figures),
        cmocka_unit_test(few_touches_of_repeatability_widen_the_range),
        cmocka_unit_test(noise_known_from_two_touches_is_no_failure),
        cmocka_unit_test(many_degrees_of_freedom_are_as_good_as_known),
        cmocka_unit_test(the_same_seed_gives_the_same_figures),
        cmocka_unit_test(without_noise_nothing_is_added),
        cmocka_unit_test(what_cannot_be_said_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
