/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_line.c - what the readers of the three forms of line share.
 */
#include "check.h"

#include "decode/line.h"

#include <math.h>
#include <string.h>

static bool whole(const char *text, uint64_t most, uint64_t *value)
{
    *value = 7;
    return tu_line_whole(text, strlen(text), most, value);
}

static void a_whole_number_is_digits_and_nothing_else(void **state)
{
    (void)state;
    static const char *const no[] = {"",    "-1",  "+1",   " 1",    "1 ",
                                     "1.0", "1e3", "0x10", "1,000", "a"};
    uint64_t value;
    for (size_t i = 0; i < sizeof no / sizeof no[0]; i++) {
        assert_false(whole(no[i], 1000, &value));
        assert_int_equal(value, 7); /* left alone */
    }
    assert_true(whole("0042", 1000, &value));
    assert_int_equal(value, 42);
}

static void a_whole_number_ends_at_the_most_that_is_asked_for(void **state)
{
    (void)state;
    uint64_t value;
    assert_true(whole("5", 5, &value));
    assert_int_equal(value, 5);
    assert_false(whole("6", 5, &value)); /* one digit, less than ten */
    assert_false(whole("9", 5, &value));
    assert_true(whole("65535", 65535, &value));
    assert_false(whole("65536", 65535, &value));
    assert_true(whole("9007199254740991", TU_LINE_WHOLE_MAX, &value)); /* RFC 7493, section 2.2 */
    assert_false(whole("9007199254740992", TU_LINE_WHOLE_MAX, &value));
    assert_true(whole("18446744073709551615", UINT64_MAX, &value));
    assert_true(value == UINT64_MAX);
    assert_false(whole("18446744073709551616", UINT64_MAX, &value));
}

static tu_decode_setup setup(void)
{
    tu_decode_setup made = {.axis = TU_AXIS_Z, .direction = -1};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        made.machine.travel_low_mm[axis] = made.machine.travel_high_mm[axis] = NAN;
    return made;
}

static tu_line at(double x_mm, double y_mm, double z_mm)
{
    tu_line line = tu_line_start();
    line.decoded.position_mm[TU_AXIS_X] = x_mm;
    line.decoded.position_mm[TU_AXIS_Y] = y_mm;
    line.decoded.position_mm[TU_AXIS_Z] = z_mm;
    return line;
}

static void what_a_line_leaves_out_is_taken_from_the_setup(void **state)
{
    (void)state;
    tu_decode_setup said = setup();
    tu_line bare = at(1, 2, -3), stated = at(1, 2, -3);
    stated.decoded.axis = TU_AXIS_X;
    stated.decoded.direction = 1;
    assert_int_equal(tu_line_settle(&bare, &said), TU_LINE_READ);
    assert_int_equal(bare.decoded.axis, TU_AXIS_Z);
    assert_int_equal(bare.decoded.direction, -1);
    assert_int_equal(tu_line_settle(&stated, &said), TU_LINE_READ);
    assert_int_equal(stated.decoded.axis, TU_AXIS_X);
    assert_int_equal(stated.decoded.direction, 1);
}

static void a_position_that_cannot_be_is_refused_with_its_reason(void **state)
{
    (void)state;
    tu_decode_setup said = setup();
    tu_line missing = at(1, NAN, -3), endless = at(INFINITY, 2, -3), far = at(1, 2, -100000.5);
    assert_int_equal(tu_line_settle(&missing, &said), TU_LINE_REFUSED);
    check_contains(missing.decoded.reason, "missing");
    assert_int_equal(tu_line_settle(&endless, &said), TU_LINE_REFUSED);
    assert_int_equal(tu_line_settle(&far, &said), TU_LINE_REFUSED);
    check_contains(far.decoded.reason, "farther away");
}

static void the_travel_holds_its_own_ends_and_nothing_beyond(void **state)
{
    (void)state;
    tu_decode_setup said = setup();
    said.machine.travel_low_mm[TU_AXIS_Z] = -120;
    said.machine.travel_high_mm[TU_AXIS_Z] = 0;
    tu_line low = at(1, 2, -120), high = at(1, 2, 0), below = at(1, 2, -120.001),
            above = at(1, 2, 0.001);
    assert_int_equal(tu_line_settle(&low, &said), TU_LINE_READ);
    assert_int_equal(tu_line_settle(&high, &said), TU_LINE_READ);
    assert_int_equal(tu_line_settle(&below, &said), TU_LINE_REFUSED);
    check_contains(below.decoded.reason, "outside the machine's travel");
    assert_int_equal(tu_line_settle(&above, &said), TU_LINE_REFUSED);
}

static void a_spoilt_line_keeps_no_number(void **state)
{
    (void)state;
    tu_line line = at(1, 2, 3);
    line.decoded.has_sequence = true;
    assert_int_equal(tu_line_spoilt(&line, "a wrong checksum"), TU_LINE_DAMAGED);
    assert_false(line.decoded.has_sequence);
    assert_string_equal(line.decoded.reason, "a wrong checksum");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_whole_number_is_digits_and_nothing_else),
        cmocka_unit_test(a_whole_number_ends_at_the_most_that_is_asked_for),
        cmocka_unit_test(what_a_line_leaves_out_is_taken_from_the_setup),
        cmocka_unit_test(a_position_that_cannot_be_is_refused_with_its_reason),
        cmocka_unit_test(the_travel_holds_its_own_ends_and_nothing_beyond),
        cmocka_unit_test(a_spoilt_line_keeps_no_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
