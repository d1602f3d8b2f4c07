/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_read.c - text lines by templates.
 */
#include "base/scan.h"
#include "decode/line.h"
#include "decode/template.h"
#include "trueup/number.h"

#include <string.h>

/* A line held against a template. */
typedef struct fit {
    const tu_template *template;
    const char *at, *end; /* what is left of the line */
    tu_line *line;
    double scale; /* mm in the line's unit */
} fit;

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

static const char *skip_blanks(const char *at, const char *end)
{
    while (at < end && is_blank(*at))
        at++;
    return at;
}

static bool is_number(tu_field field)
{
    return field <= TU_FIELD_TIME;
}

/*
 * Holds the template's text[0..length) against the line at `at`; NULL when it does not stand there,
 * else what is left. A run of blanks stands for one or more; at the end of a text that a number
 * follows, for any number, so that columns may shift.
 */
static const char *match_text(const char *text, size_t length, bool number_follows, const char *at,
                              const char *end)
{
    bool solid = false; /* something but blanks was matched */
    for (size_t i = 0; i < length;) {
        if (is_blank(text[i])) {
            const char *after = skip_blanks(at, end);
            while (i < length && is_blank(text[i]))
                i++;
            if (after == at && !(i == length && number_follows && solid))
                return NULL;
            at = after;
            continue;
        }
        if (at == end || *at != text[i])
            return NULL;
        i += text[i] == '{' || text[i] == '}' ? 2 : 1; /* written twice */
        at++;
        solid = true;
    }
    return number_follows && solid ? skip_blanks(at, end) : at;
}

/* The text in front of a field, or the tail; blanks at the template's own ends do not count. */
static const char *match_before(const fit *f, size_t index, const char *at)
{
    const tu_template *template = f->template;
    bool tail = index == template->field_count;
    size_t start = tail ? template->tail : template->field[index].before;
    size_t length = tail ? template->tail_length : template->field[index].before_length;
    const char *text = template->text + start;
    while (index == 0 && length > 0 && is_blank(*text)) {
        text++;
        length--;
    }
    while (tail && length > 0 && is_blank(text[length - 1]))
        length--;
    bool number = !tail && is_number(tu_template_field_at(template, index));
    return match_text(text, length, number, at, f->end);
}

static const char *take_coordinate(fit *f, tu_axis axis)
{
    size_t left = (size_t)(f->end - f->at);
    size_t sign = left > 0 && (*f->at == '-' || *f->at == '+');
    size_t length = tu_number_scan(f->at + sign, left - sign);
    double value;
    if (length == 0 || tu_number_parse(f->at, sign + length, &value, NULL))
        return "a template fits, but a coordinate is not a number";
    f->line->decoded.position_mm[axis] = value * f->scale;
    f->at += sign + length;
    return NULL;
}

static const char *take_sequence(fit *f)
{
    tu_decoded *decoded = &f->line->decoded;
    size_t length = tu_digits_scan(f->at, (size_t)(f->end - f->at));
    decoded->has_sequence = tu_line_whole(f->at, length, TU_LINE_WHOLE_MAX, &decoded->sequence);
    f->at += length;
    return decoded->has_sequence ? NULL
                                 : "a template fits, but the line's number is not a whole number";
}

static const char *take_clock(fit *f)
{
    size_t length = tu_number_scan(f->at, (size_t)(f->end - f->at));
    double seconds;
    if (length == 0 || tu_number_parse(f->at, length, &seconds, NULL) ||
        seconds * 1e6 > (double)TU_LINE_WHOLE_MAX)
        return "a template fits, but the device's time is not a number of seconds";
    f->line->decoded.device_us = (uint64_t)(seconds * 1e6 + 0.5);
    f->at += length;
    return NULL;
}

static const char *take_axis(fit *f)
{
    static const char letters[] = "xyzXYZ";
    const char *found = f->at < f->end ? strchr(letters, *f->at) : NULL;
    if (!found)
        return "a template fits, but the axis is none of x, y, z";
    f->line->decoded.axis = (tu_axis)((found - letters) % TU_AXIS_COUNT);
    f->at++;
    return NULL;
}

static const char *take_way(fit *f)
{
    if (f->at == f->end || (*f->at != '+' && *f->at != '-'))
        return "a template fits, but the direction is neither + nor -";
    f->line->decoded.direction = *f->at == '+' ? 1 : -1;
    f->at++;
    return NULL;
}

/* Anything up to where the next text stands for the first time; up to the end where none does. */
static const char *find_next_text(const fit *f, size_t index)
{
    bool last = index + 1 == f->template->field_count;
    if (last && f->template->tail_length == 0)
        return f->end;
    for (const char *stop = f->at; stop <= f->end; stop++) {
        const char *after = match_before(f, index + 1, stop);
        if (after && (!last || after == f->end))
            return stop;
    }
    return NULL;
}

static const char *take_stretch(fit *f, size_t index, bool series)
{
    const char *stop = find_next_text(f, index);
    char *name = f->line->decoded.series;
    if (!stop)
        return "";
    size_t length = (size_t)(stop - f->at);
    if (series && (length == 0 || length >= TU_NAME_SIZE))
        return "a template fits, but the series is empty or longer than 63 bytes";
    if (series)
        memcpy(name, f->at, length); /* the rest is zero */
    f->at = stop;
    return NULL;
}

static const char *take_field(fit *f, size_t index)
{
    tu_field field = tu_template_field_at(f->template, index);
    switch (field) {
    case TU_FIELD_X:
    case TU_FIELD_Y:
    case TU_FIELD_Z:
        return take_coordinate(f, (tu_axis)field);
    case TU_FIELD_NUMBER:
        return take_sequence(f);
    case TU_FIELD_TIME:
        return take_clock(f);
    case TU_FIELD_AXIS:
        return take_axis(f);
    case TU_FIELD_WAY:
        return take_way(f);
    case TU_FIELD_SERIES:
    case TU_FIELD_ANY:
        return take_stretch(f, index, field == TU_FIELD_SERIES);
    case TU_FIELD_COUNT:
        break;
    }
    return "";
}

/* NULL when the whole line fits; else why not, "" for a text that is not there. */
static const char *try_template(fit *f)
{
    if (f->template->field_count == 0)
        return "";
    const char *start = f->at = skip_blanks(f->at, f->end);
    while (f->end > f->at && is_blank(f->end[-1]))
        f->end--;
    for (size_t i = 0; i < f->template->field_count; i++) {
        const char *after = match_before(f, i, f->at);
        if (!after)
            return "";
        f->at = after;
        const char *fault = take_field(f, i);
        bool alone = f->at == start && tu_template_field_at(f->template, i) != TU_FIELD_SERIES;
        if (fault) /* where no text fitted before it or behind it, a field says nothing */
            return alone ? "" : fault;
    }
    return match_before(f, f->template->field_count, f->at) == f->end ? NULL : "";
}

tu_line_verdict tu_template_read(const char *text, size_t length, const tu_decode_setup *setup,
                                 tu_line *line)
{
    const char *reason = setup->template_count > 0 ? "text that fits no template"
                                                   : "text, and there is no template for it";
    const tu_line fresh = *line;
    for (size_t i = 0; i < setup->template_count; i++) {
        const tu_template *template = &setup->templates[i];
        tu_unit unit = template->unit_stated ? template->unit : setup->unit;
        fit f = {.template = template,
                 .at = text,
                 .end = text + length,
                 .line = line,
                 .scale = unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1.0};
        const char *fault = try_template(&f);
        if (!fault)
            return tu_line_settle(line, setup);
        if (*fault != '\0')
            reason = fault;
        *line = fresh;
    }
    return tu_line_refuse(line, reason);
}
