/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rs274_operation.c - binary and unary operations: values, angles in degrees, and where there
 * is no value.
 *
 * Source of the operations: NISTIR 6556 (2000), 3.3.2.3 and 3.3.2.4, from memory. Values of
 * functions: exact ones from geometry, others from the tables of M. Abramowitz, I. A. Stegun,
 * "Handbook of Mathematical Functions", 1964 (10 digits, from memory).
 */
#include "check.h"
#include "rs274_show.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define COUNT(rows) (sizeof(rows) / sizeof(rows)[0])

static double value_of(const char *real_value)
{
    char line[TU_RS274_LINE_MAX + 1];
    snprintf(line, sizeof line, "X%s", real_value);
    tu_rs274_reader reader = tu_rs274_start(line, strlen(line));
    tu_rs274_block block;
    bool have;
    tu_error error = {0};
    if (tu_rs274_next(&reader, rs274_sample_parameters(), &block, &have, &error))
        fail_msg("%s: %s: %s", line, error.where, error.message);
    return block.x;
}

typedef struct value_row {
    const char *text;
    double value;
    double tolerance; /* 0: the same double */
} value_row;

static void check_values(const value_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++)
        check_close(value_of(rows[i].text), rows[i].value, rows[i].tolerance, rows[i].text);
}

static void the_nine_binary_operations_calculate(void **state)
{
    (void)state;
    static const value_row rows[] = {
        {"[1+2]", 3, 0},
        {"[1-2]", -1, 0},
        {"[3*4]", 12, 0},
        {"[7/2]", 3.5, 0},
        {"[2**10]", 1024, 0},
        {"[2**-1]", 0.5, 0},
        {"[2**0.5]", 1.4142135624, 1e-10},
        {"[0**0]", 1, 0},   /* C's pow, IEEE 754-2019, 9.2.1 */
        {"[-2**3]", -8, 0}, /* the sign is the number's, 3.3.2.1 */
        {"[-2**2]", 4, 0},
        {"[7 MOD 4]", 3, 0},
        {"[-7 MOD 4]", 1, 0}, /* never negative, as the standard's interpreter has it */
        {"[7 MOD -4]", 3, 0},
        {"[5.5 MOD 2]", 1.5, 0}, /* on any real numbers, 3.3.2.3 */
    };
    check_values(rows, COUNT(rows));
}

/* "Any non-zero number is equivalent to logical true" (3.3.2.3). */
static void logical_operations_have_their_truth_tables(void **state)
{
    (void)state;
    static const value_row rows[] = {
        {"[0 OR 0]", 0, 0},  {"[0 OR 2]", 1, 0},  {"[-0.5 OR 0]", 1, 0},  {"[3 OR 4]", 1, 0},
        {"[0 XOR 0]", 0, 0}, {"[0 XOR 2]", 1, 0}, {"[-0.5 XOR 0]", 1, 0}, {"[3 XOR 4]", 0, 0},
        {"[0 AND 0]", 0, 0}, {"[0 AND 2]", 0, 0}, {"[-0.5 AND 0]", 0, 0}, {"[3 AND 4]", 1, 0},
    };
    check_values(rows, COUNT(rows));
}

static void the_thirteen_unary_operations_calculate(void **state)
{
    (void)state;
    static const value_row rows[] = {
        {"ABS[-2.5]", 2.5, 0},
        {"ABS[2.5]", 2.5, 0},
        {"ACOS[0]", 90, 0},
        {"ACOS[-1]", 180, 0},
        {"ACOS[0.5]", 60, 1e-13},
        {"ASIN[1]", 90, 0},
        {"ASIN[-0.5]", -30, 1e-14},
        {"ATAN[1]/[1]", 45, 0},
        {"ATAN[1]/[0]", 90, 0},
        {"ATAN[-1]/[0]", -90, 0},
        {"ATAN[1]/[-1]", 135, 0},
        {"ATAN[0]/[-1]", 180, 0},
        {"ATAN[2]/[1+3]", 26.5650511771, 1e-10}, /* the standard's example; arc tangent of 1/2 */
        {"COS[60]", 0.5, 1e-16},
        {"COS[37]", 0.7986355100, 1e-10},
        {"EXP[1]", 2.7182818285, 1e-10},
        {"EXP[0]", 1, 0},
        {"FIX[2.8]", 2, 0}, /* this and the next three: the standard's examples */
        {"FIX[-2.8]", -3, 0},
        {"FUP[2.8]", 3, 0},
        {"FUP[-2.8]", -2, 0},
        {"FIX[3]", 3, 0},
        {"FUP[-3]", -3, 0},
        {"LN[2]", 0.6931471806, 1e-10},
        {"LN[1]", 0, 0},
        {"ROUND[2.4]", 2, 0},
        {"ROUND[2.5]", 3, 0}, /* away from zero */
        {"ROUND[-2.5]", -3, 0},
        {"SIN[30]", 0.5, 1e-16},
        {"SIN[37]", 0.6018150232, 1e-10},
        {"SQRT[3]", 1.7320508076, 1e-10},
        {"SQRT[0]", 0, 0},
        {"TAN[45]", 1, 2e-16},
        {"TAN[37]", 0.7535540501, 1e-10},
    };
    check_values(rows, COUNT(rows));
}

/* Quarter turns have exact sines; a sine in radians would leave 1e-16 of a wall's height. */
static void quarter_turns_are_exact(void **state)
{
    (void)state;
    static const double sines[] = {0, 1, 0, -1};
    for (int quarters = -9; quarters <= 9; quarters++) {
        char text[40];
        int phase = ((quarters % 4) + 4) % 4;
        snprintf(text, sizeof text, "SIN[%d]", quarters * 90);
        check_close(value_of(text), sines[phase], 0, text);
        snprintf(text, sizeof text, "COS[%d]", quarters * 90);
        check_close(value_of(text), sines[(phase + 1) % 4], 0, text);
        if (phase % 2 == 0) {
            snprintf(text, sizeof text, "TAN[%d]", quarters * 90);
            check_close(value_of(text), 0, 0, text);
        }
    }
}

/* Sine and cosine by the first definition there is, the Taylor series, from -400 to 400 degrees. */
static void sines_and_tangents_agree_with_their_series(void **state)
{
    (void)state;
    const long double pi = 3.14159265358979323846264338327950288L;
    for (double angle = -400; angle <= 400; angle += 12.8125) {
        long double rad = (long double)angle * pi / 180, term = 1, sine = 0, cosine = 0;
        for (int n = 0; n < 80; n++) {
            *(n % 2 == 0 ? &cosine : &sine) += n % 4 < 2 ? term : -term;
            term *= rad / (n + 1);
        }
        char text[60];
        snprintf(text, sizeof text, "SIN[%.4f]", angle);
        check_close(value_of(text), (double)sine, 1e-15, text);
        snprintf(text, sizeof text, "COS[%.4f]", angle);
        check_close(value_of(text), (double)cosine, 1e-15, text);
        snprintf(text, sizeof text, "TAN[%.4f]", angle);
        check_relative(value_of(text), (double)(sine / cosine), 1e-13, text);
    }
}

static void operations_without_a_value_are_refused_where_they_stand(void **state)
{
    (void)state;
    static const rs274_rejected rows[] = {
        {"3.3.2.3", "X[1/0]", 4, TU_DATA_RANGE, "division by zero"},
        {"3.3.2.3", "X[2+[3 / [#2-4]]]", 8, TU_DATA_RANGE, "division by zero"},
        {"3.3.2.3", "X[1 MOD 0]", 5, TU_DATA_RANGE, "MOD takes no zero"},
        {"3.3.2.3", "X[0**-1]", 4, TU_DATA_RANGE, "zero has no negative power"},
        {"3.3.2.3", "X[-8**0.5]", 5, TU_DATA_RANGE, "no power that is not whole"},
        {"3.3.2.3", "X[10**308*10]", 10, TU_DATA_RANGE, "too large for a number"},
        {"3.3.2.3", "X[10**309]", 5, TU_DATA_RANGE, "too large for a number"},
        {"3.3.2.4", "X1 Y SQRT[-1]", 6, TU_DATA_RANGE, "square root of a negative number"},
        {"3.3.2.4", "X ACOS[1.001]", 3, TU_DATA_RANGE, "ACOS takes -1 to 1"},
        {"3.3.2.4", "X ASIN[-1.001]", 3, TU_DATA_RANGE, "ASIN takes -1 to 1"},
        {"3.3.2.4", "X LN[0]", 3, TU_DATA_RANGE, "LN takes numbers above zero"},
        {"3.3.2.4", "X LN[-1]", 3, TU_DATA_RANGE, "LN takes numbers above zero"},
        {"3.3.2.4", "X EXP[710]", 3, TU_DATA_RANGE, "too large for a number"},
        {"3.3.2.4", "X TAN[90]", 3, TU_DATA_RANGE, "odd multiples of 90 degrees"},
        {"3.3.2.4", "X TAN[-270]", 3, TU_DATA_RANGE, "odd multiples of 90 degrees"},
        {"3.3.2.4", "X ATAN[0]/[0]", 3, TU_DATA_RANGE, "ATAN[0]/[0] is no angle"},
    };
    rs274_check_rejected(rows, COUNT(rows));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_nine_binary_operations_calculate),
        cmocka_unit_test(logical_operations_have_their_truth_tables),
        cmocka_unit_test(the_thirteen_unary_operations_calculate),
        cmocka_unit_test(quarter_turns_are_exact),
        cmocka_unit_test(sines_and_tangents_agree_with_their_series),
        cmocka_unit_test(operations_without_a_value_are_refused_where_they_stand),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
