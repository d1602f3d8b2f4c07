/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * face.h - what a face of the library (a command line, a page, another program) calls the fields
 * that messages name.
 *
 * A message of the library names a field of its request in braces: "give {depth}, too". The face
 * says it in its own words: "give --depth, too".
 */
#ifndef TRUEUP_FACE_H
#define TRUEUP_FACE_H

#include "trueup/status.h"
#include "trueup/warning.h"

#include <stddef.h>

TU_BEGIN_DECLS

typedef struct tu_field_word {
    const char *field; /* "stock_thickness", without braces */
    const char *word;  /* "--stock-thickness" */
} tu_field_word;

/* Words of a face. next: where to look for fields that are not among these, or NULL. */
typedef struct tu_face tu_face;
struct tu_face {
    const tu_field_word *words;
    size_t count;
    const tu_face *next;
};

/* What the face calls a field; its own name where the face has no word for it or is NULL. */
const char *tu_face_word(const tu_face *face, const char *field);

/*
 * Writes text to said[0..size), each "{field}" that the face has a word for replaced by it;
 * everything else, braces of a line template among it, stays. What does not fit is cut at a
 * character boundary of UTF-8. said may be text itself. Without a face the text stays as it is.
 */
void tu_face_say(const tu_face *face, const char *text, char *said, size_t size);

/* The same with all that a failure, or a list of warnings, says; in place. */
void tu_face_say_error(const tu_face *face, tu_error *error);
void tu_face_say_warnings(const tu_face *face, tu_warnings *warnings);

TU_END_DECLS

#endif
