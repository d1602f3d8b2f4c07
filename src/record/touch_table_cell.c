/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * touch_table_cell.c - the cells of a CSV: lengths, numbers and words, or an error at their place.
 */
#include "base/utf8.h"
#include "record/touch_table_parts.h"
#include "trueup/number.h"
#include "trueup/text.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

/* The text of a cell in a message. */
typedef struct shown {
    char text[48];
} shown;

static shown show(const tu_table_cell *cell)
{
    shown s;
    snprintf(s.text, sizeof s.text, "%.*s%s", (int)(cell->length < 40 ? cell->length : 40),
             cell->text, cell->length > 40 ? "..." : "");
    return s;
}

static tu_status fail_cell(const tu_table_cell *cell, tu_error *error, tu_status status,
                           const char *expected)
{
    if (cell->length == 0)
        return tu_table_fail(cell->build, cell->line, cell->column, error, TU_DATA_MISSING,
                             "the cell is empty, expected %s; fill it in, or take the row out",
                             expected);
    return tu_table_fail(cell->build, cell->line, cell->column, error, status,
                         "found \"%s\", expected %s", show(cell).text, expected);
}

/* Appends the digits at `at` to the number; the end of them. */
static const char *take_digits(const char *at, const char *end, int64_t *number)
{
    for (unsigned digit; at < end && (digit = (unsigned char)*at - (unsigned)'0') <= 9; at++)
        *number = 10 * *number + digit;
    return at;
}

/*
 * Sign, digits, point, digits: no more than 15 digits, so that a whole number below 2^53 divided by
 * a power of ten that is a double is the double nearest to what is written (IEEE 754-2019, 5.1).
 */
static bool read_plain(const char *text, size_t length, double *value)
{
    static const double power[] = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                   1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    bool sign = length > 0 && (*text == '-' || *text == '+');
    const char *end = text + length, *from = text + sign;
    if (FLT_EVAL_METHOD != 0 || end - from > 16)
        return false;
    int64_t mantissa = 0;
    const char *point = take_digits(from, end, &mantissa);
    bool pointed = point < end && *point == '.';
    const char *behind = point + pointed;
    if (take_digits(behind, end, &mantissa) != end || end == from + pointed ||
        end - from - pointed > 15)
        return false;
    double size = (double)mantissa / power[end - behind];
    *value = *text == '-' && mantissa ? -size : size;
    return true;
}

/* 12:30:00, or 30:15 */
static bool is_clock(const tu_table_cell *cell)
{
    for (size_t i = 0; i < cell->length; i++)
        if (!memchr("0123456789:.", cell->text[i], 12))
            return false;
    return memchr(cell->text, ':', cell->length) != NULL;
}

static tu_status fail_parsed(const tu_table_cell *cell, tu_error *error, const tu_error *parsed)
{
    return tu_table_fail(cell->build, cell->line, cell->column, error, parsed->status, "%s",
                         parsed->message);
}

tu_status tu_cell_length(const tu_table_cell *cell, double *value_mm, bool *stated, tu_error *error)
{
    double value;
    *stated = false;
    if (read_plain(cell->text, cell->length, &value)) {
        *value_mm = cell->build->request->unit == TU_UNIT_INCH ? value * TU_MM_PER_INCH : value;
        if (cell->build->request->unit == TU_UNIT_MM)
            return TU_OK;
    }
    if (cell->length == 0)
        return fail_cell(cell, error, TU_DATA_MISSING, "a length");
    tu_quantity quantity;
    tu_error parsed = {0};
    if (tu_quantity_parse(cell->text, cell->length, cell->build->request->unit, &quantity, &parsed))
        return fail_parsed(cell, error, &parsed);
    if (isfinite(quantity.tolerance_mm))
        return tu_table_fail(cell->build, cell->line, cell->column, error, TU_DATA_SYNTAX,
                             "found \"%s\": a touch has no tolerance; write the position alone",
                             show(cell).text);
    *value_mm = quantity.value_mm;
    *stated = quantity.unit_stated;
    return TU_OK;
}

tu_status tu_cell_number(const tu_table_cell *cell, double *value, tu_error *error)
{
    if (read_plain(cell->text, cell->length, value))
        return TU_OK;
    if (cell->length == 0)
        return fail_cell(cell, error, TU_DATA_MISSING, "a number");
    if (is_clock(cell))
        return fail_cell(cell, error, TU_DATA_SYNTAX,
                         "seconds from any moment, as 45000 for 12:30:00");
    tu_error parsed = {0};
    if (tu_number_parse(cell->text, cell->length, value, &parsed))
        return fail_parsed(cell, error, &parsed);
    return TU_OK;
}

/* A length a minute, with or without "/min"; empty: not stated. */
tu_status tu_cell_feed(const tu_table_cell *cell, double *feed_mm_s, tu_error *error)
{
    static const char each[] = "/min";
    tu_table_cell length = *cell;
    bool stated;
    double feed;
    *feed_mm_s = NAN;
    if (cell->length == 0)
        return TU_OK;
    if (length.length > sizeof each - 1 &&
        strncasecmp(cell->text + cell->length - (sizeof each - 1), each, sizeof each - 1) == 0)
        length.length -= sizeof each - 1;
    tu_status status = tu_cell_length(&length, &feed, &stated, error);
    if (status)
        return status;
    if (!(feed > 0))
        return fail_cell(cell, error, TU_DATA_RANGE, "a feed above zero, a length a minute");
    *feed_mm_s = feed / 60.0;
    return TU_OK;
}

static bool is_word(const tu_table_cell *cell, const char *word)
{
    return cell->length == strlen(word) && strncasecmp(cell->text, word, cell->length) == 0;
}

tu_status tu_cell_direction(const tu_table_cell *cell, signed char *direction, tu_error *error)
{
    static const char *const minus[] = {"-", "-1"}, *const plus[] = {"+", "+1", "1"};
    *direction = 0;
    if (cell->length == 0 || is_word(cell, "0"))
        return TU_OK;
    for (size_t i = 0; i < sizeof minus / sizeof *minus; i++)
        if (is_word(cell, minus[i]))
            *direction = -1;
    for (size_t i = 0; i < sizeof plus / sizeof *plus; i++)
        if (is_word(cell, plus[i]))
            *direction = 1;
    return *direction ? TU_OK
                      : fail_cell(cell, error, TU_DATA_SYNTAX,
                                  "the direction in which the axis moved: +, -, +1 or -1");
}

tu_status tu_cell_axis(const tu_table_cell *cell, unsigned char *axis, tu_error *error)
{
    *axis = TU_TABLE_NO_AXIS;
    if (cell->length == 0)
        return TU_OK;
    for (unsigned char i = 0; i < TU_AXIS_COUNT; i++)
        if (cell->length == 1 && (*cell->text | 0x20) == "xyz"[i])
            *axis = i;
    return *axis == TU_TABLE_NO_AXIS ? fail_cell(cell, error, TU_DATA_SYNTAX, "x, y or z") : TU_OK;
}

tu_status tu_cell_ok(const tu_table_cell *cell, bool *ok, tu_error *error)
{
    static const char *const yes[] = {"true", "1", "yes"}, *const no[] = {"false", "0", "no"};
    for (size_t i = 0; i < sizeof yes / sizeof *yes; i++) {
        if (is_word(cell, yes[i]) || is_word(cell, no[i])) {
            *ok = is_word(cell, yes[i]);
            return TU_OK;
        }
    }
    return fail_cell(cell, error, TU_DATA_SYNTAX, "true or false");
}

tu_status tu_cell_name(const tu_table_cell *cell, tu_name_list *list, uint32_t *index,
                       tu_error *error)
{
    char name[TU_NAME_SIZE];
    if (tu_name_list_is_last(list, cell->text, cell->length)) { /* of the same series, mostly */
        *index = list->last;
        return TU_OK;
    }
    if (cell->length >= TU_NAME_SIZE)
        return tu_table_fail(cell->build, cell->line, cell->column, error, TU_DATA_RANGE,
                             "a name of %zu bytes; it may have %d", cell->length, TU_NAME_SIZE - 1);
    memcpy(name, cell->text, cell->length);
    name[cell->length] = '\0';
    if (!tu_text_is_utf8(name, cell->length) || tu_utf8_has_control(name))
        return tu_table_fail(cell->build, cell->line, cell->column, error, TU_DATA_SYNTAX,
                             "the name \"%s\" holds control characters or is no UTF-8; save the "
                             "file as UTF-8",
                             show(cell).text);
    if (!tu_name_list_find(list, name, cell->length, index))
        return tu_table_fail_memory(cell->build, error);
    return TU_OK;
}
