/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits.c - reads a hit log, line by line, in constant memory.
 */
#include "trueup/hits.h"
#include "record/hits_form.h"
#include "record/hits_read.h"
#include "record/input_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The first line says what the file is. */
tu_status tu_hits_check_header(tu_hits_reader *reader, tu_error *error)
{
    static const char not_a_log[] =
        "not a hit log: its first line should be {\"trueup\":\"hits\",\"schema\":1,...}";
    const tu_json_document *document = &reader->document;
    bool have;
    tu_status status = tu_hits_read_line(reader, &have, error);
    if (status)
        return status;
    if (!have || reader->length < 9 || memcmp(reader->text, "{\"trueup\"", 9) != 0)
        return tu_hits_fail_line(reader, error, not_a_log);
    status = tu_hits_check_crc(reader, error);
    if (!status)
        status = tu_json_read(&reader->document, reader->name, reader->line, reader->text,
                              reader->length, error);
    if (status)
        return status;
    size_t schema = tu_json_member(document, 0, "schema");
    size_t utc = tu_json_member(document, 0, "utc");
    const char *what = tu_json_string(document, document->nodes[0].first);
    if (!what || strcmp(what, "hits") != 0 || schema == TU_JSON_NONE)
        return tu_hits_fail_line(reader, error, not_a_log);
    double number = 0;
    if (document->nodes[schema].kind != TU_JSON_NUMBER ||
        tu_json_number(document, schema, &number, NULL) || number != TU_HITS_SCHEMA)
        return tu_hits_fail_value(reader, schema, "1, the only schema this version reads", error);
    if (utc == TU_JSON_NONE)
        return tu_json_fail(document, 0, "utc", error, TU_DATA_SYNTAX,
                            "the header needs \"utc\", %s, and it is missing", tu_hits_utc_text);
    if (document->nodes[utc].kind != TU_JSON_STRING ||
        !tu_hits_is_utc(tu_json_string(document, utc)))
        return tu_hits_fail_value(reader, utc, tu_hits_utc_text, error);
    return TU_OK;
}

tu_status tu_hits_start(const char *name, int fd, tu_hits_reader **reader, tu_error *error)
{
    *reader = NULL;
    tu_hits_reader *made = calloc(1, sizeof *made);
    if (made)
        made->name = strdup(name);
    if (!made || !made->name) {
        free(made);
        return tu_fail(error, TU_SYSTEM_MEMORY, name, "no memory left to read this file");
    }
    made->fd = fd;
    *reader = made;
    return TU_OK;
}

tu_status tu_hits_open(const char *path, tu_hits_reader **reader, tu_error *error)
{
    tu_hits_reader *made;
    *reader = NULL;
    tu_status status = tu_hits_start(tu_input_name(path), -1, &made, error);
    if (status)
        return status;
    status = tu_input_open(path, &made->fd, error);
    made->owns_fd = strcmp(path, "-") != 0;
    if (!status)
        status = tu_hits_check_header(made, error);
    if (!status)
        status = tu_hits_find_withdrawn(made, error);
    if (status)
        tu_hits_close(made);
    else
        *reader = made;
    return status;
}

void tu_hits_close(tu_hits_reader *reader)
{
    if (!reader)
        return;
    if (reader->owns_fd)
        tu_input_close(reader->name, reader->fd);
    tu_json_close(&reader->document);
    free(reader->name);
    free(reader);
}

/* A whole number among the members of a record that is no hit; none where it has no sound one. */
static uint64_t whole_member(tu_hits_reader *reader, const char *key, uint64_t none)
{
    uint64_t value;
    size_t node = tu_json_member(&reader->document, 0, key);
    if (node == TU_JSON_NONE || reader->document.nodes[node].kind != TU_JSON_NUMBER ||
        tu_hits_take_whole(reader, node, &value, NULL))
        return none;
    return value;
}

static void describe(tu_hits_reader *reader, const char *kind, tu_hits_record *record)
{
    snprintf(record->kind, sizeof record->kind, "%s", kind);
    record->count = whole_member(reader, "count", 0);
    record->sequence = whole_member(reader, "seq", TU_HITS_NO_SEQUENCE);
}

tu_status tu_hits_next_record(tu_hits_reader *reader, tu_hit *hit, tu_hits_record *record,
                              bool *have, tu_error *error)
{
    *record = (tu_hits_record){.kind = "hit", .sequence = TU_HITS_NO_SEQUENCE};
    tu_status status = tu_hits_read_line(reader, have, error);
    if (!status && *have)
        status = tu_hits_check_crc(reader, error);
    if (status || !*have) {
        *have = false;
        return status;
    }
    if (!reader->strict && tu_hits_scan(reader->text, reader->length - TU_HITS_CRC_TAIL, hit))
        return TU_OK;
    *have = false;
    status = tu_json_read(&reader->document, reader->name, reader->line, reader->text,
                          reader->length, error);
    if (!status && reader->document.nodes[0].kind != TU_JSON_OBJECT)
        status = tu_hits_fail_line(reader, error, "a record is one object in braces {...}");
    if (status)
        return status;
    size_t kind = tu_json_member(&reader->document, 0, "kind");
    const char *text = kind == TU_JSON_NONE ? "hit" : tu_json_string(&reader->document, kind);
    if (text && strcmp(text, "hit") != 0)
        describe(reader, text, record);
    else
        status = tu_hits_take(reader, hit, error);
    *have = !status;
    return status;
}

tu_status tu_hits_next(tu_hits_reader *reader, tu_hit *hit, bool *have, tu_error *error)
{
    tu_hits_record record = {.kind = ""};
    *hit = (tu_hit){0};
    while (strcmp(record.kind, "hit") != 0) { /* those are for others */
        tu_status status = tu_hits_next_record(reader, hit, &record, have, error);
        if (status || !*have)
            return status;
        reader->starts += strcmp(record.kind, "start") == 0;
        if (reader->withdrawn.blind && strcmp(record.kind, "withdrawn") == 0) {
            *have = false;
            return tu_hits_fail_line(reader, error,
                                     "hits before this record are withdrawn, and from a pipe they "
                                     "were taken already; give the log as a file");
        }
    }
    hit->ok = hit->ok && !tu_hits_is_withdrawn(&reader->withdrawn, hit->sequence);
    return TU_OK;
}

size_t tu_hits_recording(const tu_hits_reader *reader)
{
    return reader->starts;
}

size_t tu_hits_torn(const tu_hits_reader *reader)
{
    return reader->torn;
}
