/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hitlog_verify.c - reads a whole log and says what is wrong where.
 */
#include "record/hits_read.h"
#include "record/input_file.h"
#include "trueup/hitlog.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* A reading under way: what the last hit was, and how many lines since it were damaged. */
typedef struct check {
    tu_hits_reader *reader;
    tu_hitlog_report *report;
    tu_hitlog_fault_sink *sink;
    void *context;
    bool have_last;
    uint64_t last, excused;
} check;

static void tell(const check *c, const char *message)
{
    if (c->sink)
        c->sink(c->context, c->reader->line, message);
}

static bool is_fault(tu_status status)
{
    return status >= TU_DATA_SYNTAX && status < TU_SYSTEM_IO;
}

static void note_damage(check *c, const tu_error *error)
{
    char message[TU_ERROR_MESSAGE_SIZE + TU_ERROR_WHERE_SIZE];
    const char *member = strstr(error->where, ": "); /* "FILE:LINE: MEMBER" */
    snprintf(message, sizeof message, "%s%s%s", member ? member + 2 : "", member ? ": " : "",
             error->message);
    c->report->damaged++;
    c->report->ended = false;
    c->excused++;
    tell(c, message);
}

static void check_sequence(check *c, uint64_t sequence)
{
    char message[120];
    bool backwards = c->have_last && sequence <= c->last;
    uint64_t missing = c->have_last && !backwards ? sequence - c->last - 1 : 0;
    if (backwards || missing > c->excused) {
        c->report->sequence_gaps++;
        snprintf(message, sizeof message, "number %" PRIu64 " follows number %" PRIu64 "%s",
                 sequence, c->last, backwards ? "" : ": lines between them are missing");
        tell(c, message);
    }
    c->have_last = true;
    c->last = sequence;
    c->excused = 0;
}

static void note_record(check *c, const tu_hits_record *record, const tu_hit *hit)
{
    if (strcmp(record->kind, "hit") == 0) {
        c->report->hits++;
        check_sequence(c, hit->sequence);
    } else {
        c->report->other++;
        if (record->sequence != TU_HITS_NO_SEQUENCE)
            check_sequence(c, record->sequence);
        if (strcmp(record->kind, "lost") == 0)
            c->report->lost += record->count;
    }
    c->report->ended = strcmp(record->kind, "end") == 0;
}

static tu_status check_all(check *c, tu_error *error)
{
    tu_error fault = {0};
    tu_hits_record record;
    tu_hit hit;
    bool have = true;
    tu_status status = tu_hits_check_header(c->reader, &fault);
    bool ours = c->reader->length >= 9 && !memcmp(c->reader->text, "{\"trueup\"", 9);
    if (is_fault(status) && ours)
        note_damage(c, &fault);
    else if (status)
        return tu_fail(error, status, fault.where, "%s", fault.message);
    while (have) {
        status = tu_hits_next_record(c->reader, &hit, &record, &have, &fault);
        if (is_fault(status)) {
            note_damage(c, &fault);
            have = true;
        } else if (status) {
            return tu_fail(error, status, fault.where, "%s", fault.message);
        } else if (have) {
            note_record(c, &record, &hit);
        }
    }
    return TU_OK;
}

tu_status tu_hitlog_verify(const char *path, tu_hitlog_report *report, tu_hitlog_fault_sink *sink,
                           void *context, tu_error *error)
{
    check c = {.report = report, .sink = sink, .context = context};
    int fd;
    *report = (tu_hitlog_report){0};
    tu_status status = tu_input_open(path, &fd, error);
    if (!status)
        status = tu_hits_start(tu_input_name(path), fd, &c.reader, error);
    if (!status) {
        status = check_all(&c, error);
        report->torn_bytes = c.reader->torn;
        report->lines = c.reader->line - 1; /* the last call met the end */
        if (!status && report->torn_bytes > 0)
            tell(&c, "the last line is torn: it has no line feed, and recording was cut off in it");
    }
    tu_hits_close(c.reader);
    tu_input_close(path, fd);
    return status;
}
