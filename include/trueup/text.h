/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * text.h - names as people mistype them.
 */
#ifndef TRUEUP_TEXT_H
#define TRUEUP_TEXT_H

#include "trueup/status.h"

#include <stdbool.h>
#include <stddef.h>

TU_BEGIN_DECLS

/*
 * The candidate nearest to word by edit distance (insertion, deletion, substitution, swap of
 * neighbours; letters compare without case), or NULL when none is near enough to be a likely slip:
 * more than a third of the word's length away, at least 1 and at most 3 edits, but never the whole
 * word. Ties: the earlier.
 */
const char *tu_text_nearest(const char *word, const char *const *candidates, size_t count);

/* Writes text as a JSON string, in quotes; returns its length, 0 when it does not fit. */
size_t tu_text_to_json(char *out, size_t size, const char *text);

/* Whether bytes[0..length) is well-formed UTF-8 (RFC 3629) without NUL. */
bool tu_text_is_utf8(const char *bytes, size_t length);

TU_END_DECLS

#endif
