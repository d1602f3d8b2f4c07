/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * utf8.h - one UTF-8 sequence at a time (internal).
 */
#ifndef TRUEUP_BASE_UTF8_H
#define TRUEUP_BASE_UTF8_H

#include <stddef.h>
#include <stdint.h>

/*
 * The length, 1 to 4, of the well-formed sequence (RFC 3629, section 4) that bytes[0..left) starts
 * with, or 0 when it is ill-formed, cut off, or left is 0.
 *   code  out, may be NULL: the code point; unchanged on 0.
 */
size_t tu_utf8_next(const char *bytes, size_t left, uint32_t *code);

/*
 * Makes a text fit to be shown in one line: control characters (C0, DEL, C1) and bytes that are no
 * UTF-8 become '?', a byte each; a sequence cut off at the text's very end is dropped.
 */
void tu_utf8_tidy(char *text);

#endif
