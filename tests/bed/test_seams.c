/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Series put together: planted steps come back, beds without one raise none, whatever their shape.
 */
#include "bed_sample.h"

#include "trueup/bed_seams.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { COLUMNS = 11, ROWS = 9, PLACES = COLUMNS * ROWS };

typedef struct joined {
    tu_bed_point *point;
    size_t series[PLACES];
} joined;

/* A grid of 50 mm whose series is told by `which`; free its points. */
static joined join(bed_formula *formula, size_t (*which)(size_t column, size_t row))
{
    joined bed = {.point = bed_grid(COLUMNS, ROWS, 50, formula)};
    for (size_t i = 0; i < PLACES; i++)
        bed.series[i] = which(i % COLUMNS, i / COLUMNS);
    return bed;
}

static tu_bed_seam seam_of(const joined *bed, double floor_mm)
{
    static max_align_t memory[20000];
    tu_bed_seam seam;
    tu_error error;

    assert_true(tu_bed_seam_bytes(PLACES) <= sizeof memory);
    check_status(tu_bed_find_seam(bed->point, bed->series, PLACES, floor_mm, memory, sizeof memory,
                                  &seam, &error),
                 TU_OK, &error);
    return seam;
}

static void raise_series(joined *bed, size_t series, double step_mm)
{
    for (size_t i = 0; i < PLACES; i++)
        if (bed->series[i] == series)
            bed->point[i].z_mm += step_mm;
}

static size_t sides(size_t column, size_t row)
{
    (void)row;
    return column > 5;
}

static size_t fields(size_t column, size_t row)
{
    return (column + row) % 2;
}

static size_t thirds(size_t column, size_t row)
{
    (void)row;
    return column < 4 ? 0 : column < 8 ? 1 : 2;
}

static size_t rows(size_t column, size_t row)
{
    (void)column;
    return row;
}

static double curved(double x_mm, double y_mm)
{
    return -60 + 0.001 * x_mm + 3e-6 * (x_mm - 200) * (x_mm - 200) - 2e-6 * x_mm * y_mm;
}

static void a_step_between_series_side_by_side_comes_back(void **state)
{
    (void)state;
    joined bed = join(curved, sides);
    assert_int_equal(seam_of(&bed, 0.001).pairs, 0);
    raise_series(&bed, 1, 0.5);
    const tu_bed_seam seam = seam_of(&bed, 0.02);
    /* a plane through a parabola on either side is off alike: nothing but the step is left */
    check_close(seam.step_mm, 0.5, 0.002, "step planted, mm");
    assert_int_equal(seam.low, 0);
    assert_int_equal(seam.high, 1);
    assert_true(seam.pairs >= ROWS);
    raise_series(&bed, 1, -0.8);
    assert_int_equal(seam_of(&bed, 0.02).high, 0);
    check_close(seam_of(&bed, 0.02).step_mm, 0.3, 0.002, "the other way, mm");
    assert_int_equal(seam_of(&bed, 0.31).pairs, 0);
    free(bed.point);
}

static void a_step_between_series_that_lie_between_one_another_comes_back(void **state)
{
    (void)state;
    joined bed = join(curved, fields);
    raise_series(&bed, 0, 0.2);
    const tu_bed_seam seam = seam_of(&bed, 0.02);
    check_close(seam.step_mm, 0.2, 0.006, "step planted, mm");
    assert_int_equal(seam.high, 0);
    free(bed.point);
}

static void the_largest_of_several_steps_is_named_and_places_without_series_are_not(void **state)
{
    (void)state;
    joined bed = join(curved, thirds);
    raise_series(&bed, 1, 0.1);
    raise_series(&bed, 2, 0.4);
    tu_bed_seam seam = seam_of(&bed, 0.02);
    check_close(seam.step_mm, 0.3, 0.002, "0.4 less 0.1 mm");
    assert_int_equal(seam.low, 1);
    assert_int_equal(seam.high, 2);
    for (size_t i = 0; i < PLACES; i++)
        if (bed.series[i] == 2)
            bed.series[i] = TU_BED_NO_SERIES;
    seam = seam_of(&bed, 0.02);
    check_close(seam.step_mm, 0.1, 0.002, "only that between 0 and 1, mm");
    free(bed.point);
}

static void series_of_single_rows_show_nothing(void **state)
{
    (void)state;
    joined bed = join(curved, rows);
    raise_series(&bed, 4, 0.5);
    assert_int_equal(seam_of(&bed, 0.02).pairs, 0);
    free(bed.point);
}

/* Noise of 0.01 mm, 300 beds: a step of 0.06 mm, six standard deviations of a touch, is found nine
 * times in ten, and fewer than one bed in fifty without a step raises one. */
static void noise_alone_is_no_step_and_hides_no_large_one(void **state)
{
    (void)state;
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    int alarms = 0, found = 0;
    for (int turn = 0; turn < 300; turn++) {
        joined bed = join(curved, turn % 2 ? sides : thirds);
        for (size_t i = 0; i < PLACES; i++)
            bed.point[i].z_mm += gsl_ran_gaussian(random, 0.01);
        alarms += seam_of(&bed, 0.02).pairs > 0;
        raise_series(&bed, 1, 0.06);
        const tu_bed_seam seam = seam_of(&bed, 0.02);
        found += seam.pairs > 0 && fabs(seam.step_mm - 0.06) < 0.03;
        free(bed.point);
    }
    gsl_rng_free(random);
    print_message("# %d alarms, %d found\n", alarms, found);
    assert_true(alarms <= 6);
    assert_true(found >= 270);
}

/* Six waves each, 0.05 mm high, mostly of four to ten places: rougher than any board. */
static void waves_of_the_bed_are_no_step(void **state)
{
    (void)state;
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    int alarms = 0;
    for (int turn = 0; turn < 300; turn++) {
        joined bed = join(curved, turn % 2 ? sides : thirds);
        for (int wave = 0; wave < 6; wave++) {
            const double high = gsl_ran_gaussian(random, 0.05),
                         at = 6.2832 * gsl_rng_uniform(random);
            const double x = gsl_ran_gaussian(random, 0.0105), y = gsl_ran_gaussian(random, 0.0105);
            for (size_t i = 0; i < PLACES; i++)
                bed.point[i].z_mm += high * cos(x * bed.point[i].x_mm + y * bed.point[i].y_mm + at);
        }
        alarms += seam_of(&bed, 0.02).pairs > 0;
        free(bed.point);
    }
    gsl_rng_free(random);
    print_message("# %d alarms\n", alarms);
    assert_true(alarms <= 9);
}

static void what_cannot_be_asked_is_refused(void **state)
{
    (void)state;
    const tu_bed_point point = {0, 0, 0};
    const size_t series = 0;
    tu_bed_seam seam;

    check_status(tu_bed_find_seam(NULL, &series, 1, 0, NULL, 0, &seam, NULL), TU_USAGE, NULL);
    check_status(tu_bed_find_seam(&point, NULL, 1, 0, NULL, 0, &seam, NULL), TU_USAGE, NULL);
    check_status(tu_bed_find_seam(&point, &series, 1, 0, NULL, 0, NULL, NULL), TU_USAGE, NULL);
    check_status(tu_bed_find_seam(&point, &series, 0, 0, NULL, 0, &seam, NULL), TU_USAGE, NULL);
    check_status(tu_bed_find_seam(&point, &series, 1, -1, NULL, 0, &seam, NULL), TU_DATA_RANGE,
                 NULL);
    check_status(tu_bed_find_seam(&point, &series, 1, NAN, NULL, 0, &seam, NULL), TU_DATA_RANGE,
                 NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_step_between_series_side_by_side_comes_back),
        cmocka_unit_test(a_step_between_series_that_lie_between_one_another_comes_back),
        cmocka_unit_test(the_largest_of_several_steps_is_named_and_places_without_series_are_not),
        cmocka_unit_test(series_of_single_rows_show_nothing),
        cmocka_unit_test(waves_of_the_bed_are_no_step),
        cmocka_unit_test(noise_alone_is_no_step_and_hides_no_large_one),
        cmocka_unit_test(what_cannot_be_asked_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
