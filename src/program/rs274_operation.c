/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rs274_operation.c - the operations of RS274/NGC expressions (NISTIR 6556, 3.3.2.3, 3.3.2.4).
 *
 * An operation without a result says why; whether a result is finite its caller checks.
 */
#include "program/rs274_scan.h"

#include <math.h>

static const double degrees_per_radian = 57.295779513082320877; /* 180/pi */

/* --- Binary operations --- */

static const char *raise(double left, double right, double *result)
{
    if (left < 0.0 && floor(right) != right)
        return "a negative number has no power that is not whole";
    if (left == 0.0 && right < 0.0)
        return "division by zero: zero has no negative power";
    *result = pow(left, right);
    return NULL;
}

static const char *multiply(double left, double right, double *result)
{
    *result = left * right;
    return NULL;
}

static const char *divide(double left, double right, double *result)
{
    if (right == 0.0)
        return "division by zero";
    *result = left / right;
    return NULL;
}

/* The remainder has the range 0 to |right|, whatever the signs: the standard's interpreter
 * defines it so, where C's fmod follows the sign of left. */
static const char *modulus(double left, double right, double *result)
{
    if (right == 0.0)
        return "division by zero: MOD takes no zero on its right";
    double remainder = fmod(left, right);
    *result = remainder < 0.0 ? remainder + fabs(right) : remainder;
    return NULL;
}

static const char *add(double left, double right, double *result)
{
    *result = left + right;
    return NULL;
}

static const char *subtract(double left, double right, double *result)
{
    *result = left - right;
    return NULL;
}

static const char *either(double left, double right, double *result)
{
    *result = left != 0.0 || right != 0.0;
    return NULL;
}

static const char *one_only(double left, double right, double *result)
{
    *result = (left != 0.0) != (right != 0.0);
    return NULL;
}

static const char *both(double left, double right, double *result)
{
    *result = left != 0.0 && right != 0.0;
    return NULL;
}

/* "**" stands before "*", which is its start. */
static const tu_rs274_binary binaries[] = {
    {"+", 1, add},      {"-", 1, subtract},   {"**", 3, raise},
    {"*", 2, multiply}, {"/", 2, divide},     {"mod", 2, modulus},
    {"or", 1, either},  {"xor", 1, one_only}, {"and", 1, both},
};

/* --- Unary operations; angles in degrees --- */

/*
 * Sine and cosine of an angle in degrees. The quarter turns are taken off in degrees, where that
 * is exact, so that SIN[180] is zero and TAN[90] is seen to have no value.
 */
static void turn(double angle_deg, double *sine, double *cosine)
{
    int quarters;
    double rest_rad = remquo(angle_deg, 90.0, &quarters) / degrees_per_radian;
    double s = sin(rest_rad), c = cos(rest_rad);
    const double along[4] = {s, c, -s, -c};
    *sine = along[quarters & 3];
    *cosine = along[(quarters + 1) & 3];
}

static const char *absolute(double operand, double *result)
{
    *result = fabs(operand);
    return NULL;
}

static const char *arc_cosine(double operand, double *result)
{
    if (fabs(operand) > 1.0)
        return "ACOS takes -1 to 1";
    *result = acos(operand) * degrees_per_radian;
    return NULL;
}

static const char *arc_sine(double operand, double *result)
{
    if (fabs(operand) > 1.0)
        return "ASIN takes -1 to 1";
    *result = asin(operand) * degrees_per_radian;
    return NULL;
}

const char *tu_rs274_arc_tangent(double ordinate, double abscissa, double *result)
{
    if (ordinate == 0.0 && abscissa == 0.0)
        return "ATAN[0]/[0] is no angle";
    *result = atan2(ordinate, abscissa) * degrees_per_radian;
    return NULL;
}

static const char *cosine_of(double operand, double *result)
{
    double sine;
    turn(operand, &sine, result);
    return NULL;
}

static const char *exponential(double operand, double *result)
{
    *result = exp(operand);
    return NULL;
}

static const char *round_down(double operand, double *result)
{
    *result = floor(operand);
    return NULL;
}

static const char *round_up(double operand, double *result)
{
    *result = ceil(operand);
    return NULL;
}

static const char *logarithm(double operand, double *result)
{
    if (operand <= 0.0)
        return "LN takes numbers above zero";
    *result = log(operand);
    return NULL;
}

static const char *round_nearest(double operand, double *result)
{
    *result = round(operand);
    return NULL;
}

static const char *sine_of(double operand, double *result)
{
    double cosine;
    turn(operand, result, &cosine);
    return NULL;
}

static const char *square_root(double operand, double *result)
{
    if (operand < 0.0)
        return "square root of a negative number";
    *result = sqrt(operand);
    return NULL;
}

static const char *tangent(double operand, double *result)
{
    double sine, cosine;
    turn(operand, &sine, &cosine);
    if (cosine == 0.0)
        return "TAN has no value at odd multiples of 90 degrees";
    *result = sine / cosine;
    return NULL;
}

static const tu_rs274_unary unaries[] = {
    {"abs", absolute},  {"acos", arc_cosine},     {"asin", arc_sine},  {"atan", NULL},
    {"cos", cosine_of}, {"exp", exponential},     {"fix", round_down}, {"fup", round_up},
    {"ln", logarithm},  {"round", round_nearest}, {"sin", sine_of},    {"sqrt", square_root},
    {"tan", tangent},
};

/* --- Names --- */

/* Takes name, in either case and with blanks anywhere in it, or nothing. */
static bool take_name(tu_rs274_scan *scan, const char *name)
{
    size_t start = scan->at;
    for (; *name != '\0'; name++) {
        int c = tu_rs274_peek(scan);
        if (tu_rs274_letter(c) < 26)
            c |= 0x20;
        if (c != *name) {
            scan->at = start;
            return false;
        }
        scan->at++;
    }
    return true;
}

/* Whether the character which is read next may start name: most names are ruled out by that. */
static bool may_start(tu_rs274_scan *scan, const char *name)
{
    int c = tu_rs274_peek(scan);
    return c == name[0] || (c | 0x20) == name[0];
}

const tu_rs274_binary *tu_rs274_take_binary(tu_rs274_scan *scan)
{
    for (size_t i = 0; i < sizeof binaries / sizeof binaries[0]; i++)
        if (may_start(scan, binaries[i].name) && take_name(scan, binaries[i].name))
            return &binaries[i];
    return NULL;
}

const tu_rs274_unary *tu_rs274_take_unary(tu_rs274_scan *scan)
{
    for (size_t i = 0; i < sizeof unaries / sizeof unaries[0]; i++)
        if (may_start(scan, unaries[i].name) && take_name(scan, unaries[i].name))
            return &unaries[i];
    return NULL;
}
