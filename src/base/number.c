/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * number.c - numbers to and from text, the same in every locale.
 *
 * The conversions are the C library's, which rounds correctly; only the grammar is checked here.
 */
#include "trueup/number.h"

#include "base/c_locale.h"
#include "base/scan.h"
#include "base/show.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* The longest decimal expansion that can decide a rounding has 767 digits; longer is no number
 * that a person or an instrument writes. */
enum { NUMBER_MAX = 1000, EXPONENT_MAX = 100000 };

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

size_t tu_digits_scan(const char *text, size_t length)
{
    size_t n = 0;
    while (n < length && is_digit(text[n]))
        n++;
    return n;
}

size_t tu_number_scan(const char *text, size_t length)
{
    size_t digits = tu_digits_scan(text, length);
    size_t at = digits;
    if (at < length && text[at] == '.') {
        size_t decimals = tu_digits_scan(text + at + 1, length - at - 1);
        digits += decimals;
        at += 1 + decimals;
    }
    if (digits == 0)
        return 0;
    if (at < length && (text[at] == 'e' || text[at] == 'E')) {
        size_t after = at + 1;
        if (after < length && (text[after] == '+' || text[after] == '-'))
            after++;
        size_t exponent = tu_digits_scan(text + after, length - after);
        if (exponent > 0)
            at = after + exponent;
    }
    return at;
}

typedef struct slip {
    const char *start;
    const char *hint;
} slip;

static const slip slips[] = {
    {",", "; a decimal comma is not read, write a point as in 6.35, and no separators between "
          "thousands"},
    {"''", "; write in for inches, as in 1/4in"},
    {"\"", "; write in for inches, as in 1/4in"},
    {"\xE2\x80\xB3", "; write in for inches, as in 1/4in"}, /* double prime */
    {"\xE2\x80\x9D", "; write in for inches, as in 1/4in"}, /* closing quotation mark */
    {"'", "; write in or mm for the unit, and no separators between thousands"},
    {"\xE2\x80\xB2", "; write in or mm for the unit"}, /* prime */
    {"\xE2\x80\x99", "; write in or mm for the unit"}, /* apostrophe */
    {"\xC2\xBC", "; write the fraction as 1/4in"},
    {"\xC2\xBD", "; write the fraction as 1/2in"},
    {"\xC2\xBE", "; write the fraction as 3/4in"},
    {"\xE2\x88\x92", "; write the minus sign as -"}, /* U+2212 */
    {"\xE2\x80\x93", "; write the minus sign as -"}, /* en dash */
    {"nan", "; only finite numbers are read"},
    {"inf", "; only finite numbers are read"},
    {"x", "; only decimal numbers are read, no hexadecimal"},
};

const char *tu_number_hint(const char *text, size_t length)
{
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        size_t n = strlen(slips[i].start);
        if (length >= n && strncasecmp(text, slips[i].start, n) == 0)
            return slips[i].hint;
    }
    return "";
}

/* strtod in the C locale on decimal, which ends with NUL; shown is what the person wrote. */
static tu_status convert(const char *decimal, tu_shown shown, double *value, tu_error *error)
{
    tu_c_locale locale;
    if (!tu_c_locale_enter(&locale))
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "no memory for the C locale");
    double number = strtod(decimal, NULL);
    tu_c_locale_leave(&locale);
    if (!isfinite(number))
        return tu_fail(error, TU_DATA_RANGE, NULL,
                       "the number \"%s\" is too large for any use; check its exponent",
                       shown.text);
    *value = number;
    return TU_OK;
}

static tu_status fail_length(tu_error *error)
{
    return tu_fail(error, TU_DATA_SYNTAX, NULL,
                   "a number of more than %d characters is not read; round it to 17 digits",
                   NUMBER_MAX);
}

tu_status tu_number_parse(const char *text, size_t length, double *value, tu_error *error)
{
    *value = NAN;
    size_t sign = length > 0 && (text[0] == '-' || text[0] == '+');
    size_t end = sign + tu_number_scan(text + sign, length - sign);
    if (length == 0)
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "found nothing, expected a number");
    if (end == sign || end < length)
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "\"%s\" is not a number%s",
                       tu_show(text, length).text, tu_number_hint(text + end, length - end));
    if (length > NUMBER_MAX)
        return fail_length(error);
    char copy[NUMBER_MAX + 1];
    memcpy(copy, text, length);
    copy[length] = '\0';
    return convert(copy, tu_show(text, length), value, error);
}

/* The digits of text times factor into product (room for four more), which ends with NUL;
 * *decimals counts those behind the point. Returns how much of the text that took. */
static size_t multiply_digits(const char *text, size_t length, unsigned factor, char *product,
                              int *decimals)
{
    enum { CARRY_DIGITS = 4 }; /* factor is below 10000 */
    size_t taken = 0;
    size_t count = CARRY_DIGITS;
    bool point = false;
    *decimals = 0;
    for (; taken < length && (is_digit(text[taken]) || text[taken] == '.'); taken++) {
        if (text[taken] == '.') {
            point = true;
            continue;
        }
        product[count++] = text[taken];
        *decimals += point;
    }
    product[count] = '\0';
    unsigned carry = 0;
    for (size_t i = count; i-- > 0;) {
        unsigned digit = i < CARRY_DIGITS ? 0 : (unsigned)(product[i] - '0');
        unsigned sum = digit * factor + carry;
        product[i] = (char)('0' + sum % 10);
        carry = sum / 10;
    }
    return taken;
}

/* The exponent at text (which starts with its "e", or is empty), kept within +-EXPONENT_MAX. */
static int read_exponent(const char *text, size_t length)
{
    if (length == 0)
        return 0;
    bool negative = text[1] == '-';
    int exponent = 0;
    for (size_t i = 1; i < length; i++)
        if (is_digit(text[i]) && exponent < EXPONENT_MAX)
            exponent = exponent * 10 + (text[i] - '0');
    return negative ? -exponent : exponent;
}

tu_status tu_number_read_scaled(const char *text, size_t length, unsigned factor, int shift,
                                double *value, tu_error *error)
{
    *value = NAN;
    if (length > NUMBER_MAX)
        return fail_length(error);
    char product[NUMBER_MAX + 40];
    int decimals;
    size_t taken = multiply_digits(text, length, factor, product, &decimals);
    int exponent = read_exponent(text + taken, length - taken) - decimals + shift;
    size_t used = strlen(product);
    snprintf(product + used, sizeof product - used, "e%d", exponent);
    return convert(product, tu_show(text, length), value, error);
}

/* Copies a text of this length if it fits; else 0 and an empty text. */
static size_t put(char *text, size_t size, const char *from, size_t length)
{
    if (length >= size) {
        if (size > 0)
            text[0] = '\0';
        return 0;
    }
    memcpy(text, from, length + 1);
    return length;
}

/* "%.*f" or, scientific, "%.*e" in the C locale; the length, 0 and an empty text on failure. */
static size_t print_number(char *text, size_t size, bool scientific, int precision, double value)
{
    if (size == 0)
        return 0;
    text[0] = '\0';
    tu_c_locale locale;
    if (!tu_c_locale_enter(&locale))
        return 0;
    int length = scientific ? snprintf(text, size, "%.*e", precision, value)
                            : snprintf(text, size, "%.*f", precision, value);
    tu_c_locale_leave(&locale);
    if (length < 0 || (size_t)length >= size) {
        text[0] = '\0';
        return 0;
    }
    return (size_t)length;
}

/* NaN and infinities: "nan", "inf", "-inf". */
static size_t print_special(char *text, size_t size, double value)
{
    const char *name = isnan(value) ? "nan" : value > 0 ? "inf" : "-inf";
    return put(text, size, name, strlen(name));
}

size_t tu_number_format(char *text, size_t size, double value, int decimals)
{
    if (!isfinite(value))
        return print_special(text, size, value);
    decimals = decimals < 0 ? 0 : decimals > 15 ? 15 : decimals;
    size_t length = print_number(text, size, false, decimals, value);
    if (length > 0 && text[0] == '-' && strspn(text + 1, "0.") == length - 1) {
        memmove(text, text + 1, length); /* with the NUL: a zero has no sign */
        length--;
    }
    return length;
}

static bool reads_back(const char *text, double value)
{
    double number = NAN;
    return !convert(text, (tu_shown){{0}}, &number, NULL) && number == value;
}

/*
 * Finds the fewest digits that read back, as "d.ddde+xx". The nearest decimal of n digits is
 * enough, but for powers of two: there the doubles below lie twice as near as those above, and
 * the next decimal up may read back where the nearest does not.
 */
static void find_shortest(char *text, size_t size, double magnitude)
{
    /* 15 digits keep every decimal of up to 15; subnormal numbers hold fewer. */
    int digits = magnitude < DBL_MIN ? 1 : DBL_DIG;
    for (; digits < DBL_DECIMAL_DIG; digits++) {
        print_number(text, size, true, digits - 1, magnitude);
        if (reads_back(text, magnitude))
            return;
        char *last = strchr(text, 'e') - 1;
        if (*last != '9') {
            ++*last;
            if (reads_back(text, magnitude))
                return;
        }
    }
    print_number(text, size, true, digits - 1, magnitude);
}

/* The value of "e+xx" at the end of a number. */
static int exponent_of(const char *exponent)
{
    return (int)strtol(exponent + 1, NULL, 10);
}

/* Lays out "d.ddde+xx" as people write numbers: plain, or with an exponent where that is long. */
static void lay_out(char *out, const char *scientific)
{
    char digits[DBL_DECIMAL_DIG];
    int count = 0;
    for (const char *at = scientific; *at != 'e'; at++)
        if (is_digit(*at))
            digits[count++] = *at;
    while (count > 1 && digits[count - 1] == '0')
        count--;
    int exponent = exponent_of(strchr(scientific, 'e'));
    bool plain = exponent >= -5 && exponent < 15;
    int point = plain ? exponent + 1 : 1; /* digits in front of it */
    int first = point < 1 ? point - 1 : 0;
    int end = count > point ? count : point;
    for (int i = first; i < end; i++) {
        if (i == point)
            *out++ = '.';
        *out++ = i < 0 || i >= count ? '0' : digits[i];
    }
    *out = '\0';
    if (!plain)
        snprintf(out, sizeof "e-308", "e%d", exponent);
}

size_t tu_number_format_exact(char *text, size_t size, double value)
{
    if (!isfinite(value))
        return print_special(text, size, value);
    char scientific[TU_NUMBER_TEXT_SIZE];
    char exact[TU_NUMBER_TEXT_SIZE] = "-";
    find_shortest(scientific, sizeof scientific, fabs(value));
    lay_out(exact + 1, scientific);
    const char *from = signbit(value) ? exact : exact + 1;
    return put(text, size, from, strlen(from));
}
