/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * face.c - the fields that messages name, in the words of a face.
 */
#include "trueup/face.h"

#include "base/utf8.h"

#include <stdio.h>
#include <string.h>

static const char *find_word(const tu_face *face, const char *field, size_t length)
{
    for (; face; face = face->next)
        for (size_t i = 0; i < face->count; i++)
            if (strlen(face->words[i].field) == length &&
                memcmp(face->words[i].field, field, length) == 0)
                return face->words[i].word;
    return NULL;
}

const char *tu_face_word(const tu_face *face, const char *field)
{
    const char *word = find_word(face, field, strlen(field));
    return word ? word : field;
}

void tu_face_say(const tu_face *face, const char *text, char *said, size_t size)
{
    char out[TU_ERROR_MESSAGE_SIZE];
    size_t used = 0;
    while (*text && used + 1 < sizeof out) {
        size_t length = *text == '{' ? strcspn(text + 1, "{}") : 0;
        const char *word =
            length && text[length + 1] == '}' ? find_word(face, text + 1, length) : NULL;
        const char *from = word ? word : text;
        size_t count = word ? strlen(word) : 1;
        if (count > sizeof out - 1 - used)
            count = sizeof out - 1 - used;
        memcpy(out + used, from, count);
        used += count;
        text += word ? length + 2 : 1;
    }
    out[used] = '\0';
    snprintf(said, size, "%s", out);
    tu_utf8_tidy(said);
}

void tu_face_say_error(const tu_face *face, tu_error *error)
{
    tu_face_say(face, error->where, error->where, sizeof error->where);
    tu_face_say(face, error->message, error->message, sizeof error->message);
}

void tu_face_say_warnings(const tu_face *face, tu_warnings *warnings)
{
    for (size_t i = 0; i < warnings->count; i++)
        tu_face_say(face, warnings->text[i], warnings->text[i], sizeof warnings->text[i]);
}
