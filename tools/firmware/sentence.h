/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * sentence.h - writes the sentences of docs/device-lines.md, framed as in IEC 61162-1. Pure.
 */
#ifndef FIRMWARE_SENTENCE_H
#define FIRMWARE_SENTENCE_H

#include <stdbool.h>
#include <stdint.h>

enum {
    SENTENCE_AXES = 3,
    /* Longest: $TUCNT, 10 + 16 digits, Z-, three of 11, 3 + 10 + 3 digits, commas, *hh CR LF. */
    SENTENCE_MAX = 100
};

/* A time as seconds and microseconds: so it never wraps and needs no 64-bit division. */
typedef struct device_time {
    uint32_t seconds;
    uint32_t microseconds; /* below 1 000 000 */
} device_time;

typedef struct touch_report {
    uint32_t sequence;
    device_time time;
    bool counted; /* false: no counts, no axis */
    int32_t counts[SENTENCE_AXES];
    char axis;      /* 'X' 'Y' 'Z'; 0: not known */
    char direction; /* '+' '-'; with axis only */
    uint8_t bounces;
    uint32_t bounce_us;
    uint8_t boot; /* which start of the device */
} touch_report;

/* Each writes into text (SENTENCE_MAX bytes, no final NUL) and returns the length. */
uint8_t sentence_write_touch(char *text, const touch_report *report);
uint8_t sentence_write_hello(char *text, const char *name, const char *version, uint32_t sequence,
                             uint8_t boot);

/* The axis that moved: the only one whose counts differ. Else report->axis is 0. */
void sentence_set_axis(touch_report *report, const int32_t earlier[SENTENCE_AXES]);

#endif
