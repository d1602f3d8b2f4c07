/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * json_text.c - the scanner: one walk over the text, by the grammar of RFC 8259.
 */
#include "record/json_text.h"
#include "trueup/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct scanner {
    tu_json_document *document;
    const char *text;
    size_t length;
    size_t at;
    size_t depth;
    tu_error *error;
} scanner;

static tu_status scan_value(scanner *s, size_t parent, size_t key_start, size_t key_end);

TU_PRINTF(3, 4)
static tu_status fault(scanner *s, size_t byte, const char *format, ...)
{
    char message[TU_ERROR_MESSAGE_SIZE];
    char place[TU_ERROR_WHERE_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    tu_json_place(s->document, byte, place);
    return tu_fail(s->error, TU_DATA_SYNTAX, place, "%s", message);
}

static int peek(const scanner *s)
{
    return s->at < s->length ? (unsigned char)s->text[s->at] : -1;
}

static bool is_digit(int c)
{
    return c >= '0' && c <= '9';
}

static void skip_space(scanner *s)
{
    while (s->at < s->length && strchr(" \t\r\n", s->text[s->at]) && s->text[s->at] != '\0')
        s->at++;
}

/* What stands at the scanner, for a message: the character or the end of the text. */
static const char *found(const scanner *s, char show[TU_JSON_SHOW_SIZE])
{
    if (s->at >= s->length)
        return "the end of the text";
    if (s->text[s->at] == '"')
        return "a double quote";
    size_t length = 1;
    while (length < 4 && s->at + length < s->length && (s->text[s->at + length] & 0xC0) == 0x80)
        length++;
    return tu_json_quote(show, s->text + s->at, length);
}

static tu_status add_node(scanner *s, tu_json_kind kind, size_t parent, size_t *node)
{
    tu_json_document *document = s->document;
    if (document->count == document->capacity) {
        size_t capacity = document->capacity ? 2 * document->capacity : 32;
        tu_json_node *nodes = realloc(document->nodes, capacity * sizeof *nodes);
        if (!nodes)
            return tu_fail(s->error, TU_SYSTEM_MEMORY, document->name,
                           "no memory left to read this file");
        document->nodes = nodes;
        document->capacity = capacity;
    }
    *node = document->count++;
    tu_json_node *nodes = document->nodes;
    nodes[*node] = (tu_json_node){
        .kind = kind,
        .start = s->at,
        .parent = parent,
        .next = TU_JSON_NONE,
        .first = TU_JSON_NONE,
        .last = TU_JSON_NONE,
    };
    if (parent == TU_JSON_NONE)
        return TU_OK;
    nodes[*node].index = nodes[parent].count++;
    if (nodes[parent].first == TU_JSON_NONE)
        nodes[parent].first = *node;
    else
        nodes[nodes[parent].last].next = *node;
    nodes[parent].last = *node;
    return TU_OK;
}

/* Reads four hexadecimal digits; -1 when they are not there. */
static long hex4(const scanner *s, size_t at)
{
    long value = 0;
    for (size_t i = at; i < at + 4; i++) {
        const char *digits = "0123456789abcdef";
        int c = i < s->length ? (unsigned char)s->text[i] : '\0';
        const char *digit = c ? strchr(digits, c >= 'A' && c <= 'F' ? c - 'A' + 'a' : c) : NULL;
        if (!digit)
            return -1;
        value = 16 * value + (digit - digits);
    }
    return value;
}

static tu_status scan_unicode_escape(scanner *s)
{
    size_t start = s->at; /* at the backslash */
    long unit = hex4(s, start + 2);
    if (unit < 0)
        return fault(s, start, "\\u needs four hexadecimal digits, as in \\u00e9");
    if (unit == 0)
        return fault(s, start, "a string can't hold the character \\u0000; leave it out");
    s->at = start + 6;
    if (unit < 0xD800 || unit > 0xDFFF)
        return TU_OK;
    long low = s->length - s->at >= 6 && s->text[s->at] == '\\' && s->text[s->at + 1] == 'u'
                   ? hex4(s, s->at + 2)
                   : -1;
    if (unit > 0xDBFF || low < 0xDC00 || low > 0xDFFF)
        return fault(s, start,
                     "half of a surrogate pair stands alone here; write the character itself, or "
                     "both halves, as in \\ud83d\\udd27");
    s->at += 6;
    return TU_OK;
}

static tu_status scan_escape(scanner *s)
{
    int c = s->at + 1 < s->length ? (unsigned char)s->text[s->at + 1] : -1;
    if (c == 'u')
        return scan_unicode_escape(s);
    if (c <= 0 || !strchr("\"\\/bfnrt", c))
        return fault(
            s, s->at,
            "a backslash in a string starts one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t \\uXXXX; "
            "for a backslash itself write \\\\");
    s->at += 2;
    return TU_OK;
}

/* From the opening quote to past the closing one. */
static tu_status scan_string(scanner *s)
{
    size_t start = s->at++;
    for (;;) {
        int c = peek(s);
        if (c < 0)
            return fault(s, start, "this string is not closed; add the missing \"");
        if (c == '"')
            break;
        if (c == '\n' || c == '\r')
            return fault(s, start,
                         "this string is not closed before the line ends; add the "
                         "missing \" (a line break inside a string is written \\n)");
        if (c < 0x20)
            return fault(s, s->at,
                         "a control character (0x%02x) stands in this string; write it "
                         "as \\u%04x, or \\t for a tab",
                         (unsigned)c, (unsigned)c);
        if (c == '\\') {
            tu_status status = scan_escape(s);
            if (status)
                return status;
        } else {
            s->at++;
        }
    }
    s->at++;
    return TU_OK;
}

static void skip_digits(scanner *s)
{
    while (is_digit(peek(s)))
        s->at++;
}

static tu_status scan_number(scanner *s)
{
    size_t start = s->at;
    if (peek(s) == '-')
        s->at++;
    if (!is_digit(peek(s)))
        return fault(s, start, "a number needs a digit after its sign, as in -0.5");
    if (peek(s) == '0' && s->at + 1 < s->length && is_digit((unsigned char)s->text[s->at + 1]))
        return fault(s, start, "a number can't start with needless zeros; write 5 for 05");
    skip_digits(s);
    if (peek(s) == '.') {
        s->at++;
        if (!is_digit(peek(s)))
            return fault(s, start, "a number needs a digit after its point; write 5.0 or 5");
        skip_digits(s);
    }
    if (peek(s) == 'e' || peek(s) == 'E') {
        s->at++;
        if (peek(s) == '+' || peek(s) == '-')
            s->at++;
        if (!is_digit(peek(s)))
            return fault(s, start, "a number's exponent needs a digit, as in 1e-3");
        skip_digits(s);
    }
    if (s->at - start > TU_JSON_NUMBER_SIZE)
        return fault(s, start, "a number of more than %d characters; write fewer digits",
                     TU_JSON_NUMBER_SIZE);
    int c = peek(s);
    if (c == '/' || c == '+' || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c >= 0x80)
        return fault(s, start,
                     "a number with a unit, a fraction or a tolerance needs quotes, as in "
                     "\"9.53mm+-0.02mm\" or \"1/4in\"");
    return TU_OK;
}

/* null, true, false; and the values that other notations know and JSON does not. */
static tu_status scan_word(scanner *s, tu_json_kind *kind)
{
    static const struct {
        const char *word;
        tu_json_kind kind;
    } words[] = {{"null", TU_JSON_NULL}, {"true", TU_JSON_BOOLEAN}, {"false", TU_JSON_BOOLEAN}};
    size_t end = s->at;
    while (end < s->length && ((s->text[end] >= 'a' && s->text[end] <= 'z') ||
                               (s->text[end] >= 'A' && s->text[end] <= 'Z')))
        end++;
    size_t length = end - s->at;
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strlen(words[i].word) == length && !memcmp(words[i].word, s->text + s->at, length)) {
            *kind = words[i].kind;
            s->at = end;
            return TU_OK;
        }
    }
    char show[TU_JSON_SHOW_SIZE];
    return fault(s, s->at,
                 "%s is not a JSON value; a word needs quotes, and only true, false and "
                 "null stand without (there is no NaN and no Infinity)",
                 tu_json_quote(show, s->text + s->at, length));
}

/* Past the comma between two members, or to the closing bracket (*done). */
static tu_status scan_separator(scanner *s, size_t open, char close, bool *done)
{
    char show[TU_JSON_SHOW_SIZE];
    skip_space(s);
    *done = peek(s) == close;
    if (*done)
        return TU_OK;
    if (s->at >= s->length)
        return fault(s, open, "this %s is not closed; the file ends before its %c",
                     close == '}' ? "object" : "array", close);
    if (peek(s) != ',')
        return fault(s, s->at, "expected a comma or %c, found %s", close, found(s, show));
    size_t comma = s->at++;
    skip_space(s);
    if (peek(s) == close)
        return fault(s, comma, "the comma before %c is one too many; take it out", close);
    return TU_OK;
}

static tu_status scan_member(scanner *s, size_t object)
{
    char show[TU_JSON_SHOW_SIZE];
    size_t key_start = s->at;
    if (peek(s) == '/')
        return fault(s, s->at, "JSON has no comments; put remarks into \"notes\"");
    if (is_digit(peek(s)))
        return fault(s, s->at,
                     "expected a key in double quotes, found %s; a decimal number has a point, not "
                     "a comma, as in 0.0125",
                     found(s, show));
    if (peek(s) != '"')
        return fault(s, s->at, "expected a key in double quotes, found %s", found(s, show));
    tu_status status = scan_string(s);
    if (status)
        return status;
    size_t key_end = s->at;
    skip_space(s);
    if (peek(s) != ':')
        return fault(s, s->at, "expected a colon after the key, found %s", found(s, show));
    s->at++;
    if (s->document->nodes[object].count >= TU_JSON_MEMBERS)
        return fault(s, key_start, "more than %d keys in one object", TU_JSON_MEMBERS);
    return scan_value(s, object, key_start, key_end);
}

static tu_status scan_container(scanner *s, size_t node, char close)
{
    size_t open = s->at++;
    bool done;
    if (++s->depth > TU_JSON_DEPTH)
        return fault(s, open, "more than %d brackets inside each other", TU_JSON_DEPTH);
    skip_space(s);
    done = peek(s) == close;
    while (!done) {
        if (s->at >= s->length)
            return fault(s, open, "this %s is not closed; the file ends before its %c",
                         close == '}' ? "object" : "array", close);
        tu_status status = close == '}' ? scan_member(s, node) : scan_value(s, node, 0, 0);
        if (!status)
            status = scan_separator(s, open, close, &done);
        if (status)
            return status;
    }
    s->at++;
    s->depth--;
    return TU_OK;
}

static tu_status scan_scalar(scanner *s, size_t node)
{
    char show[TU_JSON_SHOW_SIZE];
    int c = peek(s);
    if (c == '"') {
        s->document->nodes[node].kind = TU_JSON_STRING;
        return scan_string(s);
    }
    if (c == '-' || is_digit(c)) {
        s->document->nodes[node].kind = TU_JSON_NUMBER;
        return scan_number(s);
    }
    if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'))
        return scan_word(s, &s->document->nodes[node].kind);
    if (c == '+')
        return fault(s, s->at, "a JSON number has no plus sign; leave it out");
    if (c == '.')
        return fault(s, s->at, "a JSON number needs a digit before its point; write 0.5 for .5");
    if (c == '\'')
        return fault(s, s->at, "text in JSON stands in double quotes (\"), not in single ones");
    if (c == '/')
        return fault(s, s->at, "JSON has no comments; put remarks into \"notes\"");
    return fault(s, s->at, "expected a value, found %s", found(s, show));
}

static tu_status scan_value(scanner *s, size_t parent, size_t key_start, size_t key_end)
{
    size_t node = 0;
    skip_space(s);
    tu_status status = add_node(s, TU_JSON_NULL, parent, &node);
    if (status)
        return status;
    s->document->nodes[node].key_start = key_start;
    s->document->nodes[node].key_end = key_end;
    int c = peek(s);
    if (c == '{' || c == '[') {
        s->document->nodes[node].kind = c == '{' ? TU_JSON_OBJECT : TU_JSON_ARRAY;
        status = scan_container(s, node, c == '{' ? '}' : ']');
    } else {
        status = scan_scalar(s, node);
    }
    s->document->nodes[node].end = s->at;
    return status;
}

/* The bytes of the character that starts with this one, if it is well formed. */
static size_t character_length(unsigned char lead)
{
    return lead < 0xC0 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
}

static tu_status check_encoding(scanner *s)
{
    if (s->length >= 3 && !memcmp(s->text, "\xEF\xBB\xBF", 3))
        return fault(s, 0, "the text starts with a byte order mark; save it as UTF-8 without one");
    if (s->length >= 2 && (!memcmp(s->text, "\xFF\xFE", 2) || !memcmp(s->text, "\xFE\xFF", 2)))
        return fault(s, 0, "the text is UTF-16; save it as UTF-8");
    if (tu_text_is_utf8(s->text, s->length))
        return TU_OK;
    size_t at = 0;
    while (at < s->length) {
        size_t length = character_length((unsigned char)s->text[at]);
        if (length > s->length - at || !tu_text_is_utf8(s->text + at, length))
            break;
        at += length;
    }
    if (at < s->length && s->text[at] == '\0')
        return fault(s, at, "a NUL byte stands here; this is not a text file, or it was damaged");
    return fault(s, at, "the byte 0x%02x here is not UTF-8; save the file as UTF-8",
                 at < s->length ? (unsigned)(unsigned char)s->text[at] : 0U);
}

tu_status tu_json_scan(tu_json_document *document, tu_error *error)
{
    scanner s = {
        .document = document, .text = document->text, .length = document->length, .error = error};
    char show[TU_JSON_SHOW_SIZE];
    document->count = 0;
    tu_status status = check_encoding(&s);
    if (status)
        return status;
    skip_space(&s);
    if (s.at >= s.length)
        return fault(&s, 0, "there is nothing here; at least {} is needed");
    status = scan_value(&s, TU_JSON_NONE, 0, 0);
    if (status)
        return status;
    skip_space(&s);
    if (s.at < s.length)
        return fault(&s, s.at,
                     "the value is complete, but more text follows: %s; take it out, or "
                     "look for a bracket closed too early",
                     found(&s, show));
    return TU_OK;
}
