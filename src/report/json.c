/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * json.c - writing JSON for an answer.
 */
#include "report/json.h"

#include "base/utf8.h"
#include "report/answer.h"
#include "trueup/number.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

const char *const tu_json_axis[TU_AXIS_COUNT] = {"x", "y", "z"};

static void indent(tu_json *json)
{
    fprintf(json->out, "\n%.*s", json->depth, "\t\t\t\t\t\t\t\t\t\t\t\t\t\t\t\t");
}

static void put_string(tu_json *json, const char *text)
{
    static const char escaped[] = "\"\\\b\f\n\r\t", letter[] = "\"\\bfnrt";
    fputc('"', json->out);
    for (size_t left = strlen(text), length; left > 0; text += length, left -= length) {
        uint32_t code = 0xFFFD;
        length = tu_utf8_next(text, left, &code);
        const char *at = code < 0x80 ? strchr(escaped, (int)code) : NULL;
        if (at)
            fprintf(json->out, "\\%c", letter[at - escaped]);
        else if (code < 0x20)
            fprintf(json->out, "\\u%04x", (unsigned)code);
        else
            fprintf(json->out, "%.*s", length ? (int)length : 3, length ? text : "\xEF\xBF\xBD");
        length += !length;
    }
    fputc('"', json->out);
}

/* What stands before a value: a comma behind the one before it, and its name. */
static void start(tu_json *json, const char *name)
{
    bool array = json->arrays >> json->depth & 1u;
    if (!json->empty)
        fputs(array ? ", " : ",", json->out);
    json->empty = false;
    if (array)
        return;
    indent(json);
    put_string(json, name);
    fputs(":\t", json->out);
}

static void open(tu_json *json, bool array)
{
    fputc(array ? '[' : '{', json->out);
    json->depth++;
    json->arrays = (json->arrays & ~(1u << json->depth)) | (uint32_t)array << json->depth;
    json->empty = true;
}

tu_json tu_json_begin(FILE *out)
{
    tu_json json = {.out = out};
    open(&json, false);
    return json;
}

void tu_json_object(tu_json *json, const char *name)
{
    start(json, name);
    open(json, false);
}

void tu_json_array(tu_json *json, const char *name)
{
    start(json, name);
    open(json, true);
}

void tu_json_end(tu_json *json)
{
    bool array = json->arrays >> json->depth & 1u;
    json->depth--;
    if (!array)
        indent(json);
    fputc(array ? ']' : '}', json->out);
    json->empty = false;
}

tu_status tu_json_finish(tu_json *json, tu_error *error)
{
    tu_json_end(json);
    fputc('\n', json->out);
    return tu_answer_finish(json->out, error);
}

void tu_json_text(tu_json *json, const char *name, const char *text)
{
    start(json, name);
    put_string(json, text);
}

void tu_json_text_if_any(tu_json *json, const char *name, const char *text)
{
    if (*text)
        tu_json_text(json, name, text);
}

void tu_json_bool(tu_json *json, const char *name, bool value)
{
    start(json, name);
    fputs(value ? "true" : "false", json->out);
}

void tu_json_count(tu_json *json, const char *name, uint64_t count)
{
    start(json, name);
    fprintf(json->out, "%" PRIu64, count);
}

void tu_json_numbers(tu_json *json, const tu_json_figure *figure, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char text[TU_NUMBER_TEXT_SIZE] = "null";
        if (isfinite(figure[i].value))
            tu_number_format_exact(text, sizeof text, figure[i].value);
        start(json, figure[i].name);
        fputs(text, json->out);
    }
}

void tu_json_known(tu_json *json, const tu_json_figure *figure, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!isnan(figure[i].value))
            tu_json_numbers(json, &figure[i], 1);
}

void tu_json_interval(tu_json *json, const char *name, double low, double high)
{
    if (isnan(low) || isnan(high))
        return;
    tu_json_array(json, name);
    TU_JSON_NUMBERS(json, {NULL, low}, {NULL, high});
    tu_json_end(json);
}

void tu_json_texts(tu_json *json, const char *name, const char *text, size_t size, size_t count)
{
    tu_json_array(json, name);
    for (size_t i = 0; i < count; i++)
        tu_json_text(json, NULL, text + i * size);
    tu_json_end(json);
}

/* Nothing to judge by is not certainty: such an uncertainty is null, as it is "unknown" in text. */
void tu_json_uncertainty(tu_json *json, const char *name, const tu_uncertainty *u)
{
    bool known = u->standard_mm > 0.0;
    tu_json_object(json, name);
    TU_JSON_NUMBERS(json, {"standard", known ? u->standard_mm : (double)NAN}, {"dof", u->dof},
                    {"coverage_factor", u->coverage_factor},
                    {"expanded", known ? u->expanded_mm : (double)NAN}, {"coverage", u->coverage});
    tu_json_array(json, "budget");
    for (size_t i = 0; i < u->count; i++) {
        const tu_budget_line *line = &u->line[i];
        tu_json_object(json, NULL);
        tu_json_text(json, "source", line->source);
        TU_JSON_NUMBERS(json, {"standard", line->standard_mm}, {"dof", line->dof},
                        {"share", line->share});
        tu_json_end(json);
    }
    tu_json_end(json);
    tu_json_end(json);
}

void tu_json_warnings(tu_json *json, const tu_warnings *warnings)
{
    tu_json_texts(json, "warnings", warnings->text[0], sizeof warnings->text[0], warnings->count);
}
