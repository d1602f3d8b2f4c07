/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sentence.c - the checksummed sentence, framed as in IEC 61162-1.
 */
#include "decode/line.h"
#include "trueup/number.h"

#include <limits.h>
#include <string.h>

enum { FIELDS_MAX = 12, ADDRESS_LENGTH = 6 }; /* "$TUHIT" */

/* The fields behind the address, within the line. */
typedef struct fields {
    size_t count;
    const char *text[FIELDS_MAX];
    size_t length[FIELDS_MAX];
} fields;

unsigned char tu_sentence_checksum(const char *bytes, size_t length)
{
    unsigned char sum = 0;
    for (size_t i = 0; i < length; i++)
        sum ^= (unsigned char)bytes[i];
    return sum;
}

/* -1: not a hexadecimal digit. */
static int hex_value(char c)
{
    if (c >= '0' && c <= '9')
        return c - '0';
    if (c >= 'A' && c <= 'F')
        return c - 'A' + 10;
    if (c >= 'a' && c <= 'f')
        return c - 'a' + 10;
    return -1;
}

/* NULL when frame and checksum are right, else what is wrong. */
static const char *find_fault(const char *text, size_t length)
{
    const char *star = memchr(text, '*', length);
    if (!star)
        return "a sentence without a checksum";
    size_t body = (size_t)(star - text) - 1;
    if (length != body + 4)
        return "a sentence whose checksum is not two digits";
    int high = hex_value(star[1]), low = hex_value(star[2]);
    if (high < 0 || low < 0)
        return "a sentence whose checksum is not two digits";
    if (high * 16 + low != tu_sentence_checksum(text + 1, body))
        return "a sentence with a wrong checksum";
    return NULL;
}

bool tu_sentence_is_whole(const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (text[i] < 0x20 || text[i] > 0x7E)
            return false;
    return length > 0 && text[0] == '$' && !find_fault(text, length);
}

/* Parts text[0..length), which starts behind the address, at its commas. */
static bool split(const char *text, size_t length, fields *out)
{
    const char *end = text + length;
    out->count = 0;
    while (text < end && *text == ',') {
        const char *start = ++text;
        while (text < end && *text != ',')
            text++;
        if (out->count == FIELDS_MAX)
            return false;
        out->text[out->count] = start;
        out->length[out->count++] = (size_t)(text - start);
    }
    return text == end;
}

/* A whole number that may be missing: *there says. */
static bool take_whole(const fields *f, size_t index, uint64_t most, uint64_t *value, bool *there)
{
    *there = f->length[index] > 0;
    return !*there || tu_line_whole(f->text[index], f->length[index], most, value);
}

static bool take_sequence(const fields *f, size_t index, tu_line *line)
{
    bool there;
    bool sound = take_whole(f, index, UINT32_MAX, &line->decoded.sequence, &there);
    line->decoded.has_sequence = sound && there;
    return sound;
}

/* The last field, which older firmware does not send. */
static bool take_boot(const fields *f, size_t index, tu_line *line)
{
    bool there = false;
    bool sound = f->count <= index || take_whole(f, index, UINT32_MAX, &line->decoded.boot, &there);
    line->decoded.has_boot = sound && there;
    return sound;
}

/* "X+", "Z", or nothing. */
static bool take_movement(const fields *f, size_t index, tu_line *line)
{
    const char *text = f->text[index];
    size_t length = f->length[index];
    if (length == 0)
        return true;
    if (length > 2 || text[0] < 'X' || text[0] > 'Z')
        return false;
    line->decoded.axis = (tu_axis)(text[0] - 'X');
    if (length == 2 && text[1] != '+' && text[1] != '-')
        return false;
    line->decoded.direction = length == 1 ? 0 : text[1] == '+' ? 1 : -1;
    return true;
}

/* Signed: counts are below 2^53 in magnitude, so a double holds them. */
static bool take_count(const char *text, size_t length, double *value)
{
    bool sign = length > 0 && (text[0] == '-' || text[0] == '+');
    uint64_t whole;
    if (!tu_line_whole(text + sign, length - sign, TU_LINE_WHOLE_MAX, &whole))
        return false;
    *value = text[0] == '-' ? -(double)whole : (double)whole;
    return true;
}

static const char *take_position(const fields *f, size_t first, const tu_decode_setup *setup,
                                 tu_line *line)
{
    for (size_t axis = 0; axis < TU_AXIS_COUNT; axis++) {
        const char *text = f->text[first + axis];
        size_t length = f->length[first + axis];
        double value, steps = setup->machine.steps_per_mm[axis];
        if (length == 0)
            return "a coordinate is missing";
        if (line->counts && !(steps > 0)) /* NaN: not stated */
            return "step counts, and the shop file states no steps_per_mm for each axis";
        if (line->counts ? !take_count(text, length, &value)
                         : tu_number_parse(text, length, &value, NULL))
            return "a coordinate is not a number";
        line->decoded.position_mm[axis] = line->counts ? value / steps : value;
    }
    return NULL;
}

/* A touch; the number of the sentence is kept even where the rest can't be used. */
static tu_line_verdict read_touch(const fields *f, const tu_decode_setup *setup, tu_line *line)
{
    enum { SEQUENCE, CLOCK, MOVEMENT, POSITION, BOUNCES = POSITION + 3, BOUNCE_TIME, BOOT };
    tu_decoded *decoded = &line->decoded;
    uint64_t bounces = 0;
    bool there;
    if (f->count != BOOT && f->count != BOOT + 1)
        return tu_line_refuse(line, "a sentence with too few or too many fields");
    if (!take_sequence(f, SEQUENCE, line))
        return tu_line_refuse(line, "the number of the sentence is not a whole number of 32 bits");
    if (!take_boot(f, BOOT, line))
        return tu_line_refuse(line, "the device's start is not a whole number of 32 bits");
    if (!take_whole(f, CLOCK, UINT64_MAX, &decoded->device_us, &there))
        return tu_line_refuse(line, "the device's time is not a whole number");
    if (!take_movement(f, MOVEMENT, line))
        return tu_line_refuse(line, "the movement is not an axis and a direction, as in Z-");
    if (!take_whole(f, BOUNCES, UINT_MAX, &bounces, &there) ||
        !take_whole(f, BOUNCE_TIME, UINT64_MAX, &decoded->bounce_us, &there))
        return tu_line_refuse(line, "the bounces are not whole numbers");
    decoded->bounces = (unsigned)bounces;
    const char *fault = take_position(f, POSITION, setup, line);
    return fault ? tu_line_refuse(line, fault) : tu_line_settle(line, setup);
}

static tu_line_verdict read_hello(const fields *f, tu_line *line)
{
    enum { NAME, VERSION, SEQUENCE, BOOT };
    char *device = line->decoded.device;
    if (f->count != BOOT && f->count != BOOT + 1)
        return tu_line_refuse(line, "a sentence with too few or too many fields");
    if (f->length[NAME] + f->length[VERSION] + 2 > TU_DEVICE_NAME_SIZE)
        return tu_line_refuse(line, "the device's name and version are too long");
    if (!take_sequence(f, SEQUENCE, line))
        return tu_line_refuse(line, "the number of the sentence is not a whole number of 32 bits");
    if (!take_boot(f, BOOT, line))
        return tu_line_refuse(line, "the device's start is not a whole number of 32 bits");
    line->decoded.kind = TU_DECODED_HELLO;
    memcpy(device, f->text[NAME], f->length[NAME]);
    device += f->length[NAME];
    if (f->length[NAME] > 0 && f->length[VERSION] > 0)
        *device++ = ' ';
    memcpy(device, f->text[VERSION], f->length[VERSION]);
    return TU_LINE_READ;
}

tu_line_verdict tu_sentence_read(const char *text, size_t length, const tu_decode_setup *setup,
                                 tu_line *line)
{
    const char *fault = find_fault(text, length);
    if (fault)
        return tu_line_spoilt(line, fault);
    if (!tu_sentence_is_whole(text, length))
        return tu_line_refuse(line, "a sentence that is not plain ASCII");
    bool hit = length > ADDRESS_LENGTH && memcmp(text, "$TUHIT", ADDRESS_LENGTH) == 0;
    bool counts = length > ADDRESS_LENGTH && memcmp(text, "$TUCNT", ADDRESS_LENGTH) == 0;
    bool hello = length > ADDRESS_LENGTH && memcmp(text, "$TUHLO", ADDRESS_LENGTH) == 0;
    fields f;
    size_t end = length - 3; /* before the star */
    if (!(hit || counts || hello) || end < ADDRESS_LENGTH)
        return tu_line_refuse(line, "a sentence of another kind");
    if (!split(text + ADDRESS_LENGTH, end - ADDRESS_LENGTH, &f))
        return tu_line_refuse(line, "a sentence with too few or too many fields");
    line->counts = counts;
    return hello ? read_hello(&f, line) : read_touch(&f, setup, line);
}
