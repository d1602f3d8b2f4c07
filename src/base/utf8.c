/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * utf8.c - one UTF-8 sequence at a time.
 *
 * Source: RFC 3629, section 4 (the table of well-formed byte sequences).
 */
#include "base/utf8.h"

#include <string.h>

typedef struct utf8_form {
    unsigned char first_low, first_high;   /* range of the first byte */
    unsigned char second_low, second_high; /* range of the second: shuts out overlong forms,
                                              surrogates and what lies beyond U+10FFFF */
    size_t length;
} utf8_form;

static const utf8_form forms[] = {
    {0x00, 0x7F, 0x00, 0x00, 1}, {0xC2, 0xDF, 0x80, 0xBF, 2}, {0xE0, 0xE0, 0xA0, 0xBF, 3},
    {0xE1, 0xEC, 0x80, 0xBF, 3}, {0xED, 0xED, 0x80, 0x9F, 3}, {0xEE, 0xEF, 0x80, 0xBF, 3},
    {0xF0, 0xF0, 0x90, 0xBF, 4}, {0xF1, 0xF3, 0x80, 0xBF, 4}, {0xF4, 0xF4, 0x80, 0x8F, 4},
};

static const utf8_form *form_of(unsigned char first)
{
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++)
        if (first >= forms[i].first_low && first <= forms[i].first_high)
            return &forms[i];
    return NULL;
}

/* How many of the bytes, from the first, agree with the form. */
static size_t agreeing(const utf8_form *form, const unsigned char *byte, size_t left)
{
    size_t n = 1;
    while (n < form->length && n < left) {
        unsigned char low = n == 1 ? form->second_low : 0x80;
        unsigned char high = n == 1 ? form->second_high : 0xBF;
        if (byte[n] < low || byte[n] > high)
            break;
        n++;
    }
    return n;
}

size_t tu_utf8_next(const char *bytes, size_t left, uint32_t *code)
{
    if (left == 0)
        return 0;
    const unsigned char *byte = (const unsigned char *)bytes;
    const utf8_form *form = form_of(byte[0]);
    if (form == NULL || agreeing(form, byte, left) < form->length)
        return 0;
    if (code != NULL) {
        static const uint32_t first_mask[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
        uint32_t value = byte[0] & first_mask[form->length];
        for (size_t i = 1; i < form->length; i++)
            value = value << 6 | (byte[i] & 0x3FU);
        *code = value;
    }
    return form->length;
}

bool tu_utf8_is_control(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0x202A && code <= 0x202E) ||
           (code >= 0x2066 && code <= 0x2069);
}

bool tu_utf8_has_control(const char *text)
{
    size_t left = strlen(text);
    while (left > 0) {
        uint32_t code = ' ';
        size_t n = tu_utf8_next(text, left, &code);
        if (tu_utf8_is_control(code))
            return true;
        n += n == 0;
        text += n;
        left -= n;
    }
    return false;
}

/* Whether the text is the start of one sequence that its end cut off. */
static bool is_cut_off(const char *text, size_t left)
{
    const unsigned char *byte = (const unsigned char *)text;
    const utf8_form *form = form_of(byte[0]);
    return form != NULL && left < form->length && agreeing(form, byte, left) == left;
}

void tu_utf8_tidy(char *text)
{
    size_t length = strlen(text);
    size_t at = 0;
    while (at < length) {
        uint32_t code = 0;
        size_t n = tu_utf8_next(text + at, length - at, &code);
        if (n == 0 && is_cut_off(text + at, length - at)) {
            text[at] = '\0';
            return;
        }
        if (n == 0)
            n = 1, code = 0;
        if (tu_utf8_is_control(code))
            memset(text + at, '?', n);
        at += n;
    }
}
