/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * json_line.c - a touch as one flat JSON object on a line.
 *
 * A reader of its own, since this folder may not allocate: RFC 8259's grammar for an object whose
 * members are numbers or texts, without a tree. Members that a touch doesn't have are refused, for
 * a status report has coordinates too.
 */
#include "base/scan.h"
#include "decode/line.h"
#include "trueup/number.h"

#include <limits.h>
#include <stdint.h>
#include <string.h>

enum { KEY_SIZE = 16 };

typedef struct cursor {
    const char *at, *end;
    tu_line *line;
    double position[TU_AXIS_COUNT]; /* as written */
    tu_unit unit;
    unsigned seen; /* members, by their index */
} cursor;

/* A value: a number's bytes, or a text, unescaped. */
typedef struct value {
    bool is_text;
    const char *number;
    size_t length; /* of either */
    char text[TU_NAME_SIZE];
} value;

static const char not_json[] = "a line that starts as JSON and is none";
static const char nested[] = "a JSON value that is neither a number nor a text";

typedef const char *take_member(cursor *c, const value *v);

static void skip_blanks(cursor *c)
{
    while (c->at < c->end && (*c->at == ' ' || *c->at == '\t'))
        c->at++;
}

/* Skips blanks and takes this character if it stands there. */
static bool take(cursor *c, char wanted)
{
    skip_blanks(c);
    if (c->at == c->end || *c->at != wanted)
        return false;
    c->at++;
    return true;
}

/* The code unit of "uXXXX" at c->at; -1: malformed. */
static int take_code_unit(cursor *c)
{
    int code = 0;
    if (c->end - c->at < 5)
        return -1;
    for (int i = 1; i <= 4; i++) {
        char d = c->at[i];
        int digit = d >= '0' && d <= '9'   ? d - '0'
                    : d >= 'a' && d <= 'f' ? d - 'a' + 10
                    : d >= 'A' && d <= 'F' ? d - 'A' + 10
                                           : -1;
        if (digit < 0)
            return -1;
        code = code * 16 + digit;
    }
    c->at += 5;
    return code;
}

/* Takes what follows a backslash. Only ASCII may be escaped by its number here: no device has a
 * reason to write more so, and half a surrogate pair is no character. '\0': can't be taken. */
static char take_escape(cursor *c)
{
    if (c->at == c->end)
        return '\0';
    if (*c->at == 'u') {
        int code = take_code_unit(c);
        return code >= 0x20 && code < 0x7F ? (char)code : '\0';
    }
    char found = *c->at++; /* \n and such are control characters, which no name has */
    return strchr("\"\\/", found) ? found : '\0';
}

/* A text in quotes into text[0..size), with its NUL. NULL, or the fault. */
static const char *take_text(cursor *c, char *text, size_t size, size_t *length)
{
    *length = 0;
    if (!take(c, '"'))
        return not_json;
    while (c->at < c->end && *c->at != '"') {
        char found = *c->at++;
        if (found == '\\' && (found = take_escape(c)) == '\0')
            return "a JSON text with an escape that is not taken here";
        if (*length + 1 >= size)
            return "a JSON text that is too long";
        text[(*length)++] = found;
    }
    text[*length] = '\0';
    return take(c, '"') ? NULL : not_json;
}

/* A number by the grammar of RFC 8259, section 6: no plus, no leading zero, digits around a point.
 */
static const char *take_number(cursor *c, value *v)
{
    const char *start = c->at;
    size_t left = (size_t)(c->end - c->at), sign = *start == '-';
    size_t digits = tu_digits_scan(start + sign, left - sign);
    size_t length = sign + tu_number_scan(start + sign, left - sign);
    if (digits == 0 || (digits > 1 && start[sign] == '0') || start[length - 1] == '.')
        return not_json;
    const char *point = memchr(start, '.', length);
    if (point && (point + 1 == start + length || point[1] < '0' || point[1] > '9'))
        return not_json;
    v->number = start;
    v->length = length;
    c->at += length;
    return NULL;
}

static const char *take_value(cursor *c, value *v)
{
    skip_blanks(c);
    if (c->at == c->end)
        return not_json;
    v->is_text = *c->at == '"';
    if (v->is_text)
        return take_text(c, v->text, sizeof v->text, &v->length);
    if (*c->at == '-' || (*c->at >= '0' && *c->at <= '9'))
        return take_number(c, v);
    return strchr("{[tfn", *c->at) ? nested : not_json;
}

static const char *take_coordinate(cursor *c, const value *v, tu_axis axis)
{
    if (v->is_text || tu_number_parse(v->number, v->length, &c->position[axis], NULL))
        return "a coordinate is not a number";
    return NULL;
}

static const char *take_x(cursor *c, const value *v)
{
    return take_coordinate(c, v, TU_AXIS_X);
}

static const char *take_y(cursor *c, const value *v)
{
    return take_coordinate(c, v, TU_AXIS_Y);
}

static const char *take_z(cursor *c, const value *v)
{
    return take_coordinate(c, v, TU_AXIS_Z);
}

static const char *take_unit(cursor *c, const value *v)
{
    if (!v->is_text || tu_unit_parse(v->text, &c->unit, NULL))
        return "the unit is neither \"mm\" nor \"in\"";
    return NULL;
}

static const char *take_axis(cursor *c, const value *v)
{
    if (!v->is_text || v->length != 1 || v->text[0] < 'x' || v->text[0] > 'z')
        return "the axis is none of \"x\", \"y\", \"z\"";
    c->line->decoded.axis = (tu_axis)(v->text[0] - 'x');
    return NULL;
}

static const char *take_way(cursor *c, const value *v)
{
    if (!v->is_text || v->length != 1 || (v->text[0] != '+' && v->text[0] != '-'))
        return "the direction is neither \"+\" nor \"-\"";
    c->line->decoded.direction = v->text[0] == '+' ? 1 : -1;
    return NULL;
}

static const char *take_sequence(cursor *c, const value *v)
{
    tu_decoded *decoded = &c->line->decoded;
    decoded->has_sequence =
        !v->is_text && tu_line_whole(v->number, v->length, TU_LINE_WHOLE_MAX, &decoded->sequence);
    return decoded->has_sequence ? NULL : "the number of the line is not a whole number";
}

static const char *take_clock(cursor *c, const value *v)
{
    if (v->is_text ||
        !tu_line_whole(v->number, v->length, TU_LINE_WHOLE_MAX, &c->line->decoded.device_us))
        return "the device's time is not a whole number";
    return NULL;
}

static const char *take_series(cursor *c, const value *v)
{
    if (!v->is_text)
        return "the series is not a text";
    memcpy(c->line->decoded.series, v->text, v->length + 1);
    return NULL;
}

static const char *take_bounces(cursor *c, const value *v)
{
    uint64_t bounces;
    if (v->is_text || !tu_line_whole(v->number, v->length, UINT_MAX, &bounces))
        return "the bounces are not whole numbers";
    c->line->decoded.bounces = (unsigned)bounces;
    return NULL;
}

static const char *take_bounce_time(cursor *c, const value *v)
{
    if (v->is_text ||
        !tu_line_whole(v->number, v->length, TU_LINE_WHOLE_MAX, &c->line->decoded.bounce_us))
        return "the bounces are not whole numbers";
    return NULL;
}

static const struct {
    const char *name;
    take_member *take;
} members[] = {
    {"x", take_x},
    {"y", take_y},
    {"z", take_z},
    {"unit", take_unit},
    {"axis", take_axis},
    {"dir", take_way},
    {"seq", take_sequence},
    {"us", take_clock},
    {"series", take_series},
    {"bounces", take_bounces},
    {"bounce_us", take_bounce_time},
};
enum { MEMBER_COUNT = sizeof members / sizeof *members };

static const char *take_one(cursor *c)
{
    char key[KEY_SIZE];
    size_t length, index = 0;
    value v = {0};
    const char *fault = take_text(c, key, sizeof key, &length);
    if (fault)
        return fault == not_json ? fault : "a JSON member that a touch does not have";
    while (index < MEMBER_COUNT && strcmp(members[index].name, key) != 0)
        index++;
    if (!take(c, ':'))
        return not_json;
    if (index == MEMBER_COUNT)
        return "a JSON member that a touch does not have";
    if (c->seen & (1u << index))
        return "a JSON member that stands twice";
    c->seen |= 1u << index;
    fault = take_value(c, &v);
    return fault ? fault : members[index].take(c, &v);
}

/* NULL, or the fault. */
static const char *take_object(cursor *c)
{
    const char *fault = NULL;
    if (!take(c, '{'))
        return not_json;
    if (!take(c, '}')) {
        do
            fault = take_one(c);
        while (!fault && take(c, ','));
        if (!fault && !take(c, '}'))
            fault = not_json;
    }
    skip_blanks(c);
    return fault ? fault : c->at == c->end ? NULL : not_json;
}

tu_line_verdict tu_json_line_read(const char *text, size_t length, const tu_decode_setup *setup,
                                  tu_line *line)
{
    cursor c = {.at = text, .end = text + length, .line = line, .unit = setup->unit};
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        c.position[axis] = line->decoded.position_mm[axis];
    const char *fault = take_object(&c);
    if (fault == not_json)
        return tu_line_spoilt(line, fault);
    if (fault) {
        line->decoded.has_sequence = false; /* what was not understood counts for nothing */
        return tu_line_refuse(line, fault);
    }
    double scale = c.unit == TU_UNIT_INCH ? TU_MM_PER_INCH : 1.0;
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++)
        line->decoded.position_mm[axis] = c.position[axis] * scale;
    return tu_line_settle(line, setup);
}
