/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_plan_trials.c - trial series: how many touches, at which feeds, and on the virtual machine.
 */
#include "plan_case.h"

#include "sample_scene.h"

#include <math.h>
#include <string.h>

static sample_run run;

static void refused(tu_status status, const char *where, const char *part)
{
    sample_plan_refused(&p, SAMPLE_TRIALS, status, where, part);
}

/* Rehearses it on the sample table, from a place of the window. */
static void rehearse(double off_x, double off_y, double height)
{
    tu_scene *scene = &run.scene;
    sample_scene_start(scene);
    scene->plate = p.plate;
    scene->cutter = p.cutter;
    scene->plate_corner = p.trials.place.target;
    scene->plate_corner.outward[TU_AXIS_Z] = 1;
    bool anywhere = isnan(p.summary.start_mm[0]);
    scene->start.x = 200.0 + (anywhere ? 20.0 : p.summary.start_mm[0] + off_x);
    scene->start.y = 150.0 + (anywhere ? 20.0 : p.summary.start_mm[1] + off_y);
    scene->start.z = -82.0 + 9.53 + height;
    sample_rehearse_clean(&run, p.program);
}

/* The hits that count, all of that axis; mean position of those that moved that way. */
static size_t count_hits(tu_axis axis, int direction, const char *series, double *mean)
{
    size_t count = 0;
    *mean = 0.0;
    for (size_t i = 0; i < run.hits; i++) {
        const tu_hit *hit = &run.hit[i];
        if (!hit->ok)
            continue;
        assert_int_equal(hit->axis, axis);
        if (hit->direction != direction || strcmp(hit->series, series) != 0)
            continue;
        const double position[] = {hit->position.x, hit->position.y, hit->position.z};
        *mean += position[axis];
        count++;
    }
    *mean /= (double)count;
    return count;
}

static void z_is_touched_as_often_as_asked(void **unused)
{
    (void)unused;
    double mean;
    p.trials.touches = 30;
    sample_plan_good(&p, SAMPLE_TRIALS);
    assert_int_equal(p.summary.touches, 30);
    assert_true(sample_plan_count(&p, ", search)") == 1);
    rehearse(0, 0, 5);
    assert_int_equal(count_hits(TU_AXIS_Z, -1, "trial", &mean), 30);
    check_close(mean, -82.0 + 9.53, 1e-6, "the plate's face, mm");
}

static void between_touches_it_lifts_by_the_clearance(void **unused)
{
    (void)unused;
    /* Off by 3, back to 1 off, then slowly 1 and 0.1 for the overrun and 2 of press. */
    sample_plan_good(&p, SAMPLE_TRIALS);
    assert_true(sample_plan_count(&p, "G1 Z3.000 F600.0\nG1 Z-2.000 F600.0\n") == 10);
    assert_true(sample_plan_count(&p, "G38.2 Z-3.100 F25.0\n") == 10);
}

static void feeds_are_used_in_turn_in_series_of_their_own(void **unused)
{
    (void)unused;
    double mean;
    const double feeds[] = {20.0, 60.0, 120.5};
    memcpy(p.trials.feed_mm_per_min, feeds, sizeof feeds);
    p.trials.feed_count = 3;
    sample_plan_good(&p, SAMPLE_TRIALS);
    rehearse(0, 0, 5);
    assert_int_equal(count_hits(TU_AXIS_Z, -1, "trial-f20", &mean), 4);
    assert_int_equal(count_hits(TU_AXIS_Z, -1, "trial-f60", &mean), 3);
    assert_int_equal(count_hits(TU_AXIS_Z, -1, "trial-f120.5", &mean), 3);
    assert_true(sample_plan_count(&p, "F120.5\n") == 3);
}

static void a_wall_is_touched_from_its_side(void **unused)
{
    (void)unused;
    double mean;
    p.trials.axis = TU_AXIS_Y;
    sample_plan_good(&p, SAMPLE_TRIALS);
    rehearse(2.9, -2.9, 2.1);
    assert_int_equal(count_hits(TU_AXIS_Y, 1, "trial", &mean), 10);
    check_close(mean, 150.0 - 6.40 - 3.175, 1e-6, "Y of the axis, mm");
}

static void both_sides_of_a_bore_are_touched_in_turn(void **unused)
{
    (void)unused;
    double low, high;
    sample_plan_bore(&p, 30.0);
    p.trials.axis = TU_AXIS_X;
    p.trials.both_sides = true;
    p.trials.touches = 9;
    sample_plan_good(&p, SAMPLE_TRIALS);
    assert_int_equal(p.summary.touches, 9);
    rehearse(-2.9, 2.9, 7.9);
    assert_int_equal(count_hits(TU_AXIS_X, -1, "trial", &low), 5);
    assert_int_equal(count_hits(TU_AXIS_X, 1, "trial", &high), 4);
    /* Through the middle, to within what the other axis is off it. */
    check_close((low + high) / 2.0, 220.0, 1e-6, "the bore's middle, mm");
    check_close(high - low, 30.0 - 6.35, 0.02, "chord, mm");
}

static void one_side_of_a_bore_is_its_low_one(void **unused)
{
    (void)unused;
    double mean;
    sample_plan_bore(&p, 30.0);
    sample_plan_flutes(&p, 3, 0.1);
    p.trials.axis = TU_AXIS_Y;
    sample_plan_good(&p, SAMPLE_TRIALS);
    assert_int_equal(p.summary.pauses, 3); /* X low, X high, Y */
    sample_plan_flutes(&p, 0, NAN);
    sample_plan_good(&p, SAMPLE_TRIALS);
    rehearse(2.9, 2.9, 5);
    assert_int_equal(count_hits(TU_AXIS_Y, -1, "trial", &mean), 10);
}

static void counts_and_feeds_have_limits(void **unused)
{
    (void)unused;
    p.trials.touches = 1;
    refused(TU_DATA_RANGE, "{touches}", "2 to 1000");
    p.trials.touches = 1001;
    refused(TU_DATA_RANGE, "{touches}", "found 1001");
    p.trials.touches = 1000;
    sample_plan_good(&p, SAMPLE_TRIALS);
    p.trials.feed_count = 1;
    const double feeds[] = {0.0, 500.5, -3.0, NAN};
    for (int i = 0; i < 4; i++) {
        p.trials.feed_mm_per_min[0] = feeds[i];
        refused(TU_DATA_RANGE, "{feeds}", "from 1 to 500 mm/min");
    }
    p.trials.feed_count = 17;
    refused(TU_DATA_RANGE, "{feeds}", "at most 16");
}

static void what_cannot_be_a_trial_is_refused(void **unused)
{
    (void)unused;
    p.trials.both_sides = true;
    refused(TU_USAGE, "{both_sides}", "in a bore");
    p.trials.axis = TU_AXIS_X;
    refused(TU_USAGE, "{both_sides}", "in a bore");
    p.trials.both_sides = false;
    sample_plan_target(&p, "front");
    refused(TU_USAGE, "{touches_axis}", "front is not across X");
    p.style.set = true;
    refused(TU_USAGE, "{set}", "set nothing");
    p.style.set = false;
    p.trials.place.plate = NULL;
    refused(TU_DATA_MISSING, "{plate}", "no plate");
    p.trials.place.plate = &p.plate;
    p.trials.axis = TU_AXIS_Z;
    memset(p.trials.place.series, 'a', 30);
    p.trials.feed_count = 1;
    p.trials.feed_mm_per_min[0] = 20.0;
    refused(TU_DATA_RANGE, "{series_name}", "too long to take the feeds");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(z_is_touched_as_often_as_asked),
        TEST(between_touches_it_lifts_by_the_clearance),
        TEST(feeds_are_used_in_turn_in_series_of_their_own),
        TEST(a_wall_is_touched_from_its_side),
        TEST(both_sides_of_a_bore_are_touched_in_turn),
        TEST(one_side_of_a_bore_is_its_low_one),
        TEST(counts_and_feeds_have_limits),
        TEST(what_cannot_be_a_trial_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
