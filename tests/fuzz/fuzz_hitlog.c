/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_hitlog.c - libFuzzer target: opening a log for writing, whatever stands in the file.
 *
 * The first byte chooses as in fuzz_hits.c: the file itself, or lines that lack their header and
 * checksums; and whether the last line loses its end. Beyond not crashing it demands: a file that
 * is refused stays as it is; one that is taken keeps every whole line, its torn end is kept to the
 * byte, it goes on with the next number and is sound then; the quick and the strict way of reading
 * agree on every line.
 */
#define _GNU_SOURCE
#include "demand.h"

#include "record/crc32.h"
#include "record/hits_form.h"
#include "record/hits_read.h"
#include "trueup/hitlog.h"

#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { BYTES_MAX = 200000 };

static const char header[] = "{\"trueup\":\"hits\",\"schema\":1,\"utc\":\"2026-11-25T08:15:30Z\"";
static char path[60], torn_path[70];
static char bytes[BYTES_MAX], after[BYTES_MAX];

static size_t add(size_t at, const char *text, size_t length)
{
    DEMAND(at + length <= sizeof bytes);
    memcpy(bytes + at, text, length);
    return at + length;
}

static size_t add_closed(size_t at, const char *body, size_t length)
{
    char crc[TU_CRC32_TEXT_SIZE];
    tu_crc32_format(crc, tu_crc32(body, length));
    at = add(at, body, length);
    at = add(at, ",\"crc\":\"", 8);
    at = add(at, crc, 8);
    return add(at, "\"}\n", 3);
}

static size_t make_file(const uint8_t *data, size_t size)
{
    const char *text = (const char *)data + 1, *end = (const char *)data + size;
    size_t length = 0;
    if (!(data[0] & 1)) {
        length = add(0, text, (size_t)(end - text));
    } else {
        length = add_closed(0, header, sizeof header - 1);
        while (text < end) {
            const char *stop = memchr(text, '\n', (size_t)(end - text));
            if (!stop)
                stop = end;
            length = add_closed(length, text, (size_t)(stop - text));
            text = stop + 1;
        }
        length -= data[0] >> 3 < length ? data[0] >> 3 : 0;
    }
    int fd = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    DEMAND(fd >= 0 && write(fd, bytes, length) == (ssize_t)length);
    close(fd);
    return length;
}

static size_t read_file(const char *name)
{
    int fd = open(name, O_RDONLY);
    ssize_t length = fd < 0 ? 0 : read(fd, after, sizeof after);
    DEMAND(length >= 0);
    if (fd >= 0)
        close(fd);
    return (size_t)length;
}

static tu_hits_reader *open_reader(int *fd, bool strict)
{
    tu_hits_reader *reader = NULL;
    *fd = open(path, O_RDONLY);
    DEMAND(*fd >= 0 && !tu_hits_start(path, *fd, &reader, NULL));
    reader->strict = strict;
    return reader;
}

/* Both ways of reading, side by side, over all lines. */
static void demand_same_reading(void)
{
    int fd[2];
    bool have[2] = {true, true};
    tu_hits_reader *reader[2] = {open_reader(&fd[0], false), open_reader(&fd[1], true)};
    tu_error error[2] = {{0}, {0}};
    DEMAND(tu_hits_check_header(reader[0], &error[0]) ==
           tu_hits_check_header(reader[1], &error[1]));
    while (have[0]) {
        tu_hit hit[2] = {{0}, {0}};
        tu_hits_record record[2];
        tu_status status[2];
        for (int i = 0; i < 2; i++)
            status[i] = tu_hits_next_record(reader[i], &hit[i], &record[i], &have[i], &error[i]);
        DEMAND(status[0] == status[1] && have[0] == have[1]);
        DEMAND(reader[0]->line == reader[1]->line && reader[0]->offset == reader[1]->offset);
        DEMAND(strcmp(error[0].message, error[1].message) == 0);
        DEMAND(status[0] || !have[0] || memcmp(&hit[0].position, &hit[1].position, 24) == 0);
        DEMAND(status[0] || !have[0] || hit[0].sequence == hit[1].sequence);
        have[0] = have[0] || status[0];
    }
    for (int i = 0; i < 2; i++) {
        tu_hits_close(reader[i]);
        close(fd[i]);
    }
}

/* The log was taken: it goes on and is sound. */
static void demand_going_on(tu_hitlog *log, const tu_hitlog_found *found, size_t length,
                            const uint8_t *data, size_t size)
{
    const tu_hit hit = {.position = {1.5, -2.25, 3}, .axis = TU_AXIS_Y, .ok = true};
    uint64_t sequence = 0;
    tu_hitlog_report report;
    DEMAND(!tu_hitlog_append(log, &hit, &sequence, NULL));
    DEMAND(sequence == found->last_sequence + 1);
    DEMAND(!tu_hitlog_note(log, "unread", "", 0, "why", (const char *)data, size, NULL));
    DEMAND(!tu_hitlog_close(log, NULL));
    size_t good = length - found->torn_bytes;
    DEMAND(read_file(path) > good && memcmp(after, bytes, good) == 0);
    DEMAND(!tu_hitlog_verify(path, &report, NULL, NULL, NULL));
    DEMAND(report.hits == found->hits + 1 && report.damaged == 0 && report.torn_bytes == 0);
    size_t kept = read_file(torn_path);
    DEMAND(kept == (found->torn_bytes ? found->torn_bytes + 1 : 0));
    DEMAND(memcmp(after, bytes + good, found->torn_bytes) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size == 0 || size > 20000)
        return 0;
    if (!*path) {
        snprintf(path, sizeof path, "%s/fuzz-%ld.hits.jsonl",
                 access("/dev/shm", W_OK) ? "/tmp" : "/dev/shm", (long)getpid());
        snprintf(torn_path, sizeof torn_path, "%s.torn", path);
    }
    tu_hitlog *log;
    tu_hitlog_found found;
    tu_hitlog_report report;
    size_t length = make_file(data, size);
    tu_status sound = tu_hitlog_verify(path, &report, NULL, NULL, NULL);
    demand_same_reading();
    tu_status status = tu_hitlog_open(path, "2026-11-25T08:15:30Z", &log, &found, NULL);
    if (!status) {
        DEMAND(sound || report.damaged == 0);
        demand_going_on(log, &found, length, data, size);
    } else {
        DEMAND(log == NULL && read_file(path) == length && memcmp(after, bytes, length) == 0);
        DEMAND(access(torn_path, F_OK) != 0 || status == TU_DATA_RANGE);
    }
    unlink(path);
    unlink(torn_path);
    return 0;
}
