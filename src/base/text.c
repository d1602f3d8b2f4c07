/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * text.c - names as people mistype them.
 */
#include "trueup/text.h"

#include "base/show.h"
#include "base/utf8.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { LETTERS_MAX = 64, FAR = 1000 };

typedef struct letters {
    size_t count;
    uint32_t code[LETTERS_MAX];
} letters;

/* The characters of a word, A to Z as a to z; false when it is longer than any name. */
static bool letters_of(const char *word, letters *out)
{
    size_t left = strlen(word);
    out->count = 0;
    while (left > 0) {
        if (out->count == LETTERS_MAX)
            return false;
        uint32_t code = (unsigned char)*word;
        size_t n = tu_utf8_next(word, left, &code);
        if (n == 0)
            n = 1; /* a stray byte counts as a character of its own */
        if (code >= 'A' && code <= 'Z')
            code += 'a' - 'A';
        out->code[out->count++] = code;
        word += n;
        left -= n;
    }
    return true;
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

/*
 * Optimal string alignment distance. Source: F. J. Damerau, Commun. ACM 7 (1964) 171-176 (the four
 * kinds of slip); R. A. Wagner, M. J. Fischer, J. ACM 21 (1974) 168-173 (the table).
 */
static int distance_of(const letters *a, const letters *b)
{
    int table[3][LETTERS_MAX + 1]; /* rows i - 2, i - 1, i by turns */
    for (size_t j = 0; j <= b->count; j++)
        table[0][j] = (int)j;
    for (size_t i = 1; i <= a->count; i++) {
        int *row = table[i % 3];
        const int *above = table[(i + 2) % 3];
        const int *two_above = table[(i + 1) % 3];
        row[0] = (int)i;
        for (size_t j = 1; j <= b->count; j++) {
            int change = a->code[i - 1] != b->code[j - 1];
            row[j] = least(above[j - 1] + change, 1 + least(above[j], row[j - 1]));
            if (i > 1 && j > 1 && a->code[i - 1] == b->code[j - 2] &&
                a->code[i - 2] == b->code[j - 1])
                row[j] = least(row[j], two_above[j - 2] + 1);
        }
    }
    return table[a->count % 3][b->count];
}

const char *tu_text_nearest(const char *word, const char *const *candidates, size_t count)
{
    letters typed, known;
    if (!letters_of(word, &typed) || typed.count == 0)
        return NULL;
    int limit = (int)(typed.count / 3);
    limit = limit < 1 ? 1 : limit > 3 ? 3 : limit;
    /* Something of the word must be left: one letter for another is no slip of that word. */
    limit = least(limit, (int)typed.count - 1);
    const char *nearest = NULL;
    int best = FAR;
    for (size_t i = 0; i < count; i++) {
        if (!letters_of(candidates[i], &known))
            continue;
        int distance = distance_of(&typed, &known);
        if (distance <= limit && distance < best) {
            best = distance;
            nearest = candidates[i];
        }
    }
    return nearest;
}

bool tu_text_is_utf8(const char *bytes, size_t length)
{
    for (size_t at = 0; at < length;) {
        size_t n = tu_utf8_next(bytes + at, length - at, NULL);
        if (n == 0 || bytes[at] == '\0')
            return false;
        at += n;
    }
    return true;
}

/* One character as it is shown: itself, or \xNN for each byte that cannot stand in a line. */
static size_t show_next(char *shown, size_t size, const char *text, size_t left, size_t *taken)
{
    uint32_t code = 0;
    size_t n = tu_utf8_next(text, left, &code);
    *taken = n > 0 ? n : 1;
    if (n > 0 && !tu_utf8_is_control(code)) {
        memcpy(shown, text, n);
        return n;
    }
    size_t length = 0;
    for (size_t i = 0; i < *taken; i++)
        length +=
            (size_t)snprintf(shown + length, size - length, "\\x%02X", (unsigned char)text[i]);
    return length;
}

tu_shown tu_show(const char *text, size_t length)
{
    static const char more[] = "...";
    tu_shown shown = {{0}};
    size_t room = sizeof shown.text - sizeof more;
    size_t used = 0;
    for (size_t at = 0; at < length;) {
        char one[20];
        size_t taken;
        size_t n = show_next(one, sizeof one, text + at, length - at, &taken);
        if (used + n > room) {
            memcpy(shown.text + used, more, sizeof more);
            break;
        }
        memcpy(shown.text + used, one, n);
        used += n;
        at += taken;
    }
    return shown;
}

size_t tu_text_to_json(char *out, size_t size, const char *text)
{
    enum { ESCAPE_SIZE = 7 };
    size_t used = 0;
    if (size < 3)
        return 0;
    out[used++] = '"';
    for (; *text; text++) {
        if (used + ESCAPE_SIZE + 2 > size)
            return 0;
        unsigned char c = (unsigned char)*text;
        if (c < 0x20 || c == 0x7f) {
            used += (size_t)snprintf(out + used, ESCAPE_SIZE, "\\u%04x", c);
            continue;
        }
        if (c == '"' || c == '\\')
            out[used++] = '\\';
        out[used++] = *text;
    }
    out[used++] = '"';
    out[used] = '\0';
    return used;
}
