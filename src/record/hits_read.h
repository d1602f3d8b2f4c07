/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits_read.h - the parts of the reader of hit logs, and reading every record (internal).
 */
#ifndef RECORD_HITS_READ_H
#define RECORD_HITS_READ_H

#include "record/json_text.h"
#include "trueup/hits.h"

enum { TU_HITS_BLOCK = 65536, TU_HITS_KIND_SIZE = 24, TU_HITS_WITHDRAWN_MAX = 64 };

/* Hits with first <= number < before are taken back by a later record. blind: it could not be
 * looked for, since a pipe is read once. */
typedef struct tu_hits_range {
    uint64_t first, before;
} tu_hits_range;

typedef struct tu_hits_withdrawn {
    tu_hits_range range[TU_HITS_WITHDRAWN_MAX];
    size_t count;
    bool blind;
} tu_hits_withdrawn;

/*
 *   line    the number of the line in text, from 1.
 *   offset  in the file, behind the last line that was read: where what is torn begins.
 *   text    the line, in block, without its newline; until the next is read.
 *   start, end  what stands in block and is not read yet.
 *   strict  take every line the long way; tests compare the two.
 *   starts  records of kind "start" so far: recordings.
 */
struct tu_hits_reader {
    char *name;
    int fd;
    bool owns_fd;
    bool ended;
    bool strict;
    size_t starts;
    size_t line;
    uint64_t offset;
    size_t torn;
    tu_json_document document;
    const char *text;
    size_t length;
    size_t start, end;
    tu_hits_withdrawn withdrawn;
    char block[TU_HITS_BLOCK];
};

/* What a record is; of a hit kind is "hit". Of others count is the member of that name (0: none),
 * and sequence the member "seq" (TU_HITS_NO_SEQUENCE: none). */
typedef struct tu_hits_record {
    char kind[TU_HITS_KIND_SIZE];
    uint64_t count;
    uint64_t sequence;
} tu_hits_record;

#define TU_HITS_NO_SEQUENCE UINT64_MAX

/* Starts to read a descriptor that stays the caller's; the header is not read yet. */
tu_status tu_hits_start(const char *name, int fd, tu_hits_reader **reader, tu_error *error);
tu_status tu_hits_check_header(tu_hits_reader *reader, tu_error *error);
/* As tu_hits_next, but stops at every record; of one that is no hit *hit is all zero. After
 * TU_DATA_... reading may go on behind the line. */
tu_status tu_hits_next_record(tu_hits_reader *reader, tu_hit *hit, tu_hits_record *record,
                              bool *have, tu_error *error);

/* --- hits_line.c --- */

/* Reads one line; *have false at the end, where a torn line is noted. */
tu_status tu_hits_read_line(tu_hits_reader *reader, bool *have, tu_error *error);
/* A line is good by itself: its last member is the checksum of what stands before. */
tu_status tu_hits_check_crc(const tu_hits_reader *reader, tu_error *error);
tu_status tu_hits_fail_line(const tu_hits_reader *reader, tu_error *error, const char *message);

/* --- hits_take.c --- */

extern const char tu_hits_utc_text[];
tu_status tu_hits_fail_value(tu_hits_reader *reader, size_t node, const char *expected,
                             tu_error *error);
/* Takes the hit in the document. */
tu_status tu_hits_take(tu_hits_reader *reader, tu_hit *hit, tu_error *error);
/* Takes a whole number from the digits themselves: a double would round large ones. */
tu_status tu_hits_take_whole(tu_hits_reader *reader, size_t node, uint64_t *value, tu_error *error);

/* --- hits_withdrawn.c --- */

/* Looks through the file for records that withdraw hits, and goes back to where reading stands. */
tu_status tu_hits_find_withdrawn(tu_hits_reader *reader, tu_error *error);
bool tu_hits_is_withdrawn(const tu_hits_withdrawn *list, uint64_t sequence);

/* --- hits_scan.c --- */

/*
 * Takes a hit in the form that tu_hits_format writes, text[0..length) without its checksum, in one
 * walk. False for everything else, sound or not, with *hit all zero: the strict way then judges.
 * What it takes, it takes as the strict way does, to the last bit.
 */
bool tu_hits_scan(const char *text, size_t length, tu_hit *hit);

#endif
