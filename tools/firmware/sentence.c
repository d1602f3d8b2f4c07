/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sentence.c - writes sentences.
 */
#include "sentence.h"

#include <stddef.h>

/* Where the next byte goes, and the exclusive or of the bytes so far. */
typedef struct sentence {
    char *text;
    uint8_t length;
    uint8_t sum;
} sentence;

static void put(sentence *s, char byte)
{
    s->text[s->length++] = byte;
    s->sum ^= (uint8_t)byte;
}

static void put_text(sentence *s, const char *text)
{
    while (*text)
        put(s, *text++);
}

/* Decimal, with zeros in front up to width digits. */
static void put_number(sentence *s, uint32_t value, uint8_t width)
{
    char digits[10];
    uint8_t count = 0;
    do {
        digits[count++] = (char)('0' + value % 10);
        value /= 10;
    } while (value > 0 || count < width);
    while (count > 0)
        put(s, digits[--count]);
}

static void put_signed(sentence *s, int32_t value)
{
    if (value < 0)
        put(s, '-');
    put_number(s, value < 0 ? 0U - (uint32_t)value : (uint32_t)value, 1);
}

/* Digit after digit, as if the two were one number of microseconds. */
static void put_time(sentence *s, const device_time *time)
{
    if (time->seconds > 0)
        put_number(s, time->seconds, 1);
    put_number(s, time->microseconds, time->seconds > 0 ? 6 : 1);
}

static sentence begin(char *text, const char *address)
{
    sentence s = {.text = text};
    put(&s, '$');
    s.sum = 0;
    put_text(&s, address);
    return s;
}

static uint8_t finish(sentence *s)
{
    static const char digits[] = "0123456789ABCDEF";
    uint8_t sum = s->sum;
    put(s, '*');
    put(s, digits[sum >> 4]);
    put(s, digits[sum & 15]);
    put_text(s, "\r\n");
    return s->length;
}

uint8_t sentence_write_touch(char *text, const touch_report *report)
{
    sentence s = begin(text, report->counted ? "TUCNT," : "TUHIT,");
    put_number(&s, report->sequence, 1);
    put(&s, ',');
    put_time(&s, &report->time);
    put(&s, ',');
    if (report->axis) {
        put(&s, report->axis);
        put(&s, report->direction);
    }
    for (uint8_t i = 0; i < SENTENCE_AXES; i++) {
        put(&s, ',');
        if (report->counted)
            put_signed(&s, report->counts[i]);
    }
    put(&s, ',');
    put_number(&s, report->bounces, 1);
    put(&s, ',');
    put_number(&s, report->bounce_us, 1);
    put(&s, ',');
    put_number(&s, report->boot, 1);
    return finish(&s);
}

uint8_t sentence_write_hello(char *text, const char *name, const char *version, uint32_t sequence,
                             uint8_t boot)
{
    sentence s = begin(text, "TUHLO,");
    put_text(&s, name);
    put(&s, ',');
    put_text(&s, version);
    put(&s, ',');
    put_number(&s, sequence, 1);
    put(&s, ',');
    put_number(&s, boot, 1);
    return finish(&s);
}

void sentence_set_axis(touch_report *report, const int32_t earlier[SENTENCE_AXES])
{
    report->axis = 0;
    report->direction = 0;
    uint8_t moved = 0;
    for (uint8_t i = 0; i < SENTENCE_AXES; i++) {
        if (report->counts[i] != earlier[i]) {
            moved++;
            report->axis = (char)('X' + i);
            report->direction = report->counts[i] > earlier[i] ? '+' : '-';
        }
    }
    if (moved != 1) {
        report->axis = 0;
        report->direction = 0;
    }
}
