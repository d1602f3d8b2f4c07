/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_placement.c - which wall serves which axis, and the names of the work offsets.
 */
#include "check.h"
#include "sample_setup.h"

static int wall_at(const char *corner, bool turned, tu_axis axis)
{
    sample_setup setup;
    sample_start(&setup, corner);
    setup.plate.turned = turned;
    return tu_plate_wall_for(&setup.plate, setup.request.target, axis);
}

static void a_turned_plate_changes_walls_at_every_quarter_turn(void **state)
{
    (void)state; /* geometry.md: front-left a X, front-right b X, back-right a X, back-left b X */
    static const struct {
        const char *corner;
        int x, y;
    } rows[] = {{"front-left-top", 0, 1},    {"front-right-top", 1, 0},
                {"back-right-top", 0, 1},    {"back-left-top", 1, 0},
                {"front-left-bottom", 0, 1}, {"front-right-bottom", 1, 0},
                {"back-right-bottom", 0, 1}, {"back-left-bottom", 1, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_int_equal(wall_at(rows[i].corner, true, TU_AXIS_X), rows[i].x);
        assert_int_equal(wall_at(rows[i].corner, true, TU_AXIS_Y), rows[i].y);
    }
}

static void a_plate_that_is_not_turned_keeps_wall_a_on_x(void **state)
{
    (void)state;
    const char *corners[] = {"front-left-top", "front-right-top", "back-left-top",
                             "back-right-top"};
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(wall_at(corners[i], false, TU_AXIS_X), 0);
        assert_int_equal(wall_at(corners[i], false, TU_AXIS_Y), 1);
    }
}

static void the_nine_work_offsets_have_their_p_words(void **state)
{
    (void)state; /* NISTIR 6556 (2000), table of coordinate systems: P1 is G54, P9 is G59.3 */
    static const char *const names[] = {"G54", "G55",   "G56",   "G57",  "G58",
                                        "G59", "G59.1", "G59.2", "g59.3"};
    for (int i = 0; i < 9; i++) {
        int p = 0;
        check_status(tu_slot_parse(names[i], &p, NULL), TU_OK, NULL);
        assert_int_equal(p, i + 1);
    }
}

static void an_unknown_work_offset_names_the_nearest(void **state)
{
    (void)state;
    int p = 7;
    tu_error error;
    check_status(tu_slot_parse("G59.4", &p, &error), TU_USAGE, &error);
    assert_int_equal(p, 0);
    check_contains(error.message, "did you mean G59");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_turned_plate_changes_walls_at_every_quarter_turn),
        cmocka_unit_test(a_plate_that_is_not_turned_keeps_wall_a_on_x),
        cmocka_unit_test(the_nine_work_offsets_have_their_p_words),
        cmocka_unit_test(an_unknown_work_offset_names_the_nearest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
