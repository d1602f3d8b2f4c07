/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * utf8.h - one UTF-8 sequence at a time (internal).
 */
#ifndef TRUEUP_BASE_UTF8_H
#define TRUEUP_BASE_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * The length, 1 to 4, of the well-formed sequence (RFC 3629, section 4) that bytes[0..left) starts
 * with, or 0 when it is ill-formed, cut off, or left is 0.
 *   code  out, may be NULL: the code point; unchanged on 0.
 */
size_t tu_utf8_next(const char *bytes, size_t left, uint32_t *code);

/*
 * Whether a code point changes how the text around it is shown, instead of being shown itself:
 * control characters (C0, DEL, C1) and those that override the direction of writing (U+202A to
 * U+202E, U+2066 to U+2069; Unicode Standard Annex #9), with which one name can be made to look
 * like another.
 */
bool tu_utf8_is_control(uint32_t code);
/* Whether such a character stands in the text; bytes that are no UTF-8 are passed over. */
bool tu_utf8_has_control(const char *text);

/*
 * Makes a text fit to be shown in one line: control characters (as above) and bytes that are no
 * UTF-8 become '?', a byte each; a sequence cut off at the text's very end is dropped.
 */
void tu_utf8_tidy(char *text);

#endif
