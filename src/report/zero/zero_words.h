/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * zero_words.h - what the reports on a zero share (internal).
 */
#ifndef TU_REPORT_ZERO_WORDS_H
#define TU_REPORT_ZERO_WORDS_H

#include "trueup/report.h"
#include "trueup/zero.h"

#include <stdio.h>

/* "left", "right", "front", "back", "top", "bottom" for an axis and its outward direction. */
const char *tu_face_name(tu_axis axis, int outward);

/* Parts of the text; what was lost in writing shows in the stream's error flag. */
void tu_zero_write_checks(FILE *out, const tu_zero_result *result, const tu_zero_style *style);
void tu_zero_write_budget(FILE *out, const tu_zero_result *result, const tu_zero_style *style);
void tu_zero_write_explanation(FILE *out, const tu_zero_result *result, const tu_zero_style *style);

#endif
