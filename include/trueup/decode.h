/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * decode.h - bytes from a device or a pipe to hits, in any chunking. Pure: no I/O, no clock, no
 * allocation; the decoder is a struct of fixed size that the caller owns.
 *
 * Three forms of line (docs/device-lines.md): the checksummed sentence of trueup's own firmware,
 * framed as in IEC 61162-1 ("$", fields, "*", two hex digits of XOR, CR LF); a JSON object a line;
 * any other text by a template that the user states, as in "touch x={x} y={y} z={z} n={n}".
 */
#ifndef TRUEUP_DECODE_H
#define TRUEUP_DECODE_H

#include "trueup/setup.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    TU_LINE_MAX = 512,     /* bytes in a line, without its end; longer ones are unread */
    TU_TEMPLATE_MAX = 256, /* bytes in a template */
    TU_TEMPLATE_FIELDS = 16,
    TU_DEVICE_NAME_SIZE = 64
};

/* A template, taken apart. The field names are x y z n t axis dir series, and _ for anything. */
typedef struct tu_template {
    char text[TU_TEMPLATE_MAX];
    size_t field_count;
    struct {
        char name[8];
        size_t before, before_length; /* the literal text in front of it, within text */
    } field[TU_TEMPLATE_FIELDS];
    size_t tail, tail_length; /* the literal text after the last field */
} tu_template;

/* Takes a template apart. TU_DATA_SYNTAX names the place and what is wrong: no position field,
 * unknown field, a field twice, two fields with nothing between them. */
tu_status tu_template_parse(const char *text, tu_template *out, tu_error *error);

/*
 * Works out a template from one line and the position shown at that moment.
 *   shown_mm  the position; NaN where it is not known. Numbers of the line that equal a shown
 *             coordinate within the digits that the line prints, in unit, become its field; the
 * others "_" or stay literal. Returns TU_OK; TU_UNDETERMINED when a coordinate is not in the line,
 * or in it more than once: the message says which and what to type instead.
 */
tu_status tu_template_work_out(const char *line, const double shown_mm[TU_AXIS_COUNT], tu_unit unit,
                               tu_template *out, tu_error *error);

/*
 *   templates     tried in order on lines that are neither sentences nor JSON.
 *   unit          of positions in JSON and template lines that name none.
 *   steps_per_mm  turns STEP/DIR counts into lengths; NaN: a line with counts is unread.
 *   travel        of the machine: positions outside are unread; NaN: not checked.
 *   axis, direction  for lines that do not say; TU_AXIS_COUNT and 0: not known.
 */
typedef struct tu_decode_setup {
    const tu_template *templates;
    size_t template_count;
    tu_unit unit;
    double steps_per_mm[TU_AXIS_COUNT];
    tu_machine machine;
    tu_axis axis;
    int direction;
} tu_decode_setup;

typedef enum tu_decoded_kind {
    TU_DECODED_HIT,
    TU_DECODED_HELLO,   /* the device introduced itself: name, firmware version */
    TU_DECODED_LOST,    /* a gap in the sequence: count lines are missing before this one */
    TU_DECODED_RESTART, /* the device started anew: not a gap */
    TU_DECODED_UNREAD,  /* a line that is no hit: reason, and the bytes */
    TU_DECODED_FLOOD    /* nearly all bytes are garbage: said once; is the baud rate right? */
} tu_decoded_kind;

/* What a line says. Numbers that it does not state are NaN, 0 or "". */
typedef struct tu_decoded {
    tu_decoded_kind kind;
    double position_mm[TU_AXIS_COUNT];
    tu_axis axis;  /* TU_AXIS_COUNT: not known */
    int direction; /* 0: not known */
    uint64_t sequence;
    bool has_sequence;
    uint64_t device_us;
    unsigned bounces;
    uint64_t bounce_us;
    char series[TU_NAME_SIZE];
    char device[TU_DEVICE_NAME_SIZE]; /* hello */
    uint64_t count;                   /* lost */
    const char *reason;               /* unread: static text, one clause */
    const char *bytes;                /* the line, valid during the call */
    size_t length;
} tu_decoded;

typedef void tu_decode_sink(void *context, const tu_decoded *decoded);

/* Counters and the line so far; everything starts at zero. */
typedef struct tu_decoder {
    tu_decode_setup setup;
    char line[TU_LINE_MAX + 2];
    size_t length;
    bool overlong;
    bool has_last;
    uint64_t last_sequence;
    uint64_t last_device_us;
    uint64_t hits, unread, lost, restarts;
    uint64_t good_bytes, bad_bytes;
    bool flood_said;
} tu_decoder;

tu_decoder tu_decoder_start(const tu_decode_setup *setup);
/* Takes bytes in any chunking; calls sink for each thing found, in order. */
void tu_decoder_feed(tu_decoder *decoder, const char *bytes, size_t length, tu_decode_sink *sink,
                     void *context);
/* The source ended, or was cut: what stands of a line is unread. */
void tu_decoder_finish(tu_decoder *decoder, tu_decode_sink *sink, void *context);

/* The checksum of a sentence: XOR of the bytes between "$" and "*" (IEC 61162-1). */
unsigned char tu_sentence_checksum(const char *bytes, size_t length);

#endif
