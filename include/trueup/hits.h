/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits.h - the hit log: one touch a line, each line checkable by itself.
 *
 * The form is described in docs/hit-log.md: JSON Lines, a header record, then a record a hit, each
 * closed by a CRC-32 of the line before it. Reading streams, in constant memory.
 */
#ifndef TRUEUP_HITS_H
#define TRUEUP_HITS_H

#include "trueup/setup.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stdint.h>

TU_BEGIN_DECLS

/*
 * One touch. Positions are machine coordinates of the controlled point, in millimetres.
 *   axis       the axis that moved.
 *   direction  -1 or +1: which way it moved; 0: not stated.
 */
typedef struct tu_hit {
    uint64_t sequence;
    char utc[32];       /* "2026-11-25T08:15:30.123Z"; empty: not stated */
    uint64_t device_us; /* the device's own clock; 0: not stated */
    tu_machine_point position;
    tu_axis axis;
    int direction;
    char series[TU_NAME_SIZE];
    bool ok; /* false: recorded, but not to be used */
} tu_hit;

typedef struct tu_hits_reader tu_hits_reader;

/*
 * Opens a log and checks its header. reader out; NULL on failure.
 * Returns TU_OK, TU_SYSTEM_IO, TU_SYSTEM_MEMORY, TU_DATA_SYNTAX (no header: not a hit log).
 */
tu_status tu_hits_open(const char *path, tu_hits_reader **reader, tu_error *error);
void tu_hits_close(tu_hits_reader *reader);

/*
 * Reads the next hit; records of other kinds are passed over. One that a later record withdrew is
 * not ok. From a pipe that record is seen too late, and is TU_DATA_SYNTAX.
 *   have  out; false at the end of the log.
 * A torn last line (no newline) ends the log: tu_hits_torn then tells its length in bytes.
 * Returns TU_OK; TU_DATA_SYNTAX with the line's number for a line that fails its checksum, is not
 * JSON, or misses a member; TU_DATA_RANGE for a number that is not finite.
 */
tu_status tu_hits_next(tu_hits_reader *reader, tu_hit *hit, bool *have, tu_error *error);
size_t tu_hits_torn(const tu_hits_reader *reader);

/* Which recording the last hit belongs to: how many had begun in the log before it. */
size_t tu_hits_recording(const tu_hits_reader *reader);

/* Writes the header, or a hit, as a line with its checksum and newline into text. Returns the
 * length, 0 when it does not fit. */
size_t tu_hits_format_header(char *text, size_t size, const char *utc);
size_t tu_hits_format(char *text, size_t size, const tu_hit *hit);

TU_END_DECLS

#endif
