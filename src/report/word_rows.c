/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * word_rows.c - sentences broken between words into rows.
 */
#include "report/word_rows.h"

#include "report/drawing/svg.h"

#include <stdbool.h>
#include <string.h>

static int columns(const char *text, size_t length)
{
    int count = 0;
    for (size_t i = 0; i < length; i++)
        count += ((unsigned char)text[i] & 0xC0) != 0x80;
    return count;
}

int tu_word_rows_columns(const char *text)
{
    return columns(text, strlen(text));
}

void tu_word_rows_write(FILE *out, const char *text, int used, int indent)
{
    int column = used;
    bool is_first = true;
    for (const char *word = text + strspn(text, " "); *word;) {
        size_t length = strcspn(word, " ");
        int width = columns(word, length);
        if (!is_first && column + 1 + width > TU_WORD_ROWS_COLUMNS) {
            fprintf(out, "\n%*s", indent, "");
            column = indent;
        } else if (!is_first) {
            fputc(' ', out);
            column++;
        }
        fwrite(word, 1, length, out);
        column += width;
        is_first = false;
        word += length;
        word += strspn(word, " ");
    }
    fputc('\n', out);
}

/* Puts the word behind the row; false, and the row as it was, when it does not fit into size. */
static bool append(char *row, size_t size, const char *word, size_t length)
{
    size_t used = strlen(row), space = used > 0;
    if (used + space + length + 1 > size)
        return false;
    if (space)
        row[used] = ' ';
    memcpy(row + used + space, word, length);
    row[used + space + length] = '\0';
    return true;
}

/* The longest part of the word that fits into size - 1 bytes and ends with a character. */
static size_t cut(const char *word, size_t length, size_t size)
{
    if (length < size)
        return length;
    for (length = size - 1; length > 0 && ((unsigned char)word[length] & 0xC0) == 0x80;)
        length--;
    return length;
}

const char *tu_word_rows_take(const char *text, double room_mm, double font_mm, char *row,
                              size_t size)
{
    const char *word = text + strspn(text, " ");
    row[0] = '\0';
    while (*word) {
        size_t used = strlen(row), length = strcspn(word, " ");
        if (!append(row, size, word, used ? length : cut(word, length, size)))
            break;
        if (used && tu_svg_text_width(row, font_mm) > room_mm) {
            row[used] = '\0';
            break;
        }
        word += length;
        word += strspn(word, " ");
    }
    return word;
}
