/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits.c - reads a hit log, line by line, in constant memory.
 */
#include "trueup/hits.h"
#include "record/crc32.h"
#include "record/hits_form.h"
#include "record/json_text.h"
#include "trueup/text.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct tu_hits_reader {
    char *name;
    FILE *stream;
    size_t line; /* the number of the line in text, from 1 */
    size_t torn;
    tu_json_document document;
    size_t length; /* of the line, without its newline */
    char text[TU_HITS_LINE_MAX];
};

/* What a member of a record is. */
typedef struct member {
    const char *name;
    bool required;
    int kinds;
    tu_status (*take)(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error);
    const char *expected;
} member;

static tu_status fail_line(const tu_hits_reader *reader, tu_error *error, const char *message)
{
    char place[TU_ERROR_WHERE_SIZE + 32];
    snprintf(place, sizeof place, "%.*s:%zu", TU_ERROR_WHERE_SIZE - 24, reader->name, reader->line);
    return tu_fail(error, TU_DATA_SYNTAX, place, "%s", message);
}

/* Reads one line into the reader; *have false at the end, where a torn line is noted. */
static tu_status read_line(tu_hits_reader *reader, bool *have, tu_error *error)
{
    int c = EOF;
    *have = false;
    reader->length = 0;
    reader->line++;
    errno = 0;
    while (reader->length < sizeof reader->text && (c = getc(reader->stream)) != EOF && c != '\n')
        reader->text[reader->length++] = (char)c;
    if (c == EOF && ferror(reader->stream))
        return tu_fail(error, TU_SYSTEM_IO, reader->name, "can't read it: %s", strerror(errno));
    if (c == EOF) {
        reader->torn = reader->length;
        return TU_OK;
    }
    if (c != '\n')
        return fail_line(reader, error,
                         "a line of more than 4096 bytes; this is not a hit log, or "
                         "it was damaged");
    *have = true;
    return TU_OK;
}

/* A line is good by itself: its last member is the checksum of what stands before. */
static tu_status check_crc(const tu_hits_reader *reader, tu_error *error)
{
    char tail[TU_HITS_CRC_TAIL + 1], crc[TU_CRC32_TEXT_SIZE];
    char message[160];
    size_t start = reader->length - TU_HITS_CRC_TAIL;
    bool closed = reader->length > TU_HITS_CRC_TAIL &&
                  !memcmp(reader->text + start, ",\"crc\":\"", 8) &&
                  !memcmp(reader->text + reader->length - 2, "\"}", 2);
    if (reader->length > 0 && reader->text[reader->length - 1] == '\r')
        return fail_line(reader, error,
                         "the line ends with CR LF, so a program rewrote this file; keep a hit log "
                         "as it was written");
    if (!closed)
        return fail_line(
            reader, error,
            "the line does not end with its checksum, ,\"crc\":\"xxxxxxxx\"}; take the "
            "damaged line out, or log again");
    tu_crc32_format(crc, tu_crc32(reader->text, start));
    snprintf(tail, sizeof tail, ",\"crc\":\"%s\"}", crc);
    if (!memcmp(tail, reader->text + start, TU_HITS_CRC_TAIL))
        return TU_OK;
    snprintf(message, sizeof message,
             "the line fails its checksum (it gives %s): it was damaged or changed by hand; take "
             "it out, or log again",
             crc);
    return fail_line(reader, error, message);
}

/* Reads the next line that has a sound checksum and holds one JSON object. */
static tu_status read_record(tu_hits_reader *reader, bool *have, tu_error *error)
{
    tu_status status = read_line(reader, have, error);
    if (status || !*have)
        return status;
    status = check_crc(reader, error);
    if (!status)
        status = tu_json_read(&reader->document, reader->name, reader->line, reader->text,
                              reader->length, error);
    if (!status && reader->document.nodes[0].kind != TU_JSON_OBJECT)
        status = fail_line(reader, error, "a record is one object in braces {...}");
    return status;
}

static tu_status fail_value(tu_hits_reader *reader, size_t node, const char *expected,
                            tu_error *error)
{
    char show[TU_JSON_SHOW_SIZE];
    return tu_json_fail(&reader->document, node, NULL, error, TU_DATA_SYNTAX,
                        "expected %s; found %s", expected,
                        tu_json_found(&reader->document, node, show));
}

static const char whole_text[] = "a whole number from 0 to 9007199254740991";

/* From the digits themselves: a double would round large ones. */
static tu_status take_whole(tu_hits_reader *reader, size_t node, uint64_t *value, tu_error *error)
{
    const tu_json_node *n = &reader->document.nodes[node];
    *value = 0;
    for (size_t i = n->start; i < n->end; i++) {
        char c = reader->text[i];
        if (c >= '0' && c <= '9' && *value <= TU_HITS_WHOLE_MAX)
            *value = 10 * *value + (uint64_t)(c - '0');
        else
            *value = UINT64_MAX;
        if (*value > TU_HITS_WHOLE_MAX)
            return fail_value(reader, node, whole_text, error);
    }
    return TU_OK;
}

static tu_status take_sequence(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    return take_whole(reader, node, &hit->sequence, error);
}

static tu_status take_us(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    return take_whole(reader, node, &hit->device_us, error);
}

static tu_status take_x(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    return tu_json_number(&reader->document, node, &hit->position.x, error);
}

static tu_status take_y(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    return tu_json_number(&reader->document, node, &hit->position.y, error);
}

static tu_status take_z(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    return tu_json_number(&reader->document, node, &hit->position.z, error);
}

static const char utc_text[] = "a time in UTC, as in \"2026-11-25T08:15:30.123Z\"";

static tu_status take_utc(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    const char *text = tu_json_string(&reader->document, node);
    if (!tu_hits_is_utc(text))
        return fail_value(reader, node, utc_text, error);
    snprintf(hit->utc, sizeof hit->utc, "%s", text);
    return TU_OK;
}

static const char axis_text[] = "\"x\", \"y\" or \"z\", the axis that moved";

static tu_status take_axis(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    const char *text = tu_json_string(&reader->document, node);
    for (int axis = 0; axis < TU_AXIS_COUNT; axis++) {
        if (text[0] == "xyz"[axis] && !text[1]) {
            hit->axis = (tu_axis)axis;
            return TU_OK;
        }
    }
    return fail_value(reader, node, axis_text, error);
}

static const char dir_text[] = "\"+\" or \"-\", the direction of travel along the axis";

static tu_status take_dir(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    const char *text = tu_json_string(&reader->document, node);
    if (strcmp(text, "+") != 0 && strcmp(text, "-") != 0)
        return fail_value(reader, node, dir_text, error);
    hit->direction = text[0] == '+' ? 1 : -1;
    return TU_OK;
}

static const char series_text[] = "a name of at most 63 bytes without control characters";

static tu_status take_series(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    const char *text = tu_json_string(&reader->document, node);
    if (!tu_hits_is_series(text))
        return fail_value(reader, node, series_text, error);
    snprintf(hit->series, sizeof hit->series, "%s", text);
    return TU_OK;
}

static tu_status take_ok(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    (void)error;
    hit->ok = cJSON_IsTrue(reader->document.nodes[node].item);
    return TU_OK;
}

/* Was looked at before: the kind chose the table, the checksum was checked. */
static tu_status take_nothing(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    (void)reader, (void)node, (void)hit, (void)error;
    return TU_OK;
}

static const member hit_members[] = {
    {"kind", false, TU_JSON_STRING, take_nothing, "a text"},
    {"seq", true, TU_JSON_NUMBER, take_sequence, whole_text},
    {"utc", false, TU_JSON_STRING, take_utc, utc_text},
    {"us", false, TU_JSON_NUMBER, take_us, whole_text},
    {"x", true, TU_JSON_NUMBER, take_x, "a number of millimetres"},
    {"y", true, TU_JSON_NUMBER, take_y, "a number of millimetres"},
    {"z", true, TU_JSON_NUMBER, take_z, "a number of millimetres"},
    {"axis", true, TU_JSON_STRING, take_axis, axis_text},
    {"dir", false, TU_JSON_STRING, take_dir, dir_text},
    {"series", false, TU_JSON_STRING, take_series, series_text},
    {"ok", true, TU_JSON_BOOLEAN, take_ok, "true or false"},
    {"crc", true, TU_JSON_STRING, take_nothing, "the checksum"},
};
enum { HIT_MEMBERS = sizeof hit_members / sizeof hit_members[0] };

static const member *find_member(const char *name)
{
    for (size_t i = 0; i < HIT_MEMBERS; i++)
        if (!strcmp(hit_members[i].name, name))
            return &hit_members[i];
    return NULL;
}

static tu_status fail_unknown(tu_hits_reader *reader, size_t node, tu_error *error)
{
    const char *names[HIT_MEMBERS];
    const char *key = tu_json_key(&reader->document, node);
    char show[TU_JSON_SHOW_SIZE], hint[60] = "";
    for (size_t i = 0; i < HIT_MEMBERS; i++)
        names[i] = hit_members[i].name;
    const char *nearest = tu_text_nearest(key, names, HIT_MEMBERS);
    if (nearest)
        snprintf(hint, sizeof hint, "; did you mean \"%s\"?", nearest);
    return tu_json_fail(&reader->document, node, NULL, error, TU_DATA_UNKNOWN,
                        "a hit has no member %s%s", tu_json_quote(show, key, strlen(key)), hint);
}

static tu_status take_hit(tu_hits_reader *reader, tu_hit *hit, tu_error *error)
{
    const tu_json_node *nodes = reader->document.nodes;
    *hit = (tu_hit){0};
    for (size_t child = nodes[0].first; child != TU_JSON_NONE; child = nodes[child].next) {
        const member *m = find_member(tu_json_key(&reader->document, child));
        if (!m)
            return fail_unknown(reader, child, error);
        if (!((int)nodes[child].kind & m->kinds))
            return fail_value(reader, child, m->expected, error);
        tu_status status = m->take(reader, child, hit, error);
        if (status)
            return status;
    }
    for (size_t i = 0; i < HIT_MEMBERS; i++)
        if (hit_members[i].required &&
            tu_json_member(&reader->document, 0, hit_members[i].name) == TU_JSON_NONE)
            return tu_json_fail(&reader->document, 0, hit_members[i].name, error, TU_DATA_SYNTAX,
                                "a hit needs \"%s\", %s, and it is missing", hit_members[i].name,
                                hit_members[i].expected);
    return TU_OK;
}

/* The first line says what the file is. */
static tu_status check_header(tu_hits_reader *reader, tu_error *error)
{
    static const char not_a_log[] =
        "not a hit log: its first line should be {\"trueup\":\"hits\",\"schema\":1,...}";
    const tu_json_document *document = &reader->document;
    bool have;
    tu_status status = read_line(reader, &have, error);
    if (status)
        return status;
    if (!have || reader->length < 9 || memcmp(reader->text, "{\"trueup\"", 9) != 0)
        return fail_line(reader, error, not_a_log);
    status = check_crc(reader, error);
    if (!status)
        status = tu_json_read(&reader->document, reader->name, reader->line, reader->text,
                              reader->length, error);
    if (status)
        return status;
    size_t schema = tu_json_member(document, 0, "schema");
    size_t utc = tu_json_member(document, 0, "utc");
    const char *what = tu_json_string(document, document->nodes[0].first);
    if (!what || strcmp(what, "hits") != 0 || schema == TU_JSON_NONE)
        return fail_line(reader, error, not_a_log);
    double number = 0;
    if (document->nodes[schema].kind != TU_JSON_NUMBER ||
        tu_json_number(document, schema, &number, NULL) || number != TU_HITS_SCHEMA)
        return fail_value(reader, schema, "1, the only schema this version reads", error);
    if (utc == TU_JSON_NONE)
        return tu_json_fail(document, 0, "utc", error, TU_DATA_SYNTAX,
                            "the header needs \"utc\", %s, and it is missing", utc_text);
    if (document->nodes[utc].kind != TU_JSON_STRING ||
        !tu_hits_is_utc(tu_json_string(document, utc)))
        return fail_value(reader, utc, utc_text, error);
    return TU_OK;
}

tu_status tu_hits_open(const char *path, tu_hits_reader **reader, tu_error *error)
{
    bool standard = !strcmp(path, "-");
    *reader = NULL;
    tu_hits_reader *made = calloc(1, sizeof *made);
    if (made)
        made->name = strdup(standard ? "standard input" : path);
    if (!made || !made->name) {
        free(made);
        return tu_fail(error, TU_SYSTEM_MEMORY, path, "no memory left to read this file");
    }
    tu_status status = TU_OK;
    made->stream = standard ? stdin : fopen(path, "re");
    if (!made->stream)
        status = tu_fail(error, TU_SYSTEM_IO, path, "can't open it: %s", strerror(errno));
    if (!status)
        status = check_header(made, error);
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
    if (reader->stream && reader->stream != stdin)
        fclose(reader->stream);
    tu_json_close(&reader->document);
    free(reader->name);
    free(reader);
}

tu_status tu_hits_next(tu_hits_reader *reader, tu_hit *hit, bool *have, tu_error *error)
{
    *hit = (tu_hit){0};
    for (;;) {
        tu_status status = read_record(reader, have, error);
        if (status || !*have) {
            *have = false;
            return status;
        }
        size_t kind = tu_json_member(&reader->document, 0, "kind");
        const char *text = kind == TU_JSON_NONE ? "hit" : tu_json_string(&reader->document, kind);
        if (text && strcmp(text, "hit") != 0)
            continue; /* a record for other readers */
        status = take_hit(reader, hit, error);
        *have = !status;
        return status;
    }
}

size_t tu_hits_torn(const tu_hits_reader *reader)
{
    return reader->torn;
}
