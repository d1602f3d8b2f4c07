/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits_line.c - the lines of a hit log out of a block of constant size, and their checksums.
 */
#include "record/crc32.h"
#include "record/hits_form.h"
#include "record/hits_read.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

tu_status tu_hits_fail_line(const tu_hits_reader *reader, tu_error *error, const char *message)
{
    char place[TU_ERROR_WHERE_SIZE + 32];
    snprintf(place, sizeof place, "%.*s:%zu", TU_ERROR_WHERE_SIZE - 24, reader->name, reader->line);
    return tu_fail(error, TU_DATA_SYNTAX, place, "%s", message);
}

/* Reads more behind what stands in the block; nothing more when the file ends. */
static tu_status fill(tu_hits_reader *reader, tu_error *error)
{
    if (reader->start > 0)
        memmove(reader->block, reader->block + reader->start, reader->end - reader->start);
    reader->end -= reader->start;
    reader->start = 0;
    ssize_t got;
    do {
        got = read(reader->fd, reader->block + reader->end, sizeof reader->block - reader->end);
    } while (got < 0 && errno == EINTR);
    if (got < 0)
        return tu_fail(error, TU_SYSTEM_IO, reader->name, "can't read it: %s", strerror(errno));
    reader->ended = got == 0;
    reader->end += (size_t)got;
    return TU_OK;
}

/* The line is longer than any may be: goes behind its end, or finds that the file ends in it. */
static tu_status skip_line(tu_hits_reader *reader, tu_error *error)
{
    size_t skipped = 0;
    for (;;) {
        char *from = reader->block + reader->start;
        char *newline = memchr(from, '\n', reader->end - reader->start);
        size_t part = newline ? (size_t)(newline - from) + 1 : reader->end - reader->start;
        skipped += part;
        reader->start += part;
        if (newline) {
            reader->offset += skipped;
            return tu_hits_fail_line(reader, error,
                                     "a line of more than 4096 bytes; this is not a hit log, or "
                                     "it was damaged");
        }
        tu_status status = fill(reader, error);
        if (status)
            return status;
        if (reader->ended) {
            reader->torn = skipped;
            return TU_OK;
        }
    }
}

tu_status tu_hits_read_line(tu_hits_reader *reader, bool *have, tu_error *error)
{
    *have = false;
    reader->line++;
    for (;;) {
        char *from = reader->block + reader->start;
        size_t there = reader->end - reader->start;
        char *newline = memchr(from, '\n', there < TU_HITS_LINE_MAX ? there : TU_HITS_LINE_MAX);
        if (newline) {
            reader->text = from;
            reader->length = (size_t)(newline - from);
            reader->start += reader->length + 1;
            reader->offset += reader->length + 1;
            *have = true;
            return TU_OK;
        }
        if (reader->ended) {
            reader->torn = there;
            return TU_OK;
        }
        if (there >= TU_HITS_LINE_MAX)
            return skip_line(reader, error);
        tu_status status = fill(reader, error);
        if (status)
            return status;
    }
}

tu_status tu_hits_check_crc(const tu_hits_reader *reader, tu_error *error)
{
    char crc[TU_CRC32_TEXT_SIZE];
    char message[160];
    size_t start = reader->length - TU_HITS_CRC_TAIL;
    bool closed = reader->length > TU_HITS_CRC_TAIL &&
                  !memcmp(reader->text + start, ",\"crc\":\"", 8) &&
                  !memcmp(reader->text + reader->length - 2, "\"}", 2);
    if (reader->length > 0 && reader->text[reader->length - 1] == '\r')
        return tu_hits_fail_line(
            reader, error,
            "the line ends with CR LF, so a program rewrote this file; keep a hit log "
            "as it was written");
    if (!closed)
        return tu_hits_fail_line(
            reader, error,
            "the line does not end with its checksum, ,\"crc\":\"xxxxxxxx\"}; take the "
            "damaged line out, or log again");
    tu_crc32_format(crc, tu_crc32(reader->text, start));
    if (!memcmp(crc, reader->text + start + 8, TU_CRC32_TEXT_SIZE - 1))
        return TU_OK;
    snprintf(message, sizeof message,
             "the line fails its checksum (it gives %s): it was damaged or changed by hand; take "
             "it out, or log again",
             crc);
    return tu_hits_fail_line(reader, error, message);
}
