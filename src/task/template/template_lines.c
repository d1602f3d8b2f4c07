/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * template_lines.c - lines to try a template on, and what it makes of them.
 */
#define _POSIX_C_SOURCE 200809L
#include "task/template/template_lines.h"

#include "base/show.h"
#include "trueup/text.h"

#include <stdlib.h>
#include <string.h>

void tu_template_lines_destroy(tu_template_lines *lines)
{
    for (size_t i = 0; i < lines->count; i++)
        free(lines->line[i].text);
    lines->count = 0;
}

/* One line of printable text: it will be shown, and a pasted one has nothing else in it. */
static tu_status add_line(tu_template_lines *lines, const char *text, size_t length,
                          const char *where, tu_error *error)
{
    while (length > 0 && (text[length - 1] == '\n' || text[length - 1] == '\r'))
        length--;
    bool plain = tu_text_is_utf8(text, length);
    for (size_t i = 0; plain && i < length; i++)
        plain = ((unsigned char)text[i] >= 0x20 || text[i] == '\t') && text[i] != 0x7F;
    if (!plain)
        return tu_fail(error, TU_DATA_SYNTAX, where,
                       "not one line of text in UTF-8: \"%s\"; is the baud rate right?",
                       tu_show(text, length).text);
    if (length > TU_LINE_MAX)
        return tu_fail(error, TU_DATA_SYNTAX, where, "a line has at most %d bytes, found %zu",
                       TU_LINE_MAX, length);
    char *copy = strndup(text, length);
    if (!copy)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    lines->line[lines->count++].text = copy;
    return TU_OK;
}

static tu_status take_from_source(tu_template_lines *lines, const tu_template_source *source,
                                  tu_error *error)
{
    tu_status status = TU_OK;
    while (!status && source->next && lines->count < TU_TEMPLATE_LINES_MAX) {
        const char *text = NULL;
        size_t length = 0;
        status = source->next(source->context, &text, &length, error);
        if (!text)
            break;
        if (!status)
            status = add_line(lines, text, length, source->name, error);
    }
    return status;
}

tu_status tu_template_lines_take(tu_template_lines *lines, const tu_task_template_request *request,
                                 tu_error *error)
{
    tu_status status = TU_OK;
    for (size_t i = 0; !status && i < request->line_count; i++)
        status = add_line(lines, request->line[i], strlen(request->line[i]), "{line}", error);
    if (!status && !request->line_count)
        status = take_from_source(lines, &request->more, error);
    if (!status && (!lines->count || !*lines->line[0].text))
        status = tu_fail(error, TU_USAGE, "{line}",
                         "there is no line; paste one that the controller printed");
    return status;
}

/* Where the last record of a line goes; a gap or a restart is of no interest here. */
typedef struct place {
    tu_decoded *decoded;
    bool *read;
} place;

static void keep(void *context, const tu_decoded *decoded)
{
    const place *at = context;
    if (decoded->kind == TU_DECODED_LOST || decoded->kind == TU_DECODED_RESTART ||
        decoded->kind == TU_DECODED_FLOOD)
        return;
    *at->read = decoded->kind == TU_DECODED_HIT;
    *at->decoded = *decoded;
    at->decoded->bytes = NULL; /* valid during the call only */
}

void tu_template_lines_read(tu_template_lines *lines, const tu_decode_setup *setup)
{
    for (size_t i = 0; i < lines->count; i++) {
        place at = {&lines->line[i].decoded, &lines->line[i].read};
        tu_decoder decoder = tu_decoder_start(setup); /* each line by itself */
        lines->line[i].decoded = (tu_decoded){.reason = "a blank line"};
        tu_decoder_feed(&decoder, lines->line[i].text, strlen(lines->line[i].text), keep, &at);
        tu_decoder_feed(&decoder, "\n", 1, keep, &at);
    }
}
