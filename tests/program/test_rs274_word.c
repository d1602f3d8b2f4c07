/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rs274_word.c - the words that are taken, those that are not, and what may stand together.
 *
 * Source: NISTIR 6556 (2000), 3.3.2 (words), 3.3.5 (repeats), 3.3.6 (order), 3.4 (modal groups),
 * 3.5.n (each G code), 3.6.n (M codes), 3.7.1 (F); the clause stands beside each line. Clauses and
 * examples from memory. "trueup": a choice of this program, narrower than the standard.
 */
#include "check.h"
#include "rs274_show.h"

#include <stdio.h>
#include <string.h>

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])

static void every_word_of_touch_programs_is_taken(void **state)
{
    (void)state;
    static const rs274_accepted rows[] = {
        {"3.5.1", "G0 X1 Y2 Z3", "G0 X1 Y2 Z3"},
        {"3.5.1", "G00 Z5", "G0 Z5"},
        {"3.5.2", "G1 X-12.5 F300", "G1 X-12.5 F300"},
        {"3.5.2", "G01 Y.5", "G1 Y0.5"},
        {"3.5.4", "G4 P0.5", "G4 P0.5"},
        {"3.5.4", "G4 P0", "G4 P0"},
        {"3.5.5", "G10 L2 P1 X10 Y-20 Z-30.5", "G10 X10 Y-20 Z-30.5 L2 P1"},
        {"3.5.5", "G10 L2 P9", "G10 L2 P9"},
        {"3.5.6", "G17", "G17"},
        {"3.5.7", "G20", "G20"},
        {"3.5.7", "G21", "G21"},
        {"3.5.9", "G38.2 Z-10 F60", "G38.2 Z-10 F60"},
        {"3.5.9", "G38.2 X1 Y1", "G38.2 X1 Y1"},
        {"3.5.13", "G54", "G54"},
        {"3.5.13", "G55", "G55"},
        {"3.5.13", "G56", "G56"},
        {"3.5.13", "G57", "G57"},
        {"3.5.13", "G58", "G58"},
        {"3.5.13", "G59", "G59"},
        {"3.5.13", "G59.1", "G59.1"},
        {"3.5.13", "G59.2", "G59.2"},
        {"3.5.13", "G59.3", "G59.3"},
        {"3.5.15", "G80", "G80"},
        {"3.5.17", "G90", "G90"},
        {"3.5.17", "G91", "G91"},
        {"3.5.19", "G94", "G94"},
        {"3.6.1", "M0", "M0"},
        {"3.6.1", "M2", "M2"},
        {"3.6.2", "M5", "M5"},
        {"3.6.4", "M9", "M9"},
        {"3.7.1", "F0", "F0"},
        {"3.7.1", "F150.5", "F150.5"},
        {"3.3.2", "X1", "X1"}, /* the motion in force uses it, if there is one */
        {"3.3.2", "Z-1 F5", "Z-1 F5"},
    };
    rs274_check_accepted(rows, COUNT(rows));
}

static void codes_may_be_written_in_every_way_a_real_value_can(void **state)
{
    (void)state;
    static const rs274_accepted rows[] = {
        {"3.3.2.1", "G0021", "G21"},
        {"3.3.2.1", "G21.0", "G21"},
        {"3.3.2.1", "G+21.", "G21"},
        {"3.3.2.1", "G38.20 Z1", "G38.2 Z1"},
        {"3.3.2.1", "M05", "M5"},
        {"3.3.2.1", "M5.0", "M5"},
        {"3.3.2.1", "M5.0001", "M5"},            /* within 0.0001 of a whole number */
        {"3.3.2.1", "M4.9999", "M5"},            /* so is this */
        {"3.3.2.1", "G38.20001 Z1", "G38.2 Z1"}, /* ten times it is */
        {"3.3.2.1", "G20.99999", "G21"},
        {"3.3.2.2", "G#7 Z1", "G38.2 Z1"}, /* #7 = 38.2 */
        {"3.3.2.2", "G#1 L2 P#2", "G10 L2 P4"},
        {"3.3.2.3", "G[19+2]", "G21"},
        {"3.3.2.3", "M[10/2]", "M5"},
        {"3.3.2.4", "G abs[-90]", "G90"},
        {"3.5.5", "G10 L1.9999 P2.0001 X1", "G10 X1 L2 P2"}, /* made whole */
        {"3.5.5", "G10 L2 P[1+8]", "G10 L2 P9"},
    };
    rs274_check_accepted(rows, COUNT(rows));
}

static void words_of_different_groups_stand_together_in_any_order(void **state)
{
    (void)state;
    static const rs274_accepted rows[] = {
        {"3.4", "G17 G21 G54 G90 G94", "G17 G21 G90 G94 G54"},
        {"3.4", "G0 G17 G21 G54 G90 G94 M0 M5 M9 Z5", "G0 G17 G21 G90 G94 G54 M0 M5 M9 Z5"},
        {"3.4", "M2 M5 M9", "M2 M5 M9"},         /* groups 4, 7, 8 */
        {"3.4", "G4 G17 M5 P2", "G4 G17 M5 P2"}, /* G4 of group 0, and M5 of another group 7 */
        {"3.4", "G4 P1 G1 X5", "G1 G4 X5 P1"},   /* only one of the two uses axis words */
        {"3.4", "G80 G10 L2 P3 Y5", "G80 G10 Y5 L2 P3"}, /* G80 uses no axis words, G10 does */
        {"3.4", "G80 G4 P1", "G80 G4 P1"},
        {"3.3.6", "X3 G1 F100 Y2", "G1 X3 Y2 F100"},
        {"3.3.6", "F100 Y2 X3 G1", "G1 X3 Y2 F100"},
        {"3.3.6", "P1 L2 X4 G10", "G10 X4 L2 P1"},
        {"3.3.6", "M5 #3=15 (stop) G21", "G21 M5 #3=15 (stop)"},
        {"3.3.6", "(stop) G21 #3=15 M5", "G21 M5 #3=15 (stop)"},
    };
    rs274_check_accepted(rows, COUNT(rows));
}

static void words_of_one_modal_group_are_refused(void **state)
{
    (void)state;
    static const rs274_rejected rows[] = {
        {"3.4", "G0 G1 X1", 4, TU_DATA_SYNTAX, "G1 and G0 (column 1) are of one modal group"},
        {"3.4", "G1 X1 G38.2", 7, TU_DATA_SYNTAX, "G38.2 and G1 (column 1)"},
        {"3.4", "G80 G0 X1", 5, TU_DATA_SYNTAX, "G0 and G80 (column 1)"},
        {"3.4", "G1 G1 X1", 4, TU_DATA_SYNTAX, "G1 and G1 (column 1)"},
        {"3.4", "G20 G21", 5, TU_DATA_SYNTAX, "G21 and G20 (column 1)"},
        {"3.4", "G90 X1 G91", 8, TU_DATA_SYNTAX, "G91 and G90 (column 1)"},
        {"3.4", "G17 G17", 5, TU_DATA_SYNTAX, "G17 and G17"},
        {"3.4", "G94 G94", 5, TU_DATA_SYNTAX, "G94 and G94"},
        {"3.4", "G54 G59.3", 5, TU_DATA_SYNTAX, "G59.3 and G54 (column 1)"},
        {"3.4", "G4 P1 G10 L2", 7, TU_DATA_SYNTAX, "G10 and G4 (column 1)"},
        {"3.4", "M0 M2", 4, TU_DATA_SYNTAX, "M2 and M0 (column 1)"},
        {"3.4", "M5 G21 M5", 8, TU_DATA_SYNTAX, "M5 and M5 (column 1)"},
        {"3.4", "M9 M 9", 4, TU_DATA_SYNTAX, "M9 and M9"},
        /* Of five M words, at most four being allowed, two are always of one group here. */
        {"3.3.5", "M0 M5 M9 M2 M5", 10, TU_DATA_SYNTAX, "M2 and M0"},
    };
    rs274_check_rejected(rows, COUNT(rows));
}

static void a_letter_other_than_g_and_m_stands_once(void **state)
{
    (void)state;
    static const rs274_rejected rows[] = {
        {"3.3.5", "G0 X1 Y2 x3", 10, TU_DATA_SYNTAX,
         "X stands twice in this block, first in column 4"},
        {"3.3.5", "Y1 Y1", 4, TU_DATA_SYNTAX, "Y stands twice"},
        {"3.3.5", "Z1 (a) Z1", 8, TU_DATA_SYNTAX, "Z stands twice"},
        {"3.3.5", "F1 F2", 4, TU_DATA_SYNTAX, "F stands twice"},
        {"3.3.5", "G10 L2 L2 P1", 8, TU_DATA_SYNTAX, "L stands twice"},
        {"3.3.5", "G4 P1 P1", 7, TU_DATA_SYNTAX, "P stands twice"},
        {"3.3.1", "N1 X1 N2", 7, TU_DATA_SYNTAX, "a line number stands once and first"},
        {"3.3.1", "X1 N2", 4, TU_DATA_SYNTAX, "a line number stands once and first"},
        {"3.3.1", "N1 N2", 4, TU_DATA_SYNTAX, "a line number stands once and first"},
    };
    rs274_check_rejected(rows, COUNT(rows));
}

static void two_codes_that_both_use_axis_words_are_refused(void **state)
{
    (void)state;
    static const rs274_rejected rows[] = {
        {"3.4", "G10 L2 P1 G0 X1", 11, TU_DATA_SYNTAX, "G10 and G0 both use X, Y and Z"},
        {"3.4", "G1 G10 L2 P1 X1", 4, TU_DATA_SYNTAX, "G10 and G1 both use"},
        {"3.4", "G38.2 Z1 G10 L2 P1", 10, TU_DATA_SYNTAX, "G10 and G38.2 both use"},
    };
    rs274_check_rejected(rows, COUNT(rows));
}

static void axis_words_stand_where_they_are_used_and_only_there(void **state)
{
    (void)state;
    static const rs274_rejected rows[] = {
        {"3.5.1", "G0", 1, TU_DATA_SYNTAX, "G0 needs at least one of X, Y and Z"},
        {"3.5.1", "G90 G0 F5", 5, TU_DATA_SYNTAX, "G0 needs at least one"},
        {"3.5.2", "G1 F100", 1, TU_DATA_SYNTAX, "G1 needs at least one of X, Y and Z"},
        {"3.5.9", "G38.2 F50", 1, TU_DATA_SYNTAX, "G38.2 needs at least one of X, Y and Z"},
        {"3.5.15", "G80 X1", 5, TU_DATA_SYNTAX, "G80 ends motion and takes no X, Y or Z"},
        {"3.5.15", "Z1 Y2 G80", 1, TU_DATA_SYNTAX, "G80 ends motion"},
        {"3.5.15", "G80 G4 P1 Y1", 11, TU_DATA_SYNTAX, "G80 ends motion"},
        {"trueup", "G4 P1 X1", 7, TU_DATA_SYNTAX, "G4 takes no X, Y or Z"},
    };
    rs274_check_rejected(rows, COUNT(rows));
}

static void l_p_and_f_have_their_place_and_range(void **state)
{
    (void)state;
    static const rs274_rejected rows[] = {
        {"3.5.4", "G4", 1, TU_DATA_SYNTAX, "G4 needs P"},
        {"3.5.4", "G90 G4", 5, TU_DATA_SYNTAX, "G4 needs P"},
        {"3.5.4", "G4 P-1", 4, TU_DATA_RANGE, "P-1: this number cannot be negative"},
        {"3.5.4", "G4 P[0-0.001]", 4, TU_DATA_RANGE, "cannot be negative"},
        {"3.5.5", "G10", 1, TU_DATA_SYNTAX, "G10 needs L2"},
        {"3.5.5", "G10 P1 X1", 1, TU_DATA_SYNTAX, "G10 needs L2"},
        {"3.5.5", "G10 L2 X1", 1, TU_DATA_SYNTAX, "G10 needs P"},
        {"3.5.5", "G10 L1 P1", 5, TU_DATA_RANGE, "with L2 only"},
        {"3.5.5", "G10 L2.5 P1", 5, TU_DATA_RANGE, "with L2 only"},
        {"3.5.5", "G10 L20 P1 X0", 5, TU_DATA_RANGE, "with L2 only"},
        {"3.5.5", "G10 L-2 P1", 5, TU_DATA_RANGE, "with L2 only"},
        {"3.5.5", "G10 L2 P0", 8, TU_DATA_RANGE, "from 1 (G54) to 9 (G59.3)"},
        {"3.5.5", "G10 L2 P10", 8, TU_DATA_RANGE, "from 1 (G54) to 9 (G59.3)"},
        {"3.5.5", "G10 L2 P1.5", 8, TU_DATA_RANGE, "a whole number from 1"},
        {"3.5.5", "G10 L2 P1.0002", 8, TU_DATA_RANGE, "a whole number from 1"},
        {"3.5.5", "G10 L2 P-1", 8, TU_DATA_RANGE, "cannot be negative"},
        {"3.3.2", "G0 X1 L2", 7, TU_DATA_SYNTAX, "L belongs to G10"},
        {"3.3.2", "G4 P1 L2", 7, TU_DATA_SYNTAX, "L belongs to G10"},
        {"3.3.2", "G0 X1 P1", 7, TU_DATA_SYNTAX, "P belongs to G4 or G10"},
        {"3.3.2", "P1", 1, TU_DATA_SYNTAX, "P belongs to G4 or G10"},
        {"3.7.1", "G1 X1 F-1", 7, TU_DATA_RANGE, "F-1: a feed cannot be negative"},
        {"3.7.1", "F#4", 1, TU_DATA_RANGE, "F-2.5: a feed cannot be negative"},
    };
    rs274_check_rejected(rows, COUNT(rows));
}

static void codes_that_are_not_taken_are_named_with_what_they_are_for(void **state)
{
    (void)state;
    static const rs274_rejected rows[] = {
        {"3.5.3", "G2 X1 Y1 I1 J0", 1, TU_DATA_SYNTAX,
         "G2 (arcs) is not taken, touch programs do without it; taken are G0 G1 G4 G10"},
        {"3.5.3", "G90 G03 X1", 5, TU_DATA_SYNTAX, "G3 (arcs) is not taken"},
        {"3.5.6", "G18", 1, TU_DATA_SYNTAX, "G18 (other planes than XY)"},
        {"3.5.6", "G19", 1, TU_DATA_SYNTAX, "G19 (other planes than XY)"},
        {"3.5.8", "G28", 1, TU_DATA_SYNTAX, "G28 (moves to a stored position)"},
        {"3.5.8", "G30 Z1", 1, TU_DATA_SYNTAX, "G30 (moves to a stored position)"},
        {"3.5.10", "G40", 1, TU_DATA_SYNTAX, "G40 (cutter radius compensation)"},
        {"3.5.10", "G41 D1", 1, TU_DATA_SYNTAX, "G41 (cutter radius compensation)"},
        {"3.5.11", "G43 H1", 1, TU_DATA_SYNTAX, "G43 (tool length offsets)"},
        {"3.5.11", "G49", 1, TU_DATA_SYNTAX, "G49 (tool length offsets)"},
        {"3.5.12", "G53 G0 Z0", 1, TU_DATA_SYNTAX, "G53 (moves in machine coordinates)"},
        {"3.5.14", "G61.1", 1, TU_DATA_SYNTAX, "G61.1 (path control modes)"},
        {"3.5.14", "G64", 1, TU_DATA_SYNTAX, "G64 (path control modes)"},
        {"3.5.16", "G81 Z1", 1, TU_DATA_SYNTAX, "G81 (canned cycles)"},
        {"3.5.16", "G89", 1, TU_DATA_SYNTAX, "G89 (canned cycles)"},
        {"3.5.18", "G92 X0", 1, TU_DATA_SYNTAX, "G92 (axis offsets)"},
        {"3.5.18", "G92.1", 1, TU_DATA_SYNTAX, "G92.1 (axis offsets)"},
        {"3.5.19", "G93", 1, TU_DATA_SYNTAX, "G93 (inverse time feed)"},
        {"3.5.20", "G98", 1, TU_DATA_SYNTAX, "G98 (canned cycle returns)"},
        {"3.5", "G5", 1, TU_DATA_SYNTAX, "G5 is not taken, touch programs do without it"},
        {"3.5", "G38", 1, TU_DATA_SYNTAX, "G38 is not taken"},
        {"3.5", "G38.3 Z1", 1, TU_DATA_SYNTAX, "G38.3 is not taken"},
        {"3.5", "G59.4", 1, TU_DATA_SYNTAX, "G59.4 is not taken"},
        {"3.3.2.1", "G38.21 Z1", 1, TU_DATA_SYNTAX, "G38.21 is not taken"},
        {"3.3.2.1", "G20.9998", 1, TU_DATA_SYNTAX, "G20.9998 is not taken"},
        {"3.5", "G-1", 1, TU_DATA_SYNTAX, "G-1 is not taken"},
        {"3.5", "G[10**20]", 1, TU_DATA_SYNTAX, "is not taken"},
        {"3.6.1", "M1", 1, TU_DATA_SYNTAX, "M1 (the optional stop; M0 always stops)"},
        {"3.6.2", "M3 S1000", 1, TU_DATA_SYNTAX,
         "M3 (starting the spindle, which must stand still"},
        {"3.6.2", "M04", 1, TU_DATA_SYNTAX, "M4 (starting the spindle"},
        {"3.6.3", "T1 M6", 1, TU_DATA_SYNTAX, "T1 (tool selection) is not taken"},
        {"3.6.3", "M6", 1, TU_DATA_SYNTAX, "M6 (tool changes) is not taken"},
        {"3.6.4", "M7", 1, TU_DATA_SYNTAX,
         "M7 (coolant) is not taken, touch programs do without "
         "it; taken are M0 M2 M5 M9"},
        {"3.6.4", "M8", 1, TU_DATA_SYNTAX, "M8 (coolant)"},
        {"3.6.1", "M30", 1, TU_DATA_SYNTAX, "M30 (the pallet shuttle; M2 ends a program)"},
        {"3.6.5", "M48", 1, TU_DATA_SYNTAX, "M48 (override switches)"},
        {"3.6.1", "M60", 1, TU_DATA_SYNTAX, "M60 (the pallet shuttle; M0 pauses)"},
        {"3.6", "M99", 1, TU_DATA_SYNTAX, "M99 is not taken"},
        {"3.3.2.1", "M5.0002", 1, TU_DATA_SYNTAX, "M5.0002 is not taken"},
    };
    rs274_check_rejected(rows, COUNT(rows));
}

static void letters_that_are_not_taken_are_named_with_their_number(void **state)
{
    (void)state;
    static const rs274_rejected rows[] = {
        {"3.3.2", "G0 A90", 4, TU_DATA_SYNTAX,
         "A90 (A axis) is not taken, touch programs do without it"},
        {"3.3.2", "B1", 1, TU_DATA_SYNTAX, "B1 (B axis)"},
        {"3.3.2", "C1", 1, TU_DATA_SYNTAX, "C1 (C axis)"},
        {"3.3.2", "D1", 1, TU_DATA_SYNTAX, "D1 (cutter radius compensation number)"},
        {"3.3.2", "h[1+1]", 1, TU_DATA_SYNTAX, "H2 (tool length offset number)"},
        {"3.3.2", "I1", 1, TU_DATA_SYNTAX, "I1 (arc centre)"},
        {"3.3.2", "J1", 1, TU_DATA_SYNTAX, "J1 (arc centre)"},
        {"3.3.2", "K1", 1, TU_DATA_SYNTAX, "K1 (arc centre)"},
        {"3.3.2", "Q1", 1, TU_DATA_SYNTAX, "Q1 (pecking increment)"},
        {"3.3.2", "R1", 1, TU_DATA_SYNTAX, "R1 (arc radius)"},
        {"3.3.2", "M5 S1000", 4, TU_DATA_SYNTAX, "S1000 (spindle speed)"},
        {"3.3.2", "T", 1, TU_DATA_SYNTAX, "T (tool selection)"},
        {"3.3.2", "E1", 1, TU_DATA_SYNTAX, "no word starts with E, touch programs do without it"},
        {"3.3.2", "O100", 1, TU_DATA_SYNTAX, "no word starts with O"},
        {"3.3.2", "U1", 1, TU_DATA_SYNTAX, "no word starts with U"},
        {"3.3.2", "V1", 1, TU_DATA_SYNTAX, "no word starts with V"},
        {"3.3.2", "w1", 1, TU_DATA_SYNTAX, "no word starts with W"},
    };
    rs274_check_rejected(rows, COUNT(rows));
}

/* Each of the 26 letters is either read or refused by name; none slips through. */
static void no_letter_is_forgotten(void **state)
{
    (void)state;
    for (char letter = 'A'; letter <= 'Z'; letter++) {
        char line[8];
        snprintf(line, sizeof line, "%c5", letter);
        tu_rs274_reader reader = tu_rs274_start(line, strlen(line));
        tu_rs274_block block;
        bool have;
        tu_error error = {0};
        tu_status status = tu_rs274_next(&reader, rs274_sample_parameters(), &block, &have, &error);
        bool taken = strchr("FMNXYZ", letter) != NULL; /* G5 is none; L and P want a G code */
        if (taken != (!status) || taken != have)
            fail_msg("%s: %s", line, error.message);
        if (!taken)
            assert_non_null(strchr(error.message, letter));
    }
}

static tu_rs274_block block_of(const char *line)
{
    tu_rs274_reader reader = tu_rs274_start(line, strlen(line));
    tu_rs274_block block;
    bool have;
    tu_error error = {0};
    tu_status status = tu_rs274_next(&reader, rs274_sample_parameters(), &block, &have, &error);
    check_status(status, TU_OK, &error);
    assert_true(have);
    return block;
}

static int column_in(const char *line, char letter)
{
    tu_rs274_block block = block_of(line);
    return block.column[letter - 'A'];
}

static void a_block_says_in_which_column_each_letter_stands(void **state)
{
    (void)state;
    const char *line = " N10\tG1 X[1+2] y3F4 (\xC3\xA4\xE2\x80\x93) Z5"; /* two wide characters */
    assert_int_equal(column_in(line, 'N'), 2);
    assert_int_equal(column_in(line, 'G'), 6);
    assert_int_equal(column_in(line, 'X'), 9);
    assert_int_equal(column_in(line, 'Y'), 16);
    assert_int_equal(column_in(line, 'F'), 18);
    assert_int_equal(column_in(line, 'Z'), 26);
    assert_int_equal(column_in(line, 'P'), 0);
    assert_int_equal(column_in(line, 'M'), 0);
    /* Of several G words that of motion, else that of group 0, else the first; of M words the
     * first. */
    assert_int_equal(column_in("G21 G90 G38.2 Z1 G94", 'G'), 9);
    assert_int_equal(column_in("G21 G10 L2 P1 G94", 'G'), 5);
    assert_int_equal(column_in("G21 G90", 'G'), 1);
    assert_int_equal(column_in("M5 M9", 'M'), 1);
}

static void what_a_block_does_not_state_is_nan_or_nothing(void **state)
{
    (void)state;
    tu_rs274_block block = block_of("M5");
    check_nan(block.number, "N");
    check_nan(block.x, "X");
    check_nan(block.y, "Y");
    check_nan(block.z, "Z");
    check_nan(block.f, "F");
    check_nan(block.l, "L");
    check_nan(block.p, "P");
    assert_int_equal(block.motion, TU_MOTION_NONE);
    assert_int_equal(block.units, 0);
    assert_int_equal(block.distance, 0);
    assert_int_equal(block.slot, 0);
    assert_int_equal(block.setting_count, 0);
    assert_false(block.deleted || block.dwell || block.set_offset || block.plane_xy ||
                 block.feed_per_minute || block.pause || block.end || block.coolant_off ||
                 block.has_message);
    assert_string_equal(block.message, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_word_of_touch_programs_is_taken),
        cmocka_unit_test(codes_may_be_written_in_every_way_a_real_value_can),
        cmocka_unit_test(words_of_different_groups_stand_together_in_any_order),
        cmocka_unit_test(words_of_one_modal_group_are_refused),
        cmocka_unit_test(a_letter_other_than_g_and_m_stands_once),
        cmocka_unit_test(two_codes_that_both_use_axis_words_are_refused),
        cmocka_unit_test(axis_words_stand_where_they_are_used_and_only_there),
        cmocka_unit_test(l_p_and_f_have_their_place_and_range),
        cmocka_unit_test(codes_that_are_not_taken_are_named_with_what_they_are_for),
        cmocka_unit_test(letters_that_are_not_taken_are_named_with_their_number),
        cmocka_unit_test(no_letter_is_forgotten),
        cmocka_unit_test(a_block_says_in_which_column_each_letter_stands),
        cmocka_unit_test(what_a_block_does_not_state_is_nan_or_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
