/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_rs274_value_random.c - random expressions, worked out twice.
 *
 * The test draws a tree, works it out with plain doubles and the C library, writes it as text with
 * only some of the brackets that it does not need, blanks anywhere, letters of either case, and
 * demands that the reader finds the same. Precedence is thus tested by what may be left unwritten
 * (NISTIR 6556, 3.3.2.3).
 *
 * Only sines, cosines and tangents, which the reader works out in degrees and the test in radians,
 * may differ. How far that carries is followed through the tree by running error analysis
 * (N. J. Higham, "Accuracy and Stability of Numerical Algorithms", 2nd edition, 2002, section 3.3);
 * where it could change a rounding or a truth value, the tree is left out. All else must agree to
 * the last bit.
 */
#include "check.h"
#include "rs274_show.h"

#include <ctype.h>
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TEXT_SIZE = 2000 };

static const double radians_per_degree = 3.14159265358979323846 / 180;

typedef enum verdict {
    HAS_VALUE,
    HAS_NONE, /* a division by zero and the like: the reader must refuse */
    UNSURE    /* it hangs on the last bits */
} verdict;

/* A part of an expression: its text, what it is worth, and how far off the reader may be. */
typedef struct part {
    char text[TEXT_SIZE];
    int group; /* of its outermost operation; 4 for what needs no brackets */
    verdict verdict;
    double value;
    double error;
} part;

static void judge(part *made)
{
    if (made->verdict == HAS_VALUE && !isfinite(made->value))
        made->verdict = HAS_NONE;
    if (made->verdict == HAS_VALUE && !(made->error <= 1e-6 * (1 + fabs(made->value))))
        made->verdict = UNSURE;
}

/* --- Operands --- */

static void draw_number(check_random *random, part *made)
{
    static const char *const signs[] = {"", "", "", "-", "+"};
    double magnitude = check_random_uniform(random, 0, 30);
    if (check_random_below(random, 3) == 0)
        magnitude = floor(magnitude / 6);
    const char *sign = signs[check_random_below(random, 5)];
    int decimals = (int)check_random_below(random, 5);
    int used = snprintf(made->text, TEXT_SIZE, "%s%.*f", sign, decimals, magnitude);
    if (decimals == 0 && check_random_below(random, 4) == 0)
        snprintf(made->text + used, (size_t)(TEXT_SIZE - used), ".");
    made->value = strtod(made->text, NULL); /* the program runs in the C locale */
}

static void draw_parameter(check_random *random, part *made)
{
    static const struct {
        const char *text;
        double value; /* see rs274_show.h */
    } forms[] = {{"#1", 10},   {"#2", 4},   {"##2", -2.5},     {"#[1+#2]", 0.5},
                 {"#3.0", 15}, {"#5", 0.5}, {"#5061", 101.25}, {"#abs[-4]", -2.5}};
    size_t i = check_random_below(random, sizeof forms / sizeof forms[0]);
    snprintf(made->text, TEXT_SIZE, "%s", forms[i].text);
    made->value = forms[i].value;
}

/* --- Binary operations --- */

static const char *const binary_names[] = {"**", "*", "/", "mod", "+", "-", "or", "xor", "and"};
static const int binary_groups[] = {3, 2, 2, 2, 1, 1, 1, 1, 1};
enum { BINARIES = 9 };

static double modulo(double a, double b)
{
    double rest = fmod(a, b);
    return rest < 0 ? rest + fabs(b) : rest;
}

static double binary_value(int operation, double a, double b)
{
    bool left = a != 0, right = b != 0;
    const double value[BINARIES] = {
        pow(a, b),    a * b, b == 0 ? NAN : a / b, b == 0 ? NAN : modulo(a, b),
        a + b,        a - b, left || right,        left != right,
        left && right};
    return value[operation];
}

static double binary_error(int operation, const part *a, const part *b, double value)
{
    if (a->error == 0 && b->error == 0)
        return 0;
    double rounding = 2 * DBL_EPSILON * fabs(value);
    double apart = fabs(b->value) - b->error; /* from zero */
    switch (operation) {
    case 1:
        return rounding + fabs(a->value) * b->error + (fabs(b->value) + b->error) * a->error;
    case 2:
        return apart > 0 ? rounding + (a->error + fabs(value) * b->error) / apart : INFINITY;
    case 4:
    case 5:
        return rounding + a->error + b->error;
    case 6:
    case 7:
    case 8: /* what is surely not zero is true, whatever its last bits */
        return (a->error == 0 || fabs(a->value) > a->error) && (b->error == 0 || apart > 0)
                   ? 0
                   : INFINITY;
    default:
        return INFINITY;
    }
}

static void wrap(check_random *random, const part *operand, bool needed, char *text, size_t size)
{
    bool brackets = needed || check_random_below(random, 6) == 0;
    snprintf(text, size, brackets ? "[%s]" : "%s", operand->text);
}

static void draw(check_random *random, int depth, part *made);

static void draw_binary(check_random *random, int depth, part *made)
{
    static char left[TEXT_SIZE + 2], right[TEXT_SIZE + 2]; /* used up before any other draw */
    part *a = calloc(2, sizeof *a), *b = a + 1;
    assert_non_null(a);
    draw(random, depth - 1, a);
    draw(random, depth - 1, b);
    int operation = (int)check_random_below(random, BINARIES);
    made->group = binary_groups[operation];
    /* From left to right within a group: a left side of the same group needs no brackets. */
    wrap(random, a, a->group < made->group, left, sizeof left);
    wrap(random, b, b->group <= made->group, right, sizeof right);
    snprintf(made->text, TEXT_SIZE, "%.*s%s%.*s", 900, left, binary_names[operation], 900, right);
    made->value = binary_value(operation, a->value, b->value);
    made->error = binary_error(operation, a, b, made->value);
    made->verdict = a->verdict > b->verdict ? a->verdict : b->verdict;
    free(a);
}

/* --- Unary operations --- */

static const char *const unary_names[] = {"abs", "acos", "asin",  "cos", "exp",  "fix",
                                          "fup", "ln",   "round", "sin", "sqrt", "tan"};
enum { UNARIES = 12 };

static double unary_value(int operation, double x)
{
    double rad = x * radians_per_degree;
    const double value[UNARIES] = {fabs(x),
                                   acos(x) * (180 / 3.14159265358979323846),
                                   asin(x) * (180 / 3.14159265358979323846),
                                   cos(rad),
                                   exp(x),
                                   floor(x),
                                   ceil(x),
                                   x > 0 ? log(x) : NAN,
                                   round(x),
                                   sin(rad),
                                   sqrt(x),
                                   fabs(cos(rad)) < 1e-12 ? NAN : tan(rad)};
    return value[operation];
}

/* How far x is from where floor, ceil or round takes a step. */
static double from_step(int operation, double x)
{
    double shifted = operation == 8 ? x + 0.5 : x;
    return fabs(shifted - round(shifted));
}

static double unary_error(int operation, const part *a, double value)
{
    double x = a->value, e = a->error;
    double turned = radians_per_degree * e + 4 * DBL_EPSILON * (1 + fabs(x * radians_per_degree));
    if (operation == 3 || operation == 9)
        return turned;
    if (operation == 11)
        return 2 * turned * (1 + value * value);
    if (e == 0)
        return operation == 1 || operation == 2 ? 4 * DBL_EPSILON * fabs(value) : 0;
    if (operation == 0)
        return e;
    if (operation == 4)
        return 2 * e * value + 4 * DBL_EPSILON * value;
    if (operation >= 5 && operation != 7 && operation != 10)
        return from_step(operation, x) > e ? 0 : INFINITY;
    return INFINITY;
}

static void draw_unary(check_random *random, int depth, part *made)
{
    part *a = calloc(1, sizeof *a);
    assert_non_null(a);
    draw(random, depth - 1, a);
    int operation = (int)check_random_below(random, UNARIES);
    snprintf(made->text, TEXT_SIZE, "%s[%.*s]", unary_names[operation], 1900, a->text);
    made->verdict = a->verdict;
    made->value = unary_value(operation, a->value);
    made->error = unary_error(operation, a, made->value);
    free(a);
}

static void draw_arc_tangent(check_random *random, int depth, part *made)
{
    part *a = calloc(2, sizeof *a), *b = a + 1;
    assert_non_null(a);
    draw(random, depth - 1, a);
    draw(random, depth - 1, b);
    snprintf(made->text, TEXT_SIZE, "atan[%.*s]/[%.*s]", 900, a->text, 900, b->text);
    made->verdict = a->verdict > b->verdict ? a->verdict : b->verdict;
    made->value = atan2(a->value, b->value) * (180 / 3.14159265358979323846);
    if (a->value == 0 && b->value == 0)
        made->value = NAN;
    made->error = a->error + b->error > 0 ? INFINITY : 4 * DBL_EPSILON * fabs(made->value);
    free(a);
}

/* --- Trees --- */

static void draw(check_random *random, int depth, part *made)
{
    *made = (part){.group = 4};
    size_t kind = depth == 0 ? check_random_below(random, 3) : 3 + check_random_below(random, 9);
    if (kind < 2 || kind == 3)
        draw_number(random, made);
    else if (kind == 2)
        draw_parameter(random, made);
    else if (kind < 9)
        draw_binary(random, depth, made);
    else if (kind < 11)
        draw_unary(random, depth, made);
    else
        draw_arc_tangent(random, depth, made);
    judge(made);
}

/* Writes "x[text]" with blanks anywhere and letters of either case; its length. */
static size_t spell(check_random *random, const char *text, char *line, size_t size)
{
    char whole[TEXT_SIZE + 4];
    size_t used = 0, every = 1 + check_random_below(random, 12);
    snprintf(whole, sizeof whole, "x[%s]", text);
    for (const char *at = whole; *at != '\0' && used + 2 < size; at++) {
        if (check_random_below(random, every + 1) == 0)
            line[used++] = " \t"[check_random_below(random, 2)];
        bool capital = check_random_below(random, 2) == 0;
        line[used++] = (char)(capital ? toupper((unsigned char)*at) : *at);
    }
    line[used] = '\0';
    return used;
}

typedef struct outcomes {
    int exact, close, refused;
} outcomes;

/* Reads the tree as the text in line, and holds it against the tree. */
static void compare(const part *tree, const char *line, size_t length, outcomes *tally)
{
    tu_rs274_reader reader = tu_rs274_start(line, length);
    tu_rs274_block block;
    bool have;
    tu_error error = {0};
    tu_status status = tu_rs274_next(&reader, rs274_sample_parameters(), &block, &have, &error);
    if (status != (tree->verdict == HAS_NONE ? TU_DATA_RANGE : TU_OK))
        print_error("%s\n= %.17g\n", line, tree->value);
    check_status(status, tree->verdict == HAS_NONE ? TU_DATA_RANGE : TU_OK, &error);
    if (tree->verdict == HAS_NONE)
        tally->refused++;
    else
        check_close(block.x, tree->value, tree->error, line);
    tally->exact += tree->verdict == HAS_VALUE && tree->error == 0;
    tally->close += tree->verdict == HAS_VALUE && tree->error > 0;
}

static void random_expressions_have_the_value_of_their_tree(void **state)
{
    (void)state;
    check_random random = check_random_seed(20);
    part *tree = malloc(sizeof *tree);
    assert_non_null(tree);
    outcomes tally = {0};
    for (int i = 0; i < 30000; i++) {
        char line[2 * TEXT_SIZE];
        draw(&random, 1 + (int)check_random_below(&random, 4), tree);
        size_t length = spell(&random, tree->text, line, sizeof line);
        if (tree->verdict != UNSURE && length <= TU_RS274_LINE_MAX)
            compare(tree, line, length, &tally);
    }
    free(tree);
    print_message("# %d exact, %d within their error, %d refused\n", tally.exact, tally.close,
                  tally.refused);
    /* Enough of each must be left for this to be a test. */
    assert_true(tally.exact > 10000);
    assert_true(tally.close > 1000);
    assert_true(tally.refused > 1000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_expressions_have_the_value_of_their_tree),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
