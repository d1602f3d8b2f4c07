/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * quantity.c - lengths and angles as people write them.
 */
#include "trueup/quantity.h"

#include "base/scan.h"
#include "base/show.h"
#include "trueup/number.h"
#include "trueup/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define TU_PI 3.14159265358979323846

#define LENGTH_FORMS "6.35mm, 0.25in, 1/4in, 1-1/2in, 9.53mm+-0.02mm"
#define ANGLE_FORMS  "0.5deg, 0.01rad, 1.2mm/m"

/* Whole numbers in a fraction have at most this many digits: the fraction in millimetres is then
 * one division of numbers that a double holds exactly, so it is the nearest double. */
enum { FRACTION_DIGITS = 6 };

/* Text being read. */
typedef struct cursor {
    const char *text;
    size_t at;
    size_t length;
    const char *forms; /* what would be right */
    tu_error *error;
} cursor;

/* A number as written, not yet converted: decimal text, or (whole + numerator / denominator). */
typedef struct amount {
    const char *text; /* all of it but the unit */
    size_t length;
    bool negative;
    const char *decimal; /* NULL: a fraction */
    size_t decimal_length;
    double whole, numerator, denominator;
    bool has_unit;
    tu_unit unit;
} amount;

tu_quantity tu_quantity_none(void)
{
    return (tu_quantity){NAN, NAN, false};
}

tu_quantity tu_quantity_exact(double value_mm)
{
    return (tu_quantity){value_mm, 0.0, true};
}

tu_quantity tu_quantity_mm(double value_mm, double tolerance_mm)
{
    return (tu_quantity){value_mm, tolerance_mm, true};
}

bool tu_quantity_is_stated(tu_quantity quantity)
{
    return !isnan(quantity.value_mm);
}

static const char *rest(const cursor *c)
{
    return c->text + c->at;
}

static size_t left(const cursor *c)
{
    return c->length - c->at;
}

static bool starts_with(const cursor *c, const char *start)
{
    size_t n = strlen(start);
    return left(c) >= n && memcmp(rest(c), start, n) == 0;
}

static bool take(cursor *c, const char *start)
{
    if (!starts_with(c, start))
        return false;
    c->at += strlen(start);
    return true;
}

static void skip_spaces(cursor *c)
{
    while (take(c, " "))
        ;
}

static tu_status fail_syntax(const cursor *c, const char *problem, const char *hint)
{
    return tu_fail(c->error, TU_DATA_SYNTAX, NULL, "%s in \"%s\"%s; accepted forms: %s", problem,
                   tu_show(c->text, c->length).text, hint, c->forms);
}

/* What cannot be read as it stands, wherever it stands. */
static tu_status check_text(const cursor *c)
{
    if (!tu_text_is_utf8(c->text, c->length))
        return fail_syntax(c, memchr(c->text, '\0', c->length) ? "a NUL byte" : "broken UTF-8", "");
    if (left(c) == 0)
        return tu_fail(c->error, TU_DATA_SYNTAX, NULL, "found nothing; accepted forms: %s",
                       c->forms);
    return TU_OK;
}

/* Reads digits as a whole number; false for none or too many. */
static bool take_whole(cursor *c, double *whole)
{
    size_t n = tu_digits_scan(rest(c), left(c));
    if (n == 0 || n > FRACTION_DIGITS)
        return false;
    *whole = 0;
    for (size_t i = 0; i < n; i++)
        *whole = *whole * 10 + (rest(c)[i] - '0');
    c->at += n;
    return true;
}

/* Steps over what parts a whole number from the fraction behind it: a hyphen, or spaces. */
static bool take_joint(cursor *c)
{
    size_t start = c->at;
    if (take(c, "-"))
        return true;
    skip_spaces(c);
    if (c->at > start && tu_digits_scan(rest(c), left(c)) > 0)
        return true;
    c->at = start;
    return false;
}

/* Whether digits and a slash follow, after an optional whole number. */
static bool fraction_follows(const cursor *c)
{
    cursor ahead = *c;
    ahead.at += tu_digits_scan(rest(c), left(c));
    if (ahead.at == c->at)
        return false;
    if (take_joint(&ahead))
        ahead.at += tu_digits_scan(rest(&ahead), left(&ahead));
    return starts_with(&ahead, "/");
}

static tu_status read_fraction(cursor *c, amount *out)
{
    out->whole = 0;
    bool ok = take_whole(c, &out->numerator);
    bool mixed = ok && take_joint(c);
    if (mixed) {
        out->whole = out->numerator;
        ok = take_whole(c, &out->numerator);
    }
    if (!ok || !take(c, "/") || !take_whole(c, &out->denominator) || starts_with(c, "."))
        return fail_syntax(c, "a fraction that is not made of whole numbers of up to 6 digits", "");
    if (out->denominator == 0)
        return fail_syntax(c, "a fraction with a zero denominator", "");
    if (mixed && out->numerator >= out->denominator)
        return fail_syntax(c, "a mixed number whose fraction is not below one", "");
    return TU_OK;
}

/* "X134.9" and the like: the number as a controller shows it. */
static tu_status fail_no_number(cursor *c)
{
    char hint[100];
    cursor number = *c;
    bool letter = left(c) > 1 && memchr("xyzXYZ", *rest(c), 6);
    number.at += letter;
    skip_spaces(&number);
    size_t sign = starts_with(&number, "-") || starts_with(&number, "+");
    size_t length = tu_number_scan(rest(&number) + sign, left(&number) - sign);
    if (!letter || length == 0)
        return fail_syntax(c, "no number", tu_number_hint(rest(c), left(c)));
    snprintf(hint, sizeof hint, "; write the number alone, as in %s",
             tu_show(rest(&number), sign + length).text);
    return fail_syntax(c, "a letter before the number", hint);
}

static tu_status read_unsigned(cursor *c, amount *out)
{
    if (fraction_follows(c))
        return read_fraction(c, out);
    out->decimal = rest(c);
    out->decimal_length = tu_number_scan(rest(c), left(c));
    if (out->decimal_length == 0)
        return fail_no_number(c);
    c->at += out->decimal_length;
    return TU_OK;
}

static tu_status read_amount(cursor *c, amount *out)
{
    *out = (amount){.text = rest(c)};
    out->negative = starts_with(c, "-");
    if (starts_with(c, "-") || starts_with(c, "+"))
        c->at++;
    tu_status status = read_unsigned(c, out);
    out->length = (size_t)(rest(c) - out->text);
    return status;
}

/* The length of the word that stands where a unit may: up to a space or a tolerance sign. */
static size_t word_length(const cursor *c)
{
    cursor ahead = *c;
    while (left(&ahead) > 0 && !starts_with(&ahead, " ") && !starts_with(&ahead, "+") &&
           !starts_with(&ahead, "\xC2\xB1"))
        ahead.at++;
    return ahead.at - c->at;
}

/* Letters, and whatever lies beyond ASCII. */
static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (unsigned char)c >= 0x80;
}

/* Names the word at the cursor, or all that is left: "unknown unit", "unexpected text". */
static tu_status fail_word(const cursor *c, const char *what, const char *hint)
{
    const char *slip = tu_number_hint(rest(c), left(c));
    size_t word = word_length(c);
    char problem[100];
    snprintf(problem, sizeof problem, "%s \"%s\"", what,
             tu_show(rest(c), word > 0 ? word : left(c)).text);
    return fail_syntax(c, problem, *slip != '\0' ? slip : hint);
}

static tu_status fail_trailing(const cursor *c)
{
    return fail_word(c, "unexpected text", "");
}

static tu_status fail_unit(const cursor *c)
{
    if (!is_letter(rest(c)[0]) || *tu_number_hint(rest(c), left(c)) != '\0')
        return fail_trailing(c);
    return fail_word(c, "unknown unit", "; the units are mm and in");
}

static tu_status read_unit(cursor *c, amount *out)
{
    static const struct {
        const char *name;
        tu_unit unit;
    } units[] = {{"mm", TU_UNIT_MM},
                 {"in", TU_UNIT_INCH},
                 {"inch", TU_UNIT_INCH},
                 {"\"", TU_UNIT_INCH},
                 {"''", TU_UNIT_INCH},
                 {"\xE2\x80\xB3", TU_UNIT_INCH},
                 {"\xE2\x80\x9D", TU_UNIT_INCH}}; /* double prime, closing quotation mark */

    skip_spaces(c);
    size_t n = word_length(c);
    if (n == 0)
        return TU_OK;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (n == strlen(units[i].name) && starts_with(c, units[i].name)) {
            out->has_unit = true;
            out->unit = units[i].unit;
            c->at += n;
            skip_spaces(c);
            return TU_OK;
        }
    }
    return fail_unit(c);
}

static tu_status convert_amount(const cursor *c, const amount *from, tu_unit unit, double *mm)
{
    bool inch = unit == TU_UNIT_INCH;
    if (from->decimal != NULL) {
        tu_status status = tu_number_read_scaled(from->decimal, from->decimal_length,
                                                 inch ? 254 : 1, inch ? -1 : 0, mm, c->error);
        if (status)
            return status;
    } else {
        double parts = from->whole * from->denominator + from->numerator;
        *mm = inch ? parts * 254.0 / (from->denominator * 10.0) : parts / from->denominator;
    }
    if (from->negative && *mm != 0)
        *mm = -*mm;
    return TU_OK;
}

/* Reads "+-" or its sign and the tolerance behind it, where there is one. */
static tu_status read_tolerance(cursor *c, amount *tolerance, bool *have)
{
    *have = take(c, "+-") || take(c, "\xC2\xB1");
    if (!*have)
        return TU_OK;
    skip_spaces(c);
    if (starts_with(c, "-"))
        return tu_fail(c->error, TU_DATA_RANGE, NULL,
                       "a negative tolerance in \"%s\"; write it without a sign, as in %s",
                       tu_show(c->text, c->length).text, "9.53mm+-0.02mm");
    if (starts_with(c, "+"))
        return fail_syntax(c, "a sign before the tolerance", "; write it without one");
    tu_status status = read_amount(c, tolerance);
    return status ? status : read_unit(c, tolerance);
}

/* "0.25+-0.01mm" where bare numbers are inches: 0.25 mm or 0.25 in? */
static tu_status fail_lone_unit(const cursor *c, const amount *value, const amount *tolerance,
                                tu_unit bare_unit)
{
    const char *own = tu_unit_name(tolerance->unit), *bare = tu_unit_name(bare_unit);
    tu_shown number = tu_show(value->text, value->length);
    tu_shown range = tu_show(tolerance->text, tolerance->length);
    return tu_fail(c->error, TU_DATA_SYNTAX, NULL,
                   "only the tolerance names its unit in \"%s\", where bare numbers are %s: "
                   "write %s%s+-%s%s or %s%s+-%s%s",
                   tu_show(c->text, c->length).text,
                   bare_unit == TU_UNIT_INCH ? "inches" : "millimetres", number.text, bare,
                   range.text, own, number.text, own, range.text, own);
}

/* Gives both amounts their units: each its own, else the value's, else the bare one. */
static tu_status settle_units(const cursor *c, amount *value, amount *tolerance, tu_unit bare_unit)
{
    if (!value->has_unit && tolerance->has_unit && tolerance->unit != bare_unit)
        return fail_lone_unit(c, value, tolerance, bare_unit);
    /* Fractions are inches to whoever writes them; 1/4 taken as 0.25 mm would be a wrong zero. */
    if (!value->has_unit && bare_unit == TU_UNIT_MM && value->decimal == NULL)
        return fail_syntax(c, "a fraction without a unit", "; name it, as in 1/4in");
    if (!value->has_unit)
        value->unit = bare_unit;
    if (!tolerance->has_unit)
        tolerance->unit = value->unit;
    return TU_OK;
}

tu_status tu_quantity_parse(const char *text, size_t length, tu_unit bare_unit,
                            tu_quantity *quantity, tu_error *error)
{
    *quantity = tu_quantity_none();
    cursor c = {text, 0, length, LENGTH_FORMS, error};
    amount value = {0}, tolerance = {0};
    bool have_tolerance = false;
    tu_quantity read = tu_quantity_none();
    tu_status status;

    skip_spaces(&c);
    if ((status = check_text(&c)) || (status = read_amount(&c, &value)) ||
        (status = read_unit(&c, &value)) ||
        (status = read_tolerance(&c, &tolerance, &have_tolerance)))
        return status;
    if (left(&c) > 0)
        return fail_trailing(&c);
    if ((status = settle_units(&c, &value, &tolerance, bare_unit)) ||
        (status = convert_amount(&c, &value, value.unit, &read.value_mm)))
        return status;
    if (have_tolerance &&
        (status = convert_amount(&c, &tolerance, tolerance.unit, &read.tolerance_mm)))
        return status;
    read.unit_stated = value.has_unit || tolerance.has_unit;
    *quantity = read;
    return TU_OK;
}

static double radians_from_degrees(double degrees)
{
    return degrees * (TU_PI / 180.0);
}

static double radians_from_radians(double radians)
{
    return radians;
}

static double radians_from_slope(double mm_per_m)
{
    return atan(mm_per_m / 1000.0);
}

/* The number in front of an angle's unit; the cursor is then at the unit. */
static tu_status read_angle_number(cursor *c, double *number)
{
    amount value;
    skip_spaces(c);
    tu_status status = check_text(c);
    if (!status)
        status = read_amount(c, &value);
    if (status)
        return status;
    if (value.decimal == NULL)
        return fail_syntax(c, "a fraction", "; write an angle with decimals");
    status = convert_amount(c, &value, TU_UNIT_MM, number);
    skip_spaces(c);
    return status;
}

tu_status tu_angle_parse(const char *text, size_t length, double *angle_rad, tu_error *error)
{
    static const struct {
        const char *name;
        double (*radians_from)(double);
    } units[] = {{"", radians_from_degrees},
                 {"deg", radians_from_degrees},
                 {"\xC2\xB0", radians_from_degrees},
                 {"rad", radians_from_radians},
                 {"mm/m", radians_from_slope}};

    *angle_rad = NAN;
    cursor c = {text, 0, length, ANGLE_FORMS, error};
    double number;
    tu_status status = read_angle_number(&c, &number);
    if (status)
        return status;
    size_t unit_length = left(&c);
    while (unit_length > 0 && rest(&c)[unit_length - 1] == ' ')
        unit_length--;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (unit_length == strlen(units[i].name) && starts_with(&c, units[i].name)) {
            *angle_rad = units[i].radians_from(number);
            return TU_OK;
        }
    }
    if (!is_letter(rest(&c)[0]))
        return fail_trailing(&c);
    return fail_word(&c, "unknown unit", "; the units are deg, rad and mm/m");
}

tu_status tu_unit_parse(const char *text, tu_unit *unit, tu_error *error)
{
    *unit = TU_UNIT_MM;
    if (strcmp(text, "mm") == 0)
        return TU_OK;
    if (strcmp(text, "in") == 0 || strcmp(text, "inch") == 0) {
        *unit = TU_UNIT_INCH;
        return TU_OK;
    }
    return tu_fail(error, TU_DATA_UNKNOWN, NULL, "unknown unit \"%s\"; write mm or in",
                   tu_show(text, strlen(text)).text);
}

const char *tu_unit_name(tu_unit unit)
{
    return unit == TU_UNIT_INCH ? "in" : "mm";
}

double tu_unit_from_mm(tu_unit unit, double length_mm)
{
    return unit == TU_UNIT_INCH ? length_mm / TU_MM_PER_INCH : length_mm;
}

size_t tu_quantity_format(char *text, size_t size, tu_quantity quantity)
{
    char value[TU_NUMBER_TEXT_SIZE], tolerance[TU_NUMBER_TEXT_SIZE] = "";
    if (size > 0)
        text[0] = '\0';
    if (!isfinite(quantity.value_mm) || isinf(quantity.tolerance_mm))
        return 0;
    tu_number_format_exact(value, sizeof value, quantity.value_mm + 0.0);
    bool stated = !isnan(quantity.tolerance_mm);
    if (stated)
        tu_number_format_exact(tolerance, sizeof tolerance, quantity.tolerance_mm);
    /* The unit stands at both, so that the text reads back whatever the unit of bare numbers is. */
    size_t needed =
        strlen(value) + strlen("mm") + (stated ? strlen("+-mm") + strlen(tolerance) : 0);
    if (needed >= size)
        return 0;
    return (size_t)snprintf(text, size, "%smm%s%s%s", value, stated ? "+-" : "", tolerance,
                            stated ? "mm" : "");
}

void tu_quantity_write_with_unit(char *out, size_t size, const char *text, size_t length,
                                 const char *unit)
{
    cursor c = {text, 0, length, LENGTH_FORMS, NULL};
    skip_spaces(&c);
    while (left(&c) > 0 && !starts_with(&c, "+-") && !starts_with(&c, "\xC2\xB1"))
        c.at++;
    size_t value = c.at;
    while (value > 0 && text[value - 1] == ' ')
        value--;
    snprintf(out, size, "%.*s%s%.*s", (int)value, text, unit, (int)left(&c), rest(&c));
}
