/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_calibrate_mistakes.c - slips that a person makes: each is refused or warned of, with its
 * likely cause in words.
 */
#include "plate_bench.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The usual set: plate and bare block on both edges along X. */
static void start(bench *on)
{
    bench_start(on, 3);
    bench_state_block(on, 0.01);
    on->request.machine.repeatability[0] = (tu_repeatability){0.003, 20.0};
    on->noise_mm = 1e-6; /* so that the repeats are not the same to the last digit */
    for (const char *edge = "lr"; *edge != '\0'; edge++) {
        bench_touch(on, *edge, 'a', 0, 3);
        bench_touch(on, *edge, '-', 0, 3);
    }
}

static void check_refused(bench *on, tu_status status, const char *where, const char *words)
{
    check_status(bench_solve(on), status, &on->error);
    check_contains(on->error.where, where);
    check_contains(on->error.message, words);
}

static void check_warned(bench *on, const char *words)
{
    check_status(bench_solve(on), TU_OK, &on->error);
    if (!bench_warned(on, words)) {
        for (size_t k = 0; k < on->result.warnings.count; k++)
            print_message("# warning: %s\n", on->result.warnings.text[k]);
        fail_msg("no warning says '%s'", words);
    }
}

static void the_usual_set_passes_without_a_word(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    check_status(bench_solve(&on), TU_OK, &on.error);
    for (size_t k = 0; k < on.result.warnings.count; k++)
        fail_msg("unexpected: %s", on.result.warnings.text[k]);
    assert_true(on.result.determined);
}

static void no_touches_are_refused(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    check_refused(&on, TU_USAGE, "touches", "needs a plate and touches");
}

static void repeats_far_apart_are_refused(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    on.truth.offset[0] += 0.6;
    bench_touch(&on, 'r', 'a', 0, 1);
    check_refused(&on, TU_DATA_CONFLICT, "right/a/quarter", "lie 0.600 mm apart");
}

static void edges_swapped_are_refused(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    for (size_t k = 0; k < on.request.touch_count; k++)
        on.touch[k].outward = -on.touch[k].outward;
    check_refused(&on, TU_DATA_CONFLICT, "right/a/quarter", "the two are swapped");
}

static void bore_sides_swapped_are_refused(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    bench_bore(&on);
    bench_touch(&on, 'l', '<', 0, 1);
    bench_touch(&on, 'l', '>', 0, 1);
    on.touch[12].contact = TU_CONTACT_BORE_HIGH;
    on.touch[13].contact = TU_CONTACT_BORE_LOW;
    check_refused(&on, TU_DATA_CONFLICT, "left/bore.a high/quarter", "swapped");
}

static void face_and_seat_swapped_are_refused(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_touch_z(&on, 'f', 1);
    bench_touch_z(&on, 's', 1);
    on.touch[0].contact = TU_CONTACT_SEAT;
    on.touch[1].contact = TU_CONTACT_FACE;
    check_refused(&on, TU_DATA_CONFLICT, "thickness", "face and seat look swapped");
}

static void a_wall_that_faces_the_other_way_is_named(void **state)
{
    (void)state;
    static bench on; /* the bare touches make the facing visible: they give the radius */
    start(&on);
    on.truth.outward[0] = false;
    on.request.touch_count = 0;
    for (const char *edge = "lr"; *edge != '\0'; edge++) {
        bench_touch(&on, *edge, 'a', 0, 1);
        bench_touch(&on, *edge, '-', 0, 1);
    }
    check_warned(&on, "about the cutter's diameter, as when the wall faces the other way");
}

static void a_contradicted_facing_is_refused_with_the_cause(void **state)
{
    (void)state;
    static bench on; /* two cutters on a wall that faces inward, called outward */
    bench_start(&on, 3);
    bench_state_block(&on, 0.01);
    on.truth.outward[0] = false;
    for (const char *edge = "lr"; *edge != '\0'; edge++) {
        for (size_t cutter = 0; cutter < 2; cutter++) {
            bench_touch(&on, *edge, 'a', cutter, 1);
            bench_touch(&on, *edge, '-', cutter, 1);
        }
    }
    check_refused(&on, TU_DATA_CONFLICT, "", "they would agree if wall a faced inward");
}

static void a_gross_contradiction_names_the_place(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    for (const char *edge = "lr"; *edge != '\0'; edge++) {
        bench_touch(&on, *edge, 'a', 1, 1);
        bench_touch(&on, *edge, '-', 1, 1);
    }
    on.touch[12].position_mm += 1.2; /* left/a/eighth */
    check_refused(&on, TU_DATA_CONFLICT, "left/a/eighth", "mm from where the other touches put it");
}

static void what_nothing_else_is_held_against_does_not_hide_what_follows(void **state)
{
    (void)state; /* the first touch is the only one of Z: it contradicts nothing */
    static bench on;
    bench_start(&on, 1);
    bench_touch_z(&on, 'f', 1);
    bench_state_block(&on, 0.01);
    for (const char *edge = "lr"; *edge != '\0'; edge++) {
        bench_touch(&on, *edge, 'a', 0, 3);
        bench_touch(&on, *edge, '-', 0, 3);
    }
    for (size_t k = 1; k < 4; k++)
        on.touch[k].position_mm += 1.2; /* left/a/quarter */
    check_refused(&on, TU_DATA_CONFLICT, "left/a/quarter", "from where the other touches put it");
}

static void a_change_by_the_radius_is_named(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    on.plate.wall[0].offset.value_mm = 6.35 - 3.175;
    check_warned(&on,
                 "offset of wall a differs from the shop file by +3.175 mm: about the cutter's "
                 "radius");
}

static void any_other_large_change_is_warned_of(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    on.plate.wall[0].offset.value_mm = 16.0;
    check_warned(&on, "by -9.650 mm: look for a wrong edge");
    start(&on);
    on.cutter[0].diameter.value_mm = 6.0;
    check_warned(&on, "effective diameter of quarter differs from the shop file by +0.350 mm");
    bench_start(&on, 1);
    on.plate.thickness.value_mm = 3.0;
    bench_touch_z(&on, 'f', 2);
    bench_touch_z(&on, 's', 2);
    check_warned(&on, "was the seat touched where the plate lies?");
}

static void a_diameter_below_zero_is_refused(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    on.request.block[0].value_mm = 70.0;
    check_refused(&on, TU_DATA_CONFLICT, "effective diameter of quarter", "cannot be");
}

static void a_touch_outside_the_travel_is_refused(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    on.request.machine.travel_low_mm[0] = 0.0;
    on.request.machine.travel_high_mm[0] = 1200.0;
    on.touch[0].position_mm = 5080.0; /* 200 mm typed as inches */
    check_refused(&on, TU_DATA_RANGE, "left/a/quarter", "is {unit} in right?");
    on.touch[0].position_mm = -20.0;
    check_refused(&on, TU_DATA_RANGE, "left/a/quarter", "are these machine coordinates?");
}

static void numbers_that_cannot_be_are_refused(void **state)
{
    (void)state;
    static bench on;
    const double bad[] = {NAN, INFINITY, -INFINITY, 2e6};
    for (size_t k = 0; k < 4; k++) {
        start(&on);
        on.touch[4].position_mm = bad[k];
        check_refused(&on, TU_DATA_RANGE, "left/bare/quarter", "a position must be a number");
    }
    start(&on);
    on.request.block[0].value_mm = -60.0;
    check_refused(&on, TU_DATA_RANGE, "{block_x}", "must be above zero");
    start(&on);
    on.request.slot[1] = tu_quantity_mm(INFINITY, 0.0);
    check_refused(&on, TU_DATA_RANGE, "{slot_y}", "must be above zero");
}

static void surfaces_that_the_plate_lacks_are_refused(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    bench_touch(&on, 'l', '<', 0, 1);
    check_refused(&on, TU_DATA_MISSING, "left/bore.a low/quarter", "has no bore");
    start(&on);
    on.plate.wall[0].present = false;
    check_refused(&on, TU_DATA_MISSING, "left/a/quarter", "plate offcut has no wall a");
}

static void touches_that_name_nothing_are_refused(void **state)
{
    (void)state;
    static bench on;
    const tu_calibration_touch bad[] = {
        {TU_CONTACT_WALL, TU_AXIS_X, 0, 0, 0, 1.0},  {TU_CONTACT_WALL, TU_AXIS_X, 1, 2, 0, 1.0},
        {TU_CONTACT_BARE, TU_AXIS_X, 1, 0, 9, 1.0},  {TU_CONTACT_BARE, TU_AXIS_Z, 1, 0, 0, 1.0},
        {TU_CONTACT_FACE, TU_AXIS_X, -1, 0, 0, 1.0}, {TU_CONTACT_SLOT, TU_AXIS_COUNT, 1, 0, 0, 1.0},
    };
    for (size_t k = 0; k < sizeof bad / sizeof *bad; k++) {
        start(&on);
        on.touch[2] = bad[k];
        check_refused(&on, TU_USAGE, "touches", "does not exist");
    }
}

static void what_is_left_out_of_the_uncertainty_is_said(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    on.request.machine.repeatability[0].sd_mm = NAN;
    on.request.touch_count = 0;
    for (const char *edge = "lr"; *edge != '\0'; edge++) {
        bench_touch(&on, *edge, 'a', 0, 1);
        bench_touch(&on, *edge, '-', 0, 1);
    }
    check_warned(&on, "no touch along X was repeated");
    check_nan(on.result.misfit_p, "p without a spread to judge by");
    assert_false(bench_warned(&on, "nobody can tell"));
    on.request.trust_cutters = true;
    on.touch[0].position_mm += 0.05;
    check_warned(&on, "nobody can tell whether that is scatter or a slip");
    start(&on);
    on.request.block[0].tolerance_mm = NAN;
    check_warned(&on, "the width of the block along X has no tolerance and counts as exact");
    start(&on);
    on.request.trust_cutters = true;
    on.cutter[0].diameter.tolerance_mm = NAN;
    check_warned(&on, "the diameter of quarter has no tolerance");
    bench_start(&on, 1);
    bench_touch_z(&on, 'f', 3);
    bench_touch_z(&on, 's', 3);
    check_warned(&on, "all repeats along Z read the same");
    bench_touch(&on, 'l', '-', 0, 1);
    check_warned(&on, "left/bare/quarter touched once only");
}

static void cutters_whose_reach_varies_are_warned_of(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    on.cutter[0].shape = TU_CUTTER_BALL;
    check_warned(&on, "quarter is not flat");
    on.request.trust_cutters = true;
    check_refused(&on, TU_USAGE, "{trust_cutters}", "depends on the depth");
    start(&on);
    on.cutter[0].flutes = 2;
    on.cutter[0].helix_rad = 0.0;
    check_warned(&on, "quarter was not turned with a cutting edge to the wall");
}

static void a_wall_of_a_plate_that_is_not_turned_is_doubted_on_the_other_axis(void **state)
{
    (void)state;
    static bench on;
    start(&on);
    on.plate.turned = false;
    bench_touch(&on, 'f', 'a', 0, 1);
    check_warned(&on, "its a serves X only, yet front/a/quarter touches it along Y");
}

static void too_many_contacts_are_refused(void **state)
{
    (void)state;
    static bench on;
    bench_start(&on, 1);
    bench_bore(&on);
    for (size_t cutter = 0; cutter < TU_CALIBRATION_CUTTERS; cutter++) {
        on.cutter[cutter] = on.cutter[0];
        on.truth.cutter_diameter[cutter] = 6.35;
        on.request.cutters[cutter] = &on.cutter[cutter];
        on.request.cutter_count = cutter + 1;
        for (const char *edge = "lrfk"; *edge != '\0'; edge++)
            for (const char *surface = "ab-<>"; *surface != '\0'; surface++)
                bench_touch(&on, *edge, *surface, cutter, 1);
    }
    check_refused(&on, TU_USAGE, "touches", "more than 64 different contacts");
}

static void offset_and_radius_that_err_together_are_told(void **state)
{
    (void)state;
    static bench on; /* an inward wall on one edge: o = touches + 2 r, so o and r err alike, but a
                        zero takes o - r: nothing to warn of */
    start(&on);
    on.plate.wall[0].facing = TU_FACES_INWARD;
    on.truth.outward[0] = false;
    on.request.touch_count = 0;
    bench_touch(&on, 'l', 'a', 0, 1);
    bench_touch(&on, 'l', '-', 0, 1);
    bench_touch(&on, 'r', '-', 0, 1);
    check_status(bench_solve(&on), TU_OK, &on.error);
    assert_true(on.result.determined);
    assert_false(bench_warned(&on, "err the same way"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_usual_set_passes_without_a_word),
        cmocka_unit_test(no_touches_are_refused),
        cmocka_unit_test(repeats_far_apart_are_refused),
        cmocka_unit_test(edges_swapped_are_refused),
        cmocka_unit_test(bore_sides_swapped_are_refused),
        cmocka_unit_test(face_and_seat_swapped_are_refused),
        cmocka_unit_test(a_wall_that_faces_the_other_way_is_named),
        cmocka_unit_test(a_contradicted_facing_is_refused_with_the_cause),
        cmocka_unit_test(a_gross_contradiction_names_the_place),
        cmocka_unit_test(what_nothing_else_is_held_against_does_not_hide_what_follows),
        cmocka_unit_test(a_change_by_the_radius_is_named),
        cmocka_unit_test(any_other_large_change_is_warned_of),
        cmocka_unit_test(a_diameter_below_zero_is_refused),
        cmocka_unit_test(a_touch_outside_the_travel_is_refused),
        cmocka_unit_test(numbers_that_cannot_be_are_refused),
        cmocka_unit_test(surfaces_that_the_plate_lacks_are_refused),
        cmocka_unit_test(touches_that_name_nothing_are_refused),
        cmocka_unit_test(what_is_left_out_of_the_uncertainty_is_said),
        cmocka_unit_test(cutters_whose_reach_varies_are_warned_of),
        cmocka_unit_test(a_wall_of_a_plate_that_is_not_turned_is_doubted_on_the_other_axis),
        cmocka_unit_test(too_many_contacts_are_refused),
        cmocka_unit_test(offset_and_radius_that_err_together_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
