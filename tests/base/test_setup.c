/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_setup.c - the names of axes, corners and faces.
 */
#include "check.h"

#include "trueup/setup.h"

#include <string.h>

static void axes_have_letters(void **state)
{
    (void)state;
    assert_int_equal(tu_axis_letter(TU_AXIS_X), 'X');
    assert_int_equal(tu_axis_letter(TU_AXIS_Y), 'Y');
    assert_int_equal(tu_axis_letter(TU_AXIS_Z), 'Z');
    assert_int_equal(tu_axis_letter(TU_AXIS_COUNT), '?');
}

/* Origin: the frame itself. X+ to the right, Y+ to the back, Z+ up, signs pointing outward. */
static int sign_of(const char *name, const char *minus, const char *plus)
{
    return strstr(name, plus) != NULL ? 1 : strstr(name, minus) != NULL ? -1 : 0;
}

static void every_name_has_the_signs_that_its_words_say(void **state)
{
    (void)state;
    for (size_t i = 0; i < TU_TARGET_COUNT; i++) {
        const char *name = tu_target_name_at(i);
        tu_target target;
        tu_error error;
        check_status(tu_target_parse(name, &target, &error), TU_OK, &error);
        assert_int_equal(target.outward[TU_AXIS_X], sign_of(name, "left", "right"));
        assert_int_equal(target.outward[TU_AXIS_Y], sign_of(name, "front", "back"));
        assert_int_equal(target.outward[TU_AXIS_Z], sign_of(name, "bottom", "top"));
        assert_string_equal(tu_target_name(target), name);
        assert_int_equal(tu_target_is_face(target), strchr(name, '-') == NULL);
        assert_int_equal(tu_target_is_face(target), i >= 8);
    }
    assert_string_equal(tu_target_name_at(TU_TARGET_NAME_COUNT), "");
}

/* Origin: geometry.md 9. X middle half way between left and right, Y between front and back. */
static void a_middle_or_a_round_is_no_axis_left_alone(void **state)
{
    (void)state;
    for (size_t i = 0; i < TU_TARGET_NAME_COUNT; i++) {
        const char *name = tu_target_name_at(i);
        bool round = strncmp(name, "hole", 4) == 0 || strncmp(name, "boss", 4) == 0;
        bool middle = strstr(name, "middle") != NULL;
        bool x = strstr(name, "left") || strstr(name, "right");
        bool y = strstr(name, "front") || strstr(name, "back");
        bool z = strstr(name, "top") || strstr(name, "bottom");
        tu_target target;
        tu_error error;
        check_status(tu_target_parse(name, &target, &error), TU_OK, &error);
        assert_string_equal(tu_target_name(target), name);
        assert_int_equal(tu_target_asks(target, TU_AXIS_X), x || middle || round);
        assert_int_equal(tu_target_asks(target, TU_AXIS_Y), y || middle || round);
        assert_int_equal(tu_target_asks(target, TU_AXIS_Z), z);
        assert_int_equal(target.outward[TU_AXIS_X] != 0, x);
        assert_int_equal(target.kind[TU_AXIS_X] == TU_TARGET_MIDDLE, middle && !x);
        assert_int_equal(target.kind[TU_AXIS_Y] == TU_TARGET_MIDDLE, middle && !y);
        assert_int_equal(target.kind[TU_AXIS_X] == TU_TARGET_HOLE, name[0] == 'h');
        assert_int_equal(target.kind[TU_AXIS_Z], TU_TARGET_FACE);
        assert_int_equal(tu_target_check(target, &error), i < TU_TARGET_COUNT ? TU_OK : TU_USAGE);
        if (i >= TU_TARGET_COUNT) {
            check_contains(error.message, name);
            check_contains(error.message, "does not work out yet");
            assert_false(tu_target_is_face(target));
        }
    }
    assert_int_equal(tu_target_check((tu_target){.outward = {1, 1, 0}}, NULL), TU_USAGE);
}

static void check_refused(const char *name, const char *said)
{
    tu_target target = {.outward = {1, 1, 1}};
    tu_error error;
    check_status(tu_target_parse(name, &target, &error), TU_DATA_UNKNOWN, &error);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        assert_int_equal(target.outward[axis], 0);
    check_contains(error.message, said);
    check_contains(error.message, "front-left-top"); /* the form, always */
}

static void a_name_that_leaves_something_open_is_answered_with_what_may_be_meant(void **state)
{
    (void)state;
    check_refused("front-left", "did you mean \"front-left-top\" or \"front-left-bottom\"?");
    check_refused("right-back", "did you mean \"back-right-top\" or \"back-right-bottom\"?");
    check_refused("left-top", "did you mean \"front-left-top\" or \"back-left-top\"?");
    check_refused("bottom-front", "mean \"front-left-bottom\" or \"front-right-bottom\"?");
    check_refused("middle", "did you mean \"middle-top\" or \"middle-bottom\"?");
    check_refused("left-middle", "did you mean \"middle-left-top\" or \"middle-left-bottom\"?");
    check_refused("top-middle", "did you mean \"middle-top\"?");
    check_refused("middle-middle-top", "did you mean \"middle-top\"?");
    check_refused("top-hole", "did you mean \"hole-top\"?");
    tu_target target;
    tu_error error;
    tu_target_parse("left-right", &target, &error);
    check_lacks(error.message, "did you mean");
    tu_target_parse("-", &target, &error);
    check_lacks(error.message, "did you mean");
}

static void the_targets_differ(void **state)
{
    (void)state;
    for (size_t i = 0; i < TU_TARGET_NAME_COUNT; i++) {
        assert_true(strlen(tu_target_name_at(i)) > 0);
        for (size_t j = 0; j < i; j++)
            assert_string_not_equal(tu_target_name_at(i), tu_target_name_at(j));
    }
}

static void signs_of_no_target_have_no_name(void **state)
{
    (void)state;
    assert_string_equal(tu_target_name((tu_target){.outward = {0, 0, 0}}), "");
    assert_string_equal(tu_target_name((tu_target){.outward = {1, 1, 0}}), "");
    assert_string_equal(tu_target_name((tu_target){.outward = {2, 0, 0}}), "");
    assert_false(tu_target_is_face((tu_target){.outward = {0, 0, 0}}));
    assert_false(tu_target_is_face((tu_target){.outward = {1, 1, 0}}));
}

static void a_slip_in_a_target_names_the_nearest(void **state)
{
    (void)state;
    check_refused("fornt-left-top", "did you mean \"front-left-top\"?");
    check_refused("Back-Right-Bottom", "did you mean \"back-right-bottom\"?");
    check_refused("front-left-tpo", "did you mean \"front-left-top\"?");
    check_refused("lft", "did you mean \"left\"?");
    check_refused("botom", "did you mean \"bottom\"?");
    check_refused("front_left_top", "did you mean \"front-left-top\"?");
}

static void the_words_of_a_corner_in_another_order_are_named(void **state)
{
    (void)state;
    check_refused("left-front-top", "did you mean \"front-left-top\"?");
    check_refused("bottom-right-back", "did you mean \"back-right-bottom\"?");
    check_refused("top-left-back", "did you mean \"back-left-top\"?");
}

static void a_name_like_no_target_gets_no_guess(void **state)
{
    (void)state;
    check_refused("corner", "unknown target \"corner\"");
    check_refused("", "unknown target \"\"");
    tu_target target;
    tu_error error;
    tu_target_parse("corner", &target, &error);
    check_lacks(error.message, "did you mean");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(axes_have_letters),
        cmocka_unit_test(every_name_has_the_signs_that_its_words_say),
        cmocka_unit_test(the_targets_differ),
        cmocka_unit_test(a_middle_or_a_round_is_no_axis_left_alone),
        cmocka_unit_test(a_name_that_leaves_something_open_is_answered_with_what_may_be_meant),
        cmocka_unit_test(signs_of_no_target_have_no_name),
        cmocka_unit_test(a_slip_in_a_target_names_the_nearest),
        cmocka_unit_test(the_words_of_a_corner_in_another_order_are_named),
        cmocka_unit_test(a_name_like_no_target_gets_no_guess),
    };
    return cmocka_run_group_tests_name("setup", tests, NULL, NULL);
}
