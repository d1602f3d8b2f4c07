/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rs274_value.c - real values of RS274/NGC: numbers, parameters, expressions (NISTIR 6556, 3.3.2).
 *
 * Expressions are read by recursive descent and worked out at once. A line's length bounds the
 * depth: each level takes at least one character.
 */
#include "program/rs274_scan.h"

#include "trueup/number.h"

#include <float.h>
#include <math.h>
#include <stdint.h>

static const char value_expected[] = "a number, a parameter, an expression in brackets or a "
                                     "function";

bool tu_rs274_is_whole(double value, double *whole)
{
    *whole = round(value);
    /* The double nearest to 0.9999 is itself a hair more than 0.0001 away from 1. */
    return fabs(value - *whole) <= 0.0001 + 1e-12;
}

static bool is_digit(int character)
{
    return character >= '0' && character <= '9';
}

/* --- Numbers --- */

/* A number as it is written, blanks and all, and the whole number that its digits make. */
typedef struct written_number {
    const char *start;
    size_t length;
    size_t digits;
    size_t decimals;
    bool negative;
    bool point;
    uint64_t mantissa; /* of no meaning beyond 18 digits */
} written_number;

/* Sign, digits, point, digits: takes as much as is there. Most of a program is numbers: this walks
 * by a pointer of its own. */
static written_number scan_number(tu_rs274_scan *scan)
{
    int sign = tu_rs274_peek(scan);
    written_number number = {.start = scan->text + scan->at, .negative = sign == '-'};
    const char *at = number.start + (sign == '+' || sign == '-');
    const char *end = scan->text + scan->length;
    for (; at < end; at++) {
        if (is_digit(*at)) {
            number.digits++;
            number.decimals += number.point;
            number.mantissa = number.mantissa * 10 + (uint64_t)(*at - '0');
        } else if (*at == '.' && !number.point) {
            number.point = true;
        } else if (*at != ' ' && *at != '\t') {
            break;
        }
    }
    number.length = (size_t)(at - number.start);
    scan->at += number.length;
    return number;
}

/*
 * The number as one division of two doubles that are both exact, which rounds once, to the nearest
 * double. Source: W. D. Clinger, "How to read floating point numbers accurately", PLDI 1990,
 * doi:10.1145/93542.93557. False where it has too many digits for that.
 */
static bool convert_short(const written_number *number, double *value)
{
    static const double power_of_ten[] = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                          1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    if (FLT_EVAL_METHOD != 0 || number->digits > 15)
        return false;
    double magnitude = (double)number->mantissa / power_of_ten[number->decimals];
    *value = number->negative ? -magnitude : magnitude;
    return true;
}

/* Any number, without its blanks. A line's worth of digits without an exponent is always finite. */
static tu_status convert_long(tu_rs274_scan *scan, int column, const written_number *number,
                              double *value)
{
    char text[TU_RS274_LINE_MAX];
    size_t length = 0;
    for (size_t i = 0; i < number->length; i++)
        if (number->start[i] != ' ' && number->start[i] != '\t')
            text[length++] = number->start[i];
    tu_error cause = {0};
    tu_status status = tu_number_parse(text, length, value, &cause);
    if (status)
        return tu_fail(scan->error, status, tu_rs274_place_of(scan, column).text, "%s",
                       cause.message);
    return TU_OK;
}

static tu_status read_number(tu_rs274_scan *scan, double *value)
{
    int column = tu_rs274_column(scan);
    written_number number = scan_number(scan);
    if (number.digits == 0) {
        int c = tu_rs274_peek(scan);
        if (!number.point && (c == '#' || c == '[' || tu_rs274_take_unary(scan) != NULL))
            return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, column).text,
                           "a sign belongs to a number only; write a difference, as in [0-#1]");
        return tu_rs274_fail_here(scan, "a digit");
    }
    return convert_short(&number, value) ? TU_OK : convert_long(scan, column, &number, value);
}

/* --- Parameters --- */

tu_status tu_rs274_read_index(tu_rs274_scan *scan, int *index)
{
    tu_rs274_peek(scan);
    int column = tu_rs274_column(scan);
    double value, whole;
    tu_status status = tu_rs274_read_value(scan, &value);
    if (status)
        return status;
    if (!tu_rs274_is_whole(value, &whole) || whole < 1 || whole >= TU_RS274_PARAMETERS) {
        char text[TU_NUMBER_TEXT_SIZE];
        tu_number_format_exact(text, sizeof text, value);
        return tu_fail(scan->error, TU_DATA_RANGE, tu_rs274_place_of(scan, column).text,
                       "there is no parameter #%s; parameters are #1 to #%d", text,
                       TU_RS274_PARAMETERS - 1);
    }
    *index = (int)whole;
    return TU_OK;
}

static tu_status read_parameter(tu_rs274_scan *scan, double *value)
{
    int column = tu_rs274_column(scan);
    scan->at++; /* "#" */
    int index;
    tu_status status = tu_rs274_read_index(scan, &index);
    if (status)
        return status;
    *value = scan->parameters[index];
    if (!isfinite(*value))
        return tu_fail(scan->error, TU_DATA_RANGE, tu_rs274_place_of(scan, column).text,
                       "parameter #%d has no value that is a number; set it before it is read",
                       index);
    return TU_OK;
}

/* --- Operations --- */

/* objection: why there is no result, or NULL. Without one, the result must still be finite. */
static tu_status check_result(tu_rs274_scan *scan, int column, const char *objection, double result)
{
    if (objection == NULL && isfinite(result))
        return TU_OK;
    return tu_fail(scan->error, TU_DATA_RANGE, tu_rs274_place_of(scan, column).text, "%s",
                   objection != NULL ? objection : "the result is too large for a number");
}

static tu_status expect(tu_rs274_scan *scan, int character, const char *expected)
{
    if (tu_rs274_peek(scan) != character)
        return tu_rs274_fail_here(scan, expected);
    scan->at++;
    return TU_OK;
}

/*
 * A value and the operations that follow it, as long as their group binds at least as tightly as
 * lowest. The right side takes only what binds more tightly than the operation itself: within a
 * group the operation on the left is performed first (3.3.2.3), powers too.
 */
static tu_status read_operations(tu_rs274_scan *scan, int lowest, double *value)
{
    tu_status status = tu_rs274_read_value(scan, value);
    while (!status) {
        tu_rs274_peek(scan);
        size_t start = scan->at;
        int column = tu_rs274_column(scan);
        const tu_rs274_binary *operation = tu_rs274_take_binary(scan);
        if (operation == NULL || operation->group < lowest) {
            scan->at = start;
            return TU_OK;
        }
        double right, result = NAN;
        status = read_operations(scan, operation->group + 1, &right);
        if (!status) {
            const char *objection = operation->apply(*value, right, &result);
            status = check_result(scan, column, objection, result);
        }
        *value = result;
    }
    return status;
}

static tu_status read_expression(tu_rs274_scan *scan, double *value)
{
    tu_status status = expect(scan, '[', "[");
    if (!status)
        status = read_operations(scan, 1, value);
    if (!status)
        status = expect(scan, ']', "an operation or ]");
    return status;
}

static tu_status read_function(tu_rs274_scan *scan, double *value)
{
    int column = tu_rs274_column(scan);
    const tu_rs274_unary *operation = tu_rs274_take_unary(scan);
    if (operation == NULL)
        return tu_rs274_fail_here(scan, value_expected);
    double operand, abscissa = NAN, result = NAN;
    tu_status status = read_expression(scan, &operand);
    bool two_operands = operation->apply == NULL;
    if (!status && two_operands)
        status = expect(scan, '/', "/ and the second expression of ATAN");
    if (!status && two_operands)
        status = read_expression(scan, &abscissa);
    if (!status) {
        const char *objection = two_operands ? tu_rs274_arc_tangent(operand, abscissa, &result)
                                             : operation->apply(operand, &result);
        status = check_result(scan, column, objection, result);
    }
    *value = result;
    return status;
}

tu_status tu_rs274_read_value(tu_rs274_scan *scan, double *value)
{
    int c = tu_rs274_peek(scan);
    *value = NAN;
    if (is_digit(c) || c == '-' || c == '.' || c == '+')
        return read_number(scan, value);
    if (c == '#')
        return read_parameter(scan, value);
    if (c == '[')
        return read_expression(scan, value);
    if (tu_rs274_letter(c) < 26)
        return read_function(scan, value);
    return tu_rs274_fail_here(scan, value_expected);
}
