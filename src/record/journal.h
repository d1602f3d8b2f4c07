/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * journal.h - the zeros that were worked out, one a line of JSON, appended to.
 */
#ifndef TU_RECORD_JOURNAL_H
#define TU_RECORD_JOURNAL_H

#include "trueup/setup.h"
#include "trueup/status.h"

#include <stdbool.h>
#include <stdint.h>

/*
 * A zero.
 *   time_s       seconds since 1970.
 *   slot         1 for G54.
 *   target       its name. Texts are borrowed; NULL in what was read.
 *   used         what it rests on.
 *   zero_mm, expanded_mm  machine coordinates; NaN: not asked.
 */
typedef struct tu_journal_entry {
    int64_t time_s;
    int slot;
    const char *target, *used;
    double zero_mm[TU_AXIS_COUNT], expanded_mm[TU_AXIS_COUNT];
} tu_journal_entry;

/*
 * The last zero of a slot and a target. Lines that are no such record are passed over.
 *   found  out: there is one; also false where there is no file yet.
 * TU_SYSTEM_IO, TU_SYSTEM_MEMORY.
 */
tu_status tu_journal_last(const char *path, int slot, const char *target, tu_journal_entry *last,
                          bool *found, tu_error *error);
/* Adds one in one write and has it synced; behind a torn line a new one is begun. The file is made
 * where there is none. TU_SYSTEM_IO, TU_SYSTEM_MEMORY. */
tu_status tu_journal_add(const char *path, const tu_journal_entry *entry, tu_error *error);

#endif
