/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_work_out.c - a template out of one line and the position that was shown with it.
 */
#include "base/scan.h"
#include "base/show.h"
#include "decode/template.h"
#include "trueup/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { NUMBERS_MAX = 64, NONE = -1 };

/* A number in the line. */
typedef struct found {
    size_t start, end;
    double value;
    double half_digit; /* half of the last digit that is printed */
    tu_field field;    /* TU_FIELD_COUNT: stays as it is */
} found;

typedef struct sample {
    const char *text;
    size_t length;
    double scale; /* mm in the line's unit */
    found number[NUMBERS_MAX];
    size_t count;
} sample;

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Half of the last digit of a number as it is printed: 0.05 for "1.5", 0.5e-3 for "1e-3". */
static double half_digit_of(const char *text, size_t length)
{
    size_t decimals = 0, mantissa = 0;
    double exponent = 0;
    const char *point = memchr(text, '.', length);
    if (point)
        decimals = tu_digits_scan(point + 1, (size_t)(text + length - point) - 1);
    while (mantissa < length && text[mantissa] != 'e' && text[mantissa] != 'E')
        mantissa++;
    if (mantissa < length)
        tu_number_parse(text + mantissa + 1, length - mantissa - 1, &exponent, NULL);
    /* never looser than a whole number: "5e5" is no word for anything near it */
    return fmin(0.5, 0.5 * pow(10.0, exponent - (double)decimals));
}

/* Notes the number that starts at `start` (its sign included); false when there are too many. */
static bool note_number(sample *s, size_t start, size_t end)
{
    if (s->count == NUMBERS_MAX)
        return false;
    found *number = &s->number[s->count];
    const char *text = s->text + start;
    size_t length = end - start;
    number->start = start;
    number->end = end;
    number->half_digit = half_digit_of(text, length);
    number->field = TU_FIELD_COUNT;
    /* one that no double holds is text */
    if (!tu_number_parse(text, length, &number->value, NULL))
        s->count++;
    return true;
}

/* A minus behind a digit is a dash, as in a date. */
static bool find_numbers(sample *s)
{
    for (size_t at = 0; at < s->length;) {
        bool sign = s->text[at] == '-' || s->text[at] == '+';
        bool dash = sign && at > 0 && is_digit(s->text[at - 1]);
        size_t from = at + (sign && !dash);
        size_t length = tu_number_scan(s->text + from, s->length - from);
        if (length > 0 && !note_number(s, at, from + length))
            return false;
        at = length > 0 ? from + length : at + 1;
    }
    return true;
}

static bool equals(const found *number, double shown_mm, double scale)
{
    /* a hair more than half a digit: the halves are not exact in binary */
    double reach = number->half_digit * scale * (1.0 + 1e-9) + fabs(shown_mm) * 1e-12;
    return fabs(number->value * scale - shown_mm) <= reach;
}

static tu_status fail_not_there(const sample *s, tu_axis axis, double shown_mm, tu_error *error)
{
    char shown[TU_NUMBER_TEXT_SIZE];
    const char *hint = "type it with all the digits that the line prints, or take a line from the "
                       "moment when the position was shown";
    double other = s->scale > 1.0 ? 1.0 : TU_MM_PER_INCH;
    for (size_t i = 0; i < s->count; i++) {
        const found *number = &s->number[i];
        if (number->value == 0.0)
            continue;
        if (equals(number, -shown_mm, s->scale))
            hint = "the line has it with the other sign; type it as the controller shows it";
        else if (number->half_digit < 0.5 && equals(number, shown_mm, other))
            hint = s->scale > 1.0 ? "the line has it in mm; use {unit} mm"
                                  : "the line has it in inches; use {unit} in";
    }
    tu_number_format(shown, sizeof shown, shown_mm / s->scale, s->scale > 1.0 ? 4 : 3);
    return tu_fail(error, TU_UNDETERMINED, NULL, "%c %s %s is not in the line: %s",
                   tu_axis_letter(axis), shown, s->scale > 1.0 ? "in" : "mm", hint);
}

static tu_status fail_several(const sample *s, tu_axis axis, const found *one, const found *two,
                              tu_error *error)
{
    return tu_fail(error, TU_UNDETERMINED, NULL,
                   "%c could be the \"%s\" at character %zu or the \"%s\" at character %zu: jog to "
                   "a place where X, Y and Z differ from each other and from the line's other "
                   "numbers, and take a line from there",
                   tu_axis_letter(axis), tu_show(s->text + one->start, one->end - one->start).text,
                   one->start + 1, tu_show(s->text + two->start, two->end - two->start).text,
                   two->start + 1);
}

static tu_status place_axis(sample *s, tu_axis axis, double shown_mm, tu_error *error)
{
    found *match = NULL;
    for (size_t i = 0; i < s->count; i++) {
        found *number = &s->number[i];
        if (!equals(number, shown_mm, s->scale))
            continue;
        if (match)
            return fail_several(s, axis, match, number, error);
        match = number;
    }
    if (!match)
        return fail_not_there(s, axis, shown_mm, error);
    if (match->field != TU_FIELD_COUNT)
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "the \"%s\" at character %zu could be %c or %c: jog to a place where they "
                       "differ, and take a line from there",
                       tu_show(s->text + match->start, match->end - match->start).text,
                       match->start + 1, tu_axis_letter((tu_axis)match->field),
                       tu_axis_letter(axis));
    match->field = (tu_field)axis;
    return TU_OK;
}

/*
 * "100,000" may be a hundred with a decimal comma, or the first two of a list. Read as the latter,
 * a comma's decimals would be dropped from every touch. A list of numbers with points is none.
 */
static tu_status check_no_comma(const sample *s, tu_error *error)
{
    for (size_t i = 0; i < s->count; i++) {
        const found *number = &s->number[i];
        const char *after = s->text + number->end;
        bool comma = s->length - number->end > 1 && after[0] == ',' && is_digit(after[1]);
        bool next_is_known = i + 1 < s->count && s->number[i + 1].start == number->end + 1 &&
                             s->number[i + 1].field != TU_FIELD_COUNT;
        size_t length = number->end - number->start;
        if (number->field == TU_FIELD_COUNT || !comma || next_is_known ||
            memchr(s->text + number->start, '.', length))
            continue;
        size_t whole = length + 1 + tu_digits_scan(after + 1, s->length - number->end - 1);
        return tu_fail(error, TU_UNDETERMINED, NULL,
                       "the \"%s\" at character %zu may be one number with a decimal comma, which "
                       "can't be read, or two: set the controller to decimal points, or take a "
                       "line from a place with decimals",
                       tu_show(s->text + number->start, whole).text, number->start + 1);
    }
    return TU_OK;
}

/* 0 and 1 stay: such a number often says whether the touch was good. So does a number that touches
 * another one, which is part of a version or a date. */
static void free_the_others(sample *s)
{
    for (size_t i = 0; i < s->count; i++) {
        found *number = &s->number[i];
        bool flag = number->end - number->start == 1 && number->value <= 1.0;
        bool touches = (i > 0 && s->number[i - 1].end == number->start) ||
                       (i + 1 < s->count && s->number[i + 1].start == number->end);
        if (number->field == TU_FIELD_COUNT && !flag && !touches)
            number->field = TU_FIELD_ANY;
    }
}

/* Adds text[0..length) with its braces doubled; false when it is full. */
static bool add(char out[TU_TEMPLATE_MAX], size_t *used, const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        size_t times = text[i] == '{' || text[i] == '}' ? 2 : 1;
        for (; times > 0; times--) {
            if (*used + 1 >= TU_TEMPLATE_MAX)
                return false;
            out[(*used)++] = text[i];
        }
    }
    out[*used] = '\0';
    return true;
}

static bool write_template(const sample *s, char out[TU_TEMPLATE_MAX])
{
    static const char *const fields[] = {
        [TU_FIELD_X] = "{x}", [TU_FIELD_Y] = "{y}", [TU_FIELD_Z] = "{z}", [TU_FIELD_ANY] = "{_}"};
    size_t used = 0, at = 0;
    for (size_t i = 0; i < s->count; i++) {
        const found *number = &s->number[i];
        if (number->field == TU_FIELD_COUNT)
            continue;
        if (!add(out, &used, s->text + at, number->start - at) || used + 3 >= TU_TEMPLATE_MAX)
            return false;
        memcpy(out + used, fields[number->field], 4);
        used += 3;
        at = number->end;
    }
    return add(out, &used, s->text + at, s->length - at);
}

static tu_status check_sample(const char *line, size_t length, const double shown_mm[TU_AXIS_COUNT],
                              tu_error *error)
{
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        if (!isfinite(shown_mm[axis]))
            return tu_fail(
                error, TU_DATA_RANGE, NULL,
                "%c is not known, and a template has to say where each coordinate stands",
                tu_axis_letter((tu_axis)axis));
    const char *start = line + strspn(line, " \t");
    if (*start == '$')
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "a line that starts with $ is read as a sentence with a checksum and never "
                       "by a template");
    if (*start == '{')
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "a line that starts with a brace is read as JSON and never by a template");
    if (length > TU_LINE_MAX)
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "a line has at most %d bytes, found %zu",
                       TU_LINE_MAX, length);
    if (!tu_template_is_clean(line, length))
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "the line is not plain text in UTF-8; is the baud rate right?");
    return TU_OK;
}

static void keep_record(void *context, const tu_decoded *decoded)
{
    *(tu_decoded *)context = *decoded;
}

/* The template has to read its own line, as a logger would: an {_} could end earlier than the
 * number it stands for. */
static tu_status check_reads_back(const sample *s, tu_unit unit, const tu_template *template,
                                  tu_error *error)
{
    tu_decode_setup setup = tu_decode_setup_start();
    setup.templates = template;
    setup.template_count = 1;
    setup.unit = unit;
    tu_decoded last = {.kind = TU_DECODED_UNREAD, .reason = ""};
    tu_decoder decoder = tu_decoder_start(&setup);
    tu_decoder_feed(&decoder, s->text, s->length, keep_record, &last);
    tu_decoder_feed(&decoder, "\n", 1, keep_record, &last);
    bool same = last.kind == TU_DECODED_HIT && decoder.unread == 0;
    for (size_t i = 0; same && i < s->count; i++) {
        const found *number = &s->number[i];
        if (number->field <= TU_FIELD_Z)
            same = last.position_mm[number->field] == number->value * s->scale;
    }
    return same ? TU_OK
                : tu_fail(error, TU_UNDETERMINED, NULL,
                          "\"%s\" is what came out, and it does not read its own line%s%s; write "
                          "the template by hand",
                          template->text, *last.reason ? ": " : "", last.reason);
}

tu_status tu_template_work_out(const char *line, const double shown_mm[TU_AXIS_COUNT], tu_unit unit,
                               tu_template *out, tu_error *error)
{
    sample s = {.text = line,
                .length = strcspn(line, "\r\n"),
                .scale = unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1.0};
    char text[TU_TEMPLATE_MAX] = "";
    *out = (tu_template){.field_count = 0};
    if (line[s.length + strspn(line + s.length, "\r\n")] != '\0')
        return tu_fail(error, TU_DATA_SYNTAX, NULL, "more than one line; give one");
    tu_status status = check_sample(line, s.length, shown_mm, error);
    if (status)
        return status;
    if (!find_numbers(&s))
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "more than %d numbers in one line; write the template by hand", NUMBERS_MAX);
    for (int axis = 0; !status && axis < TU_AXIS_COUNT; axis++)
        status = place_axis(&s, (tu_axis)axis, shown_mm[axis], error);
    if (!status)
        status = check_no_comma(&s, error);
    if (status)
        return status;
    free_the_others(&s);
    if (!write_template(&s, text))
        return tu_fail(error, TU_DATA_SYNTAX, NULL,
                       "the template would have more than %d bytes; write it by hand, with {_} for "
                       "a part that does not matter",
                       TU_TEMPLATE_MAX - 1);
    status = tu_template_parse(text, out, error);
    if (!status)
        status = check_reads_back(&s, unit, out, error);
    if (status)
        *out = (tu_template){.field_count = 0};
    return status;
}
