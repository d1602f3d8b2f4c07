/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * line.h - what the readers of the three forms of line share (internal).
 */
#ifndef DECODE_LINE_H
#define DECODE_LINE_H

#include "trueup/decode.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef enum tu_line_verdict {
    TU_LINE_READ,    /* a hit or a hello */
    TU_LINE_REFUSED, /* clean, but no hit; the reason says why */
    TU_LINE_DAMAGED, /* text with a fault: a wrong checksum, broken JSON, cut */
    TU_LINE_NOISE    /* no text at all, or without an end */
} tu_line_verdict;

/* A line being read. decoded.has_sequence is set only where the number can be trusted. */
typedef struct tu_line {
    tu_decoded decoded;
    bool counts; /* the position comes from step counts */
} tu_line;

/* Nothing stated yet. */
tu_line tu_line_start(void);

/* Sets the reason and returns the verdict, so that a refusal is one statement. */
tu_line_verdict tu_line_refuse(tu_line *line, const char *reason);
tu_line_verdict tu_line_spoilt(tu_line *line, const char *reason);

/* What stands of axis, direction: those of the setup where the line does not say. Then the position
 * is held against sense and the travel. */
tu_line_verdict tu_line_settle(tu_line *line, const tu_decode_setup *setup);

/* Reads the whole of text[0..length) as a whole number of at most most; else value is left alone.
 */
bool tu_line_whole(const char *text, size_t length, uint64_t most, uint64_t *value);

/* Numbers that JSON carries exactly (RFC 7493, section 2.2). */
#define TU_LINE_WHOLE_MAX ((UINT64_C(1) << 53) - 1)

/* The three forms. The line is not empty and holds clean UTF-8 text without control characters. */
tu_line_verdict tu_sentence_read(const char *text, size_t length, const tu_decode_setup *setup,
                                 tu_line *line);
tu_line_verdict tu_json_line_read(const char *text, size_t length, const tu_decode_setup *setup,
                                  tu_line *line);
tu_line_verdict tu_template_read(const char *text, size_t length, const tu_decode_setup *setup,
                                 tu_line *line);

/* Whether text[0..length) is a framed sentence with the right checksum, of printable ASCII. */
bool tu_sentence_is_whole(const char *text, size_t length);

#endif
