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

TU_BEGIN_DECLS

enum {
    TU_LINE_MAX = 512,     /* bytes in a line, without its end; longer ones are unread */
    TU_TEMPLATE_MAX = 256, /* bytes in a template, with the closing NUL */
    TU_TEMPLATE_FIELDS = 16,
    TU_DEVICE_NAME_SIZE = 64
};

/*
 * A template, taken apart. The field names are x y z n t axis dir series, and _ for anything.
 * text is what the user wrote; "{{" and "}}" in it stand for the braces themselves. The unit is not
 * in the text: whoever knows it sets it.
 */
typedef struct tu_template {
    char text[TU_TEMPLATE_MAX];
    size_t field_count;
    struct {
        char name[8];
        size_t before, before_length; /* the literal text in front of it, within text */
    } field[TU_TEMPLATE_FIELDS];
    size_t tail, tail_length; /* the literal text after the last field */
    bool unit_stated;         /* the lines have a unit of their own; else that of the setup */
    tu_unit unit;
} tu_template;

/*
 * Takes a template apart. A hit is recorded with all three coordinates, so x, y and z are needed.
 * Returns TU_OK; TU_DATA_SYNTAX (a brace without its partner, two fields with nothing between them,
 * a text that starts as a sentence or JSON does, control characters, too long); TU_DATA_UNKNOWN (a
 * field that there is not; the nearest is named); TU_DATA_CONFLICT (a field twice); TU_DATA_MISSING
 * (no field for a coordinate). *out is empty on failure and then reads no line.
 */
tu_status tu_template_parse(const char *text, tu_template *out, tu_error *error);

/*
 * Works out a template from one line and the position shown at that moment.
 *   shown_mm  the position; each coordinate has to be known. The number of the line that equals a
 *             shown coordinate within the digits that the line prints, in unit, becomes its field.
 * Of the other numbers 0 and 1 stay as they are, since they often say whether the touch was good;
 * the rest become "_". Returns TU_OK; TU_UNDETERMINED when a coordinate is not in the line, or in
 * it more than once: the message says which and what to do; TU_DATA_SYNTAX for a line that needs no
 * template or can't have one; TU_DATA_RANGE for a position that is not finite.
 */
tu_status tu_template_work_out(const char *line, const double shown_mm[TU_AXIS_COUNT], tu_unit unit,
                               tu_template *out, tu_error *error);

/*
 *   templates     tried in order on lines that are neither sentences nor JSON.
 *   unit          of positions in JSON lines that name none, and by templates that state none.
 *   machine       travel: positions outside are unread; NaN: not checked. steps_per_mm turns
 *                 STEP/DIR counts into lengths; NaN: a line with counts is unread.
 *   axis, direction  for lines that do not say; TU_AXIS_COUNT and 0: not known.
 */
typedef struct tu_decode_setup {
    const tu_template *templates; /* live as long as the decoder */
    size_t template_count;
    tu_unit unit;
    tu_machine machine;
    tu_axis axis;
    int direction;
} tu_decode_setup;

/* No templates, mm, and nothing known of the machine. */
tu_decode_setup tu_decode_setup_start(void);

typedef enum tu_decoded_kind {
    TU_DECODED_HIT,
    TU_DECODED_HELLO,   /* the device introduced itself: name, firmware version */
    TU_DECODED_LOST,    /* a gap in the sequence: count lines are missing before this one */
    TU_DECODED_RESTART, /* the device started anew: not a gap. Its step counts are worthless now */
    TU_DECODED_UNREAD,  /* a line that is no hit: reason, and the bytes */
    TU_DECODED_FLOOD    /* nearly nothing is text: said once; is the baud rate right? */
} tu_decoded_kind;

/* What a line says. Numbers that it does not state are NaN, 0 or "". */
typedef struct tu_decoded {
    tu_decoded_kind kind;
    double position_mm[TU_AXIS_COUNT]; /* a hit: all finite, and within the travel */
    tu_axis axis;                      /* TU_AXIS_COUNT: not known */
    int direction;                     /* 0: not known */
    uint64_t sequence;
    bool has_sequence;
    uint64_t boot; /* which start of the device: a sentence may carry it. Another one: a restart */
    bool has_boot;
    uint64_t device_us; /* 0: not stated */
    unsigned bounces;
    uint64_t bounce_us;
    char series[TU_NAME_SIZE];
    char device[TU_DEVICE_NAME_SIZE]; /* hello: name and version, a space between */
    uint64_t count;                   /* lost: lines. flood: bytes that are no text */
    const char *reason;               /* unread: static text, one clause */
    const char *bytes;                /* the line, valid during the call */
    size_t length;
} tu_decoded;

typedef void tu_decode_sink(void *context, const tu_decoded *decoded);

/* Where the numbering of one form of line stands. */
typedef struct tu_decode_track {
    bool known;
    uint64_t sequence;
    uint64_t boot;
    bool has_boot;
    uint64_t device_us;
    double position_mm[TU_AXIS_COUNT]; /* of the last hit; NaN: none */
} tu_decode_track;

enum { TU_DECODE_FORMS = 3 }; /* sentence, JSON, template */

/*
 * Counters and the line so far.
 *   good_bytes   of lines that were read: hits and hellos.
 *   text_bytes   of clean text that is no hit: chatter, and blank lines.
 *   bad_bytes    of garbage: wrong checksum, NUL, control characters, broken UTF-8, cut, too long.
 * The three and the pending length add up to all bytes that were fed, line ends included.
 *   unread       records of that kind.
 *   lost         lines, over all gaps.
 */
typedef struct tu_decoder {
    tu_decode_setup setup;
    char line[TU_LINE_MAX + 1]; /* room for a NUL */
    size_t length;
    bool overlong;     /* in the rest of a line that is too long */
    bool heard;        /* a hit or a hello came */
    bool counts_stale; /* the device restarted: its step counts began anew, elsewhere */
    bool interrupted;  /* the source was away: step counts need a proof that it did not restart */
    bool provable;     /* the boot number from before is known */
    tu_decode_track track[TU_DECODE_FORMS];
    uint64_t hits, unread, lost, restarts;
    uint64_t good_bytes, text_bytes, bad_bytes;
    uint64_t text_run, noise_run; /* bytes since the last line that was read: text, no text */
    bool flood_said;
} tu_decoder;

tu_decoder tu_decoder_start(const tu_decode_setup *setup);
/* Takes bytes in any chunking; calls sink for each thing found, in order. The records are the same
 * whatever the chunks. */
void tu_decoder_feed(tu_decoder *decoder, const char *bytes, size_t length, tu_decode_sink *sink,
                     void *context);
/* The source ended, or was cut: what stands of a line is unread. The numbering stays, so the same
 * decoder may be fed again when the source is back, and then tells a gap from a restart. Step
 * counts are then hits only once the boot number was the same before and behind the cut. */
void tu_decoder_finish(tu_decoder *decoder, tu_decode_sink *sink, void *context);

/* The checksum of a sentence: XOR of the bytes between "$" and "*" (IEC 61162-1). */
unsigned char tu_sentence_checksum(const char *bytes, size_t length);

TU_END_DECLS

#endif
