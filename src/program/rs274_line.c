/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * rs274_line.c - lines of RS274/NGC and the items on them (NISTIR 6556, 3.3).
 *
 * Where a rule of the standard is quoted, its clause stands beside it.
 */
#include "program/rs274_scan.h"

#include "base/show.h"
#include "base/utf8.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* --- Failing --- */

tu_rs274_place tu_rs274_place_of(const tu_rs274_scan *scan, int column)
{
    tu_rs274_place place;
    snprintf(place.text, sizeof place.text, "line %zu, column %d", scan->line, column);
    return place;
}

/* What a person who wrote this probably needs to know. */
static const struct {
    const char *start;
    const char *hint;
} hints[] = {
    {",", "; write a decimal point, as in 6.35"},
    {";", "; a comment stands in parentheses"},
    {"(", "; a comment stands between words, not inside one"},
    {")", "; no comment is open here"},
    {"/", "; a slash stands first on its line, or in an expression"},
    {"%", "; percent signs stand alone on their lines, first and last in the file"},
    {"\xE2\x88\x92", "; write the minus sign as -"}, /* U+2212 */
    {"\xE2\x80\x93", "; write the minus sign as -"}, /* en dash */
    {"\xEF\xBB\xBF", "; save the file without a byte order mark"},
};

tu_status tu_rs274_fail_here(tu_rs274_scan *scan, const char *expected)
{
    int c = tu_rs274_peek(scan);
    tu_rs274_place place = tu_rs274_place_of(scan, tu_rs274_column(scan));
    if (c == TU_RS274_LINE_END)
        return tu_fail(scan->error, TU_DATA_SYNTAX, place.text, "the line ends here, expected %s",
                       expected);
    const char *found = scan->text + scan->at;
    size_t left = scan->length - scan->at;
    size_t taken = tu_utf8_next(found, left, NULL);
    const char *hint = "";
    for (size_t i = 0; i < sizeof hints / sizeof hints[0]; i++) {
        size_t n = strlen(hints[i].start);
        if (left >= n && memcmp(found, hints[i].start, n) == 0)
            hint = hints[i].hint;
    }
    return tu_fail(scan->error, TU_DATA_SYNTAX, place.text, "found \"%s\", expected %s%s",
                   tu_show(found, taken > 0 ? taken : 1).text, expected, hint);
}

/* --- Lines --- */

/* The length of the line that text starts with: up to LF, CR or the end (3.3). */
static size_t line_length(const char *text, size_t left)
{
    size_t length = left > TU_RS274_LINE_MAX ? TU_RS274_LINE_MAX + 1 : left;
    const char *feed = memchr(text, '\n', length);
    if (feed != NULL)
        length = (size_t)(feed - text);
    const char *carriage_return = memchr(text, '\r', length);
    if (carriage_return != NULL)
        length = (size_t)(carriage_return - text);
    if (length <= TU_RS274_LINE_MAX)
        return length;
    /* Too long for a line: its end is sought all the same, so that reading can go on behind it. */
    while (length < left && text[length] != '\n' && text[length] != '\r')
        length++;
    return length;
}

/* The next line; the reader then stands behind its end. CR LF is one end, not two. */
static tu_rs274_scan take_line(tu_rs274_reader *reader)
{
    const char *start = reader->text + reader->position;
    size_t length = line_length(start, reader->length - reader->position);
    size_t next = reader->position + length;
    if (next < reader->length && reader->text[next] == '\r')
        next++;
    if (next < reader->length && reader->text[next] == '\n')
        next++;
    reader->position = next;
    reader->line++;
    return (tu_rs274_scan){.text = start, .length = length, .line = reader->line};
}

/* Whether nothing but a percent sign stands on the line, perhaps among blanks. */
static bool is_percent_line(tu_rs274_scan scan)
{
    if (tu_rs274_peek(&scan) != '%')
        return false;
    scan.at++;
    return tu_rs274_peek(&scan) == TU_RS274_LINE_END;
}

tu_rs274_reader tu_rs274_start(const char *text, size_t length)
{
    tu_rs274_reader reader = {.text = text, .length = length};
    /* The first line that is not blank may be the opening percent sign. */
    tu_rs274_reader ahead = reader;
    while (ahead.position < length) {
        tu_rs274_scan scan = take_line(&ahead);
        if (scan.length > TU_RS274_LINE_MAX)
            break;
        if (is_percent_line(scan)) {
            ahead.percent = true;
            return ahead;
        }
        if (tu_rs274_peek(&scan) != TU_RS274_LINE_END)
            break;
    }
    return reader;
}

/* --- Items of a line --- */

/* "N" and 1 to 5 digits without a sign (3.3.1). */
static tu_status take_line_number(tu_rs274_scan *scan, tu_rs274_block *block)
{
    enum { DIGITS_MAX = 5 };
    int column = tu_rs274_column(scan);
    int digits = 0;
    block->number = 0;
    block->column['n' - 'a'] = column;
    scan->at++;
    for (int c; c = tu_rs274_peek(scan), c >= '0' && c <= '9'; scan->at++) {
        block->number = block->number * 10 + (c - '0');
        if (++digits > DIGITS_MAX)
            return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, column).text,
                           "a line number has 1 to %d digits, 0 to 99999; renumber the lines or "
                           "leave the numbers out",
                           DIGITS_MAX);
    }
    return digits > 0 ? TU_OK : tu_rs274_fail_here(scan, "the digits of the line number");
}

/* "#", index, "=", value (3.3.3). It takes effect only when the block is executed. */
static tu_status take_setting(tu_rs274_scan *scan, tu_rs274_block *block)
{
    enum { SETTINGS_MAX = sizeof block->setting / sizeof block->setting[0] };
    int column = tu_rs274_column(scan);
    scan->at++; /* "#" */
    int index;
    double value;
    tu_status status = tu_rs274_read_index(scan, &index);
    if (status)
        return status;
    if (tu_rs274_peek(scan) != '=')
        return tu_rs274_fail_here(scan, "= and the new value of the parameter");
    scan->at++;
    status = tu_rs274_read_value(scan, &value);
    if (status)
        return status;
    if (block->setting_count == SETTINGS_MAX)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, column).text,
                       "more than %d parameters are set on one line; write them on several",
                       SETTINGS_MAX);
    block->setting[block->setting_count].index = index;
    block->setting[block->setting_count].value = value;
    block->setting_count++;
    return TU_OK;
}

/*
 * Keeps a comment, of which the last on a line counts (3.3.5). A message's text starts right
 * behind "MSG,", which takes blanks and lower case (3.3.4).
 */
static void keep_comment(tu_rs274_block *block, const char *text, size_t length)
{
    tu_rs274_scan scan = {.text = text, .length = length};
    const char *sign = "msg,";
    while (*sign != '\0') {
        int c = tu_rs274_peek(&scan);
        if (c != *sign && (tu_rs274_letter(c) >= 26 || (c | 0x20) != *sign))
            break;
        scan.at++;
        sign++;
    }
    block->has_message = *sign == '\0';
    size_t start = block->has_message ? scan.at : 0;
    memcpy(block->message, text + start, length - start);
    block->message[length - start] = '\0';
    for (char *tab = block->message; (tab = strchr(tab, '\t')) != NULL;)
        *tab = ' ';
    tu_utf8_tidy(block->message);
}

/* "(", printable characters and white space, ")" (3.3.4). */
static tu_status take_comment(tu_rs274_scan *scan, tu_rs274_block *block)
{
    int column = tu_rs274_column(scan);
    size_t start = ++scan->at;
    for (; scan->at < scan->length && scan->text[scan->at] != ')'; scan->at++) {
        unsigned char c = (unsigned char)scan->text[scan->at];
        if (c == '(')
            return tu_fail(scan->error, TU_DATA_SYNTAX,
                           tu_rs274_place_of(scan, tu_rs274_column(scan)).text,
                           "a comment cannot hold another one; close it before this parenthesis");
        if ((c < 0x20 && c != '\t') || c == 0x7F)
            return tu_fail(scan->error, TU_DATA_SYNTAX,
                           tu_rs274_place_of(scan, tu_rs274_column(scan)).text,
                           "the control character \\x%02X stands in a comment; take it out", c);
        scan->wide += (c & 0xC0) == 0x80;
    }
    if (scan->at == scan->length)
        return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, column).text,
                       "the comment that starts here is not closed on its line; end it with )");
    keep_comment(block, scan->text + start, scan->at - start);
    scan->at++; /* ")" */
    return TU_OK;
}

/* Words, parameter settings and comments, in any order (3.3.6). */
static tu_status take_items(tu_rs274_scan *scan, tu_rs274_block *block)
{
    tu_rs274_codes codes = {.column = {0}};
    tu_status status = TU_OK;
    for (int c; !status && (c = tu_rs274_peek(scan)) != TU_RS274_LINE_END;)
        if (tu_rs274_letter(c) < 26)
            status = tu_rs274_take_word(scan, &codes, block);
        else if (c == '#')
            status = take_setting(scan, block);
        else if (c == '(')
            status = take_comment(scan, block);
        else
            status = tu_rs274_fail_here(scan, "a word, a parameter setting or a comment");
    return !status ? tu_rs274_check_block(scan, block) : status;
}

/* --- Blocks --- */

static const tu_rs274_block nothing_stated = {
    .number = NAN, .x = NAN, .y = NAN, .z = NAN, .f = NAN, .l = NAN, .p = NAN};

static tu_status read_block(tu_rs274_scan *scan, tu_rs274_block *block)
{
    if (tu_rs274_peek(scan) == '/') {
        block->deleted = true;
        scan->at++;
    }
    tu_status status = TU_OK;
    if (tu_rs274_letter(tu_rs274_peek(scan)) == 'n' - 'a')
        status = take_line_number(scan, block);
    return !status ? take_items(scan, block) : status;
}

static tu_status fail_long(const tu_rs274_scan *scan)
{
    return tu_fail(scan->error, TU_DATA_SYNTAX, tu_rs274_place_of(scan, TU_RS274_LINE_MAX + 1).text,
                   "the line has %zu bytes, at most %d are allowed; write it on several lines",
                   scan->length, TU_RS274_LINE_MAX);
}

/* At the end of the text. A percent sign that opened the file wants another one to close it. */
static tu_status finish(tu_rs274_reader *reader, tu_error *error)
{
    if (!reader->percent || reader->ended)
        return TU_OK;
    reader->percent = false; /* said once */
    tu_rs274_scan scan = {.line = reader->line};
    return tu_fail(error, TU_DATA_SYNTAX, tu_rs274_place_of(&scan, 1).text,
                   "the file starts with a percent sign but ends here without M2 or a closing "
                   "percent sign; part of it may be missing");
}

tu_status tu_rs274_next(tu_rs274_reader *reader, const double *parameters, tu_rs274_block *block,
                        bool *have, tu_error *error)
{
    *have = false;
    *block = nothing_stated;
    while (!reader->ended && reader->position < reader->length) {
        tu_rs274_scan scan = take_line(reader);
        scan.parameters = parameters;
        scan.error = error;
        if (scan.length > TU_RS274_LINE_MAX)
            return fail_long(&scan);
        if (tu_rs274_peek(&scan) == TU_RS274_LINE_END)
            continue;
        tu_status status = TU_OK;
        if (reader->percent && is_percent_line(scan))
            block->end = true;
        else
            status = read_block(&scan, block);
        if (status) {
            *block = nothing_stated;
            return status;
        }
        block->line = scan.line;
        /* Whether a deleted block counts is a matter of who executes. */
        reader->ended = block->end && !block->deleted;
        *have = true;
        return TU_OK;
    }
    return finish(reader, error);
}
