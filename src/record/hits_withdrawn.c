/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits_withdrawn.c - hits that a later record takes back: they stood in the log before it was known
 * that they are not to be used.
 */
#include "record/hits_read.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

static const char start[] = "{\"kind\":\"withdrawn\"";

static uint64_t whole(tu_hits_reader *reader, const char *key)
{
    uint64_t value = 0;
    size_t node = tu_json_member(&reader->document, 0, key);
    if (node == TU_JSON_NONE || reader->document.nodes[node].kind != TU_JSON_NUMBER ||
        tu_hits_take_whole(reader, node, &value, NULL))
        return 0;
    return value;
}

/* One that can't be read is left to the reading itself, which refuses the line or the record. */
static tu_status note(tu_hits_withdrawn *list, tu_hits_reader *reader, tu_error *error)
{
    if (tu_hits_check_crc(reader, NULL))
        return TU_OK;
    tu_status status = tu_json_read(&reader->document, reader->name, reader->line, reader->text,
                                    reader->length, error);
    if (status)
        return status == TU_SYSTEM_MEMORY ? status : TU_OK;
    uint64_t count = whole(reader, "count"), before = whole(reader, "before");
    if (count == 0 || count > before)
        return tu_hits_fail_line(reader, error,
                                 "a record that withdraws hits needs \"count\" and \"before\", the "
                                 "number of the hit behind them");
    for (size_t i = 0; i < list->count; i++) {
        tu_hits_range *range = &list->range[i];
        if (before - count > range->before || range->first > before)
            continue;
        range->first = before - count < range->first ? before - count : range->first;
        range->before = before > range->before ? before : range->before;
        return TU_OK;
    }
    if (list->count == TU_HITS_WITHDRAWN_MAX)
        return tu_hits_fail_line(reader, error,
                                 "hits are withdrawn in more places than can be kept in mind; log "
                                 "again");
    list->range[list->count++] = (tu_hits_range){before - count, before};
    return TU_OK;
}

tu_status tu_hits_find_withdrawn(tu_hits_reader *reader, tu_error *error)
{
    tu_hits_reader *ahead;
    bool have = true;
    off_t at = lseek(reader->fd, 0, SEEK_CUR);
    off_t begin = at - (off_t)(reader->offset + reader->end - reader->start);
    reader->withdrawn.blind = at < 0 || lseek(reader->fd, begin, SEEK_SET) < 0;
    if (reader->withdrawn.blind) /* a pipe */
        return TU_OK;
    tu_status status = tu_hits_start(reader->name, reader->fd, &ahead, error);
    if (status)
        return status;
    while (!status && have) {
        status = tu_hits_read_line(ahead, &have, error);
        if (!status && have && ahead->length > sizeof start &&
            memcmp(ahead->text, start, sizeof start - 1) == 0)
            status = note(&reader->withdrawn, ahead, error);
        else if (status >= TU_DATA_SYNTAX &&
                 status < TU_SYSTEM_IO) { /* too long: for the reading */
            status = TU_OK;
            have = true;
        }
    }
    tu_hits_close(ahead);
    if (!status && lseek(reader->fd, at, SEEK_SET) < 0)
        status = tu_fail(error, TU_SYSTEM_IO, reader->name, "can't read it: %s", strerror(errno));
    return status;
}

bool tu_hits_is_withdrawn(const tu_hits_withdrawn *list, uint64_t sequence)
{
    for (size_t i = 0; i < list->count; i++)
        if (sequence >= list->range[i].first && sequence < list->range[i].before)
            return true;
    return false;
}
