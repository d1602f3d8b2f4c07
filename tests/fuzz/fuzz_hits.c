/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fuzz_hits.c - libFuzzer target: the hit log.
 *
 * The first byte chooses whether the rest is the file itself, or lines that still lack their header
 * and their checksums: without these no input would get past the checksum. Beyond not crashing it
 * demands: a failure has a message of one line with its place; a hit that is read holds finite
 * numbers, and is the same once written and read again.
 */
#define _GNU_SOURCE
#include "demand.h"

#include "record/crc32.h"
#include "record/hits_form.h"
#include "trueup/hits.h"
#include "trueup/text.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char header[] = "{\"trueup\":\"hits\",\"schema\":1,\"utc\":\"2026-11-25T08:15:30Z\"";

/* A file in memory that can be opened by name. */
typedef struct log_file {
    int fd;
    char path[40];
} log_file;

static log_file make_log(void)
{
    log_file log = {.fd = memfd_create("hits", MFD_CLOEXEC)};
    DEMAND(log.fd >= 0);
    snprintf(log.path, sizeof log.path, "/proc/self/fd/%d", log.fd);
    return log;
}

static void append(const log_file *log, const char *bytes, size_t length)
{
    DEMAND(write(log->fd, bytes, length) == (ssize_t)length);
}

static void append_closed(const log_file *log, const char *body, size_t length)
{
    char crc[TU_CRC32_TEXT_SIZE];
    tu_crc32_format(crc, tu_crc32(body, length));
    append(log, body, length);
    append(log, ",\"crc\":\"", 8);
    append(log, crc, 8);
    append(log, "\"}\n", 3);
}

/* The same hit comes back from what is written of it. */
static void demand_round_trip(const tu_hit *hit)
{
    char text[TU_HITS_LINE_MAX];
    tu_hits_reader *reader;
    tu_hit again;
    bool have;
    size_t length = tu_hits_format(text, sizeof text, hit);
    DEMAND(length > 0);
    log_file log = make_log();
    append_closed(&log, header, sizeof header - 1);
    append(&log, text, length);
    DEMAND(!tu_hits_open(log.path, &reader, NULL));
    DEMAND(!tu_hits_next(reader, &again, &have, NULL) && have);
    DEMAND(hit->sequence == again.sequence && hit->device_us == again.device_us);
    DEMAND(hit->position.x == again.position.x && hit->position.y == again.position.y &&
           hit->position.z == again.position.z);
    DEMAND(hit->axis == again.axis && hit->direction == again.direction && hit->ok == again.ok);
    DEMAND(strcmp(hit->series, again.series) == 0 && strcmp(hit->utc, again.utc) == 0);
    tu_hits_close(reader);
    close(log.fd);
}

static void read_log(const log_file *log)
{
    tu_hits_reader *reader;
    tu_hit hit;
    bool have = true;
    tu_error error = {0};
    tu_status status = tu_hits_open(log->path, &reader, &error);
    for (int i = 0; !status && have && i < 100; i++) {
        status = tu_hits_next(reader, &hit, &have, &error);
        DEMAND(!status || !have);
        if (!have)
            continue;
        DEMAND(isfinite(hit.position.x) && isfinite(hit.position.y) && isfinite(hit.position.z));
        demand_round_trip(&hit);
    }
    if (status) {
        DEMAND(status == TU_DATA_SYNTAX || status == TU_DATA_RANGE || status == TU_DATA_UNKNOWN ||
               status == TU_DATA_CONFLICT);
        demand_words(error.where);
        demand_words(error.message);
    }
    tu_hits_close(reader);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size == 0 || size > 20000)
        return 0;
    const char *text = (const char *)data + 1, *end = (const char *)data + size;
    log_file log = make_log();
    if (data[0] & 1) {
        append_closed(&log, header, sizeof header - 1);
        while (text < end) {
            const char *stop = memchr(text, '\n', (size_t)(end - text));
            if (!stop)
                stop = end;
            append_closed(&log, text, (size_t)(stop - text));
            text = stop + 1;
        }
    } else {
        append(&log, text, (size_t)(end - text));
    }
    read_log(&log);
    close(log.fd);
    return 0;
}
