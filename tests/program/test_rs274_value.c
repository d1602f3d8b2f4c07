/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rs274_value.c - real values: numbers, parameters, precedence, and where each goes wrong.
 *
 * Source: NISTIR 6556 (2000), 3.3.2.1 (numbers), 3.3.2.2 (parameter values), 3.3.2.3 (expressions,
 * precedence), 3.3.2.4 (unary operation values). Clauses and examples from memory.
 */
#include "check.h"
#include "rs274_show.h"

#include "trueup/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])

static void numbers_have_a_sign_digits_and_a_point(void **state)
{
    (void)state;
    static const rs274_accepted accepted[] = {
        {"3.3.2.1", "X341", "X341"},         /* the standard's own example */
        {"3.3.2.1", "X-0.8807", "X-0.8807"}, /* the standard's own example */
        {"3.3.2.1", "X0", "X0"},
        {"3.3.2.1", "X-0", "X-0"},
        {"3.3.2.1", "X+5", "X5"},
        {"3.3.2.1", "X5.", "X5"},
        {"3.3.2.1", "X.5", "X0.5"},
        {"3.3.2.1", "X-.5", "X-0.5"},
        {"3.3.2.1", "X000012.500000", "X12.5"},
        {"3.3.2.1", "X0.1", "X0.1"},
        {"3.3.2.1", "X123456789012345", "X123456789012345"},
        {"3.3.2.1", "X0.3000000000000000444089209850062616169452667236328125",
         "X0.30000000000000004"},
        {"3.3", "X1 2.5 0000000000\t0000000000", "X12.5"},
        {"3.3.2.1", "X1234567890123456789012", "X1.2345678901234568e21"},
    };
    rs274_check_accepted(accepted, COUNT(accepted));
    static const rs274_rejected rejected[] = {
        {"3.3.2.1", "X", 2, TU_DATA_SYNTAX, "the line ends here, expected a number"},
        {"3.3.2.1", "X Y1", 3, TU_DATA_SYNTAX, "found \"Y\", expected a number"},
        {"3.3.2.1", "X.", 3, TU_DATA_SYNTAX, "the line ends here, expected a digit"},
        {"3.3.2.1", "X-", 3, TU_DATA_SYNTAX, "the line ends here, expected a digit"},
        {"3.3.2.1", "X+-1", 3, TU_DATA_SYNTAX, "found \"-\", expected a digit"},
        {"3.3.2.1", "X--1", 3, TU_DATA_SYNTAX, "found \"-\", expected a digit"},
        {"3.3.2.1", "X1-", 3, TU_DATA_SYNTAX, "found \"-\", expected a word"},
        {"3.3.2.1", "X1.2.3", 5, TU_DATA_SYNTAX, "found \".\", expected a word"},
        {"3.3.2.1", "X1e3", 3, TU_DATA_SYNTAX, "numbers have no exponent"},
        {"3.3.2.1", "G1 X1E-3", 6, TU_DATA_SYNTAX, "numbers have no exponent"},
        {"3.3.2.1", "X0x10", 3, TU_DATA_SYNTAX, "X stands twice"},
        {"3.3.2.1", "XNAN", 2, TU_DATA_SYNTAX, "found \"N\", expected a number"},
        {"3.3.2.1", "XINF", 2, TU_DATA_SYNTAX, "found \"I\", expected a number"},
        {"3.3.2.1", "X-#1", 2, TU_DATA_SYNTAX, "a sign belongs to a number only"},
        {"3.3.2.1", "X-[1]", 2, TU_DATA_SYNTAX, "a sign belongs to a number only"},
        {"3.3.2.1", "X+ SIN[1]", 2, TU_DATA_SYNTAX, "write a difference, as in [0-#1]"},
        {"3.3.2.1", "X-Y1", 3, TU_DATA_SYNTAX, "found \"Y\", expected a digit"},
    };
    rs274_check_rejected(rejected, COUNT(rejected));
}

/* Short numbers take a way of their own; it must lead to the nearest double, as the long one does,
 * which tests of number.h hold against outside references. */
static void numbers_are_the_nearest_double(void **state)
{
    (void)state;
    check_random random = check_random_seed(3);
    for (int i = 0; i < 50000; i++) {
        char line[60] = "X";
        size_t used = 1, digits = 1 + check_random_below(&random, 20);
        size_t point = check_random_below(&random, digits + 1);
        if (check_random_below(&random, 2) == 0)
            line[used++] = "+-"[check_random_below(&random, 2)];
        for (size_t d = 0; d < digits; d++) {
            if (d == point)
                line[used++] = '.';
            line[used++] = (char)('0' + check_random_below(&random, 10));
        }
        line[used] = '\0';
        double expected;
        check_status(tu_number_parse(line + 1, used - 1, &expected, NULL), TU_OK, NULL);
        tu_rs274_reader reader = tu_rs274_start(line, used);
        tu_rs274_block block;
        bool have;
        check_status(tu_rs274_next(&reader, rs274_sample_parameters(), &block, &have, NULL), TU_OK,
                     NULL);
        check_same(block.x, expected, line);
    }
}

static void numbers_are_read_with_a_point_in_every_locale(void **state)
{
    (void)state;
    check_comma_locale();
    static const rs274_accepted rows[] = {
        {"3.3.2.1", "X12.5", "X12.5"},
        {"3.3.2.1", "X12.5000000000000000000", "X12.5"}, /* the long way */
    };
    rs274_check_accepted(rows, COUNT(rows));
    static const rs274_rejected rejected[] = {
        {"3.7.1", "F-1.5", 1, TU_DATA_RANGE, "F-1.5: a feed"},
        {"3.4", "G38.2 Z1 G1", 10, TU_DATA_SYNTAX, "G1 and G38.2"},
    };
    rs274_check_rejected(rejected, COUNT(rejected));
}

static void parameters_stand_for_their_values(void **state)
{
    (void)state;
    static const rs274_accepted accepted[] = {
        {"3.3.2.2", "X#1", "X10"},
        {"3.3.2.2", "X##2", "X-2.5"},  /* #2 = 4, #4 = -2.5; the form is the standard's example */
        {"3.3.2.2", "X[#1+2]", "X12"}, /* the standard: # takes precedence, not parameter 3 */
        {"3.3.2.2", "X#[1+2]", "X15"}, /* the standard: parameter 3 */
        {"3.3.2.2", "X#[#2-1]", "X15"},
        {"3.3.2.2", "X# 0 0 1", "X10"},
        {"3.3.2.2", "X#3.0", "X15"},
        {"3.3.2.1", "X#2.99995", "X15"}, /* within 0.0001 of a whole number */
        {"3.3.2.1", "X##6", "X15"},      /* #6 = 3.00005 */
        {"3.3.2.2", "X#5061", "X101.25"},
        {"3.3.2.2", "X#5399", "X11"},
        {"3.3.2.2", "X#5400", "X12"},
        {"3.3.2.2", "X#abs[-3]", "X15"},
        {"3.3.2.2", "X#1Y#2", "X10 Y4"},
    };
    rs274_check_accepted(accepted, COUNT(accepted));
    static const rs274_rejected rejected[] = {
        {"3.3.2.2", "X#", 3, TU_DATA_SYNTAX, "the line ends here, expected a number"},
        {"3.3.2.2", "X#0", 3, TU_DATA_RANGE,
         "there is no parameter #0; parameters are #1 to #5400"},
        {"3.3.2.2", "X#5401", 3, TU_DATA_RANGE, "there is no parameter #5401"},
        {"3.3.2.2", "X##4", 3, TU_DATA_RANGE, "there is no parameter #-2.5"},
        {"3.3.2.2", "X##8", 3, TU_DATA_RANGE, "there is no parameter #7000"},
        {"3.3.2.2", "X# -3", 4, TU_DATA_RANGE, "there is no parameter #-3"},
        {"3.3.2.2", "X#3.0002", 3, TU_DATA_RANGE, "there is no parameter #3.0002"},
        {"3.3.2.2", "X#[10**30]", 3, TU_DATA_RANGE, "there is no parameter #1e30"},
        {"3.3.2.2", "G1 X#20", 5, TU_DATA_RANGE, "parameter #20 has no value that is a number"},
        {"3.3.2.2", "X[1+#9]", 5, TU_DATA_RANGE, "parameter #9 has no value"}, /* infinity */
        {"3.3.2.2", "X##20", 3, TU_DATA_RANGE, "parameter #20 has no value"},
    };
    rs274_check_rejected(rejected, COUNT(rejected));
}

static void powers_come_before_products_and_products_before_sums(void **state)
{
    (void)state;
    static const rs274_accepted rows[] = {
        {"3.3.2.3", "X[2.0 / 3 * 1.5 - 5.5 / 11.0]", "X0.5"}, /* the standard's own example */
        /* The standard's own example; with #3 = 15 it is 1 + 90 - 225. */
        {"3.3.2.3", "X[ 1 + acos[0] - [#3 ** [4.0/2]]]", "X-134"},
        {"3.3.2.3", "X[5]", "X5"},
        {"3.3.2.3", "X[[[5]]]", "X5"},
        {"3.3.2.3", "X[1+2*3]", "X7"},
        {"3.3.2.3", "X[[1+2]*3]", "X9"},
        {"3.3.2.3", "X[2*3**2]", "X18"},
        {"3.3.2.3", "X[2**3*2]", "X16"},
        {"3.3.2.3", "X[10-4-3]", "X3"},      /* the operation on the left first */
        {"3.3.2.3", "X[100/10/5]", "X2"},    /* likewise */
        {"3.3.2.3", "X[2**3**2]", "X64"},    /* likewise: (2**3)**2 */
        {"3.3.2.3", "X[7 MOD 4 * 2]", "X6"}, /* one group: (7 mod 4) * 2 */
        {"3.3.2.3", "X[2 * 7 MOD 4]", "X2"}, /* one group: (2 * 7) mod 4 */
        {"3.3.2.3", "X[1 + 7 MOD 4]", "X4"},
        {"3.3.2.3", "X[5 + 1 AND 0]", "X0"}, /* one group: (5 + 1) and 0 */
        {"3.3.2.3", "X[0 AND 1 + 5]", "X5"}, /* one group: (0 and 1) + 5 */
        {"3.3.2.3", "X[1 OR 1 XOR 1]", "X0"},
        {"3.3.2.3", "X[1 AND 2 * 0]", "X0"},
        {"3.3.2.3", "X[1--2]", "X3"}, /* the second sign is the number's */
        {"3.3.2.3", "X[1+-2]", "X-1"},
        {"3.3.2.3", "X[2*-3]", "X-6"},
        {"3.3.2.3", "X[-3*2]", "X-6"},
        {"3.3.2.3", "X[1-2]", "X-1"},
        {"3.3.2.4", "X[sin[30+60]*2]", "X2"},
        {"3.3.2.4", "X SQRT[SQRT[16]]", "X2"},
        {"3.3.2.4", "X[ATAN[1]/[1]/9]", "X5"}, /* ATAN takes the first stroke, the second divides */
    };
    rs274_check_accepted(rows, COUNT(rows));
}

static void malformed_expressions_are_refused_where_they_break(void **state)
{
    (void)state;
    static const rs274_rejected rows[] = {
        {"3.3.2.3", "X[", 3, TU_DATA_SYNTAX, "the line ends here, expected a number"},
        {"3.3.2.3", "X[]", 3, TU_DATA_SYNTAX, "found \"]\", expected a number"},
        {"3.3.2.3", "X[1", 4, TU_DATA_SYNTAX, "the line ends here, expected an operation or ]"},
        {"3.3.2.3", "X[1+", 5, TU_DATA_SYNTAX, "the line ends here, expected a number"},
        {"3.3.2.3", "X[1+]", 5, TU_DATA_SYNTAX, "found \"]\", expected a number"},
        {"3.3.2.3", "X[*2]", 3, TU_DATA_SYNTAX, "found \"*\", expected a number"},
        {"3.3.2.3", "X[1***2]", 6, TU_DATA_SYNTAX, "found \"*\", expected a number"},
        {"3.3.2.3", "X[1//2]", 5, TU_DATA_SYNTAX, "found \"/\", expected a number"},
        {"3.3.2.3", "X[1 [2]]", 5, TU_DATA_SYNTAX, "found \"[\", expected an operation or ]"},
        {"3.3.2.3", "X[[1+2]", 8, TU_DATA_SYNTAX, "the line ends here, expected an operation or ]"},
        {"3.3.2.3", "X[1]]", 5, TU_DATA_SYNTAX, "found \"]\", expected a word"},
        {"3.3.2.3", "X[1 NOT 2]", 5, TU_DATA_SYNTAX, "found \"N\", expected an operation or ]"},
        {"3.3.2.3", "X[1 AN 2]", 5, TU_DATA_SYNTAX, "found \"A\", expected an operation or ]"},
        {"3.3.2.3", "X1+2", 3, TU_DATA_SYNTAX, "found \"+\", expected a word"},
        {"3.3.2.3", "X#1+2", 4, TU_DATA_SYNTAX, "found \"+\", expected a word"},
        {"3.3.2.3", "X[1=1]", 4, TU_DATA_SYNTAX, "found \"=\", expected an operation or ]"},
        {"3.3.2.3", "X[#1=1]", 5, TU_DATA_SYNTAX, "found \"=\", expected an operation or ]"},
        {"3.3.2.3", "X[1,5]", 4, TU_DATA_SYNTAX, "write a decimal point"},
        {"3.3.2.4", "X SIN", 6, TU_DATA_SYNTAX, "the line ends here, expected ["},
        {"3.3.2.4", "X SIN 90", 7, TU_DATA_SYNTAX, "found \"9\", expected ["},
        {"3.3.2.4", "X SIN(90)", 6, TU_DATA_SYNTAX, "found \"(\", expected ["},
        {"3.3.2.4", "X SINE[90]", 6, TU_DATA_SYNTAX, "found \"E\", expected ["},
        {"3.3.2.4", "X SI[90]", 3, TU_DATA_SYNTAX, "found \"S\", expected a number"},
        {"3.3.2.4", "X LOG[2]", 3, TU_DATA_SYNTAX, "found \"L\", expected a number"},
        {"3.3.2.4", "X ATAN[1]", 10, TU_DATA_SYNTAX,
         "the line ends here, expected / and the second"},
        {"3.3.2.4", "X ATAN[1]/2", 11, TU_DATA_SYNTAX, "found \"2\", expected ["},
        {"3.3.2.4", "X ATAN[1][2]", 10, TU_DATA_SYNTAX, "found \"[\", expected / and the second"},
        {"3.3.2.4", "X COS[30]/[2]", 10, TU_DATA_SYNTAX, "found \"/\", expected a word"},
    };
    rs274_check_rejected(rows, COUNT(rows));
}

/* As deep as a line can nest: brackets, parameters, functions. */
static void the_deepest_nesting_of_a_line_is_read(void **state)
{
    (void)state;
    char line[TU_RS274_LINE_MAX + 1] = "X";
    size_t depth = (TU_RS274_LINE_MAX - 2) / 2;
    memset(line + 1, '[', depth);
    line[1 + depth] = '7';
    memset(line + 2 + depth, ']', depth);
    line[2 + 2 * depth] = '\0';
    rs274_accepted brackets = {"3.3.2.3", line, "X7"};
    rs274_check_accepted(&brackets, 1);

    double parameters[TU_RS274_PARAMETERS] = {[1] = 1};
    memset(line + 1, '#', TU_RS274_LINE_MAX - 2);
    line[TU_RS274_LINE_MAX - 1] = '1';
    tu_rs274_reader reader = tu_rs274_start(line, TU_RS274_LINE_MAX);
    tu_rs274_block block;
    bool have;
    check_status(tu_rs274_next(&reader, parameters, &block, &have, NULL), TU_OK, NULL);
    check_same(block.x, 1, "#1 = 1, 254 times");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_have_a_sign_digits_and_a_point),
        cmocka_unit_test(numbers_are_the_nearest_double),
        cmocka_unit_test_teardown(numbers_are_read_with_a_point_in_every_locale,
                                  check_plain_locale),
        cmocka_unit_test(parameters_stand_for_their_values),
        cmocka_unit_test(powers_come_before_products_and_products_before_sums),
        cmocka_unit_test(malformed_expressions_are_refused_where_they_break),
        cmocka_unit_test(the_deepest_nesting_of_a_line_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
