/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hitlog_parts.h - an open hit log (internal).
 */
#ifndef RECORD_HITLOG_PARTS_H
#define RECORD_HITLOG_PARTS_H

#include "trueup/hitlog.h"

/*
 *   committed  bytes of the file that are durable: whole lines; the file is as long.
 *   queue      whole lines that wait for a commit.
 *   broken     a failure after which the file may not be written any more.
 */
struct tu_hitlog {
    char *path;
    int fd;
    uint64_t committed;
    uint64_t next_sequence;
    char *queue;
    size_t length, capacity;
    bool broken;
};

/* "FILE: WHAT: the system's reason": TU_SYSTEM_IO. */
tu_status tu_hitlog_fail(const tu_hitlog *log, const char *what, tu_error *error);
/* Writes all bytes at the descriptor's position; false with errno. */
bool tu_hitlog_write_all(int fd, const char *bytes, size_t length);
/* Room for one more line in the queue. TU_SYSTEM_MEMORY. */
tu_status tu_hitlog_reserve(tu_hitlog *log, tu_error *error);

#endif
