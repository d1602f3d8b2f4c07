/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits_form.h - what the reader and the writer of the hit log agree on (docs/hit-log.md).
 */
#ifndef RECORD_HITS_FORM_H
#define RECORD_HITS_FORM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    TU_HITS_SCHEMA = 1,
    TU_HITS_LINE_MAX = 4096, /* bytes, with the newline */
    TU_HITS_CRC_TAIL = 18    /* bytes of ,"crc":"xxxxxxxx"} */
};

/* Larger whole numbers are not the same in every reader of JSON (RFC 7493, 2.2). */
#define TU_HITS_WHOLE_MAX ((UINT64_C(1) << 53) - 1)

/* "2026-11-25T08:15:30Z", with or without decimals of a second: RFC 3339 in UTC. */
bool tu_hits_is_utc(const char *text);
/* A series name: no control characters, fits tu_hit. */
bool tu_hits_is_series(const char *text);

/* A record that is no hit; members as tu_hitlog_note takes them. */
typedef struct tu_hits_note {
    const char *kind;
    const char *utc;
    uint64_t count;
    uint64_t before; /* the number of the hit that comes next; 0: left out */
    const char *text;
    const char *bytes;
    size_t length;
} tu_hits_note;

/* Writes it as a line with its checksum and newline. Returns the length, 0 when it does not fit. */
size_t tu_hits_format_note(char *text, size_t size, const tu_hits_note *note);

#endif
