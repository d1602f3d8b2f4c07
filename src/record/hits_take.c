/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hits_take.c - the members of a hit, taken strictly: each by its row in a table.
 */
#include "record/hits_form.h"
#include "record/hits_read.h"
#include "trueup/text.h"

#include <stdio.h>
#include <string.h>

/* What a member of a record is. */
typedef struct member {
    const char *name;
    bool required;
    int kinds;
    tu_status (*take)(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error);
    const char *expected;
} member;

const char tu_hits_utc_text[] = "a time in UTC, as in \"2026-11-25T08:15:30.123Z\"";

tu_status tu_hits_fail_value(tu_hits_reader *reader, size_t node, const char *expected,
                             tu_error *error)
{
    char show[TU_JSON_SHOW_SIZE];
    return tu_json_fail(&reader->document, node, NULL, error, TU_DATA_SYNTAX,
                        "expected %s; found %s", expected,
                        tu_json_found(&reader->document, node, show));
}

static const char whole_text[] = "a whole number from 0 to 9007199254740991";

tu_status tu_hits_take_whole(tu_hits_reader *reader, size_t node, uint64_t *value, tu_error *error)
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
            return tu_hits_fail_value(reader, node, whole_text, error);
    }
    return TU_OK;
}

static tu_status take_sequence(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    return tu_hits_take_whole(reader, node, &hit->sequence, error);
}

static tu_status take_us(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    return tu_hits_take_whole(reader, node, &hit->device_us, error);
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

static tu_status take_utc(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    const char *text = tu_json_string(&reader->document, node);
    if (!tu_hits_is_utc(text))
        return tu_hits_fail_value(reader, node, tu_hits_utc_text, error);
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
    return tu_hits_fail_value(reader, node, axis_text, error);
}

static const char dir_text[] = "\"+\" or \"-\", the direction of travel along the axis";

static tu_status take_dir(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    const char *text = tu_json_string(&reader->document, node);
    if (strcmp(text, "+") != 0 && strcmp(text, "-") != 0)
        return tu_hits_fail_value(reader, node, dir_text, error);
    hit->direction = text[0] == '+' ? 1 : -1;
    return TU_OK;
}

static const char series_text[] = "a name of at most 63 bytes without control characters";

static tu_status take_series(tu_hits_reader *reader, size_t node, tu_hit *hit, tu_error *error)
{
    const char *text = tu_json_string(&reader->document, node);
    if (!tu_hits_is_series(text))
        return tu_hits_fail_value(reader, node, series_text, error);
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
    {"utc", false, TU_JSON_STRING, take_utc, tu_hits_utc_text},
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

tu_status tu_hits_take(tu_hits_reader *reader, tu_hit *hit, tu_error *error)
{
    const tu_json_node *nodes = reader->document.nodes;
    *hit = (tu_hit){0};
    for (size_t child = nodes[0].first; child != TU_JSON_NONE; child = nodes[child].next) {
        const member *m = find_member(tu_json_key(&reader->document, child));
        if (!m)
            return fail_unknown(reader, child, error);
        if (!((int)nodes[child].kind & m->kinds))
            return tu_hits_fail_value(reader, child, m->expected, error);
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
