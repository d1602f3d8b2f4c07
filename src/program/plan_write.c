/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * plan_write.c - blocks of a touch program, in its unit, each line checked.
 */
#include "program/plan_write.h"

#include "base/c_locale.h"
#include "trueup/rs274.h"

#include <math.h>
#include <string.h>

enum { COMMENT_WIDTH = 88 };

/* --- Numbers --- */

double tu_range_middle(tu_range range)
{
    return (range.low + range.high) / 2.0;
}

tu_range tu_range_about(double middle, double half_width)
{
    return (tu_range){middle - half_width, middle + half_width};
}

void tu_plan_format(char *text, size_t size, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    tu_c_locale_format(text, size, format, arguments);
    va_end(arguments);
}

/* What the last digit of the program's numbers stands for. */
static double digit_mm(const tu_plan_style *style)
{
    return style->unit == TU_UNIT_INCH ? 0.0001 * TU_MM_PER_INCH : 0.001;
}

double tu_plan_round(const tu_plan_style *style, double length_mm)
{
    return round(length_mm / digit_mm(style)) * digit_mm(style) + 0.0;
}

double tu_plan_round_up(const tu_plan_style *style, double length_mm)
{
    return ceil(length_mm / digit_mm(style) - 1e-9) * digit_mm(style);
}

static tu_plan_text show(double value, int decimals)
{
    tu_plan_text shown;
    double scale = pow(10.0, decimals);
    value = round(value * scale) / scale + 0.0; /* no "-0.000" */
    tu_plan_format(shown.text, sizeof shown.text, "%.*f", decimals, value);
    return shown;
}

tu_plan_text tu_plan_length(const tu_plan_style *style, double length_mm)
{
    return show(tu_unit_from_mm(style->unit, length_mm), style->unit == TU_UNIT_INCH ? 4 : 3);
}

tu_plan_text tu_plan_length_fine(const tu_plan_style *style, double length_mm)
{
    return show(tu_unit_from_mm(style->unit, length_mm), style->unit == TU_UNIT_INCH ? 6 : 5);
}

tu_plan_text tu_plan_words(const tu_plan_style *style, double length_mm)
{
    tu_plan_text words;
    bool inch = style->unit == TU_UNIT_INCH;
    tu_plan_text value = show(tu_unit_from_mm(style->unit, length_mm), inch ? 3 : 1);
    tu_plan_format(words.text, sizeof words.text, "%s %s", value.text, tu_unit_name(style->unit));
    return words;
}

tu_plan_text tu_plan_feed(const tu_plan_style *style, double mm_per_min)
{
    return show(tu_unit_from_mm(style->unit, mm_per_min), style->unit == TU_UNIT_INCH ? 3 : 1);
}

tu_plan_text tu_plan_slot(const tu_plan_style *style)
{
    tu_plan_text shown;
    int p = style->slot;
    if (p <= 6)
        tu_plan_format(shown.text, sizeof shown.text, "G%d", 53 + p);
    else
        tu_plan_format(shown.text, sizeof shown.text, "G59.%d", p - 6);
    return shown;
}

static char plain(char c)
{
    if (c == '(')
        return '[';
    if (c == ')')
        return ']';
    return c >= ' ' && c <= '~' ? c : '?';
}

tu_plan_text tu_plan_name(const char *name)
{
    tu_plan_text shown;
    size_t length = 0;
    for (; name[length] != '\0' && length < sizeof shown.text - 1; length++)
        shown.text[length] = plain(name[length]);
    shown.text[length] = '\0';
    return shown;
}

/* --- Lines --- */

void tu_plan_fail(tu_plan_writer *writer, tu_status status, const char *where, const char *format,
                  ...)
{
    if (writer->status)
        return;
    char message[TU_ERROR_MESSAGE_SIZE];
    va_list arguments;
    va_start(arguments, format);
    tu_c_locale_format(message, sizeof message, format, arguments);
    va_end(arguments);
    writer->status = tu_fail(writer->error, status, where, "%s", message);
}

static void write_line(tu_plan_writer *writer, const char *line)
{
    if (writer->status)
        return;
    size_t length = strlen(line);
    if (length >= TU_RS274_LINE_MAX) {
        tu_plan_fail(writer, TU_DATA_RANGE, NULL, "a line of the program would be too long: %.60s",
                     line);
        return;
    }
    if (writer->out != NULL && fprintf(writer->out, "%s\n", line) < 0)
        tu_plan_fail(writer, TU_SYSTEM_IO, NULL, "the program cannot be written");
}

void tu_plan_block(tu_plan_writer *writer, const char *format, ...)
{
    char line[2 * TU_RS274_LINE_MAX];
    va_list arguments;
    va_start(arguments, format);
    tu_c_locale_format(line, sizeof line, format, arguments);
    va_end(arguments);
    write_line(writer, line);
}

void tu_plan_comment(tu_plan_writer *writer, const char *format, ...)
{
    char text[1024];
    va_list arguments;
    va_start(arguments, format);
    tu_c_locale_format(text, sizeof text, format, arguments);
    va_end(arguments);
    for (char *c = text; *c != '\0'; c++)
        *c = plain(*c);
    const char *rest = text;
    while (*rest != '\0') {
        size_t length = strlen(rest);
        if (length > COMMENT_WIDTH) {
            length = COMMENT_WIDTH;
            while (length > 0 && rest[length] != ' ')
                length--;
            if (length == 0)
                length = COMMENT_WIDTH;
        }
        tu_plan_block(writer, "(%s%.*s)", rest == text ? "" : "  ", (int)length, rest);
        rest += length;
        rest += strspn(rest, " ");
    }
}

/* --- Moves --- */

/* On the bed the stock stands beside the plate, as high as it may be. */
static void keep_off_stock(tu_plan_writer *writer, tu_axis axis, tu_range range)
{
    if (writer->free_side[0] == 0 || axis == TU_AXIS_Z)
        return;
    bool clear = false;
    for (int i = TU_AXIS_X; i <= TU_AXIS_Y; i++) {
        tu_range where = i == (int)axis ? range : writer->at[i];
        double nearest = writer->free_side[i] > 0 ? where.low : -where.high;
        clear = clear || nearest >= writer->radius_mm + TU_PLAN_ALLOWANCE_MM;
    }
    if (!clear)
        tu_plan_fail(
            writer, TU_DATA_CONFLICT, "{plate}",
            "the plate lies on the bed, and the cutter would come to the stock that stands "
            "beside it: lay a plate of another extent there, use a smaller {window}, or "
            "{seat} stock");
}

void tu_plan_reach(tu_plan_writer *writer, tu_axis axis, tu_range range)
{
    double *space = writer->summary->space_mm[axis];
    space[0] = fmin(space[0], range.low - writer->start[axis].high);
    space[1] = fmax(space[1], range.high - writer->start[axis].low);
    keep_off_stock(writer, axis, range);
}

static void shift(tu_plan_writer *writer, tu_axis axis, double by_mm)
{
    tu_range from = writer->at[axis];
    tu_range to = {from.low + by_mm, from.high + by_mm};
    tu_plan_reach(writer, axis, (tu_range){fmin(from.low, to.low), fmax(from.high, to.high)});
    writer->at[axis] = to;
    writer->summary->seconds += fabs(by_mm) / writer->style->traverse_mm_per_min * 60.0;
}

void tu_plan_distance(tu_plan_writer *writer, int distance)
{
    if (writer->distance != distance)
        tu_plan_block(writer, "G%d", distance);
    writer->distance = distance;
}

void tu_plan_move(tu_plan_writer *writer, tu_axis axis, double by_mm)
{
    by_mm = tu_plan_round(writer->style, by_mm);
    if (by_mm == 0.0)
        return;
    tu_plan_distance(writer, 91);
    tu_plan_block(writer, "G1 %c%s F%s", tu_axis_letter(axis),
                  tu_plan_length(writer->style, by_mm).text,
                  tu_plan_feed(writer->style, writer->style->traverse_mm_per_min).text);
    shift(writer, axis, by_mm);
}

void tu_plan_move_to(tu_plan_writer *writer, tu_axis axis, double to_mm)
{
    tu_plan_move(writer, axis, to_mm - tu_range_middle(writer->at[axis]));
}

void tu_plan_go(tu_plan_writer *writer, double x_mm, double y_mm)
{
    const tu_plan_style *style = writer->style;
    const double to[] = {tu_plan_round(style, x_mm), tu_plan_round(style, y_mm)};
    double square = 0.0;
    for (int axis = TU_AXIS_X; axis <= TU_AXIS_Y; axis++) {
        tu_range from = writer->at[axis];
        tu_plan_reach(writer, (tu_axis)axis,
                      (tu_range){fmin(from.low, to[axis]), fmax(from.high, to[axis])});
        double by = to[axis] - tu_range_middle(from);
        square += by * by;
        writer->at[axis] = tu_range_about(to[axis], 0.0);
    }
    tu_plan_distance(writer, 90);
    tu_plan_block(writer, "G1 X%s Y%s F%s", tu_plan_length(style, to[0]).text,
                  tu_plan_length(style, to[1]).text,
                  tu_plan_feed(style, style->traverse_mm_per_min).text);
    writer->summary->seconds += sqrt(square) / style->traverse_mm_per_min * 60.0;
}

void tu_plan_pause(tu_plan_writer *writer, const char *format, ...)
{
    char text[160];
    va_list arguments;
    va_start(arguments, format);
    tu_c_locale_format(text, sizeof text, format, arguments);
    va_end(arguments);
    tu_plan_block(writer, "(MSG, %s)", text);
    tu_plan_block(writer, "M0");
    writer->summary->pauses++;
}
