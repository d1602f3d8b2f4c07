/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Touches to places: repeats, contradictions, and what is no bed. Expected values by pencil. */
#include "bed_sample.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROOM = 5000 };

static tu_bed_point place[ROOM];
static size_t touch_count[ROOM], first[ROOM];

static tu_status merge(const tu_bed_touches *touches, tu_bed_places *places, tu_warnings *warnings,
                       tu_error *error)
{
    const size_t bytes = tu_bed_merge_bytes(touches->count);
    void *memory = malloc(bytes);

    assert_non_null(memory);
    *places = (tu_bed_places){.point = place, .touches = touch_count, .first = first};
    tu_status status = tu_bed_merge_touches(touches, memory, bytes, places, warnings, error);
    free(memory);
    return status;
}

static tu_bed_touches touches_of(const tu_bed_point *points, size_t count)
{
    return (tu_bed_touches){.point = points, .count = count, .same_place_mm = NAN, .agree_mm = NAN};
}

static void refused(const tu_bed_touches *touches, tu_status expected, const char *part)
{
    tu_bed_places places;
    tu_error error;

    check_status(merge(touches, &places, NULL, &error), expected, NULL);
    check_contains(error.message, part);
}

static void repeats_are_averaged_and_tell_the_scatter(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{0, 0, 1},         {500, 0, 2},    {0.02, 0, 1.02},
                                   {0, 400, 0},       {500, 0, 2.04}, {0.01, 0.01, 1.04},
                                   {-0.02, 0.0, 0.98}};
    tu_bed_touches touches = touches_of(points, 7);
    tu_bed_places places;
    tu_error error;

    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
    assert_int_equal(places.count, 3);
    assert_int_equal(touch_count[0], 4);
    assert_int_equal(first[2], 3);
    check_close(place[0].z_mm, 1.01, 1e-15, "height of the first place, mm");
    check_close(place[1].z_mm, 2.02, 1e-15, "height of the second place, mm");
    check_close(place[0].x_mm, 0.0025, 1e-15, "X of the first place, mm");
    /* squares: 2 (0.01^2 + 0.03^2) and 2 0.02^2, 4 degrees of freedom */
    check_close(places.repeat_sd_mm, sqrt((2 * 0.0010 + 0.0008) / 4), 1e-14, "scatter, mm");
    check_same(places.repeat_dof, 4, "degrees of freedom");
    check_close(places.worst_spread_mm, 0.06, 1e-14, "largest spread, mm");
    assert_false(places.likely_inches);
}

static void two_heights_at_one_place_are_named(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{0, 0, 1}, {500, 0, 2}, {0, 400, 0}, {500, 0.01, 2.5}};
    tu_bed_touches touches = touches_of(points, 4);
    const size_t series[] = {0, 0, 0, 1};
    const char *const names[] = {"before", "after"};

    refused(&touches, TU_DATA_CONFLICT,
            "point 2 and point 4 are of one place, X 500.000 Y 0.005, but "
            "differ by 0.500 mm");
    touches.series = series;
    touches.series_name = names;
    refused(&touches, TU_DATA_CONFLICT, "series \"before\" and \"after\"");
    touches.agree_mm = 0.51;
    tu_bed_places places;
    tu_error error;
    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
    touches.agree_mm = 0.5; /* by so much they may differ */
    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
}

static void of_equal_heights_the_first_is_named(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{0, 0, 1},   {500, 0, 2}, {0, 400, 0}, {500, 0, 2},
                                   {500, 0, 4}, {500, 0, 4}, {500, 0, 3}};
    tu_bed_touches touches = touches_of(points, 7);

    refused(&touches, TU_DATA_CONFLICT, "point 2 and point 5 are of one place");
}

static void messages_name_file_and_line_where_they_are_known(void **state)
{
    (void)state;
    tu_bed_point points[] = {{0, 0, 1}, {500, 0, 2}, {0, 400, 0}, {500, 0.01, 2.5}};
    const char *const names[] = {"bed.csv", "-"};
    const uint32_t file[] = {0, 0, 0, 1}, line[] = {2, 5, 6, 70};
    tu_bed_touches touches = touches_of(points, 4);
    tu_bed_places places;
    tu_error error;

    touches.file_name = names;
    touches.file = file;
    touches.line = line;
    refused(&touches, TU_DATA_CONFLICT, "bed.csv:5 and standard input:70 are of one place");
    points[2].z_mm = NAN;
    check_status(merge(&touches, &places, NULL, &error), TU_DATA_RANGE, NULL);
    assert_string_equal(error.where, "bed.csv:6");
}

/* Rounds of one log: a place that is come back to counts as it was touched last. */
static void within_a_later_round_the_newest_visit_of_a_place_counts(void **state)
{
    (void)state;
    tu_bed_point points[] = {{0, 0, 1},     {500, 0, 2},   {0, 400, 0}, {0, 0, 1.3},
                             {0, 0, 1.32},  {500, 0, 2.2}, {0, 0, 1.5}, {0.1, 0, 1.54},
                             {500, 0, 2.6}, {500, 0, 2.68}};
    const uint32_t round[] = {0, 0, 0, 4, 4, 4, 4, 4, 4, 4};
    tu_bed_touches touches = touches_of(points, 10);
    tu_bed_places places;
    tu_error error;

    touches.round = round;
    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
    assert_int_equal(places.count, 3);
    check_close(place[0].z_mm, 1.52, 1e-14, "height of the first place, mm");
    check_close(place[1].z_mm, 2.64, 1e-14, "height of the second place, mm");
    assert_int_equal(places.renewed, 2);
    assert_int_equal(places.replaced, 5);
    /* one after the other they are repeats: which of the two counts, nobody can say */
    points[9].z_mm = 2.8;
    refused(
        &touches, TU_DATA_CONFLICT,
        "point 9 and point 10 are of one place, X 500.000 Y 0.000, touched again, but differ by "
        "0.200 mm in height: if they are of two rounds, give each a file of its own");
}

static void what_is_no_bed_is_refused(void **state)
{
    (void)state;
    tu_bed_point points[] = {{0, 0, 1}, {500, 250, 2}, {0, 0, 1}, {1000, 500.1, 0}};
    tu_bed_touches touches = touches_of(points, 3);

    refused(&touches, TU_UNDETERMINED, "found 2");
    touches.count = 4;
    refused(&touches, TU_UNDETERMINED, "on one line");
    touches.count = 0;
    refused(&touches, TU_UNDETERMINED, "found 0");
    touches.count = 4;
    points[3].z_mm = NAN;
    refused(&touches, TU_DATA_RANGE, "Z is not a number");
    points[3].z_mm = INFINITY;
    refused(&touches, TU_DATA_RANGE, "Z is not a number");
    points[3] = (tu_bed_point){-1e10, 0, 0};
    refused(&touches, TU_DATA_RANGE, "X is not a number");
    tu_bed_places places = {.point = place, .touches = touch_count, .first = first};
    touches.count = INT32_MAX / 4 + (size_t)1; /* told before a touch is looked at */
    check_status(tu_bed_merge_touches(&touches, NULL, 0, &places, NULL, NULL), TU_DATA_RANGE, NULL);
    check_status(tu_bed_merge_touches(NULL, NULL, 0, &places, NULL, NULL), TU_USAGE, NULL);
    check_status(tu_bed_merge_touches(&touches, NULL, 0, NULL, NULL, NULL), TU_USAGE, NULL);
    places.point = NULL;
    check_status(tu_bed_merge_touches(&touches, NULL, 0, &places, NULL, NULL), TU_USAGE, NULL);
    places.point = place;
    places.touches = NULL;
    check_status(tu_bed_merge_touches(&touches, NULL, 0, &places, NULL, NULL), TU_USAGE, NULL);
}

static void a_length_to_tell_places_apart_that_is_none_is_refused(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{0, 0, 1}, {500, 250, 2}, {0, 400, 1}};
    const double bad[][2] = {{0, 0.1}, {-1, 0.1}, {INFINITY, 0.1}, {1, -0.001}};

    for (size_t k = 0; k < 4; k++) {
        tu_bed_touches touches = touches_of(points, 3);
        touches.same_place_mm = bad[k][0];
        touches.agree_mm = bad[k][1];
        refused(&touches, TU_DATA_RANGE, "a length above zero");
    }
}

static tu_machine machine_of(double x, double y)
{
    tu_machine machine;

    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        machine.travel_low_mm[axis] = machine.travel_high_mm[axis] = NAN;
    machine.travel_low_mm[TU_AXIS_X] = machine.travel_low_mm[TU_AXIS_Y] = 0;
    machine.travel_high_mm[TU_AXIS_X] = x;
    machine.travel_high_mm[TU_AXIS_Y] = y;
    return machine;
}

static void points_off_the_machine_are_refused(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{0, 0, 1}, {500, 250, 2}, {0, 400, 1}, {1400, 500, 0}};
    const tu_machine machine = machine_of(1200, 800);
    tu_bed_touches touches = touches_of(points, 4);

    touches.machine = &machine;
    refused(&touches, TU_DATA_RANGE, "X 1400.000 is outside the travel");
}

static void inches_read_as_millimetres_are_told(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{1, 1, -0.01}, {40, 1, 0}, {1, 30, 0.02}, {40, 30, 0}};
    const tu_machine machine = machine_of(1200, 800), small = machine_of(300, 200);
    tu_bed_touches touches = touches_of(points, 4);
    tu_bed_places places;
    tu_warnings warnings = {0};
    tu_error error;

    check_status(merge(&touches, &places, &warnings, &error), TU_OK, &error);
    assert_true(places.likely_inches);
    check_contains(warnings.text[0], "inches");
    touches.machine = &machine;
    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
    assert_true(places.likely_inches);
    touches.machine = &small; /* 40 inches do not fit */
    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
    assert_false(places.likely_inches);
    tu_bed_point far[4]; /* nor do those 60 in left of the place where the travel ends */
    tu_machine left = machine_of(0, 800);
    left.travel_low_mm[TU_AXIS_X] = -1200;
    touches.machine = &left;
    touches.point = far;
    for (int shift = 41; shift <= 61; shift += 20) {
        for (int i = 0; i < 4; i++)
            far[i] = (tu_bed_point){points[i].x_mm - shift, points[i].y_mm, points[i].z_mm};
        check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
        assert_int_equal(places.likely_inches, shift == 41);
    }
}

static void many_touches_of_few_places_are_found_again(void **state)
{
    (void)state;
    tu_bed_point points[ROOM];
    check_random random = check_random_seed(6);
    tu_bed_places places;
    tu_error error;

    for (size_t i = 0; i < ROOM; i++) {
        const double x = 50 * (double)(i % 10), y = 50 * (double)(i / 10 % 10);
        points[i] = (tu_bed_point){x + check_random_uniform(&random, -0.02, 0.02),
                                   y + check_random_uniform(&random, -0.02, 0.02),
                                   check_random_uniform(&random, 0, 0.05)};
    }
    tu_bed_touches touches = touches_of(points, ROOM);
    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
    assert_int_equal(places.count, 100);
    for (size_t i = 0; i < 100; i++)
        assert_int_equal(touch_count[i], ROOM / 100);
    /* a uniform scatter of 0.05 mm; sd of s with 4900 degrees of freedom below 1 % */
    check_relative(places.repeat_sd_mm, 0.05 / sqrt(12), 0.04, "scatter, mm");
}

static void a_later_round_replaces_what_was_touched_there(void **state)
{
    (void)state;
    /* rounds 2 and 1 come before the touches that they replace; 0.3 mm off counts as there again */
    const tu_bed_point points[] = {{100.3, 0, 7},  {100, 0, 6}, {0, 0, 1},       {100, 0, 5},
                                   {100, 0.02, 5}, {0, 100, 2}, {100.3, 0, 7.02}};
    const uint32_t rounds[] = {2, 1, 0, 0, 0, 0, 2};
    tu_bed_touches touches = touches_of(points, 7);
    touches.round = rounds;
    tu_bed_places places;
    tu_error error;

    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
    assert_int_equal(places.count, 3);
    check_close(place[1].z_mm, 7.01, 1e-14, "mean of the last round, mm");
    check_close(place[1].x_mm, 100.3, 1e-12, "place of the last round, mm");
    assert_int_equal(touch_count[1], 2);
    assert_int_equal(places.renewed, 1);
    assert_int_equal(places.replaced, 3); /* two of round 0, one of round 1 */
    assert_int_equal(places.strays, 0);
    check_same(places.repeat_dof, 1, "degrees of freedom, of the last round alone");
    check_close(places.repeat_sd_mm, 0.02 / sqrt(2), 1e-14, "scatter, mm");
}

static void a_later_round_beside_all_places_is_a_place_of_its_own(void **state)
{
    (void)state;
    const tu_bed_point points[] = {
        {0, 0, 1}, {100, 0, 1}, {0, 100, 2}, {50.6, 0, 9}, {100.6, 0, 3}};
    const uint32_t rounds[] = {0, 0, 0, 1, 1};
    tu_bed_touches touches = touches_of(points, 5);
    touches.round = rounds;
    tu_bed_places places;
    tu_error error;

    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
    assert_int_equal(places.count, 5);
    assert_int_equal(places.strays, 2);
    assert_int_equal(places.replaced, 0);
}

static void touches_of_one_round_still_have_to_agree(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{0, 0, 1}, {100, 0, 1}, {0, 100, 2}, {0, 0, 3}, {0, 0, 4}};
    const uint32_t rounds[] = {0, 0, 0, 1, 1};
    tu_bed_touches touches = touches_of(points, 5);
    touches.round = rounds;

    refused(&touches, TU_DATA_CONFLICT, "point 4 and point 5 are of one place");
}

static void too_little_work_space_is_a_usage_error(void **state)
{
    (void)state;
    const tu_bed_point points[] = {{0, 0, 1}, {500, 0, 2}, {0, 400, 0}};
    tu_bed_touches touches = touches_of(points, 3);
    tu_bed_places places = {.point = place, .touches = touch_count};
    char memory[8];
    tu_error error;

    check_status(tu_bed_merge_touches(&touches, memory, sizeof memory, &places, NULL, &error),
                 TU_USAGE, NULL);
    check_contains(error.message, "work space");
}

/* By the definition, each touch beside all places: the first whose first touch is near. */
static void a_touch_belongs_to_the_first_place_near_it(void **state)
{
    (void)state;
    enum { TOUCHES = 3000 };
    static tu_bed_point points[TOUCHES];
    check_random random = check_random_seed(31);
    tu_bed_touches touches = touches_of(points, TOUCHES);
    size_t own[TOUCHES], owners = 0;
    tu_bed_places places;
    tu_error error;

    /* crowded, on both sides of zero, many of them on round coordinates */
    for (size_t i = 0; i < TOUCHES; i++) {
        const double step = i % 2 ? 0.001 : 0.0125;
        points[i] = (tu_bed_point){step * (double)check_random_below(&random, 2000) - 1,
                                   step * (double)check_random_below(&random, 1000) - 0.5, 1};
    }
    check_status(merge(&touches, &places, NULL, &error), TU_OK, &error);
    size_t count[TOUCHES] = {0};
    for (size_t i = 0; i < TOUCHES; i++) {
        size_t k = 0;
        while (k < owners && !(fabs(points[own[k]].x_mm - points[i].x_mm) < TU_BED_SAME_PLACE_MM &&
                               fabs(points[own[k]].y_mm - points[i].y_mm) < TU_BED_SAME_PLACE_MM))
            k++;
        if (k == owners)
            own[owners++] = i;
        count[k]++;
    }
    assert_int_equal(places.count, owners);
    for (size_t k = 0; k < owners; k++) {
        assert_int_equal(first[k], own[k]);
        assert_int_equal(touch_count[k], count[k]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_equal_heights_the_first_is_named),
        cmocka_unit_test(messages_name_file_and_line_where_they_are_known),
        cmocka_unit_test(within_a_later_round_the_newest_visit_of_a_place_counts),
        cmocka_unit_test(a_touch_belongs_to_the_first_place_near_it),
        cmocka_unit_test(repeats_are_averaged_and_tell_the_scatter),
        cmocka_unit_test(two_heights_at_one_place_are_named),
        cmocka_unit_test(what_is_no_bed_is_refused),
        cmocka_unit_test(a_length_to_tell_places_apart_that_is_none_is_refused),
        cmocka_unit_test(points_off_the_machine_are_refused),
        cmocka_unit_test(inches_read_as_millimetres_are_told),
        cmocka_unit_test(many_touches_of_few_places_are_found_again),
        cmocka_unit_test(a_later_round_replaces_what_was_touched_there),
        cmocka_unit_test(a_later_round_beside_all_places_is_a_place_of_its_own),
        cmocka_unit_test(touches_of_one_round_still_have_to_agree),
        cmocka_unit_test(too_little_work_space_is_a_usage_error),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
