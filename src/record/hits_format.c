/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits_format.c - writes the lines of a hit log.
 */
#include "base/utf8.h"
#include "record/crc32.h"
#include "record/hits_form.h"
#include "trueup/hitlog.h"
#include "trueup/number.h"
#include "trueup/text.h"

#include <inttypes.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* A line being written; `fits` stays false once something did not. */
typedef struct line {
    char *text;
    size_t size, length;
    bool fits;
} line;

TU_PRINTF(2, 3)
static void add(line *l, const char *format, ...)
{
    va_list arguments;
    if (!l->fits)
        return;
    va_start(arguments, format);
    int added = vsnprintf(l->text + l->length, l->size - l->length, format, arguments);
    va_end(arguments);
    l->fits = added >= 0 && (size_t)added < l->size - l->length;
    l->length += l->fits ? (size_t)added : 0;
}

static line start_line(char *text, size_t size)
{
    if (size > 0)
        text[0] = '\0';
    return (line){text, size, 0, size > 0};
}

/* Closes the line; an empty text and 0 when it did not fit. */
static size_t close_line(line *l)
{
    char crc[TU_CRC32_TEXT_SIZE];
    tu_crc32_format(crc, tu_crc32(l->text, l->fits ? l->length : 0));
    add(l, ",\"crc\":\"%s\"}\n", crc);
    l->fits = l->fits && l->length <= TU_HITS_LINE_MAX;
    if (!l->fits && l->size > 0)
        l->text[0] = '\0';
    return l->fits ? l->length : 0;
}

static bool matches(const char *text, const char *pattern, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        bool digit = text[i] >= '0' && text[i] <= '9';
        if (pattern[i] == '0' ? !digit : text[i] != pattern[i])
            return false;
    }
    return true;
}

static int two_digits(const char *text)
{
    return 10 * (text[0] - '0') + (text[1] - '0');
}

bool tu_hits_is_utc(const char *text)
{
    static const char pattern[] = "0000-00-00T00:00:00";
    size_t start = sizeof pattern - 1, length = strlen(text);
    if (length <= start || length >= sizeof((tu_hit *)0)->utc || !matches(text, pattern, start) ||
        text[length - 1] != 'Z')
        return false;
    size_t decimals = length - start - 1; /* with their point */
    if (decimals == 1 || (decimals > 1 && text[start] != '.') ||
        (decimals > 1 && strspn(text + start + 1, "0123456789") != decimals - 1))
        return false;
    int month = two_digits(text + 5), day = two_digits(text + 8);
    /* 60: a leap second */
    return month >= 1 && month <= 12 && day >= 1 && day <= 31 && two_digits(text + 11) <= 23 &&
           two_digits(text + 14) <= 59 && two_digits(text + 17) <= 60;
}

bool tu_hits_is_series(const char *text)
{
    size_t length = strlen(text);
    return length < TU_NAME_SIZE && tu_text_is_utf8(text, length) && !tu_utf8_has_control(text);
}

static void add_number(line *l, const char *key, double value)
{
    char text[TU_NUMBER_TEXT_SIZE];
    if (!isfinite(value) || !tu_number_format_exact(text, sizeof text, value))
        l->fits = false;
    add(l, ",\"%s\":%s", key, text);
}

static void add_series(line *l, const char *series)
{
    add(l, ",\"series\":\"");
    for (const char *c = series; *c; c++)
        add(l, "%s%c", *c == '"' || *c == '\\' ? "\\" : "", *c);
    add(l, "\"");
}

size_t tu_hits_format_header(char *text, size_t size, const char *utc)
{
    line l = start_line(text, size);
    l.fits = l.fits && tu_hits_is_utc(utc);
    add(&l, "{\"trueup\":\"hits\",\"schema\":%d,\"utc\":\"%s\"", TU_HITS_SCHEMA, utc);
    return close_line(&l);
}

size_t tu_hits_format(char *text, size_t size, const tu_hit *hit)
{
    line l = start_line(text, size);
    bool sound = hit->sequence <= TU_HITS_WHOLE_MAX && hit->device_us <= TU_HITS_WHOLE_MAX &&
                 (!hit->utc[0] || tu_hits_is_utc(hit->utc)) && tu_hits_is_series(hit->series) &&
                 (unsigned)hit->axis < TU_AXIS_COUNT;
    if (!sound)
        return 0;
    add(&l, "{\"seq\":%" PRIu64, hit->sequence);
    if (hit->utc[0])
        add(&l, ",\"utc\":\"%s\"", hit->utc);
    if (hit->device_us)
        add(&l, ",\"us\":%" PRIu64, hit->device_us);
    add_number(&l, "x", hit->position.x);
    add_number(&l, "y", hit->position.y);
    add_number(&l, "z", hit->position.z);
    add(&l, ",\"axis\":\"%c\"", "xyz"[hit->axis]);
    if (hit->direction)
        add(&l, ",\"dir\":\"%c\"", hit->direction > 0 ? '+' : '-');
    if (hit->series[0])
        add_series(&l, hit->series);
    add(&l, ",\"ok\":%s", hit->ok ? "true" : "false");
    return close_line(&l);
}

/* Text in a JSON string; bytes that make no line of text become '?'. */
static void add_text(line *l, const char *key, const char *text)
{
    char tidy[400];
    snprintf(tidy, sizeof tidy, "%s", text);
    tu_utf8_tidy(tidy);
    add(l, ",\"%s\":\"", key);
    for (const char *c = tidy; *c; c++)
        add(l, "%s%c", *c == '"' || *c == '\\' ? "\\" : "", *c);
    add(l, "\"");
}

/* A printable byte as it is, a backslash doubled, any other as \xHH; then once more as JSON. */
static void add_bytes(line *l, const char *bytes, size_t length)
{
    size_t kept = length < TU_HITLOG_BYTES_MAX ? length : TU_HITLOG_BYTES_MAX;
    if (kept < length)
        add(l, ",\"length\":%zu", length);
    add(l, ",\"bytes\":\"");
    for (size_t i = 0; i < kept; i++) {
        unsigned char byte = (unsigned char)bytes[i];
        if (byte < 0x20 || byte > 0x7E)
            add(l, "\\\\x%02x", byte);
        else
            add(l, "%s%c", byte == '\\' ? "\\\\\\" : byte == '"' ? "\\" : "", byte);
    }
    add(l, "\"");
}

size_t tu_hits_format_note(char *text, size_t size, const tu_hits_note *note)
{
    line l = start_line(text, size);
    size_t letters = strspn(note->kind, "abcdefghijklmnopqrstuvwxyz");
    if (letters == 0 || note->kind[letters] || (*note->utc && !tu_hits_is_utc(note->utc)) ||
        strcmp(note->kind, "hit") == 0)
        return 0;
    add(&l, "{\"kind\":\"%s\"", note->kind);
    if (*note->utc)
        add(&l, ",\"utc\":\"%s\"", note->utc);
    if (note->count)
        add(&l, ",\"count\":%" PRIu64,
            note->count < TU_HITS_WHOLE_MAX ? note->count : TU_HITS_WHOLE_MAX);
    if (note->before)
        add(&l, ",\"before\":%" PRIu64, note->before);
    if (note->text && *note->text)
        add_text(&l, "text", note->text);
    if (note->bytes)
        add_bytes(&l, note->bytes, note->length);
    return close_line(&l);
}
